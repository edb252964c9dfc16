#include "../support/check.h"

#include "earth/projection.h"
#include <math.h>

/* Along the meridian of a chart, and on its parallels, distances are true: one
 * degree of a great circle is R pi / 180 m (calculated). */
static const double RADIUS_M = 6371229.0;
static const double DEGREE_M = 6371229.0 * 3.14159265358979323846 / 180.0;

static struct projection sphere(enum projection_kind kind, double parallel,
                                double meridian) {
    return (struct projection){.kind = kind,
                               .major_m = RADIUS_M,
                               .minor_m = RADIUS_M,
                               .first_parallel_deg = parallel,
                               .second_parallel_deg = parallel,
                               .meridian_deg = meridian};
}

/* A small net at the parallel, on the meridian: y goes north, x east, whether
 * the cone or the pole is of the north or of the south. */
static void steps_go_east_and_north_on_the_meridian(void **state) {
    (void)state;
    static const struct {
        enum projection_kind kind;
        double parallel, meridian, lon;
    } cases[] = {{PROJECTION_LAMBERT, 38.5, 262.5, -97.5},
                 {PROJECTION_LAMBERT, -35.0, 295.0, 295.0},
                 {PROJECTION_POLAR, 60.0, -120.5, -120.5},
                 {PROJECTION_POLAR, -60.0, 10.0, 10.0},
                 {PROJECTION_MERCATOR, 20.0, 0.0, 179.999}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct projection chart =
            sphere(cases[i].kind, cases[i].parallel, cases[i].meridian);
        struct net net = {.first = {cases[i].parallel, cases[i].lon},
                          .step_x_m = 0.01 * DEGREE_M,
                          .step_y_m = 0.01 * DEGREE_M,
                          .columns = 2,
                          .rows = 2};
        struct position sites[4];
        double stretch =
            cos(cases[i].parallel * 3.14159265358979323846 / 180.0);
        assert_true(projection_place(&chart, &net, sites));
        assert_near(sites[0].lat_deg, cases[i].parallel, 1e-9);
        assert_angle_near(sites[0].lon_deg, cases[i].lon, 1e-9);
        assert_near(sites[2].lat_deg - cases[i].parallel, 0.01, 2e-6);
        assert_angle_near(sites[2].lon_deg, cases[i].lon, 1e-9);
        assert_angle_near(sites[1].lon_deg, cases[i].lon + 0.01 / stretch,
                          2e-6);
        assert_near(sites[1].lat_deg, cases[i].parallel, 2e-6);
        /* by columns, backwards */
        net.by_columns = true;
        net.step_x_m = -net.step_x_m;
        net.step_y_m = -net.step_y_m;
        assert_true(projection_place(&chart, &net, sites));
        assert_near(sites[1].lat_deg - cases[i].parallel, -0.01, 2e-6);
        assert_angle_near(sites[2].lon_deg, cases[i].lon - 0.01 / stretch,
                          2e-6);
    }
}

static void figures_that_make_no_sense_are_refused(void **state) {
    (void)state;
    struct projection good = sphere(PROJECTION_LAMBERT, 38.5, 262.5), bad;
    struct net net = {.first = {38.5, 262.5},
                      .step_x_m = 1000.0,
                      .step_y_m = 1000.0,
                      .columns = 2,
                      .rows = 2},
               far = net;
    struct position sites[4];
    assert_true(projection_place(&good, &net, sites));
    bad = good;
    bad.major_m = bad.minor_m = 1000.0;
    assert_false(projection_place(&bad, &net, sites));
    bad = good;
    bad.first_parallel_deg = (double)NAN;
    assert_false(projection_place(&bad, &net, sites));
    bad = good;
    bad.second_parallel_deg = -38.5; /* a cylinder, no cone */
    assert_false(projection_place(&bad, &net, sites));
    far.step_x_m = 0.0;
    assert_false(projection_place(&good, &far, sites));
    far = net;
    far.first.lat_deg = -1e100;
    assert_false(projection_place(&good, &far, sites));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steps_go_east_and_north_on_the_meridian),
        cmocka_unit_test(figures_that_make_no_sense_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
