#include "../support/check.h"

#include "../support/load.h"
#include "earth/projection.h"
#include "earth/sphere.h"
#include "forecast/grib.h"
#include <eccodes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Every file of the folder of $SPARWISE_GRIBS but the damaged ones: each kind
 * of grid in it is read, with the values that the GRIB library's iterator has
 * at the same places (what grib_get_data prints), or refused with a reason.
 *
 * Fields that a plan does not need are read, too, for the sake of their grids:
 * relabelled as the wind at 10 m, their values spread over 0 to 20.
 *
 * Tolerance. A lat-lon grid: the rounding of a float, and a thousandth of the
 * range, since corners are rounded to 0.001 degree and a sample falls that far
 * beside its point. Another grid is resampled
 * on one as fine: what a sample says at a point as written is a mean of points
 * as written round about, with weights that add up to 1, twice over. So it lies
 * between the least and the greatest of all that are no further off than a cell
 * of the one grid and one of the other: that is tested at each place. And it is
 * near the value there: half of all samples within 2 % of the range of the
 * field (noise from point to point is smoothed away: no tighter bound is true
 * of any field). Without a value are only places at the border. */

enum {
    POINTS_A_FIELD = 200,
    FIELDS_A_GRID = 2,
    GRIDS = 16,
    POINTS_SOME = 300000 /* more take a second */
};

/* Points as written, in the library's order. */
struct points {
    struct position *sites;
    struct sphere_point *spots;
    double *values;
    size_t count;
    double missing;
};

static const double FILL = -1e30;
/* From point to point of such a grid everything changes. */
static const double COARSE_M = 5e5;

static void points_free(struct points *points) {
    free(points->sites);
    free(points->spots);
    free(points->values);
}

static double key_of(codes_handle *handle, const char *key) {
    double value = 0.0;
    codes_get_double(handle, key, &value);
    return value;
}

/* The library turns polar stereographic grids by whole degrees only, and takes
 * the first row of a Lambert one for the southern one, and the south for the
 * north: then PROJ says where the
 * points lie, in the order of the message. */
static void correct_places(codes_handle *handle, struct points *points) {
    char type[64] = "";
    size_t size = sizeof type;
    codes_get_string(handle, "gridType", type, &size);
    bool polar = strcmp(type, "polar_stereographic") == 0;
    bool north = key_of(handle, "jScansPositively") > 0.0;
    double meridian = key_of(handle, polar ? "orientationOfTheGridInDegrees"
                                           : "LoVInDegrees");
    bool south = key_of(handle, "Latin1InDegrees") < 0.0;
    if (!(polar && fabs(meridian - round(meridian)) > 1e-9) &&
        !(strcmp(type, "lambert") == 0 && (south || !north)))
        return;
    double radius = key_of(handle, "radius");
    double parallel =
        key_of(handle, polar ? "LaDInDegrees" : "Latin1InDegrees");
    struct projection chart = {
        .kind = polar ? PROJECTION_POLAR : PROJECTION_LAMBERT,
        .major_m = radius,
        .minor_m = radius,
        .first_parallel_deg = parallel,
        .second_parallel_deg = polar ? 0.0 : key_of(handle, "Latin2InDegrees"),
        .meridian_deg = meridian};
    struct net net = {
        .first = {key_of(handle, "latitudeOfFirstGridPointInDegrees"),
                  key_of(handle, "longitudeOfFirstGridPointInDegrees")},
        .step_x_m = key_of(handle, "DxInMetres"),
        .step_y_m = key_of(handle, "DyInMetres") * (north ? 1.0 : -1.0),
        .columns = (size_t)key_of(handle, "Nx"),
        .rows = (size_t)key_of(handle, "Ny")};
    assert_true(projection_place(&chart, &net, points->sites));
    assert_int_equal(codes_get_double_array(handle, "values", points->values,
                                            &points->count),
                     0);
}

/* The library steps by the increment of the header, we go from corner to
 * corner: they can differ. */
static bool steps_elsewhere(codes_handle *handle, const struct points *points) {
    double first = key_of(handle, "latitudeOfFirstGridPointInDegrees");
    double last = key_of(handle, "latitudeOfLastGridPointInDegrees");
    double rows = key_of(handle, "Nj"), columns = key_of(handle, "Ni");
    double second = first + (last - first) / (rows - 1.0);
    return rows > 1.0 && key_of(handle, "jPointsAreConsecutive") < 1.0 &&
           fabs(points->sites[(size_t)columns].lat_deg - second) > 0.01;
}

/* False where the library can't say. */
static bool points_of(codes_handle *handle, struct points *points) {
    int code = 0;
    size_t count = 0;
    codes_set_double(handle, "missingValue", FILL);
    if (codes_get_size(handle, "values", &count) != 0 || count < 4)
        return false;
    codes_iterator *iterator = codes_grib_iterator_new(handle, 0, &code);
    if (!iterator)
        return false;
    *points = (struct points){.sites = calloc(count, sizeof *points->sites),
                              .spots = calloc(count, sizeof *points->spots),
                              .values = calloc(count, sizeof *points->values)};
    while (points->count < count &&
           codes_grib_iterator_next(iterator,
                                    &points->sites[points->count].lat_deg,
                                    &points->sites[points->count].lon_deg,
                                    &points->values[points->count]) > 0)
        points->count++;
    codes_grib_iterator_delete(iterator);
    correct_places(handle, points);
    for (size_t i = 0; i < points->count; i++) {
        points->sites[i].lon_deg =
            angle_wrap_longitude(points->sites[i].lon_deg);
        points->spots[i] = sphere_point(points->sites[i]);
    }
    return points->count == count;
}

/* --- sampling --------------------------------------------------------------*/

static double difference(double value, double from, bool direction) {
    return direction ? angle_wrap_180(value - from) : value - from;
}

/* As a block is sampled: bilinear, without those that are unknown. False where
 * none is known. */
static bool sample(const struct grib_field *field, struct position place,
                   double *value) {
    bool direction = field->parameter.part == PART_DIRECTION;
    struct grid_cell cell;
    double sum = 0.0, weight = 0.0, first = 0.0;
    if (!grid_find(&field->grid, place, &cell))
        return false;
    for (int i = 0; i < 4; i++) {
        double corner;
        size_t point = grid_corner(&field->grid, &cell, i);
        if (cell.weight[i] <= 0.0 || !field_value(field, point, &corner))
            continue;
        first = weight > 0.0 ? first : corner;
        sum += cell.weight[i] * difference(corner, first, direction);
        weight += cell.weight[i];
    }
    *value = first + sum / fmax(weight, 1e-9);
    return weight > 1e-6;
}

/* How far off a point may be that has a part in a sample. */
static double reach_m(const struct grib_field *field,
                      const struct points *points, size_t at) {
    const struct grid *grid = &field->grid;
    double degree_m = SPHERE_RADIUS_M * RADIANS_PER_DEGREE;
    double lat = points->sites[at].lat_deg;
    double made = hypot(grid->lat_step_deg,
                        grid->lon_step_deg * cos(lat * RADIANS_PER_DEGREE));
    /* the cell as written, of unlike sides on rows near a pole */
    size_t next = at + 1 < points->count ? at + 1 : at - 1;
    double side = sphere_distance_m(points->spots[at], points->spots[next]);
    double written = fmax(field->origin.spacing_m, fmin(side, 2e6));
    return made * degree_m + 2.0 * written;
}

struct tally {
    size_t tried, unknown, near;
};

/* One place: between the least and the greatest of its neighbours. */
static void compare_at(const struct grib_field *field,
                       const struct points *points, size_t at, double range,
                       struct tally *tally) {
    bool direction = field->parameter.part == PART_DIRECTION;
    double theirs = points->values[at], ours, low = 0.0, high = 0.0;
    tally->tried++;
    if (!sample(field, points->sites[at], &ours)) {
        tally->unknown++;
        return;
    }
    double off = difference(ours, theirs, direction);
    tally->near += fabs(off) <= 0.02 * range;
    if (!field->origin.words) {
        assert_near(off, 0.0, 1e-6 * fabs(theirs) + 1e-3 * range);
        return;
    }
    double reach = reach_m(field, points, at);
    double reach_deg = reach / SPHERE_RADIUS_M / RADIANS_PER_DEGREE;
    for (size_t i = 0; i < points->count; i++) {
        if (fabs(points->sites[i].lat_deg - points->sites[at].lat_deg) >
                reach_deg ||
            points->values[i] <= FILL ||
            sphere_distance_m(points->spots[i], points->spots[at]) > reach)
            continue;
        double other = difference(points->values[i], theirs, direction);
        low = fmin(low, other);
        high = fmax(high, other);
    }
    double slack = 1e-5 * fabs(theirs) + 1e-4;
    if (!(off >= low - slack && off <= high + slack) &&
        !(direction && high - low > 150.0))
        fail_msg("at %g %g: %g, not between %g and %g of %g",
                 points->sites[at].lat_deg, points->sites[at].lon_deg, ours,
                 theirs + low, theirs + high, theirs);
}

static void compare(const struct grib_field *field, const struct points *points,
                    const char *name, struct seed *seed) {
    struct tally tally = {0};
    double least = HUGE_VAL, most = -HUGE_VAL;
    for (size_t i = 0; i < points->count; i++) {
        if (points->values[i] <= FILL)
            continue;
        least = fmin(least, points->values[i]);
        most = fmax(most, points->values[i]);
    }
    for (int tries = 0; tries < 50 * POINTS_A_FIELD; tries++) {
        size_t at = (size_t)seed_between(seed, 0.0, (double)points->count);
        if (tally.tried < POINTS_A_FIELD && points->values[at] > FILL)
            compare_at(field, points, at, most - least, &tally);
    }
    bool coarse = field->origin.spacing_m > COARSE_M;
    if (tally.unknown * 5 > tally.tried + 5 ||
        (!coarse && tally.near * 2 < tally.tried - tally.unknown))
        fail_msg("%s: of %zu places %zu unknown, %zu near", name, tally.tried,
                 tally.unknown, tally.near);
}

/* --- relabelling -----------------------------------------------------------*/

/* As the wind's u at 10 m, 0 to 20 m/s. False where the library won't. */
static bool relabel(codes_handle *handle, const struct points *points) {
    long edition = 0;
    size_t count = points->count, packing = strlen("grid_simple");
    codes_get_long(handle, "edition", &edition);
    double least = HUGE_VAL, most = -HUGE_VAL;
    double *values = calloc(count, sizeof *values);
    codes_get_double_array(handle, "values", values, &count);
    for (size_t i = 0; i < count; i++) {
        if (values[i] > FILL) {
            least = fmin(least, values[i]);
            most = fmax(most, values[i]);
        }
    }
    for (size_t i = 0; i < count; i++) {
        /* a field of one value says nothing about places */
        if (most - least < 1e-6)
            values[i] = 20.0 * (double)i / (double)count;
        else if (values[i] > FILL)
            values[i] = 20.0 * (values[i] - least) / (most - least);
    }
    bool good =
        codes_set_string(handle, "packingType", "grid_simple", &packing) == 0 &&
        codes_set_long(handle, "bitsPerValue", 24) == 0 &&
        codes_set_double_array(handle, "values", values, count) == 0;
    free(values);
    if (edition == 1)
        return good && codes_set_long(handle, "table2Version", 2) == 0 &&
               codes_set_long(handle, "centre", 7) == 0 &&
               codes_set_long(handle, "indicatorOfParameter", 33) == 0 &&
               codes_set_long(handle, "indicatorOfTypeOfLevel", 105) == 0 &&
               codes_set_long(handle, "level", 10) == 0 &&
               codes_set_long(handle, "timeRangeIndicator", 0) == 0;
    return good &&
           codes_set_long(handle, "productDefinitionTemplateNumber", 0) == 0 &&
           codes_set_long(handle, "typeOfGeneratingProcess", 2) == 0 &&
           codes_set_long(handle, "discipline", 0) == 0 &&
           codes_set_long(handle, "parameterCategory", 2) == 0 &&
           codes_set_long(handle, "parameterNumber", 2) == 0 &&
           codes_set_long(handle, "typeOfFirstFixedSurface", 103) == 0 &&
           codes_set_long(handle, "scaleFactorOfFirstFixedSurface", 0) == 0 &&
           codes_set_long(handle, "scaledValueOfFirstFixedSurface", 10) == 0;
}

static void read_handle(struct grib_reader *reader, codes_handle *handle,
                        struct grib_field *field) {
    const void *message;
    size_t size;
    assert_int_equal(codes_get_message(handle, &message, &size), 0);
    grib_read(reader, message, size, field);
}

/* What became of the grids of a file: for the table. */
struct outcome {
    char keys[GRIDS][40]; /* digests of the grids seen, and of their fates */
    size_t seen[GRIDS];
    int count;
};

/* True for the first few fields of each grid, wind and others apart. */
static bool is_new(struct outcome *outcome, codes_handle *handle,
                   const struct grib_field *field) {
    char key[40] = "";
    size_t size = sizeof key;
    codes_get_string(handle, "md5GridSection", key, &size);
    key[32] = field->fate == FATE_USED ? 'u' : 'n';
    key[33] = (char)('a' + (int)field->parameter.quantity);
    key[34] = '\0';
    int i = 0;
    while (i < outcome->count && strcmp(outcome->keys[i], key) != 0)
        i++;
    if (i == GRIDS)
        return false;
    if (i == outcome->count)
        memcpy(outcome->keys[outcome->count++], key, sizeof key);
    return outcome->seen[i]++ < (check_is_long() ? FIELDS_A_GRID : 1);
}

static void tell(const char *file, const struct grib_field *field,
                 const char *how) {
    print_message("%s | %s | %s\n", strrchr(file, '/') + 1,
                  field->origin.words ? field->origin.words : "lat-lon", how);
}

static void test_field(const char *file, codes_handle *handle,
                       struct outcome *outcome, struct seed *seed) {
    struct grib_reader reader = {0};
    struct grib_field field;
    struct points points = {0};
    read_handle(&reader, handle, &field);
    if (is_new(outcome, handle, &field)) {
        bool used = field.fate == FATE_USED;
        if (!points_of(handle, &points)) {
            /* what the library can't place is no use to us either, but a
             * lat-lon grid of which it knows the corners alone */
            assert_true(used ? !field.origin.words : field.cause[0] != '\0');
            tell(file, &field, used ? "used, without places" : field.cause);
        } else if (!check_is_long() && !used && points.count > POINTS_SOME) {
            tell(file, &field, "left to the long run");
        } else if (used || relabel(handle, &points)) {
            if (!used) {
                points_free(&points);
                points = (struct points){0};
                assert_true(points_of(handle, &points));
                read_handle(&reader, handle, &field);
            }
            bool lost = field.fate == FATE_USED && !field.origin.words &&
                        steps_elsewhere(handle, &points);
            if (field.fate == FATE_USED && field.wild == 0 && !lost)
                compare(&field, &points, file, seed);
            tell(file, &field,
                 field.fate != FATE_USED ? field.cause
                 : lost                  ? "header with a wrong increment"
                 : field.wild > 0        ? "values that can't be"
                 : used                  ? "equal"
                                         : "equal, relabelled");
        } else {
            tell(file, &field, field.cause);
        }
        points_free(&points);
    }
    grib_reader_free(&reader);
}

static void test_file(const char *file, struct seed *seed) {
    FILE *stream = fopen(file, "rb");
    struct outcome outcome = {0};
    codes_handle *handle;
    int code = 0;
    assert_non_null(stream);
    while ((handle = codes_handle_new_from_file(NULL, stream, PRODUCT_GRIB,
                                                &code))) {
        test_field(file, handle, &outcome, seed);
        codes_handle_delete(handle);
    }
    fclose(stream);
}

static void quiet(const codes_context *context, int level,
                  const char *message) {
    (void)context, (void)level, (void)message;
}

static void every_grid_has_the_values_of_the_library(void **state) {
    (void)state;
    const char *path = check_real_file("CATALOG.md");
    char line[5000];
    struct seed seed = {905};
    if (!path) {
        skip();
        return;
    }
    codes_context_set_logging_proc(codes_context_get_default(), quiet);
    codes_grib_multi_support_on(NULL);
    snprintf(line, sizeof line,
             "find '%.*s' -name '*.gr*b*' ! -path '*damage*' | sort",
             (int)(strrchr(path, '/') - path), path);
    struct ran files = check_shell(line);
    int count = 0;
    char *rest = NULL;
    for (char *file = strtok_r(files.out, "\n", &rest); file;
         file = strtok_r(NULL, "\n", &rest)) {
        /* the kinds of grids are all in the zoo; the rest in the long run */
        if (check_is_long() || count % 4 == 0 || strstr(file, "grid-"))
            test_file(file, &seed);
        count++;
    }
    assert_true(count > 50);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_grid_has_the_values_of_the_library),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
