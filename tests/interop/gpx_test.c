/* What we write, read by two readers that know nothing of us, and the other
 * way round: gpsbabel 1.8.0 and GDAL 3.6.2 of Debian 12. */
#include "../support/check.h"
#include "../support/gpx_example.h"
#include "../support/scratch.h"

#include "exchange/gpx.h"
#include <stdio.h>
#include <string.h>

static struct gpx example;
static const char *path;

static int begin(void **state) {
    scratch_begin(state);
    example = gpx_example();
    path = gpx_example_write(&example, "example.gpx");
    return 0;
}

__attribute__((format(printf, 1, 2))) static struct ran run(const char *format,
                                                            ...) {
    char line[9000];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(line, sizeof line, format, arguments);
    va_end(arguments);
    return check_shell(line);
}

static bool lacks(const char *program) {
    if (run("command -v %s", program).status == 0)
        return false;
    print_message("skipped: no program %s\n", program);
    return true;
}

static struct gpx loaded(const char *file) {
    struct gpx gpx;
    struct error error;
    if (!gpx_load(&gpx, file, &arena, &error))
        fail_msg("%s", error.text);
    return gpx;
}

static void same_text(const char *actual, const char *expected) {
    if (!expected)
        assert_null(actual);
    else
        assert_string_equal(actual, expected);
}

static void same_place(const struct gpx_point *actual,
                       const struct gpx_point *expected) {
    assert_near(actual->position.lat_deg, expected->position.lat_deg, 1e-12);
    assert_near(actual->position.lon_deg, expected->position.lon_deg, 1e-12);
}

static void same_line(const struct gpx_line *actual,
                      const struct gpx_line *expected) {
    assert_string_equal(actual->name, expected->name);
    assert_int_equal(actual->count, expected->count);
    for (size_t i = 0; i < expected->count; i++) {
        const struct gpx_point *point = &actual->points[i];
        same_place(point, &expected->points[i]);
        assert_int_equal(point->timed, expected->points[i].timed);
        assert_int_equal(point->time.unix_s, expected->points[i].time.unix_s);
        same_text(point->name, expected->points[i].name);
        same_text(point->description, expected->points[i].description);
    }
}

static void gpsbabel_gives_everything_back(void **state) {
    (void)state;
    static const char *const versions[] = {"1.0", "1.1"};
    if (lacks("gpsbabel"))
        skip();
    for (int i = 0; i < 2; i++) {
        const char *back = check_write("gpsbabel.gpx", "");
        struct ran ran =
            run("gpsbabel -r -t -i gpx -f '%s' -o gpx,gpxver=%s -F '%s'", path,
                versions[i], back);
        assert_int_equal(ran.status, 0);
        struct gpx gpx = loaded(back);
        assert_int_equal(gpx.route_count, 1);
        assert_int_equal(gpx.track_count, 1);
        assert_contains(gpx.creator, "GPSBabel");
        assert_string_equal(gpx.name, example.name);
        same_line(&gpx.routes[0], &example.routes[0]);
        same_line(&gpx.tracks[0], &example.tracks[0]);
        same_text(gpx.routes[0].points[0].symbol, "Flag, Green");
    }
}

/* Its table has six decimals and the time in two columns. */
static void gpsbabel_s_table_has_every_point_name_and_time(void **state) {
    (void)state;
    static const char *const rows[] = {
        "1,16.890000,-25.010000,\"SET1\",",    ",2024/02/28,18:00:00",
        "2,0.000000,0.000020,\"W001\",",       ",2024/02/28,19:59:59",
        "3,-0.000000,180.000000,\"GYBE2\",",   ",2024/02/29,09:46:40",
        "4,-12.345679,-180.000000,\"STOW3\",", ",2024/03/01,00:00:00"};
    if (lacks("gpsbabel"))
        skip();
    struct ran ran =
        run("gpsbabel -r -i gpx -f '%s' -o unicsv,utc=0 -F -", path);
    assert_int_equal(ran.status, 0);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_contains(ran.out, rows[i]);
}

static void a_route_made_by_gpsbabel_is_read(void **state) {
    (void)state;
    if (lacks("gpsbabel"))
        skip();
    const char *table =
        check_write("table.csv", "No,Latitude,Longitude,Name,Date,Time\n"
                                 "1,50.5,-4.25,START,2024/02/28,18:00:00\n"
                                 "2,49.75,-5,FINISH,2024/02/29,06:30:00\n");
    const char *back = check_write("made.gpx", "");
    assert_int_equal(run("gpsbabel -i unicsv,utc=0 -f '%s' -x "
                         "transform,rte=wpt,del -o gpx -F '%s'",
                         table, back)
                         .status,
                     0);
    struct gpx gpx = loaded(back);
    assert_int_equal(gpx.routes[0].count, 2);
    const struct gpx_point *points = gpx.routes[0].points;
    assert_string_equal(points[0].name, "START");
    assert_int_equal(points[0].time.unix_s, 1709143200);
    assert_int_equal(points[1].time.unix_s, 1709143200 + 45000);
    assert_near(points[1].position.lat_deg, 49.75, 1e-9);
    assert_near(points[0].position.lon_deg, -4.25, 1e-9);
}

/* One row of GDAL's table: X,Y,time,name. */
static void same_row(const char *row, const struct gpx_point *point) {
    double x, y;
    int hour, minute, second;
    char name[100] = "";
    assert_int_equal(sscanf(row, "%lf,%lf,%*d/%*d/%*d %d:%d:%d+00,%99[^,\r\n]",
                            &x, &y, &hour, &minute, &second, name),
                     point->name ? 6 : 5);
    assert_near(x, point->position.lon_deg, 1e-12);
    assert_near(y, point->position.lat_deg, 1e-12);
    assert_int_equal(hour * 3600 + minute * 60 + second,
                     point->time.unix_s % 86400);
    assert_string_equal(name, point->name ? point->name : "");
}

static void gdal_reads_layer(const char *layer, const struct gpx_line *line) {
    struct ran ran = run("ogr2ogr -f CSV /vsistdout/ '%s' %s -select time,name "
                         "-lco GEOMETRY=AS_XY",
                         path, layer);
    assert_int_equal(ran.status, 0);
    char *rest = ran.out;
    strtok_r(NULL, "\n", &rest); /* the heading */
    for (size_t i = 0; i < line->count; i++) {
        const char *row = strtok_r(NULL, "\n", &rest);
        assert_non_null(row);
        same_row(row, &line->points[i]);
    }
    assert_null(strtok_r(NULL, "\n", &rest));
}

static void gdal_reads_every_point_name_and_time(void **state) {
    (void)state;
    if (lacks("ogr2ogr"))
        skip();
    gdal_reads_layer("route_points", &example.routes[0]);
    gdal_reads_layer("track_points", &example.tracks[0]);
}

static void gdal_reads_route_and_texts(void **state) {
    (void)state;
    if (lacks("ogrinfo"))
        skip();
    struct ran ran = run("ogrinfo -al '%s' routes && ogrinfo -al %s "
                         "route_points",
                         path, path);
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "name (String) = Out & back <1>\n");
    assert_contains(ran.out, "desc (String) = a route\n");
    assert_contains(ran.out, "desc (String) = A & B <\"C\"> 'D'\n");
    assert_contains(ran.out, "desc (String) = caf\xC3\xA9\n");
    assert_contains(ran.out, "sym (String) = Flag, Blue\n");
    assert_contains(ran.out, "Feature Count: 4\n");
}

static void a_route_made_by_gdal_is_read(void **state) {
    (void)state;
    if (lacks("ogr2ogr"))
        skip();
    char back[4200];
    snprintf(back, sizeof back, "%s/gdal.gpx", check_folder());
    assert_int_equal(
        run("ogr2ogr -f GPX '%s' '%s' routes tracks", back, path).status, 0);
    struct gpx gpx = loaded(back);
    assert_int_equal(gpx.route_count, 1);
    assert_int_equal(gpx.routes[0].count, example.routes[0].count);
    for (size_t i = 0; i < gpx.routes[0].count; i++)
        same_place(&gpx.routes[0].points[i], &example.routes[0].points[i]);
    assert_string_equal(gpx.routes[0].name, example.routes[0].name);
    assert_int_equal(gpx.tracks[0].count, example.tracks[0].count);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(gpsbabel_gives_everything_back),
        TEST(gpsbabel_s_table_has_every_point_name_and_time),
        TEST(a_route_made_by_gpsbabel_is_read),
        TEST(gdal_reads_every_point_name_and_time),
        TEST(gdal_reads_route_and_texts),
        TEST(a_route_made_by_gdal_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
