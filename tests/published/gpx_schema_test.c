/* GPX 1.1 against its schema. */
#include "../support/check.h"
#include "../support/gpx_example.h"
#include "../support/gpx_schema.h"
#include "../support/plan_example.h"

#include "exchange/gpx.h"
#include "report/route_gpx.h"
#include <stdio.h>
#include <string.h>

static void valid(const struct gpx *gpx) {
    struct ran ran = gpx_schema_validate(gpx_example_write(gpx, "valid.gpx"));
    if (ran.status != 0)
        fail_msg("%s", ran.err);
}

/* Outside check: sha256 of the file as published in Debian 12. */
static void the_schema_is_the_published_one(void **state) {
    (void)state;
    char line[9000];
    if (!gpx_schema())
        skip();
    snprintf(line, sizeof line, "sha256sum <'%s' && wc -c <'%s'", gpx_schema(),
             gpx_schema());
    struct ran ran = check_shell(line);
    assert_memory_equal(ran.out, "e0e4cb84", 8);
    assert_contains(ran.out, "67f0  -\n25657\n");
}

static void the_example_is_valid(void **state) {
    (void)state;
    if (!gpx_schema())
        skip();
    struct gpx gpx = gpx_example();
    valid(&gpx);
}

static void the_route_of_a_plan_is_valid(void **state) {
    (void)state;
    struct plan_example example;
    struct error error;
    if (!gpx_schema())
        skip();
    plan_example_make(&example);
    plan_example_later(&example, 730); /* in the magnetic model's years */
    example.plan.display.magnetic = true;
    const char *path = check_write("plan.gpx", "");
    FILE *stream = fopen(path, "wb");
    assert_non_null(stream);
    assert_true(route_gpx_write(&example.plan, stream, &error));
    fclose(stream);
    struct ran ran = gpx_schema_validate(path);
    if (ran.status != 0)
        fail_msg("%s", ran.err);
}

static void bare_points_are_valid(void **state) {
    (void)state;
    if (!gpx_schema())
        skip();
    struct gpx_point points[] = {{.position = {0.0, 0.0}},
                                 {.position = {90.0, 180.0}},
                                 {.position = {-90.0, -180.0}},
                                 {.position = {1e-9, 179.99999999}},
                                 {.position = {-1e-9, -1e-9}}};
    struct gpx_line line = {.points = points, .count = 5};
    struct gpx gpx = {.routes = &line, .route_count = 1};
    valid(&gpx);
    gpx = (struct gpx){.tracks = &line, .track_count = 1};
    valid(&gpx);
}

static void hostile_texts_are_valid(void **state) {
    (void)state;
    static const char *const texts[] = {
        "",
        "\x01\x1b\x7F",
        "\xEF\xBF\xBF",
        "caf\xE9",
        "a ]]> b",
        "<!-- --> <?x ?>",
        "\"'&<>",
        "\xC2\x85\r\n\t",
        "\xED\xA0\x80",
        "\xF4\x90\x80\x80",
        "&#0;",
    };
    if (!gpx_schema())
        skip();
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        const char *text = texts[i];
        struct gpx_point point = {{1.0, 2.0}, true, {1709143200}, {false, 0.0},
                                  text,       text, text,         text};
        struct gpx_line line = {text, text, &point, 1};
        struct gpx gpx = {.creator = text,
                          .name = text,
                          .description = text,
                          .routes = &line,
                          .route_count = 1,
                          .tracks = &line,
                          .track_count = 1};
        valid(&gpx);
    }
}

/* The schema does see these faults, so the tests above can fail. */
static void the_schema_refuses_what_we_never_write(void **state) {
    (void)state;
    static const char *const points[] = {
        "<rtept lat=\"0\" lon=\"180.0\"/>",
        "<rtept lat=\"1e1\" lon=\"0\"/>",
        "<rtept lat=\"90.1\" lon=\"0\"/>",
        "<rtept lat=\"1\" lon=\"0\"><time>2024-02-28 18:00:00Z</time></rtept>",
        "<rtept lat=\"1\" lon=\"0\"><sym>a</sym><name>b</name></rtept>",
        "<rtept lat=\"1\" lon=\"0\"/><name>late</name>",
    };
    if (!gpx_schema())
        skip();
    for (size_t i = 0; i < sizeof points / sizeof points[0]; i++) {
        char text[1000];
        snprintf(text, sizeof text,
                 "<gpx version=\"1.1\" creator=\"a\" "
                 "xmlns=\"http://www.topografix.com/GPX/1/1\"><rte>%s</rte>"
                 "</gpx>",
                 points[i]);
        struct ran ran = gpx_schema_validate(check_write("invalid.gpx", text));
        assert_int_equal(ran.status, 3); /* xmllint(1): validation error */
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_schema_is_the_published_one),
        cmocka_unit_test(the_example_is_valid),
        cmocka_unit_test(the_route_of_a_plan_is_valid),
        cmocka_unit_test(bare_points_are_valid),
        cmocka_unit_test(hostile_texts_are_valid),
        cmocka_unit_test(the_schema_refuses_what_we_never_write),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
