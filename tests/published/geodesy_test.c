/* Distances and courses that others have printed. */
#include "../support/check.h"

#include "base/units.h"
#include "earth/geodesic.h"
#include "earth/position.h"
#include "earth/rhumb.h"

#include <math.h>

static struct position place(const char *text) {
    struct position position;
    const char *fault = position_parse(text, &position);
    if (fault)
        fail_msg("'%s': %s", text, fault);
    return position;
}

/* GeographicLib 2.1.2, manual pages GeodSolve(1) and RhumbSolve(1), EXAMPLES:
 * JFK to Singapore. */
static void new_york_to_singapore(void **state) {
    (void)state;
    struct position from = place("40 38 23N 73 46 44W");
    struct position to = place("1 21 33N 103 59 22E");
    struct geodesic line = geodesic_between(from, to);
    assert_near(line.distance_m, 15347627.660, 0.001);
    /* 3:18:29.9 and 177:29:09.2 */
    assert_near(line.course_start_deg, 3 + 18 / 60.0 + 29.9 / 3600, 2e-5);
    assert_near(line.course_end_deg, 177 + 29 / 60.0 + 9.2 / 3600, 2e-5);
    struct rhumb rhumb = rhumb_between(from, to);
    assert_near(rhumb.distance_m, 18523563.042, 0.001);
    /* 103:34:58.2 */
    assert_near(rhumb.course_deg, 103 + 34 / 60.0 + 58.2 / 3600, 2e-5);
}

/* Run with GeographicLib 2.1.2 for these checks; the pairs stand in its
 * example-Geodesic and Python manual. */
static void pairs_run_with_geographiclib(void **state) {
    (void)state;
    struct position from = {40.6, -73.8}, to = {51.6, -0.5};
    struct geodesic line = geodesic_between(from, to);
    assert_near(line.distance_m, 5551759.400, 0.001);
    assert_near(line.course_start_deg, 51.19888285, 1e-8);
    assert_near(line.course_end_deg, 107.82177674, 1e-8);
    struct rhumb rhumb = rhumb_between(from, to);
    assert_near(rhumb.distance_m, 5771083.383, 0.001);
    assert_near(rhumb.course_deg, 77.76838971, 1e-8);
    from = (struct position){-41.32, 174.81};
    to = (struct position){40.96, -5.50};
    line = geodesic_between(from, to);
    assert_near(line.distance_m, 19959679.267354, 1e-5);
    assert_near(line.course_start_deg, 161.06766999, 1e-8);
    assert_near(line.course_end_deg, 18.82519512, 1e-8);
}

/* Length of the quarter meridian of WGS84: 10 001 965.729 m (many books). */
static void the_quarter_meridian(void **state) {
    (void)state;
    struct position equator = {0.0, 30.0}, pole = {90.0, 30.0};
    assert_near(geodesic_between(equator, pole).distance_m, 10001965.7293,
                1e-4);
    assert_near(rhumb_between(equator, pole).distance_m, 10001965.7293, 1e-4);
}

/* Near antipodes iterations fail to end or end in "not a number" (Vincenty's
 * does at 179.7 E). Run with GeographicLib 2.1.2; the third pair is half a
 * meridian round a pole, twice the quarter above. */
static void nearly_opposite_places(void **state) {
    (void)state;
    struct position origin = {0.0, 0.0};
    assert_near(geodesic_between(origin, place("0.5N 179.5E")).distance_m,
                19936288.579, 0.001);
    assert_near(geodesic_between(origin, place("0.5N 179.7E")).distance_m,
                19944127.421, 0.001);
    assert_near(geodesic_between(origin, place("0N 180E")).distance_m,
                2 * 10001965.7293, 0.001);
    struct geodesic line =
        geodesic_between(place("5.5N 73.5W"), place("5.5S 106.5E"));
    assert_near(m_to_nmi(line.distance_m), 10801.26, 0.005);
    assert_true(isfinite(line.course_start_deg));
    struct rhumb rhumb =
        rhumb_between(place("5.5N 73.5W"), place("5.5S 106.5E"));
    assert_true(isfinite(rhumb.distance_m) && isfinite(rhumb.course_deg));
    /* half a parallel; either way round is as short */
    rhumb = rhumb_between(origin, place("0N 180E"));
    assert_near(rhumb.distance_m, 6378137.0 * 3.14159265358979, 1e-3);
}

/* From PROJ's geodesics: 90N to 50N and over the pole at 89.9N. */
static void lines_at_the_pole(void **state) {
    (void)state;
    struct geodesic line =
        geodesic_between((struct position){90, -5}, (struct position){50, -5});
    assert_near(m_to_nmi(line.distance_m), 2408.81, 0.005);
    assert_near(line.course_start_deg, 180.0, 1e-9);
    line = geodesic_between(place("89.9N 0E"), place("89.9N 180E"));
    assert_near(m_to_nmi(line.distance_m), 12.06, 0.005);
}

/* A leg is a rhumb line for everything. Along 40N, 120 degrees wide, the
 * great circle climbs to 59.26N (sphere: tan = tan 40 / cos 60) and is 530
 * nautical miles shorter; no figure may mix the two. */
static void the_parallel_is_longer_than_the_great_circle(void **state) {
    (void)state;
    struct position from = place("40N 40E"), to = place("40N 80W");
    struct geodesic line = geodesic_between(from, to);
    assert_near(m_to_nmi(line.distance_m), 5002.75, 0.01);
    struct position middle =
        geodesic_ahead(from, line.course_start_deg, line.distance_m / 2);
    assert_near(middle.lat_deg, 59.26, 0.1);
    assert_near(middle.lon_deg, -20.0, 1e-6);
    struct rhumb rhumb = rhumb_between(from, to);
    assert_near(m_to_nmi(rhumb.distance_m), 5533.0, 0.5);
    assert_near(rhumb.course_deg, 270.0, 0.0);
}

struct sailing {
    const char *from, *to;
    double course_deg, distance_nmi;
};

/* Bowditch, American Practical Navigator, NGA Pub. 9, 2019, vol. 1 ch. 12.
 * Its mile is a minute of latitude on a sphere, so that distances may differ
 * by 0.5 % from WGS84; its courses use meridional parts of the ellipsoid. */
static void rhumb_lines_of_bowditch(void **state) {
    (void)state;
    static const struct sailing printed[] = {
        /* sec. 1219 ex. 1, Mercator sailing: 301.8, 538.9 nm */
        {"32 14.7N 66 28.9W", "36 58.7N 75 42.2W", 301.8, 538.9},
        /* sec. 1220, Cape Town to Ambrose: 310.9, 6811.5 nm */
        {"33 53.3S 18 23.1E", "40 27.1N 73 49.4W", 310.9, 6811.5},
    };
    for (size_t i = 0; i < sizeof printed / sizeof *printed; i++) {
        struct rhumb rhumb =
            rhumb_between(place(printed[i].from), place(printed[i].to));
        assert_near(rhumb.course_deg, printed[i].course_deg, 0.05);
        assert_near(m_to_nmi(rhumb.distance_m), printed[i].distance_nmi,
                    0.005 * printed[i].distance_nmi);
    }
    /* sec. 1218 ex. 2, middle latitude, an approximation of its own: 240.4,
     * 1008.3 nm (with the course rounded first; unrounded 1007.1) */
    struct rhumb middle =
        rhumb_between(place("8 48.9S 89 53.3W"), place("17 06.9S 104 51.6W"));
    assert_near(middle.course_deg, 240.4, 0.2);
    assert_near(m_to_nmi(middle.distance_m), 1007.139, 0.005 * 1007.139);
}

/* The same, ahead: a run of 0.5 % more or less moves the end that far. */
static void runs_of_bowditch(void **state) {
    (void)state;
    static const struct {
        const char *from, *to;
        double course_deg, distance_nmi;
    } printed[] = {
        /* sec. 1218 ex. 1: to 22 25.6N 172 21.2E */
        {"15 17.0N 151 37.0E", "22 25.6N 172 21.2E", 70.0, 1253.0},
        /* sec. 1219 ex. 2: to 71 32.9N 72 34.1W */
        {"75 31.7N 79 08.7W", "71 32.9N 72 34.1W", 155.0, 263.5},
    };
    for (size_t i = 0; i < sizeof printed / sizeof *printed; i++) {
        double distance_m = nmi_to_m(printed[i].distance_nmi);
        struct position to = rhumb_ahead(place(printed[i].from),
                                         printed[i].course_deg, distance_m);
        double miss_m = rhumb_between(to, place(printed[i].to)).distance_m;
        assert_true(miss_m < 0.005 * distance_m);
    }
}

/* Great circles of the same chapter on a sphere: against WGS84 0.5 % at most
 * in distance (Meeus 1998, ch. 11), and 0.2 degree in the first course. */
static void great_circles_of_bowditch(void **state) {
    (void)state;
    static const struct sailing printed[] = {
        /* sec. 1208 ex. 1: 4693.5 nm, S 72.99 W */
        {"22S 116E", "20S 31E", 252.99, 4693.5},
        /* sec. 1208 ex. 2: 5913.2 nm, 247.3 */
        {"28N 122W", "24S 151E", 247.3, 5913.2},
    };
    for (size_t i = 0; i < sizeof printed / sizeof *printed; i++) {
        struct geodesic line =
            geodesic_between(place(printed[i].from), place(printed[i].to));
        assert_near(line.course_start_deg, printed[i].course_deg, 0.2);
        assert_near(m_to_nmi(line.distance_m), printed[i].distance_nmi,
                    0.005 * printed[i].distance_nmi);
    }
}

/* Meeus, Astronomical Algorithms, 2nd ed., examples 11.b (lengths of a degree
 * at 42 degrees) and 11.c (Paris to Washington, 6181.63 km), both on the
 * IAU 1976 ellipsoid, 3 m larger than WGS84. */
static void lengths_of_meeus(void **state) {
    (void)state;
    struct rhumb degree = rhumb_between((struct position){42.0, 0.0},
                                        (struct position){42.0, 1.0});
    assert_near(degree.distance_m, 82850.8, 0.2);
    degree = rhumb_between((struct position){41.5, 0.0},
                           (struct position){42.5, 0.0});
    assert_near(degree.distance_m, 111073.3, 0.2);
    struct geodesic line = geodesic_between(place("48 50 11N 2 20 14E"),
                                            place("38 55 17N 77 03 56W"));
    assert_near(line.distance_m, 6181630.0, 60.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(new_york_to_singapore),
        cmocka_unit_test(pairs_run_with_geographiclib),
        cmocka_unit_test(the_quarter_meridian),
        cmocka_unit_test(nearly_opposite_places),
        cmocka_unit_test(lines_at_the_pole),
        cmocka_unit_test(the_parallel_is_longer_than_the_great_circle),
        cmocka_unit_test(rhumb_lines_of_bowditch),
        cmocka_unit_test(runs_of_bowditch),
        cmocka_unit_test(great_circles_of_bowditch),
        cmocka_unit_test(lengths_of_meeus),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
