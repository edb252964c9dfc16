#include "../support/check.h"

#include "earth/angle.h"
#include "forecast/resample.h"
#include <math.h>
#include <stdlib.h>

enum { POINTS = 4000 };

/* A grid as written, its values and what becomes of them. */
struct trial {
    struct position sites[POINTS];
    float values[POINTS];
    uint8_t known[POINTS];
    struct outlay outlay;
    struct resampling resampling;
    float *made;
    uint8_t *made_known;
};

static void add(struct trial *trial, double lat, double lon, double value) {
    size_t i = trial->outlay.count++;
    assert_true(i < POINTS);
    trial->sites[i] = (struct position){lat, lon};
    trial->values[i] = (float)value;
    trial->known[i] = 1;
}

static size_t run(struct trial *trial, bool is_direction) {
    trial->outlay.sites = trial->sites;
    const char *fault = resampling_make(&trial->outlay, &trial->resampling);
    if (fault)
        fail_msg("%s", fault);
    size_t points = grid_points(&trial->resampling.grid);
    trial->made = calloc(points, sizeof *trial->made);
    trial->made_known = calloc(points, 1);
    struct written written = {trial->values, trial->known, is_direction};
    return resampling_apply(&trial->resampling, written, trial->made,
                            trial->made_known);
}

static void end(struct trial *trial) {
    resampling_free(&trial->resampling);
    free(trial->made);
    free(trial->made_known);
}

/* The point of the grid made that lies there, within a millionth of a degree.
 */
static size_t point_at(const struct trial *trial, double lat, double lon) {
    const struct grid *grid = &trial->resampling.grid;
    for (size_t i = 0; i < grid_points(grid); i++) {
        struct position place = grid_position(grid, i);
        if (fabs(place.lat_deg - lat) < 1e-6 &&
            fabs(angle_wrap_180(place.lon_deg - lon)) < 1e-6)
            return i;
    }
    fail_msg("no point at %g %g", lat, lon);
    return 0;
}

static void assert_value(const struct trial *trial, double lat, double lon,
                         double expected) {
    size_t i = point_at(trial, lat, lon);
    assert_true(trial->made_known[i]);
    assert_near((double)trial->made[i], expected, 1e-5);
}

/* --- rows ------------------------------------------------------------------*/

/* Rows at 0, 1 and 2 N of 8, 4 and 2 points round the globe, from north to
 * south in the message. By hand: at 45 E 2 N the row of two points (values 10
 * and 20 at 0 and 180 E) gives 12.5; at 45 E 1 N that of four (1, 2, 3, 4)
 * gives 1.5.
 */
static void rows_of_unlike_lengths_are_linear_each(void **state) {
    (void)state;
    struct trial trial = {0};
    add(&trial, 2.0, 0.0, 10.0);
    add(&trial, 2.0, 180.0, 20.0);
    for (int i = 0; i < 4; i++)
        add(&trial, 1.0, 90.0 * i, 1.0 + i);
    for (int i = 0; i < 8; i++)
        add(&trial, 0.0, 45.0 * i, 100.0 + i);
    assert_int_equal(run(&trial, false), 0);
    assert_int_equal(trial.resampling.grid.ni, 8);
    assert_int_equal(trial.resampling.grid.nj, 3);
    assert_true(trial.resampling.grid.wraps);
    assert_value(&trial, 2.0, 45.0, 12.5);
    assert_value(&trial, 2.0, -45.0, 12.5);
    assert_value(&trial, 1.0, 45.0, 1.5);
    assert_value(&trial, 1.0, -45.0, 2.5); /* between 4 and 1 */
    assert_value(&trial, 0.0, -45.0, 107.0);
    end(&trial);
}

/* Rows to and fro: the second in the message runs from east to west, while its
 * places are given from west to east. */
static void rows_to_and_fro_are_read_backwards(void **state) {
    (void)state;
    struct trial trial = {.outlay = {.alternating = true}};
    for (int i = 0; i < 3; i++)
        add(&trial, 10.0, 179.0 + i, 1.0 + i);
    for (int i = 0; i < 3; i++)
        add(&trial, 11.0, 179.0 + i, 30.0 - i);
    assert_int_equal(run(&trial, false), 0);
    assert_value(&trial, 10.0, 179.0, 1.0);
    assert_value(&trial, 10.0, -179.0, 3.0);
    assert_value(&trial, 11.0, 179.0, 28.0);
    assert_value(&trial, 11.0, -179.0, 30.0);
    end(&trial);
}

/* A row of 0 to 4 E above one of 2 to 4 E: no place west of 2 E between them.
 */
static void nothing_is_carried_beyond_a_row(void **state) {
    (void)state;
    struct trial trial = {0};
    for (int i = 0; i < 3; i++)
        add(&trial, 0.0, 2.0 + i, 1.0);
    for (int i = 0; i < 5; i++)
        add(&trial, 1.5, i, 1.0);
    for (int i = 0; i < 5; i++)
        add(&trial, 2.0, i, 1.0);
    run(&trial, false);
    const struct grid *grid = &trial.resampling.grid;
    for (size_t i = 0; i < grid_points(grid); i++) {
        struct position place = grid_position(grid, i);
        bool inside =
            place.lat_deg >= 1.5 - 1e-9 || place.lon_deg >= 2.0 - 1e-9;
        assert_int_equal(trial.made_known[i], inside);
    }
    end(&trial);
}

static void rows_that_are_none_are_refused(void **state) {
    (void)state;
    struct trial uneven = {0}, jumping = {0};
    static const double lons[] = {0.0, 1.0, 3.0};
    for (int i = 0; i < 6; i++)
        add(&uneven, i / 3, lons[i % 3], 0.0);
    uneven.outlay.sites = uneven.sites;
    assert_string_equal(resampling_make(&uneven.outlay, &uneven.resampling),
                        "rows that are not evenly spaced");
    static const double lats[] = {0.0, 2.0, 1.0};
    for (int i = 0; i < 6; i++)
        add(&jumping, lats[i / 2], i % 2, 0.0);
    jumping.outlay.sites = jumping.sites;
    assert_string_equal(resampling_make(&jumping.outlay, &jumping.resampling),
                        "rows that are in no order");
    assert_null(jumping.resampling.blends);
}

/* --- lines -----------------------------------------------------------------*/

/* A chart that is flat at heart: `side` x `side` points, `step_deg` apart,
 * turned by `turn_deg` round its middle. */
static void lay_lines(struct trial *trial, int side, double step_deg,
                      double turn_deg, struct position middle) {
    double s, c;
    sincos_deg(turn_deg, &s, &c);
    trial->outlay.inner = (size_t)side;
    for (int k = 0; k < side * side; k++) {
        double x = step_deg * (k % side - 0.5 * (side - 1));
        double y = step_deg * (k / side - 0.5 * (side - 1));
        double east = x * c - y * s, north = x * s + y * c;
        add(trial, middle.lat_deg + north, middle.lon_deg + east,
            5.0 + 0.3 * east + 0.2 * north);
    }
}

/* At the equator degrees are alike and a field that is linear in them is linear
 * on the plane of each cell, but for its tangent: 1e-5 of a cell of 0.5 degree.
 */
static void turned_lines_give_a_linear_field_back(void **state) {
    (void)state;
    static const double turns[] = {0.0, 10.0, 45.0, 135.0, 200.0};
    for (size_t t = 0; t < sizeof turns / sizeof *turns; t++) {
        struct trial trial = {0};
        struct position middle = {0.0, 179.9};
        lay_lines(&trial, 21, 0.5, turns[t], middle);
        size_t gone = run(&trial, false);
        const struct grid *grid = &trial.resampling.grid;
        assert_near(grid->lat_step_deg, 0.5, 0.011);
        for (size_t i = 0; i < grid_points(grid); i++) {
            struct position place = grid_position(grid, i);
            double east = angle_wrap_180(place.lon_deg - middle.lon_deg);
            if (!trial.made_known[i])
                continue;
            assert_near((double)trial.made[i],
                        5.0 + 0.3 * east + 0.2 * place.lat_deg, 1e-4);
        }
        /* the chart covers its own part of the box round it, no more */
        double s, c;
        sincos_deg(turns[t], &s, &c);
        double filled = 1.0 - (double)gone / (double)grid_points(grid);
        assert_near(filled, 1.0 / pow(fabs(s) + fabs(c), 2.0), 0.09);
        end(&trial);
    }
}

/* One corner of the cell is masked: the others share its weight. All four: no
 * value. */
static void masked_points_drop_out(void **state) {
    (void)state;
    struct trial trial = {0};
    struct position middle = {0.0, 0.0};
    lay_lines(&trial, 4, 1.0, 0.0, middle);
    for (int i = 0; i < 16; i++)
        trial.values[i] = 2.0F;
    trial.known[5] = 0;
    assert_int_equal(run(&trial, false), 0);
    size_t whole = grid_points(&trial.resampling.grid);
    for (size_t i = 0; i < whole; i++)
        assert_near((double)trial.made[i], 2.0, 1e-6);
    end(&trial);
    for (int i = 0; i < 16; i++)
        trial.known[i] = i % 4 >= 2;
    size_t gone = run(&trial, false);
    assert_true(gone > 0 && gone < whole);
    end(&trial);
}

/* 350 and 10 degrees: north between, not south. */
static void directions_are_blended_round_the_circle(void **state) {
    (void)state;
    struct trial trial = {0};
    struct position middle = {0.0, 0.0};
    lay_lines(&trial, 4, 1.0, 0.0, middle);
    for (int i = 0; i < 16; i++)
        trial.values[i] = i % 2 ? 350.0F : 10.0F;
    run(&trial, true);
    for (size_t i = 0; i < grid_points(&trial.resampling.grid); i++)
        assert_true(cos((double)trial.made[i] * RADIANS_PER_DEGREE) > 0.98);
    end(&trial);
}

/* Lines round the globe whose last point is beside the first. */
static void closed_lines_have_no_seam(void **state) {
    (void)state;
    struct trial trial = {.outlay = {.inner = 36}};
    for (int j = 0; j < 5; j++) {
        for (int i = 0; i < 36; i++)
            add(&trial, 10.0 * (j - 2), 10.0 * i, 1.0);
    }
    assert_int_equal(run(&trial, false), 0);
    assert_true(trial.resampling.grid.wraps);
    end(&trial);
}

static void points_at_one_place_are_refused(void **state) {
    (void)state;
    struct trial trial = {.outlay = {.inner = 2}};
    for (int i = 0; i < 4; i++)
        add(&trial, 10.0, 20.0, 1.0);
    trial.outlay.sites = trial.sites;
    assert_string_equal(resampling_make(&trial.outlay, &trial.resampling),
                        "points that are all at one place");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_of_unlike_lengths_are_linear_each),
        cmocka_unit_test(rows_to_and_fro_are_read_backwards),
        cmocka_unit_test(nothing_is_carried_beyond_a_row),
        cmocka_unit_test(rows_that_are_none_are_refused),
        cmocka_unit_test(turned_lines_give_a_linear_field_back),
        cmocka_unit_test(masked_points_drop_out),
        cmocka_unit_test(directions_are_blended_round_the_circle),
        cmocka_unit_test(closed_lines_have_no_seam),
        cmocka_unit_test(points_at_one_place_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
