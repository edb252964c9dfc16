#include "report/compass.h"

#include "earth/angle.h"
#include "earth/variation.h"
#include "report/words.h"

#include <math.h>

struct figure compass_variation(const struct plan *plan,
                                struct position position, struct instant at) {
    return plan->display.magnetic ? variation_at(position, at)
                                  : figure_unknown();
}

static struct figure magnetic(double true_deg, struct figure variation_deg) {
    if (!variation_deg.known)
        return variation_deg;
    return figure_of(variation_magnetic(true_deg, variation_deg.value));
}

static struct figure at_start(const struct plan *plan,
                              const struct plan_leg *leg) {
    return compass_variation(plan, leg->from, leg->start);
}

static struct figure at_end(const struct plan *plan,
                            const struct plan_leg *leg) {
    return compass_variation(plan, leg->to, leg->end);
}

struct figure compass_heading(const struct plan *plan,
                              const struct plan_leg *leg) {
    return magnetic(leg->heading_deg, at_start(plan, leg));
}

struct figure compass_of_sample(const struct plan *plan,
                                const struct plan_sample *sample) {
    return magnetic(sample->heading_deg,
                    compass_variation(plan, sample->position, sample->at));
}

const char *compass_steer(struct arena *arena, const struct plan *plan,
                          const struct plan_leg *leg) {
    const char *steer =
        arena_print(arena, "%03d deg true", words_degrees(leg->heading_deg));
    if (!plan->display.magnetic)
        return steer;
    struct figure shown = compass_heading(plan, leg);
    if (!shown.known)
        return arena_print(arena, "%s, magnetic not known", steer);
    return arena_print(arena, "%s, %03d deg magnetic", steer,
                       words_degrees(shown.value));
}

const char *compass_cell(struct arena *arena, const struct plan *plan,
                         const struct plan_leg *leg) {
    const char *steer =
        arena_print(arena, "%03d", words_degrees(leg->heading_deg));
    if (!plan->display.magnetic)
        return steer;
    struct figure shown = compass_heading(plan, leg);
    if (!shown.known)
        return arena_print(arena, "%s   -", steer);
    return arena_print(arena, "%s %03d", steer, words_degrees(shown.value));
}

static const char *variation_words(struct arena *arena,
                                   struct figure variation_deg) {
    if (!variation_deg.known)
        return "not known";
    return arena_print(arena, "%.1f deg %s", fabs(variation_deg.value),
                       variation_deg.value < 0.0 ? "W" : "E");
}

const char *compass_words(struct arena *arena, const struct plan *plan,
                          const struct plan_leg *leg) {
    if (!plan->display.magnetic)
        return NULL;
    return arena_print(arena,
                       "variation %s, at its end %s; deviation not in it",
                       variation_words(arena, at_start(plan, leg)),
                       variation_words(arena, at_end(plan, leg)));
}

/* Nobody steers finer than that. */
static const double TURN_DEG = 1.0;

bool compass_turns(const struct plan *plan, const struct plan_leg *leg,
                   double *end_deg) {
    struct figure first = compass_heading(plan, leg);
    struct figure last = magnetic(leg->heading_deg, at_end(plan, leg));
    if (!first.known || !last.known)
        return false;
    *end_deg = last.value;
    return fabs(angle_turn(first.value, last.value)) >= TURN_DEG;
}
