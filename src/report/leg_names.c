#include "report/leg_names.h"

#include "base/arena.h"

const char *leg_names_text(const struct leg_names *names, struct arena *arena) {
    const char *text = names->text ? names->text : "";
    const char *before = *text ? ", " : "";
    if (!names->first)
        return "";
    if (names->first == names->last)
        return arena_print(arena, "%s%s%s", text, before, names->first->name);
    return arena_print(arena, "%s%s%s%s%s", text, before, names->first->name,
                       names->last->leg == names->first->leg + 1 ? ", "
                                                                 : " to ",
                       names->last->name);
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
