#include "plan/seaway.h"

#include "base/once.h"
#include "base/units.h"
#include "sea/growth.h"

#include <math.h>

/* Points lie so far apart, or as far as those of the wind; further where there
 * would be more than so many. */
static const double SPACING_DEG = 0.75;
static const double POINTS_MOST = 20000.0;

/* Times are so far apart, or further where there would be more of them. */
static const double KEPT_S = 3.0 * SECONDS_PER_HOUR;
enum { TIMES_MOST = 128 };

/* From one to the next the wind is followed in steps of no more than this. */
static const double STEP_S = 1.5 * SECONDS_PER_HOUR;

/* The box may reach so far over the border of the wind; places so far outside
 * are taken as inside. */
static const double BORDER_DEG = 2e-6;

/* With less of the corners known, nothing is. */
static const float KNOWN_LEAST = 1e-6F;

/* What is kept of both systems: energy (height squared), and the rest times
 * energy, so that all of it can be added up; then 1 where it is known. */
enum { ENERGY, PERIOD, FETCH, EAST, NORTH, PARTS };
enum { WIND_SEA = 0, LEFT = PARTS, KNOWN = 2 * PARTS };

struct seaway {
    const struct forecast *forecast;
    const struct sea_mask *mask;
    struct coast_box box;
    double lat_step_deg, lon_step_deg, kept_s;
    double per_lat_deg, per_lon_deg, per_s; /* 1 over each */
    size_t rows, columns;
    double first_unix_s;
    size_t times;
    struct seaway_mix *kept; /* [point][time] */
    _Atomic uint8_t *states; /* of the points */
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
}

static double height_deg(const struct seaway *seaway) {
    return seaway->box.north_deg - seaway->box.south_deg;
}

static double width_deg(const struct seaway *seaway) {
    return seaway->box.east_deg - seaway->box.west_deg;
}

static void lay_points(struct seaway *seaway) {
    struct area wind = forecast_area(seaway->forecast, QUANTITY_WIND);
    double wide = 0.5;
    do {
        wide *= 2.0;
        seaway->lat_step_deg = fmax(SPACING_DEG, wind.lat_step_deg) * wide;
        seaway->lon_step_deg = fmax(SPACING_DEG, wind.lon_step_deg) * wide;
        seaway->rows = (size_t)(height_deg(seaway) / seaway->lat_step_deg) + 2;
        seaway->columns =
            (size_t)(width_deg(seaway) / seaway->lon_step_deg) + 2;
    } while ((double)seaway->rows * (double)seaway->columns > POINTS_MOST);
}

const struct seaway *seaway_make(const struct forecast *forecast,
                                 const struct coast_box *box,
                                 const struct sea_mask *mask,
                                 struct arena *arena) {
    struct seaway *seaway = arena_alloc(arena, 1, sizeof *seaway);
    *seaway = (struct seaway){.forecast = forecast, .mask = mask, .box = *box};
    seaway->box.south_deg += BORDER_DEG;
    seaway->box.north_deg -= BORDER_DEG;
    seaway->box.west_deg += BORDER_DEG;
    seaway->box.east_deg -= BORDER_DEG;
    lay_times(seaway);
    lay_points(seaway);
    seaway->per_lat_deg = 1.0 / seaway->lat_step_deg;
    seaway->per_lon_deg = 1.0 / seaway->lon_step_deg;
    seaway->per_s = 1.0 / seaway->kept_s;
    size_t points = seaway->rows * seaway->columns;
    seaway->kept =
        arena_alloc(arena, points * seaway->times, sizeof *seaway->kept);
    seaway->states = arena_alloc(arena, points, sizeof *seaway->states);
    return seaway;
}

/* Those of the last row and column are on the border of the box. */
static struct position point_at(const struct seaway *seaway, size_t row,
                                size_t column) {
    double north_deg = (double)row * seaway->lat_step_deg;
    double east_deg = (double)column * seaway->lon_step_deg;
    return (struct position){
        seaway->box.south_deg + fmin(north_deg, height_deg(seaway)),
        angle_wrap_longitude(seaway->box.west_deg +
                             fmin(east_deg, width_deg(seaway)))};
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

static void work_out(const struct seaway *seaway, struct position at,
                     struct seaway_mix *kept) {
    struct past past = {.seaway = seaway, .at = at};
    int steps = (int)ceil(seaway->kept_s / STEP_S - 1e-9);
    double step_s = seaway->kept_s / steps;
    past.known = forecast_point_wind(seaway->forecast, at, seaway->first_unix_s,
                                     &past.wind);
    begin(&past);
    for (size_t i = 0; i < seaway->times; i++) {
        double unix_s = seaway->first_unix_s + (double)i * seaway->kept_s;
        if (past.known)
            keep(&past.sea, &kept[i]);
        for (int k = 1; k <= steps && i + 1 < seaway->times; k++)
            follow(&past, unix_s + k * step_s, step_s);
    }
}

/* Its moments, from the first on. */
static const struct seaway_mix *kept_at(const struct seaway *seaway, size_t row,
                                        size_t column) {
    size_t point = row * seaway->columns + column;
    struct seaway_mix *kept = &seaway->kept[point * seaway->times];
    _Atomic uint8_t *state = &seaway->states[point];
    if (once_begin(state)) {
        struct position at = point_at(seaway, row, column);
        if (!seaway->mask || sea_mask_is_about_sea(seaway->mask, at))
            work_out(seaway, at, kept);
        once_end(state, ONCE_MADE);
    }
    return kept;
}

/* --- between points and times -----------------------------------------------
 */

/* The first of two neighbours along one axis, and how far on to the second:
 * both 0 before the first, and at the last beyond it. */
struct between {
    size_t first;
    double part;
};

static struct between between(double place, size_t count) {
    struct between between = {0, 0.0};
    if (!(place > 0.0) || count < 2)
        return between;
    if (place >= (double)(count - 1))
        return (struct between){count - 2, 1.0};
    between.first = (size_t)place;
    between.part = place - (double)between.first;
    return between;
}

static void add(const struct seaway_mix *kept, double weight,
                struct seaway_mix *sum) {
    float w = (float)weight;
    for (int i = 0; i < SEAWAY_VALUES; i++)
        sum->value[i] += w * kept->value[i];
}

static bool is_inside(const struct seaway *seaway, double north_deg,
                      double east_deg) {
    double slack_deg = 2.0 * BORDER_DEG;
    return north_deg >= -slack_deg && east_deg >= -slack_deg &&
           north_deg <= height_deg(seaway) + slack_deg &&
           east_deg <= width_deg(seaway) + slack_deg;
}

bool seaway_at(const struct seaway *seaway, struct position at, double unix_s,
               struct seaway_mix *mix) {
    double north_deg = at.lat_deg - seaway->box.south_deg;
    double east_deg = at.lon_deg - seaway->box.west_deg;
    if (east_deg < -2.0 * BORDER_DEG)
        east_deg += 360.0;
    if (!is_inside(seaway, north_deg, east_deg))
        return false;
    struct between y = between(north_deg * seaway->per_lat_deg, seaway->rows);
    struct between x = between(east_deg * seaway->per_lon_deg, seaway->columns);
    struct between t =
        between((unix_s - seaway->first_unix_s) * seaway->per_s, seaway->times);
    *mix = (struct seaway_mix){{0.0F}};
    for (size_t i = 0; i < 4; i++) {
        const struct seaway_mix *kept =
            kept_at(seaway, y.first + i / 2, x.first + i % 2) + t.first;
        double weight =
            (i / 2 ? y.part : 1.0 - y.part) * (i % 2 ? x.part : 1.0 - x.part);
        add(kept, weight * (1.0 - t.part), mix);
        if (t.part > 0.0)
            add(kept + 1, weight * t.part, mix);
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
