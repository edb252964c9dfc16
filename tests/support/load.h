/* Loads forecasts that a test has made. */
#ifndef TESTS_LOAD_H
#define TESTS_LOAD_H

#include "forecast/forecast.h"
#include "forecast/grib.h"
#include "grib_maker.h"

struct loaded {
    struct arena arena;
    struct forecast *forecast; /* when good */
    struct error error;        /* when not */
    bool good;
};

/* Loads files with the options given, or the defaults (NULL). */
struct loaded load_files(const char *const *paths, size_t count,
                         const struct forecast_options *options);

/* Writes the bytes into a file of check_folder(), frees them and loads it. */
struct loaded load_bytes(struct grib_bytes *bytes,
                         const struct forecast_options *options);

/* The same, and the path stays valid to the end of the program. */
const char *save_bytes(struct grib_bytes *bytes, const char *name);

void loaded_free(struct loaded *loaded);

/* The weather at a place, `hours` after 2024-02-28T18:00Z, the run that
 * grib_maker takes where none is given. */
struct weather weather_at(const struct loaded *loaded, double lat_deg,
                          double lon_deg, double hours);
enum coverage coverage_at(const struct loaded *loaded, double lat_deg,
                          double lon_deg, double hours);

/* The value of a field of a batch at a point of its grid; false where it is not
 * known. */
bool field_value(const struct grib_field *field, size_t point, double *value);

/* All warnings, one a line; and the description. Freed by the caller. */
char *warnings_text(const struct loaded *loaded);
char *description_text(const struct loaded *loaded);

#endif
