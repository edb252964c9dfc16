#include "gpx_example.h"

#include "check.h"

#define COUNT(list) (sizeof(list) / sizeof(list)[0])

static struct gpx_point route_points[] = {
    {{16.89, -25.01},
     true,
     {1709143200},
     {true, 12.34},
     "SET1",
     "set the spar to starboard, wind on the port side, 17 kn",
     "Flag, Green",
     "set"},
    {{0.0, 0.00002},
     true,
     {1709150399},
     {false, 0.0},
     "W001",
     "A & B <\"C\"> 'D'",
     NULL,
     NULL},
    {{-0.0000004, 179.9999999},
     true,
     {1709200000},
     {true, -0.04},
     "GYBE2",
     "at ]]> the line",
     "Flag, Blue",
     "gybe"},
    {{-12.3456789, -180.0},
     true,
     {1709251200},
     {true, -12.04},
     "STOW3",
     "caf\xC3\xA9",
     NULL,
     "stow"},
};

static struct gpx_point track_points[] = {
    {{16.89, -25.01}, true, {1709143200}, {false, 0.0}, NULL, NULL, NULL, NULL},
    {{16.1234567, -25.7654321},
     true,
     {1709146800},
     {false, 0.0},
     NULL,
     NULL,
     NULL,
     NULL},
    {{15.5, -26.25}, true, {1709150400}, {false, 0.0}, NULL, NULL, NULL, NULL},
};

struct gpx gpx_example(void) {
    static struct gpx_line route = {"Out & back <1>", "a route", route_points,
                                    COUNT(route_points)};
    static struct gpx_line track = {"Out & back <1>", NULL, track_points,
                                    COUNT(track_points)};
    return (struct gpx){.creator = "sparwise test",
                        .name = "Out & back <1>",
                        .description = "\"made\" by hand",
                        .timed = true,
                        .time = {1709143200},
                        .routes = &route,
                        .route_count = 1,
                        .tracks = &track,
                        .track_count = 1};
}

const char *gpx_example_write(const struct gpx *gpx, const char *name) {
    struct error error;
    const char *path = check_write(name, "");
    FILE *stream = fopen(path, "wb");
    assert_non_null(stream);
    assert_true(gpx_write(gpx, stream, &error));
    assert_int_equal(fclose(stream), 0);
    return path;
}
