/* An earlier plan.json, and questions to it. */
#include "fuzz.h"

#include "report/plan_read.h"
#include <assert.h>

static void ask(const struct previous *previous) {
    enum spar_place spar;
    struct error error;
    assert(previous->leg_count > 0);
    previous_next(previous, previous->depart);
    previous_spar(previous, previous->depart, &spar);
    previous_check(previous, previous->legs[0].from, &error);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct previous previous;
    struct error error = {.text = ""};
    arena_init(&arena);
    const char *path = fuzz_file("plan.json", bytes, size);
    if (plan_read(&previous, path, &arena, &error))
        ask(&previous);
    else
        fuzz_check_refusal(&error);
    arena_free(&arena);
    return 0;
}
