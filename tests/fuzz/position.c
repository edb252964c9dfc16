/* Places as they are typed: what is read is printed and read as the same. */
#include "fuzz.h"

#include "earth/position.h"
#include <assert.h>
#include <math.h>

/* Printed to a hundredth of a minute, half of which is lost. */
static const double LOST_DEG = 0.006 / 60.0;

static void check_printed(struct position position) {
    char text[POSITION_TEXT_SIZE];
    struct position again;
    assert(fabs(position.lat_deg) <= 90.0);
    assert(position.lon_deg >= -180.0 && position.lon_deg < 180.0);
    position_print(position, text);
    assert(!position_parse(text, &again));
    double turn_deg = fabs(again.lon_deg - position.lon_deg);
    assert(fabs(again.lat_deg - position.lat_deg) <= LOST_DEG);
    assert(fmin(turn_deg, 360.0 - turn_deg) <= LOST_DEG);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct position position;
    arena_init(&arena);
    const char *wrong =
        position_parse(fuzz_text(bytes, size, &arena), &position);
    assert(!wrong || *wrong);
    if (!wrong)
        check_printed(position);
    arena_free(&arena);
    return 0;
}
