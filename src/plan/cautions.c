#include "plan/cautions.h"

#include "base/units.h"
#include "plan/marks.h"

#include <math.h>

/* --- on the way -------------------------------------------------------------
 */

static const double TOLD_S = 15.0 * SECONDS_PER_MINUTE;
static const double TOLD_FRAC = 0.5; /* of a leg */
static const double GUIDANCE_TOLD_S = 30.0 * SECONDS_PER_MINUTE;

bool cautions_against_current(const struct conditions *conditions) {
    if (!conditions->current_known ||
        vector_length(conditions->current) <= kn_to_mps(CAUTIONS_CURRENT_KN) ||
        vector_length(conditions->wind) < kn_to_mps(CAUTIONS_AGAINST_WIND_KN))
        return false;
    double off_deg = angle_turn(vector_direction_from(conditions->wind),
                                vector_direction_towards(conditions->current));
    return fabs(off_deg) <= CAUTIONS_AGAINST_DEG;
}

bool cautions_slats(const struct conditions *conditions, double length_m,
                    double aws_mps) {
    if (aws_mps >= kn_to_mps(CAUTIONS_SLATTING_KN))
        return false;
    for (int i = 1; i < SEA_SYSTEMS; i++)
        if (conditions->sea.origin[i] != WAVE_ESTIMATED &&
            guidance_counts(length_m, &conditions->sea.system[i]))
            return true;
    return false;
}

/* A height out of the forecast with a period that was guessed says nothing of
 * how steep the sea is. */
static bool is_guessed(const struct sea *sea) {
    return sea->estimated && !sea->height_estimated;
}

static void add_steep(struct caution_sums *sums, const struct sea *sea,
                      double length_m, double dt) {
    bool steep = false;
    for (int i = 0; i < SEA_SYSTEMS && !is_guessed(sea); i++) {
        const struct wave_system *system = &sea->system[i];
        if (!guidance_is_steep(length_m, system))
            continue;
        steep = true;
        if (guidance_height_per_length(system) >
            guidance_height_per_length(&sums->steepest))
            sums->steepest = *system;
    }
    if (steep)
        sums->steep_s += dt;
}

static struct guidance_boat boat_of(const struct plan *plan,
                                    const struct motion *motion) {
    const struct boat *boat = plan->boat;
    return (struct guidance_boat){.length_m = boat->length_waterline_m,
                                  .roll_period_s = boat->roller.period_s,
                                  .heading_deg = motion->heading_deg,
                                  .speed_mps = motion->stw_mps};
}

static void add_guidance(struct plan *plan, enum guidance kind,
                         const struct sail_step *step) {
    struct plan_guidance *told = &plan->guidance[kind];
    const struct sea *sea = &step->conditions->sea;
    struct guidance_boat boat = boat_of(plan, step->motion);
    const struct wave_system *system = NULL;
    for (int i = 0; i < SEA_SYSTEMS && !system && !is_guessed(sea); i++)
        if (guidance_applies(kind, &boat, &sea->system[i]))
            system = &sea->system[i];
    if (!system)
        return;
    if (told->seconds <= 0.0)
        *told = (struct plan_guidance){
            .at = instant_plus(plan->depart, step->start_s),
            .leg = plan->leg_count,
            .wave = *system,
            .speed_mps = boat.speed_mps,
            .off_bow_deg =
                guidance_off_bow_deg(boat.heading_deg, system->from_deg),
            .meets_s = guidance_meets_s(&boat, system)};
    told->seconds += step->seconds;
}

void cautions_add(struct plan *plan, struct caution_sums *sums,
                  const struct sail_step *step) {
    double dt = step->seconds, length_m = plan->boat->length_waterline_m;
    sums->seconds += dt;
    add_steep(sums, &step->conditions->sea, length_m, dt);
    if (is_guessed(&step->conditions->sea))
        sums->unjudged_s += dt;
    if (cautions_against_current(step->conditions))
        sums->against_s += dt;
    if (!step->working &&
        cautions_slats(step->conditions, length_m, step->motion->aws_mps))
        sums->slatting_s += dt;
    for (int kind = 0; kind < GUIDANCE_KINDS; kind++)
        add_guidance(plan, (enum guidance)kind, step);
}

/* Long enough to be told; else it lasts no time at all. */
static bool is_told(double seconds, double leg_s, double *told_s) {
    bool told = seconds > 0.0 && seconds >= fmin(TOLD_S, TOLD_FRAC * leg_s);
    *told_s = told ? seconds : 0.0;
    return told;
}

struct plan_remarks cautions_of_leg(const struct caution_sums *sums) {
    struct plan_remarks remarks = {.steep = false};
    double leg_s = sums->seconds;
    remarks.steep = is_told(sums->steep_s, leg_s, &remarks.steep_s);
    remarks.against_current =
        is_told(sums->against_s, leg_s, &remarks.against_s);
    remarks.slatting = is_told(sums->slatting_s, leg_s, &remarks.slatting_s);
    remarks.unjudged = is_told(sums->unjudged_s, leg_s, &remarks.unjudged_s);
    if (remarks.steep)
        remarks.steepest = sums->steepest;
    return remarks;
}

/* --- in words ---------------------------------------------------------------
 */

struct speaker {
    const struct plan *plan;
    void (*warn)(void *context, const char *text);
    void *context;
    struct arena *arena;
};

/* More than these are not listed one by one. */
enum { LISTED = 4 };

/* "leg 3", "legs 1, 2 and 7", "9 of 31 legs", "all legs"; NULL for none. */
static const char *legs_with(const struct speaker *speaker, size_t flag) {
    const struct plan *plan = speaker->plan;
    struct arena *arena = speaker->arena;
    const char *list = "";
    size_t count = 0, last = 0;
    for (size_t i = 0; i < plan->leg_count; i++) {
        if (!*(const bool *)((const char *)&plan->legs[i] + flag))
            continue;
        if (count > 0)
            list = arena_print(arena, "%s%s%s", list, count > 1 ? ", " : "",
                               mark_leg(arena, last));
        last = i;
        count++;
    }
    if (count == 0)
        return NULL;
    if (count == plan->leg_count)
        return "all legs";
    if (count == 1)
        return arena_print(arena, "leg %s", mark_leg(arena, last));
    if (count > LISTED)
        return arena_print(arena, "%zu of %zu legs", count, plan->leg_count);
    return arena_print(arena, "legs %s and %s", list, mark_leg(arena, last));
}

static const double IN_HOURS_S = 1.5 * SECONDS_PER_HOUR;

/* "45 min", "12 h". */
static const char *lasting(const struct speaker *speaker, double seconds) {
    if (seconds < IN_HOURS_S)
        return arena_print(speaker->arena, "%.0f min",
                           seconds / SECONDS_PER_MINUTE);
    return arena_print(speaker->arena, "%.0f h", s_to_hours(seconds));
}

/* "for 12 h on legs 2 and 4"; NULL for none. */
static const char *for_legs(const struct speaker *speaker, size_t flag,
                            size_t length) {
    const struct plan *plan = speaker->plan;
    const char *legs = legs_with(speaker, flag);
    double sum_s = 0.0;
    for (size_t i = 0; i < plan->leg_count; i++)
        sum_s += *(const double *)((const char *)&plan->legs[i] + length);
    return legs ? arena_print(speaker->arena, "for %s on %s",
                              lasting(speaker, sum_s), legs)
                : NULL;
}

#define FOR_LEGS(speaker, flag, length)                                        \
    for_legs(speaker, offsetof(struct plan_leg, remarks.flag),                 \
             offsetof(struct plan_leg, remarks.length))

static void warn_of_steep(const struct speaker *speaker) {
    const struct plan *plan = speaker->plan;
    const char *when = FOR_LEGS(speaker, steep, steep_s);
    struct wave_system most = {.known = false};
    if (!when)
        return;
    for (size_t i = 0; i < plan->leg_count; i++) {
        const struct wave_system *here = &plan->legs[i].remarks.steepest;
        if (guidance_height_per_length(here) >
            guidance_height_per_length(&most))
            most = *here;
    }
    speaker->warn(speaker->context,
                  arena_print(speaker->arena,
                              "steep sea %s, at worst %.1f m high and %.0f m "
                              "long, 1 in %.0f: crests break; hatches shut, "
                              "clip on",
                              when, most.height_m, wave_length_m(most.period_s),
                              1.0 / guidance_height_per_length(&most)));
}

static void warn_of_current(const struct speaker *speaker) {
    const char *when = FOR_LEGS(speaker, against_current, against_s);
    if (when)
        speaker->warn(speaker->context,
                      arena_print(speaker->arena,
                                  "wind against a current of over %.0f kn %s: "
                                  "expect a shorter and steeper sea than the "
                                  "forecast says",
                                  CAUTIONS_CURRENT_KN, when));
}

static void warn_of_slatting(const struct speaker *speaker) {
    const char *when = FOR_LEGS(speaker, slatting, slatting_s);
    if (when)
        speaker->warn(speaker->context,
                      arena_print(speaker->arena,
                                  "apparent wind under %.0f kn with a swell "
                                  "%s: sails and boom will slat; preventer on, "
                                  "or the headsail rolled away",
                                  CAUTIONS_SLATTING_KN, when));
}

/* Silence there is no sign of an easy sea. */
static void warn_of_unjudged(const struct speaker *speaker) {
    const char *when = FOR_LEGS(speaker, unjudged, unjudged_s);
    if (when)
        speaker->warn(speaker->context,
                      arena_print(speaker->arena,
                                  "how steep the sea is can't be told %s: its "
                                  "height is forecast, its period is not",
                                  when));
}

/* What the waves do, and what to do about it. */
static const char *advice_on(const struct speaker *speaker,
                             enum guidance kind) {
    const struct plan *plan = speaker->plan;
    const struct plan_guidance *told = &plan->guidance[kind];
    const struct roller *roller = &plan->boat->roller;
    const char *how = roller->period_estimated ? "estimated" : "measured";
    if (kind == GUIDANCE_SURFING)
        return arena_print(
            speaker->arena,
            "steep seas from astern, %.0f m long, and she makes over %.1f kn: "
            "she may run down one and broach; slow down, steer by hand",
            wave_length_m(told->wave.period_s),
            mps_to_kn(guidance_surf_speed_mps(plan->boat->length_waterline_m,
                                              told->off_bow_deg)));
    return arena_print(
        speaker->arena,
        "waves meet her every %.1f s%s her roll period, %.1f s (%s): roll may "
        "build up; change course or speed a little",
        told->meets_s,
        kind == GUIDANCE_HALF_PERIOD ? ", about half of" : ", about",
        roller->period_s, how);
}

static void warn_of_guidance(const struct speaker *speaker,
                             enum guidance kind) {
    static const char *const names[GUIDANCE_KINDS] = {
        "surfing and broaching", "rolling in step with the waves",
        "rolling at every second wave"};
    const struct plan_guidance *told = &speaker->plan->guidance[kind];
    if (told->seconds < GUIDANCE_TOLD_S)
        return;
    speaker->warn(speaker->context,
                  arena_print(speaker->arena,
                              "%s, by guidance written for ships: first on leg "
                              "%s, %s, for %s in all: %s",
                              names[kind], mark_leg(speaker->arena, told->leg),
                              mark_time(speaker->arena, told->at),
                              lasting(speaker, told->seconds),
                              advice_on(speaker, kind)));
}

void cautions_warn(const struct plan *plan,
                   void (*warn)(void *context, const char *text), void *context,
                   struct arena *arena) {
    struct speaker speaker = {plan, warn, context, arena};
    warn_of_steep(&speaker);
    warn_of_unjudged(&speaker);
    warn_of_current(&speaker);
    warn_of_slatting(&speaker);
    for (int kind = 0; kind < GUIDANCE_KINDS; kind++)
        warn_of_guidance(&speaker, (enum guidance)kind);
}
