#include "ocean_maker.h"

#include "base/units.h"
#include "earth/geodesic.h"
#include "grib_maker.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

const struct civil ocean_run = {2026, 6, 1, 0, 0, 0};

/* Discipline, category, number, level type, level: WMO code tables 4.2, 4.5. */
static const int codes[OCEAN_FIELDS][5] = {
    [OCEAN_WIND_EAST] = {0, 2, 2, 103, 10},
    [OCEAN_WIND_NORTH] = {0, 2, 3, 103, 10},
    [OCEAN_GUST] = {0, 2, 22, 103, 10},
    [OCEAN_PRESSURE] = {0, 3, 1, 101, 0},
    [OCEAN_WAVE_HEIGHT] = {10, 0, 3, 1, 0},
    [OCEAN_WAVE_PERIOD] = {10, 0, 11, 1, 0},
    [OCEAN_WAVE_FROM] = {10, 0, 10, 1, 0}};

/* --- the passages --------------------------------------------------------- */

static struct position ahead(struct position from, double course_deg,
                             double nmi) {
    return geodesic_ahead(from, course_deg, nmi * METRES_PER_NMI);
}

struct ocean ocean_trades(void) {
    struct position from = {24.5, -19.0};
    return (struct ocean){.name = "ocean",
                          .weather = ocean_weather_trades,
                          .north_deg = 40.0,
                          .west_deg = -79.75,
                          .step_deg = 0.25,
                          .ni = 300,
                          .nj = 151,
                          .hours = 240,
                          .every = 3,
                          .from = from,
                          .to = ahead(from, 258.0, 2000.0),
                          .bits = 12};
}

struct ocean ocean_offshore(void) {
    struct position from = {48.2, -6.5};
    return (struct ocean){.name = "offshore",
                          .weather = ocean_weather_offshore,
                          .north_deg = 50.0,
                          .west_deg = -15.0,
                          .step_deg = 1.0,
                          .ni = 14,
                          .nj = 11,
                          .hours = 120,
                          .every = 6,
                          .from = from,
                          .to = ahead(from, 205.0, 400.0),
                          .bits = 12};
}

struct ocean ocean_hard(void) {
    struct position from = {40.0, -14.0};
    return (struct ocean){.name = "hard",
                          .weather = ocean_weather_hard,
                          .north_deg = 52.0,
                          .west_deg = -46.0,
                          .step_deg = 0.5,
                          .ni = 83,
                          .nj = 61,
                          .hours = 300,
                          .every = 6,
                          .from = from,
                          .to = ahead(from, 241.0, 1200.0),
                          .bits = 12};
}

/* The trades of the south are those of the north, seen in a mirror. */
static struct ocean_weather southern_trades(struct position at, double hour) {
    struct position mirrored = {-at.lat_deg, 0.25 * at.lon_deg - 20.0};
    struct ocean_weather weather = ocean_weather_trades(mirrored, hour);
    double *values = weather.values;
    values[OCEAN_WIND_NORTH] = -values[OCEAN_WIND_NORTH];
    values[OCEAN_WAVE_FROM] = angle_wrap_360(180.0 - values[OCEAN_WAVE_FROM]);
    return weather;
}

struct ocean ocean_far(double nmi) {
    struct position from = {-10.0, -82.0};
    return (struct ocean){.name = "far",
                          .weather = southern_trades,
                          .north_deg = 10.0,
                          .west_deg = -230.0,
                          .step_deg = 2.5,
                          .ni = 63,
                          .nj = 21,
                          .hours = 1440,
                          .every = 12,
                          .from = from,
                          .to = ahead(from, 262.0, nmi),
                          .bits = 12};
}

struct ocean ocean_grid(double step_deg) {
    struct position from = {22.0, -25.0};
    return (struct ocean){.name = "grid",
                          .weather = ocean_weather_trades,
                          .north_deg = 30.0,
                          .west_deg = -50.0,
                          .step_deg = step_deg,
                          .ni = (int)lround(32.0 / step_deg) + 1,
                          .nj = (int)lround(24.0 / step_deg) + 1,
                          .hours = 168,
                          .every = 6,
                          .from = from,
                          .to = ahead(from, 258.0, 1000.0),
                          .bits = 12};
}

struct ocean ocean_ensemble(struct ocean ocean, int members) {
    ocean.members = members;
    ocean.later_h = 0.5;
    ocean.stronger_frac = 0.02;
    return ocean;
}

static int runs_of(const struct ocean *ocean) {
    return ocean->members > 0 ? ocean->members : 1;
}

size_t ocean_messages(const struct ocean *ocean) {
    return (size_t)(ocean->hours / ocean->every + 1) * OCEAN_FIELDS *
           (size_t)runs_of(ocean);
}

size_t ocean_points(const struct ocean *ocean) {
    return (size_t)ocean->ni * (size_t)ocean->nj;
}

/* --- files ---------------------------------------------------------------- */

/* WMO code table 4.6: 1 is the unperturbed control, 3 a perturbed forecast. */
static void put_member(struct grib_spec *spec, const struct ocean *ocean,
                       int member) {
    if (ocean->members == 0)
        return;
    spec->product = 1;
    spec->early[0] =
        (struct grib_setting){"typeOfEnsembleForecast", member == 0 ? 1 : 3};
    spec->early[1] = (struct grib_setting){"perturbationNumber", member};
    spec->early[2] =
        (struct grib_setting){"numberOfForecastsInEnsemble", ocean->members};
}

static struct grib_spec spec_of(const struct ocean *ocean, int field,
                                int hour) {
    const int *code = codes[field];
    double west_deg = angle_wrap_longitude(ocean->west_deg);
    return (struct grib_spec){
        .edition = 2,
        .discipline = code[0],
        .category = code[1],
        .number = code[2],
        .level_type = code[3],
        .level = code[4],
        .run = ocean_run,
        .lead = hour,
        .ni = ocean->ni,
        .nj = ocean->nj,
        .first_lat = ocean->north_deg,
        .first_lon = west_deg,
        .last_lat = ocean->north_deg - ocean->step_deg * (ocean->nj - 1),
        .last_lon = angle_wrap_longitude(ocean->west_deg +
                                         ocean->step_deg * (ocean->ni - 1)),
        .bits = ocean->bits,
        .packing = ocean->packing};
}

static bool is_stronger(size_t field) {
    return field == OCEAN_WIND_EAST || field == OCEAN_WIND_NORTH ||
           field == OCEAN_GUST || field == OCEAN_WAVE_HEIGHT;
}

/* All fields of one hour of a member, one after the other. */
static void fill_hour(const struct ocean *ocean, int hour, int member,
                      double *values) {
    size_t points = ocean_points(ocean);
    double factor = 1.0 + member * ocean->stronger_frac;
    for (size_t k = 0; k < points; k++) {
        int row = (int)k / ocean->ni, column = (int)k % ocean->ni;
        struct position at = {ocean->north_deg - ocean->step_deg * row,
                              ocean->west_deg + ocean->step_deg * column};
        struct ocean_weather weather =
            ocean->weather(at, hour - member * ocean->later_h);
        for (size_t field = 0; field < OCEAN_FIELDS; field++)
            values[field * points + k] =
                weather.values[field] * (is_stronger(field) ? factor : 1.0);
    }
}

static FILE *open_to_write(const char *path) {
    FILE *stream = fopen(path, "wb");
    if (!stream) {
        fprintf(stderr, "can't write %s\n", path);
        abort();
    }
    return stream;
}

static void finish_writing(FILE *stream, const char *path) {
    bool good = !ferror(stream);
    if (fclose(stream) != 0 || !good) {
        fprintf(stderr, "can't write %s\n", path);
        abort();
    }
}

static void write_hour(const struct ocean *ocean, int hour, int member,
                       double *values, FILE *stream) {
    struct grib_bytes bytes = {0};
    size_t points = ocean_points(ocean);
    fill_hour(ocean, hour, member, values);
    for (int field = 0; field < OCEAN_FIELDS; field++) {
        struct grib_spec spec = spec_of(ocean, field, hour);
        put_member(&spec, ocean, member);
        spec.values = values + (size_t)field * points;
        grib_add(&bytes, &spec);
    }
    fwrite(bytes.bytes, 1, bytes.size, stream);
    grib_free(&bytes);
}

void ocean_write_forecast(const struct ocean *ocean, const char *path) {
    FILE *stream = open_to_write(path);
    size_t points = ocean_points(ocean);
    double *values = malloc(points * OCEAN_FIELDS * sizeof *values);
    if (!values)
        abort();
    for (int hour = 0; hour <= ocean->hours; hour += ocean->every)
        for (int member = 0; member < runs_of(ocean); member++)
            write_hour(ocean, hour, member, values, stream);
    free(values);
    finish_writing(stream, path);
}

void ocean_write_passage(const struct ocean *ocean, const char *forecast,
                         const char *boat, const char *path) {
    FILE *stream = open_to_write(path);
    struct instant run = {0};
    char depart[INSTANT_TEXT_SIZE];
    instant_from_civil(ocean_run, &run);
    instant_print(instant_plus(run, 3600.0 * ocean->depart_h), depart);
    fprintf(stream,
            "# An invented passage in invented weather; never sail by it.\n"
            "[passage]\n"
            "name = %s (invented)\n"
            "boat = %s\n"
            "forecast = %s\n"
            "from = %.5f,%.5f\n"
            "to = %.5f,%.5f\n"
            "depart = %s\n"
            "coast = none\n",
            ocean->name, boat, forecast, ocean->from.lat_deg,
            ocean->from.lon_deg, ocean->to.lat_deg, ocean->to.lon_deg, depart);
    finish_writing(stream, path);
}
