/* Faults of the machine: no memory, a full disk, a closed pipe, a signal, two
 * runs at once, odd surroundings. The program ends with one message or goes on
 * as if nothing had been; files are whole, and older ones as they were. */
#include "../support/short_passage.h"

#include "../support/bounded.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { CLOCK_S = 120 };
static const struct bounds usual = {.clock_s = CLOCK_S};

static const char *program(void) {
    const char *path = getenv("SPARWISE");
    return path ? path : "build/release/sparwise";
}

/* The same passage without a coast. */
static const char *bare_passage(void) {
    return check_write(
        "short.ini",
        arena_print(&short_arena,
                    "[passage]\nname = Short\nboat = %s/polars/heron-9.ini\n"
                    "forecast = %s/grib-samples/coastal-hop.grib2\n"
                    "from = 39 18.0 N 9 48.0 W\nto = 39 12.0 N 9 48.0 W\n"
                    "depart = 2026-06-21T04:00Z\ncoast = none\n",
                    short_root(), short_root()));
}

static const char *short_track(void) {
    return check_write("short.gpx",
                       "<gpx version='1.1' creator='other' "
                       "xmlns='http://www.topografix.com/GPX/1/1'>"
                       "<rte><name>Way</name><rtept lat='39.3' lon='-9.8'/>"
                       "<rtept lat='39.25' lon='-9.82'/>"
                       "<rtept lat='39.2' lon='-9.8'/></rte></gpx>\n");
}

static const char *far_zone(void) {
    return check_write("zone.geojson",
                       "{\"type\": \"Polygon\", \"coordinates\": [[[-11, 38],"
                       "[-10.9, 38], [-10.9, 38.1], [-11, 38]]]}\n");
}

static struct ran plan(const char *arguments) {
    return check_run(
        arena_print(&short_arena, "plan '%s' %s", bare_passage(), arguments));
}

static const char *listing_of(const char *folder) {
    return check_shell(arena_print(&short_arena, "ls -A '%s'", folder)).out;
}

static const char *bytes_of(const char *folder) {
    return check_shell(arena_print(&short_arena, "cat '%s'/*", folder)).out;
}

static const char all_files[] =
    "plan.json\nreport.html\nroute.gpx\nschedule.txt\n";

static void remove_all(const char *path) {
    check_shell(arena_print(&short_arena, "rm -rf '%s'", path));
}

/* --- no memory ------------------------------------------------------------ */

/* Ends where the words do. */
struct asked {
    const char *words[16];
};

/* One fault of memory after another. */
struct shortage {
    const char *setting; /* which allocations are counted */
    double step;         /* from the number of one to the next */
    struct asked asked;
};

/* With the allocation of that number failing: false, none did. A message that
 * is lost for it is told; a plan without a warning is the plan. */
static bool starve(const struct shortage *shortage, size_t at,
                   const char *expected, const char *failed) {
    static const int statuses[] = {71, 0};
    const char *const *words = shortage->asked.words;
    const char *what = arena_print(&short_arena, "'%s', %s %zu", words[0],
                                   shortage->setting, at);
    const struct bounds bounds = {.clock_s = CLOCK_S,
                                  .setting = shortage->setting,
                                  .setting_to =
                                      arena_print(&short_arena, "%zu", at)};
    remove_all(failed);
    remove_all(short_path("starved"));
    struct bounded ran = bounded_run(words, &bounds);
    bool good = bounded_ended_well(&ran, statuses, what);
    bool failing = access(failed, F_OK) == 0;
    if (good && strcmp(ran.out, expected) != 0 &&
        !strstr(ran.err, " is lost: "))
        fail_msg("%s: another plan, and no word of why", what);
    const char *left = listing_of(short_path("starved"));
    if (*left && (!good || strcmp(left, all_files) != 0))
        fail_msg("%s: left behind:\n%s", what, left);
    bounded_free(&ran);
    return failing;
}

/* Between one that fails and one that there is not: the last, by way of others
 * ever nearer to the end. */
static size_t starve_to_the_last(const struct shortage *shortage,
                                 size_t bounds[2], const char *expected,
                                 const char *failed) {
    size_t tried = 0;
    for (; bounds[1] - bounds[0] > 1; tried++) {
        size_t middle = bounds[0] + (bounds[1] - bounds[0]) / 2;
        bounds[!starve(shortage, middle, expected, failed)] = middle;
    }
    return tried;
}

/* The first, then each one further by a fraction, up to the last. */
static size_t starve_all(const struct shortage *shortage) {
    const char *failed = short_path("failed");
    assert_int_equal(setenv("STARVED_FILE", failed, 1), 0);
    struct bounded sound = bounded_run(shortage->asked.words, &usual);
    assert_int_equal(sound.status, 0);
    size_t bounds[] = {0, 1}, tried = 0;
    while (starve(shortage, bounds[1], sound.out, failed)) {
        size_t next = (size_t)((double)bounds[1] * shortage->step);
        bounds[0] = bounds[1];
        bounds[1] = next > bounds[0] ? next : bounds[0] + 1;
        tried++;
    }
    tried += starve_to_the_last(shortage, bounds, sound.out, failed);
    bounded_free(&sound);
    return tried;
}

/* The program whose allocations fail; ends the test where there is none. */
static void use_starved(void) {
    const char *starved = arena_print(&short_arena, "%s-starved", program());
    if (access(starved, X_OK) != 0) {
        print_message("skipped: no %s\n", starved);
        skip();
    }
    assert_int_equal(setenv("SPARWISE", starved, 1), 0);
}

static void an_allocation_that_fails_ends_in_one_message(void **state) {
    (void)state;
    char *before = arena_copy(&short_arena, program());
    const char *passage = bare_passage(), *out = short_path("starved");
    use_starved();
    const struct asked asked[] = {
        {{"plan", passage, "--threads", "1", "--zones", far_zone(), "--out",
          out}},
        {{"window", passage, "--latest", "2026-06-21T05:00Z", "--threads", "1",
          "--json"}},
        {{"along", short_track(), passage, "--threads", "1", "--out", out}},
        {{"boat", "polars/heron-9.ini"}},
        {{"forecast", "grib-samples/coastal-hop.grib2"}},
    };
    size_t tried = 0;
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++) {
        struct shortage shortage = {.setting = "STARVED_AT",
                                    .step = check_is_long() ? 1.05 : 2.4,
                                    .asked = asked[i]};
        tried += starve_all(&shortage);
    }
    setenv("SPARWISE", before, 1);
    print_message("%zu allocations failed\n", tried);
    assert_true(tried >= 40);
}

/* The GRIB library goes on without a file of its definitions, or a name in one,
 * and then knows no wind: that is no fault of the forecast's. */
static void a_definition_without_memory_is_no_bad_forecast(void **state) {
    (void)state;
    char *before = arena_copy(&short_arena, program());
    use_starved();
    struct shortage shortage = {
        .setting = "STARVED_OPENING",
        .step = check_is_long() ? 1.05 : 1.8,
        .asked = {{"forecast", "grib-samples/coastal-hop.grib2"}}};
    size_t files = starve_all(&shortage);
    shortage.setting = "STARVED_COPY";
    shortage.step = check_is_long() ? 1.05 : 5.0;
    size_t names = starve_all(&shortage);
    setenv("SPARWISE", before, 1);
    print_message("%zu files and %zu names failed\n", files, names);
    assert_true(files >= 6 && names >= 5);
}

/* What is there is shared out: the plan takes 40 MB of memory. */
static void half_a_gigabyte_of_addresses_is_enough(void **state) {
    (void)state;
    static const int statuses[] = {71, 0};
    const char *words[] = {"plan", bare_passage(), "--json", NULL};
    struct bounds bounds = usual;
    bounds.address_bytes = (size_t)500 << 20;
    struct bounded ran = bounded_run(words, &bounds);
    assert_int_equal(ran.status, 0);
    bounded_free(&ran);
    bounds.address_bytes = (size_t)220 << 20;
    ran = bounded_run(words, &bounds);
    bounded_ended_well(&ran, statuses, "220 MB");
    bounded_free(&ran);
}

/* --- writing -------------------------------------------------------------- */

/* As a full disk; the limit comes in each of the files by turns. */
static void a_disk_that_fills_up_leaves_the_older_files(void **state) {
    (void)state;
    static const int statuses[] = {5, 0};
    static const size_t limits[] = {2000, 9000, 60000};
    const char *out = short_path("filled");
    assert_int_equal(
        plan(arena_print(&short_arena, "--name Old --out '%s'", out)).status,
        0);
    const char *older = bytes_of(out);
    for (size_t i = 0; i < sizeof limits / sizeof *limits; i++) {
        const char *words[] = {"plan", bare_passage(), "--out",
                               out,    "--force",      NULL};
        struct bounds bounds = usual;
        bounds.file_bytes = limits[i];
        struct bounded ran = bounded_run(words, &bounds);
        assert_false(bounded_ended_well(&ran, statuses, "a full disk"));
        assert_contains(ran.err, "' can't be written: File too large");
        bounded_free(&ran);
        assert_string_equal(listing_of(out), all_files);
        assert_string_equal(bytes_of(out), older);
        words[3] = short_path("never");
        ran = bounded_run(words, &bounds);
        assert_int_equal(ran.status, 5);
        bounded_free(&ran);
        assert_int_not_equal(access(words[3], F_OK), 0);
    }
}

/* Whoever reads has gone: by the signal, or where that is ignored by status
 * 5. The files are there before anything is printed. */
static void a_closed_pipe_leaves_whole_files(void **state) {
    (void)state;
    const char *out = short_path("piped");
    static const struct {
        const char *before, *status;
    } cases[] = {{":", "141\n"}, {"trap '' PIPE", "5\n"}};
    for (size_t i = 0; i < 2; i++) {
        const char *status = short_path("status");
        struct ran ran = check_shell(arena_print(
            &short_arena,
            "{ sleep 0.1; %s; '%s' plan '%s' --force --out '%s'; "
            "echo $? >'%s'; } | exec true",
            cases[i].before, program(), bare_passage(), out, status));
        assert_int_equal(ran.status, 0);
        assert_string_equal(
            check_shell(arena_print(&short_arena, "cat '%s'", status)).out,
            cases[i].status);
        assert_string_equal(listing_of(out), all_files);
        if (i == 1)
            assert_contains(ran.err, "standard output");
    }
}

static void an_interrupt_by_hand_leaves_nothing(void **state) {
    (void)state;
    for (int tenths = 1; tenths < 6; tenths += 2) {
        struct ran ran = check_shell(
            arena_print(&short_arena,
                        "timeout --preserve-status -s INT 0.%d '%s' plan "
                        "grib-samples/coastal-hop.ini --out '%s'",
                        tenths, program(), short_path("stopped")));
        assert_int_equal(ran.status, 128 + 2);
        assert_string_equal(ran.out, "");
        assert_int_not_equal(access(short_path("stopped"), F_OK), 0);
    }
}

/* A shell's words for a plan of that name, whose status goes into a file. */
static const char *named_run(const char *name, const char *force) {
    return arena_print(&short_arena,
                       "( '%s' plan '%s' --name %s %s --out '%s' >/dev/null; "
                       "echo $? >>'%s' )",
                       program(), bare_passage(), name, force,
                       short_path("shared"), short_path("status"));
}

/* Exactly one of two gets the folder; with --force one after the other. */
static void two_runs_into_one_folder_do_not_mix(void **state) {
    (void)state;
    static const struct {
        const char *force, *statuses;
    } cases[] = {{"", "0\n5\n"}, {"--force", "0\n0\n"}};
    const char *out = short_path("shared"), *status = short_path("status");
    for (size_t i = 0; i < 2; i++) {
        remove_all(status);
        check_shell(arena_print(&short_arena, "%s & %s; wait",
                                named_run("Alfa", cases[i].force),
                                named_run("Bravo", cases[i].force)));
        struct ran ended =
            check_shell(arena_print(&short_arena, "sort '%s'", status));
        assert_string_equal(ended.out, cases[i].statuses);
        assert_string_equal(listing_of(out), all_files);
        struct ran named = check_shell(arena_print(
            &short_arena,
            "grep -lw Alfa '%s'/* | wc -l; grep -lw Bravo '%s'/* | wc -l", out,
            out));
        assert_true(strcmp(named.out, "4\n0\n") == 0 ||
                    strcmp(named.out, "0\n4\n") == 0);
    }
}

/* --- surroundings --------------------------------------------------------- */

static void an_empty_environment_changes_no_byte(void **state) {
    (void)state;
    const char *expected = plan("--json").out;
    struct ran bare =
        check_shell(arena_print(&short_arena, "env -i '%s' plan '%s' --json",
                                program(), bare_passage()));
    assert_int_equal(bare.status, 0);
    assert_string_equal(bare.out, expected);
}

/* Blanks, quotes, what a shell or a format would take for its own, letters of
 * others: every file that is named lies there. */
static void any_path_is_taken_as_it_is(void **state) {
    (void)state;
    static const char folder[] = "it's \"wild\" $HOME %s & co; # "
                                 "S\xC3\xA3o \xE6\x97\xA5\xE6\x9C\xAC";
    const char *shelled = "it'\\''s \"wild\" $HOME %s & co; # "
                          "S\xC3\xA3o \xE6\x97\xA5\xE6\x9C\xAC";
    short_track();
    far_zone();
    struct ran ran = check_shell(arena_print(
        &short_arena,
        "mkdir '%s/%s' && cd '%s/%s' && cp '%s'/polars/heron-9* . && "
        "cp '%s/grib-samples/coastal-hop.grib2' 'a b.grib2' && "
        "cp ../short.gpx \"a'b.gpx\" && cp ../zone.geojson '\"z\".json'",
        check_folder(), shelled, check_folder(), shelled, short_root(),
        short_root()));
    assert_int_equal(ran.status, 0);
    check_write(arena_print(&short_arena, "%s/p q.ini", folder),
                "[passage]\nname = Short\nboat = heron-9.ini\n"
                "forecast = a b.grib2\nzones = \"z\".json\ncoast = none\n"
                "from = 39 18.0 N 9 48.0 W\nto = 39 12.0 N 9 48.0 W\n"
                "depart = 2026-06-21T04:00Z\n");
    const char *there = short_path(folder);
    const char *words[] = {"along",
                           arena_print(&short_arena, "%s/a'b.gpx", there),
                           arena_print(&short_arena, "%s/p q.ini", there),
                           "--force",
                           "--out",
                           arena_print(&short_arena, "%s/o 'u' t", there),
                           NULL};
    struct bounded along = bounded_run(words, &usual);
    assert_int_equal(along.status, 0);
    words[1] = words[2];
    words[0] = "plan";
    words[2] = "--quiet";
    struct bounded planned = bounded_run(words, &usual);
    assert_int_equal(planned.status, 0);
    ran =
        check_shell(arena_print(&short_arena, "cd '%s/%s' && ls -A \"o 'u' t\"",
                                check_folder(), shelled));
    assert_string_equal(ran.out, all_files);
    bounded_free(&along);
    bounded_free(&planned);
}

/* U+009B begins a control sequence on some terminals, U+202E turns the order of
 * what follows: in an error, in what a forecast holds, in its warnings. */
static void no_name_of_a_file_commands_the_terminal(void **state) {
    (void)state;
    static const char name[] = "a\xC2\x9B"
                               "31m\xE2\x80\xAE.grib2";
    static const char shown[] = "/a?31m?.grib2";
    const char *path = check_write(name, "");
    struct ran ran =
        check_run(arena_print(&short_arena, "forecast '%s'", path));
    assert_int_equal(ran.status, 3);
    assert_contains(ran.err, shown);
    ran = check_shell(arena_print(
        &short_arena,
        "{ cat grib-samples/coastal-hop.grib2; printf 'GRIB...\2'; } "
        ">'%s'; '%s' forecast '%s'",
        path, program(), path));
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, shown);
    assert_contains(strstr(ran.out, "Warnings"), shown);
    assert_null(strstr(ran.out, "\xC2\x9B"));
    assert_null(strstr(ran.out, "\xE2\x80\xAE"));
}

/* A pipe that nobody writes into, in place of any file: the program says so and
 * doesn't wait. */
static void an_idle_pipe_is_refused(void **state) {
    (void)state;
    const char *pipe = short_path("idle"), *passage = bare_passage();
    const char *lines[] = {
        arena_print(&short_arena, "plan '%s'", pipe),
        arena_print(&short_arena, "boat '%s'", pipe),
        arena_print(&short_arena, "along '%s' '%s'", pipe, passage),
        arena_print(&short_arena, "plan '%s' --zones '%s'", passage, pipe),
        arena_print(&short_arena, "plan '%s' --previous '%s'", passage, pipe),
        arena_print(&short_arena, "plan '%s' --boat '%s'", passage, pipe),
        arena_print(&short_arena, "plan '%s' --coast '%s'", passage, pipe),
        arena_print(&short_arena, "plan '%s' --forecast '%s'", passage, pipe)};
    assert_int_equal(mkfifo(pipe, 0600), 0);
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        struct ran ran = check_shell(arena_print(
            &short_arena, "timeout -s KILL 20 '%s' %s", program(), lines[i]));
        assert_int_equal(ran.status, 3);
        assert_contains(ran.err, "idle'");
    }
}

/* Files that come piece by piece, as out of a pipe. */
static void short_reads_change_nothing(void **state) {
    (void)state;
    const char *track = short_track(), *zone = far_zone();
    const char *rest = arena_print(&short_arena, "'%s' --json", bare_passage());
    struct ran whole =
        check_shell(arena_print(&short_arena, "'%s' along '%s' %s --zones '%s'",
                                program(), track, rest, zone));
    assert_int_equal(whole.status, 0);
    struct ran pieces = check_shell(arena_print(
        &short_arena,
        "{ head -c 90 '%s'; sleep 0.1; tail -c +91 '%s'; } | '%s' along "
        "/dev/stdin %s --zones '%s'",
        track, track, program(), rest, zone));
    assert_int_equal(pieces.status, 0);
    assert_string_equal(pieces.out, whole.out);
    pieces = check_shell(arena_print(
        &short_arena,
        "{ head -c 40 '%s'; sleep 0.1; tail -c +41 '%s'; } | '%s' along "
        "'%s' %s --zones /dev/stdin",
        zone, zone, program(), track, rest));
    assert_int_equal(pieces.status, 0);
    assert_string_equal(pieces.out, whole.out);
}

/* A clock that is wrong by years changes nothing but 'now', and is told there.
 * SOURCE_DATE_EPOCH stands for it. */
static void a_wrong_clock_is_told_and_changes_no_byte(void **state) {
    (void)state;
    static const struct {
        const char *seconds, *now;
    } clocks[] = {{"0", "1970-01-01T00:00:00Z"},
                  {"4102444800", "2100-01-01T00:00:00Z"}};
    const char *expected = plan("--json").out;
    for (size_t i = 0; i < 2; i++) {
        assert_int_equal(setenv("SOURCE_DATE_EPOCH", clocks[i].seconds, 1), 0);
        struct ran given = plan("--json");
        struct ran now = plan("--json --depart now");
        unsetenv("SOURCE_DATE_EPOCH");
        assert_int_equal(given.status, 0);
        assert_string_equal(given.out, expected);
        assert_int_equal(now.status, 4);
        assert_string_equal(now.out, "");
        assert_contains(now.err, clocks[i].now);
        assert_contains(now.err, "that is now by the clock of this machine");
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(an_allocation_that_fails_ends_in_one_message),
        TEST(a_definition_without_memory_is_no_bad_forecast),
        TEST(half_a_gigabyte_of_addresses_is_enough),
        TEST(a_disk_that_fills_up_leaves_the_older_files),
        TEST(a_closed_pipe_leaves_whole_files),
        TEST(an_interrupt_by_hand_leaves_nothing),
        TEST(two_runs_into_one_folder_do_not_mix),
        TEST(an_empty_environment_changes_no_byte),
        TEST(any_path_is_taken_as_it_is),
        TEST(no_name_of_a_file_commands_the_terminal),
        TEST(an_idle_pipe_is_refused),
        TEST(short_reads_change_nothing),
        TEST(a_wrong_clock_is_told_and_changes_no_byte),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
