#include "../support/check.h"

#include "../support/analytic.h"
#include "base/units.h"
#include "voyage/voyage.h"
#include <float.h>
#include <math.h>
#include <string.h>

#define STOWED(wind) ((struct deck){.wind_starboard = (wind)})
#define DRAWING(place, wind)                                                   \
    ((struct deck){.spar = (place), .wind_starboard = (wind)})
#define ROLLED(place, wind)                                                    \
    ((struct deck){.spar = (place), .rolled = true, .wind_starboard = (wind)})
enum { WIND_PORT, WIND_STARBOARD };

static const struct position middle = {20.0, -40.0};

static struct conditions look(const struct voyage *voyage) {
    struct conditions conditions;
    assert_int_equal(voyage_look(voyage, middle, 0.0, &conditions),
                     OBSTACLE_NONE);
    return conditions;
}

/* --- wind and angles ------------------------------------------------------ */

static void
the_wind_over_the_water_is_the_forecast_less_the_current(void **state) {
    (void)state;
    /* a current of 2 kn with, against and across a wind of 10 kn from north */
    static const struct {
        double sets_deg, tws_kn, twd_deg;
    } rows[] = {
        {180, 8, 0},
        {0, 12, 0},
        {90, 10.198039, 11.309932}, /* sqrt(104), atan(2 / 10) */
        {270, 10.198039, 348.690068},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {
            .wind_from_deg = 0.0,
            .wind_mps = kn_to_mps(10.0),
            .current = vector_towards(rows[i].sets_deg, kn_to_mps(2.0))};
        struct voyage voyage =
            analytic_voyage(analytic_boat("wanderer-12"), &weather, middle);
        struct conditions conditions = look(&voyage);
        assert_near(mps_to_kn(conditions.tws_mps), rows[i].tws_kn, 1e-6);
        assert_angle_near(conditions.twd_deg, rows[i].twd_deg, 1e-6);
    }
}

static double four_mps(double twa_deg) {
    (void)twa_deg;
    return 4.0;
}

/* Boat of one speed on all courses, spar out or not. */
static struct boat *boat_of_one_speed(void) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->stowed = boat->spar_out = analytic_polar(four_mps, 0.0);
    return boat;
}

static void twa_and_awa_are_positive_with_the_wind_to_starboard(void **state) {
    (void)state;
    /* Boat 4 m/s in 4 m/s of wind: AWA is half of TWA, by the triangle. */
    static const struct {
        double course_deg, from_deg, twa_deg, aws_mps;
    } rows[] = {
        {0, 90, 90, 5.656854}, {0, 270, -90, 5.656854}, {200, 320, 120, 4.0},
        {200, 80, -120, 4.0},  {350, 10, 20, 7.878462}, /* 8 cos 10 */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_from_deg = rows[i].from_deg,
                                   .wind_mps = 4.0};
        struct voyage voyage =
            analytic_voyage(boat_of_one_speed(), &weather, middle);
        struct conditions conditions = look(&voyage);
        struct motion motion;
        assert_int_equal(voyage_motion(&voyage, &conditions, rows[i].course_deg,
                                       STOWED(rows[i].twa_deg > 0.0), false,
                                       &motion),
                         OBSTACLE_NONE);
        assert_near(motion.twa_deg, rows[i].twa_deg, 1e-9);
        assert_near(voyage_awa_deg(&motion), 0.5 * rows[i].twa_deg, 1e-9);
        assert_near(motion.aws_mps, rows[i].aws_mps, 1e-6);
        assert_near(motion.heading_deg, rows[i].course_deg, 0.0);
        assert_near(motion.sog_mps, 4.0, 1e-12);
        assert_false(motion.wrong_side);
    }
}

static void three_degrees_by_the_lee_are_sailed_and_no_more(void **state) {
    (void)state;
    static const struct {
        double twa_deg;
        bool wind_starboard, wrong;
    } rows[] = {
        {150, true, false},    {180, true, false},   {-177.1, true, false},
        {-176.9, true, true},  {-90, true, true},    {-0.5, true, true},
        {0, true, false},      {-150, false, false}, {180, false, false},
        {177.1, false, false}, {176.9, false, true}, {90, false, true},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_from_deg =
                                       angle_wrap_360(100.0 + rows[i].twa_deg),
                                   .wind_mps = 8.0};
        struct voyage voyage =
            analytic_voyage(boat_of_one_speed(), &weather, middle);
        struct conditions conditions = look(&voyage);
        struct motion motion;
        voyage_motion(&voyage, &conditions, 100.0,
                      STOWED(rows[i].wind_starboard), false, &motion);
        assert_int_equal(motion.wrong_side, rows[i].wrong);
    }
}

/* --- current -------------------------------------------------------------- */

struct drift_case {
    struct analytic weather;
    struct deck deck;
    double course_deg;
    bool working;
};

static struct drift_case random_drift(struct seed *seed) {
    struct drift_case drift = {
        .weather = {.wind_from_deg = seed_between(seed, 0.0, 360.0),
                    .wind_mps = seed_between(seed, 1.0, 15.0),
                    .current = vector_towards(seed_between(seed, 0.0, 360.0),
                                              seed_between(seed, 0.1, 2.0))},
        .course_deg = seed_between(seed, 0.0, 360.0),
        .working = seed_between(seed, 0.0, 1.0) < 0.2};
    drift.deck = deck_at((int)seed_between(seed, 0.0, DECK_STATES - 0.001));
    return drift;
}

static void heading_and_current_make_good_the_course(void **state) {
    (void)state;
    struct seed seed = {20240229};
    int sailed = 0;
    for (int i = 0; i < 20000; i++) {
        struct drift_case drift = random_drift(&seed);
        struct voyage voyage = analytic_voyage(analytic_boat("wanderer-12"),
                                               &drift.weather, middle);
        struct conditions conditions = look(&voyage);
        struct motion motion;
        if (voyage_motion(&voyage, &conditions, drift.course_deg, drift.deck,
                          drift.working, &motion) != OBSTACLE_NONE)
            continue;
        struct vector_mps over_ground =
            vector_plus(vector_towards(motion.heading_deg, motion.stw_mps),
                        drift.weather.current);
        struct vector_mps along =
            vector_towards(drift.course_deg, motion.sog_mps);
        assert_near(over_ground.east, along.east, 1e-5);
        assert_near(over_ground.north, along.north, 1e-5);
        assert_angle_near(motion.twa_deg,
                          conditions.twd_deg - motion.heading_deg, 1e-5);
        assert_true(motion.sog_mps > 0.0);
        sailed++;
    }
    assert_true(sailed > 10000);
}

/* The greatest speed along the course of all headings, tried in steps of a
 * tenth of a degree to 80 off the course, that let the boat hold it; 0 where
 * none does. */
static double best_held_mps(const struct boat *boat,
                            const struct conditions *conditions,
                            double course_deg) {
    double best_mps = 0.0, last = 0.0, last_mps = 0.0;
    double sine, cosine;
    sincos_deg(course_deg, &sine, &cosine);
    struct vector_mps current = conditions->current;
    double along = current.east * sine + current.north * cosine;
    double across = current.east * cosine - current.north * sine;
    for (int tenth = -800; tenth <= 800; tenth++) {
        double crab = tenth * 0.1 * RADIANS_PER_DEGREE;
        double twa_deg =
            angle_turn(course_deg + tenth * 0.1, conditions->twd_deg);
        double stw = polar_speed(&boat->stowed, twa_deg, conditions->tws_mps);
        double drift = stw * sin(crab) + across;
        if (stw > 0.1 && last_mps > 0.1 && drift * last <= 0.0)
            best_mps = fmax(best_mps, along + stw * cos(crab));
        last = drift;
        last_mps = stw;
    }
    return best_mps;
}

/* But for one in 500: where the boat just so holds her own on the edge of the
 * no-go zone, or lies across the stream on the other tack. */
static void a_course_that_some_heading_holds_is_not_refused(void **state) {
    (void)state;
    struct seed seed = {42};
    const struct boat *boat = analytic_boat("wanderer-12");
    int holdable = 0, held = 0;
    for (int i = 0; i < 3000; i++) {
        struct drift_case drift = random_drift(&seed);
        struct voyage voyage = analytic_voyage(boat, &drift.weather, middle);
        struct conditions conditions = look(&voyage);
        double best_mps = best_held_mps(boat, &conditions, drift.course_deg);
        if (best_mps < 0.2)
            continue;
        struct motion motion;
        enum obstacle obstacle =
            voyage_motion(&voyage, &conditions, drift.course_deg,
                          STOWED(WIND_PORT), false, &motion);
        holdable++;
        held += obstacle == OBSTACLE_NONE && motion.sog_mps > best_mps - 0.05;
    }
    assert_true(holdable > 2000);
    assert_true(held >= holdable - holdable / 500);
}

static void
a_current_stronger_than_the_boat_is_told_from_no_wind(void **state) {
    (void)state;
    static const struct {
        double course_deg, wind_mps, current_mps;
        enum obstacle obstacle;
    } rows[] = {
        {90, 8, 1, OBSTACLE_NONE},       {90, 8, 3.9, OBSTACLE_NONE},
        {90, 8, 4.1, OBSTACLE_CURRENT},  /* set aside faster than she sails */
        {180, 8, 4.1, OBSTACLE_CURRENT}, /* set back */
        {180, 0, 1, OBSTACLE_NO_SPEED},  {0, 8, 1, OBSTACLE_NONE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct vector_mps current = vector_towards(0.0, rows[i].current_mps);
        struct analytic weather = {.current = current};
        struct voyage voyage =
            analytic_voyage(boat_of_one_speed(), &weather, middle);
        struct conditions conditions = look(&voyage);
        conditions.tws_mps = rows[i].wind_mps;
        struct motion motion;
        assert_int_equal(voyage_motion(&voyage, &conditions, rows[i].course_deg,
                                       STOWED(WIND_PORT), false, &motion),
                         rows[i].obstacle);
    }
}

/* --- speed ---------------------------------------------------------------- */

static double three_mps(double twa_deg) {
    (void)twa_deg;
    return 3.0;
}

static double five_mps(double twa_deg) {
    (void)twa_deg;
    return 5.0;
}

/* Stowed 3 m/s everywhere; spar out 5 m/s from TWA 90 on. */
static struct boat *boat_of_two_speeds(void) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->stowed = analytic_polar(three_mps, 0.0);
    boat->spar_out = analytic_polar(five_mps, 90.0);
    boat->factor = 0.9;
    boat->night_factor = 0.8;
    boat->spar.work_speed_frac = 0.7;
    boat->spar.rolled_speed_frac = 0.6;
    return boat;
}

static void speed_goes_by_the_deck_the_work_and_the_light(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct voyage voyage =
        analytic_voyage(boat_of_two_speeds(), &weather, middle);
    const struct deck stowed = STOWED(WIND_PORT);
    const struct deck drawing = DRAWING(SPAR_PORT, WIND_PORT);
    const struct deck rolled = ROLLED(SPAR_PORT, WIND_PORT);
    const struct {
        struct deck deck;
        double course_deg; /* the wind is from 0 */
        bool working;
        enum light light;
        double stw_mps;
    } rows[] = {
        {stowed, 170, false, LIGHT_DAY, 0.9 * 3},
        {stowed, 170, false, LIGHT_TWILIGHT, 0.9 * 3},
        {stowed, 170, false, LIGHT_NIGHT, 0.9 * 0.8 * 3},
        {drawing, 170, false, LIGHT_DAY, 0.9 * 5},
        {drawing, 170, false, LIGHT_NIGHT, 0.9 * 0.8 * 5},
        {rolled, 170, false, LIGHT_DAY, 0.9 * 0.6 * 3},
        {rolled, 170, false, LIGHT_NIGHT, 0.9 * 0.8 * 0.6 * 3},
        /* at work: of the stowed polar, whatever the deck */
        {stowed, 170, true, LIGHT_DAY, 0.9 * 0.7 * 3},
        {drawing, 170, true, LIGHT_DAY, 0.9 * 0.7 * 3},
        {rolled, 170, true, LIGHT_NIGHT, 0.9 * 0.8 * 0.7 * 3},
        /* off the spar's own polar the sail is as good as rolled */
        {drawing, 91, false, LIGHT_DAY, 0.9 * 5},
        {drawing, 89, false, LIGHT_DAY, 0.9 * 0.6 * 3},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct conditions conditions = look(&voyage);
        conditions.light = rows[i].light;
        struct motion motion;
        assert_int_equal(voyage_motion(&voyage, &conditions, rows[i].course_deg,
                                       rows[i].deck, rows[i].working, &motion),
                         OBSTACLE_NONE);
        assert_near(motion.stw_mps, rows[i].stw_mps, 1e-9);
        assert_near(motion.sog_mps, rows[i].stw_mps, 1e-9);
    }
}

static void below_the_first_angle_and_without_wind_nobody_sails(void **state) {
    (void)state;
    static const struct {
        double course_deg, wind_mps;
        enum obstacle obstacle;
    } rows[] = {
        {36, 6, OBSTACLE_NONE},     {34, 6, OBSTACLE_NO_SPEED},
        {0, 6, OBSTACLE_NO_SPEED},  {324, 6, OBSTACLE_NONE},
        {90, 0, OBSTACLE_NO_SPEED}, {90, 0.01, OBSTACLE_NO_SPEED},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_mps = rows[i].wind_mps};
        struct voyage voyage =
            analytic_voyage(analytic_boat("wanderer-12"), &weather, middle);
        struct conditions conditions = look(&voyage);
        struct motion motion;
        assert_int_equal(voyage_motion(&voyage, &conditions, rows[i].course_deg,
                                       STOWED(WIND_PORT), false, &motion),
                         rows[i].obstacle);
    }
}

static void wind_above_the_polar_is_flagged(void **state) {
    (void)state;
    static const struct {
        double wind_kn;
        bool beyond;
    } rows[] = {{34.9, false}, {35.1, true}};
    for (size_t i = 0; i < 2; i++) {
        struct analytic weather = {.wind_mps = kn_to_mps(rows[i].wind_kn)};
        struct voyage voyage =
            analytic_voyage(analytic_boat("wanderer-12"), &weather, middle);
        struct conditions conditions = look(&voyage);
        struct motion motion;
        voyage_motion(&voyage, &conditions, 120.0, STOWED(WIND_PORT), false,
                      &motion);
        assert_int_equal(motion.polar_beyond, rows[i].beyond);
    }
}

static void no_motion_is_faster_than_the_top_speed(void **state) {
    (void)state;
    struct seed seed = {7};
    struct boat *boat = analytic_boat_copy("heron-9");
    boat->factor = 1.1;
    boat->night_factor = 1.2;
    double fastest = 0.0, top = 0.0;
    for (int i = 0; i < 5000; i++) {
        struct analytic weather = {.wind_from_deg =
                                       seed_between(&seed, 0.0, 360.0),
                                   .wind_mps = seed_between(&seed, 2.0, 25.0)};
        struct voyage voyage = analytic_voyage(boat, &weather, middle);
        struct conditions conditions = look(&voyage);
        conditions.light = i % 2 ? LIGHT_NIGHT : LIGHT_DAY;
        struct motion motion;
        top = voyage_top_speed(&voyage);
        if (voyage_motion(&voyage, &conditions, 0.0, deck_at(i % DECK_STATES),
                          false, &motion) == OBSTACLE_NONE)
            fastest = fmax(fastest, motion.stw_mps);
    }
    assert_true(fastest <= top);
    assert_true(fastest > 0.98 * top);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            the_wind_over_the_water_is_the_forecast_less_the_current),
        cmocka_unit_test(twa_and_awa_are_positive_with_the_wind_to_starboard),
        cmocka_unit_test(three_degrees_by_the_lee_are_sailed_and_no_more),
        cmocka_unit_test(heading_and_current_make_good_the_course),
        cmocka_unit_test(a_course_that_some_heading_holds_is_not_refused),
        cmocka_unit_test(a_current_stronger_than_the_boat_is_told_from_no_wind),
        cmocka_unit_test(speed_goes_by_the_deck_the_work_and_the_light),
        cmocka_unit_test(below_the_first_angle_and_without_wind_nobody_sails),
        cmocka_unit_test(wind_above_the_polar_is_flagged),
        cmocka_unit_test(no_motion_is_faster_than_the_top_speed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
