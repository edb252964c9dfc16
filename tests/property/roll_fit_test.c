/* What holds of every fit, on seeded observations. */
#include "../support/check.h"

#include "base/units.h"
#include "boat/roll_fit.h"
#include <math.h>

enum { MOST = 4 };

static int rounds(void) {
    return check_is_long() ? 100 : 8;
}

/* One step of the last decimal that is told. */
#define LAST_DECIMAL 1e-4

static struct roller hull_of(struct seed *seed) {
    return (struct roller){.length_m = 11.0,
                           .beam_m = 3.8,
                           .draft_m = 1.9,
                           .period_s = seed_between(seed, 3.0, 7.0),
                           .damping = seed_between(seed, 0.05, 0.15),
                           .sail_reach = seed_between(seed, 0.0, 0.3),
                           .sail_run_loose = seed_between(seed, -0.1, 0.1),
                           .sail_run_spar = seed_between(seed, -0.1, 0.1)};
}

/* Any course and sea; what was seen is up to half wrong. */
static struct roll_case case_of(struct seed *seed,
                                const struct roller *roller) {
    double twa_deg = seed_between(seed, 90.0, 180.0);
    struct roll_case one = {
        .course = {.heading_deg = seed_between(seed, 0.0, 360.0),
                   .speed_mps = seed_between(seed, 2.0, 4.5),
                   .twa_deg =
                       seed_between(seed, 0.0, 1.0) < 0.5 ? twa_deg : -twa_deg,
                   .aws_mps = seed_between(seed, 3.0, 12.0),
                   .spar_drawing = seed_between(seed, 0.0, 1.0) < 0.5}};
    for (int i = 0; i < 2; i++)
        one.sea.system[i] = (struct wave_system){
            true, seed_between(seed, 0.5, 3.0), seed_between(seed, 4.0, 12.0),
            seed_between(seed, 0.0, 360.0)};
    sea_complete(&one.sea);
    one.seen_rms_deg = roll_rms_deg(roller, &one.sea, &one.course) *
                       seed_between(seed, 0.5, 1.5);
    return one;
}

static int some(struct seed *seed, const struct roller *roller,
                struct roll_case cases[MOST]) {
    int count = (int)seed_between(seed, 1.0, MOST + 0.999);
    for (int i = 0; i < count; i++)
        cases[i] = case_of(seed, roller);
    return count;
}

static double misfit(const struct roller *roller, const struct roll_case *cases,
                     int count) {
    double sum = 0.0;
    for (int i = 0; i < count; i++) {
        double off_deg = roll_rms_deg(roller, &cases[i].sea, &cases[i].course) -
                         cases[i].seen_rms_deg;
        sum += off_deg * off_deg;
    }
    return sum;
}

static void assert_same(const struct roller *a, const struct roller *b) {
    for (int i = 0; i < SAIL_PARTS; i++)
        assert_near(sail_part_value(a, (enum sail_part)i),
                    sail_part_value(b, (enum sail_part)i), 1.01 * LAST_DECIMAL);
}

static void the_order_of_observations_does_not_matter(void **state) {
    (void)state;
    struct seed seed = {.state = 11};
    for (int round = 0; round < rounds(); round++) {
        struct roller hull = hull_of(&seed);
        struct roll_case cases[MOST], turned[MOST];
        int count = some(&seed, &hull, cases);
        for (int i = 0; i < count; i++)
            turned[i] = cases[count - 1 - i];
        struct roll_fit one, other;
        struct roll_fit_case each[MOST];
        roll_fit(&one, each, &hull, cases, (size_t)count);
        roll_fit(&other, each, &hull, turned, (size_t)count);
        assert_same(&one.fitted, &other.fitted);
    }
}

/* The boat has two sides alike. */
static void a_mirror_does_not_matter(void **state) {
    (void)state;
    struct seed seed = {.state = 12};
    for (int round = 0; round < rounds(); round++) {
        struct roller hull = hull_of(&seed);
        struct roll_case cases[MOST], mirrored[MOST];
        int count = some(&seed, &hull, cases);
        for (int i = 0; i < count; i++) {
            mirrored[i] = cases[i];
            mirrored[i].course.twa_deg *= -1.0;
            mirrored[i].course.heading_deg =
                360.0 - cases[i].course.heading_deg;
            for (int k = 0; k < SEA_SYSTEMS; k++)
                mirrored[i].sea.system[k].from_deg =
                    360.0 - cases[i].sea.system[k].from_deg;
        }
        struct roll_fit one, other;
        struct roll_fit_case each[MOST];
        roll_fit(&one, each, &hull, cases, (size_t)count);
        roll_fit(&other, each, &hull, mirrored, (size_t)count);
        assert_same(&one.fitted, &other.fitted);
    }
}

/* Never worse than the boat file, but for the last decimal; in the ranges of
 * docs/files.md. */
static void no_fit_is_worse_than_none(void **state) {
    (void)state;
    struct seed seed = {.state = 13};
    int told = 0;
    for (int round = 0; round < rounds(); round++) {
        struct roller hull = hull_of(&seed);
        struct roll_case cases[MOST];
        int count = some(&seed, &hull, cases);
        struct roll_fit fit;
        struct roll_fit_case each[MOST];
        roll_fit(&fit, each, &hull, cases, (size_t)count);
        assert_true(misfit(&fit.fitted, cases, count) <=
                    misfit(&hull, cases, count) + 1e-3);
        assert_true(fit.fitted.sail_reach >= 0.0 &&
                    fit.fitted.sail_reach <= 0.5);
        assert_true(fabs(fit.fitted.sail_run_loose) <= 0.3);
        assert_true(fabs(fit.fitted.sail_run_spar) <= 0.3);
        for (int i = 0; i < SAIL_PARTS; i++)
            told += fit.told[i];
    }
    assert_true(told > rounds() / 2);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_order_of_observations_does_not_matter),
        cmocka_unit_test(a_mirror_does_not_matter),
        cmocka_unit_test(no_fit_is_worse_than_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
