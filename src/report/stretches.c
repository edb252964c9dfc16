#include "report/stretches.h"

#include "base/units.h"
#include "report/sheet.h"
#include "report/words.h"
#include <math.h>

/* Nobody cares for less. */
static const double SAME_TIME_S = SECONDS_PER_MINUTE;

/* "0 h 40 min saved", "0 h 02 min lost", "nothing saved". */
static const char *saved(struct arena *arena, double saved_s) {
    if (fabs(saved_s) < SAME_TIME_S)
        return "nothing saved";
    return arena_print(arena, "%s %s", words_duration(arena, fabs(saved_s)),
                       saved_s > 0.0 ? "saved" : "lost");
}

/* The point where a leg starts; after the last leg the finish. */
static const char *point_of(const struct plan *plan,
                            const struct waypoints *waypoints, size_t leg) {
    for (size_t i = 0; i < waypoints->count; i++)
        if (waypoints->items[i].starts_leg &&
            waypoints->items[i].leg == plan->legs + leg)
            return waypoints->items[i].name;
    return "the finish";
}

static void write_stretch(struct arena *arena, const struct plan *plan,
                          const struct waypoints *waypoints,
                          const struct plan_stretch *stretch, FILE *stream) {
    sheet_item(stream, "-",
               arena_print(arena, "%s to %s: out for %s, %.0f nmi; %s",
                           point_of(plan, waypoints, stretch->first),
                           point_of(plan, waypoints, stretch->last + 1),
                           words_duration(arena, stretch->seconds),
                           m_to_nmi(stretch->distance_m),
                           saved(arena, stretch->saved_s)));
}

static void write_sum(struct arena *arena, const struct plan *plan,
                      FILE *stream) {
    const struct plan_summary *summary = &plan->summary;
    double less_s = summary->cost_without_spar_s.value - summary->cost_s;
    sheet_paragraph(
        stream, 2, 0,
        arena_print(arena,
                    "On the whole track %s; weighed with roll and work, %s. "
                    "Both ways from the same departure; the minutes of the "
                    "work are in it.",
                    saved(arena, summary->elapsed_without_spar_s.value -
                                     summary->elapsed_s),
                    saved(arena, less_s)));
}

void stretches_write(const struct plan *plan, const struct waypoints *waypoints,
                     FILE *stream) {
    struct arena arena;
    if (!plan->timed_only)
        return;
    arena_init(&arena);
    sheet_heading(stream, "WHERE THE SPAR PAYS  the track kept");
    if (!plan->summary.elapsed_without_spar_s.known)
        sheet_paragraph(stream, 2, 0,
                        "not known: the track can't be sailed with it "
                        "stowed, or she starts with it out");
    else if (plan->stretch_count == 0)
        sheet_paragraph(stream, 2, 0, "nowhere: it stays stowed all the way");
    for (size_t i = 0; i < plan->stretch_count; i++)
        write_stretch(&arena, plan, waypoints, &plan->stretches[i], stream);
    if (plan->stretch_count > 0)
        write_sum(&arena, plan, stream);
    arena_free(&arena);
}
