#include "../support/chart_example.h"
#include "../support/check.h"

#include "base/units.h"
#include "earth/angle.h"
#include "report/page.h"
#include "report/page_assets.h"
#include "report/page_chart.h"
#include "report/page_symbols.h"
#include "report/sheet.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static struct plan_example example;
static struct chart_example chart;
static struct error error;
static char *text;

static FILE *begin(size_t *size) {
    free(text);
    text = NULL;
    FILE *stream = open_memstream(&text, size);
    assert_non_null(stream);
    return stream;
}

static const char *page(void) {
    size_t size;
    FILE *stream = begin(&size);
    assert_true(page_write(&example.plan, stream, &error));
    fclose(stream);
    return text;
}

static const char *body(void) {
    size_t size;
    FILE *stream = begin(&size);
    page_body_write(&example.plan, stream);
    fclose(stream);
    return text;
}

static int make(void **state) {
    (void)state;
    plan_example_make(&example);
    chart_example_make(&chart, &example);
    return 0;
}

static int drop(void **state) {
    (void)state;
    free(text);
    text = NULL;
    return 0;
}

static void assert_lacks(const char *whole, const char *part) {
    if (strstr(whole, part))
        fail_msg("'%s' stands there", part);
}

static size_t count_of(const char *whole, const char *part) {
    size_t count = 0;
    for (const char *at = strstr(whole, part); at; at = strstr(at + 1, part))
        count++;
    return count;
}

static void it_forbids_itself_all_connections(void **state) {
    (void)state;
    char line[512];
    snprintf(line, sizeof line,
             "content=\"default-src 'none'; base-uri 'none'; form-action "
             "'none'; style-src 'sha256-%s'; script-src 'sha256-%s' "
             "'sha256-%s'\">",
             page_style.sha256, page_library.sha256, page_script.sha256);
    assert_contains(page(), line);
    assert_int_equal(strncmp(text, "<!DOCTYPE html>\n", 16), 0);
    assert_int_equal(count_of(body(), "<script"), 1); /* of data */
    assert_lacks(text, "http");
    assert_lacks(text, " style=");
    assert_lacks(text, " onclick=");
}

static void no_asset_ends_its_own_element(void **state) {
    (void)state;
    const struct page_asset assets[] = {page_style, page_library, page_script};
    for (int i = 0; i < 3; i++) {
        char *copy = strndup(assets[i].bytes, assets[i].size);
        assert_int_equal(strlen(copy), assets[i].size);
        assert_lacks(copy, "</style");
        assert_lacks(copy, "</script");
        assert_lacks(copy, "<!--");
        assert_lacks(copy, "\r");
        free(copy);
    }
}

static void names_are_text(void **state) {
    (void)state;
    example.plan.name = "\"><img src=x onerror=alert(1)> `${7*7}` & \xFF";
    example.plan.boat_name = "</title><script>alert(2)</script>";
    example.port.name = "'><svg onload=alert(3)>";
    example.changes[0].headsail = "<b>genoa</b>";
    example.warnings[0] = "<i>warned</i>";
    example.zones[0].name = "<u>shoal</u>";
    page();
    assert_lacks(text, "<img");
    assert_lacks(text, "<script>alert");
    assert_lacks(text, "<svg onload");
    assert_lacks(text, "<b>genoa");
    assert_lacks(text, "<i>");
    assert_lacks(text, "<u>");
    assert_contains(text, "&quot;&gt;&lt;img src=x onerror=alert(1)&gt; "
                          "&#96;${7*7}&#96; &amp; \xEF\xBF\xBD: plan of");
    assert_contains(text, "Range &lt;script&gt;alert(1)&lt;/script&gt; "
                          "&quot;7&#39;");
    assert_contains(text, "tuesday&lt;1&gt;.grib2");
}

static void every_work_on_deck_has_its_place(void **state) {
    (void)state;
    static const char *const names[] = {"SET1", "GYBE2", "STOW3"};
    body();
    assert_int_equal(count_of(text, "<li class=\"work\""), 3);
    for (int i = 0; i < 3; i++) {
        char part[64];
        snprintf(part, sizeof part, "id=\"work-%s\"", names[i]);
        assert_int_equal(count_of(text, part), 1);
        snprintf(part, sizeof part, "id=\"mark-%s\"", names[i]);
        assert_int_equal(count_of(text, part), 1);
        snprintf(part, sizeof part, "\"name\":\"%s\"", names[i]);
        assert_int_equal(count_of(text, part), 1);
    }
    /* the set alone has a margin on the track, the stow one, too */
    assert_int_equal(count_of(text, "class=\"margin\""), 2);
    assert_contains(text, "OUTSIDE THE WORK LIMITS");
}

static void unknown_figures_are_no_numbers(void **state) {
    (void)state;
    body();
    assert_lacks(text, ",nan");
    assert_lacks(text, " nan");
    assert_lacks(text, ">nan");
    assert_lacks(text, "inf ");
    assert_contains(text, "\"gust\":[21.400,21.400,null,");
    assert_contains(text, "\"barb\":[20,null]");
    assert_contains(text, "visibility=\"hidden\"");
    assert_contains(text, "closed until Fri 15 Mar 2024 10:53 UTC");
}

static void a_plan_without_a_chart_has_its_tables(void **state) {
    (void)state;
    plan_example_make(&example);
    page();
    assert_lacks(text, "id=\"chart\"");
    assert_lacks(text, "id=\"strips\"");
    assert_lacks(text, "<script");
    assert_contains(text, "<h2>Legs</h2>");
    assert_contains(text, "Next on deck");
}

static void what_is_not_reached_or_checked_is_said(void **state) {
    (void)state;
    example.plan.summary.reached = false;
    example.plan.chart.has_coast = false;
    example.plan.coast.name = NULL;
    body();
    assert_contains(text, "NOT REACHED: the forecast ends on the way");
    assert_contains(text, "No land is drawn, and none was checked.");
    assert_contains(text, "LAND IS NOT CHECKED");
}

static void where_no_shoreline_is_known_is_marked(void **state) {
    (void)state;
    assert_contains(body(), "class=\"unknown\"");
    example.plan.chart.covered = example.plan.chart.box;
    assert_lacks(body(), "class=\"unknown\"");
}

static void nobody_goes_forward(void **state) {
    (void)state;
    example.plan.change_count = 0;
    body();
    assert_contains(text, "<h3>Nothing: nobody goes forward</h3>");
    assert_contains(text, "<p>None: nobody goes forward.</p>");
    assert_lacks(text, "<li class=\"work\"");
    assert_contains(text, "the boat stays as she is rigged");
}

static void sheets_are_lines_again_afterwards(void **state) {
    (void)state;
    size_t size;
    page();
    FILE *stream = begin(&size);
    sheet_entry(stream, "Label", "a < b");
    fclose(stream);
    assert_string_equal(text, "  Label       a < b\n");
}

/* To the nearest 5 kn, calm below 2.5. */
static void barbs_are_numbered_by_fives(void **state) {
    (void)state;
    static const struct {
        double kn;
        int barb;
    } cases[] = {{0.0, 0},   {2.4, 0},   {2.6, 5},     {17.4, 15},
                 {17.6, 20}, {52.0, 50}, {119.0, 120}, {300.0, 120}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_int_equal(page_barb(kn_to_mps(cases[i].kn)), cases[i].barb);
    assert_int_equal(page_barb_side((struct position){0.1, 0.0}), 'n');
    assert_int_equal(page_barb_side((struct position){-0.1, 0.0}), 's');
}

/* 65 kn: a pennant, one barb, half a barb; on the other side in the south. The
 * rule of the World Meteorological Organization, from memory. */
static void barbs_have_pennants_barbs_and_halves(void **state) {
    (void)state;
    size_t size;
    FILE *stream = begin(&size);
    page_symbols_write(stream);
    fclose(stream);
    assert_contains(text, "<g id=\"n65\" class=\"barb\"><path d=\"M0 0V-30"
                          "M0 -30L12 -31L0 -23z"
                          "M0 -22L12 -27M0 -17L6 -19.5\"/>");
    assert_contains(text, "<g id=\"s65\" class=\"barb\"><path d=\"M0 0V-30"
                          "M0 -30L-12 -31L0 -23z"
                          "M0 -22L-12 -27M0 -17L-6 -19.5\"/>");
    assert_contains(text, "<g id=\"n5\" class=\"barb\"><path d=\"M0 0V-30"
                          "M0 -25L6 -27.5\"/>");
    assert_contains(text, "<g id=\"n0\" class=\"barb\"><circle r=\"6\"/>");
}

/* --- night ----------------------------------------------------------------*/

enum { CORNERS = 64 };

struct outline_drawn {
    double x[CORNERS], y[CORNERS];
    int count;
};

static struct outline_drawn night_at(struct instant at) {
    size_t size;
    struct outline_drawn night = {.count = 0};
    FILE *stream = begin(&size);
    page_chart_night(&example.plan, at, stream);
    fclose(stream);
    const char *place = text;
    while (*place == 'M' || *place == 'L') {
        char *next;
        assert_in_range(night.count, 0, CORNERS - 1);
        night.x[night.count] = strtod(place + 1, &next);
        night.y[night.count++] = strtod(next, &next);
        place = next;
    }
    return night;
}

static bool is_in_night(const struct outline_drawn *night, double x, double y) {
    bool in = false;
    for (int i = 0; i < night->count; i++) {
        int k = (i + 1) % night->count;
        if ((night->y[i] > y) == (night->y[k] > y))
            continue;
        double part = (y - night->y[i]) / (night->y[k] - night->y[i]);
        in ^= x < night->x[i] + part * (night->x[k] - night->x[i]);
    }
    return in;
}

/* Nearer than this to its edge the outline's straight pieces may be wrong. */
static const double EDGE_DEG = 0.5;

/* Places of the chart, high latitudes too, all through a year. */
static void the_night_is_where_the_sun_is_down(void **state) {
    (void)state;
    struct seed seed = {5};
    int dark = 0, light = 0;
    for (int i = 0; i < 3000; i++) {
        double west_deg = seed_between(&seed, -180.0, 179.0);
        struct chart_box *box = &example.plan.chart.box;
        box->low = mercator_of(
            (struct position){seed_between(&seed, -80.0, 60.0), west_deg});
        box->high.x = box->low.x + 0.5;
        box->high.y = box->low.y + 0.5 / 1.5;
        double part_x = seed_between(&seed, 0.01, 0.99);
        double part_y = seed_between(&seed, 0.01, 0.99);
        struct instant at = {1710478800 + i * 10007};
        struct outline_drawn night = night_at(at);
        struct position place = mercator_position((struct mercator){
            box->low.x + part_x * 0.5, box->high.y - part_y * 0.5 / 1.5});
        double sun_deg = sun_altitude_deg(sun_at((double)at.unix_s), place);
        if (fabs(sun_deg - SUN_CIVIL_DEG) < EDGE_DEG)
            continue;
        bool expected = sun_deg < SUN_CIVIL_DEG;
        assert_int_equal(is_in_night(&night, 1200.0 * part_x, 800.0 * part_y),
                         expected);
        dark += expected;
        light += !expected;
    }
    assert_true(dark > 500 && light > 500);
}

/* The variation of compass_test.c: 8.56 degrees west where she starts. */
static void magnetic_headings_are_read_out_beside_the_true_ones(void **state) {
    (void)state;
    assert_contains(body(), "id=\"at-steer\">231\u00b0 true</td>");
    assert_lacks(text, "magnetic");
    assert_lacks(text, "\"mag\"");
    example.plan.display.magnetic =
        true; /* in 2024, before the model's years */
    assert_contains(body(), "231\u00b0 true, magnetic not known</td>");
    assert_contains(text, "\"mag\":[null,null,");
    plan_example_make(&example);
    plan_example_later(&example, 730);
    chart_example_make(&chart, &example);
    example.plan.display.magnetic = true;
    assert_contains(body(), "231\u00b0 true, 240\u00b0 magnetic</td>");
    assert_contains(text, "\"mag\":[240,");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, make, drop)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(it_forbids_itself_all_connections),
        TEST(no_asset_ends_its_own_element),
        TEST(names_are_text),
        TEST(every_work_on_deck_has_its_place),
        TEST(unknown_figures_are_no_numbers),
        TEST(a_plan_without_a_chart_has_its_tables),
        TEST(what_is_not_reached_or_checked_is_said),
        TEST(where_no_shoreline_is_known_is_marked),
        TEST(nobody_goes_forward),
        TEST(sheets_are_lines_again_afterwards),
        TEST(barbs_are_numbered_by_fives),
        TEST(barbs_have_pennants_barbs_and_halves),
        TEST(magnetic_headings_are_read_out_beside_the_true_ones),
        TEST(the_night_is_where_the_sun_is_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
