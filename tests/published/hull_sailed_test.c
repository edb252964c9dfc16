/* The search against a boat whose best speed made good is known in every
 * direction: the convex hull of her polar. */
#include "../support/check.h"

#include "../support/fastest.h"
#include "base/units.h"
#include "earth/geodesic.h"
#include <math.h>
#include <stdio.h>

/* The search's own claim. */
#define TOLERANCE 0.001

static const struct position equator = {0.0, -30.0};

static double sine_polar(double twa_deg) {
    return kn_to_mps(8.0) * fabs(sin(twa_deg * RADIANS_PER_DEGREE));
}

/* Polar V0 |sin b|, V0 = 8 kn, tacks and gybes free: speed made good by the
 * convex hull of the polar, two half circles and two flats at V0/2 (two
 * headings in turn: M. Rabaud, "Optimal routing in sailing", Sports Physics,
 * Palaiseau, 8-10 June 2016; figures calculated from the closed form). 60 nmi,
 * where the earth is a plane to 1 part in 10,000. */
static void a_polar_with_hollows_is_sailed_on_its_hull(void **state) {
    (void)state;
    static const struct {
        double off_wind_deg, made_good_kn;
    } rows[] = {
        {0, 4.0},        {20, 4.256711},  {45, 5.656854},
        {60, 6.928203},  {90, 8.0},       {120, 6.928203},
        {135, 5.656854}, {160, 4.256711}, {180, 4.0}, /* 2D / V0 */
    };
    double worst = 0.0;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_from_deg = 35.0, .wind_mps = 8.0};
        struct voyage voyage =
            analytic_voyage(analytic_free_boat(sine_polar), &weather,
                            geodesic_ahead(equator, 35.0 + rows[i].off_wind_deg,
                                           nmi_to_m(60.0)));
        char name[40];
        snprintf(name, sizeof name, "|sin b|, %.0f degrees off the wind",
                 rows[i].off_wind_deg);
        double known_s = 60.0 / rows[i].made_good_kn * SECONDS_PER_HOUR;
        worst =
            fmax(worst, fabs(fastest_miss(name, &voyage, equator, known_s)));
    }
    assert_near(worst, 0.0, TOLERANCE);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_polar_with_hollows_is_sailed_on_its_hull),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
