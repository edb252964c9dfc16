/* A forecast file with a message in it, loaded whole: the GRIB library decodes
 * in child processes, which may break down. Then weather at its own places. */
#include "fuzz.h"

#include "forecast/forecast.h"
#include "forecast/scan.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

static void sample(const struct forecast *forecast) {
    struct area area = forecast_area(forecast, QUANTITY_WIND);
    struct field_summary wind = forecast_summary(forecast, QUANTITY_WIND);
    struct position at = {
        .lat_deg = 0.5 * (area.south_deg + area.north_deg),
        .lon_deg = angle_wrap_longitude(0.5 * (area.west_deg + area.east_deg))};
    struct weather weather;
    forecast_at(forecast, at, (double)wind.first.unix_s, &weather);
    assert(!weather.wind_known || isfinite(vector_length(weather.wind)));
    assert(!weather.gust_mps.known || isfinite(weather.gust_mps.value));
    assert(!weather.sea_height_m.known || weather.sea_height_m.value >= 0.0);
}

static void describe(const struct forecast *forecast) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert(stream);
    forecast_describe(forecast, stream);
    fclose(stream);
    assert(size > 0);
    free(text);
}

static void load(const char *path, struct arena *arena) {
    struct forecast_options options = forecast_defaults();
    struct forecast *forecast;
    struct error error = {.text = ""};
    options.workers = 1;
    if (!forecast_load(&forecast, &path, 1, &options, arena, &error)) {
        fuzz_check_refusal(&error);
        return;
    }
    sample(forecast);
    describe(forecast);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    arena_init(&arena);
    /* to start a child takes a hundred times as long */
    if (scan_bytes(bytes, size, &arena).count > 0)
        load(fuzz_file("forecast.grib2", bytes, size), &arena);
    arena_free(&arena);
    return 0;
}
