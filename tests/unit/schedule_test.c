#include "../support/check.h"
#include "../support/schedule_text.h"
#include "../support/side_words.h"
#include "../support/unit_words.h"

#include "base/units.h"
#include "plan/marks.h"
#include "report/schedule.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void fits_the_page(const char *page) {
    for (const char *line = page; *line; line += strcspn(line, "\n") + 1)
        if (strcspn(line, "\n") > 80)
            fail_msg("wider than 80: %.100s", line);
    for (const char *at = page; *at; at++)
        if ((unsigned char)*at > '~' || (*at < ' ' && *at != '\n'))
            fail_msg("not ASCII: %.20s", at);
}

static void every_line_is_ascii_and_at_most_80_wide(void **state) {
    (void)state;
    fits_the_page(schedule());
}

static void the_widest_figures_fit_too(void **state) {
    (void)state;
    char name[600];
    memset(name, 'N', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    example.plan.name = example.plan.boat_name = name;
    example.changes[0].why = example.changes[0].headsail = name;
    example.plan.warnings[0] = "\x1b[2J\xFF\xFE hostile \xF0\x9F\x98\x80";
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++) {
        example.legs[i].deck = (struct deck){SPAR_STARBOARD, true, true};
        example.legs[i].mode = MODE_ROLLED;
        example.legs[i].reefs = BOAT_REEFS;
        example.legs[i].tws_mps = kn_to_mps(99.0);
        example.legs[i].gust_mps = figure_of(kn_to_mps(140.0));
        example.legs[i].wave_m = figure_of(14.0);
        example.legs[i].roll_deg = 33.0;
    }
    fits_the_page(schedule());
    plan_example_later(&example, 730);
    example.plan.display.magnetic = true;
    fits_the_page(schedule());
}

static void no_side_stands_alone(void **state) {
    (void)state;
    check_side_words(schedule());
}

static void no_number_stands_without_a_unit(void **state) {
    (void)state;
    check_unit_words(schedule());
    plan_example_later(&example, 730);
    example.plan.display.magnetic = true;
    check_unit_words(schedule());
}

static void the_leg_table_has_a_row_for_every_leg(void **state) {
    (void)state;
    static const char *const rows[] = {
        "W001   15 05:00 231 spar stowed                 0 021 14  21 121 S "
        "2.0   2 good\n",
        "SET1   15 09:00 262 spar starboard, wing        1 066 17  21 155 S "
        "2.0   4 good\n",
        "GYBE2  16 11:00 256 spar port, wing             2 095 16   - 152 P "
        "2.0   3 good\n",
        "W004   17 18h   251 spar port, rolled           0 097 23  33 140 P "
        "2.0   5 fair\n",
        "W005   17 22h   246 spar port, reach            0 010 12  21 101 S   "
        "-   2 fair\n",
        "STOW3  19 12-16 000 spar stowed                 0 008 12  21 180 P  "
        "11   1 guess\n",
    };
    schedule();
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_contains(text, rows[i]);
}

/* In 2026, within the years of the model. */
static void magnetic_courses_stand_beside_the_true_ones(void **state) {
    (void)state;
    plan_example_later(&example, 730);
    schedule();
    lacks("magnetic");
    example.plan.display.magnetic = true;
    schedule();
    static const char *const parts[] = {
        "all directions true but where it says\nmagnetic; wind is",
        "  Steer       231 deg true, 240 deg magnetic, to make good 228 deg "
        "true in the\n",
        "  Compass     variation 8.6 deg W, at its end 8.8 deg W; deviation "
        "not "
        "in it\n",
        "                steer                        reef wind   gust AWA   "
        "sea roll\n"
        "point  UTC      deg mag rig                       deg kn  kn deg     "
        "m "
        "deg trust\n"
        "W001   15 05:00 231 240 spar stowed             0 021 14  21 121 S "
        "2.0   2 good\n"
        "SET1   15 09:00 262 271 spar starboard, wing    1 066 17  21 155 S "
        "2.0   4 good\n",
        "mag: magnetic, where the leg starts",
        "deg magnetic, from start to end of the leg: SET1 271 to 272 deg,",
    };
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        assert_contains(text, parts[i]);
    check_side_words(text);
}

static void boom_and_engine_are_told_by_leg(void **state) {
    (void)state;
    example.legs[3].motored_s = 600.0;
    schedule();
    tells("\nboom to port: W001, SET1, W005, STOW3\nboom to starboard: GYBE2, "
          "W004\nunder engine in part or whole: W004\n");
    example.legs[3].motored_s = 0.0;
    schedule();
    lacks("under engine");
}

static void the_nights_are_told_with_their_moon(void **state) {
    (void)state;
    schedule();
    assert_contains(text, "  Night       dark until 07:27, sunrise 07:49 UTC; "
                          "no moon\n");
    assert_contains(text, "\nNIGHTS\n                   dark\nUTC  ");
    assert_contains(text, "UTC, by day, sun 18 deg up; takes 0 h 20 min\n");
    assert_contains(text, "UTC, at night, in nautical twilight, no moon\n");
    assert_contains(text, "at times 9 deg; nautical twilight, no moon\n");
    assert_contains(text, "\nlight where a leg starts: dark: W001, W005; the ");
}

static void without_reefs_in_the_boat_file_none_are_told(void **state) {
    (void)state;
    example.boat.reef_count = 0;
    schedule();
    assert_contains(text, "262 spar starboard, wing        - 066 17");
    lacks("mainsail; ");
    lacks("mainsail\n");
}

static void flags_of_legs_are_told_by_name(void **state) {
    (void)state;
    schedule();
    assert_contains(text, "NOT CHECKED, the field of a limit is missing there: "
                          "STOW3\n");
    assert_contains(text,
                    "BEYOND THE FORECAST in part or whole, a guess: STOW3\n");
    assert_contains(text, "gust estimated as 1.4 x the mean wind: W004\n");
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        example.legs[i].wave_estimated = true;
    schedule();
    assert_contains(text, "sea estimated from the wind: all legs\n");
    tells("8 s, from 000 deg, estimated from the wind, roll often 5,");
}

/* The boat leaves with the spar stowed: angles and limits are there all the
 * same, for each rig to come. */
static void every_rig_of_the_plan_has_its_limits(void **state) {
    (void)state;
    schedule();
    tells(
        "WITH THE SPAR DRAWING\n"
        "  Wing        wing-and-wing: SET1, GYBE2\n"
        "  Keep        GYBE2: AWA 145 deg on the port side, through dead aft, "
        "to TWA 177 deg\n"
        "              (AWA 175 deg) on the starboard side, boom to starboard\n"
        "  Keep        SET1: AWA 145 deg on the starboard side, through dead "
        "aft, to TWA\n"
        "              177 deg (AWA 175 deg) on the port side, boom to port\n"
        "  Limit       roll the headsail away if the true wind passes 22 kn "
        "(14 to 16\n"
        "              kn apparent) or a gust 28 kn, or if AWA will not stay "
        "where "
        "it should\n"
        "  Reach       poled reach: W005\n"
        "  Keep        AWA between 105 and 140 deg on the starboard side, "
        "boom to port\n"
        "  Limit       roll the headsail away if the true wind passes 20 kn "
        "(17 kn apparent)\n"
        "              or a gust 25 kn,");
    for (int i = 1; i < PLAN_EXAMPLE_LEGS; i++)
        example.legs[i].mode = MODE_STOWED;
    example.changes[1].to = example.changes[0].to;
    schedule(); /* between two changes on one leg */
    tells("  Wing        wing-and-wing: for a while only\n"
          "  Keep        AWA 145 deg on the port side, through "
          "dead aft, to TWA 177 deg on the\n"
          "              starboard side, boom to starboard\n"
          "  Keep        AWA 145 deg on the starboard side, "
          "through dead aft, to TWA 177 deg on\n"
          "              the port side, boom to port\n"
          "  Limit       roll the headsail away if the true "
          "wind passes 22 kn or a gust");
    example.plan.change_count = 0;
    schedule();
    lacks("WITH THE SPAR");
}

static void each_work_refers_to_its_limits(void **state) {
    (void)state;
    schedule();
    tells("over 50 nmi clear to leeward; limits: see SET (13 "
          "kn apparent);\n        roll often 8");
    tells("12 nmi clear to leeward; limits: see GYBE; roll\n");
    tells("  SET         go with true wind to 18 kn, gust to 22");
    tells("  GYBE        go with true wind to 18 kn, gust to 22");
    tells("  STOW        go with true wind to 22 kn, gust to 28");
    lacks("  MAIN ");
    example.changes[4].deck_work = true; /* with a single preventer */
    assert_contains(schedule(), "  MAIN        go with true wind to 18 kn");
    example.plan.change_count = 1;
    schedule();
    lacks("  GYBE     ");
    lacks("  STOW     ");
}

static void work_outside_the_limits_is_marked(void **state) {
    (void)state;
    schedule();
    assert_contains(text, "OUTSIDE THE WORK LIMITS;");
    lacks("BEWARE");
    example.plan.changes = &example.changes[5];
    example.plan.change_count = 1;
    schedule();
    assert_contains(text, "  BEWARE      the forecast is above these limits");
    assert_contains(text,
                    "  Go          with true wind to 22 kn, gust to 28 kn");
    assert_contains(text, "nobody enters harbour");
}

/* The same estimate on page one, in both tables and in the summary. */
static void an_estimated_gust_is_one_everywhere(void **state) {
    (void)state;
    schedule();
    tells("  At most     wind 24 kn, gust 33 kn (estimated), sea");
    tells("wind above the spar's limit; gust estimated\n");
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++) {
        example.legs[i].gust_mps = figure_of(kn_to_mps(19.6));
        example.legs[i].gust_estimated = true;
    }
    example.changes[0].gust_mps = figure_of(kn_to_mps(23.5));
    example.changes[0].gust_estimated = true;
    example.plan.summary.max_gust_mps = figure_unknown();
    schedule();
    tells("14 kn, gust 20 kn (estimated)\n");
    tells("deg, gust 24 kn\n              (estimated), sea 2.0 m");
    tells("genoa; gust estimated;");
    tells("gust 20 kn (estimated), sea not known\n");
    example.legs[5].gust_mps = figure_of(kn_to_mps(21.0));
    example.legs[5].gust_estimated = false;
    assert_contains(schedule(), "wind 24 kn, gust 21 kn, sea not known\n");
}

static void arrival_tells_the_light(void **state) {
    (void)state;
    schedule();
    assert_contains(text, "  Arrive      Tue 19 Mar 12:00-16:00 UTC, by day\n");
    assert_contains(text, "ARRIVE        Tue 19 Mar 12:00-16:00 UTC, by day\n"
                          "  Sun there   dark until ");
    example.plan.to.lon_deg += 90.0;
    schedule();
    assert_contains(text, "  Arrive      Tue 19 Mar 12:00-16:00 UTC, dark at");
    assert_contains(text, "ARRIVE        Tue 19 Mar 12:00-16:00 UTC, dark at "
                          "its end: be early, or stand");
    example.plan.summary.reached = false;
    schedule();
    assert_contains(text, "NOT REACHED   the forecast ends on the way");
    lacks("ARRIVE ");
}

static void the_summary_compares_with_no_spar(void **state) {
    (void)state;
    schedule();
    assert_contains(text,
                    "  Time        4 d 10 h (a guess); without the spar 4 d 16 "
                    "h (a guess): 6 h 30\n");
    assert_contains(text, "wing-and-wing 2 d 9 h, poled reach 39 h 30 min\n");
    assert_contains(text, "someone goes forward: 3, at night: 1\n");
    assert_contains(text, "without the spar: not known");
    example.plan.summary.elapsed_without_spar_s = figure_of(hours_to_s(105.0));
    example.plan.summary.cost_without_spar_s = figure_of(hours_to_s(120.04));
    schedule();
    assert_contains(text, "without the spar 4 d 9 h (a guess): 0 h 30");
    assert_contains(text, "without the spar: 120.0 h");
    example.plan.summary.elapsed_without_spar_s = figure_unknown();
    schedule();
    assert_contains(text,
                    "  Time        4 d 10 h (a guess); without the spar: not");
    example.plan.summary.cost_without_spar_s = figure_unknown();
    example.plan.timed_only = true;
    schedule();
    lacks("without the spar");
}

/* Where the first set is undone again the spar has saved what is told. */
/* 2.5 h of discomfort, 2.25 h of hardship. */
static void the_cost_adds_up_whatever_comfort_weighs(void **state) {
    (void)state;
    example.plan.ease = 2.0;
    schedule();
    tells("the time, with ease 2 another 5.0 h for roll and 4.5 h for deck");
    example.plan.ease = 0.0;
    schedule();
    tells("the time, with ease 0 another 0.0 h for roll and 0.0 h for deck");
}

/* Nothing where no way was given up, or what it costs is less than is told. */
static void what_it_costs_to_keep_gybes_is_told(void **state) {
    (void)state;
    schedule();
    lacks("  Gybes");
    example.plan.summary.kept_gybes_s = figure_of(hours_to_s(0.04));
    schedule();
    lacks("  Gybes");
    example.plan.summary.kept_gybes_s = figure_of(hours_to_s(3.2));
    schedule();
    tells("Gybes none of the mainsail beyond the work limits: costs 3.2 h "
          "(weighed) more than with one; a second preventer would spare that");
    example.plan.daylight_only = true;
    schedule();
    tells("beyond the work limits or in the dark: costs 3.2 h");
}

/* As long as it takes in sentences. */
static void minutes_of_work_round_alike(void **state) {
    (void)state;
    example.changes[0].seconds = 22.5 * 60.0;
    schedule();
    tells("takes 0 h 23 min");
    tells("set: spar to starboard 23 day");
}

static void a_given_track_says_where_the_spar_pays(void **state) {
    (void)state;
    struct plan_stretch stretch = {1, 2, hours_to_s(26.0), nmi_to_m(150.4),
                                   hours_to_s(1.5)};
    example.plan.timed_only = true;
    example.plan.summary.elapsed_without_spar_s =
        figure_of(example.plan.summary.elapsed_s + hours_to_s(2.0));
    example.plan.summary.cost_without_spar_s =
        figure_of(example.plan.summary.cost_s - hours_to_s(0.25));
    schedule();
    assert_contains(text, "WHERE THE SPAR PAYS  the track kept\n"
                          "  nowhere: it stays stowed all the way\n");
    example.plan.stretches = &stretch;
    example.plan.stretch_count = 1;
    schedule();
    assert_contains(text, ": out for 26 h 00 min, 150 nmi; 1 h 30 min saved\n");
    assert_contains(text, "On the whole track 2 h 00 min saved; weighed with "
                          "roll and work, 0 h 15 min\n  lost.");
    example.plan.summary.elapsed_without_spar_s = figure_unknown();
    schedule();
    assert_contains(text, "  not known: the track can't be sailed with it");
    example.plan.timed_only = false;
    schedule();
    lacks("WHERE THE SPAR PAYS");
}

static void comfort_is_hours_below_the_easy_roll(void **state) {
    (void)state;
    struct plan_summary *summary = &example.plan.summary;
    summary->elapsed_s = hours_to_s(105.0);
    summary->roll_easy_s = hours_to_s(61.3);
    summary->roll_over_limit_s = hours_to_s(1.25);
    summary->roll_mean_deg = 3.6;
    schedule();
    assert_contains(text,
                    "  Roll        4 deg rms: often 7, at times 11 deg\n"
                    "  Comfort     61 h of 105 h below the easy roll, 2.5 "
                    "deg rms; 1 h 15 min above\n"
                    "              the working limit, 6 deg\n");
    summary->elapsed_s = hours_to_s(23.04);
    summary->roll_easy_s = hours_to_s(20.56);
    summary->roll_over_limit_s = 0.0;
    schedule();
    assert_contains(text, "  Comfort     20.6 h of 23.0 h below the easy roll, "
                          "2.5 deg rms; none above the\n");
}

static void roll_is_told_where_someone_goes_forward(void **state) {
    (void)state;
    for (int i = 0; i < PLAN_EXAMPLE_CHANGES; i++) {
        example.changes[i].roll_deg = 3.0;
        example.changes[i].deck_work = false;
    }
    schedule();
    lacks("; roll often");
    example.changes[0].deck_work = true;
    schedule();
    assert_contains(text, "roll often 6, at times 9 deg");
}

static void what_to_beware_of_is_told_by_leg(void **state) {
    (void)state;
    schedule();
    lacks("STEEP SEA");
    lacks("WIND AGAINST CURRENT");
    lacks("slat");
    example.legs[1].remarks.steep = true;
    example.legs[3].remarks.steep = true;
    example.legs[2].remarks.against_current = true;
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        example.legs[i].remarks.slatting = true;
    schedule();
    assert_contains(text, "\nSTEEP SEA: SET1, W004\n");
    assert_contains(text, "\nWIND AGAINST CURRENT: GYBE2\n");
    assert_contains(text, "\nsails may slat, little apparent wind in a swell: "
                          "all legs\n");
}

static void warnings_and_cautions_are_all_there(void **state) {
    (void)state;
    static const char *const parts[] = {
        "WARNINGS\n",
        "  -  the boat's roll period is estimated from her beam\n",
        "A plan is advice: the skipper decides.",
        "come first. Not",
        "The coast check sees shorelines only: not rocks, reefs, shoals, ",
        "\n  or traffic schemes; charts decide.",
        "Tidal streams are not in it",
        "rules and the practice of those who hold a licence",
        "  GYBE\n   1  Roll the headsail away.\n",
    };
    schedule();
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        assert_contains(text, parts[i]);
    lacks("LAND IS NOT CHECKED");
    example.plan.coast.name = NULL;
    example.plan.warning_count = 0;
    schedule();
    assert_contains(text, "LAND IS NOT CHECKED");
    lacks("The coast check");
    lacks("WARNINGS");
}

static void deck_work_has_its_room_to_leeward(void **state) {
    (void)state;
    schedule();
    tells(
        "  Where       16 36.00 N 025 21.00 W, over 50 nmi clear to leeward\n");
    tells("TWA 161 deg) on the port side; 12 nmi clear to leeward;");
    tells(
        "3.5 nmi clear to\n        leeward; limits: see STOW; OUTSIDE THE WORK "
        "LIMITS");
    for (int i = 0; i < PLAN_EXAMPLE_CHANGES; i++)
        example.plan.changes[i].lee_m = figure_unknown();
    schedule();
    lacks("leeward");
}

static void zones_near_the_way_are_listed(void **state) {
    (void)state;
    schedule();
    assert_contains(text, "ZONES TO KEEP OUT OF\n"
                          "  -  Long <Shoal>: 0.8 nmi off the legs, in the "
                          "straight way\n"
                          "  -  Range: over 5.0 nmi off the legs, in the "
                          "straight way; closed from Fri 15\n"
                          "     Mar 2024 06:00 UTC until Sat 16 Mar 2024 "
                          "11:00 UTC\n"
                          "  far from the way: 3 more\n");
    example.plan.zones[0].distance_m = 0.0;
    example.plan.zones[0].in_straight_way = false;
    assert_contains(schedule(), "  -  Long <Shoal>: a leg goes into it\n");
    example.plan.zone_count = 0;
    assert_contains(schedule(), "  far from the way: 5\n");
    example.plan.all_zone_count = 0;
    schedule();
    lacks("ZONES");
}

static void a_timed_track_is_no_plan(void **state) {
    (void)state;
    example.plan.timed_only = true;
    assert_contains(schedule(), "A track of your own, timed through the");
}

/* Warnings speak as the rest of the sheet does. */
static void warnings_have_ships_time_and_names(void **state) {
    (void)state;
    example.plan.display.zone_s = 3600.0;
    example.warnings[0] =
        arena_print(&arena, "leg %s at %s", mark_leg(&arena, 2),
                    mark_time(&arena, example.plan.depart));
    assert_contains(schedule(), "  -  leg GYBE2 at Fri 15 Mar 06:00 UTC+1\n");
}

/* 3 h 57 min and 4 h 05 min after departure at 05:00: both would print as
 * 09:00, to the quarter. */
static void legs_of_one_printed_time_have_their_minutes(void **state) {
    (void)state;
    assert_contains(schedule(), "\nSET1   15 09:00 ");
    example.legs[1].start = instant_plus(example.plan.depart, 14220.0);
    example.legs[2].start = instant_plus(example.plan.depart, 14700.0);
    example.changes[0].at = example.legs[1].start;
    example.plan.change_count = 1;
    schedule();
    assert_contains(text, "\nW001   15 05:00 ");
    assert_contains(text, "\nSET1   15 08:57 ");
    assert_contains(text, "\nW003   15 09:05 ");
    /* after two days no minute is known: the rows' order tells */
    example.legs[3].start = example.legs[4].start;
    schedule();
    assert_contains(text, "\nW004   17 22h ");
    assert_contains(text, "\nW005   17 22h ");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(warnings_have_ships_time_and_names),
        TEST(legs_of_one_printed_time_have_their_minutes),
        TEST(every_line_is_ascii_and_at_most_80_wide),
        TEST(the_widest_figures_fit_too),
        TEST(no_side_stands_alone),
        TEST(no_number_stands_without_a_unit),
        TEST(the_leg_table_has_a_row_for_every_leg),
        TEST(magnetic_courses_stand_beside_the_true_ones),
        TEST(boom_and_engine_are_told_by_leg),
        TEST(the_nights_are_told_with_their_moon),
        TEST(without_reefs_in_the_boat_file_none_are_told),
        TEST(flags_of_legs_are_told_by_name),
        TEST(every_rig_of_the_plan_has_its_limits),
        TEST(each_work_refers_to_its_limits),
        TEST(work_outside_the_limits_is_marked),
        TEST(an_estimated_gust_is_one_everywhere),
        TEST(arrival_tells_the_light),
        TEST(the_summary_compares_with_no_spar),
        TEST(the_cost_adds_up_whatever_comfort_weighs),
        TEST(minutes_of_work_round_alike),
        TEST(what_it_costs_to_keep_gybes_is_told),
        TEST(a_given_track_says_where_the_spar_pays),
        TEST(comfort_is_hours_below_the_easy_roll),
        TEST(roll_is_told_where_someone_goes_forward),
        TEST(what_to_beware_of_is_told_by_leg),
        TEST(warnings_and_cautions_are_all_there),
        TEST(a_timed_track_is_no_plan),
        TEST(deck_work_has_its_room_to_leeward),
        TEST(zones_near_the_way_are_listed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
