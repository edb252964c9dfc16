#include "plan/berth.h"

#include "earth/angle.h"
#include "earth/geodesic.h"

#include <math.h>
#include <stdio.h>

/* How far outside the shoreline a berth is put, and what is tried where the
 * water is narrower than that, or the nearest shore a spike without any. */
static const double OUTSIDE_M[] = {20.0,  10.0,  5.0,   2.0,  50.0,
                                   100.0, 200.0, 400.0, 800.0};

/* Directions tried, from straight on to straight back. */
enum { TURNS = 12 };

/* 0, then right and left in turn, ever wider. */
static double turn_deg(int i) {
    int steps = (i + 1) / 2;
    return 360.0 / TURNS * (i % 2 ? steps : -steps);
}

/* Sea just outside a place of the shoreline, first the way that leads to it
 * from the berth. */
static bool step_out(const struct water *water, struct position shore,
                     double course_deg, struct position *sea) {
    for (size_t k = 0; k < sizeof OUTSIDE_M / sizeof *OUTSIDE_M; k++)
        for (int i = 0; i < TURNS; i++) {
            *sea =
                geodesic_ahead(shore, course_deg + turn_deg(i), OUTSIDE_M[k]);
            if (coast_covers(water->coast, *sea) &&
                !water_is_inland(water, *sea))
                return true;
        }
    return false;
}

static bool refuse(const char *what, bool on_water, double off_m,
                   struct error *error) {
    const char *more = off_m < SHORE_REACH_M ? "" : "more than ";
    return error_set(error, STATUS_INPUT,
                     "'%s' is %s, %s%.1f nmi from the sea; give a place in the "
                     "sea, or on land up to %.0f nmi from it",
                     what, on_water ? "on inland water" : "inland", more,
                     m_to_nmi(off_m), m_to_nmi(BERTH_M));
}

bool berth_find(struct berth *berth, const struct water *water,
                const char *what, struct position place, struct error *error) {
    *berth = (struct berth){.at = place};
    if (!water->coast || !coast_covers(water->coast, place) ||
        !water_is_inland(water, place))
        return true;
    struct position shore = place;
    double off_m = coast_distance_m(water->coast, place, SHORE_REACH_M, &shore);
    enum coast_level level = coast_level_at(water->coast, place);
    if (level != COAST_LAND || off_m > BERTH_M)
        return refuse(what, level == COAST_LAKE || level == COAST_POND, off_m,
                      error);
    double course_deg = geodesic_between(place, shore).course_start_deg;
    if (!step_out(water, shore, course_deg, &berth->at))
        return refuse(what, false, off_m, error);
    berth->moved_m = geodesic_between(place, berth->at).distance_m;
    return berth->moved_m <= BERTH_M ||
           refuse(what, false, berth->moved_m, error);
}

/* --- stops --------------------------------------------------------------- */

static bool in_zone(const char *what, const struct zone *zone, const char *when,
                    struct error *error) {
    return error_set(error, STATUS_INPUT,
                     "%s is in the zone '%s', closed %s; move it, or leave the "
                     "zone out",
                     what, zone->name, when);
}

static bool check_via(const struct water *water, size_t index,
                      struct position via, struct error *error) {
    char what[32];
    snprintf(what, sizeof what, "'via' %zu", index + 1);
    const struct zone *zone =
        water_zone_met(water, via, via, VOYAGE_FOR_GOOD, VOYAGE_FOR_GOOD);
    if (zone)
        return in_zone(what, zone, "for good", error);
    enum obstacle obstacle =
        water_blocked(water, via, via, VOYAGE_FOR_GOOD, VOYAGE_FOR_GOOD);
    if (obstacle != OBSTACLE_LAND)
        return true;
    if (water_is_inland(water, via))
        return error_set(error, STATUS_INPUT,
                         "%s is on land or inland water; give a place in the "
                         "sea",
                         what);
    return error_set(error, STATUS_INPUT,
                     "%s is %.1f nmi off the land, nearer than the clearance "
                     "of %.1f nmi; move it, or lower the clearance",
                     what, m_to_nmi(water_shore_m(water, via, SHORE_REACH_M)),
                     m_to_nmi(water->clearance_m));
}

bool berth_check_stops(const struct water *water, const struct position *via,
                       size_t via_count, struct error *error) {
    const struct zone *zone =
        water_zone_met(water, water->start, water->start, 0.0, 0.0);
    if (zone)
        return in_zone("the start", zone, "at departure", error);
    zone = water_zone_met(water, water->finish, water->finish, VOYAGE_FOR_GOOD,
                          VOYAGE_FOR_GOOD);
    if (zone)
        return in_zone("the finish", zone, "for good", error);
    for (size_t i = 0; i < via_count; i++)
        if (!check_via(water, i, via[i], error))
            return false;
    return true;
}
