/* A plan with watches, from outside: its deck work moves to a change of watch,
 * and its own route gives its own times when it is read again. */
#include "../support/check.h"
#include "../support/planned.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { SAMPLES = 2, CREWS = 2, LINE = 9000 };
static const char *const samples[SAMPLES] = {"trade-crossing", "dateline-hop"};

/* The set of the first can be done from 18 to 20 h, not at a change of watch
 * already, the stow of the second from 00:15 to 01:45: crews who change watch
 * in both. */
static const struct crew {
    int hours;
    const char *start;
} crews[CREWS] = {{3, "01:00"}, {6, "01:00"}};

/* The sample with a crew: its paths are those of its folder. */
static const char *with_crew(const char *sample, const struct crew *crew) {
    char line[LINE], name[100], text[200];
    snprintf(line, sizeof line,
             "sed -E \"/^.crew/,\\$d;s#^(boat|forecast) *= *#&$PWD/"
             "grib-samples/#\" grib-samples/%s.ini",
             sample);
    snprintf(text, sizeof text,
             "\n[crew]\nnames = Cleo, Dan\nwatch_hours = %d\n"
             "watch_start = %s\n",
             crew->hours, crew->start);
    struct ran passage = check_shell(line);
    snprintf(line, sizeof line, "%s%s", passage.out, text);
    snprintf(name, sizeof name, "%s-%d.ini", sample, crew->hours);
    return check_write(name, line);
}

static const json_t *changes_of(const struct planned *plan) {
    return json_object_get(plan->json, "changes");
}

/* How many say that they were moved; each is at a change of watch. */
static int count_moved(const struct planned *plan, const struct crew *crew) {
    int moved = 0, hour, minute;
    assert_int_equal(sscanf(crew->start, "%d:%d", &hour, &minute), 2);
    double start_s = 3600.0 * hour + 60.0 * minute;
    for (size_t i = 0; i < json_array_size(changes_of(plan)); i++) {
        const json_t *change = json_array_get(changes_of(plan), i);
        const char *why = json_string_value(json_object_get(change, "why"));
        if (!why || !strstr(why, "moved to the change of watch"))
            continue;
        double at_s = planned_time_s(json_object_get(change, "at"));
        assert_near(remainder(at_s - start_s, 3600.0 * crew->hours), 0.0, 2.0);
        moved++;
    }
    return moved;
}

static void work_moves_to_a_change_of_watch_and_is_found_again(void **state) {
    (void)state;
    int moved = 0;
    for (int i = 0; i < SAMPLES; i++)
        for (int k = 0; k < CREWS; k++) {
            const char *passage = with_crew(samples[i], &crews[k]);
            struct planned plan =
                planned_well("moved", "plan '%s' --coast none", passage);
            struct planned again = planned_well(
                "moved-again", "along '%s/route.gpx' '%s' --coast none",
                plan.folder, passage);
            assert_near(planned_arrive_s(&again), planned_arrive_s(&plan),
                        10.0);
            int times = count_moved(&plan, &crews[k]);
            assert_int_equal(count_moved(&again, &crews[k]), times);
            moved += times;
        }
    assert_true(moved >= 3);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(work_moves_to_a_change_of_watch_and_is_found_again),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
