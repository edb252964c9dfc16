#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/banks.h"
#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"
#include "search/homeward.h"
#include "search/sight.h"

#define COUNT(list) (sizeof(list) / sizeof *(list))

static const struct position start = {10.0, -40.0};
static const struct deck stowed = {.spar = SPAR_STOWED};
static const struct deck drawing = {.spar = SPAR_PORT};

static struct voyage voyage_in(const struct analytic *weather) {
    return analytic_voyage(analytic_boat("wanderer-12"), weather,
                           (struct position){10.0, -60.0});
}

static struct corners square_of(double side_nmi) {
    struct position north = rhumb_ahead(start, 0.0, nmi_to_m(side_nmi));
    struct position west = rhumb_ahead(north, 270.0, nmi_to_m(side_nmi));
    struct position south = rhumb_ahead(west, 180.0, nmi_to_m(side_nmi));
    return (struct corners){.places = {north, west, south}, .count = 3};
}

static struct homeward to(struct corners corners) {
    return (struct homeward){.goal = corners.places[corners.count - 1],
                             .ahead = corners};
}

static void she_turns_at_every_corner_that_she_passes(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 135.0, .wind_mps = 8.0};
    struct voyage voyage = voyage_in(&weather);
    struct homeward way = to(square_of(10.0));
    const struct position *places = way.ahead.places;
    struct corners turned;
    struct underway boat = sail_start(start, stowed);
    assert_int_equal(
        homeward_sail(&voyage, &boat, &way, hours_to_s(2.0), &turned),
        OBSTACLE_NONE);
    assert_near(boat.t_s, hours_to_s(2.0), 1e-3);
    assert_int_equal(turned.count, 1);
    assert_near(turned.places[0].lat_deg, places[0].lat_deg, 0.0);
    assert_near(boat.at.lat_deg, places[0].lat_deg, 1e-4);
    assert_true(boat.at.lon_deg < start.lon_deg);
}

static void at_the_last_corner_she_stops_before_the_time_is_over(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 135.0, .wind_mps = 8.0};
    struct voyage voyage = voyage_in(&weather);
    struct homeward way = to(square_of(4.0));
    const struct position *places = way.ahead.places;
    struct corners turned;
    struct underway boat = sail_start(start, stowed);
    assert_int_equal(homeward_sail(&voyage, &boat, &way, HUGE_VAL, &turned),
                     OBSTACLE_NONE);
    assert_int_equal(turned.count, 3);
    assert_near(boat.at.lon_deg, places[2].lon_deg, 0.0);
    assert_near(boat.at.lat_deg, places[2].lat_deg, 0.0);
    assert_true(boat.t_s > hours_to_s(1.0) && boat.t_s < hours_to_s(6.0));
}

/* Between two walls two miles apart, dead to windward: every board ends in
 * open water, and she gets there. */
static void she_beats_between_walls_and_touches_none(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct bank walls[] = {
        {{9.5, -40.02}, {11.0, -40.02}, nmi_to_m(0.2), OBSTACLE_LAND},
        {{9.5, -39.98}, {11.0, -39.98}, nmi_to_m(0.2), OBSTACLE_LAND}};
    struct banks banks = {.items = walls, .count = 2};
    struct voyage voyage = voyage_in(&weather);
    banks_put(&voyage, &banks);
    struct homeward way = to((struct corners){
        .places = {rhumb_ahead(start, 0.0, nmi_to_m(8.0))}, .count = 1});
    const struct position *places = way.ahead.places;
    struct corners turned;
    struct underway boat = sail_start(start, stowed);
    assert_int_equal(homeward_sail(&voyage, &boat, &way, HUGE_VAL, &turned),
                     OBSTACLE_NONE);
    assert_true(turned.count >= 4);
    assert_near(boat.at.lat_deg, places[0].lat_deg, 0.0);
    struct position last = start;
    for (size_t i = 0; i < turned.count; last = turned.places[i++])
        assert_true(banks_distance_m(&banks, last, turned.places[i]) > 0.0);
    /* on the closest course that she sails, 45 degrees or less, twice the
     * sine of it longer than straight; wider than 60 it would be twice */
    assert_true(boat.sailed_m < 2.0 * nmi_to_m(8.0));
}

static void the_spar_is_in_before_landfall_round_the_last_corner(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 135.0, .wind_mps = 8.0};
    struct voyage voyage = voyage_in(&weather);
    struct corners ahead = square_of(30.0);
    struct vertex vertices[HOMEWARD_VERTICES];
    const double top_mps = 5.0;
    struct track track = homeward_ending(&voyage, start, &ahead, drawing,
                                         top_mps, true, vertices);
    assert_int_equal(track.count, 5); /* start, two corners, stow, goal */
    const struct spar *spar = &voyage.boat->spar;
    double radius_m = spar->landfall_m + spar->stow_s * spar->night_factor *
                                             spar->work_speed_frac * top_mps;
    assert_near(rhumb_between(track.vertices[3].at, ahead.places[2]).distance_m,
                radius_m, 2.0);
    assert_int_equal(track.vertices[2].order.spar, SPAR_PORT);
    assert_int_equal(track.vertices[3].order.spar, SPAR_STOWED);
    track = homeward_ending(&voyage, start, &ahead, drawing, top_mps, false,
                            vertices);
    assert_int_equal(track.count, 4);
    struct corners near = {.places = {rhumb_ahead(start, 0.0, 5000.0)},
                           .count = 1};
    track = homeward_ending(&voyage, start, &near, drawing, top_mps, true,
                            vertices);
    assert_int_equal(track.count, 2);
    assert_int_equal(track.vertices[0].order.spar, SPAR_STOWED);
}

/* A bank on the geodesic from 40 N to 40 N, well north of the parallel. */
static void sight_goes_by_the_geodesic(void **state) {
    (void)state;
    struct analytic weather = {.wind_mps = 8.0};
    struct position from = {40.0, -60.0}, to = {40.0, -20.0};
    struct geodesic line = geodesic_between(from, to);
    struct position middle =
        geodesic_ahead(from, line.course_start_deg, 0.5 * line.distance_m);
    struct position level = {40.0, -40.0};
    assert_true(middle.lat_deg > 41.5);
    struct bank on[] = {{middle, middle, 5000.0, OBSTACLE_LAND}};
    struct bank off[] = {{level, level, 5000.0, OBSTACLE_LAND}};
    struct banks barred = {.items = on, .count = 1};
    struct banks clear = {.items = off, .count = 1};
    struct voyage voyage = voyage_in(&weather);
    banks_put(&voyage, &barred);
    assert_false(sight_is_clear(&voyage, from, to));
    assert_false(sight_is_clear(&voyage, to, from));
    banks_put(&voyage, &clear);
    assert_true(sight_is_clear(&voyage, from, to));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(she_turns_at_every_corner_that_she_passes),
        cmocka_unit_test(at_the_last_corner_she_stops_before_the_time_is_over),
        cmocka_unit_test(she_beats_between_walls_and_touches_none),
        cmocka_unit_test(the_spar_is_in_before_landfall_round_the_last_corner),
        cmocka_unit_test(sight_goes_by_the_geodesic),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
