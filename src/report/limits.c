#include "report/limits.h"

#include "base/units.h"
#include "report/sheet.h"
#include "report/words.h"
#include "voyage/voyage.h"
#include <math.h>

/* --- the spar ---------------------------------------------------------------
 */

const char *limits_angles(struct arena *arena, const struct plan *plan,
                          enum sail_mode mode) {
    double low_deg, high_deg;
    voyage_spar_range(plan->boat, mode, &low_deg, &high_deg);
    if (high_deg >= 180.0)
        return arena_print(arena, "AWA %.0f deg or more", low_deg);
    return arena_print(arena, "AWA between %.0f and %.0f deg", low_deg,
                       high_deg);
}

/* A way to carry the headsail, and what the legs sailed so have in common. */
struct carried {
    enum sail_mode mode;
    const char *legs; /* their names; "" where it is only for a while */
    struct figure least_aws_mps, most_aws_mps; /* in the strongest wind */
};

static struct carried carried_as(struct arena *arena, enum sail_mode mode,
                                 const struct waypoints *waypoints) {
    struct carried carried = {.mode = mode, .legs = ""};
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (!point->starts_leg || point->leg->mode != mode)
            continue;
        struct figure aws = point->leg->most_aws_mps;
        carried.legs = arena_print(arena, "%s%s%s", carried.legs,
                                   *carried.legs ? ", " : "", point->name);
        carried.most_aws_mps = figure_max(carried.most_aws_mps, aws);
        if (aws.known && (!carried.least_aws_mps.known ||
                          aws.value < carried.least_aws_mps.value))
            carried.least_aws_mps = aws;
    }
    return carried;
}

/* " (14 apparent)", " (14 to 16 apparent)", "" where not known. */
static const char *apparent_of(struct arena *arena,
                               const struct carried *carried) {
    double least_kn = round(mps_to_kn(carried->least_aws_mps.value));
    double most_kn = round(mps_to_kn(carried->most_aws_mps.value));
    if (!carried->most_aws_mps.known)
        return "";
    if (least_kn < most_kn)
        return arena_print(arena, " (%.0f to %.0f apparent)", least_kn,
                           most_kn);
    return arena_print(arena, " (%.0f apparent)", most_kn);
}

static void write_carried(struct arena *arena, const struct plan *plan,
                          const struct carried *carried, FILE *stream) {
    const struct spar *spar = &plan->boat->spar;
    bool wing = carried->mode == MODE_WING;
    sheet_entry(stream, wing ? "Wing" : "Reach", "%s: %s",
                wing ? "wing-and-wing" : "poled reach",
                *carried->legs ? carried->legs : "for a while only");
    sheet_entry(stream, "Keep", "%s",
                limits_angles(arena, plan, carried->mode));
    sheet_entry(
        stream, "Limit",
        "roll the headsail away if the true wind passes %.0f kn%s or a gust "
        "%.0f kn, or if AWA will not stay where it should",
        mps_to_kn(wing ? spar->wing_max_wind_mps : spar->reach_max_wind_mps),
        apparent_of(arena, carried),
        mps_to_kn(wing ? spar->wing_max_gust_mps : spar->reach_max_gust_mps));
}

static bool is_used(const struct plan *plan, enum sail_mode mode) {
    for (size_t i = 0; i < plan->leg_count; i++)
        if (plan->legs[i].mode == mode)
            return true;
    for (size_t i = 0; i < plan->change_count; i++)
        if (deck_mode(plan->changes[i].to) == mode)
            return true;
    return false;
}

void limits_write_spar(const struct plan *plan,
                       const struct waypoints *waypoints, FILE *stream) {
    static const enum sail_mode modes[] = {MODE_WING, MODE_POLED_REACH};
    struct arena arena;
    if (!is_used(plan, MODE_WING) && !is_used(plan, MODE_POLED_REACH))
        return;
    arena_init(&arena);
    sheet_heading(stream, "WITH THE SPAR DRAWING");
    for (int i = 0; i < 2; i++) {
        struct carried carried = carried_as(&arena, modes[i], waypoints);
        if (is_used(plan, modes[i]))
            write_carried(&arena, plan, &carried, stream);
    }
    arena_free(&arena);
}

/* --- work on deck -----------------------------------------------------------
 */

struct advice {
    const char *otherwise; /* outside the limits */
    const char *missed;
};

static struct advice advice_for(enum change_kind kind) {
    switch (kind) {
    case CHANGE_SET:
        return (struct advice){"the spar stays stowed; wait",
                               "sail on with the spar stowed and plan again"};
    case CHANGE_STOW:
        return (struct advice){
            "roll the headsail away first; nobody goes forward until it eases",
            "keep the headsail rolled and the boat off the land; nobody enters "
            "harbour with the spar out"};
    case CHANGE_GYBE:
    case CHANGE_ACROSS:
        return (struct advice){
            "roll the headsail away and wait; the spar stays where it is",
            "stay as you are and plan again"};
    case CHANGE_MAINSAIL_GYBE:
    case CHANGE_TACK:
    case CHANGE_ROLL:
    case CHANGE_UNROLL:
    case CHANGE_KINDS:
        break;
    }
    return (struct advice){"wait", "stay as you are and plan again"};
}

/* "true wind to 18 kn (13 apparent), gust to 22 kn, ...". */
static const char *weather_for(struct arena *arena, const struct boat *boat,
                               enum change_kind kind, struct figure aws_mps) {
    const struct work_limits *work = &boat->work;
    bool stow = kind == CHANGE_STOW;
    double wind = stow ? work->stow_max_wind_mps : work->max_wind_mps;
    return arena_print(
        arena,
        "with true wind to %s, gust to %.0f kn, sea to %.1f m, roll to %.0f "
        "deg rms",
        words_true_wind(arena, wind, aws_mps),
        mps_to_kn(stow ? work->stow_max_gust_mps : work->max_gust_mps),
        work->max_wave_m, work->max_roll_deg);
}

void limits_write_go(const struct plan *plan, const struct plan_change *change,
                     FILE *stream) {
    struct arena arena;
    struct advice advice = advice_for(change->kind);
    arena_init(&arena);
    sheet_entry(
        stream, "Go", "%s",
        weather_for(&arena, plan->boat, change->kind, change->most_aws_mps));
    sheet_entry(stream, "Not", "above any of these: %s", advice.otherwise);
    if (change->outside_limits)
        sheet_entry(stream, "BEWARE",
                    "the forecast is above these limits, and it has to be done "
                    "all the same: headsail rolled away first, no hurry");
    sheet_entry(stream, "Else", "if it is not done: %s", advice.missed);
    arena_free(&arena);
}

const char *limits_name(enum change_kind kind) {
    switch (kind) {
    case CHANGE_SET:
        return "SET";
    case CHANGE_GYBE:
        return "GYBE";
    case CHANGE_ACROSS:
        return "CROSS";
    case CHANGE_STOW:
        return "STOW";
    case CHANGE_MAINSAIL_GYBE:
    case CHANGE_TACK:
    case CHANGE_ROLL:
    case CHANGE_UNROLL:
    case CHANGE_KINDS:
        break;
    }
    return "MAIN";
}

static bool is_done(const struct plan *plan, enum change_kind kind) {
    for (size_t i = 0; i < plan->change_count; i++)
        if (plan->changes[i].deck_work && plan->changes[i].kind == kind)
            return true;
    return false;
}

void limits_write_work(const struct plan *plan, FILE *stream) {
    static const enum change_kind kinds[] = {CHANGE_SET, CHANGE_GYBE,
                                             CHANGE_ACROSS, CHANGE_STOW,
                                             CHANGE_MAINSAIL_GYBE};
    struct arena arena;
    arena_init(&arena);
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        struct advice advice = advice_for(kinds[i]);
        if (is_done(plan, kinds[i]))
            sheet_entry(
                stream, limits_name(kinds[i]),
                "go %s; above any of these: %s; if it is not done: %s",
                weather_for(&arena, plan->boat, kinds[i], figure_unknown()),
                advice.otherwise, advice.missed);
    }
    arena_free(&arena);
}
