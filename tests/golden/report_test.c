/* The files of a plan made by hand, byte for byte as they were last
 * looked at and accepted: tests/golden/report/. With SPARWISE_ACCEPT set the
 * files are written anew; look at the difference before committing it. */
#include "../support/chart_example.h"
#include "../support/check.h"
#include "../support/comma_locale.h"
#include "../support/plan_example.h"

#include "report/page.h"
#include "report/plan_json.h"
#include "report/route_gpx.h"
#include "report/schedule.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct report {
    const char *path;
    bool (*write)(const struct plan *plan, FILE *stream, struct error *error);
};

/* Of the page what is ours: not its script, nor the library. */
static bool write_body(const struct plan *plan, FILE *stream,
                       struct error *error) {
    page_body_write(plan, stream);
    return fflush(stream) == 0 ||
           error_set(error, STATUS_WRITE, "the disk is full");
}

static const struct report reports[] = {
    {"tests/golden/report/schedule.txt", schedule_write},
    {"tests/golden/report/route.gpx", route_gpx_write},
    {"tests/golden/report/plan.json", plan_json_write},
    {"tests/golden/report/page.html", write_body},
};

enum {
    REPORT_COUNT = sizeof reports / sizeof reports[0],
    FIRST_DATA = 1, /* those for other programs */
    DATA_END = 3
};

static char *written(const struct report *report) {
    struct plan_example example;
    struct chart_example chart;
    struct error error;
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    plan_example_make(&example);
    chart_example_make(&chart, &example);
    assert_true(report->write(&example.plan, stream, &error));
    fclose(stream);
    return text;
}

static void accept_anew(const char *path, const char *text) {
    FILE *stream = fopen(path, "w");
    assert_non_null(stream);
    assert_true(fputs(text, stream) >= 0);
    assert_int_equal(fclose(stream), 0);
}

static char *accepted(const char *path) {
    enum { SIZE = 1 << 16 };
    char *text = calloc(1, SIZE);
    FILE *stream = fopen(path, "r");
    assert_non_null(stream);
    assert_non_null(text);
    assert_in_range(fread(text, 1, SIZE, stream), 1, SIZE - 1);
    fclose(stream);
    return text;
}

static void same_as_accepted(const struct report *report) {
    char *text = written(report);
    if (getenv("SPARWISE_ACCEPT"))
        accept_anew(report->path, text);
    char *expected = accepted(report->path);
    assert_string_equal(text, expected);
    free(expected);
    free(text);
}

static void the_files_are_those_that_were_accepted(void **state) {
    (void)state;
    for (int i = 0; i < REPORT_COUNT; i++)
        same_as_accepted(&reports[i]);
}

static void the_machine_s_zone_changes_no_byte(void **state) {
    (void)state;
    setenv("TZ", "Pacific/Auckland", 1);
    for (int i = 0; i < REPORT_COUNT; i++)
        same_as_accepted(&reports[i]);
    unsetenv("TZ");
}

/* Those for other programs; the program itself never sets a locale. */
static void a_comma_locale_changes_no_byte_of_gpx_and_json(void **state) {
    (void)state;
    char *plain[DATA_END];
    for (int i = FIRST_DATA; i < DATA_END; i++)
        plain[i] = written(&reports[i]);
    bool comma = comma_locale_begin();
    for (int i = FIRST_DATA; i < DATA_END; i++) {
        char *text = written(&reports[i]);
        assert_string_equal(text, plain[i]);
        free(text);
        free(plain[i]);
    }
    comma_locale_end();
    if (!comma)
        skip();
}

static void a_full_disk_is_an_error(void **state) {
    (void)state;
    struct plan_example example;
    struct error error;
    plan_example_make(&example);
    for (int i = 0; i < REPORT_COUNT; i++) {
        FILE *stream = fopen("/dev/full", "w");
        if (!stream) {
            print_message("skipped: no /dev/full\n");
            skip();
            return;
        }
        assert_false(reports[i].write(&example.plan, stream, &error));
        assert_int_equal(error.status, STATUS_WRITE);
        fclose(stream);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_files_are_those_that_were_accepted),
        cmocka_unit_test(the_machine_s_zone_changes_no_byte),
        cmocka_unit_test(a_comma_locale_changes_no_byte_of_gpx_and_json),
        cmocka_unit_test(a_full_disk_is_an_error),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
