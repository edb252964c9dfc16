/* Two tracks beside one another: hand-made, along the equator, where a degree
 * of longitude is 60.1 nmi (WGS84: 111.32 km, calculated). */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "report/abreast.h"

enum { DAY_S = 86400 };
static const struct instant departure = {1780272000}; /* 2026-06-01 */

struct made {
    struct plan plan;
    struct plan_leg legs[4];
    struct plan_point track[5];
};

/* Legs between those longitudes, that many hours each. */
static void make(struct made *made, const double *lons, const double *hours,
                 size_t legs) {
    *made = (struct made){.plan = {.leg_count = legs, .depart = departure}};
    double at_s = 0.0;
    for (size_t i = 0; i <= legs; i++) {
        struct instant at = instant_plus(departure, at_s);
        struct position place = {0.0, lons[i]};
        made->track[i] = (struct plan_point){place, at};
        if (i == legs)
            break;
        at_s += hours_to_s(hours[i]);
        made->legs[i] = (struct plan_leg){.start = at,
                                          .end = instant_plus(departure, at_s),
                                          .from = place,
                                          .to = {0.0, lons[i + 1]},
                                          .roll_deg = 2.0 * (double)(i + 1)};
    }
    made->plan.legs = made->legs;
    made->plan.track = made->track;
    made->plan.track_count = legs + 1;
    made->plan.from = made->track[0].position;
    made->plan.to = made->track[legs].position;
    made->plan.summary =
        (struct plan_summary){.reached = true,
                              .elapsed_s = at_s,
                              .arrive = instant_plus(departure, at_s)};
}

/* The first sails 2 degrees in 10 h, then 2 in 20 h; the second all 4 in 24 h
 * evenly: at the half it has taken 12 h. */
static void a_leg_is_set_against_the_same_way_of_the_other(void **state) {
    (void)state;
    struct made a, b;
    make(&a, (double[]){-20, -22, -24}, (double[]){10, 20}, 2);
    make(&b, (double[]){-20, -24}, (double[]){24}, 1);
    b.legs[0].mode = MODE_WING;
    size_t count;
    struct abreast_row *rows = abreast_rows(&a.plan, &b.plan, &arena, &count);
    assert_int_equal(count, 2);
    assert_near(m_to_nmi(rows[0].left_m), 2 * 60.1, 0.1);
    assert_near(s_to_hours(rows[0].side[0].seconds), 10.0, 1e-3);
    assert_near(s_to_hours(rows[0].side[1].seconds), 12.0, 1e-3);
    assert_near(s_to_hours(rows[0].so_far_s), 2.0, 1e-3);
    assert_near(s_to_hours(rows[1].side[0].seconds), 20.0, 1e-3);
    assert_near(s_to_hours(rows[1].side[1].seconds), 12.0, 1e-3);
    assert_near(s_to_hours(rows[1].so_far_s), -6.0, 1e-3);
    assert_int_equal(rows[1].side[0].mode, MODE_STOWED);
    assert_int_equal(rows[1].side[1].mode, MODE_WING);
    assert_near(rows[1].side[0].roll_deg, 4.0, 1e-9);
    assert_near(rows[1].side[1].roll_deg, 2.0, 1e-9);
}

/* The second goes a degree the wrong way first, 6 h out and 6 h back: until it
 * is so near for good counts. Roll: RMS of 2, 4 and 6 deg over 6, 6 and 12 h:
 * sqrt((4 + 16 + 2 * 36) / 4) = 4.80. */
static void a_way_round_counts_to_its_end(void **state) {
    (void)state;
    struct made a, b;
    make(&a, (double[]){-20, -22, -24}, (double[]){10, 10}, 2);
    make(&b, (double[]){-20, -19, -20, -24}, (double[]){6, 6, 24}, 3);
    size_t count;
    struct abreast_row *rows = abreast_rows(&a.plan, &b.plan, &arena, &count);
    assert_int_equal(count, 2);
    assert_near(s_to_hours(rows[0].side[1].seconds), 24.0, 1e-3);
    assert_near(rows[0].side[1].roll_deg, 4.796, 1e-3);
    assert_near(s_to_hours(rows[1].so_far_s), 16.0, 1e-3);
}

/* A leg of the first that leads away ends on no new line. */
static void a_leg_that_leads_away_joins_the_next(void **state) {
    (void)state;
    struct made a, b;
    make(&a, (double[]){-20, -22, -21, -24}, (double[]){10, 5, 15}, 3);
    make(&b, (double[]){-20, -24}, (double[]){24}, 1);
    size_t count;
    struct abreast_row *rows = abreast_rows(&a.plan, &b.plan, &arena, &count);
    assert_int_equal(count, 2);
    assert_int_equal(rows[0].leg, 0);
    /* 22 W for good: 10 h, then back, then 1 of 3 degrees of 15 h */
    assert_near(s_to_hours(rows[0].side[0].seconds), 20.0, 1e-3);
    assert_int_equal(rows[1].leg, 2);
    assert_near(s_to_hours(rows[1].so_far_s), -6.0, 1e-3);
}

static void ends_apart_are_not_compared(void **state) {
    (void)state;
    struct made a, b;
    size_t count = 7;
    make(&a, (double[]){-20, -24}, (double[]){24}, 1);
    make(&b, (double[]){-20, -24.04}, (double[]){24}, 1); /* 2.4 nmi */
    assert_null(abreast_rows(&a.plan, &b.plan, &arena, &count));
    assert_int_equal(count, 0);
    make(&b, (double[]){-20, -24.03}, (double[]){24}, 1); /* 1.8 nmi */
    abreast_rows(&a.plan, &b.plan, &arena, &count);
    assert_int_equal(count, 1);
    b.plan.summary.reached = false;
    assert_null(abreast_rows(&a.plan, &b.plan, &arena, &count));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_leg_is_set_against_the_same_way_of_the_other),
        cmocka_unit_test(a_way_round_counts_to_its_end),
        cmocka_unit_test(a_leg_that_leads_away_joins_the_next),
        cmocka_unit_test(ends_apart_are_not_compared),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
