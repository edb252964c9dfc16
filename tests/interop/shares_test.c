/* `plan --verbose` from outside: why she rolls, leg by leg, against the roll in
 * the plan.json of the same run. */
#include "../support/check.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LINE_SIZE = 9000 };

static struct ran planned_with(const char *what, const char *options) {
    char line[LINE_SIZE];
    snprintf(line, sizeof line, "plan %s --json %s", what, options);
    struct ran ran = check_run(line);
    if (ran.status != 0)
        print_error("%s", ran.err);
    assert_int_equal(ran.status, 0);
    return ran;
}

static struct ran planned(const char *sample, const char *options) {
    char what[100];
    snprintf(what, sizeof what, "grib-samples/%s.ini", sample);
    return planned_with(what, options);
}

static const char *explained(const struct ran *ran) {
    const char *text = strstr(ran->err, "\nWHY SHE ROLLS\n");
    assert_non_null(text);
    return text;
}

/* What one leg's lines say. */
struct shares {
    double roll_deg, squares_deg2, percents;
    int parts, waves;
};

/* "  wind sea    1.6 m ... every  9.4 s  4.00 deg  64 %". */
static void read_part(const char *line, struct shares *shares) {
    enum { FIGURES_AT = 64 };
    char *end;
    double deg = strtod(line + FIGURES_AT, &end);
    assert_int_equal(strncmp(end, " deg", 4), 0);
    double percent = strtod(end + 4, &end);
    assert_int_equal(strncmp(end, " %\n", 3), 0);
    shares->squares_deg2 += deg * deg;
    shares->percents += percent;
    shares->parts++;
    shares->waves += strncmp(line, "  sails' own", 12) != 0;
}

static const char *next_line(const char *line) {
    return strchr(line, '\n') + 1;
}

/* The next leg from `at` on; NULL after the last. */
static const char *read_leg(const char *at, struct shares *shares) {
    *shares = (struct shares){.parts = 0};
    const char *head = strstr(at, "; roll ");
    if (!head)
        return NULL;
    shares->roll_deg = strtod(head + strlen("; roll "), NULL);
    const char *line = next_line(head);
    for (; strncmp(line, "  ", 2) == 0; line = next_line(line))
        read_part(line, shares);
    return line;
}

static void shares_add_up(struct ran ran) {
    json_t *json = json_loads(ran.out, 0, NULL);
    assert_non_null(json);
    const json_t *legs = json_object_get(json, "legs");
    assert_true(json_array_size(legs) > 0);
    const char *at = explained(&ran);
    struct shares shares;
    size_t i = 0;
    for (; (at = read_leg(at, &shares)); i++) {
        const json_t *leg = json_array_get(legs, i);
        double roll_deg = json_number_value(json_object_get(leg, "roll_deg"));
        assert_near(shares.roll_deg, roll_deg, 0.0051);
        assert_true(shares.waves >= 1);
        assert_int_equal(shares.parts, shares.waves + 1);
        /* each part is rounded by up to 0.005 deg, each share by 0.5 */
        double slack_deg2 = 0.01 * roll_deg * (1.0 + sqrt(shares.parts));
        assert_near(shares.squares_deg2, roll_deg * roll_deg, slack_deg2);
        assert_near(shares.percents, 100.0, 0.5 * shares.parts + 1e-9);
    }
    assert_int_equal(i, json_array_size(legs));
    json_decref(json);
}

static void the_shares_of_each_leg_add_up_to_its_roll(void **state) {
    (void)state;
    shares_add_up(planned("trade-crossing", "--verbose"));
    shares_add_up(planned("coastal-hop", "--verbose"));
}

/* Combined seas of a weather centre: split by the wind, and said so. */
static void the_shares_of_a_real_combined_sea_add_up(void **state) {
    (void)state;
    char what[LINE_SIZE / 2], wind[LINE_SIZE / 4];
    const char *path =
        check_real_file("1-wind-series/madagascar-wind-7days.grb");
    if (!path) {
        skip();
        return;
    }
    snprintf(wind, sizeof wind, "%s", path);
    path = check_real_file("2-waves/madagascar-wave-7days.grb");
    if (!path) {
        skip();
        return;
    }
    snprintf(what, sizeof what,
             "--boat polars/wanderer-12.ini --forecast '%s' --forecast '%s' "
             "--depart 2016-03-01T12:00Z --name Real "
             "--from '20 54 S 56 30 E' --to '22 30 S 53 30 E'",
             wind, path);
    struct ran ran = planned_with(what, "--verbose");
    assert_contains(explained(&ran), "\n  wind (part)");
    assert_contains(explained(&ran), "\n  rest (part)");
    shares_add_up(ran);
}

/* Wind sea and three swells of a weather centre, one moment of them: the same
 * again twelve hours later makes a forecast. */
static void the_shares_of_real_partitions_add_up(void **state) {
    (void)state;
    char line[LINE_SIZE];
    const char *path = check_real_file("2-waves/gdaswave-wcoast-f000.grib2");
    if (!path) {
        skip();
        return;
    }
    snprintf(line, sizeof line,
             "grib_set -s forecastTime=12 '%s' '%s/later.grib2'", path,
             check_folder());
    if (check_shell("command -v grib_set").status != 0) {
        print_message("skipped: no grib_set, of libeccodes-tools\n");
        skip();
        return;
    }
    assert_int_equal(check_shell(line).status, 0);
    snprintf(line, sizeof line,
             "--boat polars/wanderer-12.ini --forecast '%s' "
             "--forecast '%s/later.grib2' --depart 2021-11-30T00:00Z "
             "--name Real --from '36 N 123 W' --to '35 30 N 122 30 W'",
             path, check_folder());
    struct ran ran = planned_with(line, "--verbose");
    assert_contains(explained(&ran), "\n  wind sea  ");
    assert_contains(explained(&ran), "\n  swell 3  ");
    assert_null(strstr(explained(&ran), "(part) "));
    shares_add_up(ran);
}

static void the_roll_period_stands_above(void **state) {
    (void)state;
    struct ran ran = planned("coastal-hop", "--verbose");
    assert_contains(explained(&ran), "Roll period of the boat: ");
    assert_contains(explained(&ran), "; damping 0.");
}

static void nothing_is_explained_unasked(void **state) {
    (void)state;
    struct ran ran = planned("coastal-hop", "");
    assert_null(strstr(ran.err, "WHY SHE ROLLS"));
    ran = planned("coastal-hop", "--verbose --quiet");
    assert_string_equal(ran.err, "");
}

/* The samples hold a moderate trade wind and a coastal breeze: long seas. */
static void no_guidance_for_ships_where_none_applies(void **state) {
    (void)state;
    struct ran ran = planned("trade-crossing", "");
    assert_null(strstr(ran.err, "guidance"));
    assert_null(strstr(ran.err, "steep"));
    assert_null(strstr(ran.err, "against a current"));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_shares_of_each_leg_add_up_to_its_roll),
        cmocka_unit_test(the_shares_of_a_real_combined_sea_add_up),
        cmocka_unit_test(the_shares_of_real_partitions_add_up),
        cmocka_unit_test(the_roll_period_stands_above),
        cmocka_unit_test(nothing_is_explained_unasked),
        cmocka_unit_test(no_guidance_for_ships_where_none_applies),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
