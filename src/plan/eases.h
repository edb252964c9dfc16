/* The same passage by several eases, side by side. */
#ifndef PLAN_EASES_H
#define PLAN_EASES_H

#include "plan/many.h"

struct eases {
    struct many_row rows[REQUEST_EASES]; /* in the order asked for */
    size_t count;                        /* at least 1 */
    size_t chosen;
    bool by_choice; /* the crew's; else it is that of the middle ease */
};

/* The index of the ease in the middle; of an even number the higher one. */
size_t eases_middle(const struct request *request);

/* Plans all of them; `chosen` is set before. The plan of the chosen one is kept
 * and lives in `arena`, the others are forgotten. A plan that can't be made is
 * a row that says so. */
void eases_plan(struct eases *eases, const struct world *world,
                const struct request *request,
                const struct plan_progress *progress, struct arena *arena);

#endif
