#include "forecast/state.h"

#include "base/units.h"
#include "exchange/clean.h"
#include <math.h>
#include <string.h>

enum { WIDTH = 80, INDENT = 2, UNUSED_SHOWN = 20, TEXT_SIZE = 64 };

/* --- words ---------------------------------------------------------------- */

/* A paragraph, indented, its lines no longer than the page; a word longer than
 * a line stays whole. */
static void print_wrapped(FILE *stream, const char *text) {
    size_t column = 0;
    while (*text) {
        size_t word = strcspn(text, " ");
        if (column > 0 && column + 1 + word > WIDTH) {
            fputc('\n', stream);
            column = 0;
        }
        if (column == 0)
            column = (size_t)fprintf(stream, "%*s", INDENT, "");
        else
            column += (size_t)fprintf(stream, " ");
        clean_print(stream, text, word);
        column += word;
        text += word;
        text += strspn(text, " ");
    }
    fputc('\n', stream);
}

static void time_text(struct instant instant, char text[TEXT_SIZE]) {
    struct civil civil = instant_to_civil(instant);
    snprintf(text, TEXT_SIZE, "%04d-%02d-%02d %02d:%02d", civil.year,
             civil.month, civil.day, civil.hour, civil.minute);
}

static void latitude_text(double lat_deg, char text[TEXT_SIZE]) {
    snprintf(text, TEXT_SIZE, "%.6g %c", fabs(lat_deg),
             lat_deg < 0.0 ? 'S' : 'N');
}

static void longitude_text(double lon_deg, char text[TEXT_SIZE]) {
    double wrapped = angle_wrap_longitude(lon_deg);
    snprintf(text, TEXT_SIZE, "%.6g %c", fabs(wrapped),
             wrapped < 0.0 ? 'W' : 'E');
}

/* "6 h", "15 min". */
static void span_text(double seconds, char text[TEXT_SIZE]) {
    if (fmod(seconds, 3600.0) > 0.0 && seconds < 86400.0)
        snprintf(text, TEXT_SIZE, "%g min", seconds / 60.0);
    else
        snprintf(text, TEXT_SIZE, "%g h", seconds / 3600.0);
}

/* --- fields ---------------------------------------------------------------*/

/* Layers of one quantity, part, grid and kind of time, side by side. */
struct run_of_layers {
    const struct layer *first;
    size_t count;
};

static bool is_same_run(const struct layer *a, const struct layer *b) {
    return a->quantity == b->quantity && a->part == b->part &&
           a->grid == b->grid && a->validity.interval == b->validity.interval;
}

static struct run_of_layers next_run(const struct layers *layers, size_t at) {
    struct run_of_layers run = {.first = &layers->items[at], .count = 1};
    while (at + run.count < layers->count &&
           is_same_run(run.first, &run.first[run.count]))
        run.count++;
    return run;
}

/* "u and v at 10 m", "maximum since the step before". */
static const char *part_words(const struct layer *layer) {
    bool vector =
        layer->quantity == QUANTITY_WIND || layer->quantity == QUANTITY_CURRENT;
    enum part part = layer->from->field.parameter.part;
    if (vector)
        return part == PART_EAST ? "u and v" : "speed and direction";
    switch (part) {
    case PART_HEIGHT:
        return "height";
    case PART_PERIOD:
        return "period";
    case PART_DIRECTION:
        return "direction";
    case PART_VALUE:
    case PART_EAST:
    case PART_NORTH:
    case PART_SPEED:
        break;
    }
    if (layer->quantity != QUANTITY_GUST)
        return "at an instant";
    return layer->validity.interval ? "greatest over an interval"
                                    : "at an instant";
}

static void print_times(FILE *stream, const struct run_of_layers *run) {
    char from[TEXT_SIZE], to[TEXT_SIZE], least[TEXT_SIZE], most[TEXT_SIZE];
    const struct layer *last = &run->first[run->count - 1];
    double shortest = HUGE_VAL, longest = 0.0;
    for (size_t i = 1; i < run->count; i++) {
        double gap = instant_minus(run->first[i].validity.end,
                                   run->first[i - 1].validity.end);
        shortest = fmin(shortest, gap);
        longest = fmax(longest, gap);
    }
    time_text(run->first->validity.start, from);
    time_text(last->validity.end, to);
    if (strcmp(from, to) == 0)
        fprintf(stream, "    %s UTC, 1 step", from);
    else
        fprintf(stream, "    %s to %s UTC, %zu step%s", from, to, run->count,
                run->count == 1 ? "" : "s");
    span_text(shortest, least);
    span_text(longest, most);
    if (run->count > 1 && longest > shortest)
        fprintf(stream, ", %s to %s apart", least, most);
    else if (run->count > 1)
        fprintf(stream, ", %s apart", most);
    fputc('\n', stream);
}

static void print_area(FILE *stream, const struct grid *grid) {
    char south[TEXT_SIZE], north[TEXT_SIZE], west[TEXT_SIZE], east[TEXT_SIZE];
    latitude_text(grid->south_deg, south);
    latitude_text(grid->south_deg + grid->lat_step_deg * (grid->nj - 1), north);
    longitude_text(grid->west_deg, west);
    longitude_text(grid->west_deg + grid->lon_step_deg * (grid->ni - 1), east);
    fprintf(stream, "    %s to %s, ", south, north);
    if (grid->wraps)
        fprintf(stream, "round the globe");
    else
        fprintf(stream, "%s to %s", west, east);
    fprintf(stream, ", every %.4g x %.4g degrees\n", grid->lat_step_deg,
            grid->lon_step_deg);
}

/* What another kind of grid was before it was put on this one. */
static void print_origin(FILE *stream, const struct layer *layer) {
    const struct origin *origin = &layer->from->field.origin;
    double spacing_nmi = origin->spacing_m / METRES_PER_NMI;
    if (!origin->words)
        return;
    fprintf(stream, "    resampled from %s, ", origin->words);
    if (origin->ni > 0)
        fprintf(stream, "%ld x %ld points,\n", origin->ni, origin->nj);
    else
        fprintf(stream, "%zu points in %ld rows,\n", origin->points,
                origin->nj);
    fprintf(stream, "    about %.*f nmi apart%s\n", spacing_nmi < 10.0 ? 1 : 0,
            spacing_nmi,
            origin->turn.kind == TURN_NONE
                ? ""
                : ", turned from its axes to true north");
}

static void print_source(FILE *stream, const struct run_of_layers *run) {
    char oldest[TEXT_SIZE], newest[TEXT_SIZE];
    struct instant low = run->first->run, high = run->first->run;
    size_t missing = 0, points = 0;
    for (size_t i = 0; i < run->count; i++) {
        const struct layer *layer = &run->first[i];
        if (layer->run.unix_s < low.unix_s)
            low = layer->run;
        if (layer->run.unix_s > high.unix_s)
            high = layer->run;
        missing += layer->from->field.missing;
        /* those of a grid that was resampled are missing already */
        if (!layer->from->field.origin.words)
            missing += layer->from->field.wild;
        points += grid_points(&layer->from->field.grid);
    }
    time_text(low, oldest);
    time_text(high, newest);
    fprintf(stream, "    run %s", newest);
    if (low.unix_s != high.unix_s)
        fprintf(stream, " and older, from %s", oldest);
    if (missing > 0)
        fprintf(stream, "; %.3g %% of the points are masked%s",
                100.0 * (double)missing / (double)points,
                run->first->from->field.origin.words ? " or outside" : "");
    fputc('\n', stream);
}

static void print_run(FILE *stream, const struct layers *layers,
                      const struct run_of_layers *run, bool more) {
    char level[LEVEL_TEXT_SIZE];
    level_print(run->first->from->field.level, level);
    fprintf(stream, "  %s%s: %s (%s)\n", more ? "also " : "",
            quantity_name(run->first->quantity), part_words(run->first), level);
    print_times(stream, run);
    print_area(stream, &layers->grids[run->first->grid]);
    print_origin(stream, run->first);
    print_source(stream, run);
}

/* Same times, grid and runs as the one before: one line is enough. */
static bool is_alike(const struct run_of_layers *a,
                     const struct run_of_layers *b) {
    if (a->count != b->count || a->first->quantity != b->first->quantity ||
        a->first->grid != b->first->grid || a->first->validity.interval ||
        b->first->validity.interval)
        return false;
    for (size_t i = 0; i < a->count; i++) {
        if (a->first[i].validity.end.unix_s != b->first[i].validity.end.unix_s)
            return false;
    }
    return true;
}

static void print_fields(FILE *stream, const struct layers *layers) {
    struct run_of_layers before = {0};
    fprintf(stream, "Fields\n");
    for (size_t at = 0; at < layers->count;) {
        struct run_of_layers run = next_run(layers, at);
        at += run.count;
        bool again =
            before.first && before.first->quantity == run.first->quantity;
        if (run.first->part == PART_NORTH)
            continue;
        if (before.first && is_alike(&before, &run))
            fprintf(stream, "    and its %s\n", part_words(run.first));
        else
            print_run(stream, layers, &run, again);
        before = run;
    }
}

static void print_members(FILE *stream, const struct roster *roster) {
    struct arena arena;
    arena_init(&arena);
    bool titled = false;
    for (int i = 0; i < QUANTITY_COUNT; i++) {
        const char *text = roster_text(roster, (enum quantity)i, &arena);
        if (!text)
            continue;
        if (!titled)
            fprintf(stream, "Members\n");
        titled = true;
        print_wrapped(stream,
                      arena_print(&arena, "%s: %s",
                                  quantity_name((enum quantity)i), text));
    }
    arena_free(&arena);
}

/* --- files and the rest --------------------------------------------------- */

static void print_files(FILE *stream, const struct inventory *inventory) {
    fprintf(stream, "Files\n");
    for (size_t i = 0; i < inventory->file_count; i++) {
        const struct file_entry *file = &inventory->files[i];
        fputs("  ", stream);
        clean_print(stream, file->path, strlen(file->path));
        fputc('\n', stream);
        if (file->refused) {
            fprintf(stream, "    not used\n");
            continue;
        }
        fprintf(stream, "    %zu message%s, %zu bytes", file->messages,
                file->messages == 1 ? "" : "s", file->bytes);
        if (file->stray_bytes > 0)
            fprintf(stream, ", %zu stray", file->stray_bytes);
        if (file->damaged > 0)
            fprintf(stream, ", %zu damaged", file->damaged);
        fputc('\n', stream);
    }
}

static void print_unused_kind(FILE *stream, const struct unused *unused) {
    char line[4 * TEXT_SIZE + PARAMETER_TEXT_SIZE + GRIB_CAUSE_SIZE];
    snprintf(line, sizeof line, "%zu field%s%s%s%s%s (%s): %s", unused->count,
             unused->count == 1 ? "" : "s", unused->ours ? " of " : "",
             unused->ours ? quantity_name(unused->quantity) : "",
             *unused->code ? ", " : "", unused->code, unused->levels,
             unused->cause);
    print_wrapped(stream, line);
}

/* Those of our quantities, or the others; `left` more may be shown. */
static size_t print_unused_kinds(FILE *stream,
                                 const struct inventory *inventory, bool ours,
                                 size_t left) {
    size_t shown = 0;
    for (size_t i = 0; i < inventory->unused_count && shown < left; i++) {
        if (inventory->unused[i].ours != ours)
            continue;
        print_unused_kind(stream, &inventory->unused[i]);
        shown++;
    }
    return shown;
}

/* What a plan could have used comes first. */
static void print_unused(FILE *stream, const struct inventory *inventory) {
    if (inventory->unused_count == 0)
        return;
    fprintf(stream, "Not used\n");
    size_t shown = print_unused_kinds(stream, inventory, true, UNUSED_SHOWN);
    shown += print_unused_kinds(stream, inventory, false, UNUSED_SHOWN - shown);
    if (shown < inventory->unused_count)
        fprintf(stream, "  and %zu kinds more\n",
                inventory->unused_count - shown);
}

/* --- what a plan will miss -------------------------------------------------*/

static bool is_there(const struct forecast *forecast, enum quantity quantity) {
    return forecast->summary[quantity].present;
}

/* A system counts with all three of height, period and direction. */
static const char *missing_part(const struct forecast *forecast,
                                enum quantity quantity) {
    bool period = false, direction = false;
    for (size_t i = 0; i < forecast->layers.count; i++) {
        const struct layer *layer = &forecast->layers.items[i];
        period |= layer->quantity == quantity && layer->part == PART_PERIOD;
        direction |=
            layer->quantity == quantity && layer->part == PART_DIRECTION;
    }
    if (!is_there(forecast, quantity))
        return period || direction ? "height" : NULL;
    if (!period)
        return direction ? "period" : "period and direction";
    return direction ? NULL : "direction";
}

static bool is_whole(const struct forecast *forecast, enum quantity quantity) {
    return is_there(forecast, quantity) && !missing_part(forecast, quantity);
}

/* Prints a line of this section; counts it. */
static void miss(FILE *stream, size_t *count, const char *text) {
    print_wrapped(stream, text);
    (*count)++;
}

static void print_missed_fields(FILE *stream, const struct forecast *forecast,
                                size_t *count) {
    bool sea = is_whole(forecast, QUANTITY_SEA);
    bool wind_sea = is_whole(forecast, QUANTITY_WIND_SEA);
    bool swell = is_whole(forecast, QUANTITY_SWELL_1);
    if (!is_there(forecast, QUANTITY_GUST))
        miss(stream, count,
             "gust: 1.4 times the mean wind stands in for it, marked");
    if (!sea && !wind_sea && !swell)
        miss(stream, count,
             "waves: the sea is estimated from the wind, and marked so; swell "
             "is not in it, so roll is understated");
    else if (!wind_sea || !swell)
        miss(stream, count,
             "wind sea and swell apart: the roll comes from what there is, "
             "and can be wrong where seas cross");
    if (!is_there(forecast, QUANTITY_SEA) && !(wind_sea && swell))
        miss(stream, count,
             "height of the whole sea: limits on it can't be checked");
    if (!is_there(forecast, QUANTITY_CURRENT))
        miss(stream, count, "current: none is reckoned with");
    if (!is_there(forecast, QUANTITY_PRESSURE))
        miss(stream, count, "pressure: the barometer can't be compared");
}

static void print_missed_parts(FILE *stream, const struct forecast *forecast,
                               size_t *count) {
    char line[160], last[TEXT_SIZE];
    struct instant end = forecast->summary[QUANTITY_WIND].last;
    for (int i = QUANTITY_GUST; i < QUANTITY_COUNT; i++) {
        enum quantity quantity = (enum quantity)i;
        const char *part =
            quantity >= QUANTITY_SEA ? missing_part(forecast, quantity) : NULL;
        if (part) {
            snprintf(line, sizeof line,
                     "%s: its %s; without it only the rest is used",
                     quantity_name(quantity), part);
            miss(stream, count, line);
        }
        if (!is_there(forecast, quantity) ||
            forecast->summary[i].last.unix_s >= end.unix_s)
            continue;
        time_text(forecast->summary[i].last, last);
        snprintf(line, sizeof line, "%s after %s UTC, where the wind goes on",
                 quantity_name(quantity), last);
        miss(stream, count, line);
    }
}

void forecast_describe(const struct forecast *forecast, FILE *stream) {
    size_t missed = 0;
    print_files(stream, &forecast->inventory);
    print_fields(stream, &forecast->layers);
    print_members(stream, &forecast->roster);
    print_unused(stream, &forecast->inventory);
    fprintf(stream, "A plan will miss\n");
    print_missed_fields(stream, forecast, &missed);
    print_missed_parts(stream, forecast, &missed);
    if (missed == 0)
        fprintf(stream, "  nothing\n");
    if (forecast->options.waves_towards)
        fprintf(stream, "Wave directions are read as where they go to\n");
    else
        fprintf(stream, "Wave directions are read as where they come from\n");
    if (forecast->notes.count > 0)
        fprintf(stream, "Warnings\n");
    for (size_t i = 0; i < forecast->notes.count; i++)
        print_wrapped(stream, forecast->notes.texts[i]);
}
