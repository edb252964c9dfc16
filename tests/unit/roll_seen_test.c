/* Lines that tell what the crew saw, good and bad. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "boat/roll_seen.h"
#include <string.h>

static struct error error;
static struct roll_seen seen;

static int start(void **state) {
    scratch_begin(state);
    error = (struct error){.text = ""};
    return 0;
}

static void take(const char *text) {
    if (!roll_seen_read(&seen, text, &arena, &error))
        print_error("%s: %s\n", text, error.text);
    assert_string_equal(error.text, "");
}

/* Heading = where the wind comes from less TWA: 65 - 170 = -105, which is
 * 255. */
static void a_line_says_all_that_the_roll_asks_for(void **state) {
    (void)state;
    take("TWA 170, 16 kn, 2 m 7 s from 065, spar stowed: often 10");
    assert_near(seen.twa_deg, 170.0, 0.0);
    assert_true(seen.wind_starboard);
    assert_false(seen.side_told);
    assert_near(mps_to_kn(seen.tws_mps), 16.0, 1e-12);
    assert_int_equal(seen.bearing, BEARING_OF_SEA);
    assert_near(seen.wind_from_deg, 65.0, 0.0);
    assert_near(seen.heading_deg, 255.0, 0.0);
    assert_true(seen.sea.system[0].known);
    assert_near(seen.sea.system[0].height_m, 2.0, 0.0);
    assert_near(seen.sea.system[0].period_s, 7.0, 0.0);
    assert_near(seen.sea.system[0].from_deg, 65.0, 0.0);
    assert_false(seen.sea.system[1].known);
    assert_near(seen.sea.height_m, 2.0, 1e-12);
    assert_int_equal(seen.spar, SPAR_SEEN_STOWED);
    assert_int_equal(seen.measure, ROLL_OFTEN);
    assert_near(roll_seen_rms_deg(&seen), 5.0, 0.0);
}

static void at_times_is_three_times_the_rms(void **state) {
    (void)state;
    take("TWA 170, 16 kn, 2 m 7 s, spar stowed: at times 15 deg");
    assert_near(roll_seen_rms_deg(&seen), 5.0, 0.0);
}

/* Any order, any blanks, either case, units at their numbers or apart. */
static void the_same_can_be_written_in_many_ways(void **state) {
    (void)state;
    take("TWA -150, wind from 90 16 kn, sea 2 m 7 s from 065, swell 1.5 m 11 s "
         "from 340, spar to windward: often 8");
    struct roll_seen first = seen;
    static const char *const ways[] = {
        "spar to windward, swell 1.5 m 11 s from 340, sea 2 m 7 s from 065, "
        "wind from 90 16 kn, TWA -150: often 8",
        "twa 150 PORT,16kn from 90,2m 7s from 65,1.5m 11s from 340,spar to "
        "port:often 8deg",
        "  TWA 150 port ,\twind 16 kn, wind from 090, 2.0 m 7.0 s from 065, "
        "swell 1.5 m 11 s from 340, spar to windward :  often 8.0 ",
        /* 90 + 150: the heading with the wind on the port side */
        "TWA -150, heading 240, 16 kn, swell 1.5 m 11 s from 340, 2 m 7 s from "
        "065, spar to windward: often 8",
        "TWA -150, wind 16 kn from 90, 2 m 7 s from 065, 1.5 m 11 s from 340, "
        "spar to port: often 8",
    };
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
        take(ways[i]);
        assert_near(seen.twa_deg, -150.0, 0.0);
        assert_near(seen.heading_deg, 240.0, 1e-12);
        assert_near(seen.wind_from_deg, 90.0, 1e-12);
        assert_near(seen.tws_mps, first.tws_mps, 0.0);
        assert_int_equal(seen.bearing, BEARING_TOLD);
        assert_true(seen.side_told);
        assert_int_equal(seen.spar, SPAR_SEEN_WINDWARD);
        for (int k = 0; k < SEA_SYSTEMS; k++) {
            const struct wave_system *a = &seen.sea.system[k];
            const struct wave_system *b = &first.sea.system[k];
            assert_int_equal(a->known, b->known);
            assert_near(a->height_m, b->height_m, 0.0);
            assert_near(a->period_s, b->period_s, 0.0);
            assert_near(a->from_deg, b->from_deg, 0.0);
        }
    }
}

static void a_sea_without_a_direction_comes_with_the_wind(void **state) {
    (void)state;
    take("TWA 160 port, heading 100, 16 kn, 2 m 7 s, spar stowed: often 10");
    assert_true(seen.sea_with_wind);
    assert_near(seen.wind_from_deg, 300.0, 1e-12); /* 100 - 160 */
    assert_near(seen.sea.system[0].from_deg, 300.0, 1e-12);
    take("TWA 160, 16 kn, 2 m 7 s, spar stowed: often 10");
    assert_int_equal(seen.bearing, BEARING_OF_NONE);
    assert_near(seen.sea.system[0].from_deg, seen.wind_from_deg, 0.0);
    assert_near(seen.heading_deg, 200.0, 1e-12);
}

static void swells_alone_need_a_heading_and_have_one(void **state) {
    (void)state;
    take("TWA 100, heading 10, 16 kn, swell 1 m 9 s from 200, swell 2 m 14 s "
         "from 300, swell 1 m 17 s from 360, spar to leeward: often 3");
    assert_false(seen.sea.system[0].known);
    assert_near(seen.sea.system[1].period_s, 9.0, 0.0);
    assert_near(seen.sea.system[2].period_s, 14.0, 0.0);
    assert_near(seen.sea.system[3].from_deg, 0.0, 0.0);
    assert_int_equal(seen.spar, SPAR_SEEN_LEEWARD);
}

static void the_side_of_the_spar_is_told_by_the_wind(void **state) {
    (void)state;
    static const struct {
        const char *twa, *spar;
        enum spar_seen expected;
    } cases[] = {
        {"TWA 150", "spar to starboard", SPAR_SEEN_WINDWARD},
        {"TWA 150", "spar starboard", SPAR_SEEN_WINDWARD},
        {"TWA 150", "spar port", SPAR_SEEN_LEEWARD},
        {"TWA 150", "spar to port", SPAR_SEEN_LEEWARD},
        {"TWA 150 port", "spar to starboard", SPAR_SEEN_LEEWARD},
        {"TWA -180", "spar to port", SPAR_SEEN_WINDWARD},
        {"TWA 180 starboard", "spar to port", SPAR_SEEN_LEEWARD},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        take(arena_print(&arena, "%s, 16 kn, 2 m 7 s, %s: often 5",
                         cases[i].twa, cases[i].spar));
        assert_int_equal(seen.spar, cases[i].expected);
    }
}

static const struct {
    const char *text, *expected;
} bad_lines[] = {
    {"", "it does not end in what was seen; add ': often 10'"},
    {":", "nothing stands between"},
    {"TWA 170, 16 kn, 2 m 7 s, spar stowed",
     "it does not end in what was seen; add ': often 10'"},
    {"TWA 170, 16 kn, 2 m 7 s, spar stowed:", "nothing stands between"},
    {"TWA 170,, 16 kn, 2 m 7 s, spar stowed: often 10",
     "nothing stands between"},
    /* units */
    {"TWA 170, 16, 2 m 7 s, spar stowed: often 10",
     "'16' is not understood; numbers need their unit"},
    {"TWA 170, 16 m, 2 m 7 s, spar stowed: often 10",
     "'16 m' is not understood; numbers need their unit"},
    {"TWA 170, 16 kn, 2 7, spar stowed: often 10",
     "'2 7' is not understood; numbers need their unit"},
    {"TWA 170, 16 kn, 2 m from 65, spar stowed: often 10",
     "'2 m from 65' is not understood"},
    {"TWA 170, 16 kn, 2 m 7 s from, spar stowed: often 10",
     "'2 m 7 s from' is not understood"},
    {"TWA 170, 16 kn, 2,5 m 7 s, spar stowed: often 10",
     "'2' is not understood; numbers need their unit and a decimal point"},
    {"TWA 170, 16 kn, 2 m 7 s, spar stowed: 10",
     "'10' is not understood; write 'often 10' or 'at times 15'"},
    {"TWA 170, 16 kn, 2 m 7 s, spar stowed: often 10: at times 15",
     "'often 10: at times 15' is not understood"},
    /* words */
    {"TWA, 16 kn, 2 m 7 s, spar stowed: often 10",
     "'TWA' is not understood; write 'TWA 170'"},
    {"TWA nan, 16 kn, 2 m 7 s, spar stowed: often 10",
     "'TWA nan' is not understood"},
    {"TWA 0x10, 16 kn, 2 m 7 s, spar stowed: often 10",
     "'TWA 0x10' is not understood"},
    {"TWA 170, 16 kn, 2 m 7 s, spar out: often 10",
     "'spar out' is not understood; write 'spar stowed', 'spar to"},
    {"TWA 170, wind 16, 2 m 7 s, spar stowed: often 10",
     "'wind 16' is not understood; write '16 kn' or 'wind from 065 16 kn'"},
    {"a b c d e f g h i j k l: often 10",
     "'a b c d e f g h i j k l' is not understood"},
    /* ranges */
    {"TWA 181, 16 kn, 2 m 7 s, spar stowed: often 10",
     "'TWA 181': the angle is out of range; give -180 to 180"},
    {"TWA 170, 0 kn, 2 m 7 s, spar stowed: often 10",
     "'0 kn': the wind is out of range; give 1 to 80"},
    {"TWA 170, 16 kn, 0 m 7 s, spar stowed: often 10",
     "'0 m 7 s': the height is out of range; give 0.1 to 20"},
    {"TWA 170, 16 kn, 2 m 70 s, spar stowed: often 10",
     "'2 m 70 s': the period is out of range; give 2 to 30"},
    {"TWA 170, 16 kn, 2 m 7 s from -1, spar stowed: often 10",
     "'2 m 7 s from -1': the direction is out of range; give 0 to 360"},
    {"TWA 170, 16 kn, 2 m 7 s, spar stowed: often 61",
     "'often 61': the roll is out of range; give 1 to 60"},
    {"TWA 170, 16 kn, 2 m 7 s, spar stowed: often -5",
     "'often -5': the roll is out of range; give 1 to 60"},
    /* too much */
    {"TWA 170, TWA 160, 16 kn, 2 m 7 s, spar stowed: often 10",
     "'TWA 160' tells again what is told before; leave one out"},
    {"TWA -170 port, 16 kn, 2 m 7 s, spar stowed: often 10",
     "'TWA -170 port' has a minus sign"},
    {"TWA 170, 16 kn, wind from 9 12 kn, 2 m 7 s, spar stowed: often 10",
     "'wind from 9 12 kn' tells again"},
    {"TWA 170, 16 kn, 2 m 7 s, spar stowed, spar to port: often 10",
     "'spar to port' tells again"},
    {"TWA 170, 16 kn, sea 2 m 7 s, sea 1 m 5 s, spar stowed: often 10",
     "'sea 1 m 5 s' tells again"},
    {"TWA 170, heading 9, wind from 9 16 kn, 2 m 7 s, spar stowed: often 9",
     "heading and wind direction are both given"},
    {"TWA 170, 16 kn, 2 m 7 s from 0, 1 m 9 s from 1, 1 m 9 s from 2, 1 m "
     "9 "
     "s from 3, 1 m 9 s from 4, spar stowed: often 9",
     "'1 m 9 s from 4' is one swell too many; give the three highest"},
    /* too little */
    {"16 kn, 2 m 7 s, spar stowed: often 10",
     "no angle to the wind; add 'TWA 170'"},
    {"TWA 170, 2 m 7 s, spar stowed: often 10", "no wind; add '16 kn'"},
    {"TWA 170, 16 kn, spar stowed: often 10", "no sea; add '2 m 7 s from 065'"},
    {"TWA 170, 16 kn, 2 m 7 s: often 10",
     "nothing of the spar; add 'spar stowed'"},
    {"TWA 170, 16 kn, 2 m 7 s, 2 m 9 s, spar stowed: often 10",
     "'2 m 9 s' is a swell without a direction; add 'from'"},
    {"TWA 170, 16 kn, swell 2 m 9 s from 5, spar stowed: often 10",
     "add 'heading 255' or 'wind from 065'"},
    /* bytes */
    {"TWA 170\xc2\xb0, 16 kn, 2 m 7 s, spar stowed: often 10",
     "byte 8 is no plain letter, digit or sign; write degrees without"},
    {"\xff\xfe\x01: often 10", "byte 1 is no plain letter"},
    {"TWA 170,\n16 kn, 2 m 7 s, spar stowed: often 10",
     "byte 9 is no plain letter"},
};

static void a_bad_line_is_told_with_its_place_and_a_remedy(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof bad_lines / sizeof *bad_lines; i++) {
        error = (struct error){.text = ""};
        assert_false(roll_seen_read(&seen, bad_lines[i].text, &arena, &error));
        assert_int_equal(error.status, STATUS_USAGE);
        assert_contains(error.text, bad_lines[i].expected);
    }
}

static void a_line_of_any_length_is_met_with_a_limit(void **state) {
    (void)state;
    char text[ROLL_SEEN_BYTES + 2];
    memset(text, '1', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    assert_false(roll_seen_read(&seen, text, &arena, &error));
    assert_string_equal(error.text, "301 bytes are more than 300; one line for "
                                    "each observation");
    assert_false(roll_seen_read(&seen, text + 1, &arena, &error));
    assert_null(strstr(error.text, "bytes are more than"));
}

/* Bytes by the hundred, out of those that lines are made of: read or refused
 * in words, and nothing else (under the sanitizers too). */
static void garbage_is_refused_in_words(void **state) {
    (void)state;
    static const char *const pieces[] = {
        "TWA ",   "170", " kn",  ", ", "2 m ",   "7 s", " from ", "spar ",
        "stowed", "to ", "port", ":",  "often ", "-",   "1e",     "\x80"};
    struct seed seed = {.state = 5};
    const double count = sizeof pieces / sizeof *pieces;
    for (int round = 0; round < 3000; round++) {
        char text[160] = "";
        for (int i = 0; i < 16; i++)
            strcat(text, pieces[(int)seed_between(&seed, 0.0, count)]);
        error = (struct error){.text = ""};
        bool good = roll_seen_read(&seen, text, &arena, &error);
        assert_int_equal(good, *error.text == '\0');
    }
}

/* --- the boat in it ------------------------------------------------------- */

static struct boat wanderer(void) {
    struct boat boat;
    assert_true(boat_load(&boat, "polars/wanderer-12.ini", &arena, &error));
    return boat;
}

/* Dead before the wind the apparent wind is the true one less the speed. */
static void speed_is_the_polars_and_the_wind_the_triangles(void **state) {
    (void)state;
    struct boat boat = wanderer();
    boat.factor = 0.9;
    for (int out = 0; out < 2; out++) {
        take(arena_print(&arena,
                         "TWA 180, 16 kn, 2 m 7 s from 40, spar %s: "
                         "often 10",
                         out ? "to port" : "stowed"));
        struct roll_course course;
        assert_true(roll_seen_course(&seen, &boat, &course, &error));
        const struct polar *polar = out ? &boat.spar_out : &boat.stowed;
        double speed_mps = 0.9 * polar_speed(polar, 180.0, kn_to_mps(16));
        assert_near(course.speed_mps, speed_mps, 1e-12);
        assert_near(course.aws_mps, kn_to_mps(16) - speed_mps, 1e-12);
        assert_near(course.heading_deg, 220.0, 1e-12);
        assert_int_equal(course.spar_drawing, out);
    }
}

static void where_the_polar_has_no_speed_nothing_is_told(void **state) {
    (void)state;
    struct boat boat = wanderer();
    struct roll_course course;
    take("TWA 10, 16 kn, 2 m 7 s, spar stowed: often 10");
    assert_false(roll_seen_course(&seen, &boat, &course, &error));
    assert_int_equal(error.status, STATUS_USAGE);
    assert_contains(error.text, "no speed at TWA 10 in 16 kn; check");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, start, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_line_says_all_that_the_roll_asks_for),
        TEST(at_times_is_three_times_the_rms),
        TEST(the_same_can_be_written_in_many_ways),
        TEST(a_sea_without_a_direction_comes_with_the_wind),
        TEST(swells_alone_need_a_heading_and_have_one),
        TEST(the_side_of_the_spar_is_told_by_the_wind),
        TEST(a_bad_line_is_told_with_its_place_and_a_remedy),
        TEST(a_line_of_any_length_is_met_with_a_limit),
        TEST(garbage_is_refused_in_words),
        TEST(speed_is_the_polars_and_the_wind_the_triangles),
        TEST(where_the_polar_has_no_speed_nothing_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
