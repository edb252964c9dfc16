/* A sea without its parts is split by the wind's past, which is kept at the
 * points of a raster: a plan's own track timed again gives the plan's figures,
 * though it reaches less far round. */
#include "../support/check.h"

#include "../support/ocean_maker.h"
#include "../support/planned.h"
#include <stdio.h>
#include <string.h>

/* The ocean's passage, with its forecast, in files. */
static const char *passage_of(const struct ocean *ocean) {
    struct ran pwd = check_shell("pwd");
    char boat[4200], name[100];
    snprintf(boat, sizeof boat, "%.*s/polars/wanderer-12.ini",
             (int)strcspn(pwd.out, "\n"), pwd.out);
    snprintf(name, sizeof name, "%s.grib2", ocean->name);
    const char *forecast = check_write(name, "");
    snprintf(name, sizeof name, "%s.ini", ocean->name);
    const char *passage = check_write(name, "");
    ocean_write_forecast(ocean, forecast);
    ocean_write_passage(ocean, forecast, boat, passage);
    return passage;
}

/* Its file has places to a millionth of a degree, a tenth of a metre. */
static void is_the_same_again(const struct ocean *ocean) {
    const char *passage = passage_of(ocean);
    struct planned plan = planned_well("plan", "plan '%s'", passage);
    struct planned again = planned_well("again", "along '%s/route.gpx' '%s'",
                                        plan.folder, passage);
    static const char *const figures[] = {"elapsed_h", "cost_h", "discomfort_h",
                                          "roll_mean_deg"};
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
        assert_near(planned_figure(&again, figures[i]) /
                        planned_figure(&plan, figures[i]),
                    1.0, 2e-5);
}

static void a_combined_sea_rolls_the_same_again(void **state) {
    (void)state;
    struct ocean ocean = ocean_offshore();
    is_the_same_again(&ocean);
}

/* Steps that go round the earth in no whole number, across 180 degrees. */
static void likewise_across_the_dateline(void **state) {
    (void)state;
    struct ocean ocean = ocean_offshore();
    ocean.name = "dateline";
    ocean.west_deg = 170.3;
    ocean.step_deg = 1.1;
    ocean.from.lon_deg = -178.2;
    ocean.to.lon_deg = 177.9;
    is_the_same_again(&ocean);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_combined_sea_rolls_the_same_again),
        cmocka_unit_test(likewise_across_the_dateline),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
