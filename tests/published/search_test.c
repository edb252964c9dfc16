/* The search against ways whose least time is known in closed form. */
#include "../support/check.h"

#include "../support/analytic.h"
#include "base/units.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"
#include "search/search.h"
#include <math.h>

/* The search's own claim; measured: 0.002 % for the current and the hull,
 * 0.02 % over the pole. */
#define TOLERANCE 0.001

static struct arena arena;

static int set_up(void **state) {
    (void)state;
    arena_init(&arena);
    return 0;
}

static int tear_down(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static const struct position equator = {0.0, -30.0};

static struct search_result search(const struct voyage *voyage,
                                   struct position from) {
    struct search_request request = {.from = from, .to = voyage->finish};
    struct search_result result;
    search_run(voyage, &request, NULL, &arena, &result);
    assert_true(result.reached);
    return result;
}

/* --- constant current on a plane ------------------------------------------ */

static double six_kn(double twa_deg) {
    (void)twa_deg;
    return kn_to_mps(6.0);
}

static struct boat *boat_of(double (*speed_mps)(double twa_deg)) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->stowed = boat->spar_out = analytic_polar(speed_mps, 0.0);
    analytic_free_changes(boat);
    return boat;
}

/* T = (sqrt((d.w)^2 + |d|^2 (V^2 - |w|^2)) - d.w) / (V^2 - |w|^2): the
 * constant-wind case of Zermelo's problem (en.wikipedia.org/wiki/
 * Zermelo's_navigation_problem, solved there as a quadratic in T; the hours
 * below calculated from the closed form). 30 nmi at the equator, where the
 * earth is a plane to 1 part in 100,000. */
static void a_constant_current_is_held_against_as_zermelo_says(void **state) {
    (void)state;
    static const struct {
        double east_kn, north_kn; /* current; the goal is 30 nmi east */
        double hours;
    } rows[] = {
        {0.0, 2.0, 5.303300859}, {0.0, -2.0, 5.303300859}, {2.0, 0.0, 3.75},
        {-2.0, 0.0, 7.5},        {1.0, 2.0, 4.506633145},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_from_deg = 10.0, .wind_mps = 15.0};
        weather.current = (struct vector_mps){kn_to_mps(rows[i].east_kn),
                                              kn_to_mps(rows[i].north_kn)};
        struct voyage voyage =
            analytic_voyage(boat_of(six_kn), &weather,
                            geodesic_ahead(equator, 90.0, nmi_to_m(30.0)));
        voyage.spar_allowed = false;
        struct search_result result = search(&voyage, equator);
        assert_near(s_to_hours(result.elapsed_s) / rows[i].hours, 1.0,
                    TOLERANCE);
        assert_near(result.cost_s, result.elapsed_s, 1e-6);
    }
}

static void
the_crab_angle_across_a_current_is_that_of_the_triangle(void **state) {
    (void)state;
    /* 2 kn abeam, 6 kn: asin(1/3) = 19.471221 degrees up-current */
    struct analytic weather = {.wind_from_deg = 10.0,
                               .wind_mps = 15.0,
                               .current = {0.0, kn_to_mps(2.0)}};
    struct voyage voyage = analytic_voyage(boat_of(six_kn), &weather, equator);
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

/* --- an anisotropic polar ------------------------------------------------- */

static double sine_polar(double twa_deg) {
    return kn_to_mps(8.0) * fabs(sin(twa_deg * RADIANS_PER_DEGREE));
}

/* Polar V0 |sin b|, V0 = 8 kn, tacks and gybes free: speed made good by the
 * convex hull of the polar, two half circles and two flats at V0/2 (two
 * headings in turn: M. Rabaud, "Optimal routing in sailing", Sports Physics,
 * Palaiseau, 8-10 June 2016; figures calculated from the closed form). */
static void a_polar_with_hollows_is_sailed_on_its_hull(void **state) {
    (void)state;
    static const struct {
        double off_wind_deg, made_good_kn;
        bool always; /* the others in the long run only */
    } rows[] = {
        {0, 4.0, true},         {20, 4.256711, true},
        {45, 5.656854, true},   {60, 6.928203, true},
        {90, 8.0, true},        {180, 4.0, true}, /* a dead run takes 2D / V0 */
        {120, 6.928203, false}, {135, 5.656854, false},
        {160, 4.256711, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_from_deg = 35.0, .wind_mps = 8.0};
        struct voyage voyage =
            analytic_voyage(boat_of(sine_polar), &weather,
                            geodesic_ahead(equator, 35.0 + rows[i].off_wind_deg,
                                           nmi_to_m(60.0)));
        voyage.spar_allowed = false;
        struct search_result result = search(&voyage, equator);
        double expected_h = 60.0 / rows[i].made_good_kn;
        assert_near(s_to_hours(result.elapsed_s) / expected_h, 1.0, TOLERANCE);
    }
}

/* --- the great circle ----------------------------------------------------- */

static double ten_mps(double twa_deg) {
    (void)twa_deg;
    return 10.0;
}

/* At one speed on all courses nothing is faster than the geodesic. Distances
 * on WGS84: GeographicLib 2.1.2, manual page GeodSolve(1), EXAMPLES (JFK to
 * Singapore), and run with it for the other pair. */
static void at_one_speed_the_great_circle_is_found(void **state) {
    (void)state;
    static const struct {
        struct position from, to;
        double distance_m;
        bool always;
    } rows[] = {
        {{40.6, -73.8}, {51.6, -0.5}, 5551759.400, true},
        /* 40:38:23N 73:46:44W to 1:21:33N 103:59:22E: almost over the pole */
        {{40.639722222, -73.778888889},
         {1.359166667, 103.989444444},
         15347627.660,
         false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (!rows[i].always && !check_is_long())
            continue;
        struct analytic weather = {.wind_from_deg = 35.0, .wind_mps = 8.0};
        struct voyage voyage =
            analytic_voyage(boat_of(ten_mps), &weather, rows[i].to);
        voyage.spar_allowed = false;
        struct search_result result = search(&voyage, rows[i].from);
        double least_s = rows[i].distance_m / 10.0;
        assert_true(result.elapsed_s >= least_s * (1.0 - 1e-6));
        assert_true(result.elapsed_s <= least_s * (1.0 + TOLERANCE));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_constant_current_is_held_against_as_zermelo_says),
        cmocka_unit_test(
            the_crab_angle_across_a_current_is_that_of_the_triangle),
        cmocka_unit_test(a_polar_with_hollows_is_sailed_on_its_hull),
        cmocka_unit_test(at_one_speed_the_great_circle_is_found),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
