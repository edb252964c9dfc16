#include "../support/check.h"

#include "earth/ring.h"

#include <math.h>
#include <string.h>

struct shape {
    const char *name;
    struct position corners[12];
    size_t count;
    const char *flaw; /* how it begins; NULL: none */
    double west, east;
};

/* Latitude first, as everywhere in the program. */
static const struct shape shapes[] = {
    {"a square", {{0, 0}, {0, 10}, {10, 10}, {10, 0}}, 4, NULL, 0, 10},
    {"the other way round",
     {{0, 0}, {10, 0}, {10, 10}, {0, 10}},
     4,
     NULL,
     0,
     10},
    {"a corner written twice",
     {{0, 0}, {0, 0}, {0, 10}, {10, 10}, {0, 0}},
     5,
     NULL,
     0,
     10},
    {"jumping over 180",
     {{0, 175}, {0, -175}, {10, -175}, {10, 175}},
     4,
     NULL,
     -185,
     -175},
    {"going on over 180",
     {{0, 175}, {0, 185}, {10, 185}, {10, 175}},
     4,
     NULL,
     -185,
     -175},
    {"in longitudes 0 to 360",
     {{0, 190}, {0, 200}, {10, 200}},
     3,
     NULL,
     -170,
     -160},
    {"with both names of the line of 180",
     {{0, 170},
      {0, 180},
      {0, -180},
      {0, -170},
      {9, -170},
      {9, -180},
      {9, 180},
      {9, 170}},
     8,
     NULL,
     -190,
     -170},
    {"a band round the world",
     {{-60, -180}, {-60, 180}, {-80, 180}, {-80, -180}},
     4,
     NULL,
     -180,
     180},
    {"a band with places between",
     {{-60, -180}, {-60, 0}, {-60, 180}, {-80, 180}, {-80, 0}, {-80, -180}},
     6,
     NULL,
     -180,
     180},
    {"two corners", {{0, 0}, {0, 10}, {0, 0}}, 3, "has fewer than 3", 0, 0},
    {"round a pole",
     {{60, 0}, {60, 90}, {60, 180}, {60, -90}},
     4,
     "goes round a pole",
     0,
     0},
    {"a bow tie",
     {{0, 0}, {10, 10}, {10, 0}, {0, 10}},
     4,
     "crosses or touches itself near",
     0,
     0},
    {"a bow tie over 180",
     {{0, 175}, {10, -175}, {10, 175}, {0, -175}},
     4,
     "crosses or touches itself near",
     0,
     0},
    {"a corner on another line",
     {{0, 0}, {0, 10}, {10, 10}, {0, 5}},
     4,
     "crosses or touches itself near",
     0,
     0},
    {"a spike",
     {{0, 0}, {0, 10}, {10, 10}, {20, 10}, {10, 10}, {10, 0}},
     6,
     "crosses or touches itself near",
     0,
     0},
    {"flat on one meridian",
     {{0, 5}, {10, 5}, {20, 5}},
     3,
     "crosses or touches itself near",
     0,
     0},
    {"a spike over the first corner",
     {{0, 0}, {5, 0}, {5, 5}, {0, 5}, {0, -5}},
     5,
     "crosses or touches itself near",
     0,
     0},
};

static void shapes_are_taken_or_told_why_not(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    for (size_t i = 0; i < sizeof shapes / sizeof shapes[0]; i++) {
        const struct shape *shape = &shapes[i];
        struct ring ring;
        const char *flaw =
            ring_make(&ring, shape->corners, shape->count, &arena);
        if (!flaw != !shape->flaw)
            fail_msg("%s: %s", shape->name, flaw ? flaw : "taken");
        if (flaw) {
            assert_memory_equal(flaw, shape->flaw, strlen(shape->flaw));
            continue;
        }
        double west = HUGE_VAL, east = -HUGE_VAL;
        for (size_t k = 0; k < ring.count; k++) {
            west = fmin(west, ring.corners[k].x);
            east = fmax(east, ring.corners[k].x);
        }
        assert_near(west, shape->west, 1e-9);
        assert_near(east, shape->east, 1e-9);
        assert_near(ring.corners[ring.count].x, ring.corners[0].x, 0.0);
    }
    arena_free(&arena);
}

static void no_corner_is_no_ring(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    struct ring ring;
    assert_non_null(ring_make(&ring, NULL, 0, &arena));
    arena_free(&arena);
}

/* A comb of 2 000 teeth has 4 001 lines, none of them meeting; one tooth put
 * aside by more than its neighbour is away is found. */
static void one_fault_among_thousands_is_found(void **state) {
    (void)state;
    enum { TEETH = 2000, CORNERS = 2 * TEETH + 2 };
    static struct position corners[CORNERS];
    for (int i = 0; i < 2 * TEETH; i++)
        corners[i] = (struct position){i % 2 ? 9.0 : 1.0, -100.0 + 0.01 * i};
    corners[2 * TEETH] = (struct position){-1.0, -60.0};
    corners[2 * TEETH + 1] = (struct position){-1.0, -100.0};
    struct arena arena;
    arena_init(&arena);
    struct ring ring;
    assert_null(ring_make(&ring, corners, CORNERS, &arena));
    corners[1001].lon_deg += 0.025;
    const char *flaw = ring_make(&ring, corners, CORNERS, &arena);
    assert_non_null(flaw);
    assert_contains(flaw, "near");
    assert_contains(flaw, "W");
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shapes_are_taken_or_told_why_not),
        cmocka_unit_test(no_corner_is_no_ring),
        cmocka_unit_test(one_fault_among_thousands_is_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
