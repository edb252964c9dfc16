/* The search against currents that are the same everywhere: Zermelo's problem
 * in its simplest form. */
#include "../support/check.h"

#include "../support/fastest.h"
#include "base/units.h"
#include "earth/geodesic.h"
#include <math.h>

/* The search's own claim. */
#define TOLERANCE 0.001

/* At 6 kn on all courses; changes in no time. */
static struct voyage voyage_in(const struct analytic *weather,
                               struct position finish) {
    return analytic_voyage(analytic_free_boat(flow_six_kn), weather, finish);
}

/* --- constant current ----------------------------------------------------- */

static const struct position equator = {0.0, -30.0};

/* T = (sqrt((d.w)^2 + |d|^2 (V^2 - |w|^2)) - d.w) / (V^2 - |w|^2): the
 * constant-wind case of Zermelo's problem (en.wikipedia.org/wiki/
 * Zermelo's_navigation_problem, solved there as a quadratic in T; the hours
 * below calculated from the closed form). 30 nmi at the equator, where the
 * earth is a plane to 1 part in 100,000. */
static void a_constant_current_is_held_against_as_zermelo_says(void **state) {
    (void)state;
    static const struct {
        const char *name;
        double east_kn, north_kn; /* current; the goal is 30 nmi east */
        double hours;
    } rows[] = {
        {"constant current, north", 0.0, 2.0, 5.303300859},
        {"constant current, south", 0.0, -2.0, 5.303300859},
        {"constant current, with her", 2.0, 0.0, 3.75},
        {"constant current, against her", -2.0, 0.0, 7.5},
        {"constant current, aslant", 1.0, 2.0, 4.506633145},
    };
    double worst = 0.0;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_from_deg = 10.0, .wind_mps = 15.0};
        weather.current = (struct vector_mps){kn_to_mps(rows[i].east_kn),
                                              kn_to_mps(rows[i].north_kn)};
        struct voyage voyage =
            voyage_in(&weather, geodesic_ahead(equator, 90.0, nmi_to_m(30.0)));
        double known_s = rows[i].hours * SECONDS_PER_HOUR;
        double miss = fastest_miss(rows[i].name, &voyage, equator, known_s);
        worst = fmax(worst, fabs(miss));
    }
    assert_near(worst, 0.0, TOLERANCE);
}

static void
the_crab_angle_across_a_current_is_that_of_the_triangle(void **state) {
    (void)state;
    /* 2 kn abeam, 6 kn: asin(1/3) = 19.471221 degrees up-current */
    struct analytic weather = {.wind_from_deg = 10.0,
                               .wind_mps = 15.0,
                               .current = {0.0, kn_to_mps(2.0)}};
    struct voyage voyage = voyage_in(&weather, equator);
    struct conditions conditions;
    struct motion motion;
    assert_int_equal(voyage_look(&voyage, equator, 0.0, &conditions),
                     OBSTACLE_NONE);
    assert_int_equal(voyage_motion(&voyage, &conditions, 90.0,
                                   (struct deck){.spar = SPAR_STOWED}, false,
                                   &motion),
                     OBSTACLE_NONE);
    assert_near(motion.heading_deg, 90.0 + 19.471221, 1e-5);
    assert_near(mps_to_kn(motion.sog_mps), 30.0 / 5.303300859, 1e-6);
}

/* --- a tide --------------------------------------------------------------- */

/* One and the same everywhere, changing with time: the best heading is
 * constant, for the heading law has only derivatives in space (derived). A tide
 * abeam whose period is the time across sets as far north as south: heading
 * straight over, she takes the time of still water, which nothing beats. */
static struct plane_point tide(struct plane_point place, double t) {
    (void)place;
    const double period = 4.0;
    return (struct plane_point){
        .y = 0.5 * sin(360.0 * t / period * RADIANS_PER_DEGREE)};
}

static void a_whole_tide_abeam_costs_nothing(void **state) {
    (void)state;
    static const struct flow flow = {.unit_m = 20.0 * METRES_PER_NMI,
                                     .unit_mps = 6.0 * METRES_PER_NMI /
                                                 SECONDS_PER_HOUR,
                                     .box = {-2, -2, 6, 2},
                                     .most = 0.5,
                                     .at = tide};
    static const struct flow_way way = {
        .name = "a whole tide abeam", .to = {4, 0}, .time = 4.0};
    assert_near(flow_miss(&flow, &way), 0.0, TOLERANCE);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_constant_current_is_held_against_as_zermelo_says),
        cmocka_unit_test(
            the_crab_angle_across_a_current_is_that_of_the_triangle),
        cmocka_unit_test(a_whole_tide_abeam_costs_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
