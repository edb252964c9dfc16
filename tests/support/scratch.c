#include "scratch.h"

struct arena arena;

int scratch_begin(void **state) {
    (void)state;
    arena_init(&arena);
    return 0;
}

int scratch_end(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}
