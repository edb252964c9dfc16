#include "forecast/grib.h"

#include "forecast/grib_grid.h"
#include "forecast/grib_key.h"
#include <assert.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Set as the library's fill number before values are read: no field of nature
 * holds it, while 9999, -999 and 0 can all be true values. */
static const double FILL = -1e30;
/* A packing step coarser than this part of the limit of nature means that one
 * absurd value has flattened all the others. */
static const double FLAT_FRAC = 0.02;

static void refuse(struct grib_field *field, enum fate fate,
                   const char *cause) {
    field->fate = fate;
    snprintf(field->cause, sizeof field->cause, "%s", cause);
}

/* --- what it is --------------------------------------------------------- */

static struct level read_level(const codes_handle *handle, int edition) {
    if (edition == 1)
        return level_edition_1((int)key_or(handle, "indicatorOfTypeOfLevel", 0),
                               (int)key_or(handle, "level", 0));
    long scaled = key_or(handle, "scaledValueOfFirstFixedSurface", -1);
    long factor = key_or(handle, "scaleFactorOfFirstFixedSurface", -128);
    return level_edition_2((int)key_or(handle, "typeOfFirstFixedSurface", 255),
                           scaled >= 0 && factor > -128, factor, scaled);
}

static void read_parameter(const codes_handle *handle, uint32_t spared,
                           struct grib_field *field) {
    struct parameter_code code = {
        .edition = field->edition,
        .discipline = (int)key_or(handle, "discipline", -1),
        .category = (int)key_or(handle, "parameterCategory", -1),
        .centre = (int)key_or(handle, "centre", -1),
        .table = (int)key_or(handle, "table2Version", -1),
        .number = (int)key_or(handle,
                              field->edition == 1 ? "indicatorOfParameter"
                                                  : "parameterNumber",
                              -1),
        .level = read_level(handle, field->edition)};
    parameter_print(&code, field->code);
    field->level = code.level;
    switch (parameter_find(&code, &field->parameter)) {
    case RECOGNITION_USED:
        if (spared >> field->parameter.quantity & 1)
            refuse(field, FATE_SPARED, "not needed");
        return;
    case RECOGNITION_LEVEL:
        refuse(field, FATE_LEVEL, "a level that is not used");
        return;
    case RECOGNITION_UNKNOWN:
        refuse(field, FATE_UNKNOWN, "nothing that a plan needs");
        return;
    }
}

/* --- which run, and of what kind ------------------------------------------*/

/* Types of the ECMWF archive that are one state of the atmosphere: analyses,
 * forecasts, control and members. */
static bool is_one_state(long type) {
    return type == 2 || type == 3 || type == 6 || type == 9 || type == 10 ||
           type == 11 || type == 31 || type == 60 || type == 75;
}

static void read_ecmwf_member(const codes_handle *handle,
                              struct grib_field *field) {
    enum { CONTROL = 10, PERTURBED = 11 };
    long type = key_or(handle, "marsType", 9);
    if (!is_one_state(type)) {
        refuse(field, FATE_KIND, "a mean, spread or probability of members");
        return;
    }
    if (type != CONTROL && type != PERTURBED)
        return;
    field->member = (struct member){
        .kind = type == CONTROL ? MEMBER_CONTROL : MEMBER_PERTURBED,
        .number = (int)key_or(handle, "perturbationNumber",
                              key_or(handle, "number", 0))};
}

static void read_ncep_member(const codes_handle *handle,
                             struct grib_field *field) {
    enum { CONTROL = 1, NEGATIVE = 2, POSITIVE = 3, FULL_FIELD = 1 };
    long type = key_or(handle, "type", 0);
    if (key_or(handle, "productIdentifier", FULL_FIELD) != FULL_FIELD ||
        type < CONTROL || type > POSITIVE) {
        refuse(field, FATE_KIND, "a mean, spread or probability of members");
        return;
    }
    field->member = (struct member){
        .kind = type == CONTROL ? MEMBER_CONTROL : MEMBER_PERTURBED,
        .type = type == NEGATIVE,
        .number = (int)key_or(handle, "identificationNumber", 0)};
}

/* Edition 1 has no common form: each centre has its own after octet 40. */
static void read_kind_1(const codes_handle *handle, struct grib_field *field) {
    enum { NCEP = 7, ECMWF = 98, COMMON_LENGTH = 40 };
    long centre = key_or(handle, "centre", -1);
    if (key_or(handle, "section1Length", 28) <= COMMON_LENGTH)
        return;
    if (centre == ECMWF)
        read_ecmwf_member(handle, field);
    else if (centre == NCEP)
        read_ncep_member(handle, field);
}

/* Code table 4.3: errors, climatologies, probabilities and differences. */
static bool is_no_forecast(long process) {
    return (process >= 5 && process <= 7) || process == 9 || process == 10 ||
           (process >= 18 && process <= 21 && process != 19);
}

static void read_kind_2(const codes_handle *handle, struct grib_field *field) {
    enum { POINT = 0, MEMBER = 1, INTERVAL = 8, MEMBER_INTERVAL = 11 };
    long template = key_or(handle, "productDefinitionTemplateNumber", -1);
    if (is_no_forecast(key_or(handle, "typeOfGeneratingProcess", 2))) {
        refuse(field, FATE_KIND, "no forecast but an error or a climatology");
        return;
    }
    if (template == POINT || template == INTERVAL)
        return;
    if (template != MEMBER && template != MEMBER_INTERVAL) {
        field->fate = FATE_KIND;
        snprintf(field->cause, sizeof field->cause,
                 "a probability, mean or other product (template 4.%ld)",
                 template);
        return;
    }
    long type = key_or(handle, "typeOfEnsembleForecast", 255);
    long number = key_or(handle, "perturbationNumber", 0);
    field->member = (struct member){
        .kind = type <= 1 || number == 0 ? MEMBER_CONTROL : MEMBER_PERTURBED,
        .type = (int)type,
        .number = (int)number};
}

/* --- when ---------------------------------------------------------------- */

static bool read_run(const codes_handle *handle, struct grib_field *field) {
    struct civil civil = {.year = (int)key_or(handle, "year", 0),
                          .month = (int)key_or(handle, "month", 0),
                          .day = (int)key_or(handle, "day", 0),
                          .hour = (int)key_or(handle, "hour", -1),
                          .minute = (int)key_or(handle, "minute", -1),
                          .second = 0};
    if (field->edition == 1)
        civil.year =
            (int)(100 *
                      (key_or(handle, "centuryOfReferenceTimeOfData", 0) - 1) +
                  key_or(handle, "yearOfCentury", 255));
    else
        civil.second = (int)key_or(handle, "second", 0);
    if (instant_from_civil(civil, &field->run) &&
        !(field->edition == 1 && key_or(handle, "yearOfCentury", 255) > 100))
        return true;
    refuse(field, FATE_TIME, "no date: a mask or a climatology");
    return false;
}

static void read_time_1(const codes_handle *handle, struct grib_field *field) {
    const char *fault = lead_edition_1(
        field->run, key_or(handle, "unitOfTimeRange", -1),
        key_or(handle, "timeRangeIndicator", -1), key_or(handle, "P1", 0),
        key_or(handle, "P2", 0), &field->validity);
    if (fault)
        refuse(field, FATE_KIND, fault);
}

/* End of a statistic: the date that is written, else from its length. */
static bool read_end(const codes_handle *handle, struct instant start,
                     struct instant *end) {
    struct civil civil = {
        .year = (int)key_or(handle, "yearOfEndOfOverallTimeInterval", 0),
        .month = (int)key_or(handle, "monthOfEndOfOverallTimeInterval", 0),
        .day = (int)key_or(handle, "dayOfEndOfOverallTimeInterval", 0),
        .hour = (int)key_or(handle, "hourOfEndOfOverallTimeInterval", -1),
        .minute = (int)key_or(handle, "minuteOfEndOfOverallTimeInterval", -1),
        .second = (int)key_or(handle, "secondOfEndOfOverallTimeInterval", 0)};
    int64_t length_s;
    if (key_or(handle, "numberOfTimeRange", 1) == 1 &&
        lead_seconds(2, key_or(handle, "indicatorOfUnitForTimeRange", -1),
                     key_or(handle, "lengthOfTimeRange", -1), &length_s) &&
        length_s >= 0) {
        *end = (struct instant){start.unix_s + length_s};
        return true;
    }
    return instant_from_civil(civil, end) && end->unix_s >= start.unix_s;
}

static void read_interval_2(const codes_handle *handle,
                            struct grib_field *field) {
    enum { MAXIMUM = 2 };
    struct validity *validity = &field->validity;
    if (!read_end(handle, validity->start, &validity->end)) {
        refuse(field, FATE_TIME, "an interval without an end");
        return;
    }
    validity->interval = validity->end.unix_s > validity->start.unix_s;
    long statistic = key_or(handle, "typeOfStatisticalProcessing", 255);
    if (validity->interval && statistic != MAXIMUM)
        refuse(field, FATE_KIND, "an average or sum over an interval");
}

static void read_time_2(const codes_handle *handle, struct grib_field *field) {
    enum { INTERVAL = 8 };
    int64_t lead_s;
    if (!lead_seconds(2, key_or(handle, "indicatorOfUnitOfTimeRange", -1),
                      key_or(handle, "forecastTime", 0), &lead_s)) {
        refuse(field, FATE_TIME, "a time unit that is not known");
        return;
    }
    struct instant start = {field->run.unix_s + lead_s};
    field->validity = (struct validity){.start = start, .end = start};
    if (key_or(handle, "productDefinitionTemplateNumber", 0) >= INTERVAL)
        read_interval_2(handle, field);
}

static void read_time(const codes_handle *handle, struct grib_field *field) {
    if (!read_run(handle, field))
        return;
    if (field->edition == 1)
        read_time_1(handle, field);
    else
        read_time_2(handle, field);
    /* only a gust is what it is as a maximum */
    if (field->fate == FATE_USED && field->validity.interval &&
        field->parameter.quantity != QUANTITY_GUST)
        refuse(field, FATE_KIND, "a value over an interval");
}

/* --- values -------------------------------------------------------------- */

/* Points of the grid as written. */
static size_t source_points(const struct grib_field *field) {
    if (field->origin.words)
        return field->origin.points;
    return (size_t)field->corners.ni * (size_t)field->corners.nj;
}

/* Sizes that a few bytes may claim, tested before any value is asked for: a
 * constant field of 400 million points costs 3 GB and 22 s. */
static bool check_counts(const codes_handle *handle, struct grib_field *field) {
    static const char *const keys[] = {"numberOfDataPoints", "numberOfValues",
                                       "numberOfPoints"};
    size_t count = 0;
    const struct grid_corners *corners = &field->corners;
    size_t points = source_points(field);
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        long claimed = key_or(handle, keys[i], 0);
        if (claimed < 0 || claimed > GRID_POINTS_LIMIT) {
            refuse(field, FATE_DAMAGED, "an impossible number of values");
            return false;
        }
    }
    if (codes_get_size(handle, "values", &count) != 0 || count != points) {
        if (field->origin.words)
            snprintf(field->cause, sizeof field->cause,
                     "%zu points but %zu values", points, count);
        else
            snprintf(field->cause, sizeof field->cause,
                     "%ld x %ld points but %zu values", corners->ni,
                     corners->nj, count);
        field->fate = FATE_DAMAGED;
        return false;
    }
    return true;
}

static void free_room(struct grib_reader *reader) {
    free(reader->raw);
    free(reader->values);
    free(reader->known);
    reader->raw = NULL;
    reader->values = NULL;
    reader->known = NULL;
    reader->capacity = 0;
}

static void free_placed(struct grib_reader *reader) {
    free(reader->placed);
    free(reader->placed_known);
    reader->placed = NULL;
    reader->placed_known = NULL;
    reader->placed_capacity = 0;
}

static bool reader_room(struct grib_reader *reader, size_t points) {
    if (points <= reader->capacity)
        return true;
    free_room(reader);
    reader->raw = malloc(points * sizeof *reader->raw);
    reader->values = malloc(points * sizeof *reader->values);
    reader->known = malloc(points);
    if (!reader->raw || !reader->values || !reader->known)
        return false;
    reader->capacity = points;
    return true;
}

static bool placed_room(struct grib_reader *reader, size_t points) {
    if (points <= reader->placed_capacity)
        return true;
    free_placed(reader);
    reader->placed = malloc(points * sizeof *reader->placed);
    reader->placed_known = malloc(points);
    if (!reader->placed || !reader->placed_known)
        return false;
    reader->placed_capacity = points;
    return true;
}

struct grib_limits grib_limits_of(const struct parameter *parameter) {
    double low = 0.0, high = 0.0;
    switch (parameter->part) {
    case PART_VALUE:
        low = parameter->quantity == QUANTITY_PRESSURE ? 80000.0 : 0.0;
        high = parameter->quantity == QUANTITY_PRESSURE ? 110000.0 : 150.0;
        break;
    case PART_EAST:
    case PART_NORTH:
    case PART_SPEED:
        high = parameter->quantity == QUANTITY_CURRENT ? 10.0 : 150.0;
        low = parameter->part == PART_SPEED ? 0.0 : -high;
        break;
    case PART_DIRECTION:
        low = -180.0;
        high = 360.0;
        break;
    case PART_HEIGHT:
        high = 40.0;
        break;
    case PART_PERIOD:
        high = 60.0;
        break;
    }
    return (struct grib_limits){low, high, 0.001 * (high - low)};
}

/* Values outside the limits become unknown; the rounding of packing may put a
 * zero a little below zero, and 360 a little above. */
static void drop_wild(struct grib_reader *reader, struct grib_field *field,
                      size_t points) {
    struct grib_limits limits = grib_limits_of(&field->parameter);
    double least = limits.low - limits.slack;
    double most = limits.high + limits.slack;
    for (size_t i = 0; i < points; i++) {
        double value = (double)reader->values[i];
        if (!reader->known[i])
            continue;
        if (!(value >= least && value <= most)) {
            reader->known[i] = 0;
            reader->values[i] = 0.0F;
            field->wild++;
        } else if (value < limits.low) {
            reader->values[i] = (float)limits.low;
        }
    }
}

/* True where one absurd value took all precision from the others. */
static bool is_flattened(const codes_handle *handle,
                         const struct grib_field *field) {
    struct grib_limits limits = grib_limits_of(&field->parameter);
    long binary, decimal;
    if (field->wild == 0 ||
        codes_get_long(handle, "binaryScaleFactor", &binary) != 0 ||
        codes_get_long(handle, "decimalScaleFactor", &decimal) != 0)
        return false;
    double step = ldexp(1.0, (int)binary) * pow(10.0, -(double)decimal);
    return step > FLAT_FRAC * (limits.high - limits.low);
}

static void refuse_packing(struct grib_field *field, const char *packing,
                           int code) {
    field->fate = FATE_DAMAGED;
    if (code == CODES_FUNCTIONALITY_NOT_ENABLED)
        snprintf(field->cause, sizeof field->cause,
                 "packing %.20s is not built into the GRIB library; ask for "
                 "simple packing",
                 packing);
    else
        snprintf(field->cause, sizeof field->cause, "packing %.40s: %s",
                 packing, codes_get_error_message(code));
}

static bool unpack(struct grib_reader *reader, codes_handle *handle,
                   struct grib_field *field) {
    size_t points = source_points(field);
    if (!reader_room(reader, points)) {
        refuse(field, FATE_DAMAGED, "more values than memory holds");
        return false;
    }
    int code = codes_set_double(handle, "missingValue", FILL);
    if (code == 0)
        code = codes_get_double_array(handle, "values", reader->raw, &points);
    if (code == 0)
        return true;
    char packing[48] = "unknown";
    size_t size = sizeof packing;
    codes_get_string(handle, "packingType", packing, &size);
    refuse_packing(field, packing, code);
    return false;
}

static bool has_placed_room(struct grib_reader *reader,
                            struct grib_field *field) {
    if (placed_room(reader, grid_points(&field->grid)))
        return true;
    refuse(field, FATE_DAMAGED, "more values than memory holds");
    return false;
}

/* What is wild is told of the whole: it may have flattened what is wanted. */
static void arrange_lat_lon(struct grib_reader *reader,
                            struct grib_field *field) {
    const struct grid *whole = &field->part.whole;
    field->missing = grid_arrange(&field->corners, whole, reader->raw, FILL,
                                  reader->values, reader->known);
    drop_wild(reader, field, grid_points(whole));
    field->values = reader->values;
    field->known = reader->known;
    if (!grib_field_is_cut(field) || !has_placed_room(reader, field))
        return;
    struct grid_values read = {reader->values, reader->known};
    struct grid_values kept = {reader->placed, reader->placed_known};
    field->missing = grid_take(&field->part, &field->grid, &read, &kept);
    field->values = reader->placed;
    field->known = reader->placed_known;
}

/* What is wild goes before it is blended with its neighbours. */
static void arrange_placed(struct grib_reader *reader,
                           const codes_handle *handle,
                           struct grib_field *field) {
    const struct resampling *resampling =
        grib_grid_place(handle, &reader->placings, field);
    if (!resampling)
        return;
    assert(resampling->source_points == field->origin.points &&
           grid_same(&resampling->grid, &field->grid));
    if (!has_placed_room(reader, field))
        return;
    for (size_t i = 0; i < field->origin.points; i++) {
        double value = reader->raw[i];
        bool there = value > FILL || value < FILL;
        reader->known[i] = there;
        reader->values[i] = there ? (float)value : 0.0F;
    }
    drop_wild(reader, field, field->origin.points);
    struct written written = {.values = reader->values,
                              .known = reader->known,
                              .is_direction =
                                  field->parameter.part == PART_DIRECTION};
    field->missing = resampling_apply(resampling, written, reader->placed,
                                      reader->placed_known);
    field->values = reader->placed;
    field->known = reader->placed_known;
}

static void read_values(struct grib_reader *reader, codes_handle *handle,
                        struct grib_field *field) {
    if (!unpack(reader, handle, field))
        return;
    if (field->origin.words)
        arrange_placed(reader, handle, field);
    else
        arrange_lat_lon(reader, field);
    if (field->fate == FATE_USED && is_flattened(handle, field))
        refuse(field, FATE_DAMAGED, "values flattened by one that is absurd");
}

/* Where the lead time stands, where nothing else depends on it. */
static void find_lead(const codes_handle *handle, struct grib_field *field) {
    enum { INTERVAL = 8 };
    size_t section, lead;
    if (field->edition != 2 ||
        key_or(handle, "productDefinitionTemplateNumber", INTERVAL) >=
            INTERVAL ||
        grib_get_offset(handle, "section4Length", &section) != 0 ||
        grib_get_offset(handle, "forecastTime", &lead) != 0)
        return;
    field->lead_at = lead - section;
    field->lead_unit = key_or(handle, "indicatorOfUnitOfTimeRange", -1);
}

static void read_field(struct grib_reader *reader, codes_handle *handle,
                       struct grib_field *field) {
    field->edition = (int)key_or(handle, "edition", 0);
    find_lead(handle, field);
    read_parameter(handle, reader->spared, field);
    if (field->fate != FATE_USED)
        return;
    if (field->edition == 1)
        read_kind_1(handle, field);
    else
        read_kind_2(handle, field);
    if (field->fate == FATE_USED)
        read_time(handle, field);
    if (field->fate == FATE_USED &&
        grib_grid_read(handle, &reader->placings, field) &&
        check_counts(handle, field) && !reader->leaves_values)
        read_values(reader, handle, field);
}

static codes_handle *open_message(const uint8_t *message, size_t length,
                                  struct grib_field *field) {
    errno = 0;
    codes_handle *handle = codes_handle_new_from_message(NULL, message, length);
    if (!handle)
        refuse(field, FATE_DAMAGED, "the GRIB library can't read it");
    return handle;
}

/* What was made of a message without enough memory is not believed. */
static void close_message(codes_handle *handle) {
    if (handle)
        codes_handle_delete(handle);
    grib_memory_check(0);
}

void grib_read(struct grib_reader *reader, const uint8_t *message,
               size_t length, struct grib_field *field) {
    *field = (struct grib_field){.fate = FATE_USED};
    codes_handle *handle = open_message(message, length, field);
    if (handle)
        read_field(reader, handle, field);
    close_message(handle);
}

void grib_read_values(struct grib_reader *reader, const uint8_t *message,
                      size_t length, struct grib_field *field) {
    codes_handle *handle = open_message(message, length, field);
    if (handle && check_counts(handle, field))
        read_values(reader, handle, field);
    close_message(handle);
}

void grib_take_packed(struct grib_reader *reader, struct grib_field *field) {
    if (!has_placed_room(reader, field))
        return;
    packed_take(&field->packed, &field->part, &field->grid, reader->placed);
    memset(reader->placed_known, 1, grid_points(&field->grid));
    field->values = reader->placed;
    field->known = reader->placed_known;
}

void grib_reader_free(struct grib_reader *reader) {
    free_room(reader);
    free_placed(reader);
    for (int i = 0; i < PLACINGS; i++)
        resampling_free(&reader->placings.items[i].resampling);
    *reader = (struct grib_reader){.spared = reader->spared,
                                   .leaves_values = reader->leaves_values,
                                   .placings.wanted = reader->placings.wanted};
}
