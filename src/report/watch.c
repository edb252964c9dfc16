#include "report/watch.h"

#include "base/units.h"
#include "report/call.h"
#include "report/clock.h"
#include "report/compass.h"
#include "report/daylight.h"
#include "report/due.h"
#include "report/engine_report.h"
#include "report/light.h"
#include "report/limits.h"
#include "report/room.h"
#include "report/sheet.h"
#include "report/spare.h"
#include "report/watches.h"
#include "report/words.h"
#include <math.h>

/* --- head ------------------------------------------------------------------
 */

static bool is_before(struct instant a, struct instant b) {
    return a.unix_s < b.unix_s;
}

static void write_forecast(const struct plan *plan, FILE *stream) {
    char run[SHARP_TEXT_SIZE], good[SHARP_TEXT_SIZE], fair[SHARP_TEXT_SIZE];
    char end[SHARP_TEXT_SIZE];
    double age_h = s_to_hours(instant_minus(plan->depart, plan->forecast_run));
    sharp_print_exact(plan->forecast_run, run);
    clock_print_exact(plan, plan->good_until, good);
    clock_print_exact(plan, plan->fair_until, fair);
    clock_print_exact(plan, plan->forecast_end, end);
    if (age_h >= 0.0)
        sheet_entry(stream, "Forecast",
                    "run of %s UTC, %.0f h old at departure", run, age_h);
    else
        sheet_entry(stream, "Forecast", "run of %s UTC, %.0f h after departure",
                    run, -age_h);
    if (is_before(plan->fair_until, plan->forecast_end))
        sheet_entry(stream, "Believe it",
                    "good to %s, fair to %s, a guess after that; its "
                    "wind ends %s",
                    good, fair, end);
    else if (is_before(plan->good_until, plan->forecast_end))
        sheet_entry(stream, "Believe it",
                    "good to %s, fair to its end %s, a guess after "
                    "that",
                    good, end);
    else
        sheet_entry(stream, "Believe it",
                    "good to its end %s, a guess after that", end);
}

static void write_coast(const struct plan *plan, FILE *stream) {
    const struct plan_coast *coast = &plan->coast;
    if (!coast->name)
        sheet_entry(stream, "Coast", "NO LAND CHECK: %s",
                    coast->switched_off ? "it is switched off"
                                        : "no shorelines are installed");
    else if (plan->timed_only)
        sheet_entry(stream, "Coast",
                    "%s; what comes nearer than %.1f nmi is under WARNINGS",
                    coast->name, m_to_nmi(coast->clearance_m));
    else
        sheet_entry(
            stream, "Coast",
            "%s: at least %.1f nmi off, but not within %.1f nmi of start "
            "and finish",
            coast->name, m_to_nmi(coast->clearance_m),
            m_to_nmi(coast->approach_m));
}

/* A start or finish on land. */
static void write_berths(const struct plan *plan, FILE *stream) {
    const struct plan_coast *coast = &plan->coast;
    if (coast->start_moved_m > 0.0)
        sheet_entry(stream, "Berth",
                    "the start is on land: the plan begins in the sea, %.2f "
                    "nmi from it",
                    m_to_nmi(coast->start_moved_m));
    if (coast->finish_moved_m > 0.0)
        sheet_entry(stream, "Berth",
                    "the finish is on land: the plan ends in the sea, %.2f nmi "
                    "from it",
                    m_to_nmi(coast->finish_moved_m));
}

static void write_arrival(const struct plan *plan, FILE *stream) {
    char at[SHARP_TEXT_SIZE];
    clock_print(plan, plan->summary.arrive, at);
    if (plan->summary.reached)
        sheet_entry(stream, "Arrive", "%s, %s", at, daylight_on_arrival(plan));
    else
        sheet_entry(stream, "Arrive",
                    "not known: the forecast ends on the "
                    "way, %s",
                    at);
}

static void write_kind(const struct plan *plan, FILE *stream) {
    char zone[CLOCK_ZONE_SIZE], text[4 * SHARP_TEXT_SIZE];
    clock_zone(plan, zone);
    bool ships = plan->display.zone_s < 0.0 || plan->display.zone_s > 0.0;
    snprintf(text, sizeof text,
             "%s All times are %s%s, all directions true%s; wind is the true "
             "wind over the water but where it says apparent.",
             plan->timed_only
                 ? "A track of your own, timed through the forecast."
                 : "A plan for the passage.",
             ships ? "ship's time, " : "", zone,
             plan->display.magnetic ? " but where it says magnetic" : "");
    sheet_paragraph(stream, 0, 0, text);
}

void watch_write_head(const struct plan *plan, FILE *stream) {
    char from[POSITION_TEXT_SIZE], to[POSITION_TEXT_SIZE];
    char depart[SHARP_TEXT_SIZE];
    position_print(plan->from, from);
    position_print(plan->to, to);
    clock_print_exact(plan, plan->depart, depart);
    sheet_paragraph(stream, 0, SHEET_LABEL, plan->name);
    write_kind(plan, stream);
    fputc('\n', stream);
    sheet_entry(stream, "Boat", "%s", plan->boat_name);
    sheet_entry(stream, "From", "%s", from);
    sheet_entry(stream, "To", "%s", to);
    sheet_entry(stream, "Depart", "%s", depart);
    write_arrival(plan, stream);
    spare_write_head(plan, stream);
    write_forecast(plan, stream);
    write_coast(plan, stream);
    write_berths(plan, stream);
}

/* --- rig and course at departure --------------------------------------------
 */

static const double BEAM_DEG = 90.0;

/* How the boat is rigged before anything is done. */
static struct deck deck_before(const struct plan *plan) {
    if (plan->change_count > 0 && plan->changes[0].leg == 0 &&
        plan->changes[0].at.unix_s == plan->depart.unix_s)
        return plan->changes[0].from;
    return plan->legs[0].deck;
}

/* "; preventer on": with the wind aft of the beam and with the spar out (common
 * practice, no source). */
static const char *preventer_of(struct deck deck, const struct plan_leg *leg) {
    bool on = deck.spar != SPAR_STOWED || fabs(leg->awa_deg) >= BEAM_DEG;
    return on ? "; preventer on" : "";
}

/* "; whole mainsail", "; mainsail with reef 1"; "" without reefs in the boat
 * file. */
static const char *mainsail_of(struct arena *arena, const struct plan *plan,
                               const struct plan_leg *leg) {
    if (plan->boat->reef_count == 0)
        return "";
    if (leg->reefs == 0)
        return "; whole mainsail";
    return arena_print(arena, "; mainsail with reef %d", leg->reefs);
}

static void write_rig(struct arena *arena, const struct plan *plan,
                      FILE *stream) {
    const struct plan_leg *leg = &plan->legs[0];
    struct deck before = deck_before(plan);
    const char *rig = words_rig(arena, leg->deck);
    const char *preventer = preventer_of(leg->deck, leg);
    const char *mainsail = mainsail_of(arena, plan, leg);
    if (deck_index(before) == deck_index(leg->deck)) {
        sheet_entry(stream, "Rig", "%s%s%s", rig, preventer, mainsail);
        return;
    }
    sheet_entry(stream, "Rig now", "%s", words_rig(arena, before));
    sheet_entry(stream, "Rig then", "%s%s%s", rig, preventer, mainsail);
}

/* What ends the first leg. */
static const char *until(struct arena *arena, const struct plan *plan) {
    char at[SHARP_TEXT_SIZE];
    const char *end = plan->summary.reached ? "the finish, " : "it ends, ";
    clock_print_moment(plan, plan->legs[0].end, at);
    return arena_print(arena, "until %s%s", plan->leg_count > 1 ? "" : end, at);
}

static void write_course(struct arena *arena, const struct plan *plan,
                         const struct plan_leg *leg, FILE *stream) {
    int course = words_degrees(leg->course_deg);
    const char *good = "";
    if (plan->summary.elapsed_s <= 0.0) {
        sheet_entry(stream, "Steer", "nothing: she lies there, her head %s",
                    compass_steer(arena, plan, leg));
        return;
    }
    if (words_degrees(leg->heading_deg) != course)
        good = arena_print(arena, ", to make good %03d deg true in the current",
                           course);
    sheet_entry(stream, "Steer", "%s%s, %s", compass_steer(arena, plan, leg),
                good, until(arena, plan));
    const char *variation = compass_words(arena, plan, leg);
    if (variation)
        sheet_entry(stream, "Compass", "%s", variation);
    if (leg->current_known)
        sheet_entry(stream, "Current", "%.1f kn, setting towards %03d deg",
                    mps_to_kn(leg->current_mps),
                    words_degrees(leg->current_towards_deg));
    sheet_entry(stream, "Speed",
                "%.1f kn through the water, %.1f kn over the ground",
                mps_to_kn(leg->stw_mps), mps_to_kn(leg->sog_mps));
}

static void write_wind(struct arena *arena, const struct plan *plan,
                       const struct plan_leg *leg, FILE *stream) {
    sheet_entry(stream, "Wind", "from %03d deg, %.0f kn, %s",
                words_degrees(leg->twd_deg), mps_to_kn(leg->tws_mps),
                words_gust(arena, leg->gust_mps, leg->gust_estimated));
    sheet_entry(stream, "Apparent", "AWA %.0f deg on the %s side%s, %.0f kn",
                fabs(leg->awa_deg), words_side(leg->awa_deg >= 0.0),
                limits_is_by_the_lee(leg) ? ", by the lee" : "",
                mps_to_kn(leg->aws_mps));
    if (deck_is_drawing(leg->deck))
        sheet_entry(stream, "Keep", "%s%s", limits_angles(arena, plan, leg),
                    limits_is_at_limit(plan, leg) ? "; AT THE LIMIT" : "");
}

static const char *sea_of(struct arena *arena, const struct plan_leg *leg) {
    const char *period = "", *from = "", *source = "";
    if (!leg->wave_m.known)
        return "not known";
    if (leg->wave_period_s.known)
        period = arena_print(arena, ", %.0f s", leg->wave_period_s.value);
    if (leg->wave_from_deg.known)
        from = arena_print(arena, ", from %03d deg",
                           words_degrees(leg->wave_from_deg.value));
    if (leg->wave_estimated)
        source = ", estimated from the wind";
    return arena_print(arena, "up to %.1f m%s%s%s", leg->wave_m.value, period,
                       from, source);
}

void watch_write_departure(const struct plan *plan, const struct nights *nights,
                           FILE *stream) {
    struct arena arena;
    char text[SHARP_TEXT_SIZE];
    const struct plan_leg *leg = &plan->legs[0];
    arena_init(&arena);
    clock_print_exact(plan, leg->start, text);
    sheet_heading(stream, "AT DEPARTURE  %s", text);
    write_rig(&arena, plan, stream);
    engine_report_departure(plan, stream);
    write_course(&arena, plan, leg, stream);
    spare_write_leg(leg, stream);
    write_wind(&arena, plan, leg, stream);
    sheet_entry(stream, "Sea", "%s, roll %s", sea_of(&arena, leg),
                words_roll_seen(&arena, leg->roll_deg));
    const char *night = nights_first(&arena, plan, nights);
    if (night)
        sheet_entry(stream, "Night", "%s", night);
    watches_write_departure(plan, stream);
    call_write_departure(plan, stream);
    arena_free(&arena);
}

/* --- next on deck ------------------------------------------------------------
 */

static void write_room(struct arena *arena, const struct plan *plan,
                       const struct plan_change *change, FILE *stream) {
    const char *between = room_between(arena, plan, change);
    const char *surely = room_surely(arena, plan, change);
    const char *skip = room_skip(arena, change);
    if (between)
        sheet_entry(stream, "Room", "%s", between);
    if (surely)
        sheet_entry(stream, "Clock", "%s", surely);
    if (skip)
        sheet_entry(stream, "Skip", "%s", skip);
}

static void write_when(struct arena *arena, const struct plan *plan,
                       const struct plan_change *change, FILE *stream) {
    char at[SHARP_TEXT_SIZE], position[POSITION_TEXT_SIZE];
    clock_print_change(plan, change, at);
    position_print(change->position, position);
    sheet_entry(stream, "When", "%s, %s; takes %s", at,
                light_at(arena, plan, change),
                words_duration(arena, change->seconds));
    write_room(arena, plan, change, stream);
    const char *due = due_when(arena, change);
    if (due)
        sheet_entry(stream, "Sign", "%s", due);
    sheet_entry(stream, "Where", "%s%s", position,
                words_lee(arena, ", ", change->lee_m));
    if (change->why)
        sheet_entry(stream, "Why", "%s", change->why);
}

static void write_expected(struct arena *arena,
                           const struct plan_change *change, FILE *stream) {
    const char *sea = "not known";
    if (change->wave_m.known)
        sea = arena_print(arena, "%.1f m", change->wave_m.value);
    sheet_entry(stream, "Expect",
                "true wind %s from %03d deg, %s, sea %s, roll %s; trust: %s",
                words_true_wind(arena, change->tws_mps, change->aws_mps),
                words_degrees(change->twd_deg),
                words_gust(arena, change->gust_mps, change->gust_estimated),
                sea, words_roll(arena, change->roll_deg),
                words_trust(change->trust));
    if (change->pole_length_m.known && change->headsail)
        sheet_entry(stream, "Length", "spar at %.1f m for the %s",
                    change->pole_length_m.value, change->headsail);
}

static void write_then(struct arena *arena, const struct plan *plan,
                       const struct waypoints *waypoints,
                       const struct plan_change *change, FILE *stream) {
    char at[SHARP_TEXT_SIZE];
    clock_print_change(plan, change, at);
    sheet_entry(stream, "After that", "%s, %s: %s, %s%s",
                waypoint_name(waypoints, change),
                words_order(arena, change->kind, change->to), at,
                light_at(arena, plan, change), words_guess(plan, change->at));
}

/* The boom comes over, by the crew in the cockpit. */
static bool is_boom_over(const struct plan_change *change) {
    return !change->deck_work && (change->kind == CHANGE_MAINSAIL_GYBE ||
                                  change->kind == CHANGE_TACK);
}

/* Before anybody goes forward. */
static void write_before(struct arena *arena, const struct plan *plan,
                         const struct plan_change *next, FILE *stream) {
    const struct plan_change *first = NULL;
    char at[SHARP_TEXT_SIZE];
    int more = 0;
    for (const struct plan_change *change = plan->changes; change < next;
         change++) {
        if (!is_boom_over(change))
            continue;
        more += first != NULL;
        first = first ? first : change;
    }
    if (!first)
        return;
    clock_print_change(plan, first, at);
    sheet_entry(stream, "Before it", "%s: %s%s",
                words_order(arena, first->kind, first->to), at,
                more > 0 ? arena_print(arena, ", and %d more", more) : "");
}

static const struct plan_change *work_from(const struct plan *plan,
                                           size_t *index) {
    while (*index < plan->change_count) {
        const struct plan_change *change = &plan->changes[(*index)++];
        if (change->deck_work)
            return change;
    }
    return NULL;
}

void watch_write_next(const struct plan *plan,
                      const struct waypoints *waypoints, FILE *stream) {
    struct arena arena;
    size_t index = 0;
    const struct plan_change *next = work_from(plan, &index);
    arena_init(&arena);
    if (!next) {
        sheet_heading(stream, "NEXT ON DECK  nothing: nobody goes forward");
        write_before(&arena, plan, plan->changes + plan->change_count, stream);
        arena_free(&arena);
        return;
    }
    const struct plan_change *after = work_from(plan, &index);
    sheet_heading(stream, "NEXT ON DECK  %s, %s",
                  waypoint_name(waypoints, next),
                  words_order(&arena, next->kind, next->to));
    write_before(&arena, plan, next, stream);
    write_when(&arena, plan, next, stream);
    watches_write_hands(plan, next, stream);
    write_expected(&arena, next, stream);
    limits_write_go(plan, next, stream);
    if (after)
        write_then(&arena, plan, waypoints, after, stream);
    arena_free(&arena);
}
