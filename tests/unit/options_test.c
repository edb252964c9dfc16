#include "../support/check.h"
#include "../support/scratch.h"

#include "command/options.h"

#include "base/text.h"

#include <string.h>

enum { WORDS = 20 };

static struct error error;
static struct command_line line;

/* The words of a command line, with '|' between. */
static bool read_line(enum command_id id, const char *words) {
    char *argv[WORDS + 1] = {NULL};
    int argc = 0;
    char *rest = arena_copy(&arena, words);
    while (rest && argc < WORDS) {
        char *bar = strchr(rest, '|');
        argv[argc++] = rest;
        if (bar)
            *bar++ = '\0';
        rest = bar;
    }
    return options_read(&line, &commands[id], argc, argv, &arena, &error);
}

static void options_stand_anywhere_among_the_operands(void **state) {
    (void)state;
    assert_true(read_line(COMMAND_ALONG, "along|--ease|0.5|a.gpx|--force|"
                                         "--boat=b.ini|p.ini|--json"));
    assert_int_equal(line.operand_count, 2);
    assert_string_equal(line.operands[0], "a.gpx");
    assert_string_equal(line.operands[1], "p.ini");
    assert_int_equal(line.setting_count, 2);
    assert_string_equal(line.settings[0].name, "ease");
    assert_string_equal(line.settings[0].value, "0.5");
    assert_string_equal(line.settings[1].name, "boat");
    assert_string_equal(line.settings[1].value, "b.ini");
    assert_true(line.flags[FLAG_FORCE]);
    assert_true(line.flags[FLAG_JSON]);
    assert_false(line.flags[FLAG_QUIET]);
}

/* Places in the south and west start with a minus sign. */
static void a_value_may_start_with_a_minus(void **state) {
    (void)state;
    assert_true(read_line(COMMAND_PLAN, "plan|--from|-33.9,18.4|--to=-8,-14|"
                                        "--zone-hours|-3"));
    assert_int_equal(line.setting_count, 3);
    assert_string_equal(line.settings[0].value, "-33.9,18.4");
    assert_string_equal(line.settings[1].value, "-8,-14");
    assert_string_equal(line.settings[2].name, "zone-hours");
    assert_string_equal(line.settings[2].value, "-3");
}

static void what_follows_two_dashes_is_no_option(void **state) {
    (void)state;
    assert_true(read_line(COMMAND_FORECAST, "forecast|a.grb|--|--help|-x"));
    assert_int_equal(line.operand_count, 3);
    assert_string_equal(line.operands[1], "--help");
    assert_string_equal(line.operands[2], "-x");
    assert_false(line.flags[FLAG_HELP]);
}

static void a_switch_says_yes(void **state) {
    (void)state;
    assert_true(read_line(COMMAND_PLAN, "plan|--ascii|p.ini"));
    assert_int_equal(line.setting_count, 1);
    assert_string_equal(line.settings[0].name, "ascii");
    assert_string_equal(line.settings[0].value, "yes");
    assert_int_equal(line.operand_count, 1);
}

static void a_list_keeps_its_order(void **state) {
    (void)state;
    assert_true(read_line(COMMAND_PLAN, "plan|--via|1N 1W|--via|2N 2W"));
    assert_string_equal(line.settings[0].value, "1N 1W");
    assert_string_equal(line.settings[1].value, "2N 2W");
}

static void observations_are_kept_in_their_order(void **state) {
    (void)state;
    assert_true(
        read_line(COMMAND_BOAT, "boat|--roll-seen|one|b.ini|--roll-seen=two"));
    assert_int_equal(line.roll_seen_count, 2);
    assert_string_equal(line.roll_seen[0], "one");
    assert_string_equal(line.roll_seen[1], "two");
    assert_int_equal(line.operand_count, 1);
    assert_false(read_line(COMMAND_PLAN, "plan|--roll-seen|one"));
    assert_contains(error.text, "unknown option '--roll-seen'");
}

static void a_window_has_options_of_its_own(void **state) {
    (void)state;
    assert_true(read_line(COMMAND_WINDOW,
                          "window|p.ini|--latest|now|--every=3|--jsonl"));
    assert_int_equal(line.setting_count, 2);
    assert_string_equal(line.settings[0].name, "latest");
    assert_string_equal(line.settings[1].value, "3");
    assert_true(line.flags[FLAG_JSONL]);
    assert_false(line.flags[FLAG_JSON]);
}

/* What to ask for is asked before there is a file; the places and the time may
 * be those of now. */
static void forecast_takes_the_places_of_a_passage(void **state) {
    (void)state;
    assert_true(read_line(COMMAND_FORECAST,
                          "forecast|--for|p.ini|--from|1 N 2 W|--depart|now"));
    assert_true(line.flags[FLAG_FOR]);
    assert_string_equal(line.values[FLAG_FOR], "p.ini");
    assert_int_equal(line.operand_count, 0);
    assert_int_equal(line.setting_count, 2);
    assert_string_equal(line.settings[0].name, "from");
    assert_string_equal(line.settings[1].value, "now");
    assert_false(read_line(COMMAND_PLAN, "plan|--for|p.ini"));
    assert_contains(error.text, "unknown option '--for'");
}

static void faults_are_told_with_a_remedy(void **state) {
    (void)state;
    static const struct {
        enum command_id id;
        const char *words, *expected;
    } cases[] = {
        {COMMAND_PLAN, "plan|--max-wnd|30",
         "unknown option '--max-wnd'; did you mean '--max-wind'"},
        {COMMAND_PLAN, "plan|--max_wind=30",
         "unknown option '--max_wind'; did you mean '--max-wind'"},
        /* a shortened name might mean two tomorrow */
        {COMMAND_PLAN, "plan|--dep|now",
         "unknown option '--dep'; did you mean '--depart'"},
        {COMMAND_PLAN, "plan|--dep=now",
         "unknown option '--dep'; did you mean '--depart'"},
        {COMMAND_PLAN, "plan|--colour",
         "unknown option '--colour'; 'sparwise plan --help' lists them"},
        {COMMAND_PLAN, "plan|-x",
         "unknown option '-x'; 'sparwise plan --help' lists them"},
        {COMMAND_PLAN, "plan|p.ini|--ease",
         "option '--ease' needs a value after it; 'sparwise plan --help' "
         "tells which"},
        {COMMAND_PLAN, "plan|--json=yes",
         "option '--json' takes no value; leave out '=yes'"},
        {COMMAND_PLAN, "plan|a.ini|b.ini",
         "'b.ini' is one file too many; write sparwise plan [PASSAGE.ini]"},
        {COMMAND_ALONG, "along",
         "'along' is told no file; write sparwise along TRACK.gpx "
         "[PASSAGE.ini]"},
        {COMMAND_FORECAST, "forecast|a.grb|--ease|1",
         "unknown option '--ease'; 'sparwise forecast --help' lists them"},
        {COMMAND_BOAT, "boat|b.ini|--force",
         "unknown option '--force'; 'sparwise boat --help' lists them"},
        {COMMAND_PLAN, "plan|--as-timed",
         "unknown option '--as-timed'; 'sparwise plan --help' lists them"},
        {COMMAND_PLAN, "plan|--latest|now",
         "unknown option '--latest'; 'sparwise plan --help' lists them"},
        {COMMAND_WINDOW, "window|--choose|2",
         "unknown option '--choose'; 'sparwise window --help' lists them"},
        {COMMAND_FORECAST, "forecast",
         "'forecast' is told no file; write sparwise forecast FILE..."},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        assert_false(read_line(cases[i].id, cases[i].words));
        assert_string_equal(error.text, cases[i].expected);
        assert_int_equal(error.status, STATUS_USAGE);
    }
}

static void help_and_templates_need_no_file(void **state) {
    (void)state;
    assert_true(read_line(COMMAND_ALONG, "along|--help"));
    assert_true(line.flags[FLAG_HELP]);
    assert_true(read_line(COMMAND_BOAT, "boat|--template"));
    assert_true(line.flags[FLAG_TEMPLATE]);
    assert_true(read_line(COMMAND_FORECAST, "forecast|--version"));
    assert_true(line.flags[FLAG_VERSION]);
}

static void commands_are_found_by_name(void **state) {
    (void)state;
    assert_ptr_equal(command_find("along", &error), &commands[COMMAND_ALONG]);
    assert_null(command_find("fourcast", &error));
    assert_string_equal(error.text,
                        "unknown command 'fourcast'; did you mean 'forecast'");
    assert_int_equal(error.status, STATUS_USAGE);
    assert_null(command_find("", &error));
    assert_string_equal(error.text,
                        "unknown command ''; 'sparwise --help' lists them");
}

/* docs/files.md is the register of options, too. */
static void every_option_stands_in_the_register(void **state) {
    (void)state;
    char *docs = text_load(&arena, "docs/files.md", 1 << 20, &error);
    assert_non_null(docs);
    for (size_t i = 0; i < own_option_count; i++) {
        const struct own_option *option = &own_options[i];
        assert_contains(docs, arena_print(&arena, "\n| `--%s%s%s` | ",
                                          option->name, option->word ? " " : "",
                                          option->word ? option->word : ""));
    }
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(options_stand_anywhere_among_the_operands),
        TEST(a_value_may_start_with_a_minus),
        TEST(what_follows_two_dashes_is_no_option),
        TEST(a_switch_says_yes),
        TEST(a_list_keeps_its_order),
        TEST(observations_are_kept_in_their_order),
        TEST(a_window_has_options_of_its_own),
        TEST(forecast_takes_the_places_of_a_passage),
        TEST(faults_are_told_with_a_remedy),
        TEST(help_and_templates_need_no_file),
        TEST(commands_are_found_by_name),
        TEST(every_option_stands_in_the_register),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
