#include "short_passage.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

struct arena short_arena;

int short_start(void **state) {
    (void)state;
    arena_init(&short_arena);
    return 0;
}

int short_end(void **state) {
    (void)state;
    arena_free(&short_arena);
    return 0;
}

const char *short_root(void) {
    static char root[2000];
    if (!root[0] && !getcwd(root, sizeof root))
        abort();
    return root;
}

const char *short_passage(void) {
    return check_write(
        "short.ini",
        arena_print(&short_arena,
                    "[passage]\n"
                    "name = Short; \"there\" & back #2\n"
                    "boat = %s/polars/heron-9.ini\n"
                    "forecast = %s/grib-samples/coastal-hop.grib2\n"
                    "from = 39 18.0 N 9 48.0 W\n"
                    "to = 39 12.0 N 9 48.0 W\n"
                    "depart = 2026-06-21T04:00Z\n",
                    short_root(), short_root()));
}

struct ran short_plan(const char *arguments) {
    return check_run(
        arena_print(&short_arena, "plan '%s' %s", short_passage(), arguments));
}

const char *short_path(const char *name) {
    return arena_print(&short_arena, "%s/%s", check_folder(), name);
}

char *short_replaced(const char *text, const char *old, const char *new) {
    char *whole = arena_copy(&short_arena, "");
    const char *place;
    while ((place = strstr(text, old))) {
        whole = arena_print(&short_arena, "%s%.*s%s", whole,
                            (int)(place - text), text, new);
        text = place + strlen(old);
    }
    return arena_print(&short_arena, "%s%s", whole, text);
}
