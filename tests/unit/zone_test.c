#include "../support/check.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/mercator.h"
#include "earth/rhumb.h"
#include "earth/zone.h"

#include <math.h>
#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* 10 to 20 N, 30 to 20 W, with a hole from 14 to 16 N, 26 to 24 W. */
static const struct position square[] = {
    {10, -30}, {10, -20}, {20, -20}, {20, -30}};
static const struct position hole[] = {
    {14, -26}, {14, -24}, {16, -24}, {16, -26}};

static struct zone zone_of(const struct position *corners, size_t count) {
    struct zone zone = {.name = "test"};
    const char *flaw = zone_add_ring(&zone, corners, count, false, &arena);
    if (flaw)
        fail_msg("the ring %s", flaw);
    return zone;
}

static struct zone square_with_hole(void) {
    struct zone zone = zone_of(square, COUNT(square));
    assert_null(zone_add_ring(&zone, hole, COUNT(hole), true, &arena));
    return zone;
}

static const struct {
    const char *name;
    struct position from, to;
    bool meets;
} lines[] = {
    {"past it to the south", {9.9, -35}, {9.9, -15}, false},
    {"along its southern edge", {10, -28}, {10, -22}, true},
    {"along the edge's line, before it", {10, -35}, {10, -30.01}, false},
    {"just past a corner", {8.99, -21}, {10.99, -19.0}, false},
    {"right across", {15, -35}, {15, -15}, true},
    {"within it", {11, -29}, {12, -28}, true},
    {"a place within", {11, -29}, {11, -29}, true},
    {"a place on the edge", {10, -25}, {10, -25}, true},
    {"a place on a corner", {20, -30}, {20, -30}, true},
    {"a place outside", {21, -25}, {21, -25}, false},
    {"within the hole", {14.5, -25.5}, {15.5, -24.5}, false},
    {"out of the hole", {15, -25}, {17, -25}, true},
    {"from the edge of the hole", {14, -25}, {15, -25}, true},
    {"out to sea from outside", {15, -31}, {15, -40}, false},
    {"across 180 far away", {15, 179}, {15, -179}, false},
    {"the longer way has it, the shorter has not",
     {15, 100},
     {15, -100},
     false},
};

static void lines_meet_or_pass(void **state) {
    (void)state;
    struct zone zone = square_with_hole();
    for (size_t i = 0; i < COUNT(lines); i++) {
        bool meets = zone_meets(&zone, lines[i].from, lines[i].to);
        bool back = zone_meets(&zone, lines[i].to, lines[i].from);
        if (meets != lines[i].meets || back != lines[i].meets)
            fail_msg("%s: %d, back %d", lines[i].name, meets, back);
    }
}

/* A ray through a corner or along an edge must not count twice: a diamond, and
 * a square with a place level with its upper edge. */
static void corners_level_with_a_place_count_once(void **state) {
    (void)state;
    static const struct position corners[] = {{0, 1}, {1, 0}, {0, -1}, {-1, 0}};
    static const struct {
        struct position at;
        bool inside;
    } cases[] = {
        {{0, 0}, true},      {{0, -2}, false},     {{0, 2}, false},
        {{1, 0}, true},      {{1, -2}, false},     {{-1, -2}, false},
        {{0.5, 0.5}, true},  {{0.4, 0.5}, true},   {{0.6, 0.5}, false},
        {{0.0, -0.9}, true}, {{0.0, -1.1}, false},
    };
    struct zone diamond = zone_of(corners, COUNT(corners));
    for (size_t i = 0; i < COUNT(cases); i++)
        if (zone_meets(&diamond, cases[i].at, cases[i].at) != cases[i].inside)
            fail_msg("case %zu", i);
    struct zone box = zone_of(square, COUNT(square));
    struct position level[] = {{20, -40}, {20, -10}, {10, -40}, {10, -10}};
    for (size_t i = 0; i < COUNT(level); i++)
        assert_false(zone_meets(&box, level[i], level[i]));
}

/* Distances by PROJ's geodesics: from a place north or south of the square it
 * is a meridian arc. */
static void the_distance_has_a_sign(void **state) {
    (void)state;
    struct zone zone = square_with_hole();
    struct position below = {9.5, -25}, edge = {10, -25}, above = {10.5, -25};
    double below_m = geodesic_between(below, edge).distance_m;
    double above_m = geodesic_between(above, edge).distance_m;
    assert_near(zone_distance_m(&zone, below, 1e5), below_m, 1.0);
    assert_near(zone_distance_m(&zone, above, 1e5), -above_m, 1.0);
    assert_near(zone_distance_m(&zone, edge, 1e5), 0.0, 0.01);
    assert_near(zone_distance_m(&zone, below, 2e4), 2e4, 0.0);
    assert_near(zone_distance_m(&zone, above, 2e4), -2e4, 0.0);
    struct position middle = {15, -25}, rim = {14, -25};
    double hole_m = geodesic_between(middle, rim).distance_m;
    struct position side = {15, -26};
    hole_m = fmin(hole_m, geodesic_between(middle, side).distance_m);
    assert_near(zone_distance_m(&zone, middle, 1.8e5), hole_m, 20.0);
    assert_near(zone_segment_distance_m(&zone, below, edge, 1e5), 0.0, 0.0);
    assert_near(zone_segment_distance_m(&zone, above, above, 1e5), 0.0, 0.0);
    assert_near(zone_segment_distance_m(&zone, (struct position){9.5, -40},
                                        (struct position){9.5, -10}, 1e5),
                below_m, 1.0);
}

/* The three ways to write an area across 180, and what each says of the same
 * questions. */
static void all_ways_across_180_say_the_same(void **state) {
    (void)state;
    static const struct position jump[] = {
        {-20, 175}, {-18, -176}, {-12, -175}, {-10, 176}};
    static const struct position on[] = {
        {-20, 175}, {-18, 184}, {-12, 185}, {-10, 176}};
    /* where the two lines that cross 180 do so */
    static const struct position west[] = {{-20, 175},
                                           {-20 + 2.0 * 5 / 9, 180},
                                           {-10 - 2.0 * 4 / 9, 180},
                                           {-10, 176}};
    static const struct position east[] = {{-20 + 2.0 * 5 / 9, -180},
                                           {-18, -176},
                                           {-12, -175},
                                           {-10 - 2.0 * 4 / 9, -180}};
    struct zone zones[] = {zone_of(jump, 4), zone_of(on, 4), zone_of(west, 4)};
    assert_null(zone_add_ring(&zones[2], east, 4, false, &arena));
    struct seed seed = {41};
    int met = 0;
    for (int i = 0; i < 4000; i++) {
        struct position from = {
            seed_between(&seed, -22, -8),
            angle_wrap_longitude(seed_between(&seed, 172, 188))};
        struct position to = {
            seed_between(&seed, -22, -8),
            angle_wrap_longitude(from.lon_deg + seed_between(&seed, -4, 4))};
        bool meets = zone_meets(&zones[0], from, to);
        double off_m = zone_distance_m(&zones[0], from, 1e5);
        assert_int_equal(zone_meets(&zones[1], from, to), meets);
        assert_int_equal(zone_meets(&zones[2], from, to), meets);
        assert_near(zone_distance_m(&zones[1], from, 1e5), off_m, 1e-3);
        if (off_m > 0.0) /* from inside the cut counts as edge */
            assert_near(zone_distance_m(&zones[2], from, 1e5), off_m, 4.0);
        else
            assert_true(zone_distance_m(&zones[2], from, 1e5) <= 0.0);
        met += meets;
    }
    assert_true(met > 1000 && met < 3500);
}

static void a_band_round_the_world_has_no_gap(void **state) {
    (void)state;
    static const struct position corners[] = {
        {-60, -180}, {-60, 180}, {-90, 180}, {-90, -180}};
    struct zone zone = zone_of(corners, 4);
    struct seed seed = {42};
    for (int i = 0; i < 2000; i++) {
        double lon = i < 10 ? -180.0 : seed_between(&seed, -180, 180);
        struct position north = {seed_between(&seed, -59.9, 60), lon};
        struct position south = {seed_between(&seed, -89.9, -60.1), lon};
        assert_false(zone_meets(&zone, north, north));
        assert_true(zone_meets(&zone, south, south));
        assert_true(zone_meets(&zone, north, south));
    }
}

/* RFC 7946 section 3.1.1: a line from (lon0, lat0) to (lon1, lat1) has the
 * places lon0 + (lon1 - lon0) t, lat0 + (lat1 - lat0) t. They are on the edge;
 * those 10 m aside are in or out. */
static void long_lines_are_straight_in_degrees(void **state) {
    (void)state;
    static const struct position corners[] = {{-55, -40}, {70, 100}, {70, -40}};
    struct zone zone = zone_of(corners, 3);
    for (int i = 1; i < 5000; i++) {
        double t = i / 5000.0;
        struct position on = {-55 + 125 * t, -40 + 140 * t};
        assert_near(zone_distance_m(&zone, on, 1e4), 0.0, 2.1);
        struct position east = rhumb_ahead(on, 90.0, 10.0);
        struct position west = rhumb_ahead(on, 270.0, 10.0);
        assert_false(zone_meets(&zone, east, east));
        assert_true(zone_meets(&zone, west, west));
    }
}

/* The truth is a geodesic from the centre. */
static void circles_are_round_on_the_earth(void **state) {
    (void)state;
    static const struct {
        struct position centre;
        double radius_nmi;
    } cases[] = {{{-23.6, -178.9}, 10}, {{70, 20}, 100}, {{-85, 0}, 20},
                 {{0, -180}, 0.1},      {{40, 10}, 600}, {{12, -30}, 2}};
    struct seed seed = {43};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct zone zone = {.name = "circle"};
        double radius_m = nmi_to_m(cases[i].radius_nmi);
        assert_null(zone_add_circle(&zone, cases[i].centre, radius_m, &arena));
        for (int k = 0; k < 2000; k++) {
            double off_m = k % 2 ? seed_between(&seed, 1.1, 500)
                                 : -seed_between(&seed, 0, 0.9 * radius_m);
            struct position at = geodesic_ahead(
                cases[i].centre, seed_between(&seed, 0, 360), radius_m + off_m);
            assert_int_equal(zone_meets(&zone, at, at), off_m < 0.0);
            double found_m = zone_distance_m(&zone, at, 600.0);
            assert_near(found_m, fmax(off_m, -600.0), 1.2);
        }
    }
}

static void a_circle_round_a_pole_is_refused(void **state) {
    (void)state;
    struct zone zone = {.name = "circle"};
    const char *flaw = zone_add_circle(&zone, (struct position){-89, 12},
                                       nmi_to_m(61), &arena);
    assert_non_null(flaw);
    assert_string_equal(flaw, "holds a pole");
}

/* Far places are told from the box in degrees alone: the same as without. */
static void the_quick_way_out_changes_no_distance(void **state) {
    (void)state;
    struct seed seed = {44};
    int near = 0;
    for (int i = 0; i < 40; i++) {
        struct position centre = {seed_between(&seed, -80, 80),
                                  seed_between(&seed, -180, 180)};
        struct zone zone = {.name = "circle"};
        assert_null(zone_add_circle(&zone, centre, 3e4, &arena));
        for (int k = 0; k < 200; k++) {
            struct position at =
                geodesic_ahead(centre, seed_between(&seed, 0, 360),
                               seed_between(&seed, 3.1e4, 3e5));
            struct mercator point = mercator_of(at);
            struct plane_point chart = {point.x, point.y};
            double slow_m =
                outline_distance_m(&zone.rings[0].outline, chart, chart, 1.8e5);
            assert_near(zone_distance_m(&zone, at, 1.8e5), slow_m, 0.0);
            near += slow_m < 1.7e5;
        }
    }
    assert_true(near > 1000);
}

/* Along a line that meets the zone there is a place inside or very near; along
 * one that does not there is none. */
static void lines_agree_with_their_places(void **state) {
    (void)state;
    struct zone zone = square_with_hole();
    struct seed seed = {45};
    for (int i = 0; i < 600; i++) {
        struct position from = {seed_between(&seed, 5, 25),
                                seed_between(&seed, -35, -15)};
        struct position to = {seed_between(&seed, 5, 25),
                              seed_between(&seed, -35, -15)};
        struct rhumb way = rhumb_between(from, to);
        double least_m = HUGE_VAL;
        enum { PLACES = 300 };
        for (int k = 0; k <= PLACES; k++) {
            struct position at = rhumb_ahead(
                from, way.course_deg, way.distance_m * k / (double)PLACES);
            least_m = fmin(least_m, zone_distance_m(&zone, at, 5e4));
        }
        double step_m = way.distance_m / PLACES;
        bool meets = zone_meets(&zone, from, to);
        double line_m = zone_segment_distance_m(&zone, from, to, 5e4);
        assert_true(meets ? least_m <= step_m : least_m > 0.0);
        assert_int_equal(meets, line_m <= 0.0);
        assert_near(line_m, fmax(least_m, 0.0), step_m);
    }
}

static void a_zone_is_active_in_its_time(void **state) {
    (void)state;
    static const struct {
        bool from_known, until_known;
        double start_s, end_s;
        bool active;
    } cases[] = {
        {false, false, 0, 10, true},
        {false, false, HUGE_VAL, HUGE_VAL, true},
        {true, false, 0, 99, false},
        {true, false, 0, 100, true},
        {true, false, HUGE_VAL, HUGE_VAL, true},
        {false, true, 200, 300, true},
        {false, true, 201, 300, false},
        {false, true, HUGE_VAL, HUGE_VAL, false},
        {true, true, 0, 300, true},
        {true, true, 120, 130, true},
        {true, true, 201, 210, false},
        {true, true, 0, 99, false},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct zone zone = {.from_known = cases[i].from_known,
                            .until_known = cases[i].until_known,
                            .from = {100},
                            .until = {200}};
        assert_int_equal(
            zone_is_active(&zone, cases[i].start_s, cases[i].end_s),
            cases[i].active);
    }
}

static void a_bad_ring_is_told(void **state) {
    (void)state;
    static const struct position bow_tie[] = {
        {0, 0}, {10, 10}, {10, 0}, {0, 10}};
    struct zone zone = {.name = "bad"};
    const char *flaw = zone_add_ring(&zone, bow_tie, 4, false, &arena);
    assert_non_null(flaw);
    assert_contains(flaw, "crosses");
    assert_int_equal(zone.ring_count, 0);
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(lines_meet_or_pass),
        TEST(corners_level_with_a_place_count_once),
        TEST(the_distance_has_a_sign),
        TEST(all_ways_across_180_say_the_same),
        TEST(a_band_round_the_world_has_no_gap),
        TEST(long_lines_are_straight_in_degrees),
        TEST(circles_are_round_on_the_earth),
        TEST(a_circle_round_a_pole_is_refused),
        TEST(the_quick_way_out_changes_no_distance),
        TEST(lines_agree_with_their_places),
        TEST(a_zone_is_active_in_its_time),
        TEST(a_bad_ring_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
