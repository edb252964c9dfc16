#include "../support/check.h"
#include "../support/comma_locale.h"

#include "exchange/gpx.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#define COUNT(list) (sizeof(list) / sizeof(list)[0])
#define NAMESPACE_11 "http://www.topografix.com/GPX/1/1"
#define NAMESPACE_10 "http://www.topografix.com/GPX/1/0"

static struct arena arena;
static struct error error;

static int begin(void **state) {
    (void)state;
    arena_init(&arena);
    return 0;
}

static int finish(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static struct gpx loaded(const char *path) {
    struct gpx gpx;
    if (!gpx_load(&gpx, path, &arena, &error))
        fail_msg("%s", error.text);
    return gpx;
}

static struct gpx read_text(const char *text) {
    return loaded(check_write("in.gpx", text));
}

static void refused(const char *text, const char *part) {
    struct gpx gpx;
    const char *path = check_write("bad.gpx", text);
    assert_false(gpx_load(&gpx, path, &arena, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "bad.gpx");
    assert_contains(error.text, part);
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

/* --- in ---------------------------------------------------------------------
 */

static const char rich[] =
    "<?xml version=\"1.0\"?>\n"
    "<gpx version=\"1.1\" creator=\"by hand\" xmlns=\"" NAMESPACE_11 "\">\n"
    " <metadata><name>Home</name><desc>by night</desc>\n"
    "  <time>2024-02-28T06:00:00Z</time></metadata>\n"
    " <wpt lat=\"1\" lon=\"2\"><name>loose</name></wpt>\n"
    " <wpt lat=\"3\" lon=\"4\"/>\n"
    " <rte><name> R </name><desc>a route</desc><number>3</number>\n"
    "  <rtept lon=\"-25.01\" lat=\"16.89\"><ele>0</ele>\n"
    "   <time>2024-02-28T18:00:00Z</time><name>SET1</name>\n"
    "   <desc>set the spar</desc><sym>Flag</sym><type>set</type></rtept>\n"
    "  <rtept lat=\"-1.5\" lon=\"+30\"/>\n"
    " </rte>\n"
    " <trk><name>T</name>\n"
    "  <trkseg><trkpt lat=\"5\" lon=\"6\"/></trkseg>\n"
    "  <trkseg><trkpt lat=\"7\" lon=\"8\"/></trkseg></trk>\n"
    "</gpx>\n";

static void a_file_with_everything_is_read(void **state) {
    (void)state;
    struct gpx gpx = read_text(rich);
    assert_string_equal(gpx.creator, "by hand");
    assert_string_equal(gpx.name, "Home");
    assert_string_equal(gpx.description, "by night");
    assert_true(gpx.timed);
    assert_int_equal(gpx.time.unix_s, 1709100000); /* date -u -d @1709100000 */
    assert_int_equal(gpx.waypoint_count, 2);
    assert_int_equal(gpx.route_count, 1);
    assert_int_equal(gpx.track_count, 1);
    assert_false(gpx.zone_missing);
    assert_string_equal(gpx.routes[0].name, "R");
    assert_string_equal(gpx.routes[0].description, "a route");
    assert_int_equal(gpx.routes[0].count, 2);
}

static void a_point_has_its_time_and_texts(void **state) {
    (void)state;
    struct gpx gpx = read_text(rich);
    const struct gpx_point *point = gpx.routes[0].points;
    assert_near(point[0].position.lat_deg, 16.89, 0.0);
    assert_near(point[0].position.lon_deg, -25.01, 0.0);
    assert_true(point[0].timed);
    assert_int_equal(point[0].time.unix_s, 1709143200);
    assert_string_equal(point[0].name, "SET1");
    assert_string_equal(point[0].description, "set the spar");
    assert_string_equal(point[0].symbol, "Flag");
    assert_string_equal(point[0].type, "set");
    assert_false(point[1].timed);
    assert_null(point[1].name);
    assert_near(point[1].position.lon_deg, 30.0, 0.0);
}

static void the_segments_of_a_track_are_joined(void **state) {
    (void)state;
    struct gpx gpx = read_text(rich);
    assert_int_equal(gpx.tracks[0].count, 2);
    assert_near(gpx.tracks[0].points[0].position.lat_deg, 5.0, 0.0);
    assert_near(gpx.tracks[0].points[1].position.lat_deg, 7.0, 0.0);
}

/* Two points each, whatever the dress (bug log 62). */
static void every_namespace_and_version_is_read(void **state) {
    (void)state;
    static const char *const cases[] = {
        "<gpx version=\"1.1\" xmlns=\"" NAMESPACE_11 "\"><rte>"
        "<rtept lat=\"1\" lon=\"2\"/><rtept lat=\"3\" lon=\"4\"/></rte></gpx>",
        "<gpx version=\"1.0\" xmlns=\"" NAMESPACE_10 "\"><rte>"
        "<rtept lat=\"1\" lon=\"2\"/><rtept lat=\"3\" lon=\"4\"/></rte></gpx>",
        "<gpx><rte>"
        "<rtept lat=\"1\" lon=\"2\"/><rtept lat=\"3\" lon=\"4\"/></rte></gpx>",
        "<gpx version=\"7\" xmlns=\"" NAMESPACE_11 "\"><rte>"
        "<rtept lon=\"2\" lat=\"1\"/><rtept lon=\"4\" lat=\"3\"/></rte></gpx>",
        "<x:gpx xmlns:x=\"" NAMESPACE_11 "\"><x:rte>"
        "<x:rtept lat=\"1\" lon=\"2\"/><x:rtept lat=\"3\" lon=\"4\"></x:rtept>"
        "</x:rte></x:gpx>",
        "\xEF\xBB\xBF<?xml version=\"1.0\" encoding=\"UTF-8\"?>\r\n"
        "<gpx xmlns=\"" NAMESPACE_11 "\"><rte>\r\n"
        "<rtept lat=\"1\" lon=\"2\"/>\r\n"
        "<rtept lat=\" 3.0 \" lon=\"4.\"/></rte></gpx>",
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct gpx gpx = read_text(cases[i]);
        assert_int_equal(gpx.route_count, 1);
        assert_int_equal(gpx.routes[0].count, 2);
        assert_near(gpx.routes[0].points[0].position.lat_deg, 1.0, 0.0);
        assert_near(gpx.routes[0].points[1].position.lon_deg, 4.0, 0.0);
        assert_false(gpx.routes[0].points[0].timed);
    }
}

/* `text`, ASCII, as UTF-16 of either byte order, with its mark. */
static const char *as_utf16(const char *text, bool big) {
    const char *path = check_write("utf16.gpx", "");
    FILE *stream = fopen(path, "wb");
    assert_non_null(stream);
    fputs(big ? "\xFE\xFF" : "\xFF\xFE", stream);
    for (; *text; text++) {
        fputc(big ? 0 : *text, stream);
        fputc(big ? *text : 0, stream);
    }
    fclose(stream);
    return path;
}

static void utf_16_is_read(void **state) {
    (void)state;
    static const char text[] =
        "<?xml version=\"1.0\" encoding=\"UTF-16\"?>\n"
        "<gpx xmlns=\"" NAMESPACE_11 "\"><rte>\n"
        "<rtept lat=\"1\" lon=\"2\"><name>One</name></rtept></rte></gpx>\n";
    for (int big = 0; big <= 1; big++) {
        struct gpx gpx = loaded(as_utf16(text, big));
        assert_int_equal(gpx.routes[0].count, 1);
        assert_string_equal(gpx.routes[0].points[0].name, "One");
    }
}

static void utf_16_cut_in_a_character_is_refused(void **state) {
    (void)state;
    struct gpx gpx;
    const char *path = as_utf16("<gpx><rte>", false);
    FILE *stream = fopen(path, "ab");
    assert_non_null(stream);
    fputc('<', stream);
    fclose(stream);
    assert_false(gpx_load(&gpx, path, &arena, &error));
    assert_contains(error.text, "utf16.gpx:1: not well-formed XML");
}

static void latin_1_becomes_utf_8(void **state) {
    (void)state;
    struct gpx gpx = read_text(
        "<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><gpx><rte>"
        "<name>Caf\xE9</name><rtept lat=\"1\" lon=\"2\"/></rte></gpx>");
    assert_string_equal(gpx.routes[0].name, "Caf\xC3\xA9");
}

static void gpx_1_0_keeps_its_metadata_in_the_root(void **state) {
    (void)state;
    struct gpx gpx = read_text(
        "<gpx version=\"1.0\" xmlns=\"" NAMESPACE_10 "\"><name>Old</name>"
        "<desc>words</desc><time>2024-02-28T18:00:00Z</time>"
        "<rte><rtept lat=\"1\" lon=\"2\"/></rte></gpx>");
    assert_string_equal(gpx.name, "Old");
    assert_string_equal(gpx.description, "words");
    assert_int_equal(gpx.time.unix_s, 1709143200);
}

/* An offset is applied and a fraction dropped; without a zone UTC is taken and
 * said so, whatever the machine's zone (bug log 17). */
static void times_are_utc_under_every_zone(void **state) {
    (void)state;
    static const struct {
        const char *text;
        bool zone_missing;
    } cases[] = {
        {"2024-02-28T18:00:00Z", false},
        {"2024-02-29T07:00:00+13:00", false},
        {"2024-02-28T18:00:00.250Z", false},
        {" 2024-02-28T18:00 ", true},
    };
    static const char *const zones[] = {"UTC", "Pacific/Auckland",
                                        "America/New_York"};
    for (size_t i = 0; i < COUNT(cases) * COUNT(zones); i++) {
        char text[200];
        setenv("TZ", zones[i / COUNT(cases)], 1);
        tzset();
        snprintf(text, sizeof text,
                 "<gpx><rte><rtept lat=\"1\" lon=\"2\"><time>%s</time></rtept>"
                 "</rte></gpx>",
                 cases[i % COUNT(cases)].text);
        struct gpx gpx = read_text(text);
        assert_int_equal(gpx.routes[0].points[0].time.unix_s, 1709143200);
        assert_int_equal(gpx.zone_missing,
                         cases[i % COUNT(cases)].zone_missing);
        char *out = written(&gpx);
        assert_contains(out, "<time>2024-02-28T18:00:00Z</time>");
        free(out);
    }
    unsetenv("TZ");
    tzset();
}

static void an_empty_time_counts_as_absent(void **state) {
    (void)state;
    struct gpx gpx =
        read_text("<gpx><rte><rtept lat=\"1\" lon=\"2\"><time/></rtept>"
                  "<rtept lat=\"1\" lon=\"2\"><time> </time></rtept>"
                  "</rte></gpx>");
    assert_false(gpx.routes[0].points[0].timed);
    assert_false(gpx.routes[0].points[1].timed);
}

static void longitudes_come_into_their_range(void **state) {
    (void)state;
    static const struct {
        const char *text;
        double expected;
    } cases[] = {{"180", -180.0},
                 {"-180", -180.0},
                 {"190.5", -169.5},
                 {"359", -1.0},
                 {"360", 0.0},
                 {"-0.0", 0.0},
                 {"179.9999999", 179.9999999}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        char text[200];
        snprintf(text, sizeof text,
                 "<gpx><rte><rtept lat=\"1\" lon=\"%s\"/></rte></gpx>",
                 cases[i].text);
        assert_near(read_text(text).routes[0].points[0].position.lon_deg,
                    cases[i].expected, 0.0);
    }
}

static void references_and_cdata_are_plain_text(void **state) {
    (void)state;
    struct gpx gpx = read_text(
        "<gpx><rte><rtept lat=\"&#49;\" lon=\"2\"><name>&amp;amp; &lt;&#65;"
        "</name><desc><![CDATA[a <b> & ]]>c<!-- no -->d</desc></rtept>"
        "</rte></gpx>");
    assert_near(gpx.routes[0].points[0].position.lat_deg, 1.0, 0.0);
    assert_string_equal(gpx.routes[0].points[0].name, "&amp; <A");
    assert_string_equal(gpx.routes[0].points[0].description, "a <b> & cd");
}

static void foreign_elements_are_passed_over(void **state) {
    (void)state;
    struct gpx gpx = read_text(
        "<gpx xmlns=\"" NAMESPACE_11 "\" xmlns:o=\"urn:other\">"
        "<extensions><rte><rtept lat=\"99\" lon=\"x\"/></rte></extensions>"
        "<rte><o:name>no</o:name><link href=\"a\"><text>no</text></link>"
        "<o:rtept lat=\"99\" lon=\"x\"/>"
        "<rtept lat=\"1\" lon=\"2\" o:lat=\"99\"><extensions><name>no</name>"
        "<o:time>never</o:time></extensions></rtept></rte></gpx>");
    assert_int_equal(gpx.route_count, 1);
    assert_int_equal(gpx.routes[0].count, 1);
    assert_null(gpx.routes[0].name);
    assert_null(gpx.routes[0].points[0].name);
    assert_false(gpx.routes[0].points[0].timed);
}

static void empty_routes_are_dropped(void **state) {
    (void)state;
    struct gpx gpx = read_text("<gpx><rte><name>none</name></rte><rte><name>b"
                               "</name><rtept lat=\"1\" lon=\"2\"/></rte>"
                               "<trk><trkseg/></trk></gpx>");
    assert_int_equal(gpx.route_count, 1);
    assert_string_equal(gpx.routes[0].name, "b");
    assert_int_equal(gpx.track_count, 0);
}

static void bad_files_are_refused_with_file_and_line(void **state) {
    (void)state;
    static const struct {
        const char *text, *part;
    } cases[] = {
        {"", "bad.gpx: the file is empty"},
        {"not xml", "bad.gpx:1: not well-formed XML"},
        {"<!DOCTYPE html>\n<html><body/></html>",
         "bad.gpx:2: not GPX, the first element is 'html'"},
        {"<gpx>\n<rte>\n<rtept lat=\"1\" lon=\"2\">", "bad.gpx:3: not well"},
        {"<gpx>\n</rte>", "bad.gpx:2: not well"},
        {"<gpx><rte>\n\n<rtept lat=\"90.1\" lon=\"2\"/></rte></gpx>",
         "bad.gpx:3: 'lat' 90.1 is beyond 90 degrees"},
        {"<gpx><rte>\n<rtept lat=\"-91\" lon=\"2\"/></rte></gpx>",
         "bad.gpx:2: 'lat' -91 is beyond"},
        {"<gpx><rte>\n<rtept lat=\"1\" lon=\"361\"/></rte></gpx>",
         "bad.gpx:2: 'lon' 361 is beyond 360 degrees"},
        {"<gpx><trk><trkseg>\n<trkpt lat=\"1\"/></trkseg></trk></gpx>",
         "bad.gpx:2: point without 'lon'"},
        {"<gpx><rte>\n<rtept lon=\"1\"/></rte></gpx>",
         "bad.gpx:2: point without 'lat'"},
        {"<gpx><rte>\n<rtept lat=\"16,5\" lon=\"1\"/></rte></gpx>",
         "bad.gpx:2: 'lat' is no number but '16,5'"},
        {"<gpx><rte>\n<rtept lat=\"nan\" lon=\"1\"/></rte></gpx>",
         "bad.gpx:2: 'lat' is no number but 'nan'"},
        {"<gpx><rte><rtept lat=\"1\" lon=\"1\">\n<time>noon</time></rtept>"
         "</rte></gpx>",
         "bad.gpx:2: time 'noon' can't be read"},
        {"<gpx><rte><rtept lat=\"1\" lon=\"1\">"
         "<time>2024-02-30T00:00:00Z</time></rtept></rte></gpx>",
         "bad.gpx:1: time '2024-02-30T00:00:00Z' can't be read"},
        {"<gpx/>", "bad.gpx: no route and no track with a point in it; "},
        {"<gpx><wpt lat=\"1\" lon=\"1\"/></gpx>",
         "bad.gpx: no route and no track with a point in it, only loose"},
        {"<?xml version=\"1.0\" encoding=\"x-none\"?><gpx/>",
         "bad.gpx:1: not well-formed XML"},
        {"<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx><name>\xE9</name>",
         "bad.gpx:2: not well-formed XML"},
    };
    for (size_t i = 0; i < COUNT(cases); i++)
        refused(cases[i].text, cases[i].part);
}

static void a_missing_file_is_refused(void **state) {
    (void)state;
    struct gpx gpx;
    assert_false(gpx_load(&gpx, "no/such.gpx", &arena, &error));
    assert_string_equal(error.text,
                        "no/such.gpx: can't be opened: No such file or "
                        "directory");
    assert_false(gpx_load(&gpx, check_folder(), &arena, &error));
    assert_contains(error.text, "can't be read: Is a directory");
}

/* No entity of any kind is expanded (bug log 37). */
static void entities_are_refused_with_file_and_line(void **state) {
    (void)state;
    static const struct {
        const char *text, *part;
    } cases[] = {
        {"<gpx>\n<rte>\n<name>a&ntilde;o</name></rte></gpx>",
         "bad.gpx:3: not well-formed XML: Entity 'ntilde' not defined"},
        {"<!DOCTYPE gpx [\n<!ENTITY a \"b\">]>\n<gpx><name>&a;</name></gpx>",
         "bad.gpx:2: entity 'a' is declared"},
        {"<!DOCTYPE gpx [\n\n<!ENTITY a SYSTEM \"file:///etc/passwd\">]>\n"
         "<gpx><name>&a;</name></gpx>",
         "bad.gpx:3: entity 'a' is declared"},
        {"<!DOCTYPE gpx [\n<!ENTITY % a SYSTEM \"file:///etc/passwd\"> %a;]>\n"
         "<gpx/>",
         "bad.gpx:2: entity 'a' is declared"},
        {"<!DOCTYPE gpx SYSTEM \"no.dtd\">\n<gpx>\n<name>&a;</name></gpx>",
         "bad.gpx:3: entity 'a' is not known"},
        {"<!DOCTYPE gpx SYSTEM \"no.dtd\">\n<gpx><rte>\n"
         "<rtept lat=\"&a;\" lon=\"1\"/></rte></gpx>",
         "bad.gpx:3: entity 'a' is not known"},
    };
    for (size_t i = 0; i < COUNT(cases); i++)
        refused(cases[i].text, cases[i].part);
}

/* Each entity ten times the one before: 10^9 laughs if it were expanded. */
static void a_billion_laughs_stop_at_the_first(void **state) {
    (void)state;
    char text[2000] = "<!DOCTYPE gpx [\n<!ENTITY l0 \"ha\">\n";
    for (int i = 1; i <= 9; i++) {
        size_t length = strlen(text);
        snprintf(text + length, sizeof text - length,
                 "<!ENTITY l%d \"&l%d;&l%d;&l%d;&l%d;&l%d;&l%d;&l%d;&l%d;"
                 "&l%d;&l%d;\">\n",
                 i, i - 1, i - 1, i - 1, i - 1, i - 1, i - 1, i - 1, i - 1,
                 i - 1, i - 1);
    }
    strcat(text, "]>\n<gpx><rte><name>&l9;</name>"
                 "<rtept lat=\"1\" lon=\"1\"/></rte></gpx>");
    refused(text, "bad.gpx:2: entity 'l0' is declared");
    assert_true(arena.used_bytes < 1000000);
}

/* The file of the document type would give the root a creator. */
static void a_document_type_is_not_fetched(void **state) {
    (void)state;
    check_write("local.dtd", "<!ATTLIST gpx creator CDATA \"fetched\">");
    struct gpx gpx =
        read_text("<!DOCTYPE gpx SYSTEM \"local.dtd\">\n"
                  "<gpx><rte><rtept lat=\"1\" lon=\"1\"/></rte></gpx>");
    assert_null(gpx.creator);
}

static void a_file_above_the_limit_is_refused(void **state) {
    (void)state;
    struct gpx gpx;
    const char *path = check_write("large.gpx", "<gpx>");
    assert_int_equal(truncate(path, GPX_SIZE_LIMIT + 1), 0);
    assert_false(gpx_load(&gpx, path, &arena, &error));
    assert_contains(error.text, "large.gpx: larger than the limit of 32 MiB");
}

static void deep_nesting_does_no_harm(void **state) {
    (void)state;
    enum { DEPTH = 5000 };
    char *text = calloc(1, 6 + 3 * DEPTH);
    assert_non_null(text);
    strcpy(text, "<gpx>");
    for (int i = 0; i < DEPTH; i++)
        memcpy(text + 5 + 3 * i, "<a>", 3);
    refused(text, "bad.gpx:1: not well-formed XML");
    free(text);
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

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_file_with_everything_is_read),
        TEST(a_point_has_its_time_and_texts),
        TEST(the_segments_of_a_track_are_joined),
        TEST(every_namespace_and_version_is_read),
        TEST(utf_16_is_read),
        TEST(utf_16_cut_in_a_character_is_refused),
        TEST(latin_1_becomes_utf_8),
        TEST(gpx_1_0_keeps_its_metadata_in_the_root),
        TEST(times_are_utc_under_every_zone),
        TEST(an_empty_time_counts_as_absent),
        TEST(longitudes_come_into_their_range),
        TEST(references_and_cdata_are_plain_text),
        TEST(foreign_elements_are_passed_over),
        TEST(empty_routes_are_dropped),
        TEST(bad_files_are_refused_with_file_and_line),
        TEST(a_missing_file_is_refused),
        TEST(entities_are_refused_with_file_and_line),
        TEST(a_billion_laughs_stop_at_the_first),
        TEST(a_document_type_is_not_fetched),
        TEST(a_file_above_the_limit_is_refused),
        TEST(deep_nesting_does_no_harm),
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
