#include "forecast/forecast.h"

#include "forecast/sample.h"
#include "forecast/state.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct forecast_options forecast_defaults(void) {
    return (struct forecast_options){.gap_limit_s = 12.0 * 3600.0,
                                     .waves_towards = false};
}

/* --- what is there ---------------------------------------------------------*/

/* The part that stands for a quantity: without it there is none of it. */
static bool is_main(const struct layer *layer) {
    return layer->part == PART_EAST || layer->part == PART_VALUE ||
           layer->part == PART_HEIGHT;
}

static int by_time(const void *left, const void *right) {
    int64_t a = *(const int64_t *)left, b = *(const int64_t *)right;
    return (a > b) - (a < b);
}

/* Valid times of a quantity on all grids, each once, rising. */
static size_t list_times(const struct layers *layers, enum quantity quantity,
                         int64_t *times) {
    size_t count = 0, kept = 0;
    for (size_t i = 0; i < layers->count; i++) {
        const struct layer *layer = &layers->items[i];
        if (layer->quantity == quantity && is_main(layer))
            times[count++] = layer->validity.end.unix_s;
    }
    if (count > 0)
        qsort(times, count, sizeof *times, by_time);
    for (size_t i = 0; i < count; i++) {
        if (kept == 0 || times[i] != times[kept - 1])
            times[kept++] = times[i];
    }
    return kept;
}

static bool has_interval(const struct layers *layers, enum quantity quantity,
                         struct instant *first) {
    bool any = false;
    for (size_t i = 0; i < layers->count; i++) {
        const struct layer *layer = &layers->items[i];
        if (layer->quantity != quantity || !layer->validity.interval)
            continue;
        any = true;
        if (layer->validity.start.unix_s < first->unix_s)
            *first = layer->validity.start;
    }
    return any;
}

static struct field_summary summarise(const struct layers *layers,
                                      enum quantity quantity,
                                      const int64_t *times, size_t count) {
    struct field_summary summary = {.present = count > 0, .steps = count};
    if (count == 0)
        return summary;
    summary.first.unix_s = times[0];
    summary.last.unix_s = times[count - 1];
    summary.interval = has_interval(layers, quantity, &summary.first);
    for (size_t i = 1; i < count; i++) {
        double gap_s = (double)(times[i] - times[i - 1]);
        summary.longest_gap_s = fmax(summary.longest_gap_s, gap_s);
        if (i == 1 || gap_s < summary.shortest_gap_s)
            summary.shortest_gap_s = gap_s;
    }
    return summary;
}

/* A step is missing where one gap is wider than both its neighbours: a change
 * from 3 to 6 hours is none. */
static bool is_missing_step(const int64_t *times, size_t count, size_t i) {
    int64_t gap = times[i] - times[i - 1];
    return i >= 2 && i + 1 < count && gap > times[i - 1] - times[i - 2] &&
           gap > times[i + 1] - times[i];
}

static void note_holes(struct forecast *forecast, enum quantity quantity,
                       const int64_t *times, size_t count) {
    struct notes *notes = &forecast->notes;
    size_t holes = 0;
    const char *first = NULL;
    for (size_t i = 1; i < count; i++) {
        double gap_s = (double)(times[i] - times[i - 1]);
        bool wide = gap_s > forecast->options.gap_limit_s;
        char from[INSTANT_TEXT_SIZE], to[INSTANT_TEXT_SIZE];
        if (!wide && !is_missing_step(times, count, i))
            continue;
        instant_print((struct instant){times[i - 1]}, from);
        instant_print((struct instant){times[i]}, to);
        if (holes++ == 0)
            first = arena_print(
                notes->arena, "%s: nothing between %s and %s (%g h); %s",
                quantity_name(quantity), from, to, gap_s / 3600.0,
                wide ? "nothing is carried across"
                     : "values between are interpolated");
    }
    if (holes == 1)
        notes_add(notes, first);
    if (holes > 1)
        notes_add(notes, arena_print(notes->arena, "%s; %zu more such holes",
                                     first, holes - 1));
}

/* Newest run of a quantity; 1970 where it is not there. */
static struct instant newest_run(const struct layers *layers,
                                 enum quantity quantity) {
    struct instant newest = {INT64_MIN};
    for (size_t i = 0; i < layers->count; i++) {
        const struct layer *layer = &layers->items[i];
        if (layer->quantity == quantity && layer->run.unix_s > newest.unix_s)
            newest = layer->run;
    }
    return newest.unix_s == INT64_MIN ? (struct instant){0} : newest;
}

static void take_stock(struct forecast *forecast, struct arena *arena) {
    const struct layers *layers = &forecast->layers;
    int64_t *times = arena_alloc(arena, layers->count + 1, sizeof *times);
    for (int i = 0; i < QUANTITY_COUNT; i++) {
        enum quantity quantity = (enum quantity)i;
        size_t count = list_times(layers, quantity, times);
        forecast->summary[i] = summarise(layers, quantity, times, count);
        if (!forecast->summary[i].interval)
            note_holes(forecast, quantity, times, count);
    }
    forecast->run = newest_run(layers, QUANTITY_WIND);
    for (size_t i = 0; i < layers->count; i++)
        forecast->points += grid_points(&layers->grids[layers->items[i].grid]);
}

/* --- checks on the whole --------------------------------------------------*/

enum { FLIP_SAMPLES = 500, FLIP_SAMPLES_LEAST = 4 };
static const double FLIP_DEG = 120.0;
static const double FLIP_WIND_MPS = 3.0; /* below, a wind sea may be old */

static const struct block *find_block(const struct forecast *forecast,
                                      int channel) {
    for (size_t i = 0; i < forecast->blocks.count; i++) {
        const struct block *block = &forecast->blocks.items[i];
        if (block->channels >> channel & 1)
            return block;
    }
    return NULL;
}

/* 1: against the wind; 0: with it; -1: can't be told. */
static int is_against(const struct forecast *forecast,
                      const struct block *block, size_t index) {
    struct weather weather;
    size_t points = grid_points(&block->grid);
    struct position position = grid_position(&block->grid, index % points);
    forecast_at(forecast, position, block->axis.unix_s[index / points],
                &weather);
    if (!weather.wind_known || !weather.wind_sea.known ||
        vector_length(weather.wind) < FLIP_WIND_MPS)
        return -1;
    double turn = angle_turn(vector_direction_from(weather.wind),
                             weather.wind_sea.from_deg);
    return fabs(turn) > FLIP_DEG;
}

static void check_flip(struct forecast *forecast) {
    const struct block *block =
        find_block(forecast, wave_channel(QUANTITY_WIND_SEA) + (int)WAVE_EAST);
    if (!block)
        return;
    size_t total = grid_points(&block->grid) * block->axis.count;
    size_t stride = total / FLIP_SAMPLES + 1;
    size_t with = 0, against = 0;
    for (size_t index = 0; index < total; index += stride) {
        int answer = is_against(forecast, block, index);
        with += answer == 0;
        against += answer == 1;
    }
    if (with + against >= FLIP_SAMPLES_LEAST && against > with)
        notes_add(&forecast->notes,
                  forecast->options.waves_towards
                      ? "wind sea and wind are opposed at most places; the "
                        "file may give where waves come from: try without "
                        "--wave-direction towards"
                      : "wind sea and wind are opposed at most places; the "
                        "file may give where waves go to: try "
                        "--wave-direction towards");
}

/* A finer grid wins over a coarser one even where its run is older. */
static void check_ages(struct forecast *forecast) {
    char fine[INSTANT_TEXT_SIZE], coarse[INSTANT_TEXT_SIZE];
    const struct block *first = find_block(forecast, CHANNEL_WIND_EAST);
    for (size_t i = 0; i < forecast->blocks.count; i++) {
        const struct block *block = &forecast->blocks.items[i];
        if (!(block->channels >> CHANNEL_WIND_EAST & 1) ||
            block->newest_run.unix_s <= first->newest_run.unix_s)
            continue;
        instant_print(first->newest_run, fine);
        instant_print(block->newest_run, coarse);
        notes_add(&forecast->notes,
                  arena_print(forecast->notes.arena,
                              "wind: the finest grid is of run %s, older than "
                              "the run %s of a coarser one; where it covers "
                              "the place it is used",
                              fine, coarse));
        return;
    }
}

static bool had_losses(const struct forecast *forecast,
                       const struct batch *batch) {
    bool losses = batch->loss_count > 0;
    for (size_t i = 0; i < forecast->inventory.file_count; i++)
        losses |= forecast->inventory.files[i].damaged > 0;
    return losses;
}

static void note_end(struct forecast *forecast) {
    char last[INSTANT_TEXT_SIZE];
    instant_print(forecast->summary[QUANTITY_WIND].last, last);
    notes_add(&forecast->notes,
              arena_print(forecast->notes.arena,
                          "after what was lost the wind reaches to %s", last));
}

/* --- loading ---------------------------------------------------------------*/

struct load {
    struct forecast *forecast;
    struct source *sources; /* those that could be opened */
    size_t count;
    size_t *file_of; /* place of each in the list of all files */
    struct arena *arena;
};

/* Opens what can be opened; a file that can't be is a note. False where none
 * can, with the first reason. */
static bool open_sources(struct load *load, const char *const *paths,
                         size_t count, struct error *error) {
    struct forecast *forecast = load->forecast;
    struct inventory *inventory = &forecast->inventory;
    load->sources = arena_alloc(load->arena, count, sizeof *load->sources);
    load->file_of = arena_alloc(load->arena, count, sizeof *load->file_of);
    inventory->files =
        arena_alloc(load->arena, count, sizeof *inventory->files);
    inventory->file_count = count;
    for (size_t i = 0; i < count; i++) {
        struct source *source = &load->sources[load->count];
        struct error refusal;
        inventory->files[i].path = arena_copy(load->arena, paths[i]);
        if (!source_open(source, inventory->files[i].path, load->arena,
                         &refusal)) {
            inventory->files[i].refused = arena_copy(load->arena, refusal.text);
            notes_add(&forecast->notes, inventory->files[i].refused);
            if (!inventory->trouble)
                *error = refusal;
            inventory_trouble(inventory, inventory->files[i].refused);
            continue;
        }
        inventory->files[i].bytes = source->size;
        inventory->files[i].messages = source->scan.count;
        inventory->files[i].stray_bytes = source->scan.stray_bytes;
        inventory->files[i].damaged = source->scan.loss_count;
        load->file_of[load->count++] = i;
    }
    return load->count > 0;
}

/* Of the members that were chosen. */
static bool fill(struct forecast *forecast, struct arena *arena,
                 struct error *error) {
    forecast->layers = layers_from(forecast->batch, &forecast->choice,
                                   forecast->sources, &forecast->notes, arena);
    forecast->blocks =
        blocks_make(&forecast->layers, forecast->options.waves_towards, arena);
    if (!find_block(forecast, CHANNEL_WIND_EAST))
        return inventory_no_wind(&forecast->inventory, &forecast->layers,
                                 error);
    take_stock(forecast, arena);
    return true;
}

static bool assemble(struct load *load, struct batch *batch,
                     struct error *error) {
    struct forecast *forecast = load->forecast;
    struct notes *notes = &forecast->notes;
    inventory_fill(&forecast->inventory, batch, load->sources, load->count,
                   load->file_of, notes);
    forecast->batch = batch;
    forecast->sources = load->sources;
    forecast->roster = roster_of(batch, load->arena);
    if (!choice_make(&forecast->choice, &forecast->roster,
                     forecast->options.member, notes, error) ||
        !fill(forecast, load->arena, error))
        return false;
    check_ages(forecast);
    check_flip(forecast);
    if (had_losses(forecast, batch))
        note_end(forecast);
    return true;
}

/* What a forecast is sampled from lives as long as it does. */
static void end_batch(void *batch) {
    batch_free(batch);
}

bool forecast_load(struct forecast **forecast, const char *const *paths,
                   size_t count, const struct forecast_options *options,
                   struct arena *arena, struct error *error) {
    struct load load = {.forecast = arena_alloc(arena, 1, sizeof **forecast),
                        .arena = arena};
    struct batch *batch = arena_alloc(arena, 1, sizeof *batch);
    load.forecast->options = *options;
    load.forecast->options.wanted = NULL; /* the caller's */
    load.forecast->notes.arena = arena;
    if (count == 0)
        return error_set(error, STATUS_INPUT,
                         "no forecast file given; name one");
    bool good =
        open_sources(&load, paths, count, error) &&
        batch_decode(batch, load.sources, load.count, options, arena, error) &&
        assemble(&load, batch, error);
    for (size_t i = 0; i < load.count; i++)
        source_close(&load.sources[i]);
    if (!good) {
        batch_free(batch);
        return false;
    }
    arena_at_end(arena, end_batch, batch);
    *forecast = load.forecast;
    return true;
}

/* --- members --------------------------------------------------------------*/

/* Of the wind; the forecast without members is none, and comes first. */
static size_t first_member(const struct forecast *forecast) {
    const struct roster *roster = &forecast->roster;
    return roster->count[QUANTITY_WIND] > 0 &&
           roster->members[QUANTITY_WIND][0].kind == MEMBER_NONE;
}

size_t forecast_member_count(const struct forecast *forecast) {
    return forecast->roster.count[QUANTITY_WIND] - first_member(forecast);
}

struct member forecast_member(const struct forecast *forecast, size_t index) {
    assert(index < forecast_member_count(forecast));
    return forecast->roster
        .members[QUANTITY_WIND][first_member(forecast) + index];
}

struct member forecast_used(const struct forecast *forecast) {
    return forecast->choice.member[QUANTITY_WIND];
}

bool forecast_of_member(struct forecast **one, const struct forecast *all,
                        struct member member, struct arena *arena,
                        struct error *error) {
    struct forecast *forecast = arena_alloc(arena, 1, sizeof *forecast);
    *forecast = (struct forecast){.options = all->options,
                                  .batch = all->batch,
                                  .sources = all->sources,
                                  .roster = all->roster,
                                  .choice = choice_of(&all->roster, member),
                                  .inventory = all->inventory,
                                  .notes.arena = arena};
    *one = forecast;
    return fill(forecast, arena, error);
}

/* --- sampling --------------------------------------------------------------*/

static struct figure figure_at(const struct sample *sample, int channel) {
    if (!(sample->known >> channel & 1))
        return figure_unknown();
    return figure_of(sample->value[channel]);
}

static struct vector_mps vector_at(const struct sample *sample, bool known,
                                   int channel) {
    if (!known)
        return (struct vector_mps){0.0, 0.0};
    return (struct vector_mps){sample->value[channel],
                               sample->value[channel + 1]};
}

static void put_waves(const struct sample *sample, enum quantity quantity,
                      struct wave_system *waves) {
    int first = wave_channel(quantity);
    uint32_t all = 15U << first;
    if ((sample->known & all) != all) {
        *waves = (struct wave_system){.known = false};
        return;
    }
    struct vector_mps towards = {sample->value[first + (int)WAVE_EAST],
                                 sample->value[first + (int)WAVE_NORTH]};
    *waves = (struct wave_system){
        .known = true,
        .height_m = sample->value[first + (int)WAVE_HEIGHT],
        .period_s = sample->value[first + (int)WAVE_PERIOD],
        /* the vector points where they come from */
        .from_deg = vector_direction_towards(towards)};
}

/* Every figure is set: clearing all of them before takes as long again. */
static void put_weather(const struct sample *sample, struct weather *weather) {
    uint32_t wind = 3U << CHANNEL_WIND_EAST;
    uint32_t current = 3U << CHANNEL_CURRENT_EAST;
    uint32_t waves = ~((1U << CHANNEL_WAVES) - 1);
    weather->wind_known = (sample->known & wind) == wind;
    weather->wind = vector_at(sample, weather->wind_known, CHANNEL_WIND_EAST);
    weather->current_known = (sample->known & current) == current;
    weather->current =
        vector_at(sample, weather->current_known, CHANNEL_CURRENT_EAST);
    weather->gust_mps = figure_at(sample, CHANNEL_GUST);
    weather->gust_coarse = weather->gust_mps.known && sample->coarse;
    weather->pressure_pa = figure_at(sample, CHANNEL_PRESSURE);
    weather->sea_height_m =
        figure_at(sample, wave_channel(QUANTITY_SEA) + (int)WAVE_HEIGHT);
    put_waves(sample, QUANTITY_SEA, &weather->sea);
    put_waves(sample, QUANTITY_WIND_SEA, &weather->wind_sea);
    put_waves(sample, QUANTITY_SWELL_1, &weather->swell[0]);
    put_waves(sample, QUANTITY_SWELL_2, &weather->swell[1]);
    put_waves(sample, QUANTITY_SWELL_3, &weather->swell[2]);
    weather->waves_near_mask = (sample->single & waves) != 0;
}

/* Which answer about the wind says more: of several grids one may end sooner
 * than another. */
static int coverage_worth(enum coverage coverage) {
    switch (coverage) {
    case COVERAGE_INSIDE:
        return 3;
    case COVERAGE_HOLE:
        return 2;
    case COVERAGE_BEFORE:
    case COVERAGE_AFTER:
        return 1;
    case COVERAGE_OUTSIDE_AREA:
        break;
    }
    return 0;
}

enum coverage forecast_at(const struct forecast *forecast,
                          struct position position, double unix_s,
                          struct weather *weather) {
    struct sample sample;
    enum coverage wind = COVERAGE_OUTSIDE_AREA;
    sample.known = sample.single = 0;
    sample.coarse = false;
    for (size_t i = 0; i < forecast->blocks.count; i++) {
        const struct block *block = &forecast->blocks.items[i];
        if ((block->channels & ~sample.known) == 0)
            continue;
        bool has_wind = block->channels >> CHANNEL_WIND_EAST & 1;
        bool had_wind = sample.known >> CHANNEL_WIND_EAST & 1;
        enum coverage coverage = block_sample(
            block, position, unix_s, forecast->options.gap_limit_s, &sample);
        if (!has_wind || had_wind)
            continue;
        if (coverage == COVERAGE_INSIDE &&
            !(sample.known >> CHANNEL_WIND_EAST & 1))
            coverage = COVERAGE_OUTSIDE_AREA;
        if (coverage_worth(coverage) > coverage_worth(wind))
            wind = coverage;
    }
    put_weather(&sample, weather);
    return wind;
}

bool forecast_point_wind(const struct forecast *forecast,
                         struct position position, double unix_s,
                         struct vector_mps *wind) {
    for (size_t i = 0; i < forecast->blocks.count; i++)
        if (block_point_wind(&forecast->blocks.items[i], position, unix_s,
                             forecast->options.gap_limit_s, wind))
            return true;
    return false;
}

/* --- asking ----------------------------------------------------------------*/

struct field_summary forecast_summary(const struct forecast *forecast,
                                      enum quantity quantity) {
    return forecast->summary[quantity];
}

struct area forecast_area(const struct forecast *forecast,
                          enum quantity quantity) {
    const struct grid *finest = NULL;
    for (size_t i = 0; i < forecast->layers.count; i++) {
        const struct layer *layer = &forecast->layers.items[i];
        const struct grid *grid = &layer->from->field.part.whole;
        if (layer->quantity != quantity || !is_main(layer))
            continue;
        if (!finest || grid->lat_step_deg * grid->lon_step_deg <
                           finest->lat_step_deg * finest->lon_step_deg)
            finest = grid;
    }
    if (!finest)
        return (struct area){0};
    int steps = finest->wraps ? finest->ni : finest->ni - 1;
    return (struct area){.south_deg = finest->south_deg,
                         .north_deg = finest->south_deg +
                                      finest->lat_step_deg * (finest->nj - 1),
                         .west_deg = finest->west_deg,
                         .east_deg =
                             finest->west_deg + finest->lon_step_deg * steps,
                         .lat_step_deg = finest->lat_step_deg,
                         .lon_step_deg = finest->lon_step_deg};
}

struct instant forecast_run(const struct forecast *forecast) {
    return forecast->run;
}

size_t forecast_warning_count(const struct forecast *forecast) {
    return forecast->notes.count;
}

const char *forecast_warning(const struct forecast *forecast, size_t index) {
    return forecast->notes.texts[index];
}
