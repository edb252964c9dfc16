/* Times as they are typed: what is read is printed and read as the same. */
#include "fuzz.h"

#include "base/instant.h"
#include <assert.h>

static void check_printed(struct instant instant) {
    char text[INSTANT_TEXT_SIZE];
    struct instant again;
    bool zone_given;
    instant_print(instant, text);
    assert(instant_parse(text, &again, &zone_given));
    assert(zone_given && again.unix_s == instant.unix_s);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct instant instant;
    bool zone_given;
    arena_init(&arena);
    if (instant_parse(fuzz_text(bytes, size, &arena), &instant, &zone_given))
        check_printed(instant);
    arena_free(&arena);
    return 0;
}
