#include "../support/check.h"

#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/sea_mask.h"

#include <stdio.h>

/* Boxes with islands, lakes, and the seam at 180. */
static const struct {
    const char *name;
    struct coast_box box;
} seas[] = {
    {"Aegean", {35, 41, 22, 29}},
    {"Fiji, over 180", {-20, -14, 176, 183}},
    {"Great Lakes to the sea", {40, 47, -80, -69}},
    {"a single place", {36, 36, 14, 14}},
};

static void the_mask_says_what_the_coast_says(void **state) {
    (void)state;
    struct arena arena;
    struct error error;
    arena_init(&arena);
    const char *path = coast_installed(&arena);
    if (!path) {
        arena_free(&arena);
        print_message("skipped: no shorelines on this machine\n");
        skip();
    }
    for (size_t i = 0; i < sizeof seas / sizeof *seas; i++) {
        const struct coast_box *box = &seas[i].box;
        struct coast *coast;
        if (!coast_load(&coast, path, box, &arena, &error))
            fail_msg("%s", error.text);
        const struct sea_mask *mask = sea_mask_make(coast, box, &arena);
        struct seed seed = {51 + i};
        int sea = 0, places = check_is_long() ? 100000 : 10000;
        for (int k = 0; k < places; k++) {
            struct position at = {
                seed_between(&seed, box->south_deg, box->north_deg),
                angle_wrap_longitude(
                    seed_between(&seed, box->west_deg, box->east_deg))};
            bool is_sea = coast_level_at(coast, at) == COAST_SEA;
            assert_int_equal(sea_mask_is_sea(mask, at), is_sea);
            sea += is_sea;
        }
        print_message("%s: %d of %d places in the sea\n", seas[i].name, sea,
                      places);
        assert_true(sea > places / 10);
    }
    arena_free(&arena);
}

/* The corners of the box are in it. */
static void the_corners_of_the_box_have_an_answer(void **state) {
    (void)state;
    struct arena arena;
    struct error error;
    arena_init(&arena);
    const char *path = coast_installed(&arena);
    if (!path) {
        arena_free(&arena);
        print_message("skipped: no shorelines on this machine\n");
        skip();
    }
    struct coast_box box = {-30.05, -28.95, 179.0, 181.25};
    struct coast *coast;
    if (!coast_load(&coast, path, &box, &arena, &error))
        fail_msg("%s", error.text);
    const struct sea_mask *mask = sea_mask_make(coast, &box, &arena);
    const struct position corners[] = {
        {-30.05, 179.0}, {-30.05, -178.75}, {-28.95, 179.0}, {-28.95, -178.75}};
    for (int i = 0; i < 4; i++)
        assert_true(sea_mask_is_sea(mask, corners[i]));
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_mask_says_what_the_coast_says),
        cmocka_unit_test(the_corners_of_the_box_have_an_answer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
