/* What the crew saw the boat roll, in one line. */
#include "fuzz.h"

#include "boat/roll_seen.h"
#include <assert.h>
#include <math.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct roll_seen seen;
    struct error error = {.text = ""};
    arena_init(&arena);
    if (roll_seen_read(&seen, fuzz_text(bytes, size, &arena), &arena, &error))
        assert(isfinite(roll_seen_rms_deg(&seen)));
    else
        fuzz_check_refusal(&error);
    arena_free(&arena);
    return 0;
}
