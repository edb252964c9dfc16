/* The search against ways that geometry knows: the geodesic at one speed, and
 * circles where speed grows with the distance from a line. */
#include "../support/check.h"

#include "../support/fastest.h"
#include "base/units.h"
#include <math.h>

/* The search's own claim. */
#define TOLERANCE 0.001

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
        const char *name;
        struct position from, to;
        double distance_m;
    } rows[] = {
        {"great circle, 40.6 N to 51.6 N",
         {40.6, -73.8},
         {51.6, -0.5},
         5551759.400},
        /* 40:38:23N 73:46:44W to 1:21:33N 103:59:22E: almost over the pole */
        {"great circle, JFK to Singapore",
         {40.639722222, -73.778888889},
         {1.359166667, 103.989444444},
         15347627.660},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_from_deg = 35.0, .wind_mps = 8.0};
        struct voyage voyage =
            analytic_voyage(analytic_free_boat(ten_mps), &weather, rows[i].to);
        double miss = fastest_miss(rows[i].name, &voyage, rows[i].from,
                                   rows[i].distance_m / 10.0);
        assert_true(miss > -1e-6);
        assert_true(miss < TOLERANCE);
    }
}

/* --- speed proportional to the distance from a line ------------------------
 */

/* In units: speed y, so from the wind, which is proportional to y, and a polar
 * in proportion to the wind. One unit is 20 nmi and 6 kn; the line y = 0 lies
 * south of the equator, so that the way is near it. */
static const struct flow half_plane = {.unit_m = 20.0 * METRES_PER_NMI,
                                       .unit_mps = 6.0 * METRES_PER_NMI /
                                                   SECONDS_PER_HOUR,
                                       .box = {-1.5, -1.0, 4.5, 1.4}};
static const double LINE_Y = -1.25; /* in the plane's own y */

/* At y = 1; the polar's last wind, 100 m/s, is that of y = 2.857. */
static const double WIND_MPS = 35.0;

static double in_proportion(double twa_deg) {
    (void)twa_deg;
    return 100.0 / WIND_MPS * kn_to_mps(6.0);
}

static struct analytic growing_wind(void) {
    struct analytic weather = flow_weather(&half_plane);
    struct position line =
        flow_place(&half_plane, (struct plane_point){0.0, LINE_Y});
    struct position one =
        flow_place(&half_plane, (struct plane_point){0.0, LINE_Y + 1.0});
    weather.lat_deg = line.lat_deg;
    weather.wind_mps = 0.0;
    weather.rise_mps_per_lat_deg = WIND_MPS / (one.lat_deg - line.lat_deg);
    return weather;
}

/* T = arccosh(1 + (dx^2 + dy^2) / (2 y1 y2)), along circles centred on y = 0:
 * the classic result for a linear gradient of speed, from memory and derived
 * anew; calculated from the closed form. The straight way from (0, 1) to (2, 1)
 * takes 2. */
static void where_speed_grows_to_one_side_the_way_bends_there(void **state) {
    (void)state;
    static const struct {
        const char *name;
        struct plane_point to;
        double time;
    } rows[] = {
        {"speed y, (0, 1) to (2, 1)", {2, 1}, 1.762747174},
        {"speed y, (0, 1) to (3, 2)", {3, 2}, 1.924847300},
    };
    double worst = 0.0;
    struct boat *boat = analytic_free_boat(in_proportion);
    analytic_in_proportion(&boat->stowed);
    analytic_in_proportion(&boat->spar_out);
    struct analytic weather = growing_wind();
    struct position from =
        flow_place(&half_plane, (struct plane_point){0, LINE_Y + 1.0});
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct plane_point to = {rows[i].to.x, LINE_Y + rows[i].to.y};
        struct voyage voyage =
            analytic_voyage(boat, &weather, flow_place(&half_plane, to));
        double miss = fastest_miss(rows[i].name, &voyage, from,
                                   rows[i].time * flow_unit_s(&half_plane));
        worst = fmax(worst, fabs(miss));
    }
    assert_near(worst, 0.0, TOLERANCE);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(at_one_speed_the_great_circle_is_found),
        cmocka_unit_test(where_speed_grows_to_one_side_the_way_bends_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
