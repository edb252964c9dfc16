#include "report/leg_remarks.h"

#include "report/leg_names.h"
#include "report/limits.h"
#include "report/sheet.h"

#include <stddef.h>

static bool has_boom_to_port(const struct plan *plan,
                             const struct plan_leg *leg) {
    (void)plan;
    return leg->deck.wind_starboard;
}

static bool has_boom_to_starboard(const struct plan *plan,
                                  const struct plan_leg *leg) {
    (void)plan;
    return !leg->deck.wind_starboard;
}

static bool is_by_the_lee(const struct plan *plan, const struct plan_leg *leg) {
    (void)plan;
    return limits_is_by_the_lee(leg);
}

static bool is_motored(const struct plan *plan, const struct plan_leg *leg) {
    (void)plan;
    return leg->motored_s > 0.0;
}

struct remark {
    bool (*holds)(const struct plan *plan, const struct plan_leg *leg);
    size_t flag; /* where it stands in struct plan_leg, holds == NULL */
    const char *text;
};

static const struct remark remarks[] = {
    {has_boom_to_port, 0, "boom to port"},
    {has_boom_to_starboard, 0, "boom to starboard"},
    {is_motored, 0, "under engine in part or whole"},
    {is_by_the_lee, 0, "by the lee, the wind past dead aft on the boom's side"},
    {limits_is_at_limit, 0,
     "AT THE LIMIT, AWA within 2 deg of where the skipper is called: steer "
     "closely"},
    {NULL, offsetof(struct plan_leg, unchecked),
     "NOT CHECKED, the field of a limit is missing there"},
    {NULL, offsetof(struct plan_leg, beyond_forecast),
     "BEYOND THE FORECAST in part or whole, a guess"},
    {NULL, offsetof(struct plan_leg, polar_beyond),
     "wind above the last column of the polar, speed held"},
    {NULL, offsetof(struct plan_leg, gust_estimated),
     "gust estimated as 1.4 x the mean wind"},
    {NULL, offsetof(struct plan_leg, wave_estimated),
     "sea estimated from the wind"},
    {NULL, offsetof(struct plan_leg, remarks.steep), "STEEP SEA"},
    {NULL, offsetof(struct plan_leg, remarks.against_current),
     "WIND AGAINST CURRENT"},
    {NULL, offsetof(struct plan_leg, remarks.slatting),
     "sails may slat, little apparent wind in a swell"},
};

static bool is_true_of(const struct remark *remark, const struct plan *plan,
                       const struct plan_leg *leg) {
    if (remark->holds)
        return remark->holds(plan, leg);
    return *(const bool *)((const char *)leg + remark->flag);
}

static void write_remark(struct arena *arena, const struct plan *plan,
                         const struct waypoints *waypoints,
                         const struct remark *remark, FILE *stream) {
    struct leg_names names = {.text = NULL};
    size_t count = 0;
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (!point->starts_leg || !is_true_of(remark, plan, point->leg))
            continue;
        leg_names_add(&names, point, arena);
        count++;
    }
    const char *text =
        count == plan->leg_count ? "all legs" : leg_names_text(&names, arena);
    if (count > 0)
        sheet_paragraph(stream, 0, 2,
                        arena_print(arena, "%s: %s", remark->text, text));
}

void leg_remarks_write(const struct plan *plan,
                       const struct waypoints *waypoints, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    for (size_t i = 0; i < sizeof remarks / sizeof remarks[0]; i++)
        write_remark(&arena, plan, waypoints, &remarks[i], stream);
    arena_free(&arena);
}
