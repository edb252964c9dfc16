#include "load.h"

#include "check.h"
#include <stdio.h>
#include <stdlib.h>

enum { RUN_UNIX_S = 1709143200 }; /* 2024-02-28T18:00Z */

struct loaded load_files(const char *const *paths, size_t count,
                         const struct forecast_options *options) {
    struct loaded loaded = {0};
    struct forecast_options defaults = forecast_defaults();
    arena_init(&loaded.arena);
    loaded.good = forecast_load(&loaded.forecast, paths, count,
                                options ? options : &defaults, &loaded.arena,
                                &loaded.error);
    return loaded;
}

const char *save_bytes(struct grib_bytes *bytes, const char *name) {
    const char *path = check_write(name, "");
    grib_save(bytes, path);
    grib_free(bytes);
    return path;
}

struct loaded load_bytes(struct grib_bytes *bytes,
                         const struct forecast_options *options) {
    const char *path = save_bytes(bytes, "made.grib");
    return load_files(&path, 1, options);
}

void loaded_free(struct loaded *loaded) {
    arena_free(&loaded->arena);
}

static enum coverage sample(const struct loaded *loaded, double lat_deg,
                            double lon_deg, double hours,
                            struct weather *weather) {
    struct position position = {lat_deg, angle_wrap_longitude(lon_deg)};
    if (!loaded->good)
        print_error("%s\n", loaded->error.text);
    assert_true(loaded->good);
    return forecast_at(loaded->forecast, position, RUN_UNIX_S + hours * 3600.0,
                       weather);
}

struct weather weather_at(const struct loaded *loaded, double lat_deg,
                          double lon_deg, double hours) {
    struct weather weather;
    sample(loaded, lat_deg, lon_deg, hours, &weather);
    return weather;
}

enum coverage coverage_at(const struct loaded *loaded, double lat_deg,
                          double lon_deg, double hours) {
    struct weather weather;
    return sample(loaded, lat_deg, lon_deg, hours, &weather);
}

bool field_value(const struct grib_field *field, size_t point, double *value) {
    size_t ni = (size_t)field->grid.ni;
    float packed;
    uint8_t known;
    if (field->values) {
        *value = (double)field->values[point];
        return !field->known || field->known[point];
    }
    packed_row(&field->packed, (int)(point / ni), (int)(point % ni), 1, &packed,
               &known);
    *value = (double)packed;
    return known;
}

char *warnings_text(const struct loaded *loaded) {
    char *text = NULL;
    size_t size;
    FILE *stream = open_memstream(&text, &size);
    assert_true(loaded->good);
    for (size_t i = 0; i < forecast_warning_count(loaded->forecast); i++)
        fprintf(stream, "%s\n", forecast_warning(loaded->forecast, i));
    fclose(stream);
    return text;
}

char *description_text(const struct loaded *loaded) {
    char *text = NULL;
    size_t size;
    FILE *stream = open_memstream(&text, &size);
    assert_true(loaded->good);
    forecast_describe(loaded->forecast, stream);
    fclose(stream);
    return text;
}
