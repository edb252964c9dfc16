/* Grids other than lat-lon: winds along their axes are turned, and what is not
 * read is refused by name. */
#include "../support/check.h"

#include "../support/grid_kinds.h"
#include "../support/load.h"
#include "forecast/resample.h"
#include <math.h>

/* Up the grid at 10 m/s, constant. */
static struct loaded load_wind(const struct grid_kind *kind, bool along_axes) {
    struct grib_bytes bytes = {0};
    struct grib_spec spec = grid_kind_spec(kind);
    if (along_axes)
        spec.late[0] =
            (struct grib_setting){"resolutionAndComponentFlags", 0x38};
    grib_add_wind(&bytes, &spec, 0.0, 10.0);
    return load_bytes(&bytes, NULL);
}

/* From where it blows at a place. */
static double from_deg(const struct grid_kind *kind, struct position place,
                       bool along_axes) {
    struct loaded loaded = load_wind(kind, along_axes);
    struct vector_mps wind =
        weather_at(&loaded, place.lat_deg, place.lon_deg, 0.0).wind;
    /* a sample is straight between points of the grid: where the turn changes
     * by 1 degree over a cell it is shorter by 4e-5 */
    if (!(fabs(vector_length(wind) - 10.0) < 2e-3))
        fail_msg("%s: %.4f m/s", kind->name, vector_length(wind));
    loaded_free(&loaded);
    return vector_direction_from(wind);
}

/* Angles by hand, as in turn_test. The grid of Lambert is cut at 38.5 N along
 * 97.5 W: 20 degrees east of it the turn is 12.45. */
static void winds_along_the_axes_are_turned(void **state) {
    (void)state;
    static const struct {
        const char *name;
        struct position place;
        double from;
    } cases[] = {
        {"Lambert", {38.5, -77.5}, 192.45},
        {"Lambert", {38.5, -97.5}, 180.0},
        {"Lambert", {38.5, -107.5}, 173.775},
        {"polar stereographic over the pole", {70.0, 30.0}, 210.0},
        {"polar stereographic over the pole", {80.0, -170.0}, 10.0},
        {"polar stereographic of the south, edition 1", {-75.0, 30.0}, 150.0},
        {"rotated lat-lon", {50.0, 10.0}, 180.0},
        /* course to its pole, 40 N 190 E: atan2(sin 160 cos 40, cos 50 sin 40 -
         * sin 50 cos 40 cos 160) = 15.196 */
        {"rotated lat-lon", {50.0, 30.0}, 195.196},
        {"Mercator", {0.0, 179.99}, 180.0},
        {"regular Gaussian, south to north", {0.0, 50.0}, 180.0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const struct grid_kind *kind = grid_kind_named(cases[i].name);
        assert_angle_near(from_deg(kind, cases[i].place, true), cases[i].from,
                          0.02);
        assert_angle_near(from_deg(kind, cases[i].place, false), 180.0, 0.001);
    }
}

/* --- what is not read ------------------------------------------------------*/

static void refused(const struct grid_kind *kind, bool along_axes,
                    const char *said) {
    struct loaded loaded = load_wind(kind, along_axes);
    assert_false(loaded.good);
    assert_int_equal(loaded.error.status, STATUS_INPUT);
    assert_contains(loaded.error.text, said);
    assert_contains(loaded.error.text, "made.grib', message 1: ");
    assert_contains(loaded.error.text, "ask for a regular lat-lon file");
    loaded_free(&loaded);
}

static void a_wind_along_axes_that_are_not_known_is_refused(void **state) {
    (void)state;
    refused(grid_kind_named("Lambert azimuthal"), true,
            "a Lambert azimuthal grid with a wind along its axes");
}

static void orders_that_are_not_read_are_refused(void **state) {
    (void)state;
    struct grid_kind kind = *grid_kind_named("Lambert");
    grid_kind_set(&kind, "scanningMode", 0x48);
    refused(&kind, false, "a Lambert grid with rows that are shifted");
    kind = *grid_kind_named("regular Gaussian, south to north");
    grid_kind_set(&kind, "scanningMode", 0x60);
    refused(&kind, false,
            "a Gaussian grid with rows in an order that is not read");
}

/* The limit comes before anything is asked for or counted. */
static void too_many_points_are_refused(void **state) {
    (void)state;
    static const struct {
        long points;
        const char *said;
    } cases[] = {{RESAMPLE_SOURCE_LIMIT, "with counts that don't add up"},
                 {RESAMPLE_SOURCE_LIMIT + 1L,
                  "with more points than the limit of 8 million"}};
    const struct grid_kind *kind = grid_kind_named("Lambert");
    for (size_t i = 0; i < 2; i++) {
        struct grib_bytes bytes = {0};
        struct grib_spec spec = grid_kind_spec(kind);
        spec.late[0] =
            (struct grib_setting){"numberOfDataPoints", cases[i].points};
        grib_add_wind(&bytes, &spec, 1.0, 1.0);
        struct loaded loaded = load_bytes(&bytes, NULL);
        assert_false(loaded.good);
        assert_contains(loaded.error.text, cases[i].said);
        loaded_free(&loaded);
    }
}

static void other_grids_are_refused_by_name(void **state) {
    (void)state;
    static const struct grid_kind rotated = {
        .edition = 2,
        .sample = "reduced_rotated_gg_pl_32_grib2",
        .points = 6114,
        .keys = {{"edition", 2}}};
    refused(&rotated, false, "a rotated Gaussian grid (reduced_rotated_gg)");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(winds_along_the_axes_are_turned),
        cmocka_unit_test(a_wind_along_axes_that_are_not_known_is_refused),
        cmocka_unit_test(orders_that_are_not_read_are_refused),
        cmocka_unit_test(too_many_points_are_refused),
        cmocka_unit_test(other_grids_are_refused_by_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
