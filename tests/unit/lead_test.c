#include "../support/check.h"

#include "forecast/lead.h"

/* Code table 4 (edition 1) and 4.4 (edition 2), WMO Manual on Codes. */
static void units_are_those_of_the_edition(void **state) {
    (void)state;
    static const struct {
        int edition;
        long unit;
        int64_t count, seconds; /* -1: no fixed length */
    } cases[] = {
        {1, 0, 90, 5400},    {2, 0, 90, 5400},     {2, 0, 260, 15600},
        {1, 1, 6, 21600},    {2, 1, 6, 21600},     {1, 2, 2, 172800},
        {1, 10, 5, 54000},   {2, 10, 5, 54000},    {1, 11, 2, 43200},
        {2, 12, 2, 86400},   {1, 13, 6, 5400},     {2, 13, 5400, 5400},
        {1, 14, 3, 5400},    {2, 14, 3, -1},       {1, 254, 10, 10},
        {2, 254, 10, -1},    {1, 3, 1, -1},        {2, 4, 1, -1},
        {2, 7, 1, -1},       {2, 255, 1, -1},      {2, 1, -3, -10800},
        {2, 2, 1000000, -1}, {2, 2, -1000000, -1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        int64_t seconds = 0;
        bool good = lead_seconds(cases[i].edition, cases[i].unit,
                                 cases[i].count, &seconds);
        assert_int_equal(good, cases[i].seconds != -1);
        if (good)
            assert_int_equal(seconds, cases[i].seconds);
    }
}

/* Code table 5, WMO Manual on Codes. */
static void time_ranges_of_edition_1_are_understood(void **state) {
    (void)state;
    static const struct {
        long indicator, p1, p2;
        int start_h, end_h;
        bool interval;
        const char *refused;
    } cases[] = {
        {0, 12, 0, 12, 12, false, NULL},
        {1, 0, 0, 0, 0, false, NULL},
        {2, 6, 12, 6, 12, true, NULL},
        {2, 6, 6, 6, 6, false, NULL},
        {10, 6, 0, 1536, 1536, false, NULL},
        {10, 0, 240, 240, 240, false, NULL},
        {3, 0, 6, 0, 0, false, "average"},
        {4, 0, 6, 0, 0, false, "accumulation"},
        {5, 0, 6, 0, 0, false, "difference"},
        {13, 0, 6, 0, 0, false, "unknown"},
        {2, 12, 6, 0, 0, false, "ends before"},
    };
    struct instant run = {1700000000};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct validity validity;
        const char *fault = lead_edition_1(run, 1, cases[i].indicator,
                                           cases[i].p1, cases[i].p2, &validity);
        if (cases[i].refused) {
            assert_contains(fault, cases[i].refused);
            continue;
        }
        assert_null(fault);
        assert_int_equal(validity.start.unix_s - run.unix_s,
                         cases[i].start_h * 3600);
        assert_int_equal(validity.end.unix_s - run.unix_s,
                         cases[i].end_h * 3600);
        assert_int_equal(validity.interval, cases[i].interval);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units_are_those_of_the_edition),
        cmocka_unit_test(time_ranges_of_edition_1_are_understood),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
