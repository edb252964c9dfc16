#include "../support/check.h"

#include "forecast/parameter.h"

enum { SURFACE_2 = 1, SEA_2 = 101, ABOVE_2 = 103, ORDER_2 = 241 };

static struct parameter_code code_2(int discipline, int category, int number,
                                    int level_type, int level) {
    return (struct parameter_code){
        .edition = 2,
        .discipline = discipline,
        .category = category,
        .number = number,
        .level = level_edition_2(level_type, true, 0, level)};
}

static struct parameter_code code_1(int centre, int table, int number,
                                    int level_type, int level) {
    return (struct parameter_code){.edition = 1,
                                   .centre = centre,
                                   .table = table,
                                   .number = number,
                                   .level = level_edition_1(level_type, level)};
}

static void assert_is(struct parameter_code code, enum quantity quantity,
                      enum part part) {
    struct parameter parameter;
    assert_int_equal(parameter_find(&code, &parameter), RECOGNITION_USED);
    assert_int_equal(parameter.quantity, quantity);
    assert_int_equal(parameter.part, part);
}

static void assert_not_used(struct parameter_code code,
                            enum recognition recognition) {
    struct parameter parameter;
    assert_int_equal(parameter_find(&code, &parameter), recognition);
}

/* Code table 4.2 of the WMO Manual on Codes, as the GRIB library's tables of
 * release 2.28 print it. */
static void parameters_of_edition_2_are_known_by_number(void **state) {
    (void)state;
    assert_is(code_2(0, 2, 2, ABOVE_2, 10), QUANTITY_WIND, PART_EAST);
    assert_is(code_2(0, 2, 3, ABOVE_2, 10), QUANTITY_WIND, PART_NORTH);
    assert_is(code_2(0, 2, 1, ABOVE_2, 10), QUANTITY_WIND, PART_SPEED);
    assert_is(code_2(0, 2, 0, ABOVE_2, 10), QUANTITY_WIND, PART_DIRECTION);
    assert_is(code_2(0, 2, 22, SURFACE_2, 0), QUANTITY_GUST, PART_VALUE);
    assert_is(code_2(0, 2, 22, ABOVE_2, 10), QUANTITY_GUST, PART_VALUE);
    assert_is(code_2(0, 3, 1, SEA_2, 0), QUANTITY_PRESSURE, PART_VALUE);
    assert_is(code_2(0, 3, 0, SEA_2, 0), QUANTITY_PRESSURE, PART_VALUE);
    assert_is(code_2(10, 0, 3, SURFACE_2, 0), QUANTITY_SEA, PART_HEIGHT);
    assert_is(code_2(10, 0, 14, SEA_2, 0), QUANTITY_SEA, PART_DIRECTION);
    assert_is(code_2(10, 0, 15, SEA_2, 0), QUANTITY_SEA, PART_PERIOD);
    assert_is(code_2(10, 0, 10, SURFACE_2, 0), QUANTITY_SEA, PART_DIRECTION);
    assert_is(code_2(10, 0, 11, SURFACE_2, 0), QUANTITY_SEA, PART_PERIOD);
    assert_is(code_2(10, 0, 34, SURFACE_2, 0), QUANTITY_SEA, PART_PERIOD);
    assert_is(code_2(10, 0, 4, SURFACE_2, 0), QUANTITY_WIND_SEA,
              PART_DIRECTION);
    assert_is(code_2(10, 0, 5, ORDER_2, 1), QUANTITY_WIND_SEA, PART_HEIGHT);
    assert_is(code_2(10, 0, 6, SURFACE_2, 0), QUANTITY_WIND_SEA, PART_PERIOD);
    assert_is(code_2(10, 1, 2, SURFACE_2, 0), QUANTITY_CURRENT, PART_EAST);
    assert_is(code_2(10, 1, 3, 160, 0), QUANTITY_CURRENT, PART_NORTH);
    assert_is(code_2(10, 1, 0, SURFACE_2, 0), QUANTITY_CURRENT, PART_DIRECTION);
}

static void swells_are_told_apart_by_order_or_by_number(void **state) {
    (void)state;
    assert_is(code_2(10, 0, 8, ORDER_2, 1), QUANTITY_SWELL_1, PART_HEIGHT);
    assert_is(code_2(10, 0, 9, ORDER_2, 2), QUANTITY_SWELL_2, PART_PERIOD);
    assert_is(code_2(10, 0, 7, ORDER_2, 3), QUANTITY_SWELL_3, PART_DIRECTION);
    assert_is(code_2(10, 0, 8, SURFACE_2, 0), QUANTITY_SWELL_1, PART_HEIGHT);
    assert_is(code_2(10, 0, 47, SURFACE_2, 0), QUANTITY_SWELL_1, PART_HEIGHT);
    assert_is(code_2(10, 0, 51, SURFACE_2, 0), QUANTITY_SWELL_2, PART_PERIOD);
    assert_is(code_2(10, 0, 55, SURFACE_2, 0), QUANTITY_SWELL_3,
              PART_DIRECTION);
    assert_not_used(code_2(10, 0, 8, ORDER_2, 4), RECOGNITION_LEVEL);
    /* the sum of all swells counts only where they are not told apart */
    struct parameter one, total;
    struct parameter_code first = code_2(10, 0, 8, ORDER_2, 1);
    struct parameter_code all = code_2(10, 0, 8, SURFACE_2, 0);
    parameter_find(&first, &one);
    parameter_find(&all, &total);
    assert_true(one.rank < total.rank);
}

/* WMO table 2 (numbers below 128 are the same in versions 1 to 3), NCEP table
 * 2, ECMWF tables 128, 140 and 228. */
static void
parameters_of_edition_1_are_known_by_table_and_number(void **state) {
    (void)state;
    enum { NCEP = 7, METEO_FRANCE = 85, ECMWF = 98 };
    assert_is(code_1(NCEP, 2, 33, 105, 10), QUANTITY_WIND, PART_EAST);
    assert_is(code_1(METEO_FRANCE, 1, 34, 105, 10), QUANTITY_WIND, PART_NORTH);
    assert_is(code_1(NCEP, 2, 31, 1, 0), QUANTITY_WIND, PART_DIRECTION);
    assert_is(code_1(NCEP, 2, 32, 1, 1), QUANTITY_WIND, PART_SPEED);
    assert_is(code_1(NCEP, 2, 2, 102, 0), QUANTITY_PRESSURE, PART_VALUE);
    assert_is(code_1(NCEP, 2, 180, 1, 0), QUANTITY_GUST, PART_VALUE);
    assert_is(code_1(ECMWF, 128, 165, 1, 0), QUANTITY_WIND, PART_EAST);
    assert_is(code_1(ECMWF, 128, 151, 1, 0), QUANTITY_PRESSURE, PART_VALUE);
    assert_is(code_1(ECMWF, 128, 49, 1, 0), QUANTITY_GUST, PART_VALUE);
    assert_is(code_1(ECMWF, 128, 123, 1, 0), QUANTITY_GUST, PART_VALUE);
    assert_is(code_1(ECMWF, 228, 28, 1, 0), QUANTITY_GUST, PART_VALUE);
    assert_is(code_1(ECMWF, 140, 229, 102, 0), QUANTITY_SEA, PART_HEIGHT);
    assert_is(code_1(ECMWF, 140, 231, 102, 0), QUANTITY_SEA, PART_PERIOD);
    assert_is(code_1(ECMWF, 140, 235, 102, 0), QUANTITY_WIND_SEA,
              PART_DIRECTION);
    assert_is(code_1(ECMWF, 140, 238, 102, 0), QUANTITY_SWELL_1,
              PART_DIRECTION);
    assert_is(code_1(ECMWF, 140, 127, 102, 0), QUANTITY_SWELL_3, PART_HEIGHT);
    /* the wave height of the WMO's own table, 2-100 */
    assert_is(code_1(NCEP, 2, 100, 1, 1), QUANTITY_SEA, PART_HEIGHT);
}

static void table_version_0_falls_back_on_the_number(void **state) {
    (void)state;
    assert_is(code_1(7, 0, 33, 1, 1), QUANTITY_WIND, PART_EAST);
    assert_is(code_1(7, 0, 49, 1, 1), QUANTITY_CURRENT, PART_EAST);
    assert_is(code_1(7, 0, 50, 1, 1), QUANTITY_CURRENT, PART_NORTH);
    assert_is(code_1(7, 0, 100, 1, 1), QUANTITY_SEA, PART_HEIGHT);
    assert_is(code_1(7, 0, 101, 1, 1), QUANTITY_WIND_SEA, PART_DIRECTION);
    assert_is(code_1(7, 0, 103, 1, 1), QUANTITY_WIND_SEA, PART_PERIOD);
    assert_is(code_1(7, 0, 107, 1, 1), QUANTITY_SEA, PART_DIRECTION);
    assert_is(code_1(7, 0, 108, 1, 1), QUANTITY_SEA, PART_PERIOD);
}

static void what_a_plan_does_not_need_is_unknown(void **state) {
    (void)state;
    assert_not_used(code_2(10, 0, 192, SURFACE_2, 0), RECOGNITION_UNKNOWN);
    assert_not_used(code_2(0, 0, 0, ABOVE_2, 2), RECOGNITION_UNKNOWN);
    /* 180 is the gust of one centre only; 165 only of one table */
    assert_not_used(code_1(98, 2, 180, 1, 0), RECOGNITION_UNKNOWN);
    assert_not_used(code_1(7, 2, 165, 1, 0), RECOGNITION_UNKNOWN);
    /* spectral peakedness, of a name that looks like a wind speed */
    assert_not_used(code_1(98, 140, 254, 102, 0), RECOGNITION_UNKNOWN);
}

static void wind_aloft_is_known_but_not_used(void **state) {
    (void)state;
    assert_not_used(code_2(0, 2, 2, ABOVE_2, 100), RECOGNITION_LEVEL);
    assert_not_used(code_2(0, 2, 2, 100, 85000), RECOGNITION_LEVEL);
    assert_not_used(code_1(7, 2, 33, 100, 850), RECOGNITION_LEVEL);
    assert_not_used(code_1(98, 128, 131, 100, 1000), RECOGNITION_LEVEL);
    assert_not_used(code_2(10, 1, 2, 160, 50), RECOGNITION_LEVEL);
}

static void
ten_metres_rank_before_the_surface_and_parts_before_speed(void **state) {
    (void)state;
    struct parameter_code codes[] = {
        code_2(0, 2, 2, ABOVE_2, 10), code_2(0, 2, 1, ABOVE_2, 10),
        code_2(0, 2, 2, SURFACE_2, 0), code_2(0, 2, 1, SURFACE_2, 0)};
    int before = -1;
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++) {
        struct parameter parameter;
        parameter_find(&codes[i], &parameter);
        assert_true(parameter.rank > before);
        before = parameter.rank;
    }
}

static void levels_are_printed_in_words(void **state) {
    (void)state;
    static const struct {
        struct level level;
        const char *text;
    } cases[] = {{{LEVEL_HEIGHT, 10.0}, "10 m"},
                 {{LEVEL_PRESSURE, 850.0}, "850 hPa"},
                 {{LEVEL_SURFACE, 0.0}, "surface"},
                 {{LEVEL_MEAN_SEA, 0.0}, "mean sea level"},
                 {{LEVEL_DEPTH, 0.5}, "0.5 m deep"},
                 {{LEVEL_ORDER, 2.0}, "no. 2 of a sequence"},
                 {{LEVEL_NONE, 0.0}, "no level"},
                 {{LEVEL_OTHER, 109.0}, "level type 109"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[LEVEL_TEXT_SIZE];
        level_print(cases[i].level, text);
        assert_string_equal(text, cases[i].text);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parameters_of_edition_2_are_known_by_number),
        cmocka_unit_test(swells_are_told_apart_by_order_or_by_number),
        cmocka_unit_test(parameters_of_edition_1_are_known_by_table_and_number),
        cmocka_unit_test(table_version_0_falls_back_on_the_number),
        cmocka_unit_test(what_a_plan_does_not_need_is_unknown),
        cmocka_unit_test(wind_aloft_is_known_but_not_used),
        cmocka_unit_test(
            ten_metres_rank_before_the_surface_and_parts_before_speed),
        cmocka_unit_test(levels_are_printed_in_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
