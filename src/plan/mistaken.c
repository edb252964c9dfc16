#include "plan/mistaken.h"

#include "base/units.h"
#include "earth/angle.h"
#include "plan/ask.h"

#include <math.h>
#include <stdlib.h>

/* --- places --------------------------------------------------------------- */

/* A place as it may have been meant, the likeliest first. */
struct slip {
    bool exchanged; /* latitude and longitude */
    bool north_south, east_west;
    const char *words;
};

static const struct slip slips[] = {
    {false, false, true, NULL},
    {false, true, false, NULL},
    {true, false, false, "latitude and longitude exchanged"},
    {false, true, true, "both letters, or both signs, exchanged"},
    {true, false, true, "latitude and longitude exchanged, and E for W"},
    {true, true, false, "latitude and longitude exchanged, and N for S"},
};

enum { SLIPS = sizeof slips / sizeof *slips };

/* False where there is no such place. */
static bool slipped(const struct slip *slip, struct position place,
                    struct position *meant) {
    double lat_deg = slip->exchanged ? place.lon_deg : place.lat_deg;
    double lon_deg = slip->exchanged ? place.lat_deg : place.lon_deg;
    meant->lat_deg = slip->north_south ? 0.0 - lat_deg : lat_deg;
    meant->lon_deg =
        angle_wrap_longitude(slip->east_west ? 0.0 - lon_deg : lon_deg);
    return fabs(lat_deg) <= 90.0;
}

static const char *words_of(const struct slip *slip, struct position place) {
    if (slip->words)
        return slip->words;
    if (slip->east_west)
        return place.lon_deg < 0.0 ? "E for W" : "W for E";
    return place.lat_deg < 0.0 ? "N for S" : "S for N";
}

static bool has_wind(const struct world *world, const struct request *request,
                     struct position place) {
    struct weather weather;
    return forecast_at(world->forecast, place, (double)request->depart.unix_s,
                       &weather) == COVERAGE_INSIDE;
}

static int whole(double degrees) {
    return abs((int)lround(degrees));
}

static const char *covered(const struct world *world, struct arena *arena) {
    struct area area = forecast_area(world->forecast, QUANTITY_WIND);
    if (area.east_deg - area.west_deg >= 359.0)
        return "; ";
    double east_deg = angle_wrap_longitude(area.east_deg);
    return arena_print(
        arena,
        "; the wind covers %d%c to %d%c, %d%c to %d%c: take the file of these "
        "waters, or ",
        whole(area.south_deg), area.south_deg < 0.0 ? 'S' : 'N',
        whole(area.north_deg), area.north_deg < 0.0 ? 'S' : 'N',
        whole(area.west_deg), area.west_deg < 0.0 ? 'W' : 'E', whole(east_deg),
        east_deg < 0.0 ? 'W' : 'E');
}

const char *mistaken_place(const struct world *world,
                           const struct request *request, struct position place,
                           struct arena *arena) {
    for (size_t i = 0; i < SLIPS; i++) {
        struct position meant;
        if (slipped(&slips[i], place, &meant) &&
            has_wind(world, request, meant))
            return arena_print(arena,
                               "; with %s it would lie inside: correct it, or ",
                               words_of(&slips[i], place));
    }
    return covered(world, arena);
}

/* --- the departure -------------------------------------------------------- */

/* No zone is further from UTC. */
static const double ZONE_MOST_S = 14.0 * SECONDS_PER_HOUR;

static bool is_inside(const struct field_summary *wind, struct instant at,
                      double room_s) {
    return instant_minus(at, wind->first) >= -room_s &&
           instant_minus(wind->last, at) > -room_s;
}

/* The departure with the year of the forecast; false: it lies outside too. */
static bool in_its_year(const struct field_summary *wind, struct instant depart,
                        int *year) {
    const struct instant ends[] = {wind->first, wind->last};
    for (int i = 0; i < 2; i++) {
        struct civil civil = instant_to_civil(depart);
        struct instant moved;
        *year = instant_to_civil(ends[i]).year;
        civil.year = *year;
        if (instant_from_civil(civil, &moved) && is_inside(wind, moved, 0.0))
            return true;
    }
    return false;
}

const char *mistaken_departure(const struct world *world,
                               const struct request *request,
                               struct arena *arena) {
    struct field_summary wind =
        forecast_summary(world->forecast, QUANTITY_WIND);
    int year;
    if (request->depart_by_clock)
        return "; that is now by the clock of this machine: is it right? take "
               "the newest file, or ";
    if (!request->depart_zone_given &&
        is_inside(&wind, request->depart, ZONE_MOST_S))
        return "; it has no zone and was taken as UTC: if it is local time, "
               "add its zone, as +02:00, or ";
    if (in_its_year(&wind, request->depart, &year))
        return arena_print(arena,
                           "; in the year %d it would lie inside: correct it, "
                           "or ",
                           year);
    return "; look at the day, take the newest file, or ";
}

/* --- the whole way -------------------------------------------------------- */

/* So much longer than with the other letter. */
static const double LONGER = 2.0;

/* Of stops 0 (the start) to via_count + 1 (the finish). */
static struct position *stop_of(struct request *request, size_t index) {
    if (index == 0)
        return &request->from;
    return index <= request->via_count ? &request->via[index - 1]
                                       : &request->to;
}

static const char *name_of_stop(const struct request *request, size_t index) {
    if (index == 0)
        return "start";
    return index <= request->via_count ? "place to pass" : "finish";
}

/* With one place moved to where another letter puts it. */
static double way_with_m(const struct request *request, size_t index,
                         const struct slip *slip, struct arena *arena) {
    struct request moved = *request;
    moved.via = arena_alloc(arena, request->via_count, sizeof *moved.via);
    for (size_t i = 0; i < request->via_count; i++)
        moved.via[i] = request->via[i];
    struct position *stop = stop_of(&moved, index);
    return slipped(slip, *stop, stop) ? ask_way_m(&moved) : HUGE_VAL;
}

const char *mistaken_way(const struct world *world,
                         const struct request *request, struct arena *arena) {
    struct field_summary wind =
        forecast_summary(world->forecast, QUANTITY_WIND);
    double way_m = ask_way_m(request);
    double served_m =
        ask_fair_mps(&world->boat) * instant_minus(wind.last, request->depart);
    if (request->track || way_m <= LONGER * served_m)
        return NULL;
    const char *others = "";
    for (size_t i = 0; i <= request->via_count + 1; i++) {
        struct request copy = *request;
        struct position place = *stop_of(&copy, i);
        double other_m = way_with_m(request, i, &slips[0], arena);
        if (LONGER * other_m < way_m)
            others = arena_print(
                arena, "%s%s with %s for the %s it would be %.0f nmi", others,
                *others ? ", or" : "", words_of(&slips[0], place),
                name_of_stop(request, i), m_to_nmi(other_m));
    }
    if (!*others)
        return NULL;
    return arena_print(arena,
                       "the way is %.0f nmi, much longer than the forecast "
                       "serves; is a letter wrong?%s",
                       m_to_nmi(way_m), others);
}
