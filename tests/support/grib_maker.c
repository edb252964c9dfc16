#include "grib_maker.h"

#include <eccodes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void must(int code, const char *what) {
    if (code == 0)
        return;
    fprintf(stderr, "can't make the message: %s: %s\n", what,
            codes_get_error_message(code));
    abort();
}

static void set(codes_handle *handle, const char *key, long value) {
    must(codes_set_long(handle, key, value), key);
}

static void set_real(codes_handle *handle, const char *key, double value) {
    must(codes_set_double(handle, key, value), key);
}

/* Some keys take whole numbers only. */
static void set_either(codes_handle *handle, struct grib_key setting) {
    int type = CODES_TYPE_UNDEFINED;
    must(codes_get_native_type(handle, setting.key, &type), setting.key);
    if (type == CODES_TYPE_DOUBLE)
        set_real(handle, setting.key, setting.value);
    else
        set(handle, setting.key, (long)setting.value);
}

static void set_all(codes_handle *handle, const struct grib_setting *settings) {
    for (int i = 0; i < GRIB_SETTINGS && settings[i].key; i++)
        set(handle, settings[i].key, settings[i].value);
}

static void set_product_1(codes_handle *handle, const struct grib_spec *spec) {
    set(handle, "centre", spec->centre ? spec->centre : 7);
    set(handle, "table2Version", spec->table ? spec->table : 2);
    set(handle, "indicatorOfParameter", spec->number);
    set(handle, "indicatorOfTypeOfLevel",
        spec->level_type ? spec->level_type : 105);
    set(handle, "level", spec->level_type ? spec->level : 10);
    set(handle, "unitOfTimeRange",
        spec->unit_is_minutes ? 0
        : spec->unit          ? spec->unit
                              : 1);
    set(handle, "P1", spec->lead);
}

static void set_product_2(codes_handle *handle, const struct grib_spec *spec) {
    int type = spec->level_type ? spec->level_type : 103;
    int level = spec->level_type ? spec->level : 10;
    set(handle, "discipline", spec->discipline);
    set(handle, "productDefinitionTemplateNumber", spec->product);
    set(handle, "parameterCategory", spec->category);
    set(handle, "parameterNumber", spec->number);
    set(handle, "typeOfFirstFixedSurface", type);
    set(handle, "scaleFactorOfFirstFixedSurface", 0);
    set(handle, "scaledValueOfFirstFixedSurface", level);
    set(handle, "indicatorOfUnitOfTimeRange",
        spec->unit_is_minutes ? 0
        : spec->unit          ? spec->unit
                              : 1);
    set(handle, "forecastTime", spec->lead);
}

static void set_run(codes_handle *handle, const struct grib_spec *spec) {
    struct civil run = spec->run;
    if (run.year == 0)
        run = (struct civil){2024, 2, 28, 18, 0, 0};
    set(handle, "dataDate", run.year * 10000L + run.month * 100 + run.day);
    set(handle, "hour", run.hour);
    set(handle, "minute", run.minute);
}

static void set_grid(codes_handle *handle, const struct grib_spec *spec, int ni,
                     int nj) {
    bool given = fabs(spec->first_lat) + fabs(spec->last_lat) +
                     fabs(spec->first_lon) + fabs(spec->last_lon) >
                 0.0;
    set(handle, "Ni", ni);
    set(handle, "Nj", nj);
    set_real(handle, "latitudeOfFirstGridPointInDegrees",
             given ? spec->first_lat : 50.0);
    set_real(handle, "longitudeOfFirstGridPointInDegrees",
             given ? spec->first_lon : -10.0);
    set_real(handle, "latitudeOfLastGridPointInDegrees",
             given ? spec->last_lat : 49.0);
    set_real(handle, "longitudeOfLastGridPointInDegrees",
             given ? spec->last_lon : -9.0);
    set(handle, "ijDirectionIncrementGiven", 0);
}

static void set_other_grid(codes_handle *handle, const struct grib_key *grid) {
    for (; grid->key; grid++)
        set_either(handle, *grid);
}

static void set_values(codes_handle *handle, const struct grib_spec *spec,
                       size_t count) {
    double *values = malloc(count * sizeof *values);
    if (!values)
        abort();
    for (size_t i = 0; i < count; i++)
        values[i] = spec->values ? spec->values[i] : spec->fill;
    if (spec->packing) {
        size_t length = strlen(spec->packing);
        must(codes_set_string(handle, "packingType", spec->packing, &length),
             spec->packing);
    }
    if (spec->masked) {
        set_real(handle, "missingValue", spec->hole);
        set(handle, "bitmapPresent", 1);
    }
    set(handle, "bitsPerValue", spec->bits ? spec->bits : 16);
    must(codes_set_double_array(handle, "values", values, count), "values");
    free(values);
}

size_t grib_add(struct grib_bytes *bytes, const struct grib_spec *spec) {
    int ni = spec->ni ? spec->ni : 2, nj = spec->nj ? spec->nj : 2;
    const char *sample =
        spec->edition == 1 ? "regular_ll_sfc_grib1" : "regular_ll_sfc_grib2";
    if (spec->sample)
        sample = spec->sample;
    codes_handle *handle = codes_grib_handle_new_from_samples(NULL, sample);
    const void *message;
    size_t size, start = bytes->size;
    if (!handle)
        abort();
    set_run(handle, spec);
    if (spec->edition == 1)
        set_product_1(handle, spec);
    else
        set_product_2(handle, spec);
    set_all(handle, spec->early);
    if (spec->grid)
        set_other_grid(handle, spec->grid);
    else
        set_grid(handle, spec, ni, nj);
    set_values(handle, spec,
               spec->grid ? spec->points : (size_t)ni * (size_t)nj);
    set_all(handle, spec->late);
    must(codes_get_message(handle, &message, &size), "message");
    grib_add_bytes(bytes, message, size);
    codes_handle_delete(handle);
    return start;
}

void grib_add_bytes(struct grib_bytes *bytes, const void *more, size_t size) {
    if (bytes->size + size > bytes->capacity) {
        bytes->capacity = 2 * (bytes->size + size);
        bytes->bytes = realloc(bytes->bytes, bytes->capacity);
        if (!bytes->bytes)
            abort();
    }
    memcpy(bytes->bytes + bytes->size, more, size);
    bytes->size += size;
}

void grib_add_text(struct grib_bytes *bytes, const char *text) {
    grib_add_bytes(bytes, text, strlen(text));
}

void grib_add_wind(struct grib_bytes *bytes, const struct grib_spec *spec,
                   double east_mps, double north_mps) {
    struct grib_spec east = *spec, north = *spec;
    bool first = spec->edition == 1;
    east.category = north.category = 2;
    east.number = first ? 33 : 2;
    north.number = first ? 34 : 3;
    east.fill = east_mps;
    north.fill = north_mps;
    east.values = north.values = NULL;
    grib_add(bytes, &east);
    grib_add(bytes, &north);
}

/* Where section `number` of a GRIB2 message starts. */
static size_t section_at(const uint8_t *message, int number) {
    size_t at = 16;
    while (message[at + 4] != number)
        at += (size_t)message[at] << 24 | (size_t)message[at + 1] << 16 |
              (size_t)message[at + 2] << 8 | message[at + 3];
    return at;
}

void grib_add_joined(struct grib_bytes *bytes, const struct grib_spec *first,
                     const struct grib_spec *second, bool reuse_bitmap) {
    static const uint8_t as_before[] = {0, 0, 0, 6, 6, 254};
    struct grib_bytes one = {0}, two = {0};
    size_t start = bytes->size;
    grib_add(&one, first);
    grib_add(&two, second);
    size_t product = section_at(two.bytes, 4),
           bitmap = section_at(two.bytes, 6), data = section_at(two.bytes, 7);
    grib_add_bytes(bytes, one.bytes, one.size - 4);
    grib_add_bytes(bytes, two.bytes + product, bitmap - product);
    if (reuse_bitmap)
        grib_add_bytes(bytes, as_before, sizeof as_before);
    else
        grib_add_bytes(bytes, two.bytes + bitmap, data - bitmap);
    grib_add_bytes(bytes, two.bytes + data, two.size - data);
    for (int i = 0; i < 8; i++)
        bytes->bytes[start + 8 + (size_t)i] =
            (uint8_t)((uint64_t)(bytes->size - start) >> (56 - 8 * i));
    grib_free(&one);
    grib_free(&two);
}

void grib_save(const struct grib_bytes *bytes, const char *path) {
    FILE *stream = fopen(path, "wb");
    if (!stream ||
        fwrite(bytes->bytes, 1, bytes->size, stream) != bytes->size ||
        fclose(stream) != 0) {
        fprintf(stderr, "can't write %s\n", path);
        abort();
    }
}

void grib_free(struct grib_bytes *bytes) {
    free(bytes->bytes);
    *bytes = (struct grib_bytes){0};
}
