/* What `sparwise boat` prints. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/text.h"
#include "base/units.h"
#include "boat/gain.h"
#include "report/boat_report.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *report;

static int tear_down(void **state) {
    free(report);
    report = NULL;
    return scratch_end(state);
}

static void tell(const struct boat *boat) {
    size_t size = 0;
    free(report);
    FILE *memory = open_memstream(&report, &size);
    assert_non_null(memory);
    boat_report(boat, memory);
    fclose(memory);
}

static struct boat load(const char *path) {
    struct boat boat;
    struct error error = {.text = ""};
    if (!boat_load(&boat, path, &arena, &error))
        print_error("%s\n", error.text);
    assert_string_equal(error.text, "");
    return boat;
}

static struct boat made(const char *stowed, const char *spar,
                        const char *more) {
    check_write("stowed.csv", stowed);
    check_write("spar.csv", spar);
    char text[2048];
    snprintf(text, sizeof text,
             "[boat]\nname = Tern\nlength_waterline_m = 9\n"
             "beam_m = 3.3\ndraft_m = 0.7\ndisplacement_kg = 5000\n"
             "metacentric_height_m = 1.1\n"
             "[polars]\nstowed = stowed.csv\nspar = spar.csv\n"
             "[spar]\nlength_m = 3.96 7.32\n%s",
             more);
    return load(check_write("boat.ini", text));
}

static const char *const slow = "TWA,5,30\n40,6,6\n120,6,6\n180,3,3\n";
static const char *const quick = "TWA,5,30\n90,6,6\n120,6.5,6.5\n180,6,6\n";

static const char *const shipped[] = {"polars/wanderer-12.ini",
                                      "polars/heron-9.ini"};

static void it_is_ascii_and_80_columns_wide(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct boat boat = load(shipped[i]);
        tell(&boat);
        size_t column = 0;
        for (const char *at = report; *at; at++) {
            column = *at == '\n' ? 0 : column + 1;
            assert_true(column <= 80);
            assert_true(*at == '\n' || (*at >= ' ' && *at <= '~'));
            assert_false(*at == ' ' && at[1] == '\n');
        }
    }
}

static void the_same_boat_gives_the_same_bytes(void **state) {
    (void)state;
    struct boat boat = load(shipped[0]);
    tell(&boat);
    char *first = arena_copy(&arena, report);
    tell(&boat);
    assert_string_equal(report, first);
}

static void one_cell_of_each_polar_is_echoed(void **state) {
    (void)state;
    struct boat boat =
        made("TWA,5,10,30\n40,6,6,7\n90,6,7.2,8\n180,3,4,5\n", quick, "");
    tell(&boat);
    assert_contains(report, "90 deg / 10 kn = 7.2 kn");
    assert_contains(report, "stowed.csv");
    assert_contains(report, "3 angles 40 to 180 deg, 3 winds 5 to 30 kn");
}

/* The row of 180 degrees in the plain boat: 3 kn gained wherever the spar may
 * be out; a dot above 22 kn, and at 6 kn, where the boat leaves no wind. */
static void the_table_shows_what_the_spar_gains(void **state) {
    (void)state;
    struct boat boat = made(slow, quick, "");
    tell(&boat);
    assert_contains(report,
                    "  180        .  +3.0w  +3.0w  +3.0w  +3.0w  +3.0w  "
                    "+3.0w  +3.0w  +3.0w      .\n");
    assert_contains(report, "   90        .      .");
}

static void downwind_figures_are_those_of_the_arithmetic(void **state) {
    (void)state;
    struct boat boat = load(shipped[0]);
    tell(&boat);
    struct downwind best = gain_downwind(&boat, kn_to_mps(10));
    struct figure distance_m = gain_break_even_m(&boat, kn_to_mps(10));
    char row[128];
    snprintf(
        row, sizeof row, "\n    10 %10.2f %8.0f %10.2f %8.0f %+8.2f %10.1f\n",
        mps_to_kn(best.stowed_mps), best.stowed_twa_deg,
        mps_to_kn(best.spar_mps), best.spar_twa_deg,
        mps_to_kn(best.spar_mps - best.stowed_mps), m_to_nmi(distance_m.value));
    assert_contains(report, row);
}

static void where_it_never_pays_it_says_so(void **state) {
    (void)state;
    struct boat boat = made(quick, slow, "");
    tell(&boat);
    assert_contains(report, "never");
    assert_contains(report, "slower with the spar out wherever");
}

static void places_where_the_spar_is_slower_are_counted(void **state) {
    (void)state;
    struct boat boat =
        made(slow, "TWA,5,30\n90,6,6\n140,5.5,5.5\n160,4,4\n180,2,2\n", "");
    tell(&boat);
    assert_contains(report, "inside its ranges the spar makes the boat slower");
    assert_contains(report, "by 1.0 kn");
}

static void a_spar_of_no_use_is_noticed(void **state) {
    (void)state;
    struct boat boat = made(slow, quick,
                            "wing_max_wind_kn = 1\npoled_reach_max_wind_kn = "
                            "1\n");
    tell(&boat);
    assert_contains(report, "can be used nowhere");
}

static void lengths_and_their_warnings_are_told(void **state) {
    (void)state;
    struct boat boat =
        made(slow, quick,
             "[headsail genoa]\nfoot_m = 6.7\n[headsail big]\nfoot_m = 9.5\n"
             "[headsail jib]\nfoot_m = 4.5\n[headsail storm]\nfoot_m = 2.5\n");
    tell(&boat);
    assert_contains(report, "set it to 5.8 m at most");
    assert_contains(report, "5.8 m for the genoa, whose foot is 6.7 m (see");
    assert_contains(report, "5.8 m for the big, whose foot is 9.5 m (see");
    assert_contains(report, "4.5 m for the jib, whose foot is 4.5 m; ");
    assert_contains(report, "4.0 m for the storm, whose foot is 2.5 m (see");
    assert_contains(report, "* genoa, line 14: the foot of 6.7 m asks for");
    assert_contains(report, "* storm, line 20: the foot of 2.5 m is shorter");
}

static void the_roll_period_says_where_it_is_from(void **state) {
    (void)state;
    struct boat boat = load(shipped[0]);
    tell(&boat);
    assert_contains(report, "Roll period   3.8 s, measured\n");
    boat = load(shipped[1]);
    tell(&boat);
    assert_contains(report, "estimated from the beam\n");
    boat = made(slow, quick, "");
    tell(&boat);
    assert_contains(report, "estimated from the metacentric height\n");
    assert_contains(report, "beamier");
    boat.draft_m = boat.beam_m; /* not beamy, but no ship of 24 m either */
    tell(&boat);
    assert_contains(report, "ships");
}

static void polars_that_end_too_soon_are_told(void **state) {
    (void)state;
    struct boat boat = made("TWA,5,15\n40,6,6\n150,6,6\n", quick, "");
    tell(&boat);
    assert_contains(report,
                    "the polar with the spar stowed ends at 150 degrees");
    assert_contains(report, "ends at 15 kn");
    assert_null(strstr(report, "spar out ends"));
}

static void a_sound_boat_has_no_warnings(void **state) {
    (void)state;
    struct boat boat = load(shipped[0]);
    tell(&boat);
    assert_contains(report, "Warnings\n--------\nNone.\n");
}

static void weak_headsails_are_noticed(void **state) {
    (void)state;
    struct boat boat =
        made(slow, quick, "[headsail light]\nfoot_m = 5\nmax_wind_kn = 14\n");
    tell(&boat);
    assert_contains(report, "no headsail listed is for more");
}

static void control_characters_do_not_reach_the_terminal(void **state) {
    (void)state;
    struct boat boat = load(shipped[0]);
    boat.name = "Tern\x1b[2J\x7f";
    tell(&boat);
    assert_contains(report, "Tern?[2J?");
    assert_null(strchr(report, '\x1b'));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_ascii_and_80_columns_wide),
        cmocka_unit_test(the_same_boat_gives_the_same_bytes),
        cmocka_unit_test(one_cell_of_each_polar_is_echoed),
        cmocka_unit_test(the_table_shows_what_the_spar_gains),
        cmocka_unit_test(downwind_figures_are_those_of_the_arithmetic),
        cmocka_unit_test(where_it_never_pays_it_says_so),
        cmocka_unit_test(places_where_the_spar_is_slower_are_counted),
        cmocka_unit_test(a_spar_of_no_use_is_noticed),
        cmocka_unit_test(lengths_and_their_warnings_are_told),
        cmocka_unit_test(the_roll_period_says_where_it_is_from),
        cmocka_unit_test(polars_that_end_too_soon_are_told),
        cmocka_unit_test(a_sound_boat_has_no_warnings),
        cmocka_unit_test(weak_headsails_are_noticed),
        cmocka_unit_test(control_characters_do_not_reach_the_terminal),
    };
    return cmocka_run_group_tests(tests, scratch_begin, tear_down);
}
