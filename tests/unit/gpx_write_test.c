#include "../support/check.h"
#include "../support/comma_locale.h"
#include "../support/scratch.h"

#include "exchange/gpx.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#define COUNT(list) (sizeof(list) / sizeof(list)[0])
#define NAMESPACE_11 "http://www.topografix.com/GPX/1/1"
#define NAMESPACE_10 "http://www.topografix.com/GPX/1/0"

static struct error error;

static struct gpx loaded(const char *path) {
    struct gpx gpx;
    if (!gpx_load(&gpx, path, &arena, &error))
        fail_msg("%s", error.text);
    return gpx;
}

static struct gpx read_text(const char *text) {
    return loaded(check_write("in.gpx", text));
}

/* The bytes that gpx_write() makes. */
static char *written(const struct gpx *gpx) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_true(gpx_write(gpx, stream, &error));
    fclose(stream);
    return text;
}

static struct gpx read_back(const struct gpx *gpx) {
    char *text = written(gpx);
    struct gpx back = read_text(text);
    free(text);
    return back;
}

/* --- out --------------------------------------------------------------------
 */

static struct gpx_point point_at(double lat_deg, double lon_deg) {
    return (struct gpx_point){.position = {lat_deg, lon_deg}};
}

static struct gpx one_route(struct gpx_line *line, struct gpx_point *points,
                            size_t count) {
    *line = (struct gpx_line){.points = points, .count = count};
    return (struct gpx){.routes = line, .route_count = 1};
}

static const char small_expected[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<gpx version=\"1.1\" creator=\"sparwise 0\" "
    "xmlns=\"http://www.topografix.com/GPX/1/1\" "
    "xmlns:xsi=\"http://www.w3.org/2001/XMLSchema-instance\" "
    "xsi:schemaLocation=\"http://www.topografix.com/GPX/1/1 "
    "http://www.topografix.com/GPX/1/1/gpx.xsd\">\n"
    "  <metadata>\n"
    "    <name>Home</name>\n"
    "    <desc>by night</desc>\n"
    "    <time>2024-02-28T18:00:00Z</time>\n"
    "  </metadata>\n"
    "  <rte>\n"
    "    <name>R</name>\n"
    "    <desc>long</desc>\n"
    "    <rtept lat=\"16.8900000\" lon=\"-25.0100000\">\n"
    "      <time>2024-02-28T18:00:00Z</time>\n"
    "      <magvar>348.3</magvar>\n"
    "      <name>SET1</name>\n"
    "      <desc>set</desc>\n"
    "      <sym>Flag</sym>\n"
    "      <type>set</type>\n"
    "    </rtept>\n"
    "    <rtept lat=\"-0.5000000\" lon=\"0.0000000\"/>\n"
    "  </rte>\n"
    "  <trk>\n"
    "    <trkseg>\n"
    "      <trkpt lat=\"16.8900000\" lon=\"-25.0100000\"/>\n"
    "    </trkseg>\n"
    "  </trk>\n"
    "</gpx>\n";

static char *small_written(void) {
    struct instant instant = {1709143200};
    struct gpx_point points[] = {
        {{16.89, -25.01},
         true,
         instant,
         {true, -11.66},
         "SET1",
         "set",
         "Flag",
         "set"},
        {{-0.5, 0.0}, false, {0}, {false, 0.0}, NULL, "", NULL, NULL}};
    struct gpx_point sample = point_at(16.89, -25.01);
    struct gpx_line route = {"R", "long", points, 2};
    struct gpx_line track = {NULL, NULL, &sample, 1};
    struct gpx gpx = {.creator = "sparwise 0",
                      .name = "Home",
                      .description = "by night",
                      .timed = true,
                      .time = instant,
                      .routes = &route,
                      .route_count = 1,
                      .tracks = &track,
                      .track_count = 1};
    return written(&gpx);
}

/* Element order of the schema: point time, magvar, name, desc, sym, type; route
 * name, desc, points; file metadata, routes, tracks (bug log 45). */
static void the_order_is_that_of_the_schema(void **state) {
    (void)state;
    char *text = small_written();
    assert_string_equal(text, small_expected);
    free(text);
}

static void a_comma_locale_changes_no_byte(void **state) {
    (void)state;
    if (!comma_locale_begin())
        skip();
    char *text = small_written();
    comma_locale_end();
    assert_string_equal(text, small_expected);
    free(text);
}

/* The schema wants 0 up to but not 360, also after rounding; west is counted
 * on round the circle. */
static void variation_goes_round_the_circle(void **state) {
    (void)state;
    static const struct {
        struct figure variation_deg;
        const char *expected;
    } cases[] = {
        {{true, 13.04}, "<magvar>13.0</magvar>"},
        {{true, 0.0}, "<magvar>0.0</magvar>"},
        {{true, -0.04}, "<magvar>0.0</magvar>"},
        {{true, -0.06}, "<magvar>359.9</magvar>"},
        {{true, -179.96}, "<magvar>180.0</magvar>"},
        {{true, 180.0}, "<magvar>180.0</magvar>"},
        {{false, 13.0}, "lon=\"2.0000000\"/>"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct gpx_line line;
        struct gpx_point point = point_at(1.0, 2.0);
        point.variation_deg = cases[i].variation_deg;
        struct gpx gpx = one_route(&line, &point, 1);
        char *text = written(&gpx);
        assert_contains(text, cases[i].expected);
        free(text);
    }
}

/* Bug log 46. */
static void coordinates_have_seven_decimals_and_no_minus_zero(void **state) {
    (void)state;
    static const struct {
        double lat_deg, lon_deg;
        const char *expected;
    } cases[] = {
        {-0.00000004, 0.00002, "lat=\"0.0000000\" lon=\"0.0000200\""},
        {-0.0, 0.0, "lat=\"0.0000000\" lon=\"0.0000000\""},
        {-0.0000004, -1e-9, "lat=\"-0.0000004\" lon=\"0.0000000\""},
        {90.0, -180.0, "lat=\"90.0000000\" lon=\"-180.0000000\""},
        {-90.0, 180.0, "lat=\"-90.0000000\" lon=\"-180.0000000\""},
        {1.0, 179.99999999, "lat=\"1.0000000\" lon=\"-180.0000000\""},
        {1.0, 179.9999999, "lat=\"1.0000000\" lon=\"179.9999999\""},
        {12.34567894, -0.5, "lat=\"12.3456789\" lon=\"-0.5000000\""},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct gpx_line line;
        struct gpx_point point = point_at(cases[i].lat_deg, cases[i].lon_deg);
        struct gpx gpx = one_route(&line, &point, 1);
        char *text = written(&gpx);
        assert_contains(text, cases[i].expected);
        free(text);
    }
}

static void what_is_written_reads_back_as_the_same_double(void **state) {
    (void)state;
    struct seed seed = {20240228};
    struct gpx_point points[500];
    struct gpx_line line;
    for (size_t i = 0; i < COUNT(points); i++)
        points[i] = point_at(seed_between(&seed, -90.0, 90.0),
                             seed_between(&seed, -180.0, 180.0));
    struct gpx gpx = one_route(&line, points, COUNT(points));
    struct gpx back = read_back(&gpx);
    assert_int_equal(back.routes[0].count, COUNT(points));
    for (size_t i = 0; i < COUNT(points); i++) {
        struct position rounded = position_rounded(points[i].position, 7);
        struct position read = back.routes[0].points[i].position;
        assert_near(read.lat_deg, rounded.lat_deg, 0.0);
        assert_near(read.lon_deg, rounded.lon_deg, 0.0);
    }
}

/* Bug log 37. */
static void hostile_names_read_back(void **state) {
    (void)state;
    static const struct {
        const char *put, *read;
    } cases[] = {
        {"A & B <\"C\"> 'D'", "A & B <\"C\"> 'D'"},
        {"a ]]> b", "a ]]> b"},
        {"&amp; &lt;", "&amp; &lt;"},
        {"<!-- <![CDATA[ <?php", "<!-- <![CDATA[ <?php"},
        {"two\nlines", "two\nlines"},
        {"bell\a escape\x1b[2J\r\x7F", "bell escape[2J"},
        {"C1 \xC2\x85 next", "C1  next"},
        {"no sign \xEF\xBF\xBF here", "no sign  here"},
        {"caf\xE9", "caf\xEF\xBF\xBD"},
        {"caf\xC3\xA9 \xF0\x9F\x98\x80", "caf\xC3\xA9 \xF0\x9F\x98\x80"},
        {"\x01\x02", NULL},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct gpx_line line;
        struct gpx_point point = point_at(1.0, 2.0);
        struct gpx gpx = one_route(&line, &point, 1);
        point.name = gpx.creator = gpx.name = line.description = cases[i].put;
        struct gpx back = read_back(&gpx);
        if (!cases[i].read) {
            assert_null(back.routes[0].points[0].name);
            assert_string_equal(back.creator, "sparwise");
            continue;
        }
        assert_string_equal(back.routes[0].points[0].name, cases[i].read);
        assert_string_equal(back.routes[0].description, cases[i].read);
        assert_string_equal(back.name, cases[i].read);
        assert_string_equal(back.creator, cases[i].read);
    }
}

static void a_full_disk_is_an_error(void **state) {
    (void)state;
    FILE *stream = fopen("/dev/full", "w");
    if (!stream) {
        print_message("skipped: no /dev/full\n");
        skip();
        return;
    }
    struct gpx_line line;
    struct gpx_point point = point_at(1.0, 2.0);
    struct gpx gpx = one_route(&line, &point, 1);
    assert_false(gpx_write(&gpx, stream, &error));
    assert_int_equal(error.status, STATUS_WRITE);
    fclose(stream);
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_order_is_that_of_the_schema),
        TEST(a_comma_locale_changes_no_byte),
        TEST(coordinates_have_seven_decimals_and_no_minus_zero),
        TEST(variation_goes_round_the_circle),
        TEST(what_is_written_reads_back_as_the_same_double),
        TEST(hostile_names_read_back),
        TEST(a_full_disk_is_an_error),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
