/* The invented oceans are what they say they are. */
#include "../support/check.h"
#include "../support/load.h"
#include "../support/ocean_maker.h"

#include "base/units.h"
#include "earth/geodesic.h"

#include <math.h>
#include <stdio.h>

static double run_unix_s(void) {
    struct instant run;
    assert_true(instant_from_civil(ocean_run, &run));
    return (double)run.unix_s;
}

/* The width of a value that is packed in 12 bits, for the widest range of
 * each parameter that an ocean of one day has here. */
static void check_sample(const struct weather *read,
                         const struct ocean_weather *made) {
    const double *values = made->values;
    assert_near(read->wind.east, values[OCEAN_WIND_EAST], 0.01);
    assert_near(read->wind.north, values[OCEAN_WIND_NORTH], 0.01);
    assert_true(read->gust_mps.known && read->pressure_pa.known);
    assert_near(read->gust_mps.value, values[OCEAN_GUST], 0.01);
    assert_near(read->pressure_pa.value, values[OCEAN_PRESSURE], 2.0);
    assert_true(read->sea_height_m.known && read->sea.known);
    assert_near(read->sea_height_m.value, values[OCEAN_WAVE_HEIGHT], 0.005);
    assert_near(read->sea.period_s, values[OCEAN_WAVE_PERIOD], 0.01);
    assert_angle_near(read->sea.from_deg, values[OCEAN_WAVE_FROM], 0.2);
}

static void a_file_holds_the_weather_that_it_was_made_of(void **state) {
    (void)state;
    struct ocean ocean = ocean_offshore();
    const char *path = check_write("offshore.grib2", "");
    ocean_write_forecast(&ocean, path);
    struct loaded loaded = load_files(&path, 1, NULL);
    assert_true(loaded.good);
    for (int k = 0; k < 40; k++) {
        struct position at = {ocean.north_deg - k % ocean.nj,
                              ocean.west_deg + 3 * k % ocean.ni};
        int hour = ocean.every * (k % (ocean.hours / ocean.every + 1));
        struct ocean_weather made = ocean.weather(at, hour);
        struct weather read;
        assert_int_equal(forecast_at(loaded.forecast, at,
                                     run_unix_s() + 3600.0 * hour, &read),
                         COVERAGE_INSIDE);
        check_sample(&read, &made);
    }
    loaded_free(&loaded);
}

static void the_ocean_is_as_large_as_the_bench_says(void **state) {
    (void)state;
    struct ocean ocean = ocean_trades();
    assert_int_equal(ocean_messages(&ocean), 567);
    assert_int_equal(ocean_messages(&ocean) * ocean_points(&ocean), 25685100);
    double nmi =
        geodesic_between(ocean.from, ocean.to).distance_m / METRES_PER_NMI;
    assert_near(nmi, 2000.0, 0.001);
}

/* A boat that makes 5 kn good on the direct way, and hours on end can't lay
 * it: the wind is over 10 kn and within 45 degrees of her course. */
static void the_direct_way_of_the_hard_one_lies_into_the_wind(void **state) {
    (void)state;
    struct ocean ocean = ocean_hard();
    int hours_ahead = 0;
    for (int hour = 0; hour < 240; hour++) {
        double course_deg =
            geodesic_between(ocean.from, ocean.to).course_start_deg;
        struct position at =
            geodesic_ahead(ocean.from, course_deg, 5.0 * METRES_PER_NMI * hour);
        struct ocean_weather weather = ocean.weather(at, hour);
        struct vector_mps wind = {weather.values[OCEAN_WIND_EAST],
                                  weather.values[OCEAN_WIND_NORTH]};
        double to_end_deg = geodesic_between(at, ocean.to).course_start_deg;
        double off_deg =
            fabs(angle_turn(to_end_deg, vector_direction_from(wind)));
        if (off_deg < 45.0 && mps_to_kn(vector_length(wind)) > 10.0)
            hours_ahead++;
    }
    printf("hard: %d hours of head wind on the direct way\n", hours_ahead);
    assert_in_range(hours_ahead, 24, 240);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_file_holds_the_weather_that_it_was_made_of),
        cmocka_unit_test(the_ocean_is_as_large_as_the_bench_says),
        cmocka_unit_test(the_direct_way_of_the_hard_one_lies_into_the_wind)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
