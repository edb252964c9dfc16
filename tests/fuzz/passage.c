/* A passage file, as for a plan and as for a forecast that is to be asked for.
 * The files that it names are not read. */
#include "fuzz.h"

#include "plan/request.h"

static bool resolve(const char *path, bool asks, struct arena *arena,
                    struct error *error) {
    struct request request;
    return request_load(&request, path, arena, error) &&
           (asks ? request_resolve_ask(&request, arena, error)
                 : request_resolve(&request, false, arena, error));
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct error error = {.text = ""};
    arena_init(&arena);
    const char *path = fuzz_file("passage.ini", bytes, size);
    for (int asks = 0; asks < 2; asks++)
        if (!resolve(path, asks, &arena, &error))
            fuzz_check_refusal(&error);
    arena_free(&arena);
    return 0;
}
