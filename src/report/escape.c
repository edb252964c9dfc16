#include "report/escape.h"

#include "base/text.h"
#include "base/units.h"
#include "plan/broken.h"
#include "plan/fallback.h"
#include "report/clock.h"
#include "report/leg_names.h"
#include "report/sheet.h"
#include "report/words.h"

#include <math.h>

/* --- the spar --------------------------------------------------------------
 */

/* Where that and the plan's own lie less apart than is told: "arrive Wed 18 Mar
 * 22:00 UTC, as planned within 15 min". */
static const char *same_text(struct arena *arena, const struct plan *plan,
                             double sharp_s) {
    char at[SHARP_TEXT_SIZE];
    bool hours = sharp_s >= SECONDS_PER_HOUR;
    clock_print(plan, plan->summary.arrive, at);
    return arena_print(arena, "arrive %s%s, as planned within %.0f %s", at,
                       words_guess(plan, plan->summary.arrive),
                       hours ? s_to_hours(sharp_s)
                             : sharp_s / SECONDS_PER_MINUTE,
                       hours ? "h" : "min");
}

/* What a time is rounded to; an hour where that is a watch: of two arrivals in
 * the same forecast the difference is known better than either. */
static double sharpness_s(const struct plan *plan, struct instant at) {
    struct instant early, late;
    clock_window(plan, at, &early, &late);
    return fmin(instant_minus(late, early), SECONDS_PER_HOUR);
}

/* Longer ones are not known to minutes. */
static const double HOURS_S = 10.0 * SECONDS_PER_HOUR;

static const char *delay_text(struct arena *arena, double delay_s) {
    if (delay_s < HOURS_S)
        return words_duration(arena, delay_s);
    return arena_print(arena, "%.0f h", s_to_hours(delay_s));
}

/* The name of the point where a leg starts. */
static const char *leg_name(const struct plan *plan,
                            const struct waypoints *waypoints, size_t leg) {
    for (size_t i = 0; i < waypoints->count; i++)
        if (waypoints->items[i].starts_leg &&
            waypoints->items[i].leg == &plan->legs[leg])
            return waypoints->items[i].name;
    return "?";
}

/* "on this track the wind would head her or fail on the leg from W016: plan
 * again". */
static const char *no_rest_text(struct arena *arena, const struct plan *plan,
                                const struct waypoints *waypoints,
                                const struct plan_heading *broken) {
    const char *from = leg_name(plan, waypoints, broken->leg);
    if (broken->why == OBSTACLE_NONE)
        return "not known";
    if (broken->why == OBSTACLE_NO_SPEED)
        return arena_print(arena,
                           "on this track the wind would head her or fail on "
                           "the leg from %s: plan again",
                           from);
    return arena_print(arena,
                       "on this track she would be stopped by %s on the leg "
                       "from %s: plan again",
                       obstacle_name(broken->why), from);
}

/* "arrive Wed 18 Mar 22:00 UTC, 9 h 10 min later". */
static const char *broken_text(struct arena *arena, const struct plan *plan,
                               const struct waypoints *waypoints,
                               const struct plan_leg *leg) {
    char at[SHARP_TEXT_SIZE];
    const char *beats = "";
    if (!leg->broken_s.known)
        return no_rest_text(arena, plan, waypoints, &leg->broken);
    if (leg->broken.headed)
        beats = arena_print(arena, "; the wind heads her from %s on: she beats",
                            leg_name(plan, waypoints, leg->broken.leg));
    double later_s = leg->broken_s.value - plan->summary.elapsed_s;
    struct instant arrive = instant_plus(plan->depart, leg->broken_s.value);
    double sharp_s = sharpness_s(plan, arrive);
    if (fabs(later_s) < sharp_s)
        return arena_print(arena, "%s%s", same_text(arena, plan, sharp_s),
                           beats);
    clock_print(plan, arrive, at);
    return arena_print(arena, "arrive %s%s, %s %s%s", at,
                       words_guess(plan, arrive),
                       delay_text(arena, fabs(later_s)),
                       later_s > 0.0 ? "later" : "sooner", beats);
}

/* A plan of its own without the spar is another way out. */
static const char *planned_text(struct arena *arena, const struct plan *plan) {
    struct figure without_s = plan->summary.elapsed_without_spar_s;
    const struct plan_leg *leg = &plan->legs[0];
    bool of_use = !leg->broken_s.known || leg->broken.headed;
    if (!of_use || !without_s.known)
        return "";
    return arena_print(
        arena, "; planned without the spar from departure: %s%s",
        words_duration(arena, without_s.value),
        words_guess(plan, instant_plus(plan->depart, without_s.value)));
}

/* Does it matter anywhere? A plan that is not reached has no such figures. */
static bool is_told(const struct plan *plan) {
    return plan->summary.reached && plan->summary.spar_s > 0.0;
}

static void write_names(struct arena *arena, const struct leg_names *names,
                        const char *text, FILE *stream) {
    sheet_item(
        stream, "-",
        arena_print(arena, "%s: %s", leg_names_text(names, arena), text));
}

/* Legs that follow each other with the same words share a line. */
static void write_broken(struct arena *arena, const struct plan *plan,
                         const struct waypoints *waypoints, FILE *stream) {
    struct leg_names names = {.text = NULL};
    const char *last = "";
    sheet_heading(stream, "IF THE SPAR BREAKS  where a leg starts; the track "
                          "is kept");
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (!point->starts_leg || (i > 0 && plan->leg_count > BROKEN_LEGS))
            continue;
        const char *text = broken_text(arena, plan, waypoints, point->leg);
        bool goes_on = text_same(text, last);
        if (names.first && !goes_on) {
            write_names(arena, &names, last, stream);
            names = (struct leg_names){.text = NULL};
        }
        leg_names_add(&names, point, arena);
        last = text;
    }
    write_names(arena, &names, last, stream);
}

/* --- ports -----------------------------------------------------------------
 */

/* "140 nmi, 22 h 10 min (a guess), wind 118 deg off the bow on the port side".
 */
static const char *refuge_text(struct arena *arena,
                               const struct plan_refuge *refuge) {
    double off_deg = fabs(refuge->off_bow_deg);
    if (!refuge->known && refuge->why == OBSTACLE_NONE)
        return arena_print(arena, "no way of less than %.0f days",
                           s_to_hours(FALLBACK_MOST_S) / 24.0);
    if (!refuge->known)
        return arena_print(arena, "no way was found, stopped by %s",
                           obstacle_name(refuge->why));
    return arena_print(
        arena, "%.0f nmi, %s%s, wind %.0f deg off the bow on the %s side",
        m_to_nmi(refuge->distance_m), words_duration(arena, refuge->seconds),
        refuge->guess ? " (a guess)" : "", off_deg,
        words_side(refuge->off_bow_deg >= 0.0));
}

/* "last turn-off Sat 16 Mar 04:00 UTC". "Never" only where every look came to
 * an end. It is a guess with the arrival at either, port or finish. */
static const char *turn_off_text(struct arena *arena, const struct plan *plan,
                                 const struct plan_port *port) {
    char at[SHARP_TEXT_SIZE];
    if (!port->turn_off_known && port->turn_off_why != OBSTACLE_NONE)
        return arena_print(arena,
                           "last turn-off not known, a look was stopped by %s",
                           obstacle_name(port->turn_off_why));
    if (!port->turn_off_known)
        return plan->summary.reached && port->from_leg[0].known
                   ? "never sooner than the finish but to windward"
                   : "last turn-off not known";
    clock_print(plan, port->turn_off.at, at);
    const char *guess = "";
    if (port->from_turn_off.guess)
        guess = " (a guess: the arrival there is one)";
    else if (*words_guess(plan, plan->summary.arrive))
        guess = " (a guess: the arrival at the finish is one)";
    return arena_print(arena, "last turn-off %s%s", at, guess);
}

/* The port that is reached soonest from where a leg starts, or NULL. */
static const struct plan_port *soonest(const struct plan *plan, size_t leg) {
    const struct plan_port *best = NULL;
    for (size_t i = 0; i < plan->port_count; i++) {
        const struct plan_port *port = &plan->ports[i];
        if (!port->from_leg[leg].known)
            continue;
        if (!best || port->from_leg[leg].seconds < best->from_leg[leg].seconds)
            best = port;
    }
    return best;
}

static void write_port(struct arena *arena, const struct plan *plan,
                       const struct plan_port *port, FILE *stream) {
    char place[POSITION_TEXT_SIZE], where[POSITION_TEXT_SIZE];
    const char *more = "", *moved = "";
    position_print(port->position, place);
    if (port->moved_m > 0.0)
        moved = arena_print(arena, ", in the sea %.2f nmi from the place given",
                            m_to_nmi(port->moved_m));
    if (port->outside) {
        sheet_item(stream, "-",
                   arena_print(arena,
                               "%s, %s%s: outside the forecast's area: neither "
                               "the way nor the last turn-off is known",
                               port->name, place, moved));
        return;
    }
    position_print(port->turn_off.position, where);
    if (port->turn_off_known)
        more = arena_print(arena, ", at %s: %s; the finish is then %s off",
                           where, refuge_text(arena, &port->from_turn_off),
                           words_duration(arena, fmax(port->left_s, 0.0)));
    sheet_item(stream, "-",
               arena_print(arena, "%s, %s%s: from departure %s; %s%s",
                           port->name, place, moved,
                           refuge_text(arena, &port->from_leg[0]),
                           turn_off_text(arena, plan, port), more));
}

/* Rows are that near to each other where legs are: none is left out before a
 * longer time without one. */
static const double ROWS_S = 6.0 * SECONDS_PER_HOUR;

/* When the next leg after a point starts, or the plan ends. */
static struct instant next_start(const struct waypoints *waypoints,
                                 size_t index) {
    size_t next = index + 1;
    while (next + 1 < waypoints->count && !waypoints->items[next].starts_leg)
        next++;
    return waypoints->items[next].at;
}

/* Is there one to run to, before the finish is nearer? */
static const struct plan_port *worth_telling(const struct plan *plan,
                                             size_t leg) {
    const struct plan_port *port = soonest(plan, leg);
    double left_s = instant_minus(plan->summary.arrive, plan->legs[leg].start);
    bool sooner = port && port->from_leg[leg].seconds < left_s;
    return sooner || !plan->summary.reached ? port : NULL;
}

static void write_soonest(struct arena *arena, const struct plan *plan,
                          const struct waypoints *waypoints, FILE *stream) {
    struct instant told = {plan->depart.unix_s - (int64_t)ROWS_S};
    const char *heading =
        plan->summary.reached
            ? "Soonest of them, while it is sooner than the finish:"
            : "Soonest of them from where a leg starts:";
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (!point->starts_leg ||
            (instant_minus(point->at, told) < ROWS_S &&
             instant_minus(next_start(waypoints, i), told) <= ROWS_S))
            continue;
        size_t leg = (size_t)(point->leg - plan->legs);
        const struct plan_port *port = worth_telling(plan, leg);
        if (!port)
            continue;
        if (heading)
            sheet_paragraph(stream, 2, 0, heading);
        heading = NULL; /* once, and not over nothing */
        told = point->at;
        sheet_entry(stream, point->name, "%s, %s", port->name,
                    refuge_text(arena, &port->from_leg[leg]));
    }
}

static void write_ports(struct arena *arena, const struct plan *plan,
                        const struct waypoints *waypoints, FILE *stream) {
    sheet_heading(stream, "FALLBACK      spar stowed, engine not counted");
    for (size_t i = 0; i < plan->port_count; i++)
        write_port(arena, plan, &plan->ports[i], stream);
    if (plan->leg_count > 1)
        write_soonest(arena, plan, waypoints, stream);
    if (plan->summary.reached)
        sheet_paragraph(stream, 2, 0,
                        "Last turn-off: the last moment from which the port is "
                        "reached sooner than the finish, the wind not forward "
                        "of 60 deg.");
}

/* --- what is written -------------------------------------------------------
 */

static void write_fallback(struct arena *arena, const struct plan *plan,
                           FILE *stream) {
    const struct plan_port *port = soonest(plan, 0);
    if (port)
        sheet_entry(stream, "Fallback", "at departure %s, %s; %s", port->name,
                    refuge_text(arena, &port->from_leg[0]),
                    turn_off_text(arena, plan, port));
    else if (plan->port_count > 0)
        sheet_entry(stream, "Fallback",
                    "at departure no way to any is known: see FALLBACK below");
}

void escape_write_departure(const struct plan *plan, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    struct waypoints waypoints = waypoints_of(plan, &arena);
    if (is_told(plan))
        sheet_entry(stream, "Spar breaks", "at departure: %s%s",
                    broken_text(&arena, plan, &waypoints, &plan->legs[0]),
                    planned_text(&arena, plan));
    write_fallback(&arena, plan, stream);
    arena_free(&arena);
}

void escape_write(const struct plan *plan, const struct waypoints *waypoints,
                  FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    if (is_told(plan))
        write_broken(&arena, plan, waypoints, stream);
    if (plan->port_count > 0)
        write_ports(&arena, plan, waypoints, stream);
    arena_free(&arena);
}
