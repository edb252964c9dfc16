/* What one plan has that another has not. */
#include "../support/check.h"

#include "report/differences.h"

static struct arena arena;

static int begin(void **state) {
    (void)state;
    arena_init(&arena);
    return 0;
}

static int finish(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

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

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(hours_fit_a_narrow_column),
        TEST(what_is_better_comes_first_and_what_is_worse_after_but),
        TEST(one_side_alone_is_told_as_such),
        TEST(what_is_not_known_or_too_small_is_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
