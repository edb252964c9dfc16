/* The polar V0 |sin b| has a hull in closed form: two half circles and two
 * flats at V0 / 2, whatever is reached by two headings in turn (the
 * construction: M. Rabaud, "Optimal routing in sailing", Sports Physics,
 * Palaiseau, 8-10 June 2016). Its figures, V0 = 8, must come out of a polar
 * file of it. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "boat/polar.h"
#include "earth/angle.h"
#include <math.h>
#include <stdio.h>

#define V0_KN 8.0

static struct polar polar;

static int set_up(void **state) {
    static char text[16000];
    size_t used = (size_t)snprintf(text, sizeof text, "V0 sin b,5,30\n");
    for (int angle = 0; angle <= 180; angle++) {
        double speed_kn = fabs(V0_KN * sin(angle * RADIANS_PER_DEGREE));
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "%d,%.12f,%.12f\n", angle, speed_kn, speed_kn);
    }
    scratch_begin(state);
    struct error error = {.text = ""};
    if (!polar_load(&polar, check_write("sine.csv", text), &arena, &error))
        print_error("%s\n", error.text);
    return polar.angles == 181 ? 0 : -1;
}

static double speed_kn(double twa_deg) {
    return mps_to_kn(polar_speed(&polar, twa_deg, kn_to_mps(15)));
}

/* Speed made good in the direction `along_deg` with two headings in turn such
 * that the drift across it cancels; or with one, the direction itself. */
static double made_good_kn(double along_deg) {
    double best_kn = speed_kn(along_deg);
    for (double a = along_deg - 90.0; a <= along_deg; a += 0.5)
        for (double b = along_deg; b <= along_deg + 90.0; b += 0.5) {
            double left_rad = (along_deg - a) * RADIANS_PER_DEGREE;
            double right_rad = (b - along_deg) * RADIANS_PER_DEGREE;
            double left = speed_kn(angle_wrap_180(a));
            double right = speed_kn(angle_wrap_180(b));
            double across_left = left * sin(left_rad);
            double across_right = right * sin(right_rad);
            double both = across_left + across_right;
            if (both <= 0.0)
                continue;
            /* share of time on the left heading: across_right / both */
            double along = (left * cos(left_rad) * across_right +
                            right * cos(right_rad) * across_left) /
                           both;
            best_kn = fmax(best_kn, along);
        }
    return best_kn;
}

static void best_downwind_is_half_the_top_speed_at_135(void **state) {
    (void)state;
    double twa_deg;
    double best_mps = polar_best_downwind(&polar, kn_to_mps(15), &twa_deg);
    assert_near(mps_to_kn(best_mps), V0_KN / 2.0, 1e-9);
    assert_near(twa_deg, 135.0, 1e-9);
}

static void speed_made_good_follows_the_hull(void **state) {
    (void)state;
    static const struct {
        double along_deg, made_good_kn;
    } rows[] = {
        {0, 4.0}, {20, 4.256711}, {45, 5.656854}, {60, 6.928203}, {90, 8.0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_near(made_good_kn(rows[i].along_deg), rows[i].made_good_kn,
                    1e-3);
        assert_near(made_good_kn(180.0 - rows[i].along_deg),
                    rows[i].made_good_kn, 1e-3);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(best_downwind_is_half_the_top_speed_at_135),
        cmocka_unit_test(speed_made_good_follows_the_hull),
    };
    return cmocka_run_group_tests(tests, set_up, scratch_end);
}
