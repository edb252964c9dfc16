/* From the search's track to what the crew steers. */
#include "../support/analytic.h"
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/course.h"
#include "search/refine.h"
#include <math.h>

static const struct position start_at = {30.0, -40.0};

static const struct course_options usual = {.leg_loss_frac = 0.003,
                                            .most_points = 50};

/* Many places about a rhumb line to the west, wide of it by up to
 * `bow_nmi`. */
static struct track bowed(size_t count, double spacing_nmi, double bow_nmi) {
    struct track track = {.count = count};
    track.vertices = arena_alloc(&arena, count, sizeof *track.vertices);
    for (size_t i = 0; i < count; i++) {
        double part = (double)i / (double)(count - 1);
        struct position on_line =
            rhumb_ahead(start_at, 270.0, nmi_to_m(spacing_nmi * (double)i));
        track.vertices[i].at =
            rhumb_ahead(on_line, 180.0, nmi_to_m(bow_nmi * sin(PI * part)));
    }
    track.vertices[0].pinned = track.vertices[count - 1].pinned = true;
    return track;
}

static struct voyage voyage_on(const struct track *track,
                               const struct analytic *weather) {
    return analytic_voyage(analytic_boat("wanderer-12"), weather,
                           track->vertices[track->count - 1].at);
}

static struct underway stowed_at_start(void) {
    return sail_start(start_at, (struct deck){.spar = SPAR_STOWED});
}

/* With its best orders, as the search gives it. */
static struct track rigged(const struct voyage *voyage, struct track track) {
    struct underway start = stowed_at_start();
    assert_int_equal(course_rig(voyage, &track, &start, &arena), OBSTACLE_NONE);
    return track;
}

static double best_cost(const struct voyage *voyage, struct track track) {
    struct underway start = stowed_at_start();
    double elapsed_s;
    track = rigged(voyage, track);
    return track_cost(voyage, &track, &start, &elapsed_s);
}

static const struct analytic beam_wind = {
    .wind_from_deg = 180.0, .wind_mps = 7.0, .gust_frac = {true, 1.2}};
static const struct analytic stern_wind = {
    .wind_from_deg = 90.0, .wind_mps = 7.0, .gust_frac = {true, 1.2}};

static void a_straight_way_in_a_steady_wind_is_one_leg(void **state) {
    (void)state;
    struct track track = bowed(20, 10.0, 0.0);
    struct voyage voyage = voyage_on(&track, &beam_wind);
    struct underway start = stowed_at_start();
    struct track course = course_cut(&voyage, &track, &start, &usual, &arena);
    assert_int_equal(course.count, 2);
}

static void cutting_loses_no_more_than_is_allowed(void **state) {
    (void)state;
    struct analytic weather = stern_wind;
    weather.veer_deg_per_day = 40.0;
    struct track track = bowed(30, 10.0, 12.0);
    struct voyage voyage = voyage_on(&track, &weather);
    struct underway start = stowed_at_start();
    track = rigged(&voyage, track);
    double before_s = best_cost(&voyage, track_copy(&arena, &track));
    struct track course = course_cut(&voyage, &track, &start, &usual, &arena);
    double elapsed_s;
    double after_s = track_cost(&voyage, &course, &start, &elapsed_s);
    assert_true(course.count < track.count);
    assert_true(after_s <= before_s * 1.003);
    assert_near(after_s, elapsed_s, 1e-6); /* ease 0 */
}

/* Half way between two shifts of the wind, in miles along the way. */
static const double SHIFT_NMI = 25.0;

/* A light wind that swings with the place, 20 degrees to both sides of the
 * direction of the analytic one. */
static enum obstacle shifts(const void *weather, struct position position,
                            double t_s, struct conditions *conditions) {
    const struct analytic *mean = weather;
    enum obstacle obstacle =
        analytic_conditions(weather, position, t_s, conditions);
    struct position abeam = {position.lat_deg, start_at.lon_deg};
    double miles = m_to_nmi(rhumb_between(abeam, position).distance_m);
    conditions->wind = vector_from(
        mean->wind_from_deg + 20.0 * sin(PI * miles / SHIFT_NMI), 4.0);
    return obstacle;
}

/* West on the better side all the way: a turn at every shift. */
static struct track zigzag(size_t count, double off_deg) {
    struct track track = {.count = count};
    track.vertices = arena_alloc(&arena, count, sizeof *track.vertices);
    track.vertices[0].at = start_at;
    for (size_t i = 1; i < count; i++)
        track.vertices[i].at = rhumb_ahead(
            track.vertices[i - 1].at, 270.0 + (i % 2 ? -off_deg : off_deg),
            nmi_to_m(SHIFT_NMI / cos(off_deg * RADIANS_PER_DEGREE)));
    track.vertices[0].pinned = track.vertices[count - 1].pinned = true;
    return track;
}

/* The way of least time where the wind veers, cut with hardly any loss. */
static size_t places_left(size_t most_points) {
    struct analytic weather = {
        .wind_from_deg = 170.0, .wind_mps = 6.0, .veer_deg_per_day = 30.0};
    struct track track = bowed(40, 10.0, 40.0);
    struct voyage voyage = voyage_on(&track, &weather);
    struct underway start = stowed_at_start();
    struct refine_options moves = {.first_step_m = 2e4,
                                   .last_step_m = 500.0,
                                   .worth_frac = 2e-5,
                                   .rounds = 20};
    struct course_options options = {1e-4, most_points};
    voyage.spar_allowed = false;
    refine_track(&voyage, &track, &start, &moves, &arena);
    return course_cut(&voyage, &track, &start, &options, &arena).count;
}

static void no_more_points_than_asked_for(void **state) {
    (void)state;
    assert_true(places_left(50) > 6);
    assert_in_range(places_left(6), 3, 6);
}

/* Upwind every second place is needed: rather more places than a way that
 * can't be sailed. */
static void a_way_that_needs_more_points_keeps_them(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 270.0};
    struct track track = zigzag(13, 42.0);
    struct voyage voyage = voyage_on(&track, &weather);
    struct underway start = stowed_at_start();
    struct course_options few = {0.003, 6};
    voyage.conditions = shifts;
    voyage.spar_allowed = false;
    struct track course = course_cut(&voyage, &track, &start, &few, &arena);
    double elapsed_s;
    assert_true(course.count > 6);
    assert_true(isfinite(track_cost(&voyage, &course, &start, &elapsed_s)));
}

/* As a route file has them: to 7 decimals of a degree. */
static void places_are_rounded_as_they_are_written(void **state) {
    (void)state;
    struct analytic weather = stern_wind;
    weather.veer_deg_per_day = 40.0;
    struct track track = bowed(30, 10.0, 12.0);
    struct voyage voyage = voyage_on(&track, &weather);
    track = rigged(&voyage, track);
    struct underway start = stowed_at_start();
    struct track course = course_cut(&voyage, &track, &start, &usual, &arena);
    for (size_t i = 0; i < course.count; i++) {
        struct position at = course.vertices[i].at;
        assert_near(at.lat_deg, round(at.lat_deg * 1e7) / 1e7, 1e-12);
        assert_near(at.lon_deg, round(at.lon_deg * 1e7) / 1e7, 1e-12);
    }
}

static void places_to_pass_stay(void **state) {
    (void)state;
    struct track track = bowed(21, 10.0, 15.0);
    struct voyage voyage = voyage_on(&track, &beam_wind);
    struct underway start = stowed_at_start();
    track.vertices[10].pinned = true;
    struct position pinned = track.vertices[10].at;
    struct course_options loose = {.leg_loss_frac = 0.1, .most_points = 50};
    struct track course = course_cut(&voyage, &track, &start, &loose, &arena);
    bool found = false;
    for (size_t i = 0; i < course.count; i++)
        found |= rhumb_between(course.vertices[i].at, pinned).distance_m < 0.1;
    assert_true(found);
}

struct seen {
    const struct track *course;
    size_t changes;
};

static void note_place(void *context, const struct sail_change *change) {
    struct seen *seen = context;
    double nearest_m = HUGE_VAL;
    seen->changes++;
    for (size_t i = 0; i < seen->course->count; i++)
        nearest_m = fmin(
            nearest_m,
            rhumb_between(seen->course->vertices[i].at, change->at).distance_m);
    assert_near(nearest_m, 0.0, 20.0);
}

/* The wind shifts through dead aft and rises: gybes and rolling the sail on
 * the way would be missing in a route file. */
static void every_change_has_a_place_of_its_own(void **state) {
    (void)state;
    struct analytic weather = stern_wind;
    weather.wind_from_deg = 60.0;
    weather.veer_deg_per_day = 30.0;
    weather.rise_mps_per_day = 1.5;
    struct track track = bowed(40, 10.0, 0.0);
    struct voyage voyage = voyage_on(&track, &weather);
    track = rigged(&voyage, track);
    struct underway start = stowed_at_start();
    struct track course = course_cut(&voyage, &track, &start, &usual, &arena);
    struct seen seen = {.course = &course};
    struct sail_observer observer = {.change = note_place, .context = &seen};
    struct underway boat = track_start(&voyage, &course, &start);
    assert_int_equal(track_sail(&voyage, &course, &boat, &observer),
                     OBSTACLE_NONE);
    assert_true(seen.changes >= 2);
    assert_int_equal(boat.deck.spar, SPAR_STOWED);
}

/* A track of one leg through a shift: the mainsail has to come over on the
 * way, and that place becomes one of the track. */
static void changes_on_the_way_are_given_a_place(void **state) {
    (void)state;
    struct analytic weather = stern_wind;
    weather.wind_from_deg = 70.0;
    weather.veer_deg_per_day = 30.0;
    struct track track = bowed(2, 300.0, 0.0);
    struct voyage voyage = voyage_on(&track, &weather);
    struct underway start = stowed_at_start();
    voyage.spar_allowed = false;
    struct track course = track_copy(&arena, &track);
    assert_int_equal(course_with_changes(&voyage, &course, &start, &arena),
                     OBSTACLE_NONE);
    struct seen seen = {.course = &course};
    struct sail_observer observer = {.change = note_place, .context = &seen};
    struct underway boat = track_start(&voyage, &course, &start);
    assert_int_equal(course.count, 3);
    track_sail(&voyage, &course, &boat, &observer);
    assert_int_equal(seen.changes, 1);
}

/* What a route file is timed by gives the same orders and the same time. */
static void rigging_the_course_again_changes_nothing(void **state) {
    (void)state;
    struct analytic weather = stern_wind;
    weather.wind_from_deg = 60.0;
    weather.veer_deg_per_day = 30.0;
    struct track track = bowed(40, 10.0, 0.0);
    struct voyage voyage = voyage_on(&track, &weather);
    track = rigged(&voyage, track);
    struct underway start = stowed_at_start();
    struct track course = course_cut(&voyage, &track, &start, &usual, &arena);
    double elapsed_s;
    double cost_s = track_cost(&voyage, &course, &start, &elapsed_s);
    struct track again = track_copy(&arena, &course);
    for (size_t i = 0; i < again.count; i++)
        again.vertices[i].order = (struct deck){.spar = SPAR_STOWED};
    assert_near(best_cost(&voyage, again), cost_s, 1e-6);
}

static void a_course_that_is_barred_costs_without_end(void **state) {
    (void)state;
    struct track track = bowed(3, 10.0, 0.0);
    struct voyage voyage = voyage_on(&track, &beam_wind);
    struct underway start = stowed_at_start();
    double elapsed_s;
    voyage.max_wind_mps = figure_of(6.9);
    assert_true(isinf(track_cost(&voyage, &track, &start, &elapsed_s)));
    assert_int_equal(course_rig(&voyage, &track, &start, &arena),
                     OBSTACLE_WIND);
    assert_int_equal(course_with_changes(&voyage, &track, &start, &arena),
                     OBSTACLE_WIND);
    assert_int_equal(track.count, 3);
}

/* Whether the track ends short of the end of the forecast or after it: half a
 * minute before it is where the boat stands. */
static void a_track_is_run_out_to_the_end_of_the_forecast(void **state) {
    (void)state;
    static const double hours[] = {4.0, 7.3};
    for (size_t i = 0; i < 2; i++) {
        struct analytic weather = beam_wind;
        struct track track = bowed(4, 12.0, 1.0);
        struct voyage voyage = voyage_on(&track, &weather);
        struct underway start = stowed_at_start();
        double elapsed_s;
        track_cost(&voyage, &track, &start, &elapsed_s);
        assert_true(elapsed_s > hours_to_s(4.0) && elapsed_s < hours_to_s(7.0));
        weather.horizon_s = hours_to_s(hours[i]);
        course_run_out(&voyage, &track, &start);
        assert_true(isfinite(track_cost(&voyage, &track, &start, &elapsed_s)));
        assert_true(elapsed_s > weather.horizon_s - 31.0);
    }
}

static void a_track_that_is_barred_on_its_way_is_not_run_out(void **state) {
    (void)state;
    struct analytic weather = beam_wind;
    struct track track = bowed(4, 12.0, 1.0);
    struct voyage voyage = voyage_on(&track, &weather);
    struct underway start = stowed_at_start();
    struct position end = track.vertices[3].at;
    weather.south_deg = start_at.lat_deg - 3.0;
    weather.north_deg = start_at.lat_deg + 3.0;
    weather.west_deg = end.lon_deg - 0.1;
    weather.east_deg = start_at.lon_deg + 1.0;
    weather.horizon_s = hours_to_s(20.0);
    course_run_out(&voyage, &track, &start);
    assert_near(track.vertices[3].at.lat_deg, end.lat_deg, 0.0);
    assert_near(track.vertices[3].at.lon_deg, end.lon_deg, 0.0);
}

#define TEST(f) cmocka_unit_test_setup_teardown(f, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_straight_way_in_a_steady_wind_is_one_leg),
        TEST(cutting_loses_no_more_than_is_allowed),
        TEST(no_more_points_than_asked_for),
        TEST(a_way_that_needs_more_points_keeps_them),
        TEST(places_are_rounded_as_they_are_written),
        TEST(places_to_pass_stay),
        TEST(every_change_has_a_place_of_its_own),
        TEST(changes_on_the_way_are_given_a_place),
        TEST(rigging_the_course_again_changes_nothing),
        TEST(a_course_that_is_barred_costs_without_end),
        TEST(a_track_is_run_out_to_the_end_of_the_forecast),
        TEST(a_track_that_is_barred_on_its_way_is_not_run_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
