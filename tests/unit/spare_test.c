/* Slowing down and waiting for daylight, as the reports tell it. */
#include "../support/check.h"
#include "../support/flat.h"
#include "../support/plan_example.h"

#include "report/route_gpx.h"
#include "report/schedule.h"
#include "report/spare.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct plan_example example;

static char *written(bool (*write)(const struct plan *, FILE *,
                                   struct error *)) {
    char *text;
    size_t size;
    struct error error;
    FILE *stream = open_memstream(&text, &size);
    assert_true(write(&example.plan, stream, &error));
    fclose(stream);
    flatten(text);
    return text;
}

/* The last leg at half speed, 2.5 m/s or 4.9 kn, after a wait of 1 h 30. */
static void slow_last_leg(void) {
    plan_example_make(&example);
    struct plan_leg *last = &example.plan.legs[example.plan.leg_count - 1];
    last->pace_frac = 0.5;
    last->wait_s = 5400.0;
    last->stw_mps = 2.5;
}

static void a_leg_at_full_speed_says_nothing(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    plan_example_make(&example);
    assert_string_equal(spare_of_leg(&arena, &example.plan.legs[0]), "");
    char *text = written(schedule_write);
    assert_null(strstr(text, "to arrive by daylight"));
    free(text);
    arena_free(&arena);
}

static void the_schedule_tells_it_on_top_and_by_leg(void **state) {
    (void)state;
    slow_last_leg();
    char *text = written(schedule_write);
    assert_contains(text, " on, to 50 % of her speed, to arrive by daylight");
    assert_contains(text, " Wait 1 h 30 min from ");
    assert_contains(text, "SLOW DOWN to arrive by daylight, speed through the "
                          "water: ");
    assert_contains(text, " 4.9 kn");
    assert_contains(text, "WAIT first to arrive by daylight, hove-to or "
                          "standing off and on: ");
    assert_contains(text, " 1 h 30 min");
    free(text);
}

static void at_departure_it_is_told_there(void **state) {
    (void)state;
    plan_example_make(&example);
    example.plan.legs[0].pace_frac = 0.7;
    example.plan.legs[0].stw_mps = 2.5;
    char *text = written(schedule_write);
    assert_contains(text, "Pace slow down to 4.9 kn to arrive by daylight");
    free(text);
}

static void the_route_has_it_where_the_leg_starts(void **state) {
    (void)state;
    slow_last_leg();
    char *text = written(route_gpx_write);
    assert_contains(text,
                    "first wait 1 h 30 min here, hove-to or standing off and "
                    "on, to arrive by daylight; slow down to 4.9 kn to arrive "
                    "by daylight; steer ");
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_leg_at_full_speed_says_nothing),
        cmocka_unit_test(the_schedule_tells_it_on_top_and_by_leg),
        cmocka_unit_test(at_departure_it_is_told_there),
        cmocka_unit_test(the_route_has_it_where_the_leg_starts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
