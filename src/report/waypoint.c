#include "report/waypoint.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { NUMBER_SIZE = 8 };

/* Instants are whole seconds. */
static const double SAME_TIME_S = 1.0;

struct list {
    struct waypoints points;
    size_t capacity;
    struct arena *arena;
    size_t name_length; /* of the plan's display; 0: no limit */
    int works;          /* deck work so far */
};

/* The word gives way, the number does not: names still differ. */
static void print_name(const struct list *list, struct waypoint *point,
                       const char *word, const char *number) {
    size_t digits = strlen(number);
    size_t letters = strlen(word);
    size_t room = list->name_length > digits ? list->name_length - digits : 1;
    if (list->name_length > 0 && letters > room)
        letters = room;
    snprintf(point->name, sizeof point->name, "%.*s%s", (int)letters, word,
             number);
}

static struct waypoint *added(struct list *list, struct waypoint point) {
    struct waypoints *points = &list->points;
    points->items = arena_room(list->arena, points->items, points->count,
                               &list->capacity, sizeof *points->items);
    points->items[points->count++] = point;
    struct waypoint *last = &points->items[points->count - 1];
    char number[NUMBER_SIZE];
    snprintf(number, sizeof number, "%03u", (unsigned)points->count % 10000);
    print_name(list, last, "W", number);
    return last;
}

static void name_work(struct list *list, struct waypoint *point,
                      const struct plan_change *change) {
    static const char *const words[CHANGE_KINDS] = {
        "SET", "GYBE", "CROSS", "STOW", "MAIN", "TACK", "ROLL", "UNROLL"};
    point->work = change;
    char number[NUMBER_SIZE];
    snprintf(number, sizeof number, "%u", (unsigned)++list->works % 10000);
    print_name(list, point, words[change->kind], number);
}

/* The second part of what is done where the leg starts. */
static bool is_second(const struct plan *plan, size_t index,
                      const struct plan_leg *leg) {
    const struct plan_change *change = &plan->changes[index];
    if (index == 0 || change[-1].leg != change->leg ||
        change[-1].at.unix_s != leg->start.unix_s)
        return false;
    double late_s = instant_minus(change->at, change[-1].at);
    return fabs(late_s - change[-1].seconds) <= SAME_TIME_S;
}

static void add_leg(struct list *list, const struct plan *plan, size_t index) {
    const struct plan_leg *leg = &plan->legs[index];
    struct waypoint *start =
        added(list, (struct waypoint){.position = leg->from,
                                      .at = leg->start,
                                      .leg = leg,
                                      .starts_leg = true});
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        if (change->leg != index || !change->deck_work)
            continue;
        bool at_start =
            change->at.unix_s == leg->start.unix_s || is_second(plan, i, leg);
        struct position place = at_start ? leg->from : change->position;
        struct waypoint *point =
            start && at_start ? start
                              : added(list, (struct waypoint){.position = place,
                                                              .at = change->at,
                                                              .leg = leg});
        name_work(list, point, change);
        start = NULL; /* a second change has a point of its own */
    }
}

struct waypoints waypoints_of(const struct plan *plan, struct arena *arena) {
    struct list list = {.arena = arena,
                        .name_length = plan->display.name_length};
    for (size_t i = 0; i < plan->leg_count; i++)
        add_leg(&list, plan, i);
    const struct plan_leg *last = &plan->legs[plan->leg_count - 1];
    added(&list, (struct waypoint){.position = last->to, .at = last->end});
    return list.points;
}

const char *waypoint_name(const struct waypoints *waypoints,
                          const struct plan_change *change) {
    for (size_t i = 0; i < waypoints->count; i++)
        if (waypoints->items[i].work == change)
            return waypoints->items[i].name;
    return NULL;
}
