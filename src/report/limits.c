#include "report/limits.h"

#include "base/units.h"
#include "boat/apparent.h"
#include "report/clock.h"
#include "report/due.h"
#include "report/leg_names.h"
#include "report/room.h"
#include "report/sheet.h"
#include "report/words.h"
#include <math.h>

/* --- the spar ---------------------------------------------------------------
 */

bool limits_is_by_the_lee(const struct plan_leg *leg) {
    double awa_deg = fabs(leg->awa_deg);
    return awa_deg > 90.0 && lround(awa_deg) < 180 &&
           (leg->awa_deg >= 0.0) != leg->deck.wind_starboard;
}

/* AWA as far by the lee as the plan goes, in the mean wind of the leg. */
static double lee_awa_deg(const struct plan_leg *leg) {
    return apparent_wind(LIMITS_LEE_TWA_DEG, leg->tws_mps, leg->stw_mps)
        .awa_deg;
}

bool limits_is_at_limit(const struct plan *plan, const struct plan_leg *leg) {
    double awa_deg = fabs(leg->awa_deg), low_deg, high_deg;
    if (!deck_is_drawing(leg->deck))
        return false;
    voyage_spar_range(plan->boat, deck_mode(leg->deck), &low_deg, &high_deg);
    if (limits_is_by_the_lee(leg))
        low_deg = lee_awa_deg(leg);
    else if (high_deg < 180.0 && awa_deg > high_deg - LIMITS_AT_DEG)
        return true;
    return awa_deg < low_deg + LIMITS_AT_DEG;
}

/* AWA furthest by the lee on some legs; unknown where there are none. */
struct by_the_lee {
    struct figure least_deg, most_deg;
};

static void add_by_the_lee(struct by_the_lee *lee, const struct plan_leg *leg) {
    double awa_deg = lee_awa_deg(leg);
    if (!lee->least_deg.known || awa_deg < lee->least_deg.value)
        lee->least_deg = figure_of(awa_deg);
    lee->most_deg = figure_max(lee->most_deg, figure_of(awa_deg));
}

/* " (AWA 175 deg)", " (AWA 172 to 175 deg)", "" where not known. */
static const char *lee_words(struct arena *arena,
                             const struct by_the_lee *lee) {
    double least_deg = round(lee->least_deg.value);
    double most_deg = round(lee->most_deg.value);
    if (!lee->most_deg.known)
        return "";
    if (least_deg < most_deg)
        return arena_print(arena, " (AWA %.0f to %.0f deg)", least_deg,
                           most_deg);
    return arena_print(arena, " (AWA %.0f deg)", most_deg);
}

/* For the wind on that side. */
static const char *angles(struct arena *arena, const struct plan *plan,
                          struct deck deck, const struct by_the_lee *lee) {
    const char *wind = words_side(deck.wind_starboard);
    const char *boom = words_side(!deck.wind_starboard);
    double low_deg, high_deg;
    voyage_spar_range(plan->boat, deck_mode(deck), &low_deg, &high_deg);
    bool past = lee->least_deg.known ? lee->least_deg.value <= high_deg
                                     : LIMITS_LEE_TWA_DEG <= high_deg;
    if (high_deg < 180.0)
        return arena_print(
            arena,
            "AWA between %.0f and %.0f deg on the %s side%s, "
            "boom to %s",
            low_deg, high_deg, wind,
            past ? ", or by the lee within it, to TWA 177 deg" : "", boom);
    return arena_print(arena,
                       "AWA %.0f deg on the %s side, through dead aft, to TWA "
                       "%.0f deg%s on the %s side, boom to %s",
                       low_deg, wind, LIMITS_LEE_TWA_DEG, lee_words(arena, lee),
                       boom, boom);
}

const char *limits_angles(struct arena *arena, const struct plan *plan,
                          const struct plan_leg *leg) {
    struct by_the_lee lee = {.least_deg = figure_unknown()};
    add_by_the_lee(&lee, leg);
    return angles(arena, plan, leg->deck, &lee);
}

/* A way to carry the headsail, and what the legs sailed so have in common. */
struct carried {
    enum sail_mode mode;
    struct leg_names legs; /* none where it is only for a while */
    struct figure least_aws_mps, most_aws_mps; /* in the strongest wind */
    /* With the wind to port, to starboard: */
    bool used[2];
    struct deck deck[2];
    struct leg_names side_legs[2];
    struct by_the_lee lee[2];
};

static void use_deck(struct carried *carried, struct deck deck) {
    carried->used[deck.wind_starboard] = true;
    carried->deck[deck.wind_starboard] = deck;
}

static struct carried carried_as(struct arena *arena, enum sail_mode mode,
                                 const struct plan *plan,
                                 const struct waypoints *waypoints) {
    struct carried carried = {.mode = mode};
    for (size_t i = 0; i < plan->change_count; i++)
        if (deck_mode(plan->changes[i].to) == mode)
            use_deck(&carried, plan->changes[i].to);
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (!point->starts_leg || point->leg->mode != mode)
            continue;
        struct figure aws = point->leg->most_aws_mps;
        bool side = point->leg->deck.wind_starboard;
        leg_names_add(&carried.legs, point, arena);
        use_deck(&carried, point->leg->deck);
        leg_names_add(&carried.side_legs[side], point, arena);
        add_by_the_lee(&carried.lee[side], point->leg);
        carried.most_aws_mps = figure_max(carried.most_aws_mps, aws);
        if (aws.known && (!carried.least_aws_mps.known ||
                          aws.value < carried.least_aws_mps.value))
            carried.least_aws_mps = aws;
    }
    return carried;
}

/* " (14 kn apparent)", " (14 to 16 kn apparent)", "" where not known. */
static const char *apparent_of(struct arena *arena,
                               const struct carried *carried) {
    double least_kn = round(mps_to_kn(carried->least_aws_mps.value));
    double most_kn = round(mps_to_kn(carried->most_aws_mps.value));
    if (!carried->most_aws_mps.known)
        return "";
    if (least_kn < most_kn)
        return arena_print(arena, " (%.0f to %.0f kn apparent)", least_kn,
                           most_kn);
    return arena_print(arena, " (%.0f kn apparent)", most_kn);
}

/* For each side that the wind is on, its legs named where there are two. */
static void write_angles(struct arena *arena, const struct plan *plan,
                         const struct carried *carried, FILE *stream) {
    bool both = carried->used[0] && carried->used[1];
    for (int side = 0; side < 2; side++) {
        const char *legs = leg_names_text(&carried->side_legs[side], arena);
        if (carried->used[side])
            sheet_entry(
                stream, "Keep", "%s%s%s",
                both && *legs ? arena_print(arena, "%s: ", legs) : "",
                both && !*legs && carried->legs.first ? "for a while: " : "",
                angles(arena, plan, carried->deck[side], &carried->lee[side]));
    }
}

static void write_carried(struct arena *arena, const struct plan *plan,
                          const struct carried *carried, FILE *stream) {
    const struct spar *spar = &plan->boat->spar;
    bool wing = carried->mode == MODE_WING;
    sheet_entry(stream, wing ? "Wing" : "Reach", "%s: %s",
                wing ? "wing-and-wing" : "poled reach",
                carried->legs.first ? leg_names_text(&carried->legs, arena)
                                    : "for a while only");
    write_angles(arena, plan, carried, stream);
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
        struct carried carried = carried_as(&arena, modes[i], plan, waypoints);
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
        return (struct advice){
            "hold the course before, or tack, with clear water ahead by the "
            "chart",
            "hold the course before, with clear water ahead by the chart, and "
            "plan again"};
    case CHANGE_TACK:
    case CHANGE_ROLL:
    case CHANGE_UNROLL:
    case CHANGE_KINDS:
        break;
    }
    return (struct advice){"wait", "stay as you are and plan again"};
}

/* "true wind to 18 kn (13 kn apparent), gust to 22 kn, ...". */
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

/* What speaks against it in the forecast or the light, and is excused. */
static void write_beware(struct arena *arena, const struct plan *plan,
                         const struct plan_change *change, FILE *stream) {
    const char *lit = room_lit(arena, plan, change);
    const char *dark = due_dark(plan, change);
    bool rough = !dark || due_is_too_rough(plan, change);
    if (!change->outside_limits)
        return;
    sheet_entry(stream, "BEWARE", "%s%s%s%s%s%s", dark ? dark : "",
                dark && rough ? "; " : "",
                rough ? "the forecast is above these limits" : "",
                change->kind == CHANGE_MAINSAIL_GYBE
                    ? ", and the course turns there: nobody goes forward until "
                      "it eases"
                    : ", and it has to be done all the same: headsail rolled "
                      "away first, no hurry",
                lit ? "; " : "", lit ? lit : "");
}

/* " by Fri 15 Mar 14:30 UTC": the end of its margin; "" where that is not
 * known. */
static const char *by_latest(struct arena *arena, const struct plan *plan,
                             const struct plan_change *change) {
    char text[SHARP_TEXT_SIZE];
    if (!change->latest_known)
        return "";
    clock_print_latest(plan, change->at, change->latest, text);
    return arena_print(arena, " by %s", text);
}

static void write_else(struct arena *arena, const struct plan *plan,
                       const struct plan_change *change, const char *missed,
                       FILE *stream) {
    const char *missing = due_missing(change);
    const char *by = by_latest(arena, plan, change);
    if (!missing)
        sheet_entry(stream, "Else", "if it is not done: %s", missed);
    else if (change->kind == CHANGE_STOW)
        sheet_entry(stream, "Else",
                    "if %s%s: stay as you are and plan again; if it is not "
                    "done: %s",
                    missing, by, missed);
    else
        sheet_entry(stream, "Else", "if %s%s, or it is not done: %s", missing,
                    by, missed);
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
    write_beware(&arena, plan, change, stream);
    write_else(&arena, plan, change, advice.missed, stream);
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

void limits_write_key(const struct plan *plan, FILE *stream) {
    size_t i = 0;
    while (i < plan->change_count && !due_missing(&plan->changes[i]))
        i++;
    if (i < plan->change_count)
        sheet_paragraph(stream, 0, 2,
                        "sign: what the boat shows on the course before when "
                        "it is due; if that does not come by the end of its "
                        "span: stay as you are and plan again.");
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
