/* Start and finish are one place: a schedule of no miles that says so, for the
 * moment of the departure, in every file. */
#include "../support/check.h"
#include "../support/planned.h"

#include <stdio.h>
#include <string.h>

/* The same place written alike; points some centimetres apart; another place,
 * where only time counts. */
static const char *const stays[] = {
    "plan grib-samples/coastal-hop.ini --coast none --to '39 18.0 N 9 48.0 W'",
    "plan grib-samples/coastal-hop.ini --coast none "
    "--to '39 18.00001 N 9 48.00001 W'",
    "plan grib-samples/coastal-hop.ini --coast none --from '39.0 N 9.9 W' "
    "--to '39.0 N 9.9 W' --ease 0",
};

static void it_is_a_schedule_of_no_miles(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof stays / sizeof *stays; i++) {
        struct planned plan = planned_well("stay", "%s", stays[i]);
        static const char *const none[] = {
            "distance_nmi", "elapsed_h", "cost_h",           "discomfort_h",
            "spar_h",       "upwind_h",  "roll_over_limit_h"};
        for (size_t k = 0; k < sizeof none / sizeof *none; k++)
            assert_near(planned_figure(&plan, none[k]), 0.0, 0.0);
        assert_near(planned_arrive_s(&plan), 1782014400.0, 0.0);
        assert_contains(plan.schedule, "\n  Distance    0 nmi; great circle 0 "
                                       "nmi\n");
        assert_contains(plan.schedule,
                        "the start and the finish are one place");
        assert_contains(plan.schedule,
                        "\n  Steer       nothing: she lies there, her head ");
        assert_contains(plan.schedule,
                        "\n  Call        the skipper if the wind shifts 20 ");
        assert_null(strstr(plan.schedule, "lay her course"));
        assert_int_equal(json_array_size(json_object_get(plan.json, "legs")),
                         1);
        assert_int_equal(json_array_size(json_object_get(plan.json, "changes")),
                         0);
    }
}

/* No departure is better than another. */
static void a_window_of_no_miles_has_no_best(void **state) {
    (void)state;
    struct ran ran =
        check_run("window grib-samples/coastal-hop.ini --coast none --quiet "
                  "--to '39 18.0 N 9 48.0 W' --earliest 2026-06-21T04:00Z "
                  "--latest 2026-06-21T10:00Z");
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "\n  21 Jun 04:00 21 04:00 night");
    assert_contains(ran.out, "\n  21 Jun 10:00 21 10:00 day");
    assert_contains(ran.out, "\nThe start and the finish are one place: "
                             "nothing is sailed");
    assert_null(strstr(ran.out, "Best by cost"));
    assert_null(strstr(ran.out, "\n* "));
}

/* Wind, gust and sea of the sample at that hour, the wind 50 degrees off the
 * bow of a boat that lies hove-to (common practice, no source). */
static void the_weather_is_that_of_the_place(void **state) {
    (void)state;
    struct planned stay = planned_well("there", "%s", stays[0]);
    struct planned hop =
        planned_well("hop", "plan grib-samples/coastal-hop.ini --coast none");
    const json_t *leg = json_array_get(json_object_get(stay.json, "legs"), 0);
    const json_t *sailed = json_array_get(json_object_get(hop.json, "legs"), 0);
    static const char *const same[] = {"tws_kn", "twd_deg", "gust_kn",
                                       "wave_m"};
    static const double within[] = {1.0, 5.0, 1.0, 0.2};
    for (size_t i = 0; i < 4; i++)
        assert_near(json_number_value(json_object_get(leg, same[i])),
                    json_number_value(json_object_get(sailed, same[i])),
                    within[i]);
    assert_near(json_number_value(json_object_get(leg, "twa_deg")), 50.0, 0.01);
    assert_near(json_number_value(json_object_get(leg, "stw_kn")), 0.0, 0.0);
    assert_near(json_number_value(json_object_get(leg, "aws_kn")),
                json_number_value(json_object_get(leg, "tws_kn")), 0.001);
    assert_true(json_number_value(json_object_get(leg, "roll_deg")) > 0.5);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_a_schedule_of_no_miles),
        cmocka_unit_test(a_window_of_no_miles_has_no_best),
        cmocka_unit_test(the_weather_is_that_of_the_place),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
