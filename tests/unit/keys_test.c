#include "../support/check.h"
#include "../support/scratch.h"

#include "base/figure.h"
#include "base/keys.h"

#include <stdlib.h>
#include <string.h>

struct target {
    double max_wind_mps, awa_deg[2];
    struct figure height_m;
    int points, rule;
    const char *name, *polar, *material;
    struct key_list via;
    double set_s;
};

static const char *const rules[] = {"any", "daylight-first", "daylight-only",
                                    NULL};

#define AT(field) offsetof(struct target, field)

static const struct key keys[] = {
    {.section = "boat",
     .name = "name",
     .kind = KEY_TEXT,
     .offset = AT(name),
     .help = "name of the boat"},
    {.section = "boat",
     .name = "metacentric_height_m",
     .kind = KEY_FIGURE,
     .offset = AT(height_m),
     .low = 0.3,
     .high = 3,
     .unit = "m",
     .fallback = "",
     .help = "metacentric height, from which the roll period "
             "is estimated when it is not given itself"},
    {.section = "boat",
     .name = "stowed",
     .kind = KEY_PATH,
     .offset = AT(polar),
     .help = "polar with the spar stowed"},
    {.section = "spar",
     .name = "wing_awa_deg",
     .kind = KEY_PAIR,
     .offset = AT(awa_deg),
     .low = 90,
     .high = 180,
     .unit = "deg",
     .fallback = "140 180",
     .help = "apparent wind angles, wing-and-wing"},
    {.section = "spar",
     .name = "max_wind_kn",
     .kind = KEY_NUMBER,
     .offset = AT(max_wind_mps),
     .low = 5,
     .high = 60,
     .unit = "kn",
     .scale = 1852.0 / 3600.0,
     .fallback = "22",
     .help = "greatest true wind"},
    {.section = "spar",
     .name = "material",
     .kind = KEY_TEXT,
     .offset = AT(material),
     .fallback = "",
     .help = "what the tube is of"},
    {.section = "work",
     .name = "set_minutes",
     .kind = KEY_NUMBER,
     .offset = AT(set_s),
     .low = 1,
     .high = 120,
     .unit = "min",
     .scale = 60,
     .fallback = "20",
     .help = "to set the spar"},
    {.section = "work",
     .name = "deck_work",
     .kind = KEY_CHOICE,
     .offset = AT(rule),
     .choices = rules,
     .fallback = "daylight-first",
     .help = "when someone may go forward"},
    {.section = "work",
     .name = "route_points",
     .kind = KEY_COUNT,
     .offset = AT(points),
     .low = 2,
     .high = 500,
     .unit = "",
     .fallback = "50",
     .help = "most waypoints"},
    {.section = "work",
     .name = "via",
     .kind = KEY_LIST,
     .offset = AT(via),
     .fallback = "",
     .help = "a place to pass"},
};

enum { KEY_COUNT_ALL = sizeof keys / sizeof *keys };

static const struct key_table table = {keys, KEY_COUNT_ALL};
static struct error error;
static struct target target;
static bool seen[KEY_COUNT_ALL];

static int start(void **state) {
    scratch_begin(state);
    memset(seen, 0, sizeof seen);
    memset(&target, 0xff, sizeof target);
    keys_set_defaults(&table, &target, &arena);
    return 0;
}

static bool store(const char *section, const char *name, const char *value) {
    struct ini_entry entry = {section, name, value, 1};
    return keys_store(&table, &target, seen, &entry, "boats/ours.ini", &arena,
                      &error);
}

static void defaults_come_in_si_units(void **state) {
    (void)state;
    assert_near(target.max_wind_mps, 11.317778, 1e-6); /* 22 * 1852 / 3600 */
    assert_near(target.awa_deg[0], 140.0, 0.0);
    assert_near(target.awa_deg[1], 180.0, 0.0);
    assert_near(target.set_s, 1200.0, 0.0);
    assert_int_equal(target.rule, 1);
    assert_int_equal(target.points, 50);
    assert_false(target.height_m.known);
    assert_null(target.material);
    assert_int_equal(target.via.count, 0);
}

static void given_values_replace_them(void **state) {
    (void)state;
    assert_true(store("boat", "name", "Ours; of two #1"));
    assert_true(store("boat", "metacentric_height_m", "1.2"));
    assert_true(store("boat", "stowed", "a.csv"));
    assert_true(store("spar", "wing_awa_deg", "150   175"));
    assert_true(store("spar", "max_wind_kn", "5"));
    assert_true(store("work", "deck_work", "daylight-only"));
    assert_true(store("work", "route_points", "500"));
    assert_string_equal(target.name, "Ours; of two #1");
    assert_true(target.height_m.known);
    assert_near(target.height_m.value, 1.2, 0.0);
    assert_string_equal(target.polar, "boats/a.csv");
    assert_near(target.awa_deg[0], 150.0, 0.0);
    assert_near(target.awa_deg[1], 175.0, 0.0);
    assert_near(target.max_wind_mps, 5 * 1852.0 / 3600.0, 1e-15);
    assert_int_equal(target.rule, 2);
    assert_int_equal(target.points, 500);
    assert_true(keys_complete(&table, seen, "ours.ini", &error));
}

static void lists_repeat_and_other_keys_do_not(void **state) {
    (void)state;
    assert_true(store("work", "via", "10N 20W"));
    assert_true(store("work", "via", "11N 21W"));
    assert_int_equal(target.via.count, 2);
    assert_string_equal(target.via.texts[0], "10N 20W");
    assert_string_equal(target.via.texts[1], "11N 21W");
    assert_true(store("spar", "max_wind_kn", "20"));
    assert_false(store("spar", "max_wind_kn", "30"));
    assert_string_equal(error.text, "key 'max_wind_kn' in [spar] is given "
                                    "twice; keep one of them");
    assert_int_equal(error.status, STATUS_INPUT);
}

static void bad_values_are_refused_with_what_is_allowed(void **state) {
    (void)state;
    static const struct {
        const char *section, *name, *value, *expected;
    } cases[] = {
        {"spar", "max_wind_kn", "300",
         "'300' for 'max_wind_kn' in [spar] is out of range; give 5 to 60 kn"},
        {"spar", "max_wind_kn", "4.99", "is out of range; give 5 to 60 kn"},
        {"spar", "max_wind_kn", "22,5", "is not a number; give 5 to 60 kn"},
        {"spar", "max_wind_kn", "22 kn", "is not a number"},
        {"spar", "max_wind_kn", "nan", "is not a number"},
        {"spar", "max_wind_kn", "", "has no value"},
        {"boat", "name", "", "key 'name' in [boat] has no value"},
        {"boat", "metacentric_height_m", "9", "give 0.3 to 3 m"},
        {"spar", "wing_awa_deg", "140", "is not two numbers"},
        {"spar", "wing_awa_deg", "140 150 160", "is not two numbers"},
        {"spar", "wing_awa_deg", "140 181",
         "'140 181' for 'wing_awa_deg' in [spar] is out of range; give two of "
         "90 to 180 deg"},
        {"spar", "wing_awa_deg", "140, 180", "is not a number"},
        {"spar", "wing_awa_deg", "180 140", "has the greater number first"},
        {"work", "route_points", "50.5",
         "is not a whole number; give 2 to 500"},
        {"work", "route_points", "1", "is out of range; give 2 to 500"},
        {"work", "deck_work", "night",
         "'night' for 'deck_work' in [work] is not known; give one of any, "
         "daylight-first, daylight-only"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        memset(seen, 0, sizeof seen);
        assert_false(store(cases[i].section, cases[i].name, cases[i].value));
        assert_contains(error.text, cases[i].expected);
        assert_int_equal(error.status, STATUS_INPUT);
    }
}

/* A typing error in a limit must not pass unseen. */
static void unknown_keys_are_refused_with_the_nearest(void **state) {
    (void)state;
    static const struct {
        const char *section, *name, *expected;
    } cases[] = {
        {"spar", "max_wnd_kn",
         "unknown key 'max_wnd_kn' in [spar]; did you mean 'max_wind_kn'"},
        {"spar", "set_minutes",
         "unknown key 'set_minutes' in [spar]; it belongs under [work]"},
        {"spar", "colour",
         "unknown key 'colour' in [spar]; --template lists the keys"},
        {"sparr", "max_wind_kn",
         "unknown section [sparr]; did you mean [spar]"},
        {"engine", "speed",
         "unknown section [engine]; --template lists the sections"},
        {"", "max_wind_kn",
         "key 'max_wind_kn' stands before any section; put it under [spar]"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        assert_false(store(cases[i].section, cases[i].name, "1"));
        assert_string_equal(error.text, cases[i].expected);
    }
}

static void required_keys_must_be_seen(void **state) {
    (void)state;
    assert_true(store("boat", "name", "Ours"));
    assert_false(keys_complete(&table, seen, "ours.ini", &error));
    assert_string_equal(error.text, "ours.ini: key 'stowed' is missing from "
                                    "[boat]; add it: polar with the spar "
                                    "stowed");
}

static void an_empty_optional_key_is_unset(void **state) {
    (void)state;
    target.height_m = figure_of(1.0);
    target.material = "carbon";
    assert_true(store("boat", "metacentric_height_m", ""));
    assert_true(store("spar", "material", ""));
    assert_true(store("work", "via", ""));
    assert_false(target.height_m.known);
    assert_null(target.material);
    assert_int_equal(target.via.count, 0);
}

static const char *template_path(void) {
    static char path[300];
    snprintf(path, sizeof path, "%s/template.ini", check_folder());
    FILE *stream = fopen(path, "w");
    assert_non_null(stream);
    keys_template(&table, stream);
    assert_int_equal(fclose(stream), 0);
    return path;
}

static const char template_text[] =
    "[boat]\n"
    "# name of the boat (required)\n"
    "name =\n"
    "# metacentric height, from which the roll period is estimated when it is "
    "not\n"
    "# given itself (0.3 to 3 m, optional)\n"
    "#metacentric_height_m =\n"
    "# polar with the spar stowed (required)\n"
    "stowed =\n"
    "\n"
    "[spar]\n"
    "# apparent wind angles, wing-and-wing (two of 90 to 180 deg, default 140 "
    "180)\n"
    "#wing_awa_deg = 140 180\n"
    "# greatest true wind (5 to 60 kn, default 22)\n"
    "#max_wind_kn = 22\n"
    "# what the tube is of (optional)\n"
    "#material =\n"
    "\n"
    "[work]\n"
    "# to set the spar (1 to 120 min, default 20)\n"
    "#set_minutes = 20\n"
    "# when someone may go forward (one of any, daylight-first, "
    "daylight-only,\n"
    "# default daylight-first)\n"
    "#deck_work = daylight-first\n"
    "# most waypoints (2 to 500, default 50)\n"
    "#route_points = 50\n"
    "# a place to pass (optional, may be repeated)\n"
    "#via =\n";

static void the_template_shows_every_key(void **state) {
    (void)state;
    FILE *stream = fopen(template_path(), "r");
    assert_non_null(stream);
    char text[4000];
    text[fread(text, 1, sizeof text - 1, stream)] = '\0';
    fclose(stream);
    assert_string_equal(text, template_text);
    size_t column = 0;
    for (const char *byte = text; *byte; byte++) {
        column = *byte == '\n' ? 0 : column + 1;
        assert_true(column <= 80);
    }
}

static bool store_entry(void *context, const struct ini_entry *entry,
                        struct error *fault) {
    (void)context;
    return keys_store(&table, &target, seen, entry, NULL, &arena, fault);
}

/* As it is printed, only the required keys are there, and empty; with the
 * marks taken off, every line is one that the reader takes. */
static void the_template_can_be_read_back(void **state) {
    (void)state;
    assert_false(ini_load(template_path(), store_entry, NULL, &error));
    assert_contains(error.text, "template.ini:3: key 'name' in [boat] has no "
                                "value");
    char line[700];
    snprintf(line, sizeof line,
             "sed -i 's/^#\\([a-z]\\)/\\1/; s/^\\(name\\|stowed\\) =/& x/' %s",
             template_path());
    assert_int_equal(check_shell(line).status, 0);
    memset(seen, 0, sizeof seen);
    char path[300];
    snprintf(path, sizeof path, "%s/template.ini", check_folder());
    assert_true(ini_load(path, store_entry, NULL, &error));
    for (size_t i = 0; i < KEY_COUNT_ALL; i++)
        assert_true(seen[i]);
    assert_true(keys_complete(&table, seen, NULL, &error));
    assert_near(target.set_s, 1200.0, 0.0);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, start, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(defaults_come_in_si_units),
        TEST(given_values_replace_them),
        TEST(lists_repeat_and_other_keys_do_not),
        TEST(bad_values_are_refused_with_what_is_allowed),
        TEST(unknown_keys_are_refused_with_the_nearest),
        TEST(required_keys_must_be_seen),
        TEST(an_empty_optional_key_is_unset),
        TEST(the_template_shows_every_key),
        TEST(the_template_can_be_read_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
