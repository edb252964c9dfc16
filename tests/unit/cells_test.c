#include "../support/check.h"

#include "earth/rhumb.h"
#include "search/cells.h"
#include "voyage/deck.h"
#include <math.h>

static struct arena arena;

static int set_up(void **state) {
    (void)state;
    arena_init(&arena);
    return 0;
}

static int tear_down(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static struct cells cells_of(double cell_m, double lon_deg) {
    struct cells cells;
    struct position origin = {0.0, lon_deg};
    cells_init(&cells, &arena, cell_m, origin);
    return cells;
}

static void places_a_cell_apart_have_keys_of_their_own(void **state) {
    (void)state;
    static const double latitudes[] = {-65.0, -20.0, 0.0, 40.0, 70.0};
    struct cells cells = cells_of(10000.0, -30.0);
    for (size_t i = 0; i < sizeof latitudes / sizeof *latitudes; i++) {
        struct position here = {latitudes[i], -25.0};
        uint64_t key = cells_key(&cells, here, 0);
        assert_true(key != 0);
        for (int course = 0; course < 360; course += 15) {
            struct position there = rhumb_ahead(here, course, 15000.0);
            assert_true(cells_key(&cells, there, 0) != key);
        }
    }
}

/* Of places spread evenly over a square of ten cells by ten, about a hundredth
 * falls into one cell, at any latitude: 1600 into 81 to 132 cells. */
static void cells_are_as_large_as_asked_for_at_any_latitude(void **state) {
    (void)state;
    static const double latitudes[] = {-60.0, 0.5, 35.0, 65.0};
    for (size_t i = 0; i < sizeof latitudes / sizeof *latitudes; i++) {
        struct cells cells = cells_of(20000.0, 10.0);
        struct position corner = {latitudes[i], 12.0};
        for (int row = 0; row < 40; row++)
            for (int column = 0; column < 40; column++) {
                struct position at =
                    rhumb_ahead(rhumb_ahead(corner, 0.0, row * 5000.0), 90.0,
                                column * 5000.0);
                bool made;
                cells_make(&cells, cells_key(&cells, at, 3), &made);
            }
        assert_in_range(cells.count, 81, 132);
    }
}

static void deck_states_do_not_share_a_cell(void **state) {
    (void)state;
    struct cells cells = cells_of(5000.0, 0.0);
    struct position here = {12.3, 4.5};
    for (int a = 0; a < DECK_STATES; a++)
        for (int b = 0; b < a; b++)
            assert_true(cells_key(&cells, here, a) !=
                        cells_key(&cells, here, b));
}

static void the_date_line_is_no_seam(void **state) {
    (void)state;
    struct cells cells = cells_of(20000.0, 175.0);
    struct position west = {-17.0, 179.99999}, east = {-17.0, -179.99999};
    struct position wrapped = {-17.0, -180.0};
    assert_true(cells_key(&cells, west, 0) == cells_key(&cells, east, 0));
    assert_true(cells_key(&cells, west, 0) == cells_key(&cells, wrapped, 0));
}

static void what_was_put_in_is_found_again_after_growing(void **state) {
    (void)state;
    enum { COUNT = 50000 };
    struct cells cells = cells_of(1000.0, 0.0);
    struct seed seed = {5};
    static struct position places[COUNT];
    size_t distinct = 0;
    for (int i = 0; i < COUNT; i++) {
        bool made;
        places[i] = (struct position){seed_between(&seed, -70.0, 70.0),
                                      seed_between(&seed, -180.0, 180.0)};
        uint64_t key = cells_key(&cells, places[i], i % DECK_STATES);
        struct cell *cell = cells_make(&cells, key, &made);
        assert_true(cell->key == key);
        distinct += made;
        if (made)
            cell->label = (uint32_t)i;
    }
    assert_int_equal(cells.count, distinct);
    assert_true(distinct > COUNT * 9 / 10);
    size_t own = 0;
    for (int i = 0; i < COUNT; i++) {
        uint64_t key = cells_key(&cells, places[i], i % DECK_STATES);
        const struct cell *cell = cells_find(&cells, key);
        assert_non_null(cell);
        own += cell->label == (uint32_t)i;
    }
    assert_int_equal(own, distinct);
}

static void what_was_not_put_in_is_not_found(void **state) {
    (void)state;
    struct cells cells = cells_of(1000.0, 0.0);
    struct position here = {10.0, 10.0}, there = {10.0, 11.0};
    bool made;
    assert_null(cells_find(&cells, cells_key(&cells, here, 0)));
    cells_make(&cells, cells_key(&cells, here, 0), &made);
    assert_true(made);
    cells_make(&cells, cells_key(&cells, here, 0), &made);
    assert_false(made);
    assert_non_null(cells_find(&cells, cells_key(&cells, here, 0)));
    assert_null(cells_find(&cells, cells_key(&cells, here, 1)));
    assert_null(cells_find(&cells, cells_key(&cells, there, 0)));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(places_a_cell_apart_have_keys_of_their_own),
        cmocka_unit_test(cells_are_as_large_as_asked_for_at_any_latitude),
        cmocka_unit_test(deck_states_do_not_share_a_cell),
        cmocka_unit_test(the_date_line_is_no_seam),
        cmocka_unit_test(what_was_put_in_is_found_again_after_growing),
        cmocka_unit_test(what_was_not_put_in_is_not_found),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
