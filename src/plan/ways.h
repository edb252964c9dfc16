/* The ways that a plan chooses between: one search with the spar and one
 * without, each cut into legs and within the fuel. */
#ifndef PLAN_WAYS_H
#define PLAN_WAYS_H

#include "plan/course.h"
#include "plan/pacing.h"
#include "plan/plan.h"
#include "search/search.h"

struct way {
    struct search_result found;
    struct track course; /* the track cut into legs */
    struct track whole;  /* the same without a limit to its points */
    /* Of that, with the wait for light; infinite where there is none. */
    double cost_s, elapsed_s;
    struct motoring motoring; /* by which it is within the fuel */
    bool rationed;            /* there is fuel for less than she would motor */
    bool gybes_kept;          /* no mainsail gybe is beyond the work limits */
    struct track given_up;    /* with such a gybe; no vertices: there is none */
};

struct ways_ask {
    const struct voyage *voyage; /* with the spar */
    const struct underway *start;
    const struct search_request *asked;
    struct course_options cut;
    struct pacing_options pacing; /* for an arrival by daylight */
    struct search_progress told;
    struct arena *arena;
};

/* Both searches, the one without the spar beside the end of the other, or none
 * where the other leaves the spar stowed: they are the same then. `without`
 * stays as it is for a boat that has her spar out already: she can't
 * be without. Tracks live in the arena. */
void ways_find(const struct ways_ask *ask, struct way *with,
               struct way *without);

/* Is it to be taken before the other? With deck work by daylight only one whose
 * gybes are kept goes before one whose are not: that may be refused in the end
 * (plan/barred.h). Then the cheaper. */
bool ways_is_better(const struct voyage *voyage, const struct way *way,
                    const struct way *other);

/* What the most points take from the cheaper of both: against the cheaper of
 * those without that limit, each within the fuel. */
struct plan_fewer ways_fewer(const struct ways_ask *ask, const struct way *with,
                             const struct way *without);

/* How much more the better of both costs, its gybes kept, than the cheapest
 * with such a gybe, given up for it or the other one; each within the fuel and,
 * for an arrival by daylight, at its pace. Unknown where it costs no more. */
struct figure ways_kept_gybes_s(const struct ways_ask *ask,
                                const struct way *with,
                                const struct way *without);

#endif
