/* Ways by rays, on the plane of support/flow.h: the boat makes a unit of speed
 * on all courses. */
#include "../support/check.h"

#include "../support/flow.h"
#include "../support/scratch.h"
#include "search/ray.h"
#include "search/rays.h"
#include <math.h>

/* Three times as fast as the boat, to the east everywhere. */
static struct plane_point carried_east(struct plane_point place, double t) {
    (void)place, (void)t;
    return (struct plane_point){.x = 3.0};
}

static const struct flow stream = {.unit_m = 20.0 * METRES_PER_NMI,
                                   .unit_mps =
                                       6.0 * METRES_PER_NMI / SECONDS_PER_HOUR,
                                   .box = {-2, -4, 8, 4},
                                   .most = 3.0,
                                   .at = carried_east};

static const struct plane_point begin = {0, 0}, aslant = {3, 0.5},
                                astern = {-1, 0};

/* |d - c T| = V T with d = (3, 0.5), c = 3, V = 1, the smaller T; calculated:
 * (18 - sqrt(28)) / 16. */
static const double ASLANT_TIME = 0.794281;

/* The way of a voyage to one place, past others; expected to take `about` and
 * of no use after `most`, in units. */
static struct track find(const struct voyage *voyage,
                         const struct position *via, size_t via_count,
                         double most) {
    struct search_request request = {.from = flow_place(&stream, begin),
                                     .via = via,
                                     .via_count = via_count,
                                     .to = voyage->finish};
    double unit_s = flow_unit_s(&stream);
    return rays_track(voyage, &request, 2.0 * unit_s, most * unit_s, &arena);
}

static double time_of(const struct voyage *voyage, const struct track *track) {
    struct underway start =
        sail_start(track->vertices[0].at, (struct deck){.spar = SPAR_STOWED});
    double elapsed_s;
    track_cost(voyage, track, &start, &elapsed_s);
    return elapsed_s / flow_unit_s(&stream);
}

static struct voyage voyage_to(const struct analytic *weather,
                               struct plane_point goal) {
    return analytic_voyage(analytic_free_boat(flow_six_kn), weather,
                           flow_place(&stream, goal));
}

static void they_are_needed_where_no_heading_stems_the_current(void **state) {
    (void)state;
    struct analytic weather = flow_weather(&stream);
    struct voyage voyage = voyage_to(&weather, aslant);
    voyage.max_current_mps = 1.01 * stream.unit_mps;
    assert_true(rays_are_needed(&voyage));
    voyage.max_current_mps = 0.99 * stream.unit_mps;
    assert_false(rays_are_needed(&voyage));
}

/* The chart has no poles: some 30 m from one a step leads off it. */
static void near_a_pole_a_ray_ends(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 90.0, .wind_mps = 8.0};
    struct voyage voyage =
        analytic_voyage(analytic_free_boat(flow_six_kn), &weather,
                        (struct position){89.0, 0.0});
    struct fan fan;
    fan_init(&fan, &voyage, 5.0, &arena);
    struct ray_water water = {&voyage, &fan};
    for (int i = 0; i < 8; i++) {
        struct plane_point from = {0.1, i % 2 ? 13.0 : 800.0};
        struct ray ray = ray_leaving(from, 0.25 * PI * i), before = ray;
        struct ray_change change;
        assert_false(ray_step(&water, &ray, 0.0, 3600.0, &change));
        assert_memory_equal(&ray, &before, sizeof ray);
    }
    struct ray ray = ray_leaving((struct plane_point){0.1, 3.0}, 0.5 * PI);
    struct ray_change change;
    assert_true(ray_step(&water, &ray, 0.0, 3600.0, &change));
    assert_true(ray.at.y > 3.0);
}

static void in_an_even_stream_she_heads_as_the_triangle_says(void **state) {
    (void)state;
    struct analytic weather = flow_weather(&stream);
    struct voyage voyage = voyage_to(&weather, aslant);
    struct track track = find(&voyage, NULL, 0, HUGE_VAL);
    assert_true(track.count >= 2);
    assert_near(time_of(&voyage, &track) / ASLANT_TIME, 1.0, 2e-4);
    const struct vertex *last = &track.vertices[track.count - 1];
    assert_true(track.vertices[0].pinned && last->pinned);
    assert_near(last->at.lat_deg, voyage.finish.lat_deg, 0.0);
    assert_near(last->at.lon_deg, voyage.finish.lon_deg, 0.0);
}

/* Twice the same way, one after the other. */
static void places_to_pass_are_passed(void **state) {
    (void)state;
    struct analytic weather = flow_weather(&stream);
    struct voyage voyage =
        voyage_to(&weather, (struct plane_point){2 * aslant.x, 2 * aslant.y});
    struct position via = flow_place(&stream, aslant);
    struct track track = find(&voyage, &via, 1, HUGE_VAL);
    assert_near(time_of(&voyage, &track) / (2.0 * ASLANT_TIME), 1.0, 2e-4);
    size_t pinned = 0;
    for (size_t i = 1; i + 1 < track.count; i++) {
        if (!track.vertices[i].pinned)
            continue;
        pinned++;
        assert_near(track.vertices[i].at.lat_deg, via.lat_deg, 0.0);
        assert_near(track.vertices[i].at.lon_deg, via.lon_deg, 0.0);
    }
    assert_int_equal(pinned, 1);
}

static void up_the_stream_there_is_no_way(void **state) {
    (void)state;
    struct analytic weather = flow_weather(&stream);
    struct voyage voyage = voyage_to(&weather, astern);
    assert_int_equal(find(&voyage, NULL, 0, HUGE_VAL).count, 0);
}

static void a_way_that_comes_too_late_is_none(void **state) {
    (void)state;
    struct analytic weather = flow_weather(&stream);
    struct voyage voyage = voyage_to(&weather, aslant);
    assert_int_equal(find(&voyage, NULL, 0, 0.5 * ASLANT_TIME).count, 0);
}

/* Land across the stream, half-way. */
static enum obstacle bar(const void *water, struct position from,
                         struct position to, double start_s, double end_s) {
    (void)water, (void)start_s, (void)end_s;
    double x = flow_point(&stream, from).x, next = flow_point(&stream, to).x;
    return (x < 1.5) == (next < 1.5) ? OBSTACLE_NONE : OBSTACLE_LAND;
}

static void rays_end_at_land(void **state) {
    (void)state;
    struct analytic weather = flow_weather(&stream);
    struct voyage voyage = voyage_to(&weather, aslant);
    voyage.blocked = bar;
    assert_int_equal(find(&voyage, NULL, 0, HUGE_VAL).count, 0);
}

/* Where it blows more than the crew will have: 60 m/s, less the current. */
static void rays_end_at_limits(void **state) {
    (void)state;
    struct analytic weather = flow_weather(&stream);
    struct voyage voyage = voyage_to(&weather, aslant);
    voyage.max_wind_mps = figure_of(50.0);
    assert_int_equal(find(&voyage, NULL, 0, HUGE_VAL).count, 0);
    voyage.max_wind_mps = figure_of(70.0);
    assert_true(find(&voyage, NULL, 0, HUGE_VAL).count > 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(they_are_needed_where_no_heading_stems_the_current),
        cmocka_unit_test(near_a_pole_a_ray_ends),
        cmocka_unit_test(in_an_even_stream_she_heads_as_the_triangle_says),
        cmocka_unit_test(places_to_pass_are_passed),
        cmocka_unit_test(up_the_stream_there_is_no_way),
        cmocka_unit_test(a_way_that_comes_too_late_is_none),
        cmocka_unit_test(rays_end_at_land),
        cmocka_unit_test(rays_end_at_limits),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
