/* Plans that are to arrive by daylight, from outside: there is light at their
 * finish, and their own route gives their own times when it is read again. The
 * demo and the hop from other departures, so that they would arrive by night
 * (measured): early in it, late in it, and on a passage of a night. */
#include "../support/check.h"
#include "../support/planned.h"

#include "earth/sun.h"

#include <string.h>

static const struct departure {
    const char *passage;
    struct position finish;
    bool slows, waits, slow_test;
} departures[] = {
    /* 05:24, dark until 08:25: a calmer way is in at 10:37 */
    {"grib-samples/trade-crossing.ini --depart 2026-03-10T00:00Z",
     {16.0, -40.0},
     false,
     false,
     false},
    /* 21:29, dark from 21:11: a little less at ease she is in before */
    {"grib-samples/trade-crossing.ini --depart 2026-03-10T16:15Z",
     {16.0, -40.0},
     false,
     false,
     true},
    /* 01:45, dark until 04:43 */
    {"grib-samples/coastal-hop.ini --depart 2026-06-21T01:00Z",
     {36.85, -9.4},
     true,
     false,
     false},
    /* 28 nmi from an hour after sunset: too short to be slowed down for alone
     */
    {"grib-samples/coastal-hop.ini --from '37 06.0 N 9 24.0 W' "
     "--depart 2026-06-21T20:00Z",
     {36.85, -9.4},
     true,
     true,
     false},
};

static const json_t *legs_of(const struct planned *plan) {
    return json_object_get(plan->json, "legs");
}

/* The least of a figure of the legs, and the greatest. */
static double least(const struct planned *plan, const char *key, double sign) {
    double least = 1e9;
    size_t count = json_array_size(legs_of(plan));
    for (size_t i = 0; i < count; i++) {
        const json_t *leg = json_array_get(legs_of(plan), i);
        double value = sign * json_number_value(json_object_get(leg, key));
        least = value < least ? value : least;
    }
    return sign * least;
}

static void arrives_in_light(const struct planned *plan,
                             struct position finish) {
    struct sun sun = sun_at(planned_arrive_s(plan));
    assert_int_not_equal(sun_light(sun, finish), LIGHT_NIGHT);
}

static void legs_follow_each_other(const struct planned *plan) {
    const json_t *legs = legs_of(plan);
    for (size_t i = 0; i < json_array_size(legs); i++) {
        const json_t *leg = json_array_get(legs, i);
        double start_s = planned_time_s(json_object_get(leg, "start"));
        double end_s = planned_time_s(json_object_get(leg, "end"));
        double nmi = json_number_value(json_object_get(leg, "distance_nmi"));
        double kn = json_number_value(json_object_get(leg, "sog_kn"));
        double wait_h = json_number_value(json_object_get(leg, "wait_h"));
        if (i > 0)
            assert_near(start_s,
                        planned_time_s(json_object_get(
                            json_array_get(legs, i - 1), "end")),
                        0.0);
        /* two decimals of a knot, whole seconds */
        double sailed_s = end_s - start_s - 3600.0 * wait_h;
        assert_near(kn * sailed_s / 3600.0, nmi,
                    0.01 + 0.006 * sailed_s / 3600.0 + 0.003 * kn);
    }
    const json_t *last = json_array_get(legs, json_array_size(legs) - 1);
    assert_near(planned_time_s(json_object_get(last, "end")),
                planned_arrive_s(plan), 0.0);
}

static void
the_finish_is_reached_in_light_and_so_it_is_found_again(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof departures / sizeof *departures; i++) {
        const struct departure *depart = &departures[i];
        if (depart->slow_test && !check_is_long())
            continue;
        struct planned plan =
            planned_well("daylight", "plan %s --coast none --arrive daylight",
                         depart->passage);
        struct planned again =
            planned_well("daylight-again",
                         "along '%s/route.gpx' %s --coast none "
                         "--arrive daylight",
                         plan.folder, depart->passage);
        arrives_in_light(&plan, depart->finish);
        assert_near(planned_arrive_s(&again), planned_arrive_s(&plan), 10.0);
        legs_follow_each_other(&plan);
        assert_int_equal(least(&plan, "pace_part", 1.0) < 1.0, depart->slows);
        assert_true(least(&plan, "pace_part", 1.0) >= 0.5);
        assert_int_equal(least(&plan, "wait_h", -1.0) > 0.0, depart->waits);
        assert_int_equal(strstr(plan.schedule, "  Slow down   from ") != NULL,
                         depart->slows);
        assert_int_equal(strstr(plan.schedule, "  Wait        ") != NULL,
                         depart->waits);
        assert_int_equal(strstr(plan.gpx, "by daylight") != NULL,
                         depart->slows);
    }
}

static void who_arrives_by_day_is_left_alone(void **state) {
    (void)state;
    struct planned any =
        planned_well("any", "plan grib-samples/dateline-hop.ini --coast none");
    struct planned day = planned_well(
        "by-day",
        "plan grib-samples/dateline-hop.ini --coast none --arrive daylight");
    assert_string_equal(day.gpx, any.gpx);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            the_finish_is_reached_in_light_and_so_it_is_found_again),
        cmocka_unit_test(who_arrives_by_day_is_left_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
