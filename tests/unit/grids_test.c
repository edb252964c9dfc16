#include "../support/check.h"

#include "../support/grid_kinds.h"
#include "../support/load.h"
#include "earth/angle.h"
#include <eccodes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Grids other than lat-lon (their axes, and what is refused: grid_winds_test):
 * messages made of each kind hold a field that is known everywhere; resampled
 * and sampled, it has to be that field.
 *
 * The field is 5 + 3 x + 2 y + z of the unit vector to a place. Linear in
 * space, it is not quite linear along a row or on a chart: over a cell of h
 * radians a straight line misses it by at most h^2 / 8 of its size (the
 * greatest second derivative of a sine), here by the vector's length, sqrt(14)
 * = 3.75. It is interpolated twice, each time in two directions. The step of
 * packing (24 bits) is far below. */
static double field_at(double lat_deg, double lon_deg) {
    double lat = lat_deg * RADIANS_PER_DEGREE;
    double lon = lon_deg * RADIANS_PER_DEGREE;
    return 5.0 + 3.0 * cos(lat) * cos(lon) + 2.0 * cos(lat) * sin(lon) +
           sin(lat);
}

static double tolerance(double cell_deg) {
    double h = cell_deg * RADIANS_PER_DEGREE;
    return 4.0 * 3.75 * h * h / 8.0 + 1e-5;
}

enum { LIMIT = 40000 };

/* Where the library places the points of a message, in the order that its
 * iterator has, which is the message's unless rows run to and fro. */
static void ask_library(const struct grid_kind *kind, struct position *sites) {
    struct grib_bytes bytes = {0};
    struct grib_spec spec = grid_kind_spec(kind);
    double value;
    int code;
    size_t count = 0;
    grib_add(&bytes, &spec);
    codes_handle *handle =
        codes_handle_new_from_message(NULL, bytes.bytes, bytes.size);
    codes_iterator *iterator = codes_grib_iterator_new(handle, 0, &code);
    assert_non_null(iterator);
    while (codes_grib_iterator_next(iterator, &sites[count].lat_deg,
                                    &sites[count].lon_deg, &value) > 0)
        count++;
    assert_int_equal(count, kind->points);
    codes_grib_iterator_delete(iterator);
    codes_handle_delete(handle);
    grib_free(&bytes);
}

/* Polar stereographic on the sphere, true at 60 degrees (from memory: Snyder,
 * Map Projections, 1987, chapter 21): distance from the pole R (1 + sin 60) tan
 * (45 - lat / 2), from the meridian down (north) or up (south). The library has
 * the south wrong. */
static void polar_sites(const struct grid_kind *kind, struct position *sites) {
    double pole = kind->edition == 1 ? -1.0 : 1.0;
    double radius = kind->edition == 1 ? 6367470.0 : 6371229.0;
    double scale = radius * (1.0 + sin(60.0 * RADIANS_PER_DEGREE));
    double meridian = grid_kind_key(kind, "orientationOfTheGridInDegrees");
    double lat =
        pole * grid_kind_key(kind, "latitudeOfFirstGridPointInDegrees");
    double lon =
        grid_kind_key(kind, "longitudeOfFirstGridPointInDegrees") - meridian;
    double off = scale * tan((45.0 - lat / 2.0) * RADIANS_PER_DEGREE);
    double x0 = off * sin(lon * RADIANS_PER_DEGREE);
    double y0 = -pole * off * cos(lon * RADIANS_PER_DEGREE);
    size_t ni = (size_t)grid_kind_key(kind, "Nx");
    for (size_t k = 0; k < kind->points; k++) {
        double x = x0 + 100000.0 * (double)(k % ni);
        double y = y0 + 100000.0 * (double)(k / ni);
        double colatitude =
            2.0 * atan(hypot(x, y) / scale) / RADIANS_PER_DEGREE;
        sites[k].lat_deg = pole * (90.0 - colatitude);
        sites[k].lon_deg = meridian + atan2(x, -pole * y) / RADIANS_PER_DEGREE;
    }
}

/* Where point number `index` of a message of that scanning mode stands in rows
 * from west to east, the southern one first (WMO Manual on Codes, flag table
 * 3.4). */
static size_t standard_index(size_t index, int scan, size_t ni, size_t nj) {
    size_t inner = scan & 0x20 ? nj : ni;
    size_t line = index / inner, along = index % inner;
    if (scan & 0x10 && line % 2 == 1)
        along = inner - 1 - along;
    size_t i = scan & 0x20 ? line : along, j = scan & 0x20 ? along : line;
    if (scan & 0x80)
        i = ni - 1 - i;
    if (!(scan & 0x40))
        j = nj - 1 - j;
    return j * ni + i;
}

/* A message's keys and the places of its points in its own order. */
struct laid {
    struct grid_kind kind;
    struct position sites[LIMIT];
};

static void lay(const struct grid_kind *kind, int scan, struct laid *laid) {
    static struct position standard[LIMIT];
    assert_true(kind->points <= LIMIT);
    laid->kind = *kind;
    if (kind->as_it_is) {
        ask_library(kind, laid->sites);
        return;
    }
    bool mercator = strncmp(kind->name, "Mercator", 8) == 0;
    size_t ni = (size_t)grid_kind_key(kind, mercator ? "Ni" : "Nx");
    if (strncmp(kind->name, "polar", 5) == 0)
        polar_sites(kind, standard);
    else
        ask_library(kind, standard);
    for (size_t k = 0; k < kind->points; k++)
        laid->sites[k] =
            standard[standard_index(k, scan, ni, kind->points / ni)];
    grid_kind_set(&laid->kind, "scanningMode", scan);
    grid_kind_set(&laid->kind, "latitudeOfFirstGridPointInDegrees",
                  laid->sites[0].lat_deg);
    grid_kind_set(&laid->kind, "longitudeOfFirstGridPointInDegrees",
                  angle_wrap_360(laid->sites[0].lon_deg));
}

/* The order of a row of the library's that runs to and fro: it leaves it as if
 * it did not. */
static size_t to_and_fro(const struct grid_kind *kind, size_t index) {
    int scan = kind->as_it_is && kind->scan ? kind->scan : 0;
    size_t inner = scan & 0x20 ? 31 : 41;
    if (!(scan & 0x10) || index / inner % 2 == 0)
        return index;
    return index / inner * inner + inner - 1 - index % inner;
}

/* u is the field, v its half. */
static struct loaded load_made(const struct grid_kind *kind, int scan) {
    static double values[LIMIT];
    static struct laid laid;
    struct grib_bytes bytes = {0};
    lay(kind, scan, &laid);
    struct grib_spec spec = grid_kind_spec(&laid.kind);
    spec.category = 2;
    spec.number = kind->edition == 1 ? 33 : 2;
    spec.bits = 24;
    spec.values = values;
    for (size_t i = 0; i < kind->points; i++) {
        struct position site = laid.sites[i];
        values[to_and_fro(kind, i)] = field_at(site.lat_deg, site.lon_deg);
    }
    grib_add(&bytes, &spec);
    for (size_t i = 0; i < kind->points; i++)
        values[i] *= 0.5;
    spec.number++;
    grib_add(&bytes, &spec);
    return load_bytes(&bytes, NULL);
}

static void compare_inside(const struct grid_kind *kind,
                           const struct loaded *loaded) {
    if (!loaded->good)
        fail_msg("%s", loaded->error.text);
    for (int k = 0; k < GRID_KIND_PLACES; k++) {
        struct position place = kind->inside[k];
        assert_int_equal(coverage_at(loaded, place.lat_deg, place.lon_deg, 0.0),
                         COVERAGE_INSIDE);
        struct vector_mps wind =
            weather_at(loaded, place.lat_deg, place.lon_deg, 0.0).wind;
        double expected = field_at(place.lat_deg, place.lon_deg);
        assert_near(wind.east, expected, tolerance(kind->cell_deg));
        assert_near(wind.north, 0.5 * expected, tolerance(kind->cell_deg));
    }
}

static void a_field_of_every_kind_of_grid_comes_back(void **state) {
    (void)state;
    for (size_t i = 0; i < grid_kind_count; i++) {
        const struct grid_kind *kind = &grid_kinds[i];
        print_message("%s\n", kind->name);
        struct loaded loaded = load_made(kind, kind->scan ? kind->scan : 0x40);
        compare_inside(kind, &loaded);
        assert_int_equal(coverage_at(&loaded, kind->outside.lat_deg,
                                     kind->outside.lon_deg, 0.0),
                         COVERAGE_OUTSIDE_AREA);
        char *text = description_text(&loaded);
        assert_contains(text, "resampled from ");
        assert_contains(text, kind->words);
        free(text);
        loaded_free(&loaded);
    }
}

static void every_order_of_a_chart_is_read(void **state) {
    (void)state;
    for (size_t i = 0; i < grid_kind_count; i++) {
        for (int scan = 0; scan < 0x100 && !grid_kinds[i].as_it_is;
             scan += 0x10) {
            struct loaded loaded = load_made(&grid_kinds[i], scan);
            compare_inside(&grid_kinds[i], &loaded);
            loaded_free(&loaded);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_field_of_every_kind_of_grid_comes_back),
        cmocka_unit_test(every_order_of_a_chart_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
