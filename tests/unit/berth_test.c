#include "../support/check.h"
#include "../support/scratch.h"
#include "../support/waters.h"

#include "earth/geodesic.h"
#include "plan/berth.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static struct water water;
static struct error error;

static int open_waters(void **state) {
    scratch_begin(state);
    water = (struct water){.coast = NULL};
    water_prepare(&water, &arena);
    error = (struct error){.status = STATUS_DONE};
    return 0;
}

static double apart_m(struct position a, struct position b) {
    return geodesic_between(a, b).distance_m;
}

static const struct coast_box malta = {34, 38, 12, 16};

static void without_a_coast_every_place_is_sea(void **state) {
    (void)state;
    struct position place = {45, 8};
    struct berth berth;
    assert_true(berth_find(&berth, &water, "from", place, &error));
    assert_near(berth.at.lat_deg, 45.0, 0.0);
    assert_near(berth.moved_m, 0.0, 0.0);
    assert_true(berth_check_stops(&water, &place, 1, &error));
}

/* Seeded places on and round Malta: what was sea stays where it is, what was
 * land comes to the sea by about its distance. */
static void a_berth_goes_out_by_the_nearest_water(void **state) {
    (void)state;
    if (!waters_load(&water, malta, &arena))
        skip();
    struct seed seed = {71};
    int moved = 0, straight = 0, far = 0;
    for (int i = 0; i < 400; i++) {
        struct position place = {seed_between(&seed, 35.8, 36.0),
                                 seed_between(&seed, 14.3, 14.6)};
        struct berth berth;
        bool sea = !water_is_inland(&water, place);
        double off_m = water_shore_m(&water, place, 1e5);
        bool found = berth_find(&berth, &water, "from", place, &error);
        if (off_m > BERTH_M - 850.0 && off_m <= BERTH_M)
            continue; /* the water itself may be further than its shore */
        assert_int_equal(found, sea || off_m <= BERTH_M);
        if (!found) {
            assert_int_equal(error.status, STATUS_INPUT);
            assert_contains(error.text, "'from' is inland, ");
            assert_near(atof(strstr(error.text, "inland, ") + 8),
                        m_to_nmi(off_m), 0.051);
            far++;
            continue;
        }
        assert_false(water_is_inland(&water, berth.at));
        assert_near(berth.moved_m, apart_m(place, berth.at), 1e-6);
        if (sea)
            assert_near(berth.moved_m, 0.0, 0.0);
        else
            assert_true(berth.moved_m > off_m && berth.moved_m < off_m + 801.0);
        straight += !sea && berth.moved_m < off_m + 21.0;
        moved += !sea;
    }
    assert_true(moved > 50 && far > 10);
    assert_true(straight > 0.9 * moved); /* the rest: at the head of an inlet */
}

static void the_sea_is_told_to_be_far(void **state) {
    (void)state;
    if (!waters_load(&water, (struct coast_box){44, 48, 4, 12}, &arena))
        skip();
    static const struct {
        struct position place;
        const char *words;
    } cases[] = {
        {{46.45, 6.55}, "'to' is on inland water, "}, /* Lake Geneva */
        {{46.9, 8.2}, "'to' is inland, more than 120"},
        {{44.9, 8.6}, "'to' is inland, "}, /* the plain of the Po */
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct berth berth;
        assert_false(berth_find(&berth, &water, "to", cases[i].place, &error));
        assert_int_equal(error.status, STATUS_INPUT);
        assert_contains(error.text, cases[i].words);
        assert_contains(error.text, "nmi from the sea");
    }
}

static void stops_are_not_on_land_nor_too_near(void **state) {
    (void)state;
    if (!waters_load(&water, malta, &arena))
        skip();
    water.clearance_m = nmi_to_m(2);
    water.approach_m = nmi_to_m(5);
    water.start = (struct position){35.5, 14.4};
    water.finish = (struct position){36.3, 14.4};
    struct position open = {35.5, 15.0}, land = {35.9, 14.4};
    struct position near = {35.80, 14.5};
    assert_true(berth_check_stops(&water, &open, 1, &error));
    struct position on_land[] = {open, land};
    assert_false(berth_check_stops(&water, on_land, 2, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "'via' 2 is on land");
    assert_false(berth_check_stops(&water, &near, 1, &error));
    assert_contains(error.text, "'via' 1 is ");
    assert_contains(error.text, "nearer than the clearance of 2.0 nmi");
    water.clearance_m = 0.0;
    assert_true(berth_check_stops(&water, &near, 1, &error));
}

static void stops_are_not_in_a_zone(void **state) {
    (void)state;
    struct position centre = {10, -30}, out = {12, -30};
    struct zone *zone = waters_add_circle(&water, centre, 1e4, &arena);
    zone->name = "Long Shoal";
    water.depart_unix_s = 1000;
    water.start = out;
    water.finish = out;
    assert_true(berth_check_stops(&water, &out, 1, &error));
    assert_false(berth_check_stops(&water, &centre, 1, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "'via' 1 is in the zone 'Long Shoal'");
    water.start = centre;
    assert_false(berth_check_stops(&water, NULL, 0, &error));
    assert_contains(error.text, "the start is in the zone 'Long Shoal'");
    water.start = out;
    water.finish = centre;
    assert_false(berth_check_stops(&water, NULL, 0, &error));
    assert_contains(error.text, "the finish is in the zone 'Long Shoal'");
    /* open again some time: only who starts in it is stopped */
    zone->until_known = true;
    zone->until.unix_s = 1000;
    assert_true(berth_check_stops(&water, &centre, 1, &error));
    water.start = centre;
    assert_false(berth_check_stops(&water, &centre, 1, &error));
    zone->until.unix_s = 999;
    assert_true(berth_check_stops(&water, &centre, 1, &error));
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, open_waters, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(without_a_coast_every_place_is_sea),
        TEST(a_berth_goes_out_by_the_nearest_water),
        TEST(the_sea_is_told_to_be_far),
        TEST(stops_are_not_on_land_nor_too_near),
        TEST(stops_are_not_in_a_zone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
