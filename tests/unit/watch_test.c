/* The head of the schedule and what the watch on deck reads: at departure, next
 * on deck. */
#include "../support/check.h"
#include "../support/one_screen.h"
#include "../support/schedule_text.h"

#include "report/schedule.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void page_one_tells_what_the_watch_must_know(void **state) {
    (void)state;
    static const char *const parts[] = {
        "All times are UTC, all directions true; wind is the true\n",
        "wind over the water but where it says apparent.\n",
        "  Depart      Fri 15 Mar 2024 05:00 UTC\n",
        "run of Thu 14 Mar 2024 00:00 UTC, 29 h old at departure",
        "good to Sun 17 Mar 2024 00:00 UTC, fair to Tue 19 Mar 2024 00:00",
        "AT DEPARTURE  Fri 15 Mar 2024 05:00 UTC\n",
        "  Rig         spar stowed, boom to port; preventer on; whole "
        "mainsail\n",
        "  Steer       231 deg true, to make good 228 deg true",
        "  Wind        from 021 deg, 14 kn, gust 21 kn\n",
        "  Sea         up to 2.0 m, 8 s, from 000 deg, roll often 5, at times "
        "7 "
        "deg\n",
        "NEXT ON DECK  SET1, set the spar to starboard\n",
        "  When        Fri 15 Mar 09:00 UTC, by day, sun 18 deg up; takes",
        "  Room        between Fri 15 Mar 08:00 and 14:30 UTC\n",
        "  Clock       surely between Fri 15 Mar 08:45 and 13:45 UTC",
        "  Skip        leaving it undone: arrival 2 h 30 min later, 0.9 deg",
        "  Why         the course bears away\n",
        "  Length      spar at 5.8 m for the genoa\n",
        "  Expect      true wind 17 kn (13 kn apparent) from 066 deg, gust 21 "
        "kn, sea 2.0 m, roll 4 deg rms: often 8, at times 12 deg; trust: good",
        "  Go          with true wind to 18 kn (13 kn apparent), gust to 22 "
        "kn,",
        "  Not         above any of these: the spar stays stowed; wait\n",
        "  Else        if it is not done: sail on with the spar stowed",
        "  After that  GYBE2, gybe: spar to port, boom to starboard",
    };
    schedule();
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        tells(parts[i]);
}

/* From the departure on: what the watch on deck has to read. */
static void what_the_watch_needs_fits_one_screen(void **state) {
    (void)state;
    check_one_screen(schedule());
}

static void a_leg_with_the_spar_drawing_has_its_limits(void **state) {
    (void)state;
    example.plan.legs = &example.legs[1];
    example.plan.leg_count = 1;
    example.plan.change_count = 0;
    schedule();
    tells("  Rig         spar to starboard with the headsail "
          "drawing, boom to port:");
    tells(" boom to port: wing-and-wing; preventer on; mainsail with reef 1\n");
    tells("  Keep        AWA 145 deg on the starboard side, "
          "through dead aft, to TWA 177 deg");
    tells("if the true wind passes 22 kn (14 kn apparent)");
    tells("nobody goes forward");
    tells("NEXT ON DECK  nothing: nobody goes forward\n");
    tells("none: the boat stays as she is rigged\n");
}

static void forward_of_the_beam_no_preventer_is_told(void **state) {
    (void)state;
    example.legs[0].awa_deg = -89.0;
    schedule();
    tells("  Rig         spar stowed, boom to port; whole mainsail\n");
    example.legs[0].awa_deg = -91.0;
    schedule();
    tells("  Rig         spar stowed, boom to port; preventer on; whole");
}

static void work_at_departure_tells_the_rig_before_and_after(void **state) {
    (void)state;
    example.plan.legs = &example.legs[1];
    example.plan.leg_count = 1;
    example.plan.change_count = 1;
    example.plan.depart = example.legs[1].start;
    example.changes[0].leg = 0;
    schedule();
    assert_contains(text, "  Rig now     spar stowed, boom to port\n");
    assert_contains(text, "  Rig then    spar to starboard with the headsail");
    assert_contains(text, "SET1   15 09:07 262");
}

static void the_coast_is_named_or_said_to_be_missing(void **state) {
    (void)state;
    struct plan_coast *coast = &example.plan.coast;
    schedule();
    lacks("NO LAND CHECK");
    assert_contains(text, "Coast       GSHHG 2.3.7, high resolution: at least "
                          "2.0 nmi off, but not within\n"
                          "              5.0 nmi of start and finish\n");
    assert_contains(text, "Berth       the start is on land: the plan begins "
                          "in the sea, 0.32 nmi from it\n");
    lacks("the finish is on land");
    coast->finish_moved_m = 18.52;
    assert_contains(schedule(), "Berth       the finish is on land: the plan "
                                "ends in the sea, 0.01 nmi from it\n");
    example.plan.timed_only = true;
    assert_contains(schedule(), "what comes nearer than 2.0 nmi is\n"
                                "              under WARNINGS\n");
    *coast = (struct plan_coast){.name = NULL};
    assert_contains(schedule(), "Coast       NO LAND CHECK: no shorelines are "
                                "installed\n");
    lacks("Berth");
    coast->switched_off = true;
    assert_contains(schedule(),
                    "Coast       NO LAND CHECK: it is switched off\n");
}

/* From the cockpit, so that no point has its name: on page one all the same. */
static void a_boom_that_comes_over_before_is_told(void **state) {
    (void)state;
    example.changes[0] = example.changes[4];
    example.changes[0].at = example.legs[1].start;
    schedule();
    tells("NEXT ON DECK  GYBE1, gybe: spar to port, boom to starboard\n"
          "  Before it   gybe the mainsail, boom to port: Fri 15 Mar 09:00 "
          "UTC\n  When ");
    example.changes[2] = example.changes[1];
    example.changes[1] = example.changes[0];
    schedule();
    tells("Fri 15 Mar 09:00 UTC, and 1 more\n  When ");
    example.plan.change_count = 1;
    schedule();
    tells("NEXT ON DECK  nothing: nobody goes forward\n  Before it   gybe the");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(page_one_tells_what_the_watch_must_know),
        TEST(what_the_watch_needs_fits_one_screen),
        TEST(a_leg_with_the_spar_drawing_has_its_limits),
        TEST(forward_of_the_beam_no_preventer_is_told),
        TEST(work_at_departure_tells_the_rig_before_and_after),
        TEST(a_boom_that_comes_over_before_is_told),
        TEST(the_coast_is_named_or_said_to_be_missing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
