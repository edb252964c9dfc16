#include "plan/closed.h"

#include "base/text.h"

#include <math.h>

/* What may be left out of the water. */
enum { OUT_ZONES = 1, OUT_CLEARANCE = 2, OUT_BORDER = 4 };

/* The ways where that is left out; false where they are closed all the same.
 * They keep pointing to the water that they were found in. */
static bool find_ways(const struct voyage *voyage, int out,
                      const struct search_request *request, struct arena *arena,
                      struct search_request *found) {
    struct water *water = arena_alloc(arena, 1, sizeof *water);
    struct voyage *freed = arena_alloc(arena, 1, sizeof *freed);
    *water = *(const struct water *)voyage->water;
    *freed = *voyage;
    freed->water = water;
    if (out & OUT_ZONES)
        water->zones.count = 0;
    if (out & OUT_CLEARANCE)
        water->clearance_m = 0.0;
    if (out & OUT_BORDER)
        water->open_border = true;
    bool open;
    *found = *request;
    found->ways = search_ways(freed, request, arena, &open);
    return open;
}

static bool meets_track(const struct zone *zone, const struct track *track) {
    for (size_t i = 0; i + 1 < track->count; i++)
        if (zone_meets(zone, track->vertices[i].at, track->vertices[i + 1].at))
            return true;
    return false;
}

/* Named one by one, and no more. */
enum { NAMED = 2 };

const char *closed_zones(const struct water *water,
                         const struct search_request *request,
                         struct arena *arena) {
    struct track track = search_direct_track(request, arena);
    const char *names = "";
    int count = 0;
    for (size_t i = 0; i < water->zones.count; i++) {
        const struct zone *zone = &water->zones.items[i];
        if (!meets_track(zone, &track))
            continue;
        if (++count <= NAMED)
            names = arena_print(arena, "%s%s'%s'", names, count > 1 ? ", " : "",
                                zone->name);
    }
    if (count == 0)
        return "the zones";
    return arena_print(arena, "the zone%s %s%s", count > 1 ? "s" : "", names,
                       count > NAMED ? " and others" : "");
}

bool closed_tell(const struct voyage *voyage,
                 const struct search_request *request, const char *ask,
                 struct arena *arena, struct error *error) {
    const struct water *water = voyage->water;
    struct search_request found;
    if (find_ways(voyage, OUT_ZONES, request, arena, &found))
        return error_set(error, STATUS_NO_ROUTE,
                         "no route: closed by %s; look at the way round with "
                         "other places to pass, or leave it out",
                         closed_zones(water, &found, arena));
    if (find_ways(voyage, OUT_CLEARANCE, request, arena, &found))
        return error_set(error, STATUS_NO_ROUTE,
                         "no route: closed by land nearer than the clearance "
                         "of %.2f nmi; lower it, and look at the chart first",
                         m_to_nmi(water->clearance_m));
    if (find_ways(voyage, OUT_ZONES | OUT_CLEARANCE, request, arena, &found))
        return error_set(error, STATUS_NO_ROUTE,
                         "no route: closed by %s together with land nearer "
                         "than the clearance of %.2f nmi",
                         closed_zones(water, &found, arena),
                         m_to_nmi(water->clearance_m));
    if (find_ways(voyage, OUT_BORDER, request, arena, &found))
        return error_set(error, STATUS_OUTSIDE,
                         "no route inside the area of the forecast: land "
                         "closes it there; the sea beyond may be open: %s",
                         ask);
    return error_set(error, STATUS_NO_ROUTE,
                     "no route: closed by land; no water wider than about half "
                     "a mile joins the start, the places to pass and the "
                     "finish");
}

/* A limit as low as this was likely meant in m/s. */
static const double ODD_KN = 18.0;

static bool closed_by_wind(const char *name, struct figure limit_mps,
                           struct arena *arena, struct error *error) {
    double limit_kn = mps_to_kn(limit_mps.value);
    return error_set(error, STATUS_NO_ROUTE,
                     "no route inside the forecast: closed by %s, %.4g kn; "
                     "raise it or depart at another time%s",
                     name, limit_kn,
                     limit_kn < ODD_KN
                         ? arena_print(arena,
                                       "; if it is in m/s, write %.0f kn",
                                       mps_to_kn(limit_kn))
                         : "");
}

bool closed_by(const struct voyage *voyage,
               const struct search_request *request, enum obstacle cause,
               struct arena *arena, struct error *error) {
    switch (cause) {
    case OBSTACLE_WIND:
        return closed_by_wind("max_wind", voyage->max_wind_mps, arena, error);
    case OBSTACLE_GUST:
        return closed_by_wind("max_gust", voyage->max_gust_mps, arena, error);
    case OBSTACLE_WAVE:
        return error_set(error, STATUS_NO_ROUTE,
                         "no route inside the forecast: closed by max_wave, "
                         "%.1f m; raise it or depart at another time",
                         voyage->max_wave_m.value);
    case OBSTACLE_ZONE:
        return error_set(error, STATUS_NO_ROUTE,
                         "no route inside the forecast: closed by %s in their "
                         "time; depart at another",
                         closed_zones(voyage->water, request, arena));
    case OBSTACLE_NONE:
    case OBSTACLE_LAND:
    case OBSTACLE_AREA:
    case OBSTACLE_HORIZON:
    case OBSTACLE_NO_SPEED:
    case OBSTACLE_CURRENT:
    case OBSTACLE_LANDFALL:
    case OBSTACLE_FUEL:
    case OBSTACLE_GYBE:
    case OBSTACLE_COUNT:
        break;
    }
    return error_set(error, STATUS_NO_ROUTE,
                     "no route inside the forecast: stopped by %s; ask for a "
                     "larger area or depart at another time",
                     obstacle_name(cause));
}
