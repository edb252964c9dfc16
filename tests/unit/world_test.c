/* Of a large forecast a world keeps what its plans can reach: that of a coast,
 * and without one all of it. */
#include "../support/check.h"
#include "../support/grib_maker.h"
#include "../support/load.h"
#include "../support/scratch.h"

#include "plan/passage.h"
#include "plan/preflight.h"
#include "plan/world.h"

static struct error error;

/* A wind all round, of a million points and more: 721 rows of 1440. */
static const char *wind(double south_deg, double north_deg) {
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.category = 2,
                             .run = {2026, 6, 1, 0, 0, 0},
                             .ni = 1440,
                             .nj = 721,
                             .first_lat = north_deg,
                             .first_lon = 0.0,
                             .last_lat = south_deg,
                             .last_lon = 359.75,
                             .fill = 5.0};
    for (spec.lead = 0; spec.lead <= 504; spec.lead += 72)
        for (spec.number = 2; spec.number <= 3; spec.number++)
            grib_add(&bytes, &spec);
    return save_bytes(&bytes, "wind.grib2");
}

static struct request request_of(const char *from, const char *to,
                                 const char *coast) {
    const char *const options[][2] = {{"boat", "polars/wanderer-12.ini"},
                                      {"forecast_gap_hours", "72"},
                                      {"from", from},
                                      {"to", to},
                                      {"coast", coast},
                                      {"depart", "2026-06-01T00:00Z"}};
    struct request request;
    bool good = request_load(&request, NULL, &arena, &error);
    for (size_t i = 0; good && i < sizeof options / sizeof *options; i++)
        good = request_option(&request, options[i][0], options[i][1], &arena,
                              &error);
    if (!good)
        fail_msg("%s", error.text);
    return request;
}

static void add(struct request *request, const char *name, const char *path) {
    if (!request_option(request, name, path, &arena, &error))
        fail_msg("%s", error.text);
}

static struct world world_of(struct request *request) {
    struct world world = {.forecast = NULL};
    if (!request_resolve(request, false, &arena, &error) ||
        !world_load(&world, request, &arena, &error))
        fail_msg("%s", error.text);
    return world;
}

static bool has_wind(const struct world *world, double lat_deg,
                     double lon_deg) {
    static const double depart_s = 1780272000.0; /* 2026-06-01T00:00Z */
    struct weather weather;
    return forecast_at(world->forecast, (struct position){lat_deg, lon_deg},
                       depart_s, &weather) == COVERAGE_INSIDE;
}

static void skip_without_shorelines(void) {
    if (coast_installed(&arena))
        return;
    print_message("skipped: no shorelines on this machine\n");
    skip();
}

/* In reach are 600 nmi and 3 degrees, 27 to 53 N: the zone closes all that. */
static void without_a_coast_the_way_round_a_zone_may_be_long(void **state) {
    (void)state;
    struct request request = request_of("40,-25", "40,-14", "none");
    struct plan *plan;
    add(&request, "forecast", wind(-90.0, 90.0));
    add(&request, "zones",
        check_write("bar.geojson",
                    "{\"type\": \"Feature\", \"properties\": {\"name\": "
                    "\"bar\"}, \"geometry\": {\"type\": \"Polygon\", "
                    "\"coordinates\": [[[-19.6, 10], [-19.4, 10], "
                    "[-19.4, 54.5], [-19.6, 54.5], [-19.6, 10]]]}}"));
    struct world world = world_of(&request);
    assert_true(has_wind(&world, 54.6, -19.5));
    assert_true(has_wind(&world, -40.0, 160.0));
    if (!plan_passage(&world, &request, NULL, &arena, &plan, &error))
        fail_msg("%s", error.text);
    /* to 54.5 N and back, calculated on a sphere of a minute to the mile */
    assert_true(plan->summary.distance_m > 1740.0 * METRES_PER_NMI);
}

static void with_one_the_rest_of_a_globe_is_not_kept(void **state) {
    (void)state;
    skip_without_shorelines();
    struct request request = request_of("40,-25", "40,-14", "auto");
    add(&request, "forecast", wind(-90.0, 90.0));
    struct world world = world_of(&request);
    assert_true(has_wind(&world, 52.9, -19.5));
    assert_false(has_wind(&world, 54.6, -19.5));
    assert_false(has_wind(&world, -40.0, 160.0));
}

static void what_was_likely_meant_is_told_of_a_large_forecast(void **state) {
    (void)state;
    skip_without_shorelines();
    struct request request = request_of("-45,-20", "-44,-20.5", "auto");
    add(&request, "forecast", wind(0.0, 80.0));
    struct world world = world_of(&request);
    assert_false(preflight_check(&world, &request, &error));
    assert_contains(error.text,
                    "at the start, 45 00.00 S 020 00.00 W; with N for S it "
                    "would lie inside: correct it, or ");
}

/* Components 2 and 3 of that discipline, on so many points each way. */
static void add_pair(struct grib_bytes *bytes, int discipline, int points,
                     int step_h) {
    struct grib_spec spec = {.discipline = discipline,
                             .category = discipline == 0 ? 2 : 1,
                             .level_type = discipline == 0 ? 103 : 1,
                             .level = discipline == 0 ? 10 : 0,
                             .run = {2026, 6, 1, 0, 0, 0},
                             .ni = points,
                             .nj = points,
                             .first_lat = 70.0,
                             .first_lon = 340.0,
                             .last_lat = 50.0,
                             .last_lon = 360.0,
                             .fill = 1.0};
    for (spec.lead = 0; spec.lead <= 12; spec.lead += step_h)
        for (spec.number = 2; spec.number <= 3; spec.number++)
            grib_add(bytes, &spec);
}

/* A wind at every degree and 6 h, a current at every half and 3 h. Half a
 * degree of longitude is 15 nmi in 60 N. */
static void the_finest_of_all_fields_is_the_grain(void **state) {
    (void)state;
    enum { METEOROLOGY = 0, OCEANOGRAPHY = 10 };
    struct grib_bytes bytes = {0};
    struct request request = request_of("60,-14", "59,-10", "none");
    add_pair(&bytes, METEOROLOGY, 21, 6);
    add_pair(&bytes, OCEANOGRAPHY, 41, 3);
    add(&request, "forecast", save_bytes(&bytes, "wind.grib2"));
    struct world world = world_of(&request);
    assert_near(world.grain.metres, nmi_to_m(15.0), 1.0);
    assert_near(world.grain.seconds, hours_to_s(3.0), 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(
            without_a_coast_the_way_round_a_zone_may_be_long, scratch_begin,
            scratch_end),
        cmocka_unit_test_setup_teardown(
            with_one_the_rest_of_a_globe_is_not_kept, scratch_begin,
            scratch_end),
        cmocka_unit_test_setup_teardown(
            what_was_likely_meant_is_told_of_a_large_forecast, scratch_begin,
            scratch_end),
        cmocka_unit_test_setup_teardown(the_finest_of_all_fields_is_the_grain,
                                        scratch_begin, scratch_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
