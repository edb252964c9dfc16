/* report.html of plans made by the program: its figures against plan.json, its
 * bytes, its size. How it looks: tests/browser. */
#include "../support/planned.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *page_of(const struct planned *planned) {
    char line[4400];
    snprintf(line, sizeof line, "cat '%s/report.html'", planned->folder);
    return check_shell(line).out;
}

/* The block of figures, as the page's script reads it. */
static json_t *figures_of(const char *page) {
    static const char begins[] =
        "<script type=\"application/json\" id=\"figures\">";
    const char *block = strstr(page, begins);
    assert_non_null(block);
    block += strlen(begins);
    const char *end = strstr(block, "</script>");
    assert_non_null(end);
    json_t *figures = json_loadb(block, (size_t)(end - block), 0, NULL);
    assert_non_null(figures);
    return figures;
}

/* "t", "x" and "y" are the first of the places. */
static double number_at(const json_t *figures, const char *column, size_t i) {
    static const char of_place[] = "txy";
    const json_t *samples = json_object_get(figures, "samples");
    const json_t *list = json_object_get(samples, column);
    const json_t *value = json_array_get(list, i);
    const char *place = strchr(of_place, *column);
    if (place && !column[1])
        value = json_array_get(
            json_array_get(json_object_get(samples, "places"), i),
            (size_t)(place - of_place));
    assert_true(json_is_number(value));
    return json_number_value(value);
}

static size_t sample_count(const json_t *figures) {
    return json_array_size(
        json_object_get(json_object_get(figures, "samples"), "places"));
}

static double depart_s(const struct planned *planned) {
    return planned_time_s(
        json_object_get(json_object_get(planned->json, "passage"), "depart"));
}

/* The sample of that moment; ends the test where there is none. */
static size_t sample_at(const json_t *figures, double t_s) {
    for (size_t i = 0; i < sample_count(figures); i++)
        if (fabs(number_at(figures, "t", i) - t_s) < 0.5)
            return i;
    fail_msg("no sample at %.0f s", t_s);
    return 0;
}

static void expect_leg(const struct planned *planned, const json_t *figures,
                       const json_t *leg) {
    double start_s =
        planned_time_s(json_object_get(leg, "start")) - depart_s(planned);
    double end_s =
        planned_time_s(json_object_get(leg, "end")) - depart_s(planned);
    const json_t *from = json_object_get(leg, "from");
    size_t first = sample_at(figures, start_s), i = first;
    assert_near(number_at(figures, "lat", first),
                json_number_value(json_object_get(from, "lat")), 1e-4);
    assert_near(number_at(figures, "lon", first),
                json_number_value(json_object_get(from, "lon")), 1e-4);
    /* the mean wind, by trapezia between the samples */
    double sum = 0.0;
    for (; number_at(figures, "t", i) < end_s - 0.5; i++)
        sum +=
            0.5 *
            (number_at(figures, "tws", i) + number_at(figures, "tws", i + 1)) *
            (number_at(figures, "t", i + 1) - number_at(figures, "t", i));
    assert_near(sum / (end_s - start_s),
                json_number_value(json_object_get(leg, "tws_kn")), 0.5);
}

static void the_boat_s_figures_are_those_of_the_plan(void **state) {
    (void)state;
    struct planned planned = planned_well(
        "figures", "plan grib-samples/dateline-hop.ini --coast none");
    json_t *figures = figures_of(page_of(&planned));
    size_t count = sample_count(figures);
    assert_true(count > 40);
    for (size_t i = 0; i < count; i++) {
        assert_in_range((int)number_at(figures, "x", i), 1, 1199);
        assert_in_range((int)number_at(figures, "y", i), 1, 799);
        if (i > 0)
            assert_true(number_at(figures, "t", i) >
                        number_at(figures, "t", i - 1));
    }
    assert_near(number_at(figures, "t", 0), 0.0, 0.0);
    assert_near(number_at(figures, "t", count - 1),
                json_number_value(json_object_get(figures, "elapsed")), 1.0);
    const json_t *legs = json_object_get(planned.json, "legs"), *leg;
    size_t i;
    json_array_foreach(legs, i, leg) expect_leg(&planned, figures, leg);
    json_decref(figures);
}

/* From departure until after the arrival, never sooner than hourly. */
static void the_weather_covers_the_passage(void **state) {
    (void)state;
    struct planned planned = planned_well(
        "weather", "plan grib-samples/coastal-hop.ini --coast none");
    json_t *figures = figures_of(page_of(&planned));
    const json_t *frames = json_object_get(figures, "frames");
    size_t count = json_array_size(frames), i;
    const json_t *frame;
    assert_in_range(count, 2, 60);
    json_array_foreach(frames, i, frame) {
        size_t spots =
            strlen(json_string_value(json_object_get(figures, "sides")));
        assert_in_range(spots, 100, 150);
        assert_int_equal(json_array_size(json_object_get(frame, "barb")),
                         spots);
        assert_int_equal(json_array_size(json_object_get(frame, "wavefrom")),
                         spots);
        assert_near(json_number_value(json_object_get(frame, "t")),
                    3600.0 * (double)i, 0.0);
    }
    frame = json_array_get(frames, count - 1);
    assert_true(json_number_value(json_object_get(frame, "t")) >=
                json_number_value(json_object_get(figures, "elapsed")));
    json_decref(figures);
}

static void the_bytes_are_the_same_whatever_the_threads(void **state) {
    (void)state;
    struct planned one =
        planned_well("one", "plan grib-samples/coastal-hop.ini --threads 1");
    struct planned two =
        planned_well("two", "plan grib-samples/coastal-hop.ini --threads 2");
    assert_string_equal(page_of(&one), page_of(&two));
    assert_true(strlen(page_of(&one)) < 2000000);
}

static void a_track_of_one_s_own_has_a_page_too(void **state) {
    (void)state;
    struct planned planned = planned_well(
        "planned", "plan grib-samples/coastal-hop.ini --coast none");
    struct planned along = planned_well(
        "along",
        "along '%s/route.gpx' grib-samples/coastal-hop.ini --coast none",
        planned.folder);
    assert_contains(page_of(&along), "A track of your own, timed through");
    assert_contains(page_of(&along), "No land is drawn, and none was checked");
}

static void no_folder_of_this_machine_is_named(void **state) {
    (void)state;
    struct planned planned =
        planned_well("folder", "plan \"$PWD/grib-samples/coastal-hop.ini\" "
                               "--coast none");
    const char *page = page_of(&planned);
    assert_contains(page, "coastal-hop.grib2");
    assert_null(strstr(page, "/coastal-hop.grib2"));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_boat_s_figures_are_those_of_the_plan),
        cmocka_unit_test(the_weather_covers_the_passage),
        cmocka_unit_test(the_bytes_are_the_same_whatever_the_threads),
        cmocka_unit_test(a_track_of_one_s_own_has_a_page_too),
        cmocka_unit_test(no_folder_of_this_machine_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
