/* The spar's part of `sparwise boat`: lengths, loads, what is not known. */
#include "../support/analytic.h"
#include "../support/check.h"

#include "report/spar_report.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *text;

static int tear_down(void **state) {
    (void)state;
    free(text);
    text = NULL;
    return 0;
}

static void tell(const struct boat *boat) {
    size_t size = 0;
    free(text);
    FILE *memory = open_memstream(&text, &size);
    assert_non_null(memory);
    spar_report(boat, memory);
    fclose(memory);
}

static int warn(const struct boat *boat) {
    size_t size = 0;
    free(text);
    FILE *memory = open_memstream(&text, &size);
    assert_non_null(memory);
    int count = spar_report_warn(boat, memory);
    fclose(memory);
    return count;
}

/* 3.5 to 7.0 m, genoa with a foot of 5.4 m, jib with one of 4.3 m; a tube of
 * 100 x 2.5 mm. */
static struct boat *wanderer(void) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    struct headsail *sails = malloc(2 * sizeof *sails);
    assert_non_null(sails);
    memcpy(sails, boat->headsails, 2 * sizeof *sails);
    boat->headsails = sails;
    return boat;
}

static void forget(struct boat *boat) {
    free(boat->headsails);
}

/* (5.4 - 3.5) / (7.0 - 3.5) = 54 %, (4.3 - 3.5) / 3.5 = 23 % */
static void how_much_of_the_telescope_is_used_is_told(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    tell(boat);
    assert_contains(text, "5.4 m for the genoa, whose foot is 5.4 m; 1.9 of "
                          "3.5 m drawn out, 54 %\n");
    assert_contains(text, "0.8 of 3.5 m drawn out, 23 %\n");
    boat->spar.length_m[0] = boat->spar.length_m[1] = 5.4;
    tell(boat);
    assert_contains(text, "5.4 m for the genoa, whose foot is 5.4 m\n");
    forget(boat);
}

/* 5.4 m: a third of Euler's 21234 N (pi^2 68.9e9 9.1053e-7 / 5.4^2). */
static void the_table_tells_load_share_and_margin(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    tell(boat);
    assert_contains(text, "tube of 100 x 2.5 mm, aluminium, pinned");
    assert_contains(text, "genoa, spar at 5.4 m, safe to 7078 N\n");
    assert_contains(text, "jib, spar at 4.3 m, safe to ");
    assert_contains(text, "\n  poled reach      20.0");
    assert_contains(text, "fail sooner\nthan the tube");
    assert_contains(text, "a tip that dips");
    forget(boat);
}

static void a_maker_s_limit_is_named_as_such(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    boat->spar.max_compression_n = figure_of(9000.0);
    tell(boat);
    assert_contains(text, "Safe load: 9000 N, the maker's limit");
    assert_contains(text, "genoa, spar at 5.4 m, safe to 9000 N\n");
    forget(boat);
}

/* The load is told all the same, but no share. */
static void what_is_not_known_is_said(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    boat->spar.material = "carbon";
    tell(boat);
    assert_contains(text, "Safe load: not known; 'carbon' is not the same");
    assert_contains(text, "max_compression_N");
    assert_contains(text, "genoa, spar at 5.4 m\n");
    assert_contains(text, " .   28.0 ");
    assert_null(strstr(text, "safe to"));
    boat->spar.material = "";
    tell(boat);
    assert_contains(text, "not all are\ngiven");
    boat->spar.tube_diameter_mm = boat->spar.wall_mm = figure_unknown();
    tell(boat);
    assert_contains(text, "not known; give max_compression_N, or tube");
    assert_int_equal(warn(boat), 0);
    forget(boat);
}

static void a_sail_without_an_area_has_no_load(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    boat->headsails[1].area_m2 = figure_unknown();
    tell(boat);
    assert_contains(text, "jib, spar at 4.3 m: load not known; give area_m2\n");
    boat->spar.max_compression_n = figure_of(1.0);
    assert_int_equal(warn(boat), 2); /* those of the genoa */
    assert_null(strstr(text, "jib"));
    forget(boat);
}

static void without_headsails_there_is_no_table(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    boat->headsail_count = 0;
    tell(boat);
    assert_contains(text, "No headsail is listed");
    assert_contains(text, "Safe load: of a tube");
    assert_null(strstr(text, "wing-and-wing"));
    assert_int_equal(warn(boat), 0);
    forget(boat);
}

static void a_mode_without_an_angle_says_so(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    boat->spar.reach_awa_deg[0] = 60.0;
    boat->spar.reach_awa_deg[1] = 61.0;
    boat->spar.angle_margin_deg = 1.0;
    tell(boat);
    assert_contains(text, "poled reach   never: no angle of the polar");
    forget(boat);
}

/* A tube within its strength has no warning; a thin one has one for gusts, or
 * for the steady wind where that is too much already. */
static void too_weak_a_tube_is_warned_of(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    assert_int_equal(warn(boat), 0);
    boat->spar.tube_diameter_mm = figure_of(93.0);
    assert_int_equal(warn(boat), 1);
    assert_contains(text, "* genoa, line 44: in gusts of 25.0 kn the poled "
                          "reach loads");
    assert_contains(text, "poled_reach_max_gust_kn");
    boat->spar.tube_diameter_mm = figure_of(60.0);
    assert_int_equal(warn(boat), 4); /* each sail in each mode */
    assert_contains(text, "in a steady wind of 22.0 kn the wing-and-wing");
    assert_contains(text, "wing_max_wind_kn");
    assert_contains(text, "jib");
    forget(boat);
}

/* A load just above the safe one is over 100 % in print, too. */
static void what_is_over_shows_as_over(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    boat->headsail_count = 1;
    boat->spar.max_compression_n = figure_of(6015.0); /* of 6016 */
    assert_int_equal(warn(boat), 1);
    assert_contains(text, "101 %");
    forget(boat);
}

static void a_share_beyond_all_sense_keeps_its_column(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    boat->spar.max_compression_n = figure_of(1.0);
    tell(boat);
    assert_contains(text, " >999%   28.0 ");
    forget(boat);
}

static void feet_out_of_the_spar_s_range_are_warned_of(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    boat->headsails[0].foot_m = 7.5;
    boat->headsails[1].foot_m = 3.0;
    assert_int_equal(warn(boat), 2);
    assert_contains(text, "longer than the spar");
    assert_contains(text, "shorter than the spar");
    forget(boat);
}

static void long_names_keep_to_the_width(void **state) {
    (void)state;
    struct boat *boat = wanderer();
    boat->headsails[0].name = "the old and faded light genoa 1";
    boat->headsails[0].foot_m = 7.5;
    boat->spar.max_compression_n = figure_of(10.0);
    for (int part = 0; part < 2; part++) {
        if (part == 0)
            tell(boat);
        else
            assert_int_equal(warn(boat), 5);
        for (const char *line = text; *line;) {
            size_t length = strcspn(line, "\n");
            assert_true(length <= 80);
            line += length + 1;
        }
    }
    forget(boat);
}

#define TEST(f) cmocka_unit_test_teardown(f, tear_down)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(how_much_of_the_telescope_is_used_is_told),
        TEST(the_table_tells_load_share_and_margin),
        TEST(a_maker_s_limit_is_named_as_such),
        TEST(what_is_not_known_is_said),
        TEST(a_sail_without_an_area_has_no_load),
        TEST(without_headsails_there_is_no_table),
        TEST(a_mode_without_an_angle_says_so),
        TEST(too_weak_a_tube_is_warned_of),
        TEST(what_is_over_shows_as_over),
        TEST(a_share_beyond_all_sense_keeps_its_column),
        TEST(feet_out_of_the_spar_s_range_are_warned_of),
        TEST(long_names_keep_to_the_width),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
