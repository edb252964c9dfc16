#include "../support/check.h"
#include "../support/scratch.h"
#include "../support/side_words.h"

#include "report/words.h"
#include <string.h>

/* The spar to windward is wing-and-wing, to leeward a poled reach; the boom is
 * always to leeward. */
static void every_rig_has_its_words(void **state) {
    (void)state;
    static const struct {
        struct deck deck;
        const char *brief, *whole;
    } cases[] = {
        {{SPAR_STOWED, false, true},
         "spar stowed",
         "spar stowed, boom to port"},
        {{SPAR_STOWED, false, false},
         "spar stowed",
         "spar stowed, boom to starboard"},
        {{SPAR_STARBOARD, false, true},
         "spar starboard, wing-and-wing",
         "spar to starboard with the headsail drawing, boom to port: "
         "wing-and-wing"},
        {{SPAR_PORT, false, false},
         "spar port, wing-and-wing",
         "spar to port with the headsail drawing, boom to starboard: "
         "wing-and-wing"},
        {{SPAR_PORT, false, true},
         "spar port, poled reach",
         "spar to port with the headsail drawing, boom to port: poled reach"},
        {{SPAR_STARBOARD, false, false},
         "spar starboard, poled reach",
         "spar to starboard with the headsail drawing, boom to starboard: "
         "poled reach"},
        {{SPAR_PORT, true, true},
         "spar port, sail rolled",
         "spar to port with the headsail rolled away, boom to port"},
        {{SPAR_STARBOARD, true, true},
         "spar starboard, sail rolled",
         "spar to starboard with the headsail rolled away, boom to port"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_string_equal(words_rig_short(cases[i].deck), cases[i].brief);
        assert_string_equal(words_rig(&arena, cases[i].deck), cases[i].whole);
    }
}

static void no_text_says_a_side_alone(void **state) {
    (void)state;
    for (int i = 0; i < DECK_STATES; i++) {
        struct deck deck = deck_at(i);
        check_side_words(words_rig(&arena, deck));
        check_side_words(words_rig_short(deck));
        assert_true(strlen(words_rig_short(deck)) <= 29);
        check_side_words(words_rig_cell(deck));
        assert_true(strlen(words_rig_cell(deck)) <= 22);
        for (enum change_kind kind = 0; kind < CHANGE_KINDS; kind++) {
            check_side_words(words_order(&arena, kind, deck));
            check_side_words(words_result(&arena, kind, deck));
            assert_true(strlen(words_result(&arena, kind, deck)) <= 27);
        }
    }
}

static void orders_say_what_to_do(void **state) {
    (void)state;
    struct deck port = {SPAR_PORT, false, false};
    static const char *const expected[CHANGE_KINDS] = {
        "set the spar to port",
        "gybe: spar to port, boom to starboard",
        "spar across to port, the boom stays to starboard",
        "stow the spar",
        "gybe the mainsail, boom to starboard",
        "tack, wind to the port side",
        "roll the headsail away",
        "unroll the headsail"};
    for (enum change_kind kind = 0; kind < CHANGE_KINDS; kind++)
        assert_string_equal(words_order(&arena, kind, port), expected[kind]);
}

static void roll_is_told_as_people_notice_it(void **state) {
    (void)state;
    assert_string_equal(words_roll(&arena, 4.0),
                        "4 deg rms: often 8, at times 12 deg");
    assert_string_equal(words_roll(&arena, 2.4),
                        "2 deg rms: often 5, at times 7 deg");
    assert_string_equal(words_roll(&arena, 0.51),
                        "1 deg rms: often 1, at times 2 deg");
    assert_string_equal(words_roll_seen(&arena, 4.0),
                        "often 8, at times 12 deg");
}

static void a_roll_that_rounds_to_none_is_told_so(void **state) {
    (void)state;
    assert_string_equal(words_roll(&arena, 0.49), "under 1 deg rms");
    assert_string_equal(words_roll(&arena, 0.0), "under 1 deg rms");
    assert_string_equal(words_roll_seen(&arena, 0.49), "hardly any");
}

static void directions_are_told_as_from_on_board(void **state) {
    (void)state;
    static const struct {
        double off_bow_deg;
        const char *expected;
    } cases[] = {{0.0, "ahead"},
                 {22.4, "ahead"},
                 {-22.4, "ahead"},
                 {22.6, "on the starboard bow"},
                 {-22.6, "on the port bow"},
                 {-67.4, "on the port bow"},
                 {67.6, "on the starboard beam"},
                 {-112.4, "on the port beam"},
                 {112.6, "on the starboard quarter"},
                 {-157.4, "on the port quarter"},
                 {157.6, "astern"},
                 {-157.6, "astern"},
                 {180.0, "astern"},
                 {-180.0, "astern"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(words_off_bow(cases[i].off_bow_deg),
                            cases[i].expected);
}

static void durations_are_days_and_hours_or_hours_and_minutes(void **state) {
    (void)state;
    static const struct {
        double hours;
        const char *expected;
    } cases[] = {{0.0, "0 h 00 min"},     {0.999, "1 h 00 min"},
                 {41.335, "41 h 20 min"}, {47.99, "47 h 59 min"},
                 {47.999, "2 d 0 h"},     {82.2, "3 d 10 h"},
                 {71.9, "3 d 0 h"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        assert_string_equal(words_duration(&arena, cases[i].hours * 3600.0),
                            cases[i].expected);
}

static void directions_stay_below_360(void **state) {
    (void)state;
    assert_int_equal(words_degrees(359.4), 359);
    assert_int_equal(words_degrees(359.5), 0);
    assert_int_equal(words_degrees(0.0), 0);
    assert_int_equal(words_degrees(-90.0), 270);
}

static void other_letters_become_question_marks(void **state) {
    (void)state;
    assert_string_equal(words_ascii(&arena, "Or\xC3\xA9 \xF0\x9F\x98\x80!"),
                        "Or? ?!");
    assert_string_equal(words_ascii(&arena, "a\x1b[2J\tb\nc\xFF"), "a[2J b c?");
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(every_rig_has_its_words),
        TEST(no_text_says_a_side_alone),
        TEST(orders_say_what_to_do),
        TEST(roll_is_told_as_people_notice_it),
        TEST(a_roll_that_rounds_to_none_is_told_so),
        TEST(directions_are_told_as_from_on_board),
        TEST(durations_are_days_and_hours_or_hours_and_minutes),
        TEST(directions_stay_below_360),
        TEST(other_letters_become_question_marks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
