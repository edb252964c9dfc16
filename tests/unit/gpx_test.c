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
                        "'no/such.gpx' can't be read: No such file or "
                        "directory");
    assert_false(gpx_load(&gpx, check_folder(), &arena, &error));
    assert_contains(error.text, "is a folder; name a file in it");
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
    assert_int_equal(truncate(path, GPX_SIZE_LIMIT), 0);
    assert_false(gpx_load(&gpx, path, &arena, &error)); /* noughts are no XML */
    assert_null(strstr(error.text, "larger than"));
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

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

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
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
