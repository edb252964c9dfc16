#include "../support/check.h"
#include "../support/scratch.h"
#include "../support/waters.h"

#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"

#include <math.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* Malta, Gozo and the south of Sicily. */
static const struct coast_box malta = {34, 38, 12, 16};

static struct water water;

static int open_waters(void **state) {
    scratch_begin(state);
    water = (struct water){.coast = NULL};
    water_prepare(&water, &arena);
    return 0;
}

static enum obstacle blocked(struct position from, struct position to) {
    return water_blocked(&water, from, to, 0.0, 3600.0);
}

static double apart_m(struct position a, struct position b) {
    return geodesic_between(a, b).distance_m;
}

static struct position seeded_place(struct seed *seed,
                                    const struct coast_box *box) {
    return (struct position){
        seed_between(seed, box->south_deg, box->north_deg),
        angle_wrap_longitude(seed_between(seed, box->west_deg, box->east_deg))};
}

/* --- without a coast --------------------------------------------------------
 */

static void nothing_bars_open_water(void **state) {
    (void)state;
    struct position a = {10, -30}, b = {-40, 170};
    assert_int_equal(blocked(a, b), OBSTACLE_NONE);
    assert_near(water_room_m(&water, a), VOYAGE_ROOM_M, 0.0);
    assert_near(water_clear_m(&water, a, 123.0, 9e4), 9e4, 0.0);
    assert_false(water_is_inland(&water, a));
    assert_near(water_shore_m(&water, a, 5e4), 5e4, 0.0);
}

/* The zone is closed from 1 h to 2 h after departure. */
static void a_zone_bars_in_its_time(void **state) {
    (void)state;
    struct position in = {10.5, -29.5}, west = {10.5, -31}, east = {10.5, -28};
    struct zone *zone = waters_add_square(&water, (struct position){10, -30},
                                          (struct position){11, -29}, &arena);
    water.depart_unix_s = 1e9;
    zone->from_known = zone->until_known = true;
    zone->from.unix_s = 1000003600;
    zone->until.unix_s = 1000007200;
    static const struct {
        double start_s, end_s;
        enum obstacle obstacle;
    } cases[] = {
        {0, 3599, OBSTACLE_NONE},
        {0, 3600, OBSTACLE_ZONE},
        {3700, 3800, OBSTACLE_ZONE},
        {7200, 9000, OBSTACLE_ZONE},
        {7200.5, 9000, OBSTACLE_NONE},
        {0, 9000, OBSTACLE_ZONE},
        {HUGE_VAL, HUGE_VAL, OBSTACLE_NONE},
    };
    for (size_t i = 0; i < COUNT(cases); i++)
        assert_int_equal(
            water_blocked(&water, west, east, cases[i].start_s, cases[i].end_s),
            cases[i].obstacle);
    assert_near(water_room_m(&water, in), VOYAGE_ROOM_M, 0.0);
    assert_near(water_clear_m(&water, west, 90.0, 1.5e5), 1.5e5, 0.0);
    zone->until_known = false; /* for good, but later: she may pass before */
    assert_int_equal(water_blocked(&water, west, east, HUGE_VAL, HUGE_VAL),
                     OBSTACLE_NONE);
    assert_int_equal(water_blocked(&water, west, east, 0, 3599), OBSTACLE_NONE);
    zone->from_known = false; /* now and for good */
    assert_int_equal(water_blocked(&water, west, east, HUGE_VAL, HUGE_VAL),
                     OBSTACLE_ZONE);
    assert_int_equal(water_blocked(&water, west, east, 0, 3599), OBSTACLE_ZONE);
    assert_true(water_room_m(&water, in) < -5e4);
    struct position rim = {10.5, -30};
    assert_near(water_room_m(&water, west),
                fmin(apart_m(west, rim), VOYAGE_ROOM_M), 30.0);
    assert_near(water_clear_m(&water, west, 90.0, 1.5e5),
                rhumb_between(west, rim).distance_m, 1.0);
    assert_near(water_clear_m(&water, west, 270.0, 1.5e5), 1.5e5, 0.0);
    assert_near(water_clear_m(&water, in, 90.0, 1.5e5), 0.0, 1.0);
}

/* Squares of a degree are asked first: the same answers as zone by zone. */
static void the_first_look_misses_no_zone(void **state) {
    (void)state;
    struct seed seed = {61};
    struct coast_box world = {-75, 75, -180, 180};
    for (int i = 0; i < 150; i++)
        waters_add_circle(&water, seeded_place(&seed, &world),
                          seed_between(&seed, 1e3, 3e5), &arena);
    waters_add_circle(&water, (struct position){0, -180}, 1e5, &arena);
    waters_add_circle(&water, (struct position){50, 0}, 1e3, &arena);
    int met = 0;
    for (int i = 0; i < 20000; i++) {
        struct position from = seeded_place(&seed, &world);
        if (i % 4 == 0)
            from = (struct position){
                seed_between(&seed, -2, 2),
                angle_wrap_longitude(seed_between(&seed, 178, 182))};
        struct position to = rhumb_ahead(from, seed_between(&seed, 0, 360),
                                         seed_between(&seed, 0, 2e5));
        bool meets = false;
        for (size_t k = 0; k < water.zones.count; k++)
            meets |= zone_meets(&water.zones.items[k], from, to);
        assert_int_equal(blocked(from, to) == OBSTACLE_ZONE, meets);
        met += meets;
    }
    assert_true(met > 1000);
}

/* --- with a coast -----------------------------------------------------------
 */

static void an_island_bars_the_way(void **state) {
    (void)state;
    if (!waters_load(&water, malta, &arena))
        skip();
    water.clearance_m = nmi_to_m(2);
    /* Malta lies between 35.79 and 36.01 N (GSHHG) */
    struct position south = {35.5, 14.4}, north = {36.3, 14.4};
    struct position east = {35.5, 15.5}, inland = {35.9, 14.4};
    assert_int_equal(blocked(south, north), OBSTACLE_LAND);
    assert_int_equal(blocked(south, east), OBSTACLE_NONE);
    assert_int_equal(blocked(inland, inland), OBSTACLE_LAND);
    assert_true(water_room_m(&water, inland) < 0.0);
    assert_true(water_is_inland(&water, inland));
    double off_m = water_shore_m(&water, south, 1e5);
    assert_near(water_room_m(&water, south), off_m - water.clearance_m, 1e-6);
    double clear_m = water_clear_m(&water, south, 0.0, 9e4);
    assert_true(clear_m > off_m - 1.0 && clear_m < 4.5e4);
    assert_near(water_clear_m(&water, inland, 0.0, 9e4), 0.0, 0.0);
    /* middle of Sicily, 30 nmi from any shore */
    struct position sicily = {37.45, 14.2}, off = {37.46, 14.21};
    assert_int_equal(blocked(sicily, off), OBSTACLE_LAND);
}

static void beyond_the_box_nothing_is_known(void **state) {
    (void)state;
    if (!waters_load(&water, malta, &arena))
        skip();
    struct position in = {35.0, 14.0}, out = {33.9, 14.0}, west = {35.0, 11.9};
    assert_int_equal(blocked(in, out), OBSTACLE_AREA);
    assert_int_equal(blocked(west, in), OBSTACLE_AREA);
    assert_true(water_room_m(&water, out) < 0.0);
    assert_true(water_room_m(&water, west) < 0.0);
    struct position edge = {34.1, 13.9};
    double border_m = apart_m(edge, (struct position){34.0, 13.9});
    double room_m = water_room_m(&water, edge);
    assert_true(room_m <= border_m && room_m > 0.9 * border_m);
    assert_near(water_clear_m(&water, edge, 180.0, 9e4), border_m, 1.0);
}

/* May the boat be here? By the words of the contract, from distances alone. */
static double breach_m(struct position at) {
    double off_m = coast_distance_m(water.coast, at, 5e3, NULL);
    if (coast_level_at(water.coast, at) != COAST_SEA)
        return off_m;
    if (apart_m(at, water.start) <= water.approach_m ||
        apart_m(at, water.finish) <= water.approach_m)
        return 0.0;
    return fmax(water.clearance_m - off_m, 0.0);
}

/* Lines near Malta, against what places on them say. Where the two differ the
 * line grazes. */
static void lines_agree_with_their_places(void **state) {
    (void)state;
    if (!waters_load(&water, malta, &arena))
        skip();
    water.clearance_m = nmi_to_m(2);
    water.approach_m = nmi_to_m(5);
    water.start = (struct position){35.84, 14.60};
    water.finish = (struct position){36.09, 14.22};
    struct coast_box near = {35.6, 36.2, 14.0, 14.8};
    struct seed seed = {62};
    enum { PLACES = 200 };
    int free = 0, barred = 0, doubtful = 0;
    for (int i = 0; i < 1500; i++) {
        struct position from = seeded_place(&seed, &near);
        struct position to = rhumb_ahead(from, seed_between(&seed, 0, 360),
                                         seed_between(&seed, 10, 2e4));
        struct rhumb way = rhumb_between(from, to);
        double worst_m = 0.0;
        for (int k = 0; k <= PLACES; k++)
            worst_m = fmax(worst_m,
                           breach_m(rhumb_ahead(from, way.course_deg,
                                                way.distance_m * k / PLACES)));
        bool bars = blocked(from, to) == OBSTACLE_LAND;
        if (worst_m > 0.0 && !bars && worst_m < 5.0)
            doubtful++; /* the rim of a circle */
        else if (worst_m > 0.0)
            assert_true(bars);
        else if (bars) /* between two of the places */
            doubtful++;
        free += !bars;
        barred += bars;
    }
    print_message("%d free, %d barred, %d in doubt\n", free, barred, doubtful);
    assert_true(free > 200 && barred > 200 && doubtful < 30);
}

/* The room is that of a distance: it has the sign of being allowed, falls no
 * faster than one goes, and all within it is free. */
static void room_is_a_distance(void **state) {
    (void)state;
    if (!waters_load(&water, malta, &arena))
        skip();
    water.clearance_m = nmi_to_m(2);
    water.approach_m = nmi_to_m(5);
    water.start = (struct position){35.84, 14.60};
    water.finish = (struct position){36.72, 15.14};
    waters_add_circle(&water, (struct position){35.5, 14.2}, 1e4, &arena);
    struct coast_box near = {35.2, 36.9, 13.6, 15.5};
    struct seed seed = {63};
    int places = check_is_long() ? 1500 : 400;
    for (int i = 0; i < places; i++) {
        struct position at = seeded_place(&seed, &near);
        double room_m = water_room_m(&water, at);
        enum obstacle here = water_blocked(&water, at, at, HUGE_VAL, HUGE_VAL);
        if (fabs(room_m) > 5.0)
            assert_int_equal(here == OBSTACLE_NONE, room_m > 0.0);
        double course_deg = seed_between(&seed, 0, 360);
        double step_m = seed_between(&seed, 0, 5e3);
        struct position next = geodesic_ahead(at, course_deg, step_m);
        double change_m = water_room_m(&water, next) - room_m;
        assert_true(fabs(change_m) <= step_m * 1.002 + 5.0);
        for (int k = 0; room_m > 0.0 && k < 8; k++) {
            struct position edge = geodesic_ahead(at, 45.0 * k, 0.99 * room_m);
            assert_int_equal(
                water_blocked(&water, edge, edge, HUGE_VAL, HUGE_VAL),
                OBSTACLE_NONE);
        }
    }
}

/* Before the clear distance nothing is met, just behind it something is. */
static void clear_distance_ends_at_the_first_shore_or_zone(void **state) {
    (void)state;
    if (!waters_load(&water, malta, &arena))
        skip();
    waters_add_circle(&water, (struct position){35.5, 14.2}, 1e4, &arena);
    struct coast_box near = {35.2, 36.9, 13.6, 15.5};
    struct seed seed = {64};
    int ended = 0;
    for (int i = 0; i < 1500; i++) {
        struct position at = seeded_place(&seed, &near);
        double course_deg = seed_between(&seed, 0, 360);
        double clear_m = water_clear_m(&water, at, course_deg, 4e4);
        if (blocked(at, at) != OBSTACLE_NONE)
            continue;
        struct position before = rhumb_ahead(at, course_deg, clear_m - 1.0);
        struct position behind = rhumb_ahead(at, course_deg, clear_m + 1.0);
        if (clear_m > 1.0) {
            assert_false(coast_meets(water.coast, at, before));
            assert_null(water_zone_met(&water, at, before, 0.0, 0.0));
        }
        if (clear_m < 4e4) {
            assert_int_not_equal(blocked(at, behind), OBSTACLE_NONE);
            ended++;
        }
    }
    assert_true(ended > 100);
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, open_waters, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(nothing_bars_open_water),
        TEST(a_zone_bars_in_its_time),
        TEST(the_first_look_misses_no_zone),
        TEST(an_island_bars_the_way),
        TEST(beyond_the_box_nothing_is_known),
        TEST(lines_agree_with_their_places),
        TEST(room_is_a_distance),
        TEST(clear_distance_ends_at_the_first_shore_or_zone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
