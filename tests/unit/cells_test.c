#include "../support/check.h"
#include "../support/scratch.h"

#include "earth/rhumb.h"
#include "search/cells.h"
#include "voyage/deck.h"
#include <math.h>

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

/* Rows of the table of latitudes at both ends of the earth, and beyond. */
static void a_cell_is_the_same_from_anywhere_inside_it(void **state) {
    (void)state;
    static const struct {
        double a_lat, a_lon, b_lat, b_lon;
        bool same;
    } rows[] = {
        /* cells of 1 degree of latitude from the pole, of longitude from the
         * origin at 20 E: at the equator 1 degree, at 60 a little more than 2
         */
        {0.1, 20.1, 0.9, 20.9, true},       {0.1, 20.1, 0.9, 21.1, false},
        {0.9, 20.1, 1.1, 20.1, false},      {0.1, 19.9, 0.1, 20.1, false},
        {59.1, 20.1, 59.9, 21.7, true},     {59.1, 20.1, 59.9, 22.1, false},
        {-0.1, 179.9, -0.1, -179.9, false}, /* 160 degrees east: an edge */
        {-0.1, 179.6, -0.1, 179.9, true},   {0.1, -179.9, 0.9, -179.1, true},
        {90.0, 20.0, 90.0, 21.0, true},     {90.0, 20.0, 90.5, 20.0, true},
        {-90.0, 20.0, -89.5, 21.0, true},   {-90.0, 20.0, -91.0, 20.0, true},
        {-90.0, 20.0, 90.0, 20.0, false},
    };
    struct cells cells = cells_of(111195.0, 20.0);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct position a = {rows[i].a_lat, rows[i].a_lon};
        struct position b = {rows[i].b_lat, rows[i].b_lon};
        assert_int_equal(cells_key(&cells, a, 2) == cells_key(&cells, b, 2),
                         rows[i].same);
    }
}

/* Nothing within 80 degrees of the equator shares a key with what is further
 * off than a cell's diagonal. */
static void a_key_stands_for_one_cell_alone(void **state) {
    (void)state;
    static const double cells_m[] = {500.0, 20000.0, 300000.0};
    struct seed seed = {6};
    for (size_t i = 0; i < 3; i++) {
        struct cells cells = cells_of(cells_m[i], 140.0);
        int same = 0;
        for (int k = 0; k < 5000; k++) {
            struct position a = {seed_between(&seed, -80.0, 80.0),
                                 seed_between(&seed, -180.0, 180.0)};
            double off_m = seed_between(&seed, 0.0, 4.0) * cells_m[i];
            struct position b =
                rhumb_ahead(a, seed_between(&seed, 0.0, 360.0), off_m);
            if (cells_key(&cells, a, 0) != cells_key(&cells, b, 0))
                continue;
            same++;
            assert_true(off_m < 1.6 * cells_m[i]);
        }
        assert_true(same > 300);
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
        cmocka_unit_test(a_cell_is_the_same_from_anywhere_inside_it),
        cmocka_unit_test(a_key_stands_for_one_cell_alone),
        cmocka_unit_test(deck_states_do_not_share_a_cell),
        cmocka_unit_test(the_date_line_is_no_seam),
        cmocka_unit_test(what_was_put_in_is_found_again_after_growing),
        cmocka_unit_test(what_was_not_put_in_is_not_found),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
