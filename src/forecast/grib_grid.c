#include "forecast/grib_grid.h"

#include "earth/projection.h"
#include "forecast/grib_key.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Of the scanning mode (flag table 3.4 of edition 2, table 8 of edition 1). */
enum {
    SCAN_WEST = 0x80,
    SCAN_NORTH = 0x40,
    SCAN_COLUMNS = 0x20,
    SCAN_ALTERNATING = 0x10,
    SCAN_SHIFTED = 0x0f /* rows or columns half a step off the others */
};

/* Where the points of a kind of grid are known from. The library's release 2.28
 * has them right on the globe's own rows and on rotated ones. Of the charts it
 * takes the southern row for the first one whatever they say, turns polar
 * stereographic ones by whole degrees only, and mistakes their south pole:
 * those are laid out through PROJ. */
enum source {
    SOURCE_NONE, /* not read */
    SOURCE_ROWS, /* the library: rows of one latitude */
    SOURCE_LINES,
    SOURCE_CHART /* PROJ */
};

struct kind {
    const char *type; /* the library's name */
    const char *words;
    enum source source;
    bool reduced; /* rows of unlike lengths */
    int scan_may; /* bits of the scanning mode that may be set */
};

enum {
    SCAN_ANY = SCAN_WEST | SCAN_NORTH | SCAN_COLUMNS | SCAN_ALTERNATING,
    SCAN_ROWS = SCAN_WEST | SCAN_NORTH | SCAN_ALTERNATING
};

static const struct kind kinds[] = {
    {"reduced_gg", "a reduced Gaussian grid", SOURCE_ROWS, true, SCAN_NORTH},
    {"reduced_ll", "a thinned lat-lon grid", SOURCE_ROWS, true, SCAN_NORTH},
    {"regular_gg", "a Gaussian grid", SOURCE_ROWS, false, SCAN_ROWS},
    {"mercator", "a Mercator grid", SOURCE_CHART, false, SCAN_ANY},
    {"lambert", "a Lambert grid", SOURCE_CHART, false, SCAN_ANY},
    {"polar_stereographic", "a polar stereographic grid", SOURCE_CHART, false,
     SCAN_ANY},
    {"rotated_ll", "a rotated lat-lon grid", SOURCE_LINES, false, SCAN_ANY},
    {"lambert_azimuthal_equal_area", "a Lambert azimuthal grid", SOURCE_LINES,
     false, SCAN_ANY},
    {"rotated_gg", "a rotated Gaussian grid", .source = SOURCE_NONE},
    {"reduced_rotated_gg", "a rotated Gaussian grid", .source = SOURCE_NONE},
    {"transverse_mercator", "a transverse Mercator grid",
     .source = SOURCE_NONE},
    {"albers", "an Albers grid", .source = SOURCE_NONE},
    {"space_view", "a satellite's view", .source = SOURCE_NONE},
    {"sh", "spherical harmonics", .source = SOURCE_NONE},
    {"unstructured_grid", "an unstructured grid", .source = SOURCE_NONE}};

static bool is_kind(const struct kind *kind, const char *type) {
    return strcmp(kind->type, type) == 0;
}

static const struct kind *kind_of(const char *type) {
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        if (strcmp(kinds[i].type, type) == 0)
            return &kinds[i];
    }
    return NULL;
}

/* --- refusals -------------------------------------------------------------*/

/* Names the grid type that is not read: by words, or by its number. */
static void refuse_kind(const codes_handle *handle, const struct kind *kind,
                        struct grib_field *field) {
    long template = key_or(handle, "gridDefinitionTemplateNumber", -1);
    field->fate = FATE_GRID;
    if (kind)
        snprintf(field->cause, sizeof field->cause, "%s (%s)", kind->words,
                 kind->type);
    else if (template >= 0)
        snprintf(field->cause, sizeof field->cause, "a grid of template 3.%ld",
                 template);
    else
        snprintf(field->cause, sizeof field->cause,
                 "a grid that is only a number (%ld)",
                 key_or(handle, "gridDefinition", 255));
}

static bool refuse_fault(struct grib_field *field, const char *grid,
                         const char *fault) {
    field->fate = FATE_GRID;
    snprintf(field->cause, sizeof field->cause, "%s with %s", grid, fault);
    return false;
}

/* --- lat-lon --------------------------------------------------------------*/

static void read_corners(const codes_handle *handle,
                         struct grid_corners *corners) {
    double step = key_real(handle, "iDirectionIncrementInDegrees");
    bool given = key_or(handle, "iDirectionIncrementGiven", 1) != 0;
    *corners = (struct grid_corners){
        .ni = key_or(handle, "Ni", -1),
        .nj = key_or(handle, "Nj", -1),
        .first_lat_deg = key_real(handle, "latitudeOfFirstGridPointInDegrees"),
        .first_lon_deg = key_real(handle, "longitudeOfFirstGridPointInDegrees"),
        .last_lat_deg = key_real(handle, "latitudeOfLastGridPointInDegrees"),
        .last_lon_deg = key_real(handle, "longitudeOfLastGridPointInDegrees"),
        .lon_step_deg = given && step > 0.0 && step <= 180.0 ? step : 0.0,
        .west_going = key_or(handle, "iScansNegatively", 0) != 0,
        .north_going = key_or(handle, "jScansPositively", 0) != 0,
        .by_columns = key_or(handle, "jPointsAreConsecutive", 0) != 0,
        .alternating = key_or(handle, "alternativeRowScanning", 0) != 0};
}

static bool read_lat_lon(const codes_handle *handle,
                         const struct grid_bounds *wanted,
                         struct grib_field *field) {
    read_corners(handle, &field->corners);
    const char *fault = grid_make(&field->corners, &field->grid);
    if (!fault && (key_or(handle, "scanningMode", 0) & SCAN_SHIFTED))
        fault = "rows that are shifted against one another";
    if (fault)
        return refuse_fault(field, "a grid", fault);
    field->part = (struct grid_part){.whole = field->grid};
    if (wanted)
        grid_cut(&field->grid, wanted, &field->part);
    return true;
}

/* --- other grids ----------------------------------------------------------*/

/* A flag of the octet that says what components are along. */
static bool is_along_axes(const codes_handle *handle,
                          const struct grib_field *field) {
    enum { ALONG_AXES = 0x08 };
    return (field->parameter.part == PART_EAST ||
            field->parameter.part == PART_NORTH) &&
           (key_or(handle, "resolutionAndComponentFlags", 0) & ALONG_AXES);
}

static bool is_south_polar(const codes_handle *handle) {
    enum { SOUTH_POLE = 0x80 };
    return key_or(handle, "projectionCentreFlag", 0) & SOUTH_POLE;
}

static struct turn turn_of(const codes_handle *handle,
                           const struct kind *kind) {
    if (kind->source == SOURCE_ROWS || is_kind(kind, "mercator"))
        return (struct turn){.kind = TURN_NONE};
    if (is_kind(kind, "polar_stereographic"))
        return (struct turn){
            .kind = TURN_CONE,
            .cone = is_south_polar(handle) ? -1.0 : 1.0,
            .meridian_deg = key_real(handle, "orientationOfTheGridInDegrees")};
    if (is_kind(kind, "lambert"))
        return (struct turn){.kind = TURN_CONE,
                             .cone =
                                 turn_cone(key_real(handle, "Latin1InDegrees"),
                                           key_real(handle, "Latin2InDegrees")),
                             .meridian_deg = key_real(handle, "LoVInDegrees")};
    if (is_kind(kind, "rotated_ll"))
        return (struct turn){
            .kind = TURN_POLE,
            .north_pole = {
                .lat_deg = -key_real(handle, "latitudeOfSouthernPoleInDegrees"),
                .lon_deg = angle_wrap_longitude(
                    key_real(handle, "longitudeOfSouthernPoleInDegrees") +
                    180.0)}};
    return (struct turn){.kind = TURN_NOT_KNOWN};
}

/* Sizes that a few bytes may claim, tested before any memory is asked for. */
static const char *check_sizes(const codes_handle *handle,
                               const struct kind *kind, struct origin *origin) {
    size_t count = 0;
    long claimed = key_or(handle, "numberOfDataPoints", 0);
    origin->ni = kind->reduced ? 0 : key_or(handle, "Ni", -1);
    origin->nj = key_or(handle, "Nj", -1);
    if (claimed > RESAMPLE_SOURCE_LIMIT || origin->nj > RESAMPLE_SOURCE_LIMIT ||
        origin->ni > RESAMPLE_SOURCE_LIMIT)
        return "more points than the limit of 8 million";
    if (claimed < 4 || origin->nj < 2 || (!kind->reduced && origin->ni < 2))
        return "fewer than 2 x 2 points";
    if (codes_get_size(handle, "values", &count) != 0 ||
        count != (size_t)claimed ||
        (!kind->reduced && origin->ni * origin->nj != claimed))
        return "counts that don't add up";
    origin->points = count;
    return NULL;
}

static bool is_tilted(const codes_handle *handle, const char *key) {
    double tilt_deg = key_real(handle, key);
    return tilt_deg > CODES_MISSING_DOUBLE && fabs(tilt_deg) > 0.0;
}

static const char *check_order(const codes_handle *handle,
                               const struct kind *kind) {
    int scan = (int)key_or(handle, "scanningMode", 0);
    if (scan & SCAN_SHIFTED)
        return "rows that are shifted against one another";
    if (scan & ~kind->scan_may)
        return "rows in an order that is not read";
    if (is_kind(kind, "rotated_ll") &&
        is_tilted(handle, "angleOfRotationInDegrees"))
        return "axes that are turned once more";
    return NULL;
}

/* --- where the points lie -------------------------------------------------*/

static const char *list_sites(codes_iterator *iterator, struct outlay *outlay) {
    double lat, lon, value;
    size_t count = 0;
    while (codes_grib_iterator_next(iterator, &lat, &lon, &value) > 0) {
        if (count == outlay->count ||
            !(fabs(lat) <= 90.0 + 1e-6 && fabs(lon) <= 720.0))
            return "points that are not on the earth";
        outlay->sites[count++] =
            (struct position){fmin(fmax(lat, -90.0), 90.0), lon};
    }
    return count == outlay->count ? NULL : "counts that don't add up";
}

static const char *ask_library(const codes_handle *handle,
                               struct outlay *outlay) {
    int code = 0;
    codes_iterator *iterator = codes_grib_iterator_new(handle, 0, &code);
    if (!iterator)
        return "points that the GRIB library can't place";
    const char *fault = list_sites(iterator, outlay);
    codes_grib_iterator_delete(iterator);
    return fault;
}

static struct projection chart_of(const codes_handle *handle,
                                  const struct kind *kind) {
    bool oblate = key_or(handle, "earthIsOblate", 0) != 0;
    struct projection chart = {
        .major_m =
            key_real(handle, oblate ? "earthMajorAxisInMetres" : "radius"),
        .minor_m =
            key_real(handle, oblate ? "earthMinorAxisInMetres" : "radius")};
    if (is_kind(kind, "lambert")) {
        chart.kind = PROJECTION_LAMBERT;
        chart.first_parallel_deg = key_real(handle, "Latin1InDegrees");
        chart.second_parallel_deg = key_real(handle, "Latin2InDegrees");
        chart.meridian_deg = key_real(handle, "LoVInDegrees");
    } else if (is_kind(kind, "mercator")) {
        chart.kind = PROJECTION_MERCATOR;
        chart.first_parallel_deg = key_real(handle, "LaDInDegrees");
    } else {
        /* edition 1 has no parallel: 60 degrees of the pole's own side */
        double parallel = fabs(key_real(handle, "LaDInDegrees"));
        chart.kind = PROJECTION_POLAR;
        chart.first_parallel_deg =
            is_south_polar(handle) ? -parallel : parallel;
        chart.meridian_deg = key_real(handle, "orientationOfTheGridInDegrees");
    }
    return chart;
}

/* Some write the middle meridian where the angle of a Mercator chart belongs:
 * then the last point is where it is without that angle. */
static bool ends_there(const codes_handle *handle,
                       const struct position *last) {
    static const double near_deg = 0.05;
    double lat = key_real(handle, "latitudeOfLastGridPointInDegrees");
    double lon = key_real(handle, "longitudeOfLastGridPointInDegrees");
    return fabs(lat - last->lat_deg) < near_deg && fabs(lon) <= 720.0 &&
           fabs(angle_wrap_180(lon - last->lon_deg)) < near_deg;
}

static const char *ask_chart(const codes_handle *handle,
                             const struct kind *kind,
                             const struct origin *origin,
                             struct outlay *outlay) {
    bool mercator = is_kind(kind, "mercator");
    int scan = (int)key_or(handle, "scanningMode", 0);
    double x = key_real(handle, mercator ? "DiInMetres" : "DxInMetres");
    double y = key_real(handle, mercator ? "DjInMetres" : "DyInMetres");
    struct projection chart = chart_of(handle, kind);
    struct net net = {
        .first = {key_real(handle, "latitudeOfFirstGridPointInDegrees"),
                  key_real(handle, "longitudeOfFirstGridPointInDegrees")},
        .step_x_m = scan & SCAN_WEST ? -x : x,
        .step_y_m = scan & SCAN_NORTH ? y : -y,
        .columns = (size_t)origin->ni,
        .rows = (size_t)origin->nj,
        .by_columns = scan & SCAN_COLUMNS};
    if (!projection_place(&chart, &net, outlay->sites))
        return "points that are not on the earth";
    if (mercator && is_tilted(handle, "orientationOfTheGridInDegrees") &&
        !ends_there(handle, &outlay->sites[outlay->count - 1]))
        return "axes that are turned";
    return NULL;
}

static const char *place_points(const codes_handle *handle,
                                const struct kind *kind,
                                const struct origin *origin,
                                const struct grid_bounds *wanted,
                                struct resampling *resampling) {
    int scan = (int)key_or(handle, "scanningMode", 0);
    struct outlay outlay = {.count = origin->points,
                            .alternating = scan & SCAN_ALTERNATING,
                            .wanted = wanted};
    bool columns = scan & SCAN_COLUMNS;
    if (kind->source != SOURCE_ROWS && (columns || !is_kind(kind, "mercator")))
        outlay.inner = (size_t)(columns ? origin->nj : origin->ni);
    outlay.sites = malloc(outlay.count * sizeof *outlay.sites);
    if (!outlay.sites)
        return "more points than memory holds";
    const char *fault = kind->source == SOURCE_CHART
                            ? ask_chart(handle, kind, origin, &outlay)
                            : ask_library(handle, &outlay);
    if (!fault)
        fault = resampling_make(&outlay, resampling);
    free(outlay.sites);
    return fault;
}

static struct placing *find_placing(struct placings *placings,
                                    const char *key) {
    for (int i = 0; i < PLACINGS; i++) {
        if (*key && strcmp(placings->items[i].key, key) == 0)
            return &placings->items[i];
    }
    return NULL;
}

/* A place for another one: the oldest goes, and more of them where all together
 * have more points than one may have. */
static struct placing *new_placing(struct placings *placings) {
    struct placing *placing = &placings->items[placings->next];
    size_t points = 0;
    for (int i = 0; i < PLACINGS; i++)
        points += grid_points(&placings->items[i].resampling.grid);
    for (int i = 0; i < PLACINGS; i++) {
        struct placing *old = &placings->items[i];
        if (old != placing && points <= RESAMPLE_POINTS_LIMIT / 2)
            continue;
        resampling_free(&old->resampling);
        old->key[0] = '\0';
    }
    placings->next = (placings->next + 1) % PLACINGS;
    return placing;
}

static struct placing *place(const codes_handle *handle,
                             struct placings *placings, const struct kind *kind,
                             struct grib_field *field) {
    char key[GRIB_KEY_SIZE] = "";
    size_t size = sizeof key;
    if (codes_get_string(handle, "md5GridSection", key, &size) != 0)
        key[0] = '\0';
    struct placing *placing = find_placing(placings, key);
    if (placing)
        return placing;
    placing = new_placing(placings);
    const char *fault = place_points(handle, kind, &field->origin,
                                     placings->wanted, &placing->resampling);
    if (fault) {
        refuse_fault(field, kind->words, fault);
        return NULL;
    }
    memcpy(placing->key, key, sizeof key);
    return placing;
}

static const struct kind *read_kind(const codes_handle *handle,
                                    struct grib_field *field, bool *lat_lon) {
    char type[64] = "";
    size_t size = sizeof type;
    if (codes_get_string(handle, "gridType", type, &size) != 0)
        type[0] = '\0';
    *lat_lon = strcmp(type, "regular_ll") == 0;
    const struct kind *kind = kind_of(type);
    if (*lat_lon || (kind && kind->source != SOURCE_NONE))
        return kind;
    refuse_kind(handle, kind, field);
    return NULL;
}

bool grib_grid_read(const codes_handle *handle, struct placings *placings,
                    struct grib_field *field) {
    bool lat_lon;
    const struct kind *kind = read_kind(handle, field, &lat_lon);
    if (lat_lon)
        return read_lat_lon(handle, placings->wanted, field);
    if (!kind)
        return false;
    struct origin *origin = &field->origin;
    const char *fault = check_sizes(handle, kind, origin);
    if (!fault)
        fault = check_order(handle, kind);
    origin->words = kind->words;
    if (is_along_axes(handle, field))
        origin->turn = turn_of(handle, kind);
    if (!fault && origin->turn.kind == TURN_NOT_KNOWN)
        fault = "a wind along its axes";
    if (fault)
        return refuse_fault(field, kind->words, fault);
    const struct placing *placing = place(handle, placings, kind, field);
    if (!placing)
        return false;
    field->grid = placing->resampling.grid;
    field->part = placing->resampling.part;
    origin->spacing_m = placing->resampling.spacing_m;
    return true;
}

const struct resampling *grib_grid_place(const codes_handle *handle,
                                         struct placings *placings,
                                         struct grib_field *field) {
    bool lat_lon;
    const struct kind *kind = read_kind(handle, field, &lat_lon);
    if (!kind || lat_lon)
        return NULL;
    const struct placing *placing = place(handle, placings, kind, field);
    return placing ? &placing->resampling : NULL;
}
