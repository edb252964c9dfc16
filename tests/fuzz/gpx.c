/* A GPX file: what is read is written and read as the same. */
#include "fuzz.h"

#include "exchange/gpx.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* Positions are written in seven decimals, half of the last is lost. */
static const double LOST_DEG = 0.6e-7;

static void check_line(const struct gpx_line *line,
                       const struct gpx_line *again) {
    assert(line->count > 0 && line->count == again->count);
    for (size_t i = 0; i < line->count; i++) {
        const struct gpx_point *a = &line->points[i], *b = &again->points[i];
        double turn_deg = fabs(a->position.lon_deg - b->position.lon_deg);
        assert(fabs(a->position.lat_deg - b->position.lat_deg) <= LOST_DEG);
        assert(fmin(turn_deg, 360.0 - turn_deg) <= LOST_DEG);
        assert(a->timed == b->timed);
        assert(!a->timed || a->time.unix_s == b->time.unix_s);
    }
}

static void check_written(const struct gpx *gpx, struct arena *arena) {
    char *text = NULL;
    size_t size = 0;
    struct gpx again;
    struct error error;
    FILE *stream = open_memstream(&text, &size);
    assert(stream && gpx_write(gpx, stream, &error) && fclose(stream) == 0);
    const char *path = fuzz_file("written.gpx", text, size);
    free(text);
    assert(gpx_load(&again, path, arena, &error));
    assert(gpx->route_count == again.route_count);
    assert(gpx->track_count == again.track_count);
    for (size_t i = 0; i < gpx->route_count; i++)
        check_line(&gpx->routes[i], &again.routes[i]);
    for (size_t i = 0; i < gpx->track_count; i++)
        check_line(&gpx->tracks[i], &again.tracks[i]);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct gpx gpx;
    struct error error = {.text = ""};
    arena_init(&arena);
    if (gpx_load(&gpx, fuzz_file("track.gpx", bytes, size), &arena, &error))
        check_written(&gpx, &arena);
    else
        fuzz_check_refusal(&error);
    arena_free(&arena);
    return 0;
}
