#include "../support/check.h"

#include "earth/position.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

struct reading {
    const char *text;
    double lat_deg, lon_deg;
};

static void check_reading(struct reading reading) {
    struct position position = {99.0, 999.0};
    const char *fault = position_parse(reading.text, &position);
    if (fault)
        fail_msg("'%s': %s", reading.text, fault);
    assert_near(position.lat_deg, reading.lat_deg, 1e-12);
    assert_near(position.lon_deg, reading.lon_deg, 1e-12);
}

static void all_forms_of_one_place_agree(void **state) {
    (void)state;
    static const char *const forms[] = {
        "16.89N 25.01W",
        "16.89 N 25.01 W",
        "16.89n25.01w",
        "N16.89 W25.01",
        "n 16.89, w 25.01",
        "16.89,-25.01",
        " +16.89 ; -25.01 ",
        "16.89\xC2\xB0, -25.01\xC2\xB0",
        "16°53.4'N 025°00.6'W",
        "16\xC2\xB0 53.4\xE2\x80\xB2 N, 25\xC2\xB0 0.6\xE2\x80\xB2 W",
        "16\xC2\xB0 53.4\xE2\x80\x99 N 25\xC2\xBA 0.6\xE2\x80\x99 W",
        "16\xC2\xB0 53' 24\" N 25\xC2\xB0 0' 36\" W",
        "16˚ 53′ 24″ N 25˚ 0′ 36” W",
        "16 53 24 N 25 0 36 W",
        "16 53' 24'' N 25 0' 36'' W",
        "16 53.4 N 25 0.6 W",
        "16 53.40 N 025 00.60 W",
        "N 16 53.4, W 25 0.6",
        "N 16 53.4 W 25 0.6",
        "25.01W 16.89N",
        "W 25 0.6 N 16 53.4",
        "16 53.4, -25 0.6",
        "\t16 53 24,\t-25 0 36\t",
        "+16.89-025.01/",
        "+16.89-025.01",
        "+1653.4-02500.6/",
        "+165324-0250036/",
        "+165324.0-0250036.0/",
    };
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
        check_reading((struct reading){forms[i], 16.89, -25.01});
}

/* Decimal degrees are read to the last bit. */
static void decimal_degrees_are_exact(void **state) {
    (void)state;
    struct position position;
    assert_null(position_parse("16.89,-25.01", &position));
    assert_near(position.lat_deg, 16.89, 0.0);
    assert_near(position.lon_deg, -25.01, 0.0);
    assert_null(position_parse("+16.89-025.01/", &position));
    assert_near(position.lat_deg, 16.89, 0.0);
    assert_near(position.lon_deg, -25.01, 0.0);
}

/* Whole degrees and zero degrees keep their sign. */
static void signs_are_kept(void **state) {
    (void)state;
    static const struct reading readings[] = {
        {"S 37 E 174", -37, 174},
        {"S 37, W 0", -37, 0},
        {"37S 174E", -37, 174},
        {"0 30.5 S 0 30.5 W", -30.5 / 60, -30.5 / 60},
        {"-0 30.5, -0 30.5", -30.5 / 60, -30.5 / 60},
        {"-0 0 36, +0 0 36", -0.01, 0.01},
        {"-00.5+000.5/", -0.5, 0.5},
        {"-0030-00030/", -0.5, -0.5},
        {"50 11.5N 8 30.5W", 50 + 11.5 / 60, -8 - 30.5 / 60},
        {"90N 0E", 90, 0},
        {"90 00 00 S 0 0 0 W", -90, 0},
        {"0,0", 0, 0},
        {"10N 180E", 10, -180},
        {"10N 180W", 10, -180},
        {"10,180", 10, -180},
        {"+10+180/", 10, -180},
        {"10N 179 59.999E", 10, 179 + 59.999 / 60},
        {"59 59.999 N 0 59 59.999 E", 59 + 59.999 / 60,
         59.0 / 60 + 59.999 / 3600},
    };
    for (size_t i = 0; i < sizeof readings / sizeof *readings; i++)
        check_reading(readings[i]);
}

static void bad_positions_are_refused_with_their_cause(void **state) {
    (void)state;
    static const struct {
        const char *text, *expected;
    } cases[] = {
        {"50 60.0 N 8 W", "minutes are 60 or more"},
        {"50 N 8 75 W", "minutes are 60 or more"},
        {"50 10 60 N 8 W", "seconds are 60 or more"},
        {"+5060+00800/", "minutes are 60 or more"},
        {"91 N 0 E", "latitude is beyond 90 degrees; does longitude stand "
                     "first? put latitude first"},
        {"-151.2, -33.8", "does longitude stand first?"},
        {"151.2, 91", "beyond 90 degrees; look at its figures"},
        {"181, 5", "beyond 90 degrees; look at its figures"},
        {"16 89 N 25 1 W", "minutes are 60 or more; give 0 to 59.99, or "
                           "decimals of a degree without minutes"},
        {"0, 180.1", "count it from 0 to 180, east or west of Greenwich"},
        {"90 00.1 N 0 E", "latitude is beyond 90 degrees"},
        {"-91, 0", "latitude is beyond 90 degrees"},
        {"100 N 0 E", "latitude is beyond 90 degrees"},
        {"0 N 181 E", "longitude is beyond 180 degrees"},
        {"0, 350", "longitude is beyond 180 degrees"},
        {"0 N 180 00.1 W", "longitude is beyond 180 degrees"},
        {"16.89 25.01", "followed by another; put a comma"},
        {"16 25", "no comma or hemisphere letter"},
        {"16.89 -25.01", "put a comma"},
        {"16.89N, 25.01", "only one hemisphere letter"},
        {"16.89, 25.01W", "only one hemisphere letter"},
        {"16.89N 25.01S", "one of N or S and one of E or W"},
        {"16.89E 25.01W", "one of N or S and one of E or W"},
        {"-16.89N 25.01W", "both a sign and a hemisphere"},
        {"16.89N W-25.01", "both a sign and a hemisphere"},
        {"16.5 30 N 25 W", "followed by another; put a comma"},
        {"16' 30\xC2\xB0 N 25 W", "out of order"},
        {"16\" N 25 W", "out of order"},
        {"16,89N 25,01W", "write decimals with a point"},
        {"16N 25W x", "not a position"},
        {"16N 25W 3", "something stands after"},
        {"+16.89-025.01/x", "something stands after"},
        {"+16.89-25.01/", "not ISO 6709"},
        {"+168-025/", "not ISO 6709"},
        {"+16.8.9-025/", "not ISO 6709"},
        {"16.8.9N 25W", "not a position"},
        {"1e1N 25W", "something stands after"},
        {"nan,0", "not a position"},
        {"0x10,0", "not a position"},
        {"", "not a position"},
        {"N W", "not a position"},
        {",", "not a position"},
        {"16N", "not a position"},
        {"N 16 W", "not a position"},
        {"1 2 3 4 N 5 W", "not a position"},
        {"- 16, 25", "not a position"},
        {"123456789012345678901234567890N 0W", "not a position"},
        {"1,2,3,4,5,6,7,8,9,10,11,12", "not a position"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct position position = {1.5, 2.5};
        const char *fault = position_parse(cases[i].text, &position);
        if (!fault)
            fail_msg("'%s' was taken", cases[i].text);
        assert_contains(fault, cases[i].expected);
        assert_near(position.lat_deg, 1.5, 0.0);
        assert_near(position.lon_deg, 2.5, 0.0);
    }
}

/* Rounded to the last printed unit first, then split: 60 minutes and minus
 * zero never show. */
static void printing_rounds_before_it_splits(void **state) {
    (void)state;
    static const struct {
        double lat_deg, lon_deg;
        const char *expected;
    } cases[] = {
        {16.89, -25.01, "16 53.40 N 025 00.60 W"},
        {50.9999999, 179.9999999, "51 00.00 N 180 00.00 E"},
        {-0.0000001, -0.0000001, "00 00.00 N 000 00.00 E"},
        {-0.0, -0.0, "00 00.00 N 000 00.00 E"},
        {-50.9999999, -8.9999999, "51 00.00 S 009 00.00 W"},
        {0.9999, -0.9999, "00 59.99 N 000 59.99 W"},
        {-37.0, 174.5, "37 00.00 S 174 30.00 E"},
        {90.0, -180.0, "90 00.00 N 180 00.00 W"},
        {-0.508333, 8.0001, "00 30.50 S 008 00.01 E"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[POSITION_TEXT_SIZE];
        position_print((struct position){cases[i].lat_deg, cases[i].lon_deg},
                       text);
        assert_string_equal(text, cases[i].expected);
    }
}

static void what_is_printed_reads_back(void **state) {
    (void)state;
    struct seed seed = {18};
    for (int i = 0; i < 5000; i++) {
        struct position position = {seed_between(&seed, -90.0, 90.0),
                                    seed_between(&seed, -180.0, 180.0)};
        struct position back;
        char text[POSITION_TEXT_SIZE];
        position_print(position, text);
        assert_null(position_parse(text, &back));
        /* half of 0.01' */
        assert_near(back.lat_deg, position.lat_deg, 0.005 / 60 + 1e-12);
        assert_angle_near(back.lon_deg, position.lon_deg, 0.005 / 60 + 1e-12);
    }
}

static void a_rounded_position_survives_a_file(void **state) {
    (void)state;
    struct seed seed = {6};
    for (int i = 0; i < 5000; i++) {
        struct position position = position_rounded(
            (struct position){seed_between(&seed, -90.0, 90.0),
                              seed_between(&seed, -180.0, 180.0)},
            6);
        char text[40];
        snprintf(text, sizeof text, "%.6f", position.lat_deg);
        assert_near(strtod(text, NULL), position.lat_deg, 0.0);
        snprintf(text, sizeof text, "%.6f", position.lon_deg);
        assert_near(strtod(text, NULL), position.lon_deg, 0.0);
    }
    struct position zero = position_rounded((struct position){-1e-9, -1e-9}, 6);
    assert_false(signbit(zero.lat_deg));
    assert_false(signbit(zero.lon_deg));
    struct position line =
        position_rounded((struct position){10.0, 179.99999999}, 6);
    assert_near(line.lon_deg, -180.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_forms_of_one_place_agree),
        cmocka_unit_test(decimal_degrees_are_exact),
        cmocka_unit_test(signs_are_kept),
        cmocka_unit_test(bad_positions_are_refused_with_their_cause),
        cmocka_unit_test(printing_rounds_before_it_splits),
        cmocka_unit_test(what_is_printed_reads_back),
        cmocka_unit_test(a_rounded_position_survives_a_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
