/* `along --against`: two tracks beside one another, by hand-checked figures. */
#include "../support/check.h"

#include <stdio.h>
#include <string.h>

static const char *write_route(const char *name, const char *points) {
    char text[1024];
    snprintf(text, sizeof text,
             "<gpx version='1.1' creator='a test'><rte>%s</rte></gpx>", points);
    return check_write(name, text);
}

static double figure_after(const char *text, const char *label, int column) {
    double value[3] = {0};
    char unit[16];
    const char *line = strstr(text, label);
    assert_non_null(line);
    assert_int_equal(sscanf(line + strlen(label), " %15s %lf %lf %lf", unit,
                            &value[0], &value[1], &value[2]),
                     4);
    return value[column];
}

static void the_longer_track_is_longer_by_the_difference(void **state) {
    (void)state;
    const char *a =
        write_route("straight.gpx", "<rtept lat='24.5' lon='-18.5'/>"
                                    "<rtept lat='23.0' lon='-20.5'/>");
    const char *b =
        write_route("corner.gpx", "<rtept lat='24.5' lon='-18.5'/>"
                                  "<rtept lat='23.0' lon='-18.5'/>"
                                  "<rtept lat='23.0' lon='-20.5'/>");
    char line[2048];
    snprintf(line, sizeof line,
             "along '%s' grib-samples/trade-crossing.ini --against '%s' "
             "--quiet",
             a, b);
    struct ran ran = check_run(line);
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "AGAINST ANOTHER TRACK");
    const char *table = strstr(ran.out, "AGAINST ANOTHER TRACK");
    double first = figure_after(table, "distance", 0);
    double second = figure_after(table, "distance", 1);
    /* 90 nmi of latitude and 110.6 of longitude at 23 N, by minutes of arc:
     * 2 deg * 60 * cos 23 = 110.5 */
    assert_near(second, 200.5, 1.5);
    assert_near(first, 142.1, 1.5);
    assert_near(figure_after(table, "distance", 2), second - first, 1.0);
    assert_near(figure_after(table, "time", 2),
                figure_after(table, "time", 1) - figure_after(table, "time", 0),
                0.11);
}

static void a_track_against_itself_differs_by_nothing(void **state) {
    (void)state;
    const char *a = write_route("self.gpx", "<rtept lat='24.5' lon='-18.5'/>"
                                            "<rtept lat='23.0' lon='-20.5'/>");
    char line[2048];
    snprintf(line, sizeof line,
             "along '%s' grib-samples/trade-crossing.ini --against '%s' "
             "--quiet",
             a, a);
    struct ran ran = check_run(line);
    assert_int_equal(ran.status, 0);
    const char *table = strstr(ran.out, "AGAINST ANOTHER TRACK");
    assert_non_null(table);
    assert_near(figure_after(table, "time", 2), 0.0, 1e-9);
    assert_near(figure_after(table, "cost", 2), 0.0, 1e-9);
}

/* Every row is the difference of its two times; the last sum is that of the
 * arrivals. A GPX 1.0 track stands against a 1.1 route. */
static void legs_add_up_to_the_whole(void **state) {
    (void)state;
    const char *a = write_route("legs.gpx", "<rtept lat='24.5' lon='-18.5'/>"
                                            "<rtept lat='22.0' lon='-22.0'/>"
                                            "<rtept lat='21.0' lon='-26.0'/>");
    const char *b = check_write(
        "old.gpx",
        "<gpx version='1.0' creator='a test' "
        "xmlns='http://www.topografix.com/GPX/1/0'><trk><trkseg>"
        "<trkpt lat='24.5' lon='-18.5'><course>200</course><speed>3</speed>"
        "</trkpt><trkpt lat='21.0' lon='-22.0'/></trkseg><trkseg>"
        "<trkpt lat='21.0' lon='-26.0'/></trkseg></trk></gpx>");
    char line[2048];
    snprintf(line, sizeof line,
             "along '%s' grib-samples/trade-crossing.ini --against '%s' "
             "--quiet",
             a, b);
    struct ran ran = check_run(line);
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "WHERE THE SPAR PAYS  the track kept");
    double whole_h = figure_after(strstr(ran.out, "AGAINST"), "time", 2);
    const char *row = strstr(ran.out, "LEG BY LEG");
    assert_non_null(row);
    double left, first_h, second_h, roll, more_h, sum_h, added_h = 0.0;
    char point[16], spar[16];
    int rows = 0;
    for (row = strstr(row, "so far\n") + 7; row[0] == ' ';
         row = strchr(row, '\n') + 1, rows++) {
        assert_int_equal(sscanf(row,
                                "%15s %lf %lf %15s %lf %lf %15s %lf %lf %lf",
                                point, &left, &first_h, spar, &roll, &second_h,
                                spar, &roll, &more_h, &sum_h),
                         10);
        added_h += more_h;
        assert_near(more_h, second_h - first_h, 0.11);
        assert_near(sum_h, added_h, 0.1 * (rows + 1));
    }
    assert_true(rows >= 2);
    assert_string_equal(point, "finish");
    assert_near(left, 0.0, 1e-9);
    assert_near(sum_h, whole_h, 0.11);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_longer_track_is_longer_by_the_difference),
        cmocka_unit_test(a_track_against_itself_differs_by_nothing),
        cmocka_unit_test(legs_add_up_to_the_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
