/* Boat files: every key, what is refused, and the two boats that come along. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/text.h"
#include "base/units.h"
#include "boat/boat.h"
#include "boat/boat_keys.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int set_up(void **state) {
    scratch_begin(state);
    check_write("stowed.csv", "TWA,6,20\n40,4,6\n180,3,6\n");
    check_write("spar.csv", "TWA,6,20\n90,4,6\n180,5,7\n");
    return 0;
}

#define HULL                                                                   \
    "[boat]\nname = Tern\nlength_waterline_m = 9\nbeam_m = 3.3\n"              \
    "draft_m = 1.6\ndisplacement_kg = 5000\n"
#define POLARS "[polars]\nstowed = stowed.csv\nspar = spar.csv\n"
#define SPAR "[spar]\nlength_m = 3 6\n"
#define LEAST HULL POLARS SPAR

static struct boat read_good(const char *text) {
    struct boat boat;
    struct error error = {.text = ""};
    if (!boat_load(&boat, check_write("boat.ini", text), &arena, &error))
        print_error("%s\n", error.text);
    assert_string_equal(error.text, "");
    return boat;
}

static void refuses(const char *text, const char *place, const char *why) {
    struct boat boat;
    struct error error = {.text = ""};
    bool good = boat_load(&boat, check_write("boat.ini", text), &arena, &error);
    if (good)
        print_error("was read:\n%s\n", text);
    assert_false(good);
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, place);
    assert_contains(error.text, why);
}

/* --- what is read
 * -------------------------------------------------------------- */

static void the_least_boat_file_takes_every_default(void **state) {
    (void)state;
    struct boat boat = read_good(LEAST);
    assert_string_equal(boat.name, "Tern");
    assert_near(boat.spar.length_m[0], 3.0, 0.0);
    assert_near(boat.spar.length_m[1], 6.0, 0.0);
    assert_near(boat.spar.wing_awa_deg[0], 140.0, 0.0);
    assert_near(boat.spar.wing_awa_deg[1], 180.0, 0.0);
    assert_near(boat.spar.reach_awa_deg[0], 100.0, 0.0);
    assert_near(boat.spar.reach_awa_deg[1], 145.0, 0.0);
    const struct {
        double actual, expected;
    } rows[] = {
        {boat.factor, 1},
        {boat.night_factor, 1},
        {boat.roller.damping, 0.08},
        {boat.roller.sail_reach, ROLL_SAIL_REACH},
        {boat.roller.sail_run_loose, ROLL_SAIL_RUN_LOOSE},
        {boat.roller.sail_run_spar, ROLL_SAIL_RUN_SPAR},
        {boat.spar.angle_margin_deg, 5},
        {mps_to_kn(boat.spar.wing_max_wind_mps), 22},
        {mps_to_kn(boat.spar.wing_max_gust_mps), 28},
        {mps_to_kn(boat.spar.reach_max_wind_mps), 20},
        {mps_to_kn(boat.spar.reach_max_gust_mps), 25},
        {boat.spar.set_s, 20 * 60},
        {boat.spar.gybe_s, 30 * 60},
        {boat.spar.stow_s, 15 * 60},
        {boat.spar.roll_s, 3 * 60},
        {boat.spar.work_speed_frac, 0.7},
        {boat.spar.rolled_speed_frac, 0.7},
        {boat.spar.night_factor, 1.5},
        {m_to_nmi(boat.spar.landfall_m), 5},
        {mps_to_kn(boat.work.max_wind_mps), 18},
        {mps_to_kn(boat.work.max_gust_mps), 22},
        {boat.work.max_wave_m, 2.5},
        {boat.work.max_roll_deg, 4},
        {mps_to_kn(boat.work.stow_max_wind_mps), 22},
        {mps_to_kn(boat.work.stow_max_gust_mps), 28},
        {boat.work.day_hardship_s, 30 * 60},
        {boat.work.night_hardship_s, 120 * 60},
        {boat.handling.mainsail_gybe_s, 8 * 60},
        {boat.handling.tack_s, 5 * 60},
        {boat.comfort.easy_roll_deg, 2.5},
        {boat.comfort.working_roll_deg, 6},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_near(rows[i].actual, rows[i].expected, 1e-9);
    assert_false(boat.handling.single_preventer);
    assert_false(boat.motor.fitted);
    assert_false(boat.spar.max_compression_n.known);
    assert_null(boat.spar.material);
    assert_int_equal(boat.headsail_count, 0);
    assert_int_equal(boat.reef_count, 0);
    assert_int_equal(boat_reefs(&boat, 50.0), 0);
}

static void given_values_land_in_their_places(void **state) {
    (void)state;
    struct boat boat = read_good(
        HULL "roll_damping = 0.1\n" POLARS "factor = 0.95\n" SPAR
             "wing_awa_deg = 150 175\nset_minutes = 12\nlandfall_nmi = 8\n"
             "max_compression_N = 9000\ntube_diameter_mm = 80\nwall_mm = 2.5\n"
             "material = carbon\n"
             "[work]\nmax_wind_kn = 15\nstow_max_wind_kn = 20\n"
             "[handling]\npreventer = single\ntack_minutes = 4\n"
             "[comfort]\nworking_roll_deg = 7\n");
    assert_near(boat.roller.damping, 0.1, 0.0);
    assert_near(boat.factor, 0.95, 0.0);
    assert_near(boat.spar.wing_awa_deg[0], 150.0, 0.0);
    assert_near(boat.spar.wing_awa_deg[1], 175.0, 0.0);
    assert_near(boat.spar.set_s, 720.0, 1e-9);
    assert_near(boat.spar.landfall_m, 8.0 * 1852.0, 1e-9);
    assert_near(boat.spar.max_compression_n.value, 9000.0, 0.0);
    assert_near(boat.spar.tube_diameter_mm.value, 80.0, 0.0);
    assert_near(boat.spar.wall_mm.value, 2.5, 0.0);
    assert_string_equal(boat.spar.material, "carbon");
    assert_near(mps_to_kn(boat.work.max_wind_mps), 15.0, 1e-9);
    assert_true(boat.handling.single_preventer);
    assert_near(boat.comfort.working_roll_deg, 7.0, 0.0);
}

/* A user limit of 25 kn is 12.86 m/s inside, once. */
static void knots_become_metres_per_second_once(void **state) {
    (void)state;
    struct boat boat = read_good(LEAST "wing_max_wind_kn = 25\n");
    assert_near(boat.spar.wing_max_wind_mps, 12.8611, 5e-5);
}

static void headsails_and_reefs_have_their_names_in_the_head(void **state) {
    (void)state;
    struct boat boat =
        read_good(LEAST "[headsail big genoa]\nfoot_m = 5.5\narea_m2 = 50\n"
                        "[reef 2]\nabove_kn = 24\n"
                        "[headsail jib]\nfoot_m = 4\nmax_wind_kn = 30\n"
                        "[reef 1]\nabove_kn = 18\n");
    assert_int_equal(boat.headsail_count, 2);
    assert_string_equal(boat.headsails[0].name, "big genoa");
    assert_near(boat.headsails[0].foot_m, 5.5, 0.0);
    assert_near(boat.headsails[0].area_m2.value, 50.0, 0.0);
    assert_false(boat.headsails[0].max_wind_mps.known);
    assert_string_equal(boat.headsails[1].name, "jib");
    assert_near(mps_to_kn(boat.headsails[1].max_wind_mps.value), 30.0, 1e-9);
    assert_int_equal(boat.reef_count, 2);
    assert_int_equal(boat.reefs[0].number, 1);
    assert_int_equal(boat_reefs(&boat, kn_to_mps(17.9)), 0);
    assert_int_equal(boat_reefs(&boat, kn_to_mps(18.1)), 1);
    assert_int_equal(boat_reefs(&boat, kn_to_mps(30.0)), 2);
}

static void an_engine_keeps_a_fifth_of_its_fuel(void **state) {
    (void)state;
    static const char *const engine =
        LEAST "[motor]\nspeed_kn = 6\nbelow_kn = 3\nlitres_per_hour = 3\n"
              "fuel_litres = 200\n";
    struct boat boat = read_good(engine);
    assert_true(boat.motor.fitted);
    assert_near(mps_to_kn(boat.motor.speed_mps.value), 6.0, 1e-9);
    assert_near(boat.motor.reserve_litres.value, 40.0, 1e-9);
    boat = read_good(LEAST "[motor]\nspeed_kn = 6\nbelow_kn = 3\n"
                           "litres_per_hour = 3\nfuel_litres = 200\n"
                           "reserve_litres = 10\n");
    assert_near(boat.motor.reserve_litres.value, 10.0, 0.0);
}

static void the_roll_period_is_measured_or_estimated(void **state) {
    (void)state;
    struct boat measured =
        read_good(HULL "roll_period_s = 4.1\n"
                       "metacentric_height_m = 1\n" POLARS SPAR);
    assert_near(measured.roller.period_s, 4.1, 0.0);
    assert_false(measured.roller.period_estimated);
    struct boat by_gm =
        read_good(HULL "metacentric_height_m = 1.1\n" POLARS SPAR);
    assert_near(by_gm.roller.period_s,
                roll_period_from_gm_s(3.3, 1.6, 9.0, 1.1), 0.0);
    assert_true(by_gm.roller.period_estimated);
    struct boat by_beam = read_good(LEAST);
    assert_near(by_beam.roller.period_s, roll_period_from_beam_s(3.3), 0.0);
    assert_true(by_beam.roller.period_estimated);
    assert_near(by_beam.roller.beam_m, 3.3, 0.0);
    assert_near(by_beam.roller.draft_m, 1.6, 0.0);
    assert_near(by_beam.roller.length_m, 9.0, 0.0);
}

static void byte_order_mark_and_carriage_returns_do_no_harm(void **state) {
    (void)state;
    struct boat boat = read_good(
        "\xef\xbb\xbf[boat]\r\nname = reefed; heavy crew #2\r\n"
        "length_waterline_m = 9\r\nbeam_m = 3.3\r\ndraft_m = 1.6\r\n"
        "displacement_kg = 5000\r\n[polars]\r\nstowed = stowed.csv\r\n"
        "spar = spar.csv\r\n[spar]\r\nlength_m = 3 6");
    assert_string_equal(boat.name, "reefed; heavy crew #2");
}

/* --- what is refused
 * ------------------------------------------------------------ */

static void wrong_keys_are_refused_with_their_line(void **state) {
    (void)state;
    refuses(LEAST "wing_max_wnd_kn = 20\n", "boat.ini:12",
            "'wing_max_wind_kn'");
    refuses(LEAST "set_minutes = 20\nset_minutes = 25\n", "boat.ini:13",
            "twice");
    refuses(LEAST "[sparr]\nset_minutes = 3\n", "boat.ini:13", "[spar]");
    refuses(LEAST "set_minutes = soon\n", "boat.ini:12", "not a number");
    refuses(LEAST "wing_awa_deg = 140 190\n", "boat.ini:12", "60 to 180 deg");
    refuses(LEAST "wing_awa_deg = 180 140\n", "boat.ini:12", "wing_awa_deg");
    refuses(LEAST "[handling]\npreventer = two\n", "boat.ini:13", "single");
    refuses(LEAST "[work]\nmax_roll_deg = 90\n", "boat.ini:13",
            "0.1 to 45 deg");
}

/* Ten rolls of 5 s. */
static void
the_time_of_ten_rolls_is_refused_with_what_is_asked_for(void **state) {
    (void)state;
    refuses(HULL "roll_period_s = 50\n" POLARS SPAR, "boat.ini:7",
            "'50' for 'roll_period_s' in [boat] is out of range; give 1 to 12 "
            "s: natural roll period, measured at rest: the time of one roll, "
            "from one side to the other and back, not of ten");
}

static void missing_keys_are_named(void **state) {
    (void)state;
    refuses(POLARS SPAR, "boat.ini", "'name'");
    refuses(HULL POLARS, "boat.ini", "'length_m'");
    refuses(HULL SPAR, "boat.ini", "'stowed'");
    refuses(LEAST "[headsail jib]\narea_m2 = 30\n",
            "boat.ini:13: headsail 'jib'", "'foot_m'");
    refuses("", "boat.ini", "'name'");
}

static void names_in_heads_are_checked(void **state) {
    (void)state;
    refuses(LEAST "[headsail]\nfoot_m = 5\n", "boat.ini:13", "without a name");
    static const char longest[] = "a sail with as long a name as is";
    assert_int_equal(strlen(longest), HEADSAIL_NAME_BYTES);
    assert_string_equal(
        read_good(LEAST "[headsail a sail with as long a name as is]\n"
                        "foot_m = 5\n")
            .headsails[0]
            .name,
        longest);
    refuses(LEAST "[headsail a sail with as long a name as iss]\n"
                  "foot_m = 5\n",
            "boat.ini:13", "longer than 32 bytes");
    refuses(LEAST "[reef none]\nabove_kn = 20\n", "boat.ini:13",
            "not the number of a reef");
    refuses(LEAST "[reef 10]\nabove_kn = 20\n", "boat.ini:13", "[reef 9]");
    refuses(LEAST "[headsail jib]\nfoot_m = 4\nfot_m = 5\n", "boat.ini:14",
            "'foot_m'");
    refuses(LEAST "[headsail jib]\nfoot_m = 4\n[headsail jib]\nfoot_m = 5\n",
            "boat.ini:15", "twice");
    refuses(LEAST "[headsailgenoa]\nfoot_m = 4\n", "boat.ini:13",
            "unknown section");
}

static void more_headsails_than_there_is_room_for_are_refused(void **state) {
    (void)state;
    char text[4096] = LEAST;
    for (int i = 0; i <= BOAT_HEADSAILS; i++) {
        if (i == BOAT_HEADSAILS)
            assert_int_equal(read_good(text).headsail_count, BOAT_HEADSAILS);
        size_t used = strlen(text);
        snprintf(text + used, sizeof text - used,
                 "[headsail s%d]\nfoot_m = 5\n", i);
    }
    refuses(text, "boat.ini:45", "more than 16 headsails");
}

static void limits_upside_down_are_refused(void **state) {
    (void)state;
    static const struct {
        const char *lines, *why;
    } rows[] = {
        {"wing_max_gust_kn = 20\n", "wing_max_gust_kn is below"},
        {"poled_reach_max_gust_kn = 19\n", "poled_reach_max_gust_kn is below"},
        {"[work]\nmax_gust_kn = 17\n", "max_gust_kn is below"},
        {"[work]\nstow_max_gust_kn = 21.9\n", "stow_max_gust_kn is below"},
        {"[work]\nstow_max_wind_kn = 17\n", "could not be stowed"},
        {"[work]\nmax_gust_kn = 29\n", "could not be stowed"},
        {"[comfort]\neasy_roll_deg = 6\n", "not above easy_roll_deg"},
        {"[reef 1]\nabove_kn = 24\n[reef 2]\nabove_kn = 20\n", "[reef 2]"},
        {"[reef 1]\nabove_kn = 24\n[reef 3]\nabove_kn = 24\n", "[reef 3]"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[1024];
        snprintf(text, sizeof text, "%s%s", LEAST, rows[i].lines);
        refuses(text, "boat.ini", rows[i].why);
    }
}

static void a_margin_that_eats_the_range_is_refused(void **state) {
    (void)state;
    refuses(LEAST "wing_awa_deg = 150 160\n", "boat.ini", "wing_awa_deg");
    refuses(LEAST "poled_reach_awa_deg = 100 109\n", "boat.ini",
            "poled_reach_awa_deg");
    read_good(LEAST "wing_awa_deg = 174 180\n");
}

/* 45 mm of 90: a rod. */
static void a_wall_is_at_most_half_of_the_tube(void **state) {
    (void)state;
    read_good(LEAST "tube_diameter_mm = 90\nwall_mm = 45\n");
    refuses(LEAST "tube_diameter_mm = 20\nwall_mm = 11\n", "boat.ini",
            "wall_mm is more than half of tube_diameter_mm");
}

static void half_an_engine_is_refused(void **state) {
    (void)state;
    refuses(LEAST "[motor]\nspeed_kn = 6\n", "boat.ini", "not complete");
    refuses(LEAST "[motor]\nreserve_litres = 6\n", "boat.ini", "not complete");
    refuses(LEAST "[motor]\nspeed_kn = 6\nbelow_kn = 3\nlitres_per_hour = 3\n"
                  "fuel_litres = 20\nreserve_litres = 30\n",
            "boat.ini", "more than fuel_litres");
}

static void faults_of_a_polar_name_its_file_and_line(void **state) {
    (void)state;
    check_write("gap.csv", "TWA,6,20\n90,4,6\n180,5,\n");
    refuses(HULL "[polars]\nstowed = stowed.csv\nspar = gap.csv\n" SPAR,
            "gap.csv:3", "gap");
    refuses(HULL "[polars]\nstowed = none.csv\nspar = spar.csv\n" SPAR,
            "none.csv", "");
}

static void paths_are_relative_to_the_boat_file(void **state) {
    (void)state;
    struct boat boat = read_good(LEAST);
    assert_contains(boat.stowed_path, check_folder());
    assert_contains(boat.stowed_path, "stowed.csv");
    assert_near(mps_to_kn(polar_speed(&boat.spar_out, 180.0, kn_to_mps(6))),
                5.0, 1e-12);
}

/* --- the spar's angles
 * ----------------------------------------------------------- */

/* 100 to 140 is a broad reach where the mainsail blankets the headsail, 140 to
 * 180 running; the spar serves in both, wing-and-wing in the run (common
 * practice, no source). The margin takes 5 degrees off each end but 180. */
static void the_spar_serves_on_the_broad_reach_and_the_run(void **state) {
    (void)state;
    struct boat boat = read_good(LEAST);
    for (double awa_deg = 105.0; awa_deg <= 140.0; awa_deg += 1.0) {
        assert_true(spar_allows_angle(&boat.spar, false, awa_deg));
        assert_true(spar_allows_angle(&boat.spar, false, -awa_deg));
        assert_false(spar_allows_angle(&boat.spar, true, awa_deg));
    }
    for (double awa_deg = 145.0; awa_deg <= 180.0; awa_deg += 1.0) {
        assert_true(spar_allows_angle(&boat.spar, true, awa_deg));
        assert_true(spar_allows_angle(&boat.spar, true, -awa_deg));
        assert_false(spar_allows_angle(&boat.spar, false, awa_deg));
    }
    for (double awa_deg = 0.0; awa_deg < 105.0; awa_deg += 1.0) {
        assert_false(spar_allows_angle(&boat.spar, false, awa_deg));
        assert_false(spar_allows_angle(&boat.spar, true, awa_deg));
    }
}

static void an_end_short_of_180_is_narrowed_too(void **state) {
    (void)state;
    struct boat boat = read_good(LEAST "wing_awa_deg = 140 175\n");
    assert_true(spar_allows_angle(&boat.spar, true, 170.0));
    assert_false(spar_allows_angle(&boat.spar, true, 170.1));
    assert_false(spar_allows_angle(&boat.spar, true, 180.0));
}

/* Running wing-and-wing in 25 kn is done with a preventer (common practice, no
 * source): a boat file may allow it, the default stops at 22 kn. */
static void each_mode_has_its_own_wind_limit(void **state) {
    (void)state;
    struct boat boat = read_good(LEAST);
    assert_true(spar_allows_wind(&boat.spar, true, kn_to_mps(21.9)));
    assert_false(spar_allows_wind(&boat.spar, true, kn_to_mps(22.1)));
    assert_true(spar_allows_wind(&boat.spar, false, kn_to_mps(19.9)));
    assert_false(spar_allows_wind(&boat.spar, false, kn_to_mps(20.1)));
    boat = read_good(LEAST "wing_max_wind_kn = 25.5\n");
    assert_true(spar_allows_wind(&boat.spar, true, kn_to_mps(25.0)));
}

/* --- template and register
 * --------------------------------------------------------- */

static char *template_text(void) {
    char *text = NULL;
    size_t size = 0;
    FILE *memory = open_memstream(&text, &size);
    assert_non_null(memory);
    boat_template(memory);
    fclose(memory);
    return text;
}

/* With the required values filled in, the template is a boat file. */
static void the_template_filled_in_is_a_boat_file(void **state) {
    (void)state;
    char *text = template_text(), *rest = text, *line;
    static char filled[32768];
    size_t used = 0;
    while ((line = text_next_line(&rest))) {
        const char *value = "";
        if (text_same(line, "name ="))
            value = " Tern";
        else if (text_same(line, "stowed ="))
            value = " stowed.csv";
        else if (text_same(line, "spar ="))
            value = " spar.csv";
        else if (text_same(line, "displacement_kg ="))
            value = " 5000";
        else if (text_same(line, "length_m ="))
            value = " 3 6";
        else if (*line != '#' && strchr(line, '='))
            value = " 3";
        used += (size_t)snprintf(filled + used, sizeof filled - used, "%s%s\n",
                                 line, value);
        assert_true(strlen(line) <= 80);
        assert_true(used < sizeof filled);
    }
    struct boat boat = read_good(filled);
    assert_string_equal(boat.name, "Tern");
    free(text);
}

/* The register's column of what is allowed. */
static void print_range(const struct key *key, char text[64]) {
    switch (key->kind) {
    case KEY_NUMBER:
    case KEY_FIGURE:
    case KEY_COUNT:
        snprintf(text, 64, "%.10g to %.10g", key->low, key->high);
        break;
    case KEY_PAIR:
        snprintf(text, 64, "two of %.10g to %.10g", key->low, key->high);
        break;
    case KEY_PATH:
        snprintf(text, 64, "path");
        break;
    case KEY_CHOICE:
        snprintf(text, 64, "%s, %s", key->choices[0], key->choices[1]);
        break;
    case KEY_TEXT:
    case KEY_LIST:
        snprintf(text, 64, "text");
        break;
    }
}

static void check_register(const struct key_table *table, const char *docs) {
    for (size_t i = 0; i < table->count; i++) {
        const struct key *key = &table->keys[i];
        char row[512], range[64];
        print_range(key, range);
        const char *fallback = key->fallback ? key->fallback : "required";
        snprintf(row, sizeof row, "\n| `%s` | %s | %s | %s | %s |\n", key->name,
                 key->unit, range, *fallback ? fallback : "optional",
                 key->help);
        assert_contains(docs, row);
    }
}

/* docs/files.md is the register of keys: none may be missing from it, and what
 * it says of unit, range and default must be so. */
static void every_key_stands_in_the_register(void **state) {
    (void)state;
    struct error error = {.text = ""};
    char *docs = text_load(&arena, "docs/files.md", 1 << 20, &error);
    assert_non_null(docs);
    check_register(&boat_keys, docs);
    check_register(&headsail_keys, docs);
    check_register(&reef_keys, docs);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_least_boat_file_takes_every_default),
        cmocka_unit_test(given_values_land_in_their_places),
        cmocka_unit_test(knots_become_metres_per_second_once),
        cmocka_unit_test(headsails_and_reefs_have_their_names_in_the_head),
        cmocka_unit_test(an_engine_keeps_a_fifth_of_its_fuel),
        cmocka_unit_test(the_roll_period_is_measured_or_estimated),
        cmocka_unit_test(byte_order_mark_and_carriage_returns_do_no_harm),
        cmocka_unit_test(wrong_keys_are_refused_with_their_line),
        cmocka_unit_test(
            the_time_of_ten_rolls_is_refused_with_what_is_asked_for),
        cmocka_unit_test(missing_keys_are_named),
        cmocka_unit_test(names_in_heads_are_checked),
        cmocka_unit_test(more_headsails_than_there_is_room_for_are_refused),
        cmocka_unit_test(limits_upside_down_are_refused),
        cmocka_unit_test(a_margin_that_eats_the_range_is_refused),
        cmocka_unit_test(a_wall_is_at_most_half_of_the_tube),
        cmocka_unit_test(half_an_engine_is_refused),
        cmocka_unit_test(faults_of_a_polar_name_its_file_and_line),
        cmocka_unit_test(paths_are_relative_to_the_boat_file),
        cmocka_unit_test(the_spar_serves_on_the_broad_reach_and_the_run),
        cmocka_unit_test(an_end_short_of_180_is_narrowed_too),
        cmocka_unit_test(each_mode_has_its_own_wind_limit),
        cmocka_unit_test(the_template_filled_in_is_a_boat_file),
        cmocka_unit_test(every_key_stands_in_the_register),
    };
    return cmocka_run_group_tests(tests, set_up, scratch_end);
}
