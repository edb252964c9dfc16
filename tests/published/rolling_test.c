/* The roll integral against the damped oscillator of the textbooks, in seas so
 * narrow that one wave is all there is. */
#include "../support/check.h"

#include "earth/angle.h"
#include "sea/roll.h"
#include <math.h>

static const struct roller hull = {.length_m = 10.5,
                                   .beam_m = 3.7,
                                   .draft_m = 1.8,
                                   .period_s = 3.6,
                                   .damping = 0.08};

/* All energy within some 0.05 % of the peak frequency. */
static const struct spectrum_shape narrow = {.gamma = 1e8,
                                             .narrow_below = 0.002,
                                             .narrow_above = 0.002,
                                             .spread_power =
                                                 SPECTRUM_LONG_CRESTED};

/* By the integral, height 1 m. */
static double integral_rad2(double period_s, struct roll_meeting meeting) {
    struct spectrum sea = spectrum_make(&narrow, 1.0, period_s);
    return roll_variance_rad2(&hull, &sea, &meeting);
}

/* In closed form: variance of the slope, k^2 / 16, as the hull feels it, times
 * sin^2 of the direction, times the square of the oscillator's answer. */
static double closed_rad2(double period_s, struct roll_meeting meeting) {
    double w = 2.0 * PI / period_s, k = w * w / GRAVITY_MPS2;
    double met = w - k * meeting.speed_mps * meeting.cosine;
    double r = met * hull.period_s / (2.0 * PI);
    double stiff = 1.0 - r * r, loss = 2.0 * meeting.damping * r;
    return k * k / 16.0 * roll_hull_factor2(&hull, k) *
           (1.0 - meeting.cosine * meeting.cosine) /
           (stiff * stiff + loss * loss);
}

static void a_narrow_sea_is_one_oscillator(void **state) {
    (void)state;
    for (double period_s = 2.2; period_s < 20.0; period_s *= 1.3)
        for (double angle_deg = 10.0; angle_deg < 180.0; angle_deg += 20.0)
            for (double speed_mps = 0.0; speed_mps < 5.0; speed_mps += 2.0) {
                struct roll_meeting meeting = {
                    .speed_mps = speed_mps,
                    .cosine = cos(angle_deg * RADIANS_PER_DEGREE),
                    .damping = 0.1};
                double closed = closed_rad2(period_s, meeting);
                /* 1 % of the roll, which is the root */
                assert_near(sqrt(integral_rad2(period_s, meeting)),
                            sqrt(closed), 0.01 * sqrt(closed));
            }
}

/* Amplification 1 / (2 damping) at resonance: 5 at 0.1, 2.5 at 0.2 (textbook,
 * from memory). */
static void resonance_amplifies_by_the_damping_alone(void **state) {
    (void)state;
    static const struct {
        double damping, times;
    } rows[] = {{0.1, 5.0}, {0.2, 2.5}};
    double w = 2.0 * PI / hull.period_s, k = w * w / GRAVITY_MPS2;
    double slope = k / 4.0 * sqrt(roll_hull_factor2(&hull, k));
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct roll_meeting abeam = {.damping = rows[i].damping};
        double times = sqrt(integral_rad2(hull.period_s, abeam)) / slope;
        assert_near(times, rows[i].times, 0.01 * rows[i].times);
    }
}

/* Waves far longer than her period, abeam: she lies along the slope, k Hs / 4
 * (textbook, from memory). At 30 s the oscillator is 1.5 % above it, the hull
 * 0.4 % below. */
static void in_long_waves_she_follows_the_slope(void **state) {
    (void)state;
    double w = 2.0 * PI / 30.0;
    double slope = w * w / GRAVITY_MPS2 / 4.0;
    struct roll_meeting abeam = {.damping = 0.1};
    assert_near(sqrt(integral_rad2(30.0, abeam)), slope, 0.02 * slope);
}

/* Encounter by Fossen's we = w - w^2 U cos(b) / g (MSS toolbox, 2001): waves of
 * 8 s from ahead at 6 kn come every 6.4148 s (IMO MSC.1/Circ.1228's rounded
 * form, from memory, gives 6.4000): a boat of that roll period resonates. */
static void it_is_the_period_of_encounter_that_counts(void **state) {
    (void)state;
    struct roller slow = hull;
    slow.period_s = 6.4148;
    struct spectrum sea = spectrum_make(&narrow, 1.0, 8.0);
    double k = sea.peak_rad_s * sea.peak_rad_s / GRAVITY_MPS2;
    /* 1 degree off dead ahead: the encounter is that of dead ahead */
    double sine = sin(RADIANS_PER_DEGREE);
    struct roll_meeting meeting = {.speed_mps = 6.0 * 1852.0 / 3600.0,
                                   .cosine = -cos(RADIANS_PER_DEGREE),
                                   .damping = 0.1};
    double times = sqrt(roll_variance_rad2(&slow, &sea, &meeting)) /
                   (k / 4.0 * sine * sqrt(roll_hull_factor2(&slow, k)));
    assert_near(times, 5.0, 0.05);
}

/* Long waves at rest: abeam most, on the quarter sin 45 of it, from astern
 * nothing. */
static void beam_quarter_and_stern_come_in_that_order(void **state) {
    (void)state;
    struct roll_meeting meeting = {.damping = 0.1};
    double beam = sqrt(integral_rad2(9.0, meeting));
    meeting.cosine = sqrt(0.5);
    double quarter = sqrt(integral_rad2(9.0, meeting));
    meeting.cosine = 1.0;
    assert_near(quarter, sqrt(0.5) * beam, 1e-9);
    assert_near(integral_rad2(9.0, meeting), 0.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_narrow_sea_is_one_oscillator),
        cmocka_unit_test(resonance_amplifies_by_the_damping_alone),
        cmocka_unit_test(in_long_waves_she_follows_the_slope),
        cmocka_unit_test(it_is_the_period_of_encounter_that_counts),
        cmocka_unit_test(beam_quarter_and_stern_come_in_that_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
