/* Whether to hurry: which eases are tried, and a passage in a steady wind that
 * is worked out by hand. */
#include "../support/analytic.h"
#include "../support/check.h"
#include "../support/sailing.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/course.h"
#include "plan/haste.h"
#include "plan/orders.h"

#include <math.h>

/* --- what is tried ---------------------------------------------------------
 */

enum { MOST_TRIES = 8 };

/* What comes of each ease, and what was tried. */
struct plot {
    bool dark_at_own, dark_at_fastest;
    double calm_s[3]; /* of the ease times 2, 4, 8 */
    double tried[MOST_TRIES];
    int count;
};

static struct haste_tried try_one(void *context, double factor) {
    struct plot *plot = context;
    assert_true(plot->count < MOST_TRIES);
    plot->tried[plot->count++] = factor;
    if (factor < 0.1)
        return (struct haste_tried){100.0, plot->dark_at_fastest};
    if (factor > 1.5)
        return (struct haste_tried){
            plot->calm_s[(factor > 3.0) + (factor > 6.0)], true};
    return (struct haste_tried){100.0, plot->dark_at_own};
}

static void tries_are(struct plot plot, double ease, int count, double last) {
    haste_try_all(try_one, &plot, ease);
    assert_int_equal(plot.count, count);
    assert_near(plot.tried[0], 1.0, 0.0);
    assert_near(plot.tried[count - 1], last, 0.0);
}

static void only_an_arrival_in_the_dark_is_tried_otherwise(void **state) {
    (void)state;
    struct plot plot = {.calm_s = {99.0, 98.0, 97.0}};
    tries_are(plot, 1.0, 1, 1.0);
    plot.dark_at_own = true;
    tries_are(plot, 0.0, 1, 1.0);
    tries_are(plot, 1.0, 7, 8.0); /* 1, 0, 0.25, 0.5, 2, 4, 8 */
    plot.dark_at_fastest = true;
    tries_are(plot, 1.0, 5, 8.0);
    plot.calm_s[0] = 101.0;
    tries_are(plot, 1.0, 3, 2.0);
}

/* --- by hand ----------------------------------------------------------------
 */

/* 30 nmi west, stowed at 3 m/s: 18,520 s. With the spar, stowed again 6.5 nmi
 * off: 1,200 s to set it, 2,520 m on at 2.1 m/s, 41,002 m at 5 m/s in 8,200 s,
 * 900 s to stow it, 1,890 m on, and 10,148 m at 3 m/s in 3,383 s: 13,683 s, and
 * twice an hour of hardship. */
#define STOWED_S 18520.0
#define WITH_SPAR_S 13683.2
#define HARDSHIP_S 7200.0
#define LIGHT_S 50000.0

static const struct analytic steady = {.wind_from_deg = 80.0, .wind_mps = 10.0};

static double dusk_s;

static double wait_s(const void *context, double t_s) {
    (void)context;
    return t_s >= dusk_s && t_s < LIGHT_S ? LIGHT_S - t_s : 0.0;
}

/* Orders for an arrival before dusk, or at first light; the cost. */
static double give(double dark_from_s, struct deck *first) {
    struct arena arena;
    struct vertex v[3];
    const double off_nmi[] = {0.0, 23.5, 30.0};
    struct boat *boat = plain_boat();
    boat->comfort.easy_roll_deg = 1000.0;
    boat->comfort.working_roll_deg = 1001.0;
    boat->work.day_hardship_s = 0.5 * HARDSHIP_S;
    for (int i = 0; i < 3; i++)
        v[i] = (struct vertex){
            .at = rhumb_ahead(start, 270.0, nmi_to_m(off_nmi[i])),
            .pinned = true};
    struct voyage voyage = analytic_voyage(boat, &steady, v[2].at);
    voyage.ease = 1.0;
    voyage.arrival_wait_s = wait_s;
    dusk_s = dark_from_s;
    struct orders_options options = {
        .own_changes = true,
        .pacing = {.circle_m = nmi_to_m(5.0), .most_points = 9}};
    struct underway boat_at = sail_start(start, STOWED);
    struct track track = {.vertices = v, .count = 3};
    arena_init(&arena);
    assert_int_equal(orders_give(&voyage, &track, &boat_at, &options, &arena),
                     OBSTACLE_NONE);
    *first = track.vertices[0].order;
    struct track paced =
        pacing_course(&voyage, &track, &boat_at, &options.pacing, &arena);
    double cost_s = course_cost_s(&voyage, &paced, &boat_at);
    arena_free(&arena);
    return cost_s;
}

static void by_day_the_crew_s_own_ease_decides(void **state) {
    (void)state;
    struct deck first;
    assert_near(give(20000.0, &first), STOWED_S, 1.0);
    assert_int_equal(first.spar, SPAR_STOWED);
}

static void before_dark_she_hurries_where_that_is_cheaper(void **state) {
    (void)state;
    struct deck first;
    assert_near(give(15000.0, &first), WITH_SPAR_S + HARDSHIP_S, 5.0);
    assert_int_not_equal(first.spar, SPAR_STOWED);
}

static void too_late_for_that_she_takes_her_time(void **state) {
    (void)state;
    struct deck first;
    assert_near(give(13000.0, &first), LIGHT_S, 1.0);
    assert_int_equal(first.spar, SPAR_STOWED);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(only_an_arrival_in_the_dark_is_tried_otherwise),
        cmocka_unit_test(by_day_the_crew_s_own_ease_decides),
        cmocka_unit_test(before_dark_she_hurries_where_that_is_cheaper),
        cmocka_unit_test(too_late_for_that_she_takes_her_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
