#include "../support/check.h"
#include "../support/comma_locale.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "earth/geodesic.h"
#include "exchange/clean.h"
#include "exchange/geojson.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))

static bool load(struct zones *zones, const char *text, struct error *error) {
    return geojson_load_zones(zones, check_write("zones.geojson", text), &arena,
                              error);
}

static struct zones loaded(const char *text) {
    struct zones zones = {.count = 0};
    struct error error;
    if (!load(&zones, text, &error))
        fail_msg("%s", error.text);
    return zones;
}

static bool holds(const struct zone *zone, double lat_deg, double lon_deg) {
    struct position at = {lat_deg, lon_deg};
    return zone_meets(zone, at, at);
}

#define BOX "[[[-30,10],[-20,10],[-20,20],[-30,20],[-30,10]]]"
#define FEATURE(properties, geometry)                                          \
    "{\"type\":\"Feature\",\"properties\":" properties                         \
    ",\"geometry\":" geometry "}"
#define POLYGON(coordinates)                                                   \
    "{\"type\":\"Polygon\",\"coordinates\":" coordinates "}"
#define POINT(coordinates)                                                     \
    "{\"type\":\"Point\",\"coordinates\":" coordinates "}"
#define COLLECTION(features)                                                   \
    "{\"type\":\"FeatureCollection\",\"features\":[" features "]}"

static void a_collection_gives_its_zones_in_order(void **state) {
    (void)state;
    struct zones zones = loaded(COLLECTION(FEATURE(
        "{\"name\":\"Long Shoal\",\"chart\":7}",
        POLYGON(BOX)) "," FEATURE("null",
                                  POLYGON("[[[0,0],[5,0],[5,5],[0,0]]"
                                          "]")) "," FEATURE("{\"name\":"
                                                            "\"Rock\\n "
                                                            "2 "
                                                            "\","
                                                            "\"radius_"
                                                            "nmi\":2."
                                                            "5}",
                                                            POINT("[-40."
                                                                  "5,33,-"
                                                                  "12"
                                                                  "]"))));
    assert_int_equal(zones.count, 3);
    assert_string_equal(zones.items[0].name, "Long Shoal");
    assert_string_equal(zones.items[1].name, "zone 2");
    assert_string_equal(zones.items[2].name, "Rock  2");
    assert_false(zones.items[0].from_known || zones.items[0].until_known);
    assert_true(holds(&zones.items[0], 15, -25));
    assert_false(holds(&zones.items[0], 25, -15));
    assert_true(holds(&zones.items[1], 1, 4));
    assert_false(holds(&zones.items[1], 4, 1));
    struct position rock = {33, -40.5};
    struct position in = geodesic_ahead(rock, 70, nmi_to_m(2.5) - 2);
    struct position out = geodesic_ahead(rock, 70, nmi_to_m(2.5) + 2);
    assert_true(holds(&zones.items[2], in.lat_deg, in.lon_deg));
    assert_false(holds(&zones.items[2], out.lat_deg, out.lon_deg));
}

static void a_feature_or_a_bare_geometry_is_enough(void **state) {
    (void)state;
    struct zones one = loaded(FEATURE("{}", POLYGON(BOX)));
    assert_int_equal(one.count, 1);
    assert_string_equal(one.items[0].name, "zone 1");
    struct zones bare = loaded("\xEF\xBB\xBF" POLYGON(BOX));
    assert_int_equal(bare.count, 1);
    assert_true(holds(&bare.items[0], 15, -25));
}

static void files_add_up_and_go_on_counting(void **state) {
    (void)state;
    struct zones zones = loaded(FEATURE("{}", POLYGON(BOX)));
    struct error error;
    assert_true(load(&zones, FEATURE("{}", POLYGON(BOX)), &error));
    assert_int_equal(zones.count, 2);
    assert_string_equal(zones.items[1].name, "zone 2");
}

/* RFC 7946 sections 3.1.6 and 3.1.7: holes behind the outer ring. */
static void holes_belong_to_their_polygon(void **state) {
    (void)state;
    struct zones zones = loaded(
        "{\"type\":\"MultiPolygon\",\"coordinates\":["
        "[[[0,0],[10,0],[10,10],[0,10],[0,0]],[[2,2],[2,8],[8,8],[8,2],[2,2]]],"
        "[[[4,4],[6,4],[6,6],[4,6],[4,4]]]]}");
    const struct zone *zone = &zones.items[0];
    assert_int_equal(zone->ring_count, 3);
    assert_true(holds(zone, 1, 1));
    assert_false(holds(zone, 3, 3));
    assert_true(holds(zone, 5, 5)); /* an island of it in its own hole */
    assert_false(holds(zone, 11, 5));
}

/* The example of RFC 7946 section 3.1.9, cut at 180, and the same square as
 * one ring in the two ways that files have. */
static void the_three_ways_across_180(void **state) {
    (void)state;
    static const char *const texts[] = {
        "{\"type\":\"MultiPolygon\",\"coordinates\":["
        "[[[180,40],[180,50],[170,50],[170,40],[180,40]]],"
        "[[[-170,40],[-170,50],[-180,50],[-180,40],[-170,40]]]]}",
        POLYGON("[[[170,40],[-170,40],[-170,50],[170,50],[170,40]]]"),
        POLYGON("[[[170,40],[190,40],[190,50],[170,50],[170,40]]]"),
        POLYGON("[[[-190,40],[-170,40],[-170,50],[-190,50],[-190,40]]]"),
    };
    for (size_t i = 0; i < COUNT(texts); i++) {
        struct zones zones = loaded(texts[i]);
        assert_true(holds(&zones.items[0], 45, 175));
        assert_true(holds(&zones.items[0], 45, -175));
        assert_true(holds(&zones.items[0], 45, -180));
        assert_false(holds(&zones.items[0], 45, 165));
        assert_false(holds(&zones.items[0], 45, -165));
        assert_false(holds(&zones.items[0], 45, 0));
    }
}

/* 1772323200: date -u -d 2026-03-01T00:00Z +%s */
static void times_are_read_with_their_zone(void **state) {
    (void)state;
    struct zones zones = loaded(FEATURE("{\"from\":\"2026-03-01T01:00+01:00\","
                                        "\"until\":\"2026-03-02T00:00:00Z\"}",
                                        POLYGON(BOX)));
    const struct zone *zone = &zones.items[0];
    assert_true(zone->from_known && zone->until_known);
    assert_int_equal(zone->from.unix_s, 1772323200);
    assert_int_equal(zone->until.unix_s, 1772323200 + 86400);
    zones = loaded(FEATURE("{\"from\":null,\"until\":\"2026-03-02T00:00Z\"}",
                           POLYGON(BOX)));
    assert_false(zones.items[0].from_known);
    assert_true(zones.items[0].until_known);
}

static const struct {
    const char *text;
    const char *words[2]; /* both stand in the message */
} faults[] = {
    /* not JSON */
    {"{\"type\":\n\"Polygon\",", {"zones.geojson:2: not JSON", ""}},
    {"", {"not JSON", ""}},
    {"{\"type\":\"Point\",\"type\":\"Polygon\"}", {"duplicate", "not JSON"}},
    {POLYGON("[[[NaN,0],[1,0],[1,1],[NaN,0]]]"), {"not JSON", ""}},
    {POLYGON("[[[1e999,0],[1,0],[1,1],[1e999,0]]]"), {"not JSON", ""}},
    /* not GeoJSON */
    {"[]", {"no 'type'", "not GeoJSON"}},
    {"{\"objects\":{}}", {"no 'type'", "not GeoJSON"}},
    {"{\"type\":7}", {"no 'type'", ""}},
    {COLLECTION(""), {"no feature", ""}},
    {"{\"type\":\"FeatureCollection\"}", {"no feature", ""}},
    {COLLECTION(POLYGON(BOX)), {"feature 1: is no Feature", ""}},
    {"{\"type\":\"Polygon\",\"crs\":{\"type\":\"name\",\"properties\":"
     "{\"name\":\"EPSG:3857\"}},\"coordinates\":" BOX "}",
     {"'crs'", "WGS84"}},
    /* geometry */
    {COLLECTION(
         FEATURE("{}", POLYGON(BOX)) "," FEATURE("{\"name\":\"x\"}", "null")),
     {"feature 2 ('x'): has no geometry", ""}},
    {FEATURE("{}", "{\"type\":\"LineString\",\"coordinates\":[[0,0],[1,1]]}"),
     {"feature 1: 'LineString' is no area", ""}},
    {"{\"type\":\"GeometryCollection\",\"geometries\":[]}",
     {"'GeometryCollection' is no area", ""}},
    {POLYGON("[]"), {"polygon 1 has no ring", ""}},
    {POLYGON("null"), {"polygon 1 has no ring", ""}},
    {"{\"type\":\"MultiPolygon\",\"coordinates\":[]}", {"no polygon", ""}},
    {"{\"type\":\"MultiPolygon\",\"coordinates\":[" BOX ",[]]}",
     {"polygon 2 has no ring", ""}},
    /* rings */
    {POLYGON("[[[0,0],[1,0],[0,0]]]"),
     {"polygon 1, ring 1 has fewer than 4 positions", ""}},
    {POLYGON("[7]"), {"ring 1 has fewer than 4 positions", ""}},
    {POLYGON("[[[0,0],[1,0],[1,1],[0,1]]]"), {"ring 1 is not closed", ""}},
    {POLYGON("[[[0,0],[0,0],[1,1],[0,0]]]"), {"different corners", ""}},
    {POLYGON("[[[0,0],[9,9],[9,0],[0,9],[0,0]]]"),
     {"crosses or touches itself near", ""}},
    {POLYGON("[[[-30,10],[-20,10],[-20,20],[-30,20],[-30,10]],"
             "[[0,0],[9,9],[9,0],[0,9],[0,0]]]"),
     {"polygon 1, ring 2 crosses", ""}},
    {POLYGON("[[[0,60],[90,60],[180,60],[-90,60],[0,60]]]"),
     {"goes round a pole", ""}},
    /* positions */
    {POLYGON("[[[0,0],[1,0],[1,91],[0,0]]]"), {"latitude 91", "90"}},
    {POLYGON("[[[0,0],[361,0],[1,1],[0,0]]]"), {"longitude 361", "360"}},
    {POLYGON("[[[0,0],[\"1\",0],[1,1],[0,0]]]"), {"not two numbers", ""}},
    {POLYGON("[[[0,0],[1],[1,1],[0,0]]]"), {"not two numbers", ""}},
    {POLYGON("[[[0,0],7,[1,1],[0,0]]]"), {"not two numbers", ""}},
    {POLYGON("[[[0,0],[null,1],[1,1],[0,0]]]"), {"not two numbers", ""}},
    /* circles */
    {POINT("[0,0]"), {"radius_nmi", "a Point needs"}},
    {FEATURE("{\"radius_nmi\":\"2\"}", POINT("[0,0]")), {"a Point needs", ""}},
    {FEATURE("{\"radius_nmi\":0}", POINT("[0,0]")), {"radius_nmi is 0", "600"}},
    {FEATURE("{\"radius_nmi\":-1}", POINT("[0,0]")), {"radius_nmi is -1", ""}},
    {FEATURE("{\"radius_nmi\":601}", POINT("[0,0]")), {"601", "at most 600"}},
    {FEATURE("{\"radius_nmi\":2}", POINT("[0,89.99]")), {"holds a pole", ""}},
    {FEATURE("{\"radius_nmi\":2}", POINT("null")), {"not two numbers", ""}},
    /* properties */
    {FEATURE("{\"name\":7}", POLYGON(BOX)), {"'name' is no text", ""}},
    {FEATURE("{\"from\":\"soon\"}", POLYGON(BOX)), {"'from' is no time", ""}},
    {FEATURE("{\"until\":1772323200}", POLYGON(BOX)),
     {"'until' is no time", ""}},
    {FEATURE("{\"from\":\"2026-03-01T00:00\"}", POLYGON(BOX)),
     {"'from' has no time zone", "add Z"}},
    {FEATURE("{\"from\":\"2026-03-02T00:00Z\",\"until\":\"2026-03-01T00:00Z\"}",
             POLYGON(BOX)),
     {"'until' is not after 'from'", ""}},
};

static void faults_are_told_with_their_place(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(faults); i++) {
        struct zones zones = {.count = 0};
        struct error error;
        if (load(&zones, faults[i].text, &error))
            fail_msg("taken: %s", faults[i].text);
        assert_int_equal(error.status, STATUS_INPUT);
        assert_contains(error.text, "zones.geojson");
        assert_contains(error.text, faults[i].words[0]);
        assert_contains(error.text, faults[i].words[1]);
    }
}

static void a_missing_file_is_told(void **state) {
    (void)state;
    struct zones zones = {.count = 0};
    struct error error;
    assert_false(geojson_load_zones(&zones, "no/such.geojson", &arena, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "no/such.geojson");
}

/* A text of `count` times `item` with commas, in brackets of the caller's. */
static char *repeated(const char *before, const char *item, size_t count,
                      const char *after) {
    size_t step = strlen(item);
    char *text =
        malloc(strlen(before) + count * (step + 1) + strlen(after) + 1);
    assert_non_null(text);
    char *at = text + sprintf(text, "%s", before);
    for (size_t i = 0; i < count; i++)
        at += sprintf(at, "%s%s", i ? "," : "", item);
    strcpy(at, after);
    return text;
}

/* `count` times `item` between `head` and `tail`: taken, or the fault. */
static const char *fault_of(const char *head, const char *item, size_t count,
                            const char *tail) {
    static struct error error;
    struct zones zones = {.count = 0};
    char *text = repeated(head, item, count, tail);
    error.text[0] = '\0';
    bool good = load(&zones, text, &error);
    assert_int_equal(good, error.text[0] == '\0');
    free(text);
    return error.text;
}

#define FEATURES "{\"type\":\"FeatureCollection\",\"features\":["

/* Each just below and just above. The corners of one place make no ring, the
 * noughts of a list no zone: what is refused is not their number. */
static void limits_hold(void **state) {
    (void)state;
    static const char zone[] =
        FEATURE("{}", POLYGON("[[[0,0],[1,0],[1,1],[0,0]]]"));
    static const char large[] =
        FEATURE("{}", POLYGON("[[[0,-89],[170,89],[170,-89],[0,-89]]]"));
    static const char corners[] = "{\"type\":\"Polygon\",\"coordinates\":[[";
    assert_string_equal(fault_of(FEATURES, zone, GEOJSON_ZONE_LIMIT, "]}"), "");
    assert_contains(fault_of(FEATURES, zone, GEOJSON_ZONE_LIMIT + 1, "]}"),
                    "more than 5000 zones");
    assert_null(strstr(fault_of(corners, "[0,0]", GEOJSON_CORNER_LIMIT, "]]}"),
                       "positions in the file"));
    assert_contains(fault_of(corners, "[0,0]", GEOJSON_CORNER_LIMIT + 1, "]]}"),
                    "more than 200000 positions");
    /* "0," each, the last without its comma, and two brackets */
    assert_null(strstr(fault_of("[", "0", (GEOJSON_SIZE_LIMIT - 1) / 2, "]"),
                       "larger than"));
    assert_contains(fault_of("[", "0", GEOJSON_SIZE_LIMIT / 2, "]"),
                    "larger than");
    assert_contains(fault_of(FEATURES, large, 1000, "]}"),
                    "more than 1000000 pieces");
}

static void a_long_name_is_cut(void **state) {
    (void)state;
    char longest[CLEAN_NAME_BYTES + 2];
    memset(longest, 'n', CLEAN_NAME_BYTES + 1);
    longest[CLEAN_NAME_BYTES + 1] = '\0';
    char text[600];
    for (int more = 0; more < 2; more++) {
        snprintf(
            text, sizeof text,
            FEATURE("{\"radius_nmi\":2,\"name\":\"%s\"}", POINT("[-40,33]")),
            longest + 1 - more);
        struct zones zones = loaded(text);
        const char *name = zones.items[0].name;
        assert_int_equal(strlen(name), CLEAN_NAME_BYTES);
        assert_int_equal(strcmp(name + CLEAN_NAME_BYTES - 3, "...") == 0, more);
    }
}

/* Deep nesting ends in an error, not in a crash. */
static void nesting_without_end_is_no_json(void **state) {
    (void)state;
    enum { DEPTH = 100000 };
    char *text = malloc(DEPTH + 1);
    assert_non_null(text);
    memset(text, '[', DEPTH);
    text[DEPTH] = '\0';
    struct zones zones = {.count = 0};
    struct error error;
    assert_false(load(&zones, text, &error));
    assert_contains(error.text, "not JSON");
    free(text);
}

static void a_comma_locale_changes_nothing(void **state) {
    (void)state;
    if (!comma_locale_begin())
        skip();
    struct zones zones =
        loaded(FEATURE("{\"radius_nmi\":2.5}", POINT("[-40.5,33.25]")));
    comma_locale_end();
    assert_near(zones.items[0].middle_deg, -40.5, 1e-9);
    assert_near((zones.items[0].north_deg + zones.items[0].south_deg) / 2,
                33.25, 1e-3);
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_collection_gives_its_zones_in_order),
        TEST(a_feature_or_a_bare_geometry_is_enough),
        TEST(files_add_up_and_go_on_counting),
        TEST(holes_belong_to_their_polygon),
        TEST(the_three_ways_across_180),
        TEST(times_are_read_with_their_zone),
        TEST(faults_are_told_with_their_place),
        TEST(a_missing_file_is_told),
        TEST(limits_hold),
        TEST(a_long_name_is_cut),
        TEST(nesting_without_end_is_no_json),
        TEST(a_comma_locale_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
