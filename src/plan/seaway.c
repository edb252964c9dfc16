#include "plan/seaway.h"

#include "base/once.h"
#include "base/units.h"
#include "sea/growth.h"

#include <math.h>
#include <stdio.h>

/* Points lie so far apart, or as far as those of the wind. */
static const double SPACING_DEG = 0.75;

/* Times are so far apart, or further where there would be more of them. */
static const double KEPT_S = 3.0 * SECONDS_PER_HOUR;
enum { TIMES_MOST = 128 };

/* From one to the next the wind is followed in steps of no more than this. */
static const double STEP_S = 1.5 * SECONDS_PER_HOUR;

/* Places so far outside the box are taken as inside, and those so near to the
 * border of the wind as beyond it. */
static const double BORDER_DEG = 2e-6;

/* With less of the corners known, nothing is. */
static const float KNOWN_LEAST = 1e-6F;

/* What is kept of both systems: energy (height squared), and the rest times
 * energy, so that all of it can be added up; then 1 where it is known. */
enum { ENERGY, PERIOD, FETCH, EAST, NORTH, PARTS };
enum { WIND_SEA = 0, LEFT = PARTS, KNOWN = 2 * PARTS };

/* Points along one axis, at multiples of a step: counted from the south pole,
 * or from 180 degrees west. So what is said of a place doesn't depend on the
 * box: a track timed again has a smaller one than the plan that found it. */
struct axis {
    double step_deg, per_deg; /* and 1 over it */
    size_t first, count;      /* of those that are about the box */
    size_t around;            /* of a whole circle */
};

struct seaway {
    const struct forecast *forecast;
    const struct sea_mask *mask;
    struct coast_box box;
    struct area wind;
    struct axis lat, lon;
    double first_unix_s, kept_s, per_s;
    size_t times;
    struct arena *memory;     /* of the points; one thread at a time */
    size_t limit_bytes;       /* of it */
    struct seaway_mix *none;  /* of all points that don't count: zeros */
    struct seaway_mix **kept; /* of a point, at all times */
    _Atomic uint8_t *states;  /* of the points */
};

/* --- the raster -------------------------------------------------------------
 */

static void lay_times(struct seaway *seaway) {
    struct field_summary wind =
        forecast_summary(seaway->forecast, QUANTITY_WIND);
    double span_s = instant_minus(wind.last, wind.first);
    double steps = fmin(ceil(span_s / KEPT_S), (double)(TIMES_MOST - 1));
    seaway->first_unix_s = (double)wind.first.unix_s;
    seaway->times = (size_t)steps + 1;
    seaway->kept_s = steps > 0.0 ? span_s / steps : KEPT_S;
    seaway->per_s = 1.0 / seaway->kept_s;
}

/* From `low_deg` to `high_deg`, both from where counting begins. The step is
 * what makes a whole number of them go round. */
static struct axis axis_of(double step_deg, double low_deg, double high_deg) {
    double around = fmax(floor(360.0 / fmax(step_deg, SPACING_DEG)), 1.0);
    struct axis axis = {.step_deg = 360.0 / around,
                        .per_deg = around / 360.0,
                        .around = (size_t)around};
    axis.first = (size_t)fmax((low_deg - BORDER_DEG) * axis.per_deg, 0.0);
    size_t beyond = (size_t)((high_deg + BORDER_DEG) * axis.per_deg) + 2;
    axis.count = beyond - axis.first;
    if (axis.count > axis.around)
        axis.count = axis.around;
    return axis;
}

static void free_memory(void *memory) {
    arena_free(memory);
}

static struct arena *memory_of(struct arena *arena) {
    struct arena *memory = arena_alloc(arena, 1, sizeof *memory);
    arena_init(memory);
    arena_at_end(arena, free_memory, memory);
    return memory;
}

const struct seaway *seaway_make(const struct forecast *forecast,
                                 const struct coast_box *box,
                                 const struct sea_mask *mask,
                                 struct arena *arena) {
    return seaway_make_within(SEAWAY_BYTES_LIMIT, forecast, box, mask, arena);
}

const struct seaway *seaway_make_within(size_t limit_bytes,
                                        const struct forecast *forecast,
                                        const struct coast_box *box,
                                        const struct sea_mask *mask,
                                        struct arena *arena) {
    struct seaway *seaway = arena_alloc(arena, 1, sizeof *seaway);
    *seaway = (struct seaway){.forecast = forecast,
                              .mask = mask,
                              .box = *box,
                              .wind = forecast_area(forecast, QUANTITY_WIND),
                              .memory = memory_of(arena),
                              .limit_bytes = limit_bytes};
    lay_times(seaway);
    seaway->none = arena_alloc(arena, seaway->times, sizeof *seaway->none);
    seaway->lat = axis_of(seaway->wind.lat_step_deg, 90.0 + box->south_deg,
                          90.0 + box->north_deg);
    seaway->lon = axis_of(seaway->wind.lon_step_deg, 180.0 + box->west_deg,
                          180.0 + box->east_deg);
    size_t points = seaway->lat.count * seaway->lon.count;
    seaway->kept = arena_alloc(arena, points, sizeof(struct seaway_mix *));
    seaway->states = arena_alloc(arena, points, sizeof *seaway->states);
    return seaway;
}

static struct position point_at(const struct seaway *seaway, size_t row,
                                size_t column) {
    const struct axis *lat = &seaway->lat, *lon = &seaway->lon;
    size_t east = (lon->first + column) % lon->around;
    double north_deg = (double)(lat->first + row) * lat->step_deg;
    return (struct position){fmin(north_deg - 90.0, 90.0),
                             (double)east * lon->step_deg - 180.0};
}

/* --- the past of a point ----------------------------------------------------
 */

static void keep_system(const struct standing_system *system, float *value) {
    double energy = system->height_m * system->height_m;
    value[ENERGY] = (float)energy;
    value[PERIOD] = (float)(energy * system->period_s);
    value[FETCH] = (float)(energy * system->fetch_m);
    value[EAST] = (float)(energy * system->from.east);
    value[NORTH] = (float)(energy * system->from.north);
}

static void keep(const struct standing_sea *sea, struct seaway_mix *kept) {
    keep_system(&sea->wind_sea, kept->value + WIND_SEA);
    keep_system(&sea->left, kept->value + LEFT);
    kept->value[KNOWN] = 1.0F;
}

/* What is followed at one point. */
struct past {
    const struct seaway *seaway;
    struct position at;
    bool known;
    struct vector_mps wind; /* of the last moment */
    struct standing_sea sea;
};

static void begin(struct past *past) {
    if (past->known)
        past->sea =
            standing_begin(past->wind, hours_to_s(GROWTH_ASSUMED_HOURS));
}

/* From the last moment to this one, with the mean of their winds. */
static void follow(struct past *past, double unix_s, double seconds) {
    struct vector_mps before = past->wind;
    bool was_known = past->known;
    past->known = forecast_point_wind(past->seaway->forecast, past->at, unix_s,
                                      &past->wind);
    if (was_known && past->known)
        standing_blow(
            &past->sea,
            (struct vector_mps){0.5 * (before.east + past->wind.east),
                                0.5 * (before.north + past->wind.north)},
            seconds);
    else
        begin(past);
}

/* Outwards from the box's corner in the south-west. */
static bool is_in_box(const struct seaway *seaway, struct position at) {
    const struct coast_box *box = &seaway->box;
    double east_deg = at.lon_deg - box->west_deg;
    if (east_deg < -BORDER_DEG)
        east_deg += 360.0;
    return at.lat_deg >= box->south_deg - BORDER_DEG &&
           at.lat_deg <= box->north_deg + BORDER_DEG &&
           east_deg <= box->east_deg - box->west_deg + BORDER_DEG;
}

/* The mask tells of the box alone. Points about it, beyond, are taken to be at
 * sea. */
static bool is_at_sea(const struct seaway *seaway, struct position at) {
    return !seaway->mask || !is_in_box(seaway, at) ||
           sea_mask_is_about_sea(seaway->mask, at);
}

/* The nearest place that the wind's finest grid has. */
static struct position onto_wind(const struct area *wind, struct position at) {
    double width_deg = wind->east_deg - wind->west_deg;
    double east_deg = angle_wrap_360(at.lon_deg - wind->west_deg);
    if (east_deg > width_deg - BORDER_DEG)
        east_deg = east_deg - width_deg < 360.0 - east_deg
                       ? width_deg - BORDER_DEG
                       : BORDER_DEG;
    return (struct position){
        fmin(fmax(at.lat_deg, wind->south_deg + BORDER_DEG),
             wind->north_deg - BORDER_DEG),
        angle_wrap_longitude(wind->west_deg + east_deg)};
}

/* Beyond the border of the wind that of the border counts. */
static struct past past_at(const struct seaway *seaway, struct position at) {
    struct past past = {.seaway = seaway, .at = at};
    double unix_s = seaway->first_unix_s;
    past.known = forecast_point_wind(seaway->forecast, at, unix_s, &past.wind);
    if (!past.known) {
        past.at = onto_wind(&seaway->wind, at);
        past.known =
            forecast_point_wind(seaway->forecast, past.at, unix_s, &past.wind);
    }
    return past;
}

static void work_out(struct past *past, struct seaway_mix *kept) {
    const struct seaway *seaway = past->seaway;
    int steps = (int)ceil(seaway->kept_s / STEP_S - 1e-9);
    double step_s = seaway->kept_s / steps;
    begin(past);
    for (size_t i = 0; i < seaway->times; i++) {
        double unix_s = seaway->first_unix_s + (double)i * seaway->kept_s;
        if (past->known)
            keep(&past->sea, &kept[i]);
        for (int k = 1; k <= steps && i + 1 < seaway->times; k++)
            follow(past, unix_s + k * step_s, step_s);
    }
}

_Noreturn static void beyond(const struct seaway *seaway) {
    char cause[200];
    snprintf(cause, sizeof cause,
             "the sea that the wind raises takes more than %zu MB on a search "
             "as wide as this; take a forecast of a smaller area, or of fewer "
             "days",
             seaway->limit_bytes >> 20);
    arena_beyond(cause);
}

static struct seaway_mix *room(const struct seaway *seaway) {
    struct arena *memory = seaway->memory;
    struct seaway_mix *kept;
#pragma omp critical(seaway_memory)
    {
        size_t bytes = seaway->times * sizeof *kept;
        if (memory->used_bytes + bytes > seaway->limit_bytes)
            beyond(seaway);
        kept = arena_alloc(memory, seaway->times, sizeof *kept);
    }
    return kept;
}

/* Its moments, from the first on. */
static const struct seaway_mix *kept_at(const struct seaway *seaway, size_t row,
                                        size_t column) {
    size_t point = row * seaway->lon.count + column;
    _Atomic uint8_t *state = &seaway->states[point];
    if (once_begin(state)) {
        struct past past = past_at(seaway, point_at(seaway, row, column));
        struct seaway_mix *kept = seaway->none;
        if (is_at_sea(seaway, past.at)) {
            kept = room(seaway);
            work_out(&past, kept);
        }
        seaway->kept[point] = kept;
        once_end(state, ONCE_MADE);
    }
    return seaway->kept[point];
}

/* --- between points and times -----------------------------------------------
 */

/* Two neighbours along one axis, and how far on to the second. */
struct between {
    size_t first, second;
    double part;
};

/* Times: both the first before it, both the last beyond it. */
static struct between between_times(const struct seaway *seaway,
                                    double unix_s) {
    double place = (unix_s - seaway->first_unix_s) * seaway->per_s;
    size_t last = seaway->times - 1;
    if (!(place > 0.0))
        return (struct between){0, 0, 0.0};
    if (place >= (double)last)
        return (struct between){last, last, 0.0};
    size_t first = (size_t)place;
    return (struct between){first, first + 1, place - (double)first};
}

/* Points of the raster, for a place inside the box. */
static struct between between_points(const struct axis *axis, double deg) {
    double place = fmax(deg * axis->per_deg, 0.0);
    size_t low = (size_t)place;
    size_t first = low - axis->first;
    if (low < axis->first)
        first += axis->around;
    if (first >= axis->around) /* rounding to once round */
        first -= axis->around;
    size_t second = first + 1 == axis->around ? 0 : first + 1;
    return (struct between){first, second, place - (double)low};
}

static void add(const struct seaway_mix *kept, double weight,
                struct seaway_mix *sum) {
    float w = (float)weight;
    for (int i = 0; i < SEAWAY_VALUES; i++)
        sum->value[i] += w * kept->value[i];
}

bool seaway_at(const struct seaway *seaway, struct position at, double unix_s,
               struct seaway_mix *mix) {
    if (!is_in_box(seaway, at))
        return false;
    struct between y = between_points(&seaway->lat, at.lat_deg + 90.0);
    struct between x = between_points(&seaway->lon, at.lon_deg + 180.0);
    struct between t = between_times(seaway, unix_s);
    *mix = (struct seaway_mix){{0.0F}};
    for (size_t i = 0; i < 4; i++) {
        const struct seaway_mix *kept = kept_at(
            seaway, i / 2 ? y.second : y.first, i % 2 ? x.second : x.first);
        double weight =
            (i / 2 ? y.part : 1.0 - y.part) * (i % 2 ? x.part : 1.0 - x.part);
        add(&kept[t.first], weight * (1.0 - t.part), mix);
        if (t.part > 0.0)
            add(&kept[t.second], weight * t.part, mix);
    }
    return mix->value[KNOWN] > KNOWN_LEAST;
}

static struct standing_system system_of(const struct seaway_mix *mix,
                                        const float *sum) {
    struct standing_system system = {.height_m = 0.0};
    double energy = (double)sum[ENERGY];
    if (energy <= 0.0)
        return system;
    system.height_m = sqrt(energy / (double)mix->value[KNOWN]);
    system.period_s = (double)sum[PERIOD] / energy;
    system.fetch_m = (double)sum[FETCH] / energy;
    system.from = (struct vector_mps){(double)sum[EAST], (double)sum[NORTH]};
    return system;
}

struct standing_system seaway_wind_sea(const struct seaway_mix *mix) {
    return system_of(mix, mix->value + WIND_SEA);
}

struct standing_system seaway_left(const struct seaway_mix *mix) {
    return system_of(mix, mix->value + LEFT);
}
