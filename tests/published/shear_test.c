/* The search against currents that differ from one side to the other: along the
 * way, and across it. In the textbooks' units (flow.h). */
#include "../support/check.h"

#include "../support/fastest.h"
#include <math.h>

/* The search's own claim. */
#define TOLERANCE 0.001

/* The integrator's, and the earth's not being a plane. */
#define SAILED_TOLERANCE 0.0002

static void assert_fastest(const struct flow *flow, struct flow_way way) {
    assert_near(flow_miss(flow, &way), 0.0, TOLERANCE);
}

static void assert_sailed(const struct flow *flow, struct flow_way way) {
    assert_near(flow_sailed_miss(flow, &way), 0.0, SAILED_TOLERANCE);
}

/* --- linear shear --------------------------------------------------------- */

static const double FIRST_DEG = 105.0, LAST_DEG = 240.0;

static double tangent(double degrees) {
    return tan(degrees * RADIANS_PER_DEGREE);
}

static double secant(double degrees) {
    return 1.0 / cos(degrees * RADIANS_PER_DEGREE);
}

/* Where the boat is on the fastest way to (0, 0) when she heads `heading_deg`,
 * counter-clockwise from +x, if she arrives heading LAST_DEG: the book's closed
 * form, derived anew, for the sign of x depends on that of the current. */
static struct plane_point shear_place(double heading_deg) {
    double here = tangent(heading_deg), last = tangent(LAST_DEG);
    double sec_here = secant(heading_deg), sec_last = secant(LAST_DEG);
    double x = sec_last * (last - here) - here * (sec_last - sec_here) +
               log((last + sec_last) / (here + sec_here));
    return (struct plane_point){.x = -0.5 * x, .y = sec_here - sec_last};
}

/* tan(last heading) - tan(heading) */
static double shear_time(double heading_deg) {
    return tangent(LAST_DEG) - tangent(heading_deg);
}

/* Calculated from the closed form; the heading law theta' = cos^2 theta,
 * integrated, ends at the same place to 1e-11. */
static void the_closed_form_is_the_one_that_was_calculated(void **state) {
    (void)state;
    static const struct {
        double heading_deg, x, y, left;
    } rows[] = {{105, 3.658658, -1.863703, 5.464102},
                {110, 4.736649, -0.923804, 4.479529},
                {120, 4.781060, 0.0, 3.464102},
                {135, 4.124110, 0.585786, 2.732051},
                {180, 2.390530, 1.0, 1.732051},
                {225, 0.656950, 0.585786, 0.732051},
                {240, 0.0, 0.0, 0.0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct plane_point place = shear_place(rows[i].heading_deg);
        assert_near(place.x, rows[i].x, 1e-6);
        assert_near(place.y, rows[i].y, 1e-6);
        assert_near(shear_time(rows[i].heading_deg), rows[i].left, 1e-6);
    }
}

/* 2 + 2 sqrt(3), calculated from the closed form. */
static struct flow_way first_way(void) {
    return (struct flow_way){.name = "shear, 105 to 240 degrees",
                             .from = shear_place(FIRST_DEG),
                             .time = 5.464101615,
                             .heading_deg = FIRST_DEG};
}

/* J. T. Betts, "Practical Methods for Optimal Control Using Nonlinear
 * Programming", 3rd ed., example 10.148: 5.26493205, seen in a secondary copy;
 * the same from the closed form, calculated: 5.2649320659. */
static const struct flow_way second_way = {.name = "shear from (3.5, -1.8)",
                                           .from = {3.5, -1.8},
                                           .time = 5.264932,
                                           .heading_deg = 105.510922};

/* 3.681324334 at tomopt.com/docs/propt/tomlab_propt127.php, "Zermelos problem,
 * version 2"; by shooting, calculated: 3.6813243351. */
static const struct flow_way ferry = {.name = "ferry across a half sine",
                                      .to = {31, 0},
                                      .time = 3.681324,
                                      .heading_deg = -23.595256};

static void the_known_ways_take_their_time(void **state) {
    (void)state;
    assert_sailed(&flow_sheared, first_way());
    assert_sailed(&flow_sheared, second_way);
    assert_sailed(&flow_ferry, ferry);
}

/* At the start the current is 1.86 times the boat's speed and against her: the
 * straight way can't be sailed at all, and the fastest drifts away from the
 * goal, to x = 4.78, before it comes round. */
static void against_a_shear_she_drifts_away_first(void **state) {
    (void)state;
    assert_fastest(&flow_sheared, first_way());
}

static void a_second_start_in_the_shear_is_as_published(void **state) {
    (void)state;
    assert_fastest(&flow_sheared, second_way);
}

static void a_ferry_is_carried_down_and_comes_back(void **state) {
    (void)state;
    assert_fastest(&flow_ferry, ferry);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_closed_form_is_the_one_that_was_calculated),
        cmocka_unit_test(the_known_ways_take_their_time),
        cmocka_unit_test(against_a_shear_she_drifts_away_first),
        cmocka_unit_test(a_second_start_in_the_shear_is_as_published),
        cmocka_unit_test(a_ferry_is_carried_down_and_comes_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
