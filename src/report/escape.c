#include "report/escape.h"

#include "base/text.h"
#include "base/units.h"
#include "plan/broken.h"
#include "report/clock.h"
#include "report/sheet.h"
#include "report/words.h"

#include <math.h>

/* --- the spar --------------------------------------------------------------
 */

/* Nobody cares for less. */
static const double SAME_TIME_S = SECONDS_PER_MINUTE;

/* Longer ones are not known to minutes. */
static const double HOURS_S = 10.0 * SECONDS_PER_HOUR;

static const char *delay_text(struct arena *arena, double delay_s) {
    if (delay_s < HOURS_S)
        return words_duration(arena, delay_s);
    return arena_print(arena, "%.0f h", s_to_hours(delay_s));
}

/* "arrive Wed 18 Mar 22:00 UTC, 9 h 10 min later". */
static const char *broken_text(struct arena *arena, const struct plan *plan,
                               struct figure broken_s) {
    char at[SHARP_TEXT_SIZE];
    if (!broken_s.known)
        return "not known: this track can't be sailed without it";
    double later_s = broken_s.value - plan->summary.elapsed_s;
    clock_print(plan, instant_plus(plan->depart, broken_s.value), at);
    if (fabs(later_s) < SAME_TIME_S)
        return arena_print(arena, "arrive %s, as planned", at);
    return arena_print(arena, "arrive %s, %s %s", at,
                       delay_text(arena, fabs(later_s)),
                       later_s > 0.0 ? "later" : "sooner");
}

/* Does it matter anywhere? A plan that is not reached has no such figures. */
static bool is_told(const struct plan *plan) {
    return plan->summary.reached && plan->summary.spar_s > 0.0;
}

/* Legs that follow each other with the same words share a line. */
static void write_broken(struct arena *arena, const struct plan *plan,
                         const struct waypoints *waypoints, FILE *stream) {
    const char *names = "", *last = "";
    sheet_heading(stream, "IF THE SPAR BREAKS  where a leg starts; the track "
                          "is kept");
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (!point->starts_leg || (i > 0 && plan->leg_count > BROKEN_LEGS))
            continue;
        const char *text = broken_text(arena, plan, point->leg->broken_s);
        bool goes_on = text_same(text, last);
        if (*names && !goes_on)
            sheet_item(stream, "-", arena_print(arena, "%s: %s", names, last));
        names = arena_print(arena, "%s%s%s", goes_on ? names : "",
                            goes_on ? ", " : "", point->name);
        last = text;
    }
    sheet_item(stream, "-", arena_print(arena, "%s: %s", names, last));
}

/* --- ports -----------------------------------------------------------------
 */

/* "140 nmi, 22 h 10 min, wind 118 deg off the bow on the port side". */
static const char *refuge_text(struct arena *arena,
                               const struct plan_refuge *refuge) {
    double off_deg = fabs(refuge->off_bow_deg);
    if (!refuge->known)
        return "no way is known";
    return arena_print(
        arena, "%.0f nmi, %s, wind %.0f deg off the bow on the %s side",
        m_to_nmi(refuge->distance_m), words_duration(arena, refuge->seconds),
        off_deg, words_side(refuge->off_bow_deg >= 0.0));
}

/* "last turn-off Sat 16 Mar 04:00 UTC". */
static const char *turn_off_text(struct arena *arena, const struct plan *plan,
                                 const struct plan_port *port) {
    char at[SHARP_TEXT_SIZE];
    if (!port->turn_off_known)
        return plan->summary.reached
                   ? "never sooner than the finish but to windward"
                   : "last turn-off not known";
    clock_print(plan, port->turn_off.at, at);
    return arena_print(arena, "last turn-off %s", at);
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
    const char *more = "";
    position_print(port->position, place);
    position_print(port->turn_off.position, where);
    if (port->turn_off_known)
        more = arena_print(arena, ", at %s: %s; the finish is then %s off",
                           where, refuge_text(arena, &port->from_turn_off),
                           words_duration(arena, fmax(port->left_s, 0.0)));
    sheet_item(stream, "-",
               arena_print(arena, "%s, %s: from departure %s; %s%s", port->name,
                           place, refuge_text(arena, &port->from_leg[0]),
                           turn_off_text(arena, plan, port), more));
}

/* Rows are no nearer to each other. */
static const double ROWS_S = 6.0 * SECONDS_PER_HOUR;

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
    sheet_paragraph(stream, 2, 0,
                    plan->summary.reached
                        ? "Soonest of them, while it is sooner than the finish:"
                        : "Soonest of them from where a leg starts:");
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (!point->starts_leg || instant_minus(point->at, told) < ROWS_S)
            continue;
        size_t leg = (size_t)(point->leg - plan->legs);
        const struct plan_port *port = worth_telling(plan, leg);
        if (!port)
            continue;
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

void escape_write_departure(const struct plan *plan, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    if (is_told(plan))
        sheet_entry(stream, "Spar breaks", "%s",
                    broken_text(&arena, plan, plan->legs[0].broken_s));
    const struct plan_port *port = soonest(plan, 0);
    if (port)
        sheet_entry(stream, "Fallback", "%s, %s; %s", port->name,
                    refuge_text(&arena, &port->from_leg[0]),
                    turn_off_text(&arena, plan, port));
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
