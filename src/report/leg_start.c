#include "report/leg_start.h"

#include "base/text.h"

static bool same_short(const struct plan *plan, struct instant at,
                       struct instant other) {
    char a[SHARP_TEXT_SIZE], b[SHARP_TEXT_SIZE];
    clock_print_short(plan, at, a);
    clock_print_short(plan, other, b);
    return text_same(a, b);
}

void leg_start_print(const struct plan *plan, const struct plan_leg *leg,
                     char text[SHARP_TEXT_SIZE]) {
    size_t index = (size_t)(leg - plan->legs);
    bool shared = (index > 0 && same_short(plan, leg->start, leg[-1].start)) ||
                  (index + 1 < plan->leg_count &&
                   same_short(plan, leg->start, leg[1].start));
    const struct plan_change *change = clock_work_at(plan, leg->start);
    if (shared)
        clock_print_minute(plan, leg->start, text);
    else if (change)
        clock_print_change_short(plan, change, text);
    else
        clock_print_short(plan, leg->start, text);
}
