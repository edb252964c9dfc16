#include "../support/check.h"

#include "base/instant.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

static int64_t parsed(const char *text) {
    struct instant instant;
    bool zone;
    if (!instant_parse(text, &instant, &zone))
        fail_msg("'%s' was refused", text);
    return instant.unix_s;
}

/* 1711848600 is 2024-03-31T01:30:00Z (`date -u -d @1711848600`). */
static void all_forms_of_one_instant_agree(void **state) {
    (void)state;
    static const char *const forms[] = {
        "2024-03-31T01:30:00Z",        "2024-03-31T01:30Z",
        "2024-03-31t01:30z",           "2024-03-31 01:30:00",
        "2024-03-31T01:30:00.999Z",    "2024-03-31T01:30:00,5Z",
        "2024-03-31T14:30:00+13:00",   "2024-03-31T14:30+1300",
        "2024-03-31 14:30+13",         "2024-03-30T22:00:00-03:30",
        "2024-03-30T22:00:00.25-0330", "2024-03-31T01:30:00+00:00",
        "2024-03-31T01:30:00-00:00"};
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
        assert_int_equal(parsed(forms[i]), 1711848600);
}

static void a_missing_zone_is_told(void **state) {
    (void)state;
    struct instant instant;
    bool zone = false;
    assert_true(instant_parse("2024-03-31T01:30Z", &instant, &zone));
    assert_true(zone);
    assert_true(instant_parse("2024-03-31T01:30", &instant, &zone));
    assert_false(zone);
    assert_true(instant_parse("2024-03-31T01:30+02:00", &instant, &zone));
    assert_true(zone);
    assert_true(instant_parse("2024-03-31", &instant, &zone));
    assert_false(zone);
    assert_int_equal(instant.unix_s, 1711843200);
}

static void anything_else_is_refused(void **state) {
    (void)state;
    static const char *const bad[] = {"",
                                      "now",
                                      "2024-02-30",
                                      "2023-02-29T00:00Z",
                                      "2100-02-29",
                                      "2024-04-31",
                                      "2024-13-01",
                                      "2024-00-10",
                                      "2024-01-00",
                                      "0000-01-01",
                                      "24-01-01",
                                      "2024-1-1",
                                      "2024/01/01",
                                      "20240101",
                                      "2024-01-01T",
                                      "2024-01-01T12",
                                      "2024-01-01T24:00Z",
                                      "2024-01-01T12:60Z",
                                      "2024-01-01T12:00:60Z",
                                      "2024-01-01T12:00:00.Z",
                                      "2024-01-01T12:00 Z",
                                      "2024-01-01T12:00Z ",
                                      "2024-01-01T12:00ZZ",
                                      "2024-01-01T12:00+",
                                      "2024-01-01T12:00+1",
                                      "2024-01-01T12:00+01:",
                                      "2024-01-01T12:00+01:60",
                                      "2024-01-01T12:00+15:00",
                                      "2024-01-01T12:00EST",
                                      " 2024-01-01",
                                      "2024-01-01Z",
                                      "0001-01-01T00:00+01:00",
                                      "9999-12-31T23:59-01:00"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct instant instant = {42};
        bool zone;
        if (instant_parse(bad[i], &instant, &zone))
            fail_msg("'%s' was taken", bad[i]);
        assert_int_equal(instant.unix_s, 42);
    }
}

/* Broken-down UTC must not go through local time: Auckland and New York would
 * move it by hours, Lisbon changes its clocks in that very hour. */
static void the_zone_of_the_machine_changes_nothing(void **state) {
    (void)state;
    static const char *const zones[] = {"UTC", "Europe/Lisbon",
                                        "Pacific/Auckland", "America/New_York",
                                        "XYZ+5ABC,M3.2.0,M11.1.0"};
    for (size_t i = 0; i < sizeof zones / sizeof *zones; i++) {
        setenv("TZ", zones[i], 1);
        tzset();
        char text[INSTANT_TEXT_SIZE];
        assert_int_equal(parsed("2024-03-31T01:30:00Z"), 1711848600);
        assert_int_equal(parsed("2024-03-31T01:30:00"), 1711848600);
        instant_print((struct instant){1711848600}, text);
        assert_string_equal(text, "2024-03-31T01:30:00Z");
    }
    unsetenv("TZ");
    tzset();
}

static void hours_added_cross_month_ends(void **state) {
    (void)state;
    static const struct {
        const char *from;
        double hours;
        const char *expected;
    } cases[] = {
        {"2024-02-28T18:00Z", 6, "2024-02-29T00:00:00Z"},
        {"2024-02-28T18:00Z", 30, "2024-03-01T00:00:00Z"},
        {"2023-02-28T18:00Z", 6, "2023-03-01T00:00:00Z"},
        {"2100-02-28T00:00Z", 24, "2100-03-01T00:00:00Z"},
        {"2000-02-28T00:00Z", 24, "2000-02-29T00:00:00Z"},
        {"2024-12-31T18:00Z", 240, "2025-01-10T18:00:00Z"},
        {"2025-01-31T07:00Z", 24, "2025-02-01T07:00:00Z"},
        {"2024-03-01T00:00Z", -0.5, "2024-02-29T23:30:00Z"},
        {"1970-01-01T00:00Z", -1, "1969-12-31T23:00:00Z"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[INSTANT_TEXT_SIZE];
        struct instant from = {parsed(cases[i].from)};
        struct instant to = instant_plus(from, cases[i].hours * 3600.0);
        instant_print(to, text);
        assert_string_equal(text, cases[i].expected);
        assert_near(instant_minus(to, from), cases[i].hours * 3600.0, 0.0);
    }
}

static void parts_of_a_second_are_rounded(void **state) {
    (void)state;
    struct instant zero = {0};
    assert_int_equal(instant_plus(zero, 1.4).unix_s, 1);
    assert_int_equal(instant_plus(zero, 1.6).unix_s, 2);
    assert_int_equal(instant_plus(zero, -1.4).unix_s, -1);
    assert_int_equal(instant_plus(zero, -1.6).unix_s, -2);
}

/* Each day follows the one before by the rules of the calendar, told here a
 * second way: count up. */
static void every_day_of_ten_centuries_follows_the_last(void **state) {
    (void)state;
    struct civil day = {.year = 1600, .month = 1, .day = 1};
    struct instant instant;
    assert_true(instant_from_civil(day, &instant));
    int weekday = instant_weekday(instant);
    assert_int_equal(weekday, 6); /* a Saturday, as 2000-01-01, 400 years on */
    for (int i = 0; i < 365243; i++) {
        struct instant next;
        struct civil got = instant_to_civil(instant);
        assert_int_equal(got.year * 10000 + got.month * 100 + got.day,
                         day.year * 10000 + day.month * 100 + day.day);
        assert_int_equal(instant_weekday(instant), weekday);
        day.day++;
        if (!instant_from_civil(day, &next)) {
            day.day = 1;
            day.month++;
        }
        if (day.month > 12) {
            day.month = 1;
            day.year++;
        }
        assert_true(instant_from_civil(day, &next));
        assert_int_equal(next.unix_s - instant.unix_s, 86400);
        instant = next;
        weekday = (weekday + 1) % 7;
    }
    assert_int_equal(day.year, 2600); /* 365,242.5 days in 1000 years */
}

static void times_of_day_are_kept(void **state) {
    (void)state;
    struct seed seed = {20240331};
    for (int i = 0; i < 2000; i++) {
        struct instant instant = {
            (int64_t)seed_between(&seed, -6.2e10, 2.5e11)};
        struct instant back;
        char text[INSTANT_TEXT_SIZE];
        assert_true(instant_from_civil(instant_to_civil(instant), &back));
        assert_int_equal(back.unix_s, instant.unix_s);
        instant_print(instant, text);
        assert_int_equal(parsed(text), instant.unix_s);
    }
}

static void months_have_their_names(void **state) {
    (void)state;
    assert_string_equal(instant_month_name(1), "Jan");
    assert_string_equal(instant_month_name(3), "Mar");
    assert_string_equal(instant_month_name(12), "Dec");
}

static void now_can_be_fixed_from_outside(void **state) {
    (void)state;
    setenv("SOURCE_DATE_EPOCH", "1711848600", 1);
    assert_int_equal(instant_now().unix_s, 1711848600);
    unsetenv("SOURCE_DATE_EPOCH");
    assert_in_range(instant_now().unix_s - (int64_t)time(NULL) + 5, 0, 10);
    setenv("SOURCE_DATE_EPOCH", "soon", 1);
    assert_in_range(instant_now().unix_s - (int64_t)time(NULL) + 5, 0, 10);
    unsetenv("SOURCE_DATE_EPOCH");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_forms_of_one_instant_agree),
        cmocka_unit_test(a_missing_zone_is_told),
        cmocka_unit_test(anything_else_is_refused),
        cmocka_unit_test(the_zone_of_the_machine_changes_nothing),
        cmocka_unit_test(hours_added_cross_month_ends),
        cmocka_unit_test(parts_of_a_second_are_rounded),
        cmocka_unit_test(every_day_of_ten_centuries_follows_the_last),
        cmocka_unit_test(times_of_day_are_kept),
        cmocka_unit_test(months_have_their_names),
        cmocka_unit_test(now_can_be_fixed_from_outside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
