#include "../support/check.h"

#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/mercator.h"
#include "earth/rhumb.h"

#include <math.h>

static void the_chart_and_back_is_the_same_place(void **state) {
    (void)state;
    struct seed seed = {1};
    for (int i = 0; i < 2000; i++) {
        struct position place = {seed_between(&seed, -89.9, 89.9),
                                 seed_between(&seed, -180.0, 180.0)};
        struct position back = mercator_position(mercator_of(place));
        assert_near(back.lat_deg, place.lat_deg, 1e-11);
        assert_angle_near(back.lon_deg, place.lon_deg, 1e-11);
    }
}

static void a_pole_is_put_at_the_rim_of_the_chart(void **state) {
    (void)state;
    struct mercator pole = mercator_of((struct position){90.0, 0.0});
    assert_near(mercator_position(pole).lat_deg, 89.99, 1e-9);
    assert_near(mercator_of((struct position){-90.0, 0.0}).y, -pole.y, 1e-12);
}

static void a_rhumb_line_is_straight_on_the_chart(void **state) {
    (void)state;
    struct position from = {43.0, 170.0};
    struct mercator a = mercator_of(from);
    double course_deg = 62.0;
    struct mercator end = mercator_near(rhumb_ahead(from, course_deg, 3e6), a);
    for (int i = 1; i < 10; i++) {
        struct mercator on =
            mercator_near(rhumb_ahead(from, course_deg, 3e5 * i), a);
        double off =
            (on.x - a.x) * (end.y - a.y) - (on.y - a.y) * (end.x - a.x);
        assert_near(off, 0.0, 1e-10);
    }
}

/* Against PROJ's geodesic, across the seam at 180, in four latitudes. */
static void
a_short_way_on_the_chart_times_the_scale_is_its_length(void **state) {
    (void)state;
    static const double lats_deg[] = {-65.0, 0.0, 48.0, 80.0};
    for (int i = 0; i < 4; i++) {
        for (double course_deg = 10.0; course_deg < 360.0; course_deg += 70.0) {
            struct position from = {lats_deg[i], 179.99};
            struct position to = geodesic_ahead(from, course_deg, 5000.0);
            struct mercator a = mercator_of(from), b = mercator_near(to, a);
            double scale_m =
                mercator_scale_m(0.5 * (from.lat_deg + to.lat_deg));
            assert_near(hypot(b.x - a.x, b.y - a.y) * scale_m, 5000.0, 0.01);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_chart_and_back_is_the_same_place),
        cmocka_unit_test(a_pole_is_put_at_the_rim_of_the_chart),
        cmocka_unit_test(a_rhumb_line_is_straight_on_the_chart),
        cmocka_unit_test(
            a_short_way_on_the_chart_times_the_scale_is_its_length),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
