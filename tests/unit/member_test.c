#include "../support/check.h"

#include "../support/load.h"
#include "forecast/layer.h"
#include "forecast/member.h"
#include <stdlib.h>

enum { PLAIN = -1, CONTROL = 0 }; /* beside the numbers of members */

static struct grib_spec spec_of(int member) {
    struct grib_spec spec = {.edition = 2};
    if (member == PLAIN)
        return spec;
    /* WMO code table 4.6: 1 control, 3 perturbed */
    spec.product = 1;
    spec.early[0] =
        (struct grib_setting){"typeOfEnsembleForecast", member ? 3 : 1};
    spec.early[1] = (struct grib_setting){"perturbationNumber", member};
    spec.early[2] = (struct grib_setting){"numberOfForecastsInEnsemble", 9};
    return spec;
}

static void add_wind(struct grib_bytes *bytes, int member, double mps) {
    struct grib_spec spec = spec_of(member);
    grib_add_wind(bytes, &spec, mps, 0.0);
}

static void add_gust(struct grib_bytes *bytes, int member, double mps) {
    struct grib_spec spec = spec_of(member);
    spec.category = 2;
    spec.number = 22;
    spec.fill = mps;
    grib_add(bytes, &spec);
}

static struct loaded load_member(struct grib_bytes *bytes,
                                 struct figure number) {
    struct forecast_options options = forecast_defaults();
    options.member = number;
    return load_bytes(bytes, &options);
}

static struct weather here(const struct loaded *loaded) {
    if (!loaded->good)
        fail_msg("%s", loaded->error.text);
    return weather_at(loaded, 49.5, -9.5, 0.0);
}

static void a_number_chooses_its_member(void **state) {
    (void)state;
    for (int member = 0; member <= 3; member++) {
        struct grib_bytes bytes = {0};
        for (int i = 3; i >= 0; i--) {
            add_wind(&bytes, i, 10.0 + i);
            add_gust(&bytes, i, 20.0 + i);
        }
        struct loaded loaded = load_member(&bytes, figure_of(member));
        struct weather weather = here(&loaded);
        assert_near(weather.wind.east, 10.0 + member, 1e-3);
        assert_near(weather.gust_mps.value, 20.0 + member, 1e-3);
        char *warnings = warnings_text(&loaded);
        assert_contains(warnings, "wind, gust: 4 members (the control, 1 to "
                                  "3) are there; ");
        assert_contains(warnings, "is used, as asked for");
        free(warnings);
        loaded_free(&loaded);
    }
}

static void the_control_goes_before_all_then_the_plain_forecast(void **state) {
    (void)state;
    struct grib_bytes both = {0}, plain = {0};
    add_wind(&both, PLAIN, 8.0);
    add_wind(&both, 2, 12.0);
    add_wind(&both, CONTROL, 10.0);
    add_wind(&plain, 2, 12.0);
    add_wind(&plain, PLAIN, 8.0);
    struct loaded one = load_member(&both, figure_unknown());
    struct loaded two = load_member(&plain, figure_unknown());
    assert_near(here(&one).wind.east, 10.0, 1e-3);
    assert_near(here(&two).wind.east, 8.0, 1e-3);
    char *warnings = warnings_text(&two);
    assert_contains(warnings, "the forecast without members and 1 member (2) "
                              "are there; the forecast without members is "
                              "used");
    free(warnings);
    assert_int_equal(forecast_member_count(two.forecast), 1);
    assert_int_equal(forecast_member(two.forecast, 0).number, 2);
    assert_int_equal(forecast_used(two.forecast).kind, MEMBER_NONE);
    loaded_free(&one);
    loaded_free(&two);
}

/* Members 1, 2, 3, 7 without a control. */
static void gaps_show_in_the_list(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    static const int numbers[] = {7, 1, 3, 2};
    for (int i = 0; i < 4; i++)
        add_wind(&bytes, numbers[i], 10.0 + numbers[i]);
    struct loaded loaded = load_member(&bytes, figure_unknown());
    assert_near(here(&loaded).wind.east, 11.0, 1e-3);
    char *description = description_text(&loaded);
    assert_contains(description, "Members\n  wind: 4 members (1 to 3, 7)\n");
    free(description);
    loaded_free(&loaded);
}

static void what_has_no_members_serves_all(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_wind(&bytes, 1, 11.0);
    add_wind(&bytes, 2, 12.0);
    add_gust(&bytes, PLAIN, 20.0);
    struct loaded loaded = load_member(&bytes, figure_of(2));
    assert_near(here(&loaded).wind.east, 12.0, 1e-3);
    assert_near(here(&loaded).gust_mps.value, 20.0, 1e-3);
    loaded_free(&loaded);
}

/* A gust of other weather is none of ours. */
static void the_gust_of_another_member_is_not_used(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_wind(&bytes, 1, 11.0);
    add_wind(&bytes, 2, 12.0);
    add_gust(&bytes, 1, 20.0);
    struct loaded loaded = load_member(&bytes, figure_of(2));
    assert_near(here(&loaded).wind.east, 12.0, 1e-3);
    assert_false(here(&loaded).gust_mps.known);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "gust: 1 member (1) is there, but not the member "
                              "that is asked for: not used");
    free(warnings);
    loaded_free(&loaded);
}

static void faults_are_told(void **state) {
    (void)state;
    struct grib_bytes plain = {0}, some = {0}, twice = {0};
    add_wind(&plain, PLAIN, 8.0);
    struct loaded loaded = load_member(&plain, figure_of(3));
    assert_false(loaded.good);
    assert_int_equal(loaded.error.status, STATUS_INPUT);
    assert_contains(loaded.error.text, "member 3 is asked for, but the wind of "
                                       "the forecast files has no members");
    loaded_free(&loaded);
    add_wind(&some, CONTROL, 8.0);
    add_wind(&some, 1, 8.0);
    loaded = load_member(&some, figure_of(3));
    assert_false(loaded.good);
    assert_int_equal(loaded.error.status, STATUS_INPUT);
    assert_contains(loaded.error.text, "has no member 3; there are 2 members "
                                       "(the control, 1)");
    loaded_free(&loaded);
    struct grib_spec spec = spec_of(1);
    add_wind(&twice, 1, 8.0);
    spec.early[0].value = 2; /* negatively perturbed */
    grib_add_wind(&twice, &spec, 9.0, 0.0);
    loaded = load_member(&twice, figure_of(1));
    assert_false(loaded.good);
    assert_contains(loaded.error.text, "2 members of the forecast files have "
                                       "the number 1");
    loaded_free(&loaded);
}

/* The current, by speed and direction, has no members: it is turned into
 * components for each, and must not be turned twice. Packed in a way that the
 * GRIB library alone reads. */
static void add_current(struct grib_bytes *bytes) {
    double speeds[] = {0.5, 0.5, 0.5, 0.6}, towards[] = {90, 90, 90, 91};
    struct grib_spec spec = {.edition = 2,
                             .discipline = 10,
                             .category = 1,
                             .level_type = 1,
                             .values = towards,
                             .packing = "grid_ieee"};
    grib_add(bytes, &spec);
    spec.number = 1;
    spec.values = speeds;
    grib_add(bytes, &spec);
}

static void each_member_has_a_forecast_of_its_own(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    for (int i = 0; i <= 2; i++)
        add_wind(&bytes, i, 10.0 + i);
    add_current(&bytes);
    struct loaded loaded = load_member(&bytes, figure_unknown());
    assert_near(here(&loaded).current.east, 0.5, 0.1);
    assert_int_equal(forecast_member_count(loaded.forecast), 3);
    for (size_t i = 0; i < 3; i++) {
        struct forecast *one;
        struct error error;
        struct weather weather;
        struct member member = forecast_member(loaded.forecast, i);
        assert_true(forecast_of_member(&one, loaded.forecast, member,
                                       &loaded.arena, &error));
        assert_int_equal(forecast_used(one).number, (int)i);
        double unix_s =
            (double)forecast_summary(one, QUANTITY_WIND).first.unix_s;
        assert_int_equal(
            forecast_at(one, (struct position){49.9, -9.9}, unix_s, &weather),
            COVERAGE_INSIDE);
        assert_near(weather.wind.east, 10.0 + (double)i, 1e-3);
        assert_near(weather.current.east, 0.5, 0.01);
        assert_near(weather.current.north, 0.0, 0.01);
    }
    loaded_free(&loaded);
}

static void a_member_without_a_whole_wind_is_refused(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec lone = spec_of(1);
    add_wind(&bytes, CONTROL, 10.0);
    lone.category = 2;
    lone.number = 2;
    grib_add(&bytes, &lone);
    struct loaded loaded = load_member(&bytes, figure_unknown());
    assert_true(loaded.good);
    struct forecast *one;
    struct error error;
    assert_false(forecast_of_member(&one, loaded.forecast,
                                    forecast_member(loaded.forecast, 1),
                                    &loaded.arena, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "u without v");
    loaded_free(&loaded);
}

/* A batch of so many members of the wind, the last number first. */
static void members_up_to_the_limit_are_listed(void **state) {
    (void)state;
    static struct decoded fields[ROSTER_MEMBERS + 1];
    struct batch batch = {.fields = fields, .count = ROSTER_MEMBERS};
    for (int i = 0; i <= ROSTER_MEMBERS; i++)
        fields[i].field = (struct grib_field){
            .fate = FATE_USED,
            .parameter = {.quantity = QUANTITY_WIND},
            .member = {.kind = MEMBER_PERTURBED, .number = 2000 - i}};
    struct arena arena;
    arena_init(&arena);
    struct roster roster = roster_of(&batch, &arena);
    assert_int_equal(roster.count[QUANTITY_WIND], ROSTER_MEMBERS);
    assert_int_equal(roster.members[QUANTITY_WIND][0].number, 1001);
    assert_false(roster.full);
    batch.count++;
    roster = roster_of(&batch, &arena);
    assert_int_equal(roster.count[QUANTITY_WIND], ROSTER_MEMBERS);
    assert_int_equal(roster.members[QUANTITY_WIND][0].number, 1001);
    assert_true(roster.full);
    struct notes notes = {.arena = &arena};
    struct choice choice;
    struct error error;
    assert_true(choice_make(&choice, &roster, figure_of(1500), &notes, &error));
    assert_string_equal(notes.texts[0], "there are more than 1000 members; "
                                        "the rest is not used");
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_number_chooses_its_member),
        cmocka_unit_test(the_control_goes_before_all_then_the_plain_forecast),
        cmocka_unit_test(gaps_show_in_the_list),
        cmocka_unit_test(what_has_no_members_serves_all),
        cmocka_unit_test(the_gust_of_another_member_is_not_used),
        cmocka_unit_test(faults_are_told),
        cmocka_unit_test(members_up_to_the_limit_are_listed),
        cmocka_unit_test(each_member_has_a_forecast_of_its_own),
        cmocka_unit_test(a_member_without_a_whole_wind_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
