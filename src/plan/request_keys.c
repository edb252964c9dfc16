#include "plan/request.h"

#include "base/units.h"

/* File units to SI. */
#define KN (METRES_PER_NMI / SECONDS_PER_HOUR)
#define NMI METRES_PER_NMI
#define HOURS SECONDS_PER_HOUR
#define MINUTES SECONDS_PER_MINUTE

#define AT(member) offsetof(struct request, member)

static const char *const spars[] = {"stowed", "port", "starboard", NULL};
static const char *const rules[] = {"any", "daylight-first", "daylight-only",
                                    NULL};
static const char *const arrivals[] = {"any", "daylight", NULL};
static const char *const directions[] = {"from", "towards", NULL};
static const char *const answers[] = {"no", "yes", NULL};

/* Section, name, kind, place, range, scale to SI, unit, default (NULL: must
 * be given), choices, help. */
static const struct key keys[] = {
    {"passage", "boat", KEY_PATH, AT(boat_path), 0, 0, 0, "", NULL, NULL,
     "the boat file"},
    {"passage", "forecast", KEY_LIST, AT(forecast_paths), 0, 0, 0, "", NULL,
     NULL, "a GRIB file"},
    {"passage", "from", KEY_TEXT, AT(from_text), 0, 0, 0, "", NULL, NULL,
     "the start: 16 53.4 N 025 00.6 W, or 16.89,-25.01"},
    {"passage", "to", KEY_TEXT, AT(to_text), 0, 0, 0, "", NULL, NULL,
     "the finish"},
    {"passage", "via", KEY_LIST, AT(from_via), 0, 0, 0, "", "", NULL,
     "a place to pass, in order"},
    {"passage", "depart", KEY_TEXT, AT(depart_text), 0, 0, 0, "", NULL, NULL,
     "time of departure: 2026-03-10T06:00Z, or now; UTC without a zone"},
    {"passage", "earliest", KEY_TEXT, AT(earliest_text), 0, 0, 0, "", "", NULL,
     "first departure of a window; that of depart where left out"},
    {"passage", "latest", KEY_TEXT, AT(latest_text), 0, 0, 0, "", "", NULL,
     "last departure of a window"},
    {"passage", "every", KEY_NUMBER, AT(every_s), 0.1, 720, HOURS, "h", "6",
     NULL, "from one departure of a window to the next"},
    {"passage", "spar", KEY_CHOICE, AT(spar_choice), 0, 0, 0, "", "stowed",
     spars, "how the boat is rigged now, the headsail drawing"},
    {"passage", "ease", KEY_TEXT, AT(ease_text), 0, 0, 0, "", "1", NULL,
     "what comfort weighs: 0, only time counts, to 100; up to four with commas "
     "between are planned side by side"},
    {"passage", "deck_work", KEY_CHOICE, AT(deck_work), 0, 0, 0, "",
     "daylight-first", rules,
     "when someone may go forward: any, the dark weighs no more, though work "
     "takes longer in it; daylight-first, it does; daylight-only, not in the "
     "dark"},
    {"passage", "zones", KEY_LIST, AT(zones), 0, 0, 0, "", "", NULL,
     "areas to keep out of, a GeoJSON file"},
    {"passage", "clearance", KEY_NUMBER, AT(clearance_m), 0, 50, NMI, "nmi",
     "2", NULL, "least distance off the land"},
    {"passage", "coast", KEY_TEXT, AT(coast_text), 0, 0, 0, "", "auto", NULL,
     "the shorelines: auto, the finest set that is installed; none, land is "
     "not checked; or a GSHHG file"},
    {"passage", "max_wind", KEY_FIGURE, AT(max_wind_mps), 1, 100, KN, "kn", "",
     NULL, "most true wind to sail in"},
    {"passage", "max_gust", KEY_FIGURE, AT(max_gust_mps), 1, 150, KN, "kn", "",
     NULL, "most gust to sail in"},
    {"passage", "max_wave", KEY_FIGURE, AT(max_wave_m), 0.1, 30, 0, "m", "",
     NULL, "greatest significant wave height to sail in"},
    {"passage", "after_forecast", KEY_TEXT, AT(after_text), 0, 0, 0, "", "hold",
     NULL,
     "after the last step: hold it, stop the plan, or wind:FROM,KN of your "
     "own after 24 h"},
    {"passage", "member", KEY_FIGURE, AT(member), 0, 1000, 0, "", "", NULL,
     "of an ensemble, by its number; the control where left out"},
    {"passage", "previous", KEY_PATH, AT(previous_path), 0, 0, 0, "", "", NULL,
     "plan.json of the plan that is being sailed: what has changed since, and "
     "whether its track is still good"},
    {"passage", "arrive", KEY_CHOICE, AT(arrive), 0, 0, 0, "", "any", arrivals,
     "when to arrive: any; daylight, she hurries, slows down or waits for it"},
    {"passage", "threads", KEY_COUNT, AT(threads), 0, 256, 0, "", "0", NULL,
     "of the search; 0: as many as there are cores"},
    {"passage", "out", KEY_PATH, AT(out), 0, 0, 0, "", "", NULL,
     "folder for the files of the plan; named after the passage if left out"},
    {"passage", "name", KEY_TEXT, AT(name), 0, 0, 0, "", "", NULL,
     "of the passage"},
    {"passage", "route_points", KEY_COUNT, AT(route_points), 2, 1000, 0, "",
     "50", NULL, "most points of the route"},
    {"passage", "leg_loss", KEY_NUMBER, AT(leg_loss_frac), 0, 0.2, 0, "",
     "0.003", NULL, "most that cutting into legs may cost, of the whole"},
    {"passage", "zone_hours", KEY_NUMBER, AT(zone_hours), -14, 14, 0, "h", "0",
     NULL, "ship's time less UTC, for the schedule"},
    {"passage", "wave_direction", KEY_CHOICE, AT(wave_towards), 0, 0, 0, "",
     "from", directions, "what the files' wave directions tell"},
    {"passage", "magnetic", KEY_CHOICE, AT(magnetic), 0, 0, 0, "", "no",
     answers, "magnetic courses beside the true ones; 2025 to 2029"},
    {"passage", "points_only", KEY_CHOICE, AT(points_only), 0, 0, 0, "", "no",
     answers, "route.gpx without its track"},
    {"passage", "name_length", KEY_COUNT, AT(name_length), 0, 100, 0, "", "0",
     NULL, "longest name in route.gpx, 5 or more; 0: as long as they are"},
    {"passage", "ascii", KEY_CHOICE, AT(ascii), 0, 0, 0, "", "no", answers,
     "only ASCII in route.gpx"},
    {"passage", "approach_nmi", KEY_NUMBER, AT(approach_m), 0, 50, NMI, "nmi",
     "5", NULL, "round start and finish, where the clearance does not hold"},
    {"passage", "margin_minutes", KEY_FIGURE, AT(margin_s), 1, 600, MINUTES,
     "min", "", NULL,
     "cost within which a change may come earlier or later, and deck work "
     "moves "
     "to a change of watch or into daylight; 10, and 30 over three days"},
    {"passage", "forecast_gap_hours", KEY_NUMBER, AT(forecast_gap_s), 1, 72,
     HOURS, "h", "12", NULL, "widest hole in the forecast that is bridged"},
    {"passage", "fallback", KEY_LIST, AT(fallbacks), 0, 0, 0, "", "", NULL,
     "a port to run to: NAME, a blank, its position"},

    {"crew", "watch_hours", KEY_FIGURE, AT(watch_s), 1, 12, HOURS, "h", "",
     NULL, "length of a watch; one person at a time has it"},
    {"crew", "names", KEY_TEXT, AT(crew_names), 0, 0, 0, "", "", NULL,
     "in the order of their watches, with commas between: Ann, Bo"},
    {"crew", "watch_start", KEY_TEXT, AT(watch_start_text), 0, 0, 0, "", "",
     NULL,
     "when a watch of the first named begins: 20:00, ship's time; 00:00 if "
     "left out"},
};

#define COUNT(list) (sizeof(list) / sizeof *(list))

_Static_assert(COUNT(keys) <= REQUEST_KEYS, "one flag for each key");

const struct key_table request_keys = {keys, COUNT(keys)};
