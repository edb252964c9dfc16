#include "../support/check.h"

#include "../support/grib_maker.h"
#include "../support/load.h"
#include "forecast/decode.h"
#include <eccodes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Grids other than lat-lon: messages made of each kind hold a field that is
 * known everywhere; resampled and sampled, it has to be that field.
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

enum { KEYS = 24, LIMIT = 40000 };

/* A kind of grid, and where to look: places inside, and one outside. */
struct made {
    const char *name, *words; /* as the description has it */
    int edition;
    const char *sample;
    size_t points;
    double cell_deg;
    struct grib_key keys[KEYS]; /* scanning mode 0x40 but where `as_it_is` */
    bool as_it_is; /* the library itself places it in its own order */
    int scan;      /* else the order of the message; 0: 0x40 */
    struct position inside[6], outside;
};

#define TEMPLATE(number)                                                       \
    { "gridDefinitionTemplateNumber", number }
#define FIRST(lat, lon)                                                        \
    {"latitudeOfFirstGridPointInDegrees", lat}, {                              \
        "longitudeOfFirstGridPointInDegrees", lon                              \
    }
#define LAST(lat, lon)                                                         \
    {"latitudeOfLastGridPointInDegrees", lat}, {                               \
        "longitudeOfLastGridPointInDegrees", lon                               \
    }
#define EARTH                                                                  \
    { "shapeOfTheEarth", 6 }

static const struct made kinds[] = {
    {.name = "regular Gaussian, south to north",
     .words = "a Gaussian grid, 128 x 64 points",
     .edition = 2,
     .points = 128 * 64,
     .cell_deg = 2.8125,
     .keys = {TEMPLATE(40),
              {"Ni", 128},
              {"Nj", 64},
              {"N", 32},
              {"scanningMode", 0x40},
              FIRST(-87.8638, 0.0),
              LAST(87.8638, 357.1875),
              {"iDirectionIncrementInDegrees", 2.8125}},
     .inside = {{10.0, 20.0},
                {-33.3, -70.1},
                {0.0, 179.9},
                {5.0, -179.9},
                {80.0, -0.5},
                {-87.0, 100.0}},
     .outside = {89.0, 0.0},
     .as_it_is = true},
    {.name = "reduced Gaussian",
     .words = "a reduced Gaussian grid, 6114 points in 64 rows",
     .edition = 2,
     .sample = "reduced_gg_pl_32_grib2",
     .points = 6114,
     .cell_deg = 18.0, /* of rows near the poles: 20 points on each; a chord of
              18 degrees of longitude there is short */
     .keys = {{"edition", 2}},
     .inside = {{10.0, 20.0},
                {-33.3, -70.1},
                {0.0, 179.9},
                {5.0, -179.9},
                {80.0, -0.5},
                {-87.0, 100.0}},
     .outside = {89.0, 0.0},
     .as_it_is = true},
    {.name = "Mercator",
     .words = "a Mercator grid, 61 x 41 points",
     .edition = 2,
     .points = 61 * 41,
     .cell_deg = 0.95,
     .keys = {TEMPLATE(10),
              EARTH,
              {"Ni", 61},
              {"Nj", 41},
              {"scanningMode", 0x40},
              {"LaDInDegrees", 20.0},
              {"DiInMetres", 100000},
              {"DjInMetres", 100000},
              FIRST(-10.0, 160.0),
              LAST(27.0, 217.0)},
     .inside = {{-8.5, 161.5},
                {0.0, 179.99},
                {1.0, -179.99},
                {20.0, -150.0},
                {24.0, 200.0},
                {-5.0, 170.0}},
     .outside = {0.0, 150.0}},
    {.name = "Lambert",
     .words = "a Lambert grid, 41 x 31 points",
     .edition = 2,
     .points = 41 * 31,
     .cell_deg = 0.9,
     .keys = {TEMPLATE(30),
              EARTH,
              {"Nx", 41},
              {"Ny", 31},
              {"scanningMode", 0x40},
              {"LaDInDegrees", 38.5},
              {"LoVInDegrees", 262.5},
              {"Latin1InDegrees", 38.5},
              {"Latin2InDegrees", 38.5},
              {"DxInMetres", 100000},
              {"DyInMetres", 100000},
              FIRST(25.0, 245.0)},
     .inside = {{38.5, -97.5},
                {30.0, -110.0},
                {45.0, -80.0},
                {28.0, -100.0},
                {40.0, 265.0},
                {35.0, 270.0}},
     .outside = {38.5, -140.0}},
    {.name = "Lambert over the date line, rows to and fro",
     .words = "a Lambert grid, 41 x 31 points",
     .edition = 2,
     .points = 41 * 31,
     .cell_deg = 0.9,
     .keys = {TEMPLATE(30),
              EARTH,
              {"Nx", 41},
              {"Ny", 31},
              {"scanningMode", 0x40},
              {"LaDInDegrees", 38.5},
              {"LoVInDegrees", 180.0},
              {"Latin1InDegrees", 33.0},
              {"Latin2InDegrees", 45.0},
              {"DxInMetres", 100000},
              {"DyInMetres", 100000},
              FIRST(25.0, 162.0)},
     .inside = {{38.5, 180.0},
                {30.0, 179.99},
                {45.0, -179.99},
                {28.0, 175.0},
                {40.0, -170.0},
                {35.0, 170.0}},
     .outside = {38.5, 130.0},
     .scan = 0x50},
    {.name = "polar stereographic over the pole",
     .words = "a polar stereographic grid, 61 x 61 points",
     .edition = 2,
     .points = 61 * 61,
     .cell_deg = 1.0,
     .keys = {TEMPLATE(20),
              EARTH,
              {"Nx", 61},
              {"Ny", 61},
              {"scanningMode", 0x40},
              {"LaDInDegrees", 60.0},
              {"orientationOfTheGridInDegrees", 0.0},
              {"DxInMetres", 100000},
              {"DyInMetres", 100000},
              /* 45 degrees west of the meridian, the pole about the middle */
              FIRST(50.0, 315.0)},
     .inside = {{90.0, 0.0},
                {89.9, 123.0},
                {80.0, 180.0},
                {75.0, -179.9},
                {65.0, 90.0},
                {70.0, -45.0}},
     .outside = {30.0, 0.0}},
    {.name = "polar stereographic of the south, edition 1",
     .words = "a polar stereographic grid, 41 x 41 points",
     .edition = 1,
     .sample = "polar_stereographic_sfc_grib1",
     .points = 41 * 41,
     .cell_deg = 1.0,
     .keys = {{"Nx", 41},
              {"Ny", 41},
              {"scanningMode", 0x40},
              {"projectionCentreFlag", 0x80},
              {"orientationOfTheGridInDegrees", 0.0},
              {"DxInMetres", 100000},
              {"DyInMetres", 100000},
              FIRST(-60.0, 225.0)},
     .inside = {{-90.0, 0.0},
                {-89.9, 123.0},
                {-80.0, 180.0},
                {-75.0, -179.9},
                {-76.0, 90.0},
                {-75.0, -45.0}},
     .outside = {-30.0, 0.0}},
    {.name = "rotated lat-lon",
     .words = "a rotated lat-lon grid, 41 x 31 points",
     .edition = 2,
     .points = 41 * 31,
     .cell_deg = 1.0,
     .keys = {TEMPLATE(1),
              {"Ni", 41},
              {"Nj", 31},
              {"scanningMode", 0x40},
              FIRST(-15.0, -20.0),
              LAST(15.0, 20.0),
              {"iDirectionIncrementInDegrees", 1.0},
              {"jDirectionIncrementInDegrees", 1.0},
              {"latitudeOfSouthernPoleInDegrees", -40.0},
              {"longitudeOfSouthernPoleInDegrees", 10.0}},
     .inside = {{50.0, 10.0},
                {40.0, 0.0},
                {60.0, 30.0},
                {36.0, 10.0},
                {64.0, 10.0},
                {50.0, -5.0}},
     .outside = {10.0, 10.0},
     .as_it_is = true},
    {.name = "rotated lat-lon over the pole, by columns",
     .words = "a rotated lat-lon grid, 41 x 31 points",
     .edition = 2,
     .points = 41 * 31,
     .cell_deg = 1.0,
     .keys = {TEMPLATE(1),
              {"Ni", 41},
              {"Nj", 31},
              {"scanningMode", 0x30},
              FIRST(15.0, -20.0),
              LAST(-15.0, 20.0),
              {"iDirectionIncrementInDegrees", 1.0},
              {"jDirectionIncrementInDegrees", 1.0},
              {"latitudeOfSouthernPoleInDegrees", -2.0},
              {"longitudeOfSouthernPoleInDegrees", 170.0}},
     .inside = {{90.0, 0.0},
                {89.0, -60.0},
                {80.0, 170.0},
                {78.0, -10.0},
                {85.0, 80.0},
                {80.0, -179.9}},
     .outside = {60.0, 170.0},
     .as_it_is = true,
     .scan = 0x30},
    {.name = "Lambert azimuthal",
     .words = "a Lambert azimuthal grid, 31 x 31 points",
     .edition = 2,
     .points = 31 * 31,
     .cell_deg = 1.0,
     .keys = {TEMPLATE(140),
              EARTH,
              {"Nx", 31},
              {"Ny", 31},
              {"scanningMode", 0x40},
              {"standardParallelInDegrees", 48.0},
              {"centralLongitudeInDegrees", 9.0},
              {"xDirectionGridLengthInMetres", 100000},
              {"yDirectionGridLengthInMetres", 100000},
              FIRST(35.0, -8.0)},
     .inside = {{48.0, 9.0},
                {40.0, 0.0},
                {55.0, 10.0},
                {39.0, 5.0},
                {50.0, 20.0},
                {45.0, 15.0}},
     .outside = {48.0, 60.0},
     .as_it_is = true}};

enum { KINDS = sizeof kinds / sizeof *kinds };

static double key_of(const struct made *made, const char *key) {
    int k = 0;
    while (made->keys[k].key && strcmp(made->keys[k].key, key) != 0)
        k++;
    assert_non_null(made->keys[k].key);
    return made->keys[k].value;
}

/* Where the library places the points of a message, in the order that its
 * iterator has, which is the message's unless rows run to and fro. */
static void ask_library(const struct made *made, struct position *sites) {
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = made->edition,
                             .sample = made->sample,
                             .grid = made->keys,
                             .points = made->points};
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
    assert_int_equal(count, made->points);
    codes_grib_iterator_delete(iterator);
    codes_handle_delete(handle);
    grib_free(&bytes);
}

/* Polar stereographic on the sphere, true at 60 degrees (from memory: Snyder,
 * Map Projections, 1987, chapter 21): distance from the pole R (1 + sin 60) tan
 * (45 - lat / 2), from the meridian down (north) or up (south). The library has
 * the south wrong. */
static void polar_sites(const struct made *made, struct position *sites) {
    double pole = made->edition == 1 ? -1.0 : 1.0;
    double radius = made->edition == 1 ? 6367470.0 : 6371229.0;
    double scale = radius * (1.0 + sin(60.0 * RADIANS_PER_DEGREE));
    double meridian = key_of(made, "orientationOfTheGridInDegrees");
    double lat = pole * key_of(made, "latitudeOfFirstGridPointInDegrees");
    double lon = key_of(made, "longitudeOfFirstGridPointInDegrees") - meridian;
    double off = scale * tan((45.0 - lat / 2.0) * RADIANS_PER_DEGREE);
    double x0 = off * sin(lon * RADIANS_PER_DEGREE);
    double y0 = -pole * off * cos(lon * RADIANS_PER_DEGREE);
    size_t ni = (size_t)key_of(made, "Nx");
    for (size_t k = 0; k < made->points; k++) {
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
    struct made made;
    struct position sites[LIMIT];
};

static void set_key(struct made *made, const char *key, double value) {
    int k = 0;
    key_of(made, key);
    while (strcmp(made->keys[k].key, key) != 0)
        k++;
    made->keys[k].value = value;
}

static void lay(const struct made *made, int scan, struct laid *laid) {
    static struct position standard[LIMIT];
    assert_true(made->points <= LIMIT);
    laid->made = *made;
    if (made->as_it_is) {
        ask_library(made, laid->sites);
        return;
    }
    bool mercator = strncmp(made->name, "Mercator", 8) == 0;
    size_t ni = (size_t)key_of(made, mercator ? "Ni" : "Nx");
    if (strncmp(made->name, "polar", 5) == 0)
        polar_sites(made, standard);
    else
        ask_library(made, standard);
    for (size_t k = 0; k < made->points; k++)
        laid->sites[k] =
            standard[standard_index(k, scan, ni, made->points / ni)];
    set_key(&laid->made, "scanningMode", scan);
    set_key(&laid->made, "latitudeOfFirstGridPointInDegrees",
            laid->sites[0].lat_deg);
    set_key(&laid->made, "longitudeOfFirstGridPointInDegrees",
            angle_wrap_360(laid->sites[0].lon_deg));
}

/* The order of a row of the library's that runs to and fro: it leaves it as if
 * it did not. */
static size_t to_and_fro(const struct made *made, size_t index) {
    int scan = made->as_it_is && made->scan ? made->scan : 0;
    size_t inner = scan & 0x20 ? 31 : 41;
    if (!(scan & 0x10) || index / inner % 2 == 0)
        return index;
    return index / inner * inner + inner - 1 - index % inner;
}

/* u is the field, v its half. */
static struct loaded load_made(const struct made *made, int scan,
                               bool along_axes) {
    static double values[LIMIT];
    static struct laid laid;
    struct grib_bytes bytes = {0};
    lay(made, scan, &laid);
    struct grib_spec spec = {.edition = made->edition,
                             .category = 2,
                             .number = made->edition == 1 ? 33 : 2,
                             .sample = made->sample,
                             .grid = laid.made.keys,
                             .points = made->points,
                             .bits = 24,
                             .values = values};
    if (along_axes)
        spec.late[0] =
            (struct grib_setting){"resolutionAndComponentFlags", 0x38};
    for (size_t i = 0; i < made->points; i++) {
        struct position site = laid.sites[i];
        values[to_and_fro(made, i)] = field_at(site.lat_deg, site.lon_deg);
    }
    grib_add(&bytes, &spec);
    for (size_t i = 0; i < made->points; i++)
        values[i] *= 0.5;
    spec.number++;
    grib_add(&bytes, &spec);
    return load_bytes(&bytes, NULL);
}

static void compare_inside(const struct made *made,
                           const struct loaded *loaded) {
    if (!loaded->good)
        fail_msg("%s", loaded->error.text);
    for (int k = 0; k < 6; k++) {
        struct position place = made->inside[k];
        assert_int_equal(coverage_at(loaded, place.lat_deg, place.lon_deg, 0.0),
                         COVERAGE_INSIDE);
        struct vector_mps wind =
            weather_at(loaded, place.lat_deg, place.lon_deg, 0.0).wind;
        double expected = field_at(place.lat_deg, place.lon_deg);
        assert_near(wind.east, expected, tolerance(made->cell_deg));
        assert_near(wind.north, 0.5 * expected, tolerance(made->cell_deg));
    }
}

static void a_field_of_every_kind_of_grid_comes_back(void **state) {
    (void)state;
    for (size_t i = 0; i < KINDS; i++) {
        const struct made *made = &kinds[i];
        print_message("%s\n", made->name);
        struct loaded loaded =
            load_made(made, made->scan ? made->scan : 0x40, false);
        compare_inside(made, &loaded);
        assert_int_equal(coverage_at(&loaded, made->outside.lat_deg,
                                     made->outside.lon_deg, 0.0),
                         COVERAGE_OUTSIDE_AREA);
        char *text = description_text(&loaded);
        assert_contains(text, "resampled from ");
        assert_contains(text, made->words);
        free(text);
        loaded_free(&loaded);
    }
}

static void every_order_of_a_chart_is_read(void **state) {
    (void)state;
    for (size_t i = 0; i < KINDS; i++) {
        for (int scan = 0; scan < 0x100 && !kinds[i].as_it_is; scan += 0x10) {
            struct loaded loaded = load_made(&kinds[i], scan, false);
            compare_inside(&kinds[i], &loaded);
            loaded_free(&loaded);
        }
    }
}

/* --- winds along the axes --------------------------------------------------*/

static const struct made *kind_named(const char *name) {
    size_t i = 0;
    while (i + 1 < KINDS && strcmp(kinds[i].name, name) != 0)
        i++;
    assert_string_equal(kinds[i].name, name);
    return &kinds[i];
}

/* Up the grid at 10 m/s, constant: from where it blows at a place. */
static double from_deg(const struct made *made, struct position place,
                       bool along_axes) {
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = made->edition,
                             .sample = made->sample,
                             .grid = made->keys,
                             .points = made->points};
    if (along_axes)
        spec.late[0] =
            (struct grib_setting){"resolutionAndComponentFlags", 0x38};
    grib_add_wind(&bytes, &spec, 0.0, 10.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct vector_mps wind =
        weather_at(&loaded, place.lat_deg, place.lon_deg, 0.0).wind;
    /* a sample is straight between points of the grid: where the turn changes
     * by 1 degree over a cell it is shorter by 4e-5 */
    if (!(fabs(vector_length(wind) - 10.0) < 2e-3))
        fail_msg("%s: %.4f m/s", made->name, vector_length(wind));
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
        const struct made *made = kind_named(cases[i].name);
        assert_angle_near(from_deg(made, cases[i].place, true), cases[i].from,
                          0.02);
        assert_angle_near(from_deg(made, cases[i].place, false), 180.0, 0.001);
    }
}

static void a_wind_along_axes_that_are_not_known_is_refused(void **state) {
    (void)state;
    struct loaded loaded = load_made(kind_named("Lambert azimuthal"), 0, true);
    assert_false(loaded.good);
    assert_int_equal(loaded.error.status, STATUS_INPUT);
    assert_contains(loaded.error.text, "message 1");
    assert_contains(loaded.error.text,
                    "a Lambert azimuthal grid with a wind along its axes");
    assert_contains(loaded.error.text, "ask for a regular lat-lon file");
    loaded_free(&loaded);
}

/* --- what is not read ------------------------------------------------------*/

static void refused(const struct made *made, const char *said) {
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = made->edition,
                             .sample = made->sample,
                             .grid = made->keys,
                             .points = made->points};
    grib_add_wind(&bytes, &spec, 1.0, 1.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_false(loaded.good);
    assert_int_equal(loaded.error.status, STATUS_INPUT);
    assert_contains(loaded.error.text, said);
    assert_contains(loaded.error.text, "made.grib', message 1: ");
    assert_contains(loaded.error.text, "ask for a regular lat-lon file");
    loaded_free(&loaded);
}

static void orders_that_are_not_read_are_refused(void **state) {
    (void)state;
    struct made made = *kind_named("Lambert");
    set_key(&made, "scanningMode", 0x48);
    refused(&made, "a Lambert grid with rows that are shifted");
    made = *kind_named("regular Gaussian, south to north");
    set_key(&made, "scanningMode", 0x60);
    refused(&made, "a Gaussian grid with rows in an order that is not read");
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
    const struct made *made = kind_named("Lambert");
    for (size_t i = 0; i < 2; i++) {
        struct grib_bytes bytes = {0};
        struct grib_spec spec = {
            .edition = 2,
            .grid = made->keys,
            .points = made->points,
            .late = {{"numberOfDataPoints", cases[i].points}}};
        grib_add_wind(&bytes, &spec, 1.0, 1.0);
        struct loaded loaded = load_bytes(&bytes, NULL);
        assert_false(loaded.good);
        assert_contains(loaded.error.text, cases[i].said);
        loaded_free(&loaded);
    }
}

static void other_grids_are_refused_by_name(void **state) {
    (void)state;
    static const struct made rotated = {.edition = 2,
                                        .sample =
                                            "reduced_rotated_gg_pl_32_grib2",
                                        .points = 6114,
                                        .keys = {{"edition", 2}}};
    refused(&rotated, "a rotated Gaussian grid (reduced_rotated_gg)");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_field_of_every_kind_of_grid_comes_back),
        cmocka_unit_test(winds_along_the_axes_are_turned),
        cmocka_unit_test(a_wind_along_axes_that_are_not_known_is_refused),
        cmocka_unit_test(every_order_of_a_chart_is_read),
        cmocka_unit_test(orders_that_are_not_read_are_refused),
        cmocka_unit_test(too_many_points_are_refused),
        cmocka_unit_test(other_grids_are_refused_by_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
