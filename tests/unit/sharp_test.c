#include "../support/check.h"

#include "report/sharp.h"

/* Friday 15 March 2024 05:07 UTC: date -u -d @1710479220 */
static const struct instant depart = {1710479220};

static void times_are_as_sharp_as_they_can_be_known(void **state) {
    (void)state;
    static const struct {
        double after_h;
        const char *expected, *expected_short;
    } cases[] = {
        {0.0, "Fri 15 Mar 05:07", "15 05:07"},
        {0.01, "Fri 15 Mar 05:15", "15 05:15"},
        {1.0, "Fri 15 Mar 06:00", "15 06:00"},
        {18.8, "Sat 16 Mar 00:00", "16 00:00"},
        {48.0, "Sun 17 Mar 05:00", "17 05:00"},
        {48.5, "Sun 17 Mar about 06:00", "17 06h"},
        {66.5, "Mon 18 Mar about 00:00", "18 00h"},
        {96.0, "Tue 19 Mar about 05:00", "19 05h"},
        {97.0, "Tue 19 Mar 04:00-08:00", "19 04-08"},
        {114.8, "Tue 19 Mar 20:00-24:00", "19 20-24"},
        {115.0, "Wed 20 Mar 00:00-04:00", "20 00-04"},
        {-1.0, "Fri 15 Mar 04:00", "15 04:00"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[SHARP_TEXT_SIZE];
        struct instant at = instant_plus(depart, cases[i].after_h * 3600.0);
        sharp_print(depart, at, text);
        assert_string_equal(text, cases[i].expected);
        sharp_print_short(depart, at, text);
        assert_string_equal(text, cases[i].expected_short);
    }
}

static void a_short_time_may_have_its_month(void **state) {
    (void)state;
    static const struct {
        double after_h;
        const char *expected;
    } cases[] = {{0.0, "15 Mar 05:07"},
                 {18.8, "16 Mar 00:00"},
                 {48.5, "17 Mar 06h"},
                 {115.0, "20 Mar 00-04"},
                 {403.0, "01 Apr 00-04"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[SHARP_TEXT_SIZE];
        sharp_print_dated(
            depart, instant_plus(depart, cases[i].after_h * 3600.0), text);
        assert_string_equal(text, cases[i].expected);
    }
}

static void exact_times_have_their_year(void **state) {
    (void)state;
    char text[SHARP_TEXT_SIZE];
    sharp_print_exact((struct instant){1709251170}, text);
    /* date -u -d @1709251170: Thu 29 Feb 2024 23:59:30 */
    assert_string_equal(text, "Fri 1 Mar 2024 00:00");
    sharp_print_exact((struct instant){1709251169}, text);
    assert_string_equal(text, "Thu 29 Feb 2024 23:59");
}

static void a_window_is_what_is_printed(void **state) {
    (void)state;
    static const struct {
        double after_h;
        int64_t early_s, late_s; /* from the departure */
    } cases[] = {
        {0.0, 0, 0},
        {1.0, 53 * 60 - 450, 53 * 60 + 450},
        {48.5, 48 * 3600 + 53 * 60 - 1800, 48 * 3600 + 53 * 60 + 1800},
        {97.0, 94 * 3600 + 53 * 60, 98 * 3600 + 53 * 60},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct instant early, late;
        sharp_window(depart, instant_plus(depart, cases[i].after_h * 3600.0),
                     &early, &late);
        assert_int_equal(early.unix_s - depart.unix_s, cases[i].early_s);
        assert_int_equal(late.unix_s - depart.unix_s, cases[i].late_s);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(times_are_as_sharp_as_they_can_be_known),
        cmocka_unit_test(a_window_is_what_is_printed),
        cmocka_unit_test(a_short_time_may_have_its_month),
        cmocka_unit_test(exact_times_have_their_year),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
