/* The manual by a reader that knows nothing of us, mandoc 1.14.6 of Debian 12,
 * and the completion in a real bash. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/arena.h"
#include <stdlib.h>
#include <string.h>

static bool lacks(const char *program) {
    if (check_shell(arena_print(&arena, "command -v %s", program)).status == 0)
        return false;
    print_message("skipped: no program %s\n", program);
    return true;
}

/* Built beside the program. */
static const char *page(const char *name) {
    const char *program = getenv("SPARWISE");
    assert_non_null(program);
    return arena_print(&arena, "%.*spages/%s",
                       (int)(strlen(program) - strlen("sparwise")), program,
                       name);
}

/* --- manual --------------------------------------------------------------- */

static const char *const manual[] = {"sparwise.1", "sparwise-boat.5",
                                     "sparwise-passage.5"};
enum { PAGES = sizeof manual / sizeof *manual };

/* It looks for the pages that are named in the manual that is installed: ours
 * is not. Every other word is a fault. */
static void mandoc_finds_no_fault(void **state) {
    (void)state;
    if (lacks("mandoc"))
        skip();
    for (size_t i = 0; i < PAGES; i++) {
        struct ran ran =
            check_shell(arena_print(&arena,
                                    "mandoc -T lint '%s' | "
                                    "grep -v 'manual not found: Xr sparwise'",
                                    page(manual[i])));
        assert_string_equal(ran.out, "");
    }
}

/* As it is read on a screen, the bold and underlined letters made plain. */
static const char *shown(const char *name) {
    struct ran ran = check_shell(
        arena_print(&arena, "mandoc -T ascii -O width=80 '%s' | sed 's/.\b//g'",
                    page(name)));
    assert_int_equal(ran.status, 0);
    return ran.out;
}

static void the_pages_read_as_pages_of_a_manual(void **state) {
    (void)state;
    if (lacks("mandoc"))
        skip();
    const char *program = shown("sparwise.1");
    assert_contains(program, "     sparwise plan [PASSAGE.ini] [options]\n"
                             "     sparwise along TRACK.gpx [PASSAGE.ini] "
                             "[options]\n");
    assert_contains(program, "     --max-wind KN\n"
                             "             most true wind to sail in (1 to "
                             "100 kn)\n");
    assert_contains(program, "     --fallback 'NAME POS'\n");
    assert_contains(program, "     --magnetic\n");
    assert_contains(program, "CAVEATS\n     A plan is advice: the skipper "
                             "decides.");
    assert_contains(shown("sparwise-boat.5"),
                    "   [work]\n     max_wind_kn\n             most true wind "
                    "to set or gybe the spar in (1 to 80 kn, default "
                    "18)\n");
    assert_contains(shown("sparwise-passage.5"), "     watch_hours\n");
}

/* The example of the boat's page is a boat file as the program reads it. */
static void the_example_of_a_boat_is_read(void **state) {
    (void)state;
    const char *folder = check_folder();
    struct ran ran = check_shell(
        arena_print(&arena,
                    "sed -n '/^\\.Sh EXAMPLES/,/^\\.Ed/p' '%s' | sed "
                    "'1,/^\\.Bd/d;/^\\.Ed/d'"
                    " >'%s/example.ini' && cp polars/heron-9-stowed.csv "
                    "'%s/example-stowed.csv' && cp polars/heron-9-spar.csv "
                    "'%s/example-spar.csv'",
                    page("sparwise-boat.5"), folder, folder, folder));
    assert_int_equal(ran.status, 0);
    ran = check_run(arena_print(&arena, "boat '%s/example.ini'", folder));
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "Example 10");
}

/* --- completion ----------------------------------------------------------- */

/* Files to be completed, in a folder of their own. */
static const char *files(void) {
    const char *folder = arena_print(&arena, "%s/files", check_folder());
    struct ran ran = check_shell(arena_print(
        &arena,
        "rm -rf '%s' && mkdir -p '%s/winds' && cd '%s' && touch home.ini "
        "'my boat.ini' old.gpx new.grib2 second.grb notes.txt zones.geojson "
        "plan.json",
        folder, folder, folder));
    assert_int_equal(ran.status, 0);
    return folder;
}

static const char *completion(void) {
    return check_shell(arena_print(&arena, "printf %%s \"$(realpath '%s')\"",
                                   page("sparwise.bash")))
        .out;
}

/* What bash offers for the last of `words`, sorted, one a line. They stand as
 * bash breaks a line: "sparwise plan --boat = ho". */
static const char *offered(const char *words) {
    const char *script = check_write(
        "offer.bash",
        arena_print(&arena,
                    "source '%s'\ncd '%s'\nCOMP_WORDS=(%s)\n"
                    "COMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n"
                    "$(complete -p sparwise | sed 's/.*-F //;s/ .*//')\n"
                    "[[ ${#COMPREPLY[@]} -eq 0 ]] || "
                    "printf '%%s\\n' \"${COMPREPLY[@]}\" | LC_ALL=C sort\n",
                    completion(), files(), words));
    struct ran ran = check_shell(arena_print(&arena, "bash '%s'", script));
    assert_string_equal(ran.err, "");
    assert_int_equal(ran.status, 0);
    return ran.out;
}

static void words_are_completed_in_bash(void **state) {
    (void)state;
    static const char *const cases[][2] = {
        {"sparwise pl", "plan\n"},
        {"sparwise --v", "--version\n"},
        {"sparwise plan --max-w", "--max-wave\n--max-wind\n"},
        {"sparwise plan home.ini --as", "--ascii\n"},
        {"sparwise along --as", "--as-timed\n--ascii\n"},
        {"sparwise boat --max", ""},
        {"sparwise forecast --f", "--for\n--from\n"},
        {"sparwise plan --arrive ''", "any\ndaylight\n"},
        {"sparwise plan --spar st", "starboard\nstowed\n"},
        {"sparwise plan --arrive = d", "daylight\n"},
        {"sparwise plan --arrive =", "any\ndaylight\n"},
        {"sparwise plan --after-forecast w", "wind:\n"},
        {"sparwise plan --magnetic --arr", "--arrive\n"},
        {"sparwise plan --max-wind ''", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(offered(cases[i][0]), cases[i][1]);
}

static void files_are_offered_by_their_kind(void **state) {
    (void)state;
    static const char *const cases[][2] = {
        {"sparwise plan ''", "home.ini\nmy boat.ini\nwinds\n"},
        {"sparwise plan home.ini ''", ""},
        {"sparwise plan --depart 2026-03-10T06 : 00Z ho", "home.ini\n"},
        {"sparwise plan --ease 2 --magnetic ho", "home.ini\n"},
        {"sparwise plan --boat = ho", "home.ini\n"},
        {"sparwise plan --boat my", "my boat.ini\n"},
        {"sparwise plan --zones ''", "winds\nzones.geojson\n"},
        {"sparwise plan --previous ''", "plan.json\nwinds\n"},
        {"sparwise plan --out ''", "winds\n"},
        {"sparwise plan --coast n", "new.grib2\nnone\nnotes.txt\n"},
        {"sparwise plan --forecast ''", "new.grib2\nsecond.grb\nwinds\n"},
        {"sparwise plan --forecast no", "notes.txt\n"},
        {"sparwise along ''", "old.gpx\nwinds\n"},
        {"sparwise along old.gpx ''", "home.ini\nmy boat.ini\nwinds\n"},
        {"sparwise along --against o", "old.gpx\n"},
        {"sparwise forecast new.grib2 s", "second.grb\n"},
        {"sparwise forecast --for h", "home.ini\n"},
        {"sparwise boat m", "my boat.ini\n"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(offered(cases[i][0]), cases[i][1]);
}

/* The real thing: a terminal, a line, the key that completes. */
static void a_line_is_completed_at_a_terminal(void **state) {
    (void)state;
    if (lacks("script"))
        skip();
    struct ran ran = check_shell(arena_print(
        &arena,
        "printf '. %s\\nsparwise() { echo \"<$*>\"; }\\nsparwise pl\\thom\\t"
        "--boat=my\\t--arr\\tdayl\\t--max-wi\\t20\\nexit\\n' | "
        "script -qec 'cd %s && bash --norc' /dev/null",
        completion(), files()));
    assert_contains(ran.out, "<plan home.ini --boat=my boat.ini --arrive "
                             "daylight --max-wind 20>");
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(mandoc_finds_no_fault),
        TEST(the_pages_read_as_pages_of_a_manual),
        TEST(the_example_of_a_boat_is_read),
        TEST(words_are_completed_in_bash),
        TEST(files_are_offered_by_their_kind),
        TEST(a_line_is_completed_at_a_terminal),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
