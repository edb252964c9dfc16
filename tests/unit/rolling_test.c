/* The parts of the roll add up, and each belongs to its own waves. */
#include "../support/check.h"

#include "base/units.h"
#include "plan/rolling.h"
#include <math.h>

static const struct roller roller = {.length_m = 10.0,
                                     .beam_m = 3.6,
                                     .draft_m = 1.9,
                                     .period_s = 3.6,
                                     .damping = 0.08,
                                     .sail_reach = ROLL_SAIL_REACH,
                                     .sail_run_loose = ROLL_SAIL_RUN_LOOSE,
                                     .sail_run_spar = ROLL_SAIL_RUN_SPAR};

static const struct sea crossed = {.system = {{true, 1.6, 6.0, 20.0},
                                              {true, 1.2, 10.0, 300.0},
                                              {false, 0.0, 0.0, 0.0},
                                              {true, 0.8, 13.0, 180.0}}};

static struct roll_course course_at(double twa_deg) {
    return (struct roll_course){.heading_deg = 200.0,
                                .speed_mps = 3.4,
                                .twa_deg = twa_deg,
                                .aws_mps = 6.0};
}

static double sum_of(const struct roll_parts *parts) {
    double sum = parts->sails_deg2;
    for (int i = 0; i < SEA_SYSTEMS; i++)
        sum += parts->system_deg2[i];
    return sum;
}

static void parts_add_up_to_the_roll(void **state) {
    (void)state;
    for (double twa_deg = 60.0; twa_deg <= 180.0; twa_deg += 10.0) {
        struct roll_course course = course_at(twa_deg);
        double roll_deg = roll_rms_deg(&roller, &crossed, &course);
        struct roll_parts parts =
            rolling_parts(&roller, &crossed, &course, roll_deg);
        assert_near(sum_of(&parts), roll_deg * roll_deg, 1e-9);
        assert_near(parts.damping, roll_damping(&roller, &course), 1e-12);
        assert_near(parts.system_deg2[2], 0.0, 0.0);
        for (int i = 0; i < SEA_SYSTEMS; i++)
            assert_true(i == 2 || parts.system_deg2[i] > 0.0);
    }
}

static void one_system_on_a_reach_is_all_of_it(void **state) {
    (void)state;
    struct sea one = {.system = {[1] = {true, 1.5, 7.0, 110.0}}};
    struct roll_course course = course_at(90.0);
    double roll_deg = roll_rms_deg(&roller, &one, &course);
    struct roll_parts parts = rolling_parts(&roller, &one, &course, roll_deg);
    assert_near(parts.system_deg2[1], roll_deg * roll_deg, 1e-9);
    assert_near(parts.sails_deg2, 0.0, 1e-12);
}

static void on_a_run_in_a_calm_sea_it_is_the_sails(void **state) {
    (void)state;
    struct sea calm = {.height_known = true};
    struct roll_course course = course_at(180.0);
    double roll_deg = roll_rms_deg(&roller, &calm, &course);
    struct roll_parts parts = rolling_parts(&roller, &calm, &course, roll_deg);
    assert_true(roll_deg > 0.1);
    assert_near(parts.sails_deg2, roll_deg * roll_deg, 1e-9);
}

static void no_roll_has_no_parts(void **state) {
    (void)state;
    struct sea calm = {.height_known = true};
    struct roll_course course = course_at(90.0);
    struct roll_parts parts = rolling_parts(&roller, &calm, &course, 0.0);
    assert_near(sum_of(&parts), 0.0, 0.0);
}

/* Half an hour in each of two seas. */
static void a_leg_has_the_means_of_its_steps(void **state) {
    (void)state;
    struct conditions here[2] = {
        {.sea = {.system = {{true, 1.0, 5.0, 170.0}}}},
        {.sea = {.system = {{true, 2.0, 7.0, 210.0}, {true, 1.0, 9.0, 80.0}}}}};
    struct motion motion = {
        .heading_deg = 0.0, .twa_deg = 120.0, .stw_mps = 3.0, .aws_mps = 5.0};
    double roll_deg[2] = {2.0, 4.0};
    struct rolling rolling = {.seconds = 0.0};
    for (int i = 0; i < 2; i++) {
        struct sail_step step = {.seconds = 1800.0,
                                 .roll_deg = roll_deg[i],
                                 .conditions = &here[i],
                                 .motion = &motion};
        rolling_add(&rolling, &roller, &step);
    }
    struct plan_roll roll = rolling_of_leg(&rolling);
    double sum = roll.sails_deg2;
    for (int i = 0; i < SEA_SYSTEMS; i++)
        sum += roll.system[i].roll2_deg2;
    assert_near(sum, 10.0, 1e-9); /* (4 + 16) / 2 */
    assert_true(roll.system[0].known && roll.system[1].known);
    assert_false(roll.system[2].known || roll.system[3].known);
    assert_near(roll.system[0].height_m, 1.5, 1e-12);
    assert_near(roll.system[0].period_s, 6.0, 1e-12);
    assert_angle_near(roll.system[0].off_bow_deg, -170.0, 1e-9);
    assert_near(roll.system[1].height_m, 1.0, 1e-12);
    assert_near(roll.system[1].off_bow_deg, 80.0, 1e-9);
    struct guidance_boat boat = {.heading_deg = 0.0, .speed_mps = 3.0};
    assert_near(roll.system[1].meets_s.value,
                guidance_meets_s(&boat, &here[1].sea.system[1]), 1e-9);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parts_add_up_to_the_roll),
        cmocka_unit_test(one_system_on_a_reach_is_all_of_it),
        cmocka_unit_test(on_a_run_in_a_calm_sea_it_is_the_sails),
        cmocka_unit_test(no_roll_has_no_parts),
        cmocka_unit_test(a_leg_has_the_means_of_its_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
