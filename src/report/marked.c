#include "report/marked.h"

#include "plan/marks.h"
#include "report/clock.h"

#include <stdlib.h>
#include <string.h>

static const char *time_text(struct arena *arena, const struct plan *plan,
                             bool ships, long long unix_s) {
    struct plan shown = {.depart = plan->depart,
                         .changes = plan->changes,
                         .change_count = plan->change_count};
    char at[SHARP_TEXT_SIZE];
    if (ships)
        shown.display = plan->display;
    clock_print_moment(&shown, (struct instant){(int64_t)unix_s}, at);
    return arena_print(arena, "%s", at);
}

/* Without waypoints they are counted. */
static const char *leg_text(struct arena *arena, const struct plan *plan,
                            const struct waypoints *waypoints, long long leg) {
    for (size_t i = 0; waypoints && i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (point->starts_leg && point->leg - plan->legs == leg)
            return point->name;
    }
    return arena_print(arena, "%lld", leg + 1);
}

/* Who reads it. */
struct reader {
    const struct plan *plan;
    const struct waypoints *waypoints; /* NULL: legs are counted */
    bool ships;                        /* by ship's time; else UTC */
};

/* What stands for the mark at `sign`, and where it ends; NULL: it is none. */
static const char *words_for(struct arena *arena, const struct reader *reader,
                             const char *sign, const char **end) {
    char *after;
    char kind = sign[1];
    if (kind != MARK_TIME && kind != MARK_LEG)
        return NULL;
    long long value = strtoll(sign + 2, &after, 10);
    if (after == sign + 2 || *after != MARK_SIGN)
        return NULL;
    *end = after + 1;
    return kind == MARK_TIME
               ? time_text(arena, reader->plan, reader->ships, value)
               : leg_text(arena, reader->plan, reader->waypoints, value);
}

static const char *with_words(struct arena *arena, const struct reader *reader,
                              const char *text) {
    const char *done = "", *sign;
    while ((sign = strchr(text, MARK_SIGN)) != NULL) {
        const char *end = sign + 1;
        const char *words = words_for(arena, reader, sign, &end);
        done = arena_print(arena, "%s%.*s%s", done, (int)(sign - text), text,
                           words ? words : "");
        text = end;
    }
    return arena_print(arena, "%s%s", done, text);
}

const char *marked_for_sheet(struct arena *arena, const struct plan *plan,
                             const struct waypoints *waypoints,
                             const char *text) {
    return with_words(arena, &(struct reader){plan, waypoints, true}, text);
}

const char *marked_in_utc(struct arena *arena, const struct plan *plan,
                          const char *text) {
    return with_words(arena, &(struct reader){plan, NULL, false}, text);
}

const char *marked_for_message(struct arena *arena, const struct plan *plan,
                               const struct waypoints *waypoints,
                               const char *text) {
    return with_words(arena, &(struct reader){plan, waypoints, false}, text);
}
