/* Fetch, on an invented coast (tests/support/gshhg_maker.h): a square island 24
 * to 36 E, 6 S to 6 N, with nothing near it. */
#include "../support/check.h"
#include "../support/gshhg_maker.h"
#include "../support/scratch.h"

#include "earth/fetch.h"
#include "earth/geodesic.h"
#include <math.h>

static const struct coast_box box = {-15.0, 15.0, 10.0, 50.0};

static const struct sea_mask *mask;
static const struct fetch *fetch;

static int set_up(void **state) {
    struct gshhg gshhg = gshhg_make();
    struct coast *coast;
    struct error error;
    scratch_begin(state);
    if (!coast_load(&coast, gshhg_write(&gshhg, "fetch.nc"), &box, &arena,
                    &error))
        fail_msg("%s", error.text);
    mask = sea_mask_make(coast, &box, &arena);
    fetch = fetch_make(mask, &box, &arena);
    return 0;
}

static double effective_m(struct position at, double from_deg, double open_m) {
    struct fetch_fan fan;
    if (!fetch_fan_at(fetch, at, &fan))
        return open_m;
    return fetch_effective_m(fetch, &fan, vector_towards(from_deg, 1.0),
                             open_m);
}

static double degrees_m(double degrees) {
    return geodesic_between((struct position){0.0, 0.0},
                            (struct position){0.0, degrees})
        .distance_m;
}

/* West of the middle of its west side, the wind from the island: within a
 * tenth, and the steps of a ray, a straight coast has the fetch of its
 * distance.
 */
static void a_straight_coast_has_the_fetch_of_its_distance(void **state) {
    (void)state;
    for (double off_deg = 0.2; off_deg < 1.2; off_deg += 0.17) {
        double off_m = degrees_m(off_deg);
        struct position at = {0.3, 24.0 - off_deg};
        assert_near(effective_m(at, 90.0, 3e5), off_m, 0.1 * off_m + 2500.0);
    }
}

static void a_wind_off_the_sea_has_open_water(void **state) {
    (void)state;
    static const struct position at[] = {
        {0.0, 23.5}, {0.0, 23.95}, {0.0, 20.0}};
    for (size_t i = 0; i < sizeof at / sizeof *at; i++)
        assert_near(effective_m(at[i], 270.0, 2e5), 2e5, 0.02 * 2e5);
}

static void a_slanting_wind_has_less_than_open_water(void **state) {
    (void)state;
    struct position at = {0.0, 23.5};
    double off_m = effective_m(at, 90.0, 3e5);
    double along_m = effective_m(at, 0.0, 3e5);
    double on_m = effective_m(at, 270.0, 3e5);
    assert_true(off_m < 0.5 * along_m);
    assert_true(along_m < 0.9 * on_m);
}

/* Downwind of it the fetch grows with the distance, without end of the lee. */
static void the_lee_ends_slowly(void **state) {
    (void)state;
    double before_m = 0.0;
    for (double off_deg = 0.1; off_deg < 8.0; off_deg += 0.4) {
        double fetch_m =
            effective_m((struct position){0.0, 24.0 - off_deg}, 90.0, 1e6);
        assert_true(fetch_m > before_m);
        assert_true(fetch_m < 1e6);
        before_m = fetch_m;
    }
    assert_true(before_m > 7e5);
}

static void mirrored_places_have_mirrored_fetches(void **state) {
    (void)state;
    struct seed seed = {21};
    for (int i = 0; i < 300; i++) {
        double lat_deg = seed_between(&seed, 0.0, 12.0);
        double off_deg = seed_between(&seed, 6.1, 16.0);
        double from_deg = seed_between(&seed, 0.0, 360.0);
        double a = effective_m((struct position){lat_deg, 30.0 + off_deg},
                               from_deg, 4e5);
        double b = effective_m((struct position){lat_deg, 30.0 - off_deg},
                               -from_deg, 4e5);
        double c = effective_m((struct position){-lat_deg, 30.0 + off_deg},
                               180.0 - from_deg, 4e5);
        assert_near(a, b, 0.03 * 4e5);
        assert_near(a, c, 0.03 * 4e5);
    }
}

static void no_place_has_less_than_the_least_nor_more_than_open(void **state) {
    (void)state;
    struct seed seed = {22};
    int sheltered = 0;
    for (int i = 0; i < 3000; i++) {
        struct position at = {seed_between(&seed, -15.0, 15.0),
                              seed_between(&seed, 10.0, 50.0)};
        double open_m = exp(seed_between(&seed, log(500.0), log(2e6)));
        double fetch_m =
            effective_m(at, seed_between(&seed, 0.0, 360.0), open_m);
        assert_true(fetch_m <= open_m);
        assert_true(fetch_m >= fmin(open_m, FETCH_LEAST_M));
        sheltered += fetch_m < 0.5 * open_m;
    }
    assert_true(sheltered > 100);
}

/* A longer reach of open water never makes the fetch shorter. */
static void the_fetch_grows_with_what_is_asked(void **state) {
    (void)state;
    struct position at = {5.0, 37.0};
    double before_m = 0.0;
    for (double open_m = 1e3; open_m < 1e6; open_m *= 1.5) {
        double fetch_m = effective_m(at, 250.0, open_m);
        assert_true(fetch_m >= before_m);
        before_m = fetch_m;
    }
}

/* From place to place it changes little. */
static void the_fetch_has_no_jumps(void **state) {
    (void)state;
    double before_m = effective_m((struct position){0.0, 12.0}, 80.0, 2e5);
    for (double lon_deg = 12.01; lon_deg < 23.9; lon_deg += 0.01) {
        double fetch_m =
            effective_m((struct position){0.0, lon_deg}, 80.0, 2e5);
        assert_near(fetch_m, before_m, 0.06 * 2e5);
        before_m = fetch_m;
    }
}

static void beyond_what_is_known_all_is_open(void **state) {
    (void)state;
    struct fetch_fan fan;
    assert_false(fetch_fan_at(fetch, (struct position){16.0, 30.0}, &fan));
    assert_false(fetch_fan_at(fetch, (struct position){0.0, 51.0}, &fan));
    assert_false(fetch_fan_at(fetch, (struct position){0.0, 9.0}, &fan));
    /* the corners of the box belong to it */
    assert_true(effective_m((struct position){-15.0, 10.0}, 0.0, 1e5) > 0.0);
    assert_true(effective_m((struct position){15.0, 50.0}, 0.0, 1e5) > 0.0);
}

/* Asked by several threads at once, the answers are those of one alone. */
static void threads_get_the_same_answers(void **state) {
    (void)state;
    enum { PLACES = 400 };
    static double alone[PLACES], together[PLACES];
    const struct fetch *fresh = fetch_make(mask, &box, &arena);
    for (int i = 0; i < PLACES; i++)
        alone[i] = effective_m(
            (struct position){-9.0 + 0.045 * i, 21.0 + 0.04 * i}, 45.0, 3e5);
#pragma omp parallel for num_threads(4) schedule(dynamic, 1)
    for (int i = 0; i < PLACES; i++) {
        struct fetch_fan fan;
        struct position at = {-9.0 + 0.045 * i, 21.0 + 0.04 * i};
        together[i] = 3e5;
        if (fetch_fan_at(fresh, at, &fan))
            together[i] =
                fetch_effective_m(fresh, &fan, vector_towards(45.0, 1.0), 3e5);
    }
    for (int i = 0; i < PLACES; i++)
        assert_near(together[i], alone[i], 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_straight_coast_has_the_fetch_of_its_distance),
        cmocka_unit_test(a_wind_off_the_sea_has_open_water),
        cmocka_unit_test(a_slanting_wind_has_less_than_open_water),
        cmocka_unit_test(the_lee_ends_slowly),
        cmocka_unit_test(mirrored_places_have_mirrored_fetches),
        cmocka_unit_test(no_place_has_less_than_the_least_nor_more_than_open),
        cmocka_unit_test(the_fetch_grows_with_what_is_asked),
        cmocka_unit_test(the_fetch_has_no_jumps),
        cmocka_unit_test(beyond_what_is_known_all_is_open),
        cmocka_unit_test(threads_get_the_same_answers),
    };
    return cmocka_run_group_tests(tests, set_up, scratch_end);
}
