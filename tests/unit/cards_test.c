/* The order of steps, by how the mainsail is held. */
#include "../support/check.h"
#include "../support/flat.h"
#include "../support/schedule_text.h"

#include "report/cards.h"

#include <stdio.h>
#include <string.h>

static const char *told(void) {
    FILE *stream = text_begin();
    cards_write(&example.boat, stream);
    return text_close();
}

static const char *card(const char *title) {
    const char *at = strstr(text, title);
    if (!at)
        fail_msg("no card '%s' in:\n%s", title, text);
    return at;
}

/* Nobody is forward while the boom comes over: the hands are back before. */
static void back_before_the_gybe(const char *title) {
    const char *forward = strstr(card(title), "One person forward");
    const char *back = strstr(card(title), "Everybody back in the cockpit");
    const char *gybe = strstr(card(title), "Gybe.");
    assert_true(forward && back && gybe);
    assert_true(forward < back && back < gybe);
}

static void two_preventers_are_worked_from_the_cockpit(void **state) {
    (void)state;
    told();
    back_before_the_gybe("  GYBE\n");
    assert_contains(text,
                    "Old preventer off. Mainsheet hard in. Gybe. Ease. New "
                    "preventer on.");
    assert_contains(card("  MAINSAIL GYBE, THE SPAR STAYS OUT\n"),
                    "Nobody forward. Old preventer off");
    assert_null(strstr(text, "SINGLE"));
}

static void a_single_one_sends_someone_forward_twice(void **state) {
    (void)state;
    example.boat.handling.single_preventer = true;
    told();
    back_before_the_gybe("  GYBE, SINGLE PREVENTER\n");
    back_before_the_gybe("  MAINSAIL GYBE, THE SPAR STAYS OUT, SINGLE");
    assert_null(strstr(text, "  GYBE\n"));
    assert_null(strstr(text, "Nobody forward. Old preventer"));
    const char *again =
        strstr(card("  GYBE, SINGLE"), "One person forward, clipped on: "
                                       "preventer to the new side");
    assert_true(again && again > strstr(card("  GYBE, SINGLE"), "Gybe."));
}

/* 4 min to roll the headsail, half as much again at night: at 6 kn 0.4 and 0.6
 * nmi. */
static void who_is_overboard_waits_for_the_headsail(void **state) {
    (void)state;
    example.boat.spar.roll_s = 240.0;
    example.boat.spar.night_factor = 1.5;
    told();
    flatten(text);
    assert_contains(text,
                    "Before she can turn back: 4 min for the headsail, at "
                    "night 6 min, then the preventer. At 6 kn she is 0.4 nmi "
                    "away by then, at night 0.6 nmi.");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(two_preventers_are_worked_from_the_cockpit),
        TEST(a_single_one_sends_someone_forward_twice),
        TEST(who_is_overboard_waits_for_the_headsail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
