/* What to ask a forecast for: by hand, and its size against real files. */
#include "../support/analytic.h"
#include "../support/check.h"
#include "../support/scene.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "plan/ask.h"

#include <sys/stat.h>

static struct request between(const char *from, const char *to) {
    return scene_request(from, to, "2026-06-01T00:00Z", &arena);
}

static void area_is(struct ask_area area, double south, double north,
                    double west, double east) {
    assert_near(area.south_deg, south, 1e-9);
    assert_near(area.north_deg, north, 1e-9);
    assert_near(area.west_deg, west, 1e-9);
    assert_near(area.east_deg, east, 1e-9);
}

/* On the line a great circle is the line, and a degree as long both ways. */
static void the_area_is_the_stops_with_room_outward(void **state) {
    (void)state;
    struct request request = between("0 N 20 W", "0 N 30 W");
    area_is(ask_area(&request, 2.5), -3.0, 3.0, -33.0, -17.0);
    request = between("0 N 175 E", "0 N 175 W");
    area_is(ask_area(&request, 1.0), -1.0, 1.0, 174.0, 186.0);
}

/* At 60 N a mile is twice as many degrees of longitude. The great circle
 * between 60 N 40 W and 60 N 0 W stands at tan(lat) = tan 60 / cos 20 in its
 * middle: 61.52 N (a sphere, calculated). */
static void room_is_miles_and_the_great_circle_is_inside(void **state) {
    (void)state;
    struct request request = between("60 N 40 W", "60 N 0 W");
    area_is(ask_area(&request, 0.6), 59.0, 63.0, -42.0, 2.0);
}

static void places_to_pass_and_ports_are_inside(void **state) {
    (void)state;
    struct request request = between("0 N 20 W", "0 N 30 W");
    struct position via = {-5.5, -25.0};
    struct request_port port = {"Cala Bruna", {4.5, -22.0}};
    request.via = &via;
    request.via_count = 1;
    request.ports = &port;
    request.port_count = 1;
    area_is(ask_area(&request, 1.0), -7.0, 6.0, -31.0, -19.0);
    /* two sides of 5.5 by 5 degrees: 110.6 and 111.3 km a degree (WGS84) */
    assert_near(ask_way_m(&request), 2.0 * 823.9e3, 2e3);
}

static double five_mps(double twa_deg) {
    (void)twa_deg;
    return 5.0;
}

/* Like nothing below 90, like twice as much behind: 3 of 13 angles are 60, 70
 * and 80. */
static double eight_aft(double twa_deg) {
    return twa_deg < 89.5 ? 0.0 : 8.0;
}

static void the_fair_speed_is_the_mean_of_the_angles_from_60_on(void **state) {
    (void)state;
    assert_near(ask_fair_mps(analytic_free_boat(five_mps)), 5.0, 1e-9);
    assert_near(ask_fair_mps(analytic_free_boat(eight_aft)), 8.0 * 10.0 / 13.0,
                1e-9);
    struct boat *boat = analytic_free_boat(five_mps);
    boat->factor = 0.8;
    assert_near(ask_fair_mps(boat), 4.0, 1e-9);
}

/* 10 degrees of the line, 1113.2 km, at 5 m/s: 61.84 h. Small: a tenth and 6 h
 * more, 74.03 h, up to 78 h of 6: 14 steps; half a degree over 12 by 2 degrees:
 * 25 by 5 points; wind 2 x (180 + 125 x 1.5), gust 180 + 125 x 1.375, sea 3 x
 * (180 + 187.5). */
static void a_small_request_by_hand(void **state) {
    (void)state;
    struct request request = between("0 N 20 W", "0 N 30 W");
    struct ask ask = ask_for(analytic_free_boat(five_mps), &request, ASK_SMALL);
    assert_near(s_to_hours(ask.passage_s), 61.84, 0.01);
    assert_near(ask.room_deg, 1.0, 0.003);
    assert_near(ask.hours, 78.0, 1e-9);
    assert_int_equal(ask.steps, 14);
    assert_near(ask.spacing_deg, 0.5, 1e-9);
    assert_int_equal(ask.columns, 29); /* 1.002 degrees of room: 33 W to 19 W */
    assert_int_equal(ask.rows, 9);
    double points = 29 * 9;
    assert_near(ask.bytes,
                14.0 *
                    (2.0 * (180.0 + points * 1.5) + (180.0 + points * 1.375) +
                     3.0 * (180.0 + points * 1.5)),
                1.0);
}

static void a_fuller_one_is_finer_wider_longer_and_has_more(void **state) {
    (void)state;
    static const char *const ends[] = {"0 N 21 W", "0 N 26 W", "0 N 50 W"};
    const struct boat *boat = analytic_free_boat(five_mps);
    for (size_t i = 0; i < 3; i++) {
        struct request request = between("0 N 20 W", ends[i]);
        struct ask small = ask_for(boat, &request, ASK_SMALL);
        struct ask full = ask_for(boat, &request, ASK_FULL);
        assert_true(small.hours > s_to_hours(small.passage_s));
        assert_true(full.hours > small.hours);
        assert_true(full.room_deg > small.room_deg);
        assert_true(full.spacing_deg <= small.spacing_deg);
        assert_true(full.step_h <= small.step_h);
        assert_true(full.last > small.last);
        assert_true(full.bytes > 4.0 * small.bytes);
    }
}

/* --- the size against files ----------------------------------------------- */

/* Files of weather centres that hold nothing but what is told here: how many
 * fields of the kind of `field`, and points of the grid, land counted (grib_get
 * -p shortName,numberOfDataPoints). `of_estimate`: bytes there over bytes
 * estimated, measured. Plainly packed ones come to 1.0 and 1.3 (16 bits a
 * value), tightly packed to 0.35 to 0.8; with the land of 45 % of the points
 * masked to 0.6, of 75 % and tightly packed to a quarter. */
struct real {
    const char *name;
    enum ask_field field;
    double fields, points;
    double of_estimate;
};

static const struct real reals[] = {
    {"1-wind-series/madagascar-wind-7days.grb", ASK_WIND, 54, 1683, 0.60},
    {"2-waves/madagascar-wave-7days.grb", ASK_SEA, 81, 1683, 0.62},
    {"1-wind-series/cmc-wind10m-P003.grib2", ASK_WIND, 2, 49400, 0.37},
    {"1-wind-series/gfs-10uv-1deg-f000.grib2", ASK_WIND, 2, 65160, 0.81},
    {"1-wind-series/ec-10u-without-v.grib", ASK_WIND, 2, 115680, 1.33},
    {"6-zoo/packing/gfs-10uv-simple.grib2", ASK_WIND, 2, 65160, 1.08},
    {"6-zoo/packing/gfs-10uv-complex-spdiff.grib2", ASK_WIND, 2, 65160, 0.75},
    {"2-waves/gfswave-atlocn-f000.grib2", ASK_SEA, 19, 99631, 0.24},
    {"2-waves/gdaswave-wcoast-f000.grib2", ASK_SEA, 19, 36391, 0.27},
    {"2-waves/ecwam-swh-reduced-ll.grib2", ASK_SEA, 1, 313362, 0.71},
    {"3-gust-mslp/gefs-prmsl-simple.grib2", ASK_PRESSURE, 1, 65160, 1.00},
    {"3-gust-mslp/gefs-prmsl-ccsds.grib2", ASK_PRESSURE, 1, 65160, 0.54},
    {"3-gust-mslp/gefs-prmsl-jpeg.grib2", ASK_PRESSURE, 1, 65160, 0.35},
};

static double size_of(const char *path) {
    struct stat about;
    assert_int_equal(stat(path, &about), 0);
    return (double)about.st_size;
}

static void real_files_are_as_large_as_was_measured(void **state) {
    (void)state;
    size_t there = 0;
    for (size_t i = 0; i < sizeof reals / sizeof *reals; i++) {
        const struct real *real = &reals[i];
        const char *path = check_real_file(real->name);
        if (!path)
            continue;
        there++;
        double estimate = real->fields / ask_fields_of(real->field) *
                          ask_bytes(real->field, real->points);
        assert_near(size_of(path) / estimate, real->of_estimate, 0.006);
    }
    if (there == 0)
        skip();
}

/* Ours are packed to 12 bits, pressure to 13 or so; a swell that is the same
 * everywhere takes none. */
static void the_samples_are_four_fifths_of_the_estimate(void **state) {
    (void)state;
    static const struct {
        const char *path;
        double steps, points;
        enum ask_field last;
    } samples[] = {
        {"grib-samples/trade-crossing.grib2", 41, 693, ASK_PRESSURE},
        {"grib-samples/coastal-hop.grib2", 17, 289, ASK_SWELL},
        {"grib-samples/dateline-hop.grib2", 17, 435, ASK_SWELL},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        double estimate = 0.0;
        for (int field = 0; field <= (int)samples[i].last; field++)
            estimate += ask_bytes((enum ask_field)field, samples[i].points);
        /* of the whole sea they have the height alone, the last two pressure */
        estimate -= 2.0 / 3.0 * ask_bytes(ASK_SEA, samples[i].points);
        if (samples[i].last < ASK_PRESSURE)
            estimate += ask_bytes(ASK_PRESSURE, samples[i].points);
        assert_near(size_of(samples[i].path) / (samples[i].steps * estimate),
                    0.79, 0.01);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_area_is_the_stops_with_room_outward),
        cmocka_unit_test(room_is_miles_and_the_great_circle_is_inside),
        cmocka_unit_test(places_to_pass_and_ports_are_inside),
        cmocka_unit_test(the_fair_speed_is_the_mean_of_the_angles_from_60_on),
        cmocka_unit_test(a_small_request_by_hand),
        cmocka_unit_test(a_fuller_one_is_finer_wider_longer_and_has_more),
        cmocka_unit_test(real_files_are_as_large_as_was_measured),
        cmocka_unit_test(the_samples_are_four_fifths_of_the_estimate),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
