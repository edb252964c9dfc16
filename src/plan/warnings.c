#include "plan/warnings.h"

#include "base/units.h"
#include "boat/doubts.h"
#include "plan/arrival.h"
#include "plan/cautions.h"
#include "plan/hazards.h"
#include "plan/marks.h"
#include "plan/mistaken.h"
#include "plan/preflight.h"
#include "plan/weather.h"

#include <math.h>

/* A forecast older than this at departure is said to be old. */
static const double OLD_S = 24.0 * SECONDS_PER_HOUR;

/* And older than this it is likely the wrong file. */
static const double STALE_S = 72.0 * SECONDS_PER_HOUR;

/* Lower than this as the most wind, or gust, to sail in, and m/s were likely
 * meant. Common practice, no source. */
static const double ODD_WIND_KN = 15.0, ODD_GUST_KN = 18.0;

struct list {
    struct plan *plan;
    struct arena *arena;
    size_t capacity;
};

static void add(struct list *list, const char *text) {
    struct plan *plan = list->plan;
    plan->warnings =
        arena_room(list->arena, plan->warnings, plan->warning_count,
                   &list->capacity, sizeof *plan->warnings);
    plan->warnings[plan->warning_count++] = text;
}

/* How many legs have a flag set. */
#define COUNT_LEGS(plan, flag) count_legs(plan, offsetof(struct plan_leg, flag))

static size_t count_legs(const struct plan *plan, size_t flag) {
    size_t count = 0;
    for (size_t i = 0; i < plan->leg_count; i++)
        count += *(const bool *)((const char *)&plan->legs[i] + flag);
    return count;
}

static void about_forecast(struct list *list, const struct world *world) {
    const struct plan *plan = list->plan;
    for (size_t i = 0; i < forecast_warning_count(world->forecast); i++)
        add(list, forecast_warning(world->forecast, i));
    double age_s = instant_minus(plan->depart, plan->forecast_run);
    if (age_s > OLD_S)
        add(list, arena_print(
                      list->arena, "the forecast is %.0f h old at departure%s",
                      s_to_hours(age_s),
                      age_s > STALE_S ? ", more than three days; fetch a "
                                        "newer one: is this the right file?"
                                      : ""));
}

/* A sentence about the legs of a kind: some of them, or all. */
static void add_of_legs(struct list *list, size_t count, const char *before,
                        const char *after) {
    if (count > 0)
        add(list, arena_print(list->arena, "%s%s%s", before,
                              count < list->plan->leg_count ? "some legs"
                                                            : "all legs",
                              after));
}

static void about_horizon(struct list *list, const struct request *request) {
    const struct plan *plan = list->plan;
    double beyond_s = plan->summary.beyond_forecast_s;
    if (beyond_s > SECONDS_PER_HOUR)
        add(list, arena_print(list->arena,
                              "the last %.0f h lie beyond the forecast: a "
                              "guess",
                              s_to_hours(beyond_s)));
    else if (beyond_s > 0.0)
        add(list, "the last hour lies beyond the forecast in part: a guess");
    struct instant own = instant_plus(plan->forecast_end, WEATHER_HOLD_S);
    if (request->after == AFTER_WIND &&
        plan->summary.arrive.unix_s > own.unix_s)
        add(list,
            arena_print(list->arena,
                        "from %s on the wind is the crew's own guess, %.0f kn "
                        "from %03.0f",
                        mark_time(list->arena, own),
                        mps_to_kn(request->after_wind_mps),
                        fmod(round(request->after_wind_from_deg), 360.0)));
}

static bool has(const struct world *world, enum quantity quantity) {
    return forecast_summary(world->forecast, quantity).present;
}

/* The combined sea has the swell in it. */
static bool has_swell(const struct world *world) {
    return has(world, QUANTITY_SEA) || has(world, QUANTITY_SWELL_1) ||
           has(world, QUANTITY_SWELL_2) || has(world, QUANTITY_SWELL_3);
}

/* What of the sea is an estimate, and from what; a swell that is missing. */
static void about_sea(struct list *list, const struct world *world) {
    const struct plan *plan = list->plan;
    size_t estimated = COUNT_LEGS(plan, wave_estimated);
    add_of_legs(list, estimated, "the sea of ",
                world->fetch ? " is estimated from the wind, how long it blows "
                               "and over how much water up to the shore"
                             : " is estimated from the wind and how long it "
                               "blows, over open water: no land is loaded");
    if (!has_swell(world))
        add(list, "no swell in these files: roll is understated");
    else if (estimated > 0)
        add(list, "swell that no file holds is not in that sea: roll may be "
                  "understated");
    add_of_legs(list, COUNT_LEGS(plan, wave_split),
                has(world, QUANTITY_WIND_SEA)
                    ? "the swell is not apart in the forecast of "
                    : "wind sea and swell are one in the forecast of ",
                has(world, QUANTITY_WIND_SEA)
                    ? ": what the wind sea leaves of the whole, roll is an "
                      "estimate"
                    : ": told apart by what the wind raises, roll is an "
                      "estimate");
}

static void about_legs(struct list *list) {
    const struct plan *plan = list->plan;
    add_of_legs(list, COUNT_LEGS(plan, gust_estimated), "gusts of ",
                " are 1.4 times the mean wind: no gust field there");
    if (COUNT_LEGS(plan, polar_beyond) > 0)
        add(list, "the wind goes above the last column of the polar: speed "
                  "is held there");
    add_of_legs(list, COUNT_LEGS(plan, unchecked),
                "a limit could not be checked on ",
                ": its field is missing there");
}

static bool is_over(struct figure limit, struct figure value) {
    return limit.known && value.known && value.value > limit.value;
}

/* What is less than this, 0.1 h as it is printed, is no loss to speak of. */
static const double LOSS_S = 0.05 * SECONDS_PER_HOUR;

/* Kept to few points, a route costs more than it need. */
static void about_points(struct list *list) {
    const struct plan_fewer *fewer = &list->plan->fewer;
    if (fewer->points == 0 ||
        (fewer->cost_s < LOSS_S && fewer->time_s < LOSS_S))
        return;
    const char *cost = "", *time = "";
    if (fewer->cost_s >= LOSS_S)
        cost = arena_print(list->arena, ", weighed cost %.1f h more",
                           s_to_hours(fewer->cost_s));
    if (fabs(fewer->time_s) >= LOSS_S)
        time = arena_print(list->arena, ", %.1f h %s",
                           s_to_hours(fabs(fewer->time_s)),
                           fewer->time_s > 0.0 ? "longer" : "shorter");
    add(list,
        arena_print(list->arena,
                    "for route_points the route has %zu points instead of "
                    "%zu%s%s",
                    list->plan->leg_count + 1, fewer->points, cost, time));
}

static void about_route(struct list *list, const struct request *request) {
    const struct plan *plan = list->plan;
    if (!plan->timed_only && plan->leg_count >= (size_t)request->route_points)
        add(list, arena_print(list->arena,
                              "the route has %zu points, more than "
                              "route_points: with fewer it can't be sailed",
                              plan->leg_count + 1));
    about_points(list);
    if (!plan->timed_only && preflight_stays(request))
        add(list, "the start and the finish are one place: nothing is sailed, "
                  "and the figures are those of a boat that lies there at the "
                  "departure; look at both, or give a place to pass on the way "
                  "with --via");
    if (plan->unrigged)
        add(list, arena_print(list->arena,
                              "the spar is not used on this track: working "
                              "out where was stopped by %s",
                              plan->unrigged));
}

/* Only a given track can break them. */
static void about_limits(struct list *list, const struct request *request) {
    const struct plan_summary *summary = &list->plan->summary;
    if (is_over(request->max_wind_mps, figure_of(summary->max_tws_mps)))
        add(list, arena_print(list->arena, "the track breaks max_wind: %.0f kn",
                              mps_to_kn(summary->max_tws_mps)));
    if (is_over(request->max_gust_mps, summary->max_gust_mps))
        add(list, arena_print(list->arena, "the track breaks max_gust: %.0f kn",
                              mps_to_kn(summary->max_gust_mps.value)));
    if (is_over(request->max_wave_m, summary->max_wave_m))
        add(list, arena_print(list->arena, "the track breaks max_wave: %.1f m",
                              summary->max_wave_m.value));
}

/* What daylight-only excuses, and what a given track asks for against it. */
static void about_dark_work(struct list *list) {
    const struct plan *plan = list->plan;
    size_t count = 0;
    for (size_t i = 0; plan->daylight_only && i < plan->change_count; i++)
        count += plan->changes[i].deck_work &&
                 plan->changes[i].outside_limits &&
                 plan->changes[i].light == LIGHT_NIGHT;
    if (count > 0)
        add(list, arena_print(list->arena,
                              "against daylight-only someone goes forward in "
                              "the dark, times: %zu; see CHANGES",
                              count));
}

/* With a single preventer: what the course asks for is done in any weather. */
static void about_gybes(struct list *list) {
    const struct plan *plan = list->plan;
    const struct plan_change *first = NULL;
    size_t count = 0;
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        if (change->kind != CHANGE_MAINSAIL_GYBE || !change->deck_work ||
            !change->outside_limits)
            continue;
        first = first ? first : change;
        count++;
    }
    if (first)
        add(list,
            arena_print(list->arena,
                        "gybing the mainsail sends someone forward beyond the "
                        "work limits, %s%s: the course turns there; with "
                        "clear water ahead by the chart hold the course "
                        "before, or tack, until wind and sea are within them, "
                        "and plan again",
                        count > 1 ? arena_print(list->arena,
                                                "%zu times, first at ", count)
                                  : "at ",
                        mark_time(list->arena, first->at)));
}

static void about_waiting(struct list *list) {
    const struct plan *plan = list->plan;
    for (size_t i = 0; i < plan->leg_count; i++)
        if (plan->legs[i].wait_s >= PLAN_WAIT_TOLD_S)
            add(list,
                arena_print(list->arena,
                            "to arrive by daylight she waits %.1f h at sea, "
                            "where leg %s starts; how she drifts there is "
                            "not in the plan, and to depart later may spare it",
                            s_to_hours(plan->legs[i].wait_s),
                            mark_leg(list->arena, i)));
}

static void about_departure(struct list *list, const struct request *request) {
    if (request->depart_zone_given)
        return;
    double ship_h = request->zone_hours;
    if (fabs(ship_h) > 0.0)
        add(list,
            arena_print(list->arena,
                        "the departure has no time zone: UTC was taken, and "
                        "ship's time is UTC%+g; if that was meant, add it",
                        ship_h));
    else
        add(list, "the departure has no time zone: UTC was taken; write Z, or "
                  "a zone as +02:00");
}

static void about_odd_limit(struct list *list, struct figure limit_mps,
                            const char *name, double odd_kn) {
    double limit_kn = mps_to_kn(limit_mps.value);
    if (limit_mps.known && limit_kn < odd_kn)
        add(list, arena_print(list->arena,
                              "%s is %.4g kn, little for a limit; is it in "
                              "m/s? it would be %.0f kn",
                              name, limit_kn, mps_to_kn(limit_kn)));
}

/* What was likely not meant. */
static void about_request(struct list *list, const struct warned *from) {
    const struct request *request = from->request;
    about_departure(list, request);
    if (request->wave_towards)
        add(list, "the files' wave directions are taken as towards, not as "
                  "from, as wave_direction says");
    about_odd_limit(list, request->max_wind_mps, "max_wind", ODD_WIND_KN);
    about_odd_limit(list, request->max_gust_mps, "max_gust", ODD_GUST_KN);
    const char *way = mistaken_way(from->world, request, list->arena);
    if (way)
        add(list, way);
}

static void add_text(void *list, const char *text) {
    add(list, text);
}

static void about_land(struct list *list, const struct water *water) {
    const struct plan_coast *coast = &list->plan->coast;
    if (!coast->name && !coast->switched_off)
        add(list, "NO LAND CHECK: no shorelines are installed (Debian: "
                  "gmt-gshhg-high); lay every leg off on the chart");
    if (coast->name && coast->coarse)
        add(list, arena_print(list->arena,
                              "the shorelines are %s: small islands are "
                              "missing in them; install gmt-gshhg-high",
                              coast->name));
    hazards_warn(list->plan, water, add_text, list, list->arena);
}

void warnings_give(struct plan *plan, const struct warned *from,
                   struct arena *arena) {
    const struct request *request = from->request;
    struct list list = {.plan = plan, .arena = arena};
    about_request(&list, from);
    about_land(&list, from->water);
    about_forecast(&list, from->world);
    about_horizon(&list, request);
    about_sea(&list, from->world);
    about_legs(&list);
    about_route(&list, request);
    about_limits(&list, request);
    about_dark_work(&list);
    about_gybes(&list);
    const char *dark = arrival_warning(plan, arena);
    if (dark)
        add(&list, dark);
    about_waiting(&list);
    cautions_warn(plan, add_text, &list, arena);
    doubts_tell(&from->world->boat, add_text, &list, arena);
}
