#include "plan/warnings.h"

#include "base/units.h"

/* A forecast older than this at departure is said to be old. */
static const double OLD_S = 24.0 * SECONDS_PER_HOUR;

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
        add(list,
            arena_print(list->arena, "the forecast is %.0f h old at departure",
                        s_to_hours(age_s)));
}

static void about_legs(struct list *list) {
    const struct plan *plan = list->plan;
    const struct plan_summary *summary = &plan->summary;
    if (summary->beyond_forecast_s > 0.0)
        add(list,
            arena_print(list->arena,
                        "the last %.0f h lie beyond the forecast: a guess",
                        s_to_hours(summary->beyond_forecast_s)));
    if (COUNT_LEGS(plan, wave_estimated) > 0)
        add(list, "the sea of some legs is estimated from the wind: no wave "
                  "field there, and no swell in it");
    if (COUNT_LEGS(plan, gust_estimated) > 0)
        add(list, "gusts of some legs are 1.4 times the mean wind: no gust "
                  "field there");
    if (COUNT_LEGS(plan, polar_beyond) > 0)
        add(list, "the wind goes above the last column of the polar: speed "
                  "is held there");
    if (COUNT_LEGS(plan, unchecked) > 0)
        add(list, "a limit could not be checked on some legs: its field is "
                  "missing there");
}

static bool is_over(struct figure limit, struct figure value) {
    return limit.known && value.known && value.value > limit.value;
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

void warnings_give(struct plan *plan, const struct world *world,
                   const struct request *request, struct arena *arena) {
    struct list list = {.plan = plan, .arena = arena};
    if (!request->depart_zone_given)
        add(&list, "the departure has no time zone: UTC was taken");
    about_forecast(&list, world);
    about_legs(&list);
    about_limits(&list, request);
}
