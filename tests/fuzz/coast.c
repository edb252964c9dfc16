/* A file of shorelines. The netCDF library reads it in a child process, which
 * may break down; what the child says is not trusted. */
#include "fuzz.h"

#include "earth/coast.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    static const struct coast_box box = {-8.0, 8.0, 22.0, 38.0};
    struct arena arena;
    struct coast *coast;
    struct error error = {.text = ""};
    arena_init(&arena);
    const char *path = fuzz_file("coast.nc", bytes, size);
    if (!coast_load(&coast, path, &box, &arena, &error))
        fuzz_check_refusal(&error);
    arena_free(&arena);
    return 0;
}
