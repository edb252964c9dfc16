#include "plan/eases.h"

size_t eases_middle(const struct request *request) {
    for (size_t i = 0; i < request->ease_count; i++) {
        size_t before = 0; /* eases that come before it, in order */
        for (size_t k = 0; k < request->ease_count; k++)
            before += request->eases[k] < request->eases[i] ||
                      (k < i && !(request->eases[k] > request->eases[i]));
        if (before == request->ease_count / 2)
            return i;
    }
    return 0;
}

void eases_plan(struct eases *eases, const struct world *world,
                const struct request *request,
                const struct plan_progress *progress, struct arena *arena) {
    struct request requests[REQUEST_EASES];
    for (size_t i = 0; i < request->ease_count; i++) {
        requests[i] = *request;
        requests[i].ease = request->eases[i];
        if (i == eases->chosen)
            continue;
        /* what a row does not tell */
        requests[i].port_count = 0;
        requests[i].previous = NULL;
    }
    struct many many = {.world = world,
                        .requests = requests,
                        .count = request->ease_count,
                        .progress = progress,
                        .kept = arena,
                        .kept_index = eases->chosen};
    eases->count = request->ease_count;
    many_plan(&many, eases->rows);
}
