/* What one plan has that another has not. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "report/differences.h"

static struct plan_summary usual(void) {
    return (struct plan_summary){.reached = true,
                                 .elapsed_s = 100.0 * 3600.0,
                                 .spar_s = 40.0 * 3600.0,
                                 .deck_work = 3,
                                 .night_deck_work = 2,
                                 .roll_mean_deg = 3.4,
                                 .roll_easy_s = 20.0 * 3600.0,
                                 .max_tws_mps = kn_to_mps(18.0),
                                 .max_gust_mps = figure_of(kn_to_mps(24.0)),
                                 .max_wave_m = figure_of(2.0)};
}

static void hours_fit_a_narrow_column(void **state) {
    (void)state;
    static const struct {
        double seconds;
        const char *expected;
    } cases[] = {{0.0, "0"},           {60.0, "<0.1"},
                 {179.0, "<0.1"},      {181.0, "0.1"},
                 {9.94 * 3600, "9.9"}, {9.96 * 3600, "10"},
                 {131.4 * 3600, "131"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[HOURS_TEXT_SIZE];
        differences_hours(cases[i].seconds, text);
        assert_string_equal(text, cases[i].expected);
    }
}

static void
what_is_better_comes_first_and_what_is_worse_after_but(void **state) {
    (void)state;
    struct plan_summary first = usual(), second = usual();
    first.spar_s += 31.0 * 3600.0;
    first.night_deck_work = 0;
    first.deck_work = 1;
    first.roll_mean_deg = 3.8;
    first.elapsed_s += 2.5 * 3600.0;
    assert_string_equal(
        differences_tell(&arena, &first, &second),
        "31 h more under spar, no deck work at night (2 there); but 2.5 h "
        "longer under way, 0.4 deg more roll");
    assert_string_equal(
        differences_tell(&arena, &second, &first),
        "2.5 h less under way, 0.4 deg less roll; but 31 h less under spar, 2 "
        "pieces of deck work more at night");
}

static void one_side_alone_is_told_as_such(void **state) {
    (void)state;
    struct plan_summary first = usual(), second = usual();
    assert_string_equal(differences_tell(&arena, &first, &second),
                        "no difference worth telling");
    first.max_wave_m.value = 2.6;
    assert_string_equal(differences_tell(&arena, &first, &second),
                        "nothing better, but 0.6 m more in the greatest wave");
    assert_string_equal(differences_tell(&arena, &second, &first),
                        "0.6 m less in the greatest wave");
}

/* Less than its least is no news; what one of them does not know is no
 * difference. */
static void what_is_not_known_or_too_small_is_left_out(void **state) {
    (void)state;
    struct plan_summary first = usual(), second = usual();
    first.max_gust_mps = figure_unknown();
    second.max_wave_m = figure_unknown();
    first.motor_s = figure_of(7200.0);
    first.elapsed_s += 800.0;
    first.roll_mean_deg += 0.09;
    assert_string_equal(differences_tell(&arena, &first, &second),
                        "no difference worth telling");
    second.motor_s = figure_of(3.5 * 3600.0);
    assert_string_equal(differences_tell(&arena, &first, &second),
                        "1.5 h less under engine");
}

/* What adds up to the cost: time, and roll and work as the ease weighs them. */
static void the_parts_of_a_cost_are_told_with_their_signs(void **state) {
    (void)state;
    struct plan_summary first = usual(), second = usual();
    first.cost_s = 110.0 * 3600.0;
    second.elapsed_s += 1.2 * 3600.0;
    second.discomfort_s = 0.5 * 3600.0;
    first.hardship_s = 0.25 * 3600.0;
    second.cost_s = first.cost_s + (1.2 + 2.0 * (0.5 - 0.25)) * 3600.0;
    assert_string_equal(differences_weighed(&arena, 2.0, &first, &second),
                        " (time +1.2 h, roll +1.0 h, deck work -0.5 h)");
    assert_string_equal(differences_weighed(&arena, 2.0, &second, &first),
                        " (time -1.2 h, roll -1.0 h, deck work +0.5 h)");
    second.elapsed_s = first.elapsed_s;
    second.hardship_s = first.hardship_s;
    second.cost_s = first.cost_s + 101.0 * 3600.0;
    assert_string_equal(differences_weighed(&arena, 2.0, &first, &second),
                        " (roll +1.0 h, work outside its limits +100.0 h)");
}

static void a_cost_that_is_all_time_has_no_parts(void **state) {
    (void)state;
    struct plan_summary first = usual(), second = usual();
    second.elapsed_s += 7200.0;
    second.discomfort_s = 100.0; /* a hundredth of an hour is less than shows */
    second.cost_s = first.cost_s + 7300.0;
    assert_string_equal(differences_weighed(&arena, 1.0, &first, &second), "");
    second.discomfort_s = 36000.0;
    second.cost_s = first.cost_s + 7200.0;
    assert_string_equal(differences_weighed(&arena, 0.0, &first, &second), "");
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(hours_fit_a_narrow_column),
        TEST(what_is_better_comes_first_and_what_is_worse_after_but),
        TEST(one_side_alone_is_told_as_such),
        TEST(what_is_not_known_or_too_small_is_left_out),
        TEST(the_parts_of_a_cost_are_told_with_their_signs),
        TEST(a_cost_that_is_all_time_has_no_parts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
