#include "base/heap.h"

#include "base/arena.h"
#include <stdlib.h>
#include <string.h>

static void *there(void *place, size_t bytes) {
    if (!place && bytes > 0)
        arena_exhausted();
    return place;
}

void *heap_take(size_t bytes) {
    return there(malloc(bytes), bytes);
}

void *heap_resize(void *place, size_t bytes) {
    return there(realloc(place, bytes), bytes);
}

char *heap_copy(const char *text) {
    size_t bytes = strlen(text) + 1;
    return memcpy(heap_take(bytes), text, bytes);
}
