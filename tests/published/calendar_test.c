/* The calendar against other people's dates and against date(1). */
#include "../support/check.h"

#include "base/instant.h"

#include <stdio.h>
#include <string.h>

static struct instant instant_of(const char *text) {
    struct instant instant;
    bool zone;
    if (!instant_parse(text, &instant, &zone))
        fail_msg("'%s' was refused", text);
    return instant;
}

static void known_instants(void **state) {
    (void)state;
    static const struct {
        const char *text;
        int64_t unix_s;
    } known[] = {
        /* POSIX.1-2008, XBD 4.15, Seconds Since the Epoch: its zero */
        {"1970-01-01T00:00:00Z", 0},
        /* the first and the last second of a signed 32 bit count */
        {"2038-01-19T03:14:07Z", 2147483647},
        {"1901-12-13T20:45:52Z", -2147483648},
        /* Meeus, Astronomical Algorithms, 2nd ed., ch. 7: JD 2451545.0 is
         * 2000-01-01 12 h; JD 2440587.5 is the epoch */
        {"2000-01-01T12:00:00Z", (int64_t)((2451545.0 - 2440587.5) * 86400)},
        /* the same, 1957-10-04.81, JD 2436116.31 */
        {"1957-10-04T19:26:24Z", (int64_t)((2436116.31 - 2440587.5) * 86400)},
        /* the same, 1600-01-01.0, JD 2305447.5 */
        {"1600-01-01T00:00:00Z", (int64_t)((2305447.5 - 2440587.5) * 86400)},
    };
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        /* JD in a double is good to 1e-4 s here */
        int64_t difference = instant_of(known[i].text).unix_s - known[i].unix_s;
        assert_in_range(difference + 1, 0, 2);
    }
}

/* Meeus ch. 7: 1954-06-30 was a Wednesday; ISO 8601 and POSIX: 1970-01-01 was
 * a Thursday. */
static void known_weekdays(void **state) {
    (void)state;
    assert_int_equal(instant_weekday(instant_of("1954-06-30")), 3);
    assert_int_equal(instant_weekday(instant_of("1970-01-01")), 4);
    assert_int_equal(instant_weekday(instant_of("1970-01-03T23:59Z")), 6);
    assert_int_equal(instant_weekday(instant_of("1970-01-04")), 0);
}

static void gnu_date_agrees(void **state) {
    (void)state;
    if (check_shell("date -u -d @0 +%FT%TZ | grep -q 1970").status != 0) {
        print_message("skipped: date(1) takes no -d here\n");
        skip();
    }
    struct seed seed = {51};
    for (int i = 0; i < 40; i++) {
        struct instant instant = {(int64_t)seed_between(&seed, -4e9, 8e9)};
        char line[100], text[INSTANT_TEXT_SIZE];
        snprintf(line, sizeof line, "date -u -d @%lld '+%%Y-%%m-%%dT%%TZ %%w'",
                 (long long)instant.unix_s);
        instant_print(instant, text);
        struct ran ran = check_shell(line);
        assert_memory_equal(ran.out, text, strlen(text));
        assert_int_equal(ran.out[strlen(text) + 1] - '0',
                         instant_weekday(instant));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_instants),
        cmocka_unit_test(known_weekdays),
        cmocka_unit_test(gnu_date_agrees),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
