#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/banks.h"
#include "../support/scratch.h"
#include "earth/geodesic.h"
#include "search/waterway.h"

static const struct position start = {0.0, -30.0};

#define COUNT(list) (sizeof(list) / sizeof *(list))

static struct voyage among(struct banks *banks) {
    static const struct analytic weather = {.wind_mps = 8.0};
    struct voyage voyage =
        analytic_voyage(analytic_boat("wanderer-12"), &weather, start);
    banks_put(&voyage, banks);
    return voyage;
}

static const struct waterway *way_to(const struct voyage *voyage,
                                     struct position goal) {
    return waterway_make(voyage, start, goal, &arena);
}

static void in_the_open_the_way_left_is_the_straight_one(void **state) {
    (void)state;
    struct bank far = {{20.0, 40.0}, {20.0, 40.0}, 1000.0, OBSTACLE_LAND};
    struct banks banks = {.items = &far, .count = 1};
    struct voyage voyage = among(&banks);
    struct position goal = {12.0, -55.0}, corner;
    const struct waterway *way = way_to(&voyage, goal);
    assert_true(waterway_reaches(way));
    double straight_m = geodesic_between(start, goal).distance_m;
    assert_near(waterway_left_m(way, start) / straight_m, 1.0, 0.006);
    assert_int_equal(waterway_path(way, start, &corner, 1), 1);
    assert_near(corner.lat_deg, goal.lat_deg, 0.0);
    assert_near(corner.lon_deg, goal.lon_deg, 0.0);
}

/* Two tangents and an arc: plane geometry, close enough on the equator. */
static void round_an_island_the_way_is_tangents_and_arc(void **state) {
    (void)state;
    struct bank island = {
        {0.0, -33.0}, {0.0, -33.0}, nmi_to_m(60.0), OBSTACLE_LAND};
    struct banks banks = {.items = &island, .count = 1};
    struct voyage voyage = among(&banks);
    struct position goal = {0.0, -36.0}, corners[32];
    const struct waterway *way = way_to(&voyage, goal);
    double off_m = geodesic_between(start, island.a).distance_m;
    double half_rad = asin(island.radius_m / off_m);
    double least_m = 2.0 * sqrt(off_m * off_m - pow(island.radius_m, 2.0)) +
                     2.0 * half_rad * island.radius_m;
    assert_true(waterway_reaches(way));
    double left_m = waterway_left_m(way, start);
    assert_true(left_m > 0.994 * least_m);
    assert_true(left_m < 1.02 * least_m);
    size_t count = waterway_path(way, start, corners, COUNT(corners));
    struct position from = start;
    for (size_t i = 0; i < count; from = corners[i++])
        assert_true(banks_distance_m(&banks, from, corners[i]) > 0.0);
    assert_near(from.lon_deg, goal.lon_deg, 0.0);
}

/* Two walls from 8 south to 8 north, `gap_m` of open water between. */
static void walls(struct bank bank[2], double gap_m, double lon_deg) {
    double radius_m = nmi_to_m(1.5);
    double half_deg = 0.5 * gap_m / nmi_to_m(60.0) + 1.5 / 60.0;
    double middle_deg = 1.23;
    bank[0] = (struct bank){{-8.0, lon_deg},
                            {middle_deg - half_deg, lon_deg},
                            radius_m,
                            OBSTACLE_LAND};
    bank[1] = (struct bank){{middle_deg + half_deg, lon_deg},
                            {8.0, lon_deg},
                            radius_m,
                            OBSTACLE_LAND};
}

static void a_gap_of_a_mile_in_a_long_wall_is_found(void **state) {
    (void)state;
    static const double gaps_nmi[] = {8.0, 3.5, 2.0, 1.0};
    for (size_t i = 0; i < COUNT(gaps_nmi); i++) {
        struct bank bank[2];
        walls(bank, nmi_to_m(gaps_nmi[i]), -31.0 - 0.07 * (double)i);
        struct banks banks = {.items = bank, .count = 2};
        struct voyage voyage = among(&banks);
        struct position goal = {0.0, -32.0};
        const struct waterway *way = way_to(&voyage, goal);
        assert_true(waterway_reaches(way));
        struct position gap = {1.23, bank[0].a.lon_deg};
        double through_m = geodesic_between(start, gap).distance_m +
                           geodesic_between(gap, goal).distance_m;
        assert_true(waterway_left_m(way, start) < 1.01 * through_m);
        assert_true(waterway_left_m(way, start) > 0.95 * through_m);
    }
}

static void across_180_the_way_is_as_short(void **state) {
    (void)state;
    struct bank wall = {{-2.0, 180.0 - 360.0},
                        {2.0, 180.0 - 360.0},
                        nmi_to_m(2.0),
                        OBSTACLE_LAND};
    struct banks banks = {.items = &wall, .count = 1};
    struct voyage voyage = among(&banks);
    struct position from = {0.0, 179.0}, to = {0.0, -179.0};
    const struct waterway *way = waterway_make(&voyage, from, to, &arena);
    double round_m = 2.0 * hypot(60.0, 122.0) * METRES_PER_NMI;
    assert_true(waterway_reaches(way));
    assert_near(waterway_left_m(way, from) / round_m, 1.0, 0.02);
}

static void a_goal_with_a_ring_of_walls_round_it_is_not_reached(void **state) {
    (void)state;
    static struct bank ring[] = {
        {{-1.0, -34.0}, {1.0, -34.0}, 1000.0, OBSTACLE_LAND},
        {{1.0, -34.0}, {1.0, -32.0}, 1000.0, OBSTACLE_LAND},
        {{1.0, -32.0}, {-1.0, -32.0}, 1000.0, OBSTACLE_ZONE},
        {{-1.0, -32.0}, {-1.0, -34.0}, 1000.0, OBSTACLE_LAND}};
    struct banks banks = {.items = ring, .count = COUNT(ring)};
    struct voyage voyage = among(&banks);
    struct position inside = {0.2, -33.0}, outside = {0.2, -35.0};
    assert_false(waterway_reaches(way_to(&voyage, inside)));
    assert_true(waterway_reaches(way_to(&voyage, outside)));
}

static void places_that_no_way_reaches_are_far_from_home(void **state) {
    (void)state;
    struct bank wall = {
        {-8.0, -31.0}, {8.0, -31.0}, nmi_to_m(2.0), OBSTACLE_LAND};
    struct banks banks = {.items = &wall, .count = 1};
    struct voyage voyage = among(&banks);
    struct position goal = {0.0, -30.5}, behind = {0.0, -31.5}, corner;
    const struct waterway *way = way_to(&voyage, goal);
    assert_int_equal(waterway_path(way, behind, &corner, 1), 0);
    assert_true(waterway_left_m(way, behind) > nmi_to_m(50.0));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(in_the_open_the_way_left_is_the_straight_one),
        cmocka_unit_test(round_an_island_the_way_is_tangents_and_arc),
        cmocka_unit_test(a_gap_of_a_mile_in_a_long_wall_is_found),
        cmocka_unit_test(across_180_the_way_is_as_short),
        cmocka_unit_test(a_goal_with_a_ring_of_walls_round_it_is_not_reached),
        cmocka_unit_test(places_that_no_way_reaches_are_far_from_home),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
