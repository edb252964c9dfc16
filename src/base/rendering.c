#include "base/rendering.h"

#include "base/arena.h"

#include <stdlib.h>

void rendering_open(struct rendering *rendering) {
    rendering->stream = open_memstream(&rendering->bytes, &rendering->size);
    if (!rendering->stream)
        arena_exhausted();
}

void rendering_close(struct rendering *rendering) {
    int failed = ferror(rendering->stream);
    if (fclose(rendering->stream) != 0 || failed)
        arena_exhausted();
}

void rendering_free(struct rendering *rendering) {
    free(rendering->bytes);
    *rendering = (struct rendering){.bytes = NULL};
}
