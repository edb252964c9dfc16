#include "../support/check.h"
#include "../support/scratch.h"
#include "../support/waters.h"

#include "earth/rhumb.h"
#include "plan/hazards.h"
#include "report/marked.h"

#include <stdio.h>
#include <string.h>

static struct water water;
static struct plan plan;
static struct plan_leg legs[6];
static struct plan_point track[7];
static char text[4000]; /* all warnings, one a line */

static int set_up(void **state) {
    scratch_begin(state);
    water = (struct water){.coast = NULL};
    water_prepare(&water, &arena);
    plan = (struct plan){.timed_only = true, .legs = legs, .track = track};
    return 0;
}

/* Legs from place to place, an hour each from 1000 s on. */
static void go(const struct position *places, size_t count) {
    plan.leg_count = count - 1;
    plan.track_count = count;
    for (size_t i = 0; i < count; i++) {
        struct instant at = {1000 + 3600 * (int64_t)i};
        track[i] = (struct plan_point){places[i], at};
        if (i == 0)
            continue;
        legs[i - 1] = (struct plan_leg){
            .start = {at.unix_s - 3600},
            .end = at,
            .from = places[i - 1],
            .to = places[i],
            .course_deg = rhumb_between(places[i - 1], places[i]).course_deg};
    }
}

static void note(void *context, const char *warning) {
    (void)context;
    size_t used = strlen(text);
    snprintf(text + used, sizeof text - used, "%s\n",
             marked_in_utc(&arena, &plan, warning));
}

static const char *warned(void) {
    text[0] = '\0';
    hazards_warn(&plan, &water, note, NULL, &arena);
    return text;
}

static size_t lines(const char *part) {
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, part)); at++)
        count++;
    return count;
}

static const struct coast_box malta = {34, 38, 12, 16};

static void each_place_where_a_leg_meets_land_is_told(void **state) {
    (void)state;
    if (!waters_load(&water, malta, &arena))
        skip();
    water.clearance_m = nmi_to_m(2);
    /* over Malta, over Comino and Gozo's channel, then free, then into Sicily
     * and to a place inland */
    static const struct position places[] = {
        {35.6, 14.45}, {36.2, 14.45}, {36.3, 13.6}, {36.9, 13.3}, {37.4, 14.0}};
    go(places, 5);
    warned();
    assert_contains(text, "leg 1 crosses land at 35 4");
    assert_contains(text, "leg 4 crosses land at 37 ");
    assert_int_equal(lines("leg 2"), 0);
    assert_int_equal(lines("leg 3"), 0);
    assert_int_equal(lines("leg 4"), 1);
    assert_int_equal(lines("comes within"), 0);
    /* the other way it begins on land */
    static const struct position back[] = {{37.4, 14.0}, {36.3, 13.6}};
    go(back, 2);
    assert_contains(warned(), "leg 1 begins on land, 37 24.00 N 014 00.00 E\n");
    assert_int_equal(lines("leg 1"), 1);
    /* a plan of ours is held to the same */
    plan.timed_only = false;
    go(places, 5);
    warned();
    assert_int_equal(lines("crosses land"), 1 + lines("leg 1"));
}

/* The distance by coast_segment_distance_m(); 35.7 N passes 5 to 6 nmi south
 * of Malta. */
static void stretches_nearer_than_the_clearance_are_told(void **state) {
    (void)state;
    if (!waters_load(&water, malta, &arena))
        skip();
    static const struct position places[] = {
        {35.7, 13.8}, {35.7, 14.3}, {35.7, 14.7}, {35.5, 15.5}};
    go(places, 4);
    water.clearance_m = nmi_to_m(2);
    assert_string_equal(warned(), "");
    water.clearance_m = nmi_to_m(10);
    double off_m =
        coast_segment_distance_m(water.coast, places[1], places[2], 1e5);
    assert_contains(warned(), arena_print(&arena,
                                          "legs 1 to 3 come within %.2f nmi of "
                                          "the land; the clearance is 10.00",
                                          m_to_nmi(off_m)));
    assert_int_equal(lines("leg"), 1);
    /* but round the start and the finish */
    water.start = (struct position){35.8, 14.4};
    water.approach_m = nmi_to_m(40);
    assert_string_equal(warned(), "");
    plan.timed_only = false;
    water.approach_m = 0.0;
    assert_string_equal(warned(), "");
}

static void what_is_beyond_the_coast_is_not_checked(void **state) {
    (void)state;
    if (!waters_load(&water, malta, &arena))
        skip();
    static const struct position places[] = {
        {35.0, 13.0}, {33.0, 13.0}, {33.0, 14.0}};
    go(places, 3);
    assert_contains(warned(), "2 legs leave the coast that was loaded: NOT "
                              "CHECKED for land\n");
}

/* Hours 0 to 3 are spent on legs 1 to 3; the zone lies on legs 1 and 3. */
static void zones_entered_in_their_time_are_told(void **state) {
    (void)state;
    static const struct position places[] = {
        {10, -30}, {10, -29}, {11, -29}, {10, -30}};
    struct zone *zone = waters_add_circle(
        &water, (struct position){10.2, -29.7}, nmi_to_m(20), &arena);
    zone->name = "Range";
    go(places, 4);
    warned();
    assert_int_equal(lines("enters the zone 'Range' about"), 2);
    assert_contains(text, "leg 1 enters the zone 'Range' about "
                          "Thu 1 Jan 00:15 UTC, 10 00.00 N 030 00.00 W\n");
    assert_contains(text, "leg 3 enters");
    zone->until_known = true;
    zone->until.unix_s = 999;
    assert_string_equal(warned(), "");
    zone->until.unix_s = 1000 + 3600;
    warned();
    assert_int_equal(lines("enters"), 1);
    plan.timed_only = false; /* the search sees to it */
    assert_string_equal(warned(), "");
}

static void zones_near_the_way_are_found(void **state) {
    (void)state;
    static const struct position places[] = {{10, -30}, {10.3, -29}, {10, -28}};
    static const struct position ends[] = {{10, -30}, {10, -28}};
    waters_add_circle(&water, (struct position){10, -29}, nmi_to_m(10), &arena);
    waters_add_circle(&water, (struct position){10.5, -29}, nmi_to_m(8),
                      &arena);
    waters_add_circle(&water, (struct position){20, -29}, nmi_to_m(10), &arena);
    waters_add_circle(&water, (struct position){9.7, -30}, nmi_to_m(15),
                      &arena);
    water.zones.items[1].until_known = true;
    water.zones.items[1].until.unix_s = 5000;
    go(places, 3);
    hazards_find_zones(&plan, &water, (struct stops){ends, 2}, &arena);
    assert_int_equal(plan.all_zone_count, 4);
    assert_int_equal(plan.zone_count, 3);
    /* half a turn of the leg north of the circle's centre: 0.3 degree is 17.9
     * nmi, a little less at right angles to the leg */
    assert_string_equal(plan.zones[0].name, "zone 1");
    assert_true(plan.zones[0].in_straight_way);
    assert_near(m_to_nmi(plan.zones[0].distance_m), PLAN_ZONE_M / 1852.0, 0.0);
    assert_string_equal(plan.zones[1].name, "zone 2");
    assert_false(plan.zones[1].in_straight_way);
    assert_near(m_to_nmi(plan.zones[1].distance_m), 11.94 - 8.0, 0.03);
    assert_true(plan.zones[1].until_known);
    assert_string_equal(plan.zones[2].name, "zone 4");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, set_up, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(each_place_where_a_leg_meets_land_is_told),
        TEST(stretches_nearer_than_the_clearance_are_told),
        TEST(what_is_beyond_the_coast_is_not_checked),
        TEST(zones_entered_in_their_time_are_told),
        TEST(zones_near_the_way_are_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
