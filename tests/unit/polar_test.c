/* Polars: reading delimited tables, and what lies between their nodes. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "boat/polar.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct polar read_good(const char *text) {
    struct polar polar;
    struct error error = {.text = ""};
    if (!polar_load(&polar, check_write("polar.csv", text), &arena, &error))
        print_error("%s\n", error.text);
    assert_string_equal(error.text, "");
    return polar;
}

static void refuses(const char *text, const char *place, const char *why) {
    struct polar polar;
    struct error error = {.text = ""};
    bool good =
        polar_load(&polar, check_write("polar.csv", text), &arena, &error);
    if (good)
        print_error("was read: %s\n", text);
    assert_false(good);
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, place);
    assert_contains(error.text, why);
}

static double kn_at(const struct polar *polar, double twa_deg, double tws_kn) {
    return mps_to_kn(polar_speed(polar, twa_deg, kn_to_mps(tws_kn)));
}

/* 5.1, 6.0, 6.4 in the row of 52 degrees. */
static void check_row_of_52(const char *text) {
    struct polar polar = read_good(text);
    assert_int_equal(polar.angles, 2);
    assert_int_equal(polar.winds, 3);
    assert_near(kn_at(&polar, 52, 6), 5.1, 1e-12);
    assert_near(kn_at(&polar, 52, 8), 6.0, 1e-12);
    assert_near(kn_at(&polar, 52, 10), 6.4, 1e-12);
    assert_near(kn_at(&polar, 90, 10), 7.2, 1e-12);
}

/* --- separators and decimal marks --------------------------------------------
 */

static void any_separator_and_decimal_mark_is_read(void **state) {
    (void)state;
    check_row_of_52("TWA;6;8;10\n52;5,1;6,0;6,4\n90;6;7;7,2\n");
    check_row_of_52("TWA\t6\t8\t10\n52\t5,1\t6,0\t6,4\n90\t6\t7\t7,2\n");
    check_row_of_52("TWA,6,8,10\n52,5.1,6.0,6.4\n90,6,7,7.2\n");
    check_row_of_52("TWA 6 8 10\n52 5.1 6.0 6.4\n90 6 7 7.2\n");
    check_row_of_52("TWA 6 8 10\n52 5,1 6,0 6,4\n90 6 7 7,2\n");
    check_row_of_52("TWA  6,0  8,0  10,0\n52 5,1 6,0 6,4\n90,0 6 7 7,2\n");
    check_row_of_52("TWA; 6; 8; 10\n52; 5,1; 6,0; 6,4\n90; 6; 7; 7,2\n");
    check_row_of_52("TWA, 6, 8, 10\n 52, 5.1, 6.0, 6.4\n 90, 6, 7, 7.2\n");
}

static void the_corner_is_free_text(void **state) {
    (void)state;
    check_row_of_52(";6;8;10\n52;5.1;6.0;6.4\n90;6;7;7.2\n");
    check_row_of_52("0,6,8,10\n52,5.1,6.0,6.4\n90,6,7,7.2\n");
    check_row_of_52("TWA down, TWS across;6;8;10\n52;5.1;6.0;6.4\n"
                    "90;6;7;7.2\n");
    check_row_of_52("TWA (deg) / TWS (kn) 6 8 10\n52 5.1 6.0 6.4\n"
                    "90 6 7 7.2\n");
    check_row_of_52("\"TWA/TWS\",\"6\",\"8\",\"10\"\n52,5.1,6.0,6.4\n"
                    "90,6,7,7.2\n");
    check_row_of_52("\xc2\xb0;6;8;10\n52;5.1;6.0;6.4\n90;6;7;7.2\n");
}

static void remarks_and_blank_lines_are_passed_over(void **state) {
    (void)state;
    check_row_of_52("# measured in m/s? no\n\nTWA,6,8,10\n  # half way\n"
                    "52,5.1,6.0,6.4\n\n90,6,7,7.2\n\n");
}

static void byte_order_mark_and_carriage_returns_do_no_harm(void **state) {
    (void)state;
    check_row_of_52("\xef\xbb\xbfTWA;6;8;10\r\n52;5,1;6,0;6,4\r\n"
                    "90;6;7;7,2\r\n");
    check_row_of_52("TWA;6;8;10\n52;5,1;6,0;6,4\n90;6;7;7,2");
}

static void a_separator_at_the_end_of_each_line_is_no_cell(void **state) {
    (void)state;
    check_row_of_52("TWA;6;8;10;\n52;5,1;6,0;6,4;\n90;6;7;7,2;\n");
}

static void doubtful_marks_are_refused(void **state) {
    (void)state;
    refuses("TWA;6;8\n52;1.234,5;6\n90;6;7\n", ":2: column 2",
            "a comma and a point");
    refuses("TWA;6;8\n52;5,1;6.0\n90;6;7\n", ":2: column 3",
            "another decimal mark");
    refuses("TWA;6;8\n52;5,1,2;6\n90;6;7\n", ":2: column 2", "not a number");
}

/* --- what is refused
 * ------------------------------------------------------------ */

static void a_gap_is_refused(void **state) {
    (void)state;
    refuses("TWA,6,8,10\n52,5.1,,6.4\n90,6,7,7\n", ":2: column 3", "no value");
    refuses("TWA,6,8,10\n52,5.1,6,6.4\n90,6,7\n", ":3", "3 cells");
    refuses("TWA,6,8,10\n52,5.1,6,6.4\n90,6,7,\n", ":3", "3 cells");
    refuses("TWA,6,8\n52,5.1,6,6.4\n90,6,7\n", ":2", "4 cells");
    refuses("TWA,6,,10\n52,5.1,6,6.4\n90,6,7,7\n", ":1: column 3", "no value");
    refuses("TWA,6,8\n52,5.1,-\n90,6,7\n", ":2: column 3", "not a number");
}

static void axes_out_of_order_are_refused_with_their_line(void **state) {
    (void)state;
    refuses("TWA,6,8\n30,1,1\n45,2,2\n60,3,3\n52,2,2\n90,4,4\n", ":5: column 1",
            "does not rise from 60");
    refuses("TWA,6,8\n30,1,1\n60,3,3\n60,4,4\n", ":4: column 1",
            "does not rise");
    refuses("TWA,6,8\n60,3,3\n60,4,4\n", ":3: column 1", "does not rise");
    refuses("TWA,6,10,8\n30,1,1,1\n60,3,3,3\n", ":1: column 4", "rise");
    refuses("TWA,6,6\n30,1,1\n60,3,3\n", ":1: column 3", "rise");
    refuses("TWA,6,8\n90,1,1\n60,3,3\n70,3,3\n", ":4: column 1",
            "does not fall");
}

static void a_wholly_falling_angle_axis_is_turned_round(void **state) {
    (void)state;
    struct polar polar =
        read_good("TWA,6,8\n180,3,4\n120,5,6\n90,5.5,6.5\n30,2,2.5\n");
    assert_near(polar.angle_deg[0], 30.0, 0.0);
    assert_near(polar.angle_deg[3], 180.0, 0.0);
    assert_near(kn_at(&polar, 180, 8), 4.0, 1e-12);
    assert_near(kn_at(&polar, 30, 6), 2.0, 1e-12);
    assert_near(kn_at(&polar, 120, 6), 5.0, 1e-12);
}

static void values_out_of_range_are_refused(void **state) {
    (void)state;
    refuses("TWA,6,8\n30,1,1\n190,3,3\n", ":3: column 1", "0 to 180");
    refuses("TWA,6,8\n-30,1,1\n90,3,3\n", ":2: column 1", "0 to 180");
    refuses("TWA,6,8\n30,1,61\n90,3,3\n", ":2: column 3", "0 to 60 kn");
    refuses("TWA,6,8\n30,1,-1\n90,3,3\n", ":2: column 3", "0 to 60 kn");
    refuses("TWA,6,101\n30,1,1\n90,3,3\n", ":1: column 3", "0 to 100 kn");
    refuses("TWA,-6,8\n30,1,1\n90,3,3\n", ":1: column 2", "0 to 100 kn");
    refuses("TWA,6,8\n30,nan,1\n90,3,3\n", ":2: column 2", "not a number");
    refuses("TWA,6,8\n30,0x4,1\n90,3,3\n", ":2: column 2", "not a number");
}

static void too_small_a_table_is_refused(void **state) {
    (void)state;
    refuses("", "polar.csv", "fewer than two rows");
    refuses("# nothing\n", "polar.csv", "fewer than two rows");
    refuses("TWA,6,8\n", "polar.csv", "fewer than two rows");
    refuses("TWA,6,8\n90,3,3\n", "polar.csv", "fewer than two rows");
    refuses("TWA,6\n90,3\n120,4\n", ":1", "fewer than two wind columns");
    refuses("TWA:6:8\n90:3:4\n", ":1", "fewer than two wind columns");
}

/* Read as knots, metres per second would make half a boat. */
static void a_foreign_unit_in_the_first_row_is_refused(void **state) {
    (void)state;
    refuses("TWA/TWS m/s,3,4\n60,2,3\n90,3,4\n", ":1", "'m/s'");
    refuses("TWA;3 m/s;4 m/s\n60;2;3\n90;3;4\n", ":1", "'m/s'");
    refuses("TWA (rad);3;4\n1;2;3\n2;3;4\n", ":1", "'rad'");
    refuses("angle/km/h,6,8\n60,2,3\n90,3,4\n", ":1", "km/h");
    refuses("TWA TWS[MPS] 6 8\n60 2 3\n90 3 4\n", ":1", "'mps'");
    read_good("TWA (degrees) / TWS (knots),6,8\n60,2,3\n90,3,4\n");
    read_good("grad student's boat,6,8\n60,2,3\n90,3,4\n");
}

/* A table of so many rows and columns, its cells all 1 kn. */
static const char *table_of(int angles, int winds) {
    static char text[200000];
    size_t used = (size_t)snprintf(text, sizeof text, "TWA");
    for (int i = 1; i <= winds; i++)
        used +=
            (size_t)snprintf(text + used, sizeof text - used, ",%g", i * 0.25);
    for (int row = 0; row < angles; row++) {
        used += (size_t)snprintf(text + used, sizeof text - used, "\n%g",
                                 row * 0.25);
        for (int i = 0; i < winds; i++)
            used += (size_t)snprintf(text + used, sizeof text - used, ",1");
    }
    assert_true(used < sizeof text - 1);
    return text;
}

static void sizes_up_to_the_limits_are_read(void **state) {
    (void)state;
    struct polar polar = read_good(table_of(POLAR_ANGLES, POLAR_WINDS));
    assert_int_equal(polar.angles, POLAR_ANGLES);
    assert_int_equal(polar.winds, POLAR_WINDS);
    refuses(table_of(2, POLAR_WINDS + 1), ":1", "more than 200 wind columns");
    refuses(table_of(POLAR_ANGLES + 1, 2), ":363", "more than 361 rows");
}

/* A remark fills the file up. */
static void a_file_up_to_the_limit_is_read(void **state) {
    (void)state;
    static const char table[] = "TWA,6,8\n90,5,6\n180,4,5\n#";
    char *text = malloc(POLAR_FILE_BYTES + 2);
    assert_non_null(text);
    strcpy(text, table);
    memset(text + strlen(table), 'x', POLAR_FILE_BYTES + 1 - strlen(table));
    text[POLAR_FILE_BYTES] = '\0';
    assert_int_equal(read_good(text).angles, 2);
    text[POLAR_FILE_BYTES] = 'x';
    text[POLAR_FILE_BYTES + 1] = '\0';
    refuses(text, "polar.csv", "larger than");
    free(text);
}

static void a_file_that_is_not_there_is_refused(void **state) {
    (void)state;
    struct polar polar;
    struct error error = {.text = ""};
    assert_false(polar_load(&polar, "no/such/polar.csv", &arena, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "no/such/polar.csv");
}

/* Many tables start with 0 kn and 0 degrees, all noughts. */
static void a_column_of_no_wind_is_dropped_if_it_is_all_noughts(void **state) {
    (void)state;
    struct polar polar =
        read_good("TWA,0,6,8\n0,0,0,0\n52,0,5.1,6\n90,0,6,7\n");
    assert_int_equal(polar.winds, 2);
    assert_near(kn_at(&polar, 52, 6), 5.1, 1e-12);
    assert_near(kn_at(&polar, 90, 8), 7.0, 1e-12);
    assert_near(kn_at(&polar, 90, 3), 3.0, 1e-12);
    refuses("TWA,0,6,8\n52,0,5,6\n90,0.5,6,7\n", "polar.csv", "no wind");
    refuses("TWA,0,6\n52,0,5\n90,0,6\n", "polar.csv", "fewer than two");
}

/* --- between the nodes
 * -------------------------------------------------------------- */

static const char *const small = "TWA,6,10,20\n"
                                 "40,4,6,7\n"
                                 "90,6,8,9\n"
                                 "150,3,5,8\n";

/* Nodes crowded at one end, and parts of the index that hold several. */
static void the_index_changes_no_bit(void **state) {
    (void)state;
    struct polar polar = read_good("TWA,2,2.1,2.2,6,10,60\n"
                                   "40,1,2,3,4,6,7\n"
                                   "40.1,2,3,4,5,6,7\n"
                                   "40.2,2,3,5,5,7,7\n"
                                   "90,2,3,4,6,8,9\n"
                                   "150,1,2,3,3,5,8\n");
    struct polar plain = polar;
    struct seed seed = {107};
    memset(&plain.angle_index, 0, sizeof plain.angle_index);
    memset(&plain.wind_index, 0, sizeof plain.wind_index);
    for (int i = 0; i < 20000; i++) {
        double twa_deg = seed_between(&seed, 0.0, 180.0);
        double tws_mps = seed_between(&seed, 0.0, 35.0);
        if (i % 3 == 0)
            twa_deg = polar.angle_deg[(size_t)i % polar.angles];
        if (i % 4 == 0)
            tws_mps = polar.wind_mps[(size_t)i % polar.winds];
        double with = polar_speed(&polar, twa_deg, tws_mps);
        double without = polar_speed(&plain, twa_deg, tws_mps);
        assert_memory_equal(&with, &without, sizeof with);
    }
}

static void it_is_exact_at_every_node(void **state) {
    (void)state;
    struct polar polar = read_good(small);
    for (size_t row = 0; row < polar.angles; row++)
        for (size_t i = 0; i < polar.winds; i++) {
            double at_node =
                polar_speed(&polar, polar.angle_deg[row], polar.wind_mps[i]);
            assert_true(at_node >= polar.speed_mps[row * polar.winds + i]);
            assert_true(at_node <= polar.speed_mps[row * polar.winds + i]);
        }
}

static void it_is_bilinear_between_them(void **state) {
    (void)state;
    struct polar polar = read_good(small);
    assert_near(kn_at(&polar, 65, 6), 5.0, 1e-12);
    assert_near(kn_at(&polar, 90, 8), 7.0, 1e-12);
    assert_near(kn_at(&polar, 65, 8), 6.0, 1e-12);
    assert_near(kn_at(&polar, 120, 15), 7.5, 1e-12);
}

static void both_sides_are_the_same(void **state) {
    (void)state;
    struct polar polar = read_good(small);
    for (double twa_deg = 0.0; twa_deg < 180.0; twa_deg += 1.7)
        assert_near(kn_at(&polar, -twa_deg, 9.3), kn_at(&polar, twa_deg, 9.3),
                    0.0);
}

static void below_the_lowest_wind_it_goes_straight_to_nothing(void **state) {
    (void)state;
    struct polar polar = read_good(small);
    assert_near(kn_at(&polar, 90, 3), 3.0, 1e-12);
    assert_near(kn_at(&polar, 65, 1.5), 1.25, 1e-12);
    assert_near(kn_at(&polar, 90, 0), 0.0, 0.0);
}

static void above_the_highest_wind_it_is_held_and_flagged(void **state) {
    (void)state;
    struct polar polar = read_good(small);
    assert_near(kn_at(&polar, 90, 35), 9.0, 1e-12);
    assert_true(polar_is_beyond(&polar, kn_to_mps(20.5)));
    assert_false(polar_is_beyond(&polar, kn_to_mps(20.0)));
}

static void below_the_first_angle_there_is_no_speed(void **state) {
    (void)state;
    struct polar polar = read_good(small);
    assert_near(kn_at(&polar, 39.9, 10), 0.0, 0.0);
    assert_near(kn_at(&polar, 0, 10), 0.0, 0.0);
    assert_near(kn_at(&polar, 40, 10), 6.0, 1e-12);
}

static void beyond_the_last_angle_it_is_held(void **state) {
    (void)state;
    struct polar polar = read_good(small);
    assert_near(kn_at(&polar, 180, 10), 5.0, 1e-12);
    assert_near(kn_at(&polar, -165, 20), 8.0, 1e-12);
}

static void the_top_speed_is_the_greatest_cell(void **state) {
    (void)state;
    struct polar polar = read_good(small);
    assert_near(mps_to_kn(polar_top_speed(&polar)), 9.0, 1e-12);
}

/* A forecast wind of 10 m/s is 19.44 kn once: not 10, not 37.8. */
static void metres_per_second_meet_the_knots_of_the_table_once(void **state) {
    (void)state;
    struct polar polar = read_good("TWA,10,19.4384449,37.8\n"
                                   "60,1,2,3\n120,1,2,3\n");
    assert_near(mps_to_kn(polar_speed(&polar, 90.0, 10.0)), 2.0, 1e-7);
}

/* --- straight down the wind
 * ------------------------------------------------------------ */

static void the_best_downwind_angle_is_found(void **state) {
    (void)state;
    struct polar polar = read_good("TWA,6,10\n90,5,7\n140,5,7\n180,3,4\n");
    double twa_deg;
    double best_mps = polar_best_downwind(&polar, kn_to_mps(10), &twa_deg);
    for (double angle = 90.0; angle <= 180.0; angle += 0.05)
        assert_true(mps_to_kn(best_mps) >=
                    -kn_at(&polar, angle, 10) * cos(angle * 0.017453292519943) -
                        1e-3);
    assert_near(mps_to_kn(best_mps),
                -kn_at(&polar, twa_deg, 10) * cos(twa_deg * 0.017453292519943),
                1e-9);
}

static void where_the_run_is_fastest_it_is_the_run(void **state) {
    (void)state;
    struct polar polar = read_good("TWA,6,10\n90,5,7\n140,5,7\n180,5,7\n");
    double twa_deg;
    assert_near(mps_to_kn(polar_best_downwind(&polar, kn_to_mps(10), &twa_deg)),
                7.0, 1e-12);
    assert_near(twa_deg, 180.0, 0.0);
}

static void no_wind_makes_nothing_good(void **state) {
    (void)state;
    struct polar polar = read_good(small);
    double twa_deg;
    assert_near(polar_best_downwind(&polar, 0.0, &twa_deg), 0.0, 0.0);
    assert_near(twa_deg, 180.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_separator_and_decimal_mark_is_read),
        cmocka_unit_test(the_corner_is_free_text),
        cmocka_unit_test(remarks_and_blank_lines_are_passed_over),
        cmocka_unit_test(byte_order_mark_and_carriage_returns_do_no_harm),
        cmocka_unit_test(a_separator_at_the_end_of_each_line_is_no_cell),
        cmocka_unit_test(doubtful_marks_are_refused),
        cmocka_unit_test(a_gap_is_refused),
        cmocka_unit_test(axes_out_of_order_are_refused_with_their_line),
        cmocka_unit_test(a_wholly_falling_angle_axis_is_turned_round),
        cmocka_unit_test(values_out_of_range_are_refused),
        cmocka_unit_test(too_small_a_table_is_refused),
        cmocka_unit_test(a_foreign_unit_in_the_first_row_is_refused),
        cmocka_unit_test(sizes_up_to_the_limits_are_read),
        cmocka_unit_test(a_file_up_to_the_limit_is_read),
        cmocka_unit_test(a_file_that_is_not_there_is_refused),
        cmocka_unit_test(a_column_of_no_wind_is_dropped_if_it_is_all_noughts),
        cmocka_unit_test(the_index_changes_no_bit),
        cmocka_unit_test(it_is_exact_at_every_node),
        cmocka_unit_test(it_is_bilinear_between_them),
        cmocka_unit_test(both_sides_are_the_same),
        cmocka_unit_test(below_the_lowest_wind_it_goes_straight_to_nothing),
        cmocka_unit_test(above_the_highest_wind_it_is_held_and_flagged),
        cmocka_unit_test(below_the_first_angle_there_is_no_speed),
        cmocka_unit_test(beyond_the_last_angle_it_is_held),
        cmocka_unit_test(the_top_speed_is_the_greatest_cell),
        cmocka_unit_test(metres_per_second_meet_the_knots_of_the_table_once),
        cmocka_unit_test(the_best_downwind_angle_is_found),
        cmocka_unit_test(where_the_run_is_fastest_it_is_the_run),
        cmocka_unit_test(no_wind_makes_nothing_good),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
