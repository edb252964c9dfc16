/* The table against the integral that it was made of. How near it is over its
 * whole range: tests/property/roll_test.c. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "earth/angle.h"
#include "sea/roll_table.h"
#include <math.h>

static const struct roller bare = {.length_m = 10.5,
                                   .beam_m = 3.7,
                                   .draft_m = 1.8,
                                   .period_s = 3.6,
                                   .damping = 0.08,
                                   .sail_reach = ROLL_SAIL_REACH,
                                   .sail_run_loose = ROLL_SAIL_RUN_LOOSE,
                                   .sail_run_spar = ROLL_SAIL_RUN_SPAR};

static const struct roll_course reaching = {
    .heading_deg = 20.0, .speed_mps = 3.0, .twa_deg = 120.0, .aws_mps = 6.0};

static const struct sea two_systems = {
    .system = {{true, 2.0, 7.0, 150.0}, {true, 1.5, 11.0, 200.0}}};

static struct roller with_table(struct roller roller) {
    roller.table = roll_table_make(&roller, 5.0, &arena);
    return roller;
}

static double looked_up_deg(const struct roller *roller, const struct sea *sea,
                            struct roll_course course) {
    struct roll_sea waves = roll_sea_of(roller, sea);
    return roll_rms_in_sea_deg(roller, &waves, &course);
}

/* By the table, not by the integral: near it, but not it. */
static void it_comes_near_the_integral(void **state) {
    (void)state;
    struct roller roller = with_table(bare);
    double by_table = looked_up_deg(&roller, &two_systems, reaching);
    double by_integral = roll_rms_deg(&bare, &two_systems, &reaching);
    assert_near(by_table, by_integral, 0.02 * by_integral);
    assert_true(fabs(by_table - by_integral) > 1e-9);
}

static void without_a_table_the_integral_is_taken(void **state) {
    (void)state;
    assert_near(looked_up_deg(&bare, &two_systems, reaching),
                roll_rms_deg(&bare, &two_systems, &reaching), 1e-9);
}

/* A table of another boat is seen. */
static void a_changed_boat_is_not_looked_up_in_her_old_table(void **state) {
    (void)state;
    double *fields[7];
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++) {
        struct roller roller = with_table(bare);
        double *changed[] = {&roller.beam_m,         &roller.draft_m,
                             &roller.period_s,       &roller.damping,
                             &roller.sail_run_loose, &roller.sail_run_spar,
                             &roller.sail_reach};
        fields[i] = changed[i];
        *fields[i] *= 1.5;
        double by_integral = roll_rms_deg(&roller, &two_systems, &reaching);
        assert_near(looked_up_deg(&roller, &two_systems, reaching), by_integral,
                    1e-9);
        struct roller made = with_table(roller);
        assert_near(looked_up_deg(&made, &two_systems, reaching), by_integral,
                    0.02 * by_integral);
    }
}

/* The heading by its sine and cosine is the heading. */
static void a_heading_may_be_given_by_its_sine_and_cosine(void **state) {
    (void)state;
    struct roller roller = with_table(bare);
    struct roll_sea waves = roll_sea_of(&roller, &two_systems);
    struct roll_course course = reaching;
    double sine, cosine;
    sincos_deg(course.heading_deg, &sine, &cosine);
    course.heading_deg = 211.0; /* does not count */
    assert_near(roll_rms_heading_deg(&roller, &waves, &course, sine, cosine),
                looked_up_deg(&roller, &two_systems, reaching), 0.0);
}

/* Swell longer than the table: the slope is right, the hull's answer that of
 * the longest. */
static void swell_beyond_the_table_stays_near_the_integral(void **state) {
    (void)state;
    struct roller roller = with_table(bare);
    for (double period_s = 30.0; period_s <= 40.0; period_s += 2.0) {
        struct sea sea = {.system[1] = {true, 3.0, period_s, 110.0}};
        double by_integral = roll_rms_deg(&bare, &sea, &reaching);
        assert_near(looked_up_deg(&roller, &sea, reaching), by_integral,
                    0.05 * by_integral);
    }
}

static void a_speed_beyond_the_table_counts_as_its_fastest(void **state) {
    (void)state;
    struct roller roller = with_table(bare);
    struct roll_course fastest = reaching, faster = reaching;
    fastest.speed_mps = 5.0;
    faster.speed_mps = 9.0;
    assert_near(looked_up_deg(&roller, &two_systems, faster),
                looked_up_deg(&roller, &two_systems, fastest), 1e-9);
}

static void what_does_not_roll_her_is_no_wave(void **state) {
    (void)state;
    struct roller roller = with_table(bare);
    struct sea none = {.system = {{true, 0.0, 0.0, 90.0},
                                  {true, 3.0, 0.5, 90.0},
                                  {true, 0.0, 8.0, 90.0},
                                  {false, 9.0, 6.0, 90.0}}};
    assert_int_equal(roll_sea_of(&roller, &none).count, 0);
    assert_near(looked_up_deg(&roller, &none, reaching), 0.0, 0.0);
}

/* The same bytes whenever it is made. */
static void it_is_made_the_same_each_time(void **state) {
    (void)state;
    struct roller first = with_table(bare), second = with_table(bare);
    assert_int_equal(roll_table_bytes(first.table),
                     roll_table_bytes(second.table));
    struct seed seed = {3};
    for (int i = 0; i < 1000; i++) {
        struct sea sea = {.height_known = false};
        sea.system[i % 2] = (struct wave_system){
            true, 1.0, seed_between(&seed, 2, 22), seed_between(&seed, 0, 360)};
        struct roll_course course = reaching;
        course.speed_mps = seed_between(&seed, 0, 5);
        assert_near(looked_up_deg(&first, &sea, course),
                    looked_up_deg(&second, &sea, course), 0.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_comes_near_the_integral),
        cmocka_unit_test(without_a_table_the_integral_is_taken),
        cmocka_unit_test(a_changed_boat_is_not_looked_up_in_her_old_table),
        cmocka_unit_test(a_heading_may_be_given_by_its_sine_and_cosine),
        cmocka_unit_test(swell_beyond_the_table_stays_near_the_integral),
        cmocka_unit_test(a_speed_beyond_the_table_counts_as_its_fastest),
        cmocka_unit_test(what_does_not_roll_her_is_no_wave),
        cmocka_unit_test(it_is_made_the_same_each_time),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
