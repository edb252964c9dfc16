/* A polar, and speeds out of it. */
#include "fuzz.h"

#include "boat/polar.h"
#include <assert.h>
#include <math.h>

static void look(const struct polar *polar) {
    for (double twa_deg = -180.0; twa_deg <= 180.0; twa_deg += 7.5) {
        for (double tws_mps = 0.0; tws_mps < 60.0; tws_mps += 3.1) {
            double speed_mps = polar_speed(polar, twa_deg, tws_mps);
            assert(isfinite(speed_mps) && speed_mps >= 0.0);
        }
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct polar polar;
    struct error error = {.text = ""};
    arena_init(&arena);
    const char *path = fuzz_file("polar.csv", bytes, size);
    if (polar_load(&polar, path, &arena, &error))
        look(&polar);
    else
        fuzz_check_refusal(&error);
    arena_free(&arena);
    return 0;
}
