/* The program from outside: exit status, messages, files. */
#include "../support/comma_locale.h"
#include "../support/short_passage.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static size_t lines_of(const char *text) {
    size_t lines = 0;
    for (; *text; text++)
        lines += *text == '\n';
    return lines;
}

static bool is_there(const char *path) {
    return access(path, F_OK) == 0;
}

static void assert_no_draft_left(void) {
    struct ran ran = check_shell(
        arena_print(&short_arena, "find '%s' -name '*.part'", check_folder()));
    assert_string_equal(ran.out, "");
}

/* --- what goes wrong ------------------------------------------------------ */

static void bad_files_are_made(void) {
    check_write("empty.grb", "");
    check_write("page.grb", "<!DOCTYPE html>\n<html><body>GRIB service is "
                            "busy, try again</body></html>\n");
    check_write("gap.csv", "TWA/TWS;6;10;16\n52;5.1;6.0;6.4\n90;6.0;;7.2\n");
    check_write("unknown-key.ini", "[passage]\nmax_wnd = 20\n");
    check_write("empty.gpx", "");
    check_write("page.gpx", "<html><body>busy</body></html>\n");
    check_write("plain", "a file, not a folder");
    check_write(
        "gap.ini",
        arena_print(&short_arena,
                    "[boat]\nname = Gap\nlength_waterline_m = 8\nbeam_m = 3\n"
                    "draft_m = 1.5\ndisplacement_kg = 4000\n[polars]\n"
                    "stowed = gap.csv\nspar = %s/polars/heron-9-spar.csv\n"
                    "[spar]\nlength_m = 2.6 5.2\n",
                    short_root()));
    check_write("typing.ini", "[boat]\nname = T\nbeem_m = 3\n");
}

/* Each gives its status and one line that names what it is about, and leaves
 * nothing behind. FOLDER stands for the tests' folder, PASSAGE for a good
 * passage file. */
static const struct {
    const char *arguments;
    int status;
    const char *expected;
} faults[] = {
    {"", 2, "no command is given"},
    {"plans", 2, "unknown command 'plans'; did you mean 'plan'"},
    {"window PASSAGE", 3,
     "key 'latest' is missing from [passage]; add it, or "
     "give --latest"},
    {"window PASSAGE --latest 2026-06-21T00:00Z", 3,
     "the latest departure, '2026-06-21T00:00Z', is before the earliest, "
     "'2026-06-21T04:00Z'; give a later one"},
    {"window PASSAGE --latest 2027-06-21T00:00Z", 3,
     "the window has 1460 departures, and 1000 is the most; give a longer "
     "'every', or take it in parts"},
    {"window PASSAGE --latest 2026-06-21T06:00Z --csv --json", 2,
     "--csv, --json and --jsonl each print the whole window; give one"},
    {"window PASSAGE --ease 0,1", 2,
     "several eases, '0,1', are for 'plan' alone"},
    {"window PASSAGE --earliest 2026-07-01T00:00Z --latest 2026-07-01T06:00Z",
     4,
     "none of 2 departures can be planned; the first: the departure "
     "2026-07-01T00:00:00Z is not before the last step of the wind"},
    {"plan PASSAGE --ease 0,1 --choose 3", 2,
     "'3' for '--choose' is none of the 2 eases; give a number from 1 to 2"},
    {"plan PASSAGE --choose 1", 2, "'--choose' is for several eases"},
    {"along FOLDER/none.gpx PASSAGE --ease 0,1", 2,
     "several eases, '0,1', are for 'plan' alone"},
    {"plan", 2, "'--boat' is missing, and no passage file is given"},
    {"plan PASSAGE --max-wnd 20", 2, "did you mean '--max-wind'"},
    {"plan PASSAGE --magnetic --depart 2031-01-01T00:00Z --out FOLDER/o", 3,
     "the departure 2031-01-01T00:00:00Z is outside the years of the magnetic "
     "model, 2025 to 2029; leave out 'magnetic'"},
    {"plan PASSAGE --coast FOLDER/page.grb --out FOLDER/o", 3, "page.grb"},
    {"plan PASSAGE --zones FOLDER/page.gpx --out FOLDER/o", 3,
     "page.gpx:1: not JSON"},
    {"plan FOLDER/none.ini", 3, "none.ini' can't be read: No such file"},
    {"plan FOLDER/unknown-key.ini", 3,
     "unknown-key.ini:2: unknown key 'max_wnd' in [passage]; did you mean "
     "'max_wind'"},
    {"plan PASSAGE --boat FOLDER/none.ini --out FOLDER/o", 3,
     "none.ini' can't be read: No such file"},
    {"plan PASSAGE --boat FOLDER/typing.ini --out FOLDER/o", 3,
     "typing.ini:3: unknown key 'beem_m' in [boat]; did you mean 'beam_m'"},
    {"plan PASSAGE --boat FOLDER/gap.ini --out FOLDER/o", 3, "gap.csv:3"},
    {"boat FOLDER/gap.ini", 3, "gap.csv:3"},
    {"plan PASSAGE --forecast FOLDER/none.grb --out FOLDER/o", 3, "none.grb"},
    {"plan PASSAGE --forecast FOLDER/empty.grb --out FOLDER/o", 3,
     "empty file"},
    {"plan PASSAGE --forecast FOLDER/page.grb --out FOLDER/o", 3,
     "looks like a web page"},
    {"forecast FOLDER/empty.grb", 3, "empty file"},
    {"forecast FOLDER/page.grb", 3, "looks like a web page"},
    {"forecast FOLDER", 3, "is a directory"},
    {"plan PASSAGE --from '10 N 60 W' --out FOLDER/o", 4,
     "no wind in the forecast at the start"},
    {"plan PASSAGE --to '10 N 60 W' --out FOLDER/o", 4,
     "no wind in the forecast at the finish"},
    {"plan PASSAGE --depart 2026-07-01T00:00Z --out FOLDER/o", 4,
     "2026-06-23T00:00:00Z; look at the day, take the newest file, or ask "
     "for "},
    {"plan PASSAGE --depart 2026-06-01T00:00Z --out FOLDER/o", 4,
     "before the first step of the wind, 2026-06-21T00:00:00Z; look at "
     "the day, take the newest file, or ask for "},
    {"plan PASSAGE --to '39 18 N 9 48 W' --spar port --out FOLDER/o", 3,
     "the start and the finish are one place"},
    {"plan FOLDER", 3, "is a folder; name a file in it"},
    {"plan PASSAGE --max-wind 2 --out FOLDER/o", 1,
     "closed by max_wind, 2 kn; raise it or depart at another time; if it is "
     "in "
     "m/s, write 4 kn"},
    {"plan PASSAGE --out FOLDER/plain", 5, "is not a folder"},
    {"plan PASSAGE --out FOLDER/plain/o", 5, "can't be made"},
    {"plan PASSAGE --out FOLDER/none/o", 5, "can't be made"},
    {"plan PASSAGE --out /proc/o", 5, "/proc/o"},
    {"along FOLDER/empty.gpx PASSAGE", 3, "empty.gpx"},
    {"along FOLDER/page.gpx PASSAGE", 3, "page.gpx"},
    {"along FOLDER/none.gpx PASSAGE", 3, "none.gpx"},
};

static void a_fault_has_its_status_and_one_message(void **state) {
    (void)state;
    const char *passage = short_passage();
    bad_files_are_made();
    for (size_t i = 0; i < sizeof faults / sizeof *faults; i++) {
        const char *arguments = short_replaced(
            short_replaced(faults[i].arguments, "FOLDER", check_folder()),
            "PASSAGE", passage);
        struct ran ran = check_run(arguments);
        if (ran.status != faults[i].status)
            print_error("%s\n%s", arguments, ran.err);
        assert_int_equal(ran.status, faults[i].status);
        assert_contains(ran.err, faults[i].expected);
        assert_string_equal(ran.out, "");
        const char *message =
            *arguments ? ran.err : strstr(ran.err, "sparwise: ");
        assert_int_equal(lines_of(message), 1);
        assert_int_equal(strncmp(message, "sparwise: ", 10), 0);
        assert_false(is_there(short_path("o")));
        assert_no_draft_left();
    }
}

static void a_folder_without_rights_is_told_before_the_search(void **state) {
    (void)state;
    if (geteuid() == 0) {
        print_message("skipped: root may write everywhere\n");
        skip();
    }
    check_shell(
        arena_print(&short_arena, "mkdir -m 555 '%s'", short_path("locked")));
    struct ran ran = short_plan(
        arena_print(&short_arena, "--out '%s'", short_path("locked")));
    assert_int_equal(ran.status, 5);
    assert_contains(ran.err, "can't be written: Permission denied");
}

static void a_full_device_is_told(void **state) {
    (void)state;
    struct ran ran = short_plan("--json >/dev/full");
    assert_int_equal(ran.status, 5);
    assert_contains(ran.err, "sparwise: standard output can't be written: ");
}

/* In a mount space of its own the library's folder is covered by an empty one:
 * a message of ours and no abort, and nothing is written. */
static void a_library_without_its_definitions_is_told(void **state) {
    (void)state;
    static const char cover[] = "/usr/share/eccodes/definitions";
    const char *program = getenv("SPARWISE");
    const char *inside = arena_print(
        &short_arena,
        "mkdir -p none && mount --bind none %s 2>/dev/null || exit 99", cover);
    struct ran ran = check_shell(
        arena_print(&short_arena,
                    "unshare -m true 2>/dev/null || exit 99; cd '%s' && "
                    "unshare -m sh -c \"%s; cd '%s'; '%s' plan '%s' --out "
                    "'%s'\"",
                    check_folder(), inside, short_root(),
                    program ? program : "build/release/sparwise",
                    short_passage(), short_path("no-library")));
    if (access(cover, F_OK) != 0 || ran.status == 99) {
        print_message("skipped: no folder can be covered here\n");
        skip();
    }
    assert_int_equal(ran.status, 71);
    assert_contains(ran.err, "the GRIB library's definitions are not in '");
    assert_contains(ran.err, "install libeccodes-data, or set "
                             "ECCODES_DEFINITION_PATH");
    assert_int_not_equal(access(short_path("no-library"), F_OK), 0);
}

static void a_bad_file_among_good_ones_is_a_warning(void **state) {
    (void)state;
    bad_files_are_made();
    struct ran ran = check_run(arena_print(
        &short_arena, "forecast grib-samples/coastal-hop.grib2 '%s'",
        short_path("page.grb")));
    assert_int_equal(ran.status, 0);
    assert_contains(ran.err, "sparwise: warning: ");
    assert_contains(ran.err, "looks like a web page");
}

/* --- files ---------------------------------------------------------------- */

static void the_files_appear_and_are_kept(void **state) {
    (void)state;
    const char *out = short_path("kept");
    const char *to_out = arena_print(&short_arena, "--out '%s'", out);
    struct ran first = short_plan(to_out);
    assert_int_equal(first.status, 0);
    struct ran listed =
        check_shell(arena_print(&short_arena, "ls -A '%s'", out));
    assert_string_equal(listed.out,
                        "plan.json\nreport.html\nroute.gpx\nschedule.txt\n");
    struct ran shown =
        check_shell(arena_print(&short_arena, "cat '%s/schedule.txt'", out));
    assert_string_equal(shown.out, first.out);

    check_shell(arena_print(&short_arena, "echo mine >'%s/route.gpx'", out));
    struct ran second = short_plan(to_out);
    assert_int_equal(second.status, 5);
    assert_contains(second.err, "a plan is already there: ");
    assert_contains(second.err, "give --force to replace it");
    assert_string_equal(second.out, "");
    const char *show = arena_print(&short_arena, "cat '%s/route.gpx'", out);
    assert_string_equal(check_shell(show).out, "mine\n");

    assert_int_equal(
        short_plan(arena_print(&short_arena, "%s --force", to_out)).status, 0);
    assert_contains(check_shell(show).out, "<gpx");
    assert_no_draft_left();
}

static void the_folder_is_named_after_the_passage(void **state) {
    (void)state;
    const char *program = getenv("SPARWISE");
    short_passage();
    struct ran ran = check_shell(arena_print(
        &short_arena,
        "program=$(realpath '%s') && mkdir '%s' && cd '%s' && "
        "$program plan ../short.ini >schedule && ls short-there-back-2",
        program ? program : "build/release/sparwise", short_path("home"),
        short_path("home")));
    assert_int_equal(ran.status, 0);
    assert_string_equal(ran.out,
                        "plan.json\nreport.html\nroute.gpx\nschedule.txt\n");
}

/* Ended in the search or while it writes: the folder is as it was. */
static void an_interrupt_leaves_nothing_behind(void **state) {
    (void)state;
    const char *program = getenv("SPARWISE");
    for (int tenths = 1; tenths < 10; tenths += 2) {
        struct ran ran = check_shell(arena_print(
            &short_arena,
            "%s plan grib-samples/coastal-hop.ini --out '%s' & sleep 0.%d; "
            "kill -TERM $!; wait $!",
            program ? program : "build/release/sparwise", short_path("ended"),
            tenths));
        assert_int_equal(ran.status, 128 + 15);
        assert_string_equal(ran.out, "");
        assert_false(is_there(short_path("ended")));
        assert_no_draft_left();
    }
}

/* --- what it prints ------------------------------------------------------- */

static void json_is_all_that_is_printed(void **state) {
    (void)state;
    struct ran ran = short_plan("--json");
    assert_int_equal(ran.status, 0);
    json_error_t fault;
    json_t *root_value = json_loads(ran.out, JSON_REJECT_DUPLICATES, &fault);
    assert_non_null(root_value);
    assert_int_equal(json_integer_value(json_object_get(root_value, "format")),
                     1);
    json_decref(root_value);
    /* no files unless asked for */
    assert_false(is_there("short-there-back-2"));
    const char *out = short_path("asked");
    struct ran again =
        short_plan(arena_print(&short_arena, "--json --out '%s'", out));
    assert_string_equal(again.out, ran.out);
    struct ran file =
        check_shell(arena_print(&short_arena, "cat '%s/plan.json'", out));
    assert_string_equal(file.out, ran.out);
}

static void a_pipe_is_quiet_and_a_terminal_is_not(void **state) {
    (void)state;
    struct ran piped = short_plan("--json");
    assert_null(strchr(piped.err, '\r'));
    assert_null(strchr(piped.err, '\033'));
    const char *program = getenv("SPARWISE");
    const char *line = arena_print(
        &short_arena,
        "script -qec \"%s plan '%s' --json%%s >/dev/null\" /dev/null",
        program ? program : "build/release/sparwise", short_passage());
    struct ran loud = check_shell(short_replaced(line, "%s", ""));
    assert_int_equal(loud.status, 0);
    assert_contains(loud.out, "\rsparwise: ");
    assert_contains(loud.out, "%");
    struct ran quiet = check_shell(short_replaced(line, "%s", " --quiet"));
    assert_int_equal(quiet.status, 0);
    assert_string_equal(quiet.out, "");
}

static void an_option_wins_over_the_passage_file(void **state) {
    (void)state;
    struct ran ran =
        short_plan("--json --depart 2026-06-21T05:30 --name Other");
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "\"depart\": \"2026-06-21T05:30:00Z\"");
    assert_contains(ran.out, "\"name\": \"Other\"");
    assert_contains(ran.err,
                    "warning: the departure has no time zone: UTC was taken");
}

static void ships_time_and_plotter_options_reach_the_files(void **state) {
    (void)state;
    const char *out = short_path("shown");
    struct ran ran = short_plan(
        arena_print(&short_arena,
                    "--zone-hours -3.5 --points-only --ascii --name-length 6 "
                    "--name 'S\xC3\xA3o Miguel' --out '%s'",
                    out));
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "Sun 21 Jun 2026 00:30 UTC-3:30");
    struct ran shown =
        check_shell(arena_print(&short_arena, "cat '%s/route.gpx'", out));
    assert_contains(shown.out, "<name>S?o Mi</name>");
    assert_contains(shown.out, "<time>2026-06-21T04:00:00Z</time>");
    assert_null(strstr(shown.out, "<trk>"));
}

static void neither_zone_nor_threads_change_a_byte(void **state) {
    (void)state;
    static const char *const settings[] = {
        "TZ=Pacific/Auckland", "TZ=America/New_York", "TZ=XXX-5:45",
        "OMP_NUM_THREADS=1", "OMP_NUM_THREADS=3"};
    const char *out = short_path("bytes");
    const char *to_out = arena_print(&short_arena, "--force --out '%s'", out);
    const char *show = arena_print(&short_arena, "cat '%s'/*", out);
    assert_int_equal(short_plan(to_out).status, 0);
    const char *expected = check_shell(show).out;
    for (size_t i = 0; i < sizeof settings / sizeof *settings; i++) {
        char *setting = arena_copy(&short_arena, settings[i]);
        char *value = strchr(setting, '=');
        *value++ = '\0';
        assert_int_equal(setenv(setting, value, 1), 0);
        assert_int_equal(short_plan(to_out).status, 0);
        unsetenv(setting);
        assert_string_equal(check_shell(show).out, expected);
    }
}

static void a_comma_locale_changes_no_byte(void **state) {
    (void)state;
    const char *out = short_path("comma");
    const char *to_out =
        arena_print(&short_arena, "--force --max-wind 30.5 --out '%s'", out);
    const char *show = arena_print(&short_arena, "cat '%s'/*", out);
    assert_int_equal(short_plan(to_out).status, 0);
    const char *expected = check_shell(show).out;
    if (!comma_locale_begin())
        skip();
    assert_int_equal(setenv("LC_ALL", "de_DE.UTF-8", 1), 0);
    /* the C library itself loses 25 bytes where $LOCPATH is set and a library
     * makes a locale as it is loaded */
    assert_int_equal(setenv("ASAN_OPTIONS", "detect_leaks=0", 1), 0);
    struct ran ran = short_plan(to_out);
    unsetenv("ASAN_OPTIONS");
    unsetenv("LC_ALL");
    comma_locale_end();
    assert_int_equal(ran.status, 0);
    assert_string_equal(check_shell(show).out, expected);
}

static void help_is_a_product_and_not_a_fault(void **state) {
    (void)state;
    static const struct {
        const char *arguments, *expected;
    } cases[] = {
        {"--help", "usage: sparwise COMMAND [options]"},
        {"--version", "sparwise "},
        {"plan --version", "sparwise "},
        {"plan --help", "--max-wind KN           most true wind to sail in (1 "
                        "to 100 kn)"},
        {"along --help", "usage: sparwise along TRACK.gpx [PASSAGE.ini]"},
        {"forecast --help", "usage: sparwise forecast FILE... [options]"},
        {"boat --help", "--template"},
        {"plan --template", "[passage]\n# the boat file (required)\nboat =\n"},
        {"boat --template", "[boat]\n"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct ran ran = check_run(cases[i].arguments);
        assert_int_equal(ran.status, 0);
        assert_contains(ran.out, cases[i].expected);
        assert_string_equal(ran.err, "");
        const char *line = ran.out;
        for (; *line; line += strcspn(line, "\n") + 1)
            assert_true(strcspn(line, "\n") <= 80);
    }
}

static void a_boat_is_checked(void **state) {
    (void)state;
    struct ran ran = check_run("boat polars/wanderer-12.ini");
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "Wanderer 12");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_fault_has_its_status_and_one_message),
        TEST(a_folder_without_rights_is_told_before_the_search),
        TEST(a_full_device_is_told),
        TEST(a_library_without_its_definitions_is_told),
        TEST(a_bad_file_among_good_ones_is_a_warning),
        TEST(the_files_appear_and_are_kept),
        TEST(the_folder_is_named_after_the_passage),
        TEST(an_interrupt_leaves_nothing_behind),
        TEST(json_is_all_that_is_printed),
        TEST(a_pipe_is_quiet_and_a_terminal_is_not),
        TEST(an_option_wins_over_the_passage_file),
        TEST(ships_time_and_plotter_options_reach_the_files),
        TEST(neither_zone_nor_threads_change_a_byte),
        TEST(a_comma_locale_changes_no_byte),
        TEST(help_is_a_product_and_not_a_fault),
        TEST(a_boat_is_checked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
