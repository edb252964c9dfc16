#include "../support/check.h"

#include "base/units.h"
#include "plan/reach.h"

static const struct coast_box world = {-90, 90, -180, 180};

/* 600 nmi are 10 degrees of latitude to 1 % or so; at 10 N as much or a
 * little more of longitude than there. */
static void a_short_passage_has_600_nmi_round_it(void **state) {
    (void)state;
    struct request request = {.from = {10, 20}, .to = {11, 22}};
    struct coast_box box = reach_box(&request, &world);
    assert_near(box.south_deg, 0.0, 0.1);
    assert_near(box.north_deg, 21.0, 0.1);
    assert_near(box.west_deg, 20.0 - 10.75, 0.2);
    assert_near(box.east_deg, 22.0 + 10.75, 0.2);
}

/* 40 degrees of the equator are 2404 nmi of 1852 m. */
static void a_long_one_has_its_own_length(void **state) {
    (void)state;
    struct request request = {.from = {0, -20}, .to = {0, -60}};
    struct coast_box box = reach_box(&request, &world);
    assert_near(box.south_deg, -40.3, 0.3);
    assert_near(box.north_deg, 40.3, 0.3);
    assert_true(box.west_deg < -100.0 && box.east_deg > 20.0);
}

/* The land that shelters a track is that which shelters the passage; a port off
 * it keeps 60 nmi round it: a degree of latitude. */
static void ports_to_run_to_have_the_sea_round_them(void **state) {
    (void)state;
    static const struct position track[] = {{10, 178}, {10, -178}};
    struct request_port ports[] = {{"Cove", {26, -177}}, {"Bay", {10, 160}}};
    struct request request = {
        .from = {10, 178}, .to = {10, -178}, .track = track, .track_count = 2};
    struct coast_box bare = reach_box(&request, &world);
    request.ports = ports;
    request.port_count = 2;
    struct coast_box box = reach_box(&request, &world);
    assert_near(bare.north_deg, 20.0, 0.1);
    assert_near(bare.east_deg, 192.7, 0.1);
    assert_near(box.north_deg, 27.0, 0.1);
    assert_near(box.south_deg, bare.south_deg, 1e-9);
    assert_near(box.west_deg, 159.0, 0.1);
    assert_near(box.east_deg, bare.east_deg, 1e-9);
}

/* More than the coast on all sides, of a track, too: the chart has margins, and
 * the sea a raster. 3 degrees, and once round at the most. */
static void the_weather_reaches_further_than_the_coast(void **state) {
    (void)state;
    static const struct position track[] = {{10, 178}, {10, -178}};
    struct request_port ports[] = {{"Cove", {16, -177}}, {"Bay", {10, 170}}};
    struct request request = {
        .from = {10, 178}, .to = {10, -178}, .ports = ports, .port_count = 2};
    for (int tracked = 0; tracked < 2; tracked++) {
        request.track = tracked ? track : NULL;
        request.track_count = tracked ? 2 : 0;
        struct coast_box box = reach_box(&request, &world);
        struct grid_bounds weather = reach_weather(&request);
        assert_true(weather.south_deg <= box.south_deg - 3.0);
        assert_true(weather.north_deg >= box.north_deg + 3.0);
        assert_true(weather.west_deg <= box.west_deg - 3.0);
        assert_true(weather.east_deg >= box.east_deg + 3.0);
    }
    request.track = NULL;
    request.to = (struct position){-70, -60};
    struct grid_bounds wide = reach_weather(&request);
    assert_near(wide.south_deg, -90.0, 0.0);
    assert_true(wide.east_deg - wide.west_deg <= 360.0);
    /* 27 degrees there, and as much and 3 more on both sides: less than half
     * round; then 70, whose coast is that of all longitudes */
    request.port_count = 0;
    request.from = (struct position){0, -20};
    request.to = (struct position){0, 7};
    struct grid_bounds half = reach_weather(&request);
    assert_true(half.east_deg - half.west_deg < 120.0);
    request.from = (struct position){0, -25};
    request.to = (struct position){0, 45};
    half = reach_weather(&request);
    assert_near(half.east_deg - half.west_deg, 360.0, 1e-9);
}

static void it_ends_where_the_wind_does_but_holds_all_stops(void **state) {
    (void)state;
    static const struct coast_box wind = {8, 14, 15, 30};
    struct request request = {.from = {10, 20}, .to = {11, 22}};
    struct coast_box box = reach_box(&request, &wind);
    assert_near(box.south_deg, 8.0, 2e-6);
    assert_near(box.north_deg, 14.0, 2e-6);
    assert_near(box.west_deg, 15.0, 2e-6);
    assert_near(box.east_deg, 30.0, 2e-6);
    /* a place on the border of the wind is inside, whatever is rounded */
    assert_true(box.south_deg < 8.0 && box.north_deg > 14.0);
    assert_true(box.west_deg < 15.0 && box.east_deg > 30.0);
    request.to = (struct position){17, 33};
    box = reach_box(&request, &wind);
    assert_near(box.north_deg, 17.0, 2e-6);
    assert_near(box.east_deg, 33.0, 2e-6);
}

static void it_goes_over_180(void **state) {
    (void)state;
    static const struct coast_box wind = {-30, -5, 170, 195};
    static struct position via[] = {{-15, 179}, {-14, -179}};
    struct request request = {
        .from = {-18, 178}, .to = {-18, -175}, .via = via, .via_count = 2};
    struct coast_box box = reach_box(&request, &wind);
    assert_near(box.west_deg, 170.0, 2e-6);
    assert_near(box.east_deg, 195.0, 2e-6);
    box = reach_box(&request, &world);
    assert_near(box.west_deg, 178.0 - 12.4, 0.4);
    assert_near(box.east_deg, 185.0 + 12.4, 0.4);
    /* some 655 nmi long; a degree at 29 S is 0.87 of one at the equator */
    assert_near(box.north_deg, -3.1, 0.2);
    /* wind in longitudes that begin at -180 */
    static const struct coast_box west = {-30, -5, -180, -160};
    box = reach_box(&request, &west);
    assert_near(box.west_deg, 178.0, 2e-6);
    assert_near(box.east_deg, 200.0, 4.0);
}

static void near_a_pole_it_goes_round_the_world(void **state) {
    (void)state;
    struct request request = {.from = {78, 15}, .to = {80, 30}};
    struct coast_box box = reach_box(&request, &world);
    assert_near(box.east_deg - box.west_deg, 360.0, 2e-6);
    assert_near(box.north_deg, 90.0, 2e-6);
    assert_true(box.west_deg >= -180.0 && box.west_deg < 180.0);
}

/* One that goes back, with places far from both ends. */
static void a_track_has_600_nmi_round_all_of_it(void **state) {
    (void)state;
    static const struct position track[] = {{0, 0}, {0, 8}, {5, 3}, {0, 0.1}};
    struct request request = {
        .from = {0, 0}, .to = {0, 0.1}, .track = track, .track_count = 4};
    struct coast_box box = reach_box(&request, &world);
    assert_near(box.south_deg, -10.0, 0.1);
    assert_near(box.north_deg, 15.0, 0.1);
    assert_near(box.west_deg, -10.35, 0.1);
    assert_near(box.east_deg, 18.35, 0.1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_short_passage_has_600_nmi_round_it),
        cmocka_unit_test(a_long_one_has_its_own_length),
        cmocka_unit_test(ports_to_run_to_have_the_sea_round_them),
        cmocka_unit_test(the_weather_reaches_further_than_the_coast),
        cmocka_unit_test(it_ends_where_the_wind_does_but_holds_all_stops),
        cmocka_unit_test(it_goes_over_180),
        cmocka_unit_test(near_a_pole_it_goes_round_the_world),
        cmocka_unit_test(a_track_has_600_nmi_round_all_of_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
