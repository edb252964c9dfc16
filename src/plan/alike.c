#include "plan/alike.h"

#include <math.h>

bool alike_work(const struct plan_change *a, const struct plan_change *b) {
    if (!a->deck_work || !b->deck_work || a->kind != b->kind)
        return false;
    switch (a->kind) {
    case CHANGE_SET:
    case CHANGE_GYBE:
    case CHANGE_ACROSS:
        return a->to.spar == b->to.spar;
    case CHANGE_MAINSAIL_GYBE:
    case CHANGE_TACK:
        return a->to.wind_starboard == b->to.wind_starboard;
    case CHANGE_STOW:
    case CHANGE_ROLL:
    case CHANGE_UNROLL:
    case CHANGE_KINDS:
        break;
    }
    return true;
}

/* How good it is to match what comes after two places of the lists. */
struct worth {
    size_t matches;
    double apart_s;
};

static bool is_better(struct worth a, struct worth b) {
    return a.matches > b.matches ||
           (a.matches == b.matches && a.apart_s < b.apart_s);
}

/* The table has a row for each change of the first and one for its end. */
struct table {
    struct worth *worths;
    size_t columns;
};

static struct worth *at(const struct table *table, size_t i, size_t k) {
    return &table->worths[i * table->columns + k];
}

/* Both of them one work: what that is worth, with all that comes after. */
static struct worth matched(const struct table *table, const struct plan *first,
                            const struct plan *second, size_t i, size_t k) {
    struct worth after = *at(table, i + 1, k + 1);
    double apart_s =
        fabs(instant_minus(first->changes[i].at, second->changes[k].at));
    return (struct worth){after.matches + 1, after.apart_s + apart_s};
}

static struct table table_of(const struct plan *first,
                             const struct plan *second, struct arena *arena) {
    struct table table = {.columns = second->change_count + 1};
    table.worths = arena_alloc(arena, (first->change_count + 1) * table.columns,
                               sizeof *table.worths);
    for (size_t i = first->change_count; i-- > 0;)
        for (size_t k = second->change_count; k-- > 0;) {
            struct worth best = *at(&table, i + 1, k);
            if (is_better(*at(&table, i, k + 1), best))
                best = *at(&table, i, k + 1);
            if (alike_work(&first->changes[i], &second->changes[k])) {
                struct worth both = matched(&table, first, second, i, k);
                if (!is_better(best, both))
                    best = both;
            }
            *at(&table, i, k) = best;
        }
    return table;
}

size_t *alike_changes(const struct plan *first, const struct plan *second,
                      struct arena *arena) {
    struct table table = table_of(first, second, arena);
    size_t *alike = arena_alloc(arena, first->change_count + 1, sizeof *alike);
    size_t k = 0;
    for (size_t i = 0; i < first->change_count; i++) {
        alike[i] = ALIKE_NONE;
        /* pass over those of the second that are better left alone */
        while (k < second->change_count &&
               !is_better(*at(&table, i, k), *at(&table, i, k + 1)))
            k++;
        if (k == second->change_count ||
            !alike_work(&first->changes[i], &second->changes[k]) ||
            is_better(*at(&table, i, k), matched(&table, first, second, i, k)))
            continue;
        alike[i] = k++;
    }
    return alike;
}
