/* A boat file whose polars lie beside it, and what is worked out of it before
 * any plan. */
#include "fuzz.h"

#include "boat/boat.h"
#include "boat/doubts.h"
#include "boat/strength.h"
#include <assert.h>
#include <math.h>

static const char polar[] = "twa 6 12 20\n"
                            "45 3.9 5.6 6.1\n"
                            "90 4.8 6.4 7.2\n"
                            "135 4.2 6.2 7.5\n"
                            "180 3.1 5.2 6.9\n";

static void take_doubt(void *context, const char *text) {
    (void)context;
    assert(*text);
}

static void check_limits(const struct boat *boat, const struct headsail *sail,
                         bool to_windward) {
    struct strength_limits limits = strength_limits(boat, sail, to_windward);
    assert(isfinite(limits.wind_aws_mps) && isfinite(limits.gust_aws_mps));
    if (!limits.usable || !sail->area_m2.known)
        return;
    double load_n =
        strength_load_n(limits.gust_aws_mps, sail->area_m2.value, to_windward);
    assert(isfinite(load_n) && load_n >= 0.0);
}

/* A swell on the beam, at a run. */
static void check_roll(const struct boat *boat) {
    static const struct sea sea = {
        .system[1] = {
            .known = true, .height_m = 2.0, .period_s = 8.0, .from_deg = 90.0}};
    struct roll_course course = {
        .speed_mps = 3.0, .twa_deg = 170.0, .aws_mps = 5.0};
    double roll_deg = roll_rms_deg(&boat->roller, &sea, &course);
    assert(isfinite(roll_deg) && roll_deg >= 0.0);
}

static void use(const struct boat *boat, struct arena *arena) {
    doubts_tell(boat, take_doubt, NULL, arena);
    check_roll(boat);
    for (size_t i = 0; i < boat->headsail_count; i++) {
        check_limits(boat, &boat->headsails[i], true);
        check_limits(boat, &boat->headsails[i], false);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct boat boat;
    struct error error = {.text = ""};
    arena_init(&arena);
    fuzz_file("stowed.csv", polar, sizeof polar - 1);
    fuzz_file("spar.csv", polar, sizeof polar - 1);
    const char *path = fuzz_file("boat.ini", bytes, size);
    if (boat_load(&boat, path, &arena, &error))
        use(&boat, &arena);
    else
        fuzz_check_refusal(&error);
    arena_free(&arena);
    return 0;
}
