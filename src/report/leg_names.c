#include "report/leg_names.h"

#include "base/arena.h"

const char *leg_names_text(const struct leg_names *names, struct arena *arena) {
    const char *text = names->text ? names->text : "";
    const char *before = *text ? ", " : "";
    const struct waypoint *first = names->first, *last = names->last;
    if (!first || !last)
        return "";
    if (first == last)
        return arena_print(arena, "%s%s%s", text, before, first->name);
    return arena_print(arena, "%s%s%s%s%s", text, before, first->name,
                       last->leg == first->leg + 1 ? ", " : " to ", last->name);
}

void leg_names_add(struct leg_names *names, const struct waypoint *point,
                   struct arena *arena) {
    bool goes_on = names->last && point->leg == names->last->leg + 1;
    if (!goes_on) {
        names->text = leg_names_text(names, arena);
        names->first = point;
    }
    names->last = point;
}
