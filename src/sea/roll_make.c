/* Making the table. long(T, c) of sea/roll_along.h is the first sum; the
 * directions are a second one, over c on the half circle:
 *
 *   variance(T, U, a) = sum over b of D(b - a) sin^2(b) long(T, U cos(b))
 *
 * What is stored is (mean of sin^2) / variance, and of that the fourth root: in
 * long waves it grows straight with the period, and wherever the variance
 * changes fast it changes less, so that straight lines between few points do.
 *
 * How many points a grid needs is measured, not guessed. Where the answer is
 * sharp moves with boat, period and speed: at the speed of roll_speed_axis_of()
 * with waves from astern; and in waves from ahead that are short against her
 * own period, where those of the spread that come from abaft the beam, a few
 * out of its last degrees, are the only ones to meet her in it. So each grid is
 * first filled thinly, and its second differences tell how far straight lines
 * go astray. The points of the table then lie off the answer by half of that,
 * to the other side, and so does the middle between them. */
#include "sea/roll_along.h"
#include "sea/roll_grid.h"

#include "earth/angle.h"
#include <assert.h>
#include <math.h>
#include <string.h>

/* Dampings, evenly in their fourth root. */
enum { MOST_DAMPINGS = 16 };
#define DAMPING_ROOT_STEP 0.09
#define LEAST_DAMPING_SPAN 0.01 /* of the root */

/* How many steps of roll_period_step() lie between two periods, up to so many
 * of her own period: met from ahead, longer waves than her period come in it;
 * beyond, nothing bends. Not so soon for the stiffest, since the shortest waves
 * even out across any hull. */
#define SHORTEST_OWN_S 1.7
static const struct {
    double up_to_own;
    int steps;
} layout[] = {{0.8, 3}, {1.7, 2}, {2.4, 3}, {4.0, 8}, {HUGE_VAL, 16}};

/* roll_speed_axis_of(): how wide the stretch is and how much it adds, in parts
 * of the critical speed. */
#define STRETCH_WIDTH 0.25
#define STRETCH_GAIN 1.2

/* Directions of waves on the half circle, by fours: so many for each unit of
 * roll_passing(). Each stands for its sector, over which long() is sampled in
 * steps no wider than those of its own, but no more than so often. */
enum { FEWEST_DIRECTIONS = 60, MOST_DIRECTIONS = 200, MOST_SAMPLES = 8 };
#define DIRECTIONS_PER_PASSING 20.0

/* Cosines of the main direction, and speeds, that a grid may have. */
static const int cosines[] = {17, 21, 25, 29, 35, 43, 51, 61, 75, 91};
static const int speeds[] = {8,  10, 12, 14, 16, 18, 21, 24, 27, 30,
                             34, 38, 42, 48, 54, 60, 68, 77, 88, 100};
enum {
    COSINE_CHOICES = sizeof cosines / sizeof *cosines,
    SPEED_CHOICES = sizeof speeds / sizeof *speeds,
    MOST_COSINES = 91,
    MOST_SPEEDS = 100
};

/* The thin grid: cosines[], and the boat's speed in steps of that part of the
 * speed of the waves, or of waves in her own period where those are slower
 * (g T / (2 pi) either way). Every so many periods have one. */
enum { THIN_COSINES = 4, THIN_STRIDE = 4 };
#define THIN_SPEED_STEP 0.06

/* How far the roll may be astray by each of direction and speed. */
#define ASTRAY_FRAC 0.0065

/* No smaller variance is told, rad^2. */
#define LEAST_RAD2 1e-16F

/* Where in long() a sector of directions is sampled, at all speeds of a grid:
 * four rows from `low` on are weighed. */
struct sample {
    ptrdiff_t low;
    float weight[4];
};

struct sampling {
    int *count;             /* of each [direction][speed]; NULL: not made */
    struct sample *samples; /* one after the other */
};

/* How many points one axis or the other has. */
struct points {
    double speed, cosine;
};

/* Everything that the making needs and the table does not. */
struct making {
    struct roll_table *table;
    struct arena arena;
    struct roll_along along;
    double fastest_mps;
    double damping[MOST_DAMPINGS];
    int directions;
    double sine[MOST_DIRECTIONS], cosine[MOST_DIRECTIONS];
    /* [cosine][direction], for each choice; NULL: not made */
    float *spreading[SPECTRUM_KINDS][COSINE_CHOICES];
    struct sampling sampling[SPEED_CHOICES];
    struct points asked[ROLL_MOST_PERIODS]; /* of one kind */
    float *at;   /* room: [direction][speed][damping] */
    float *sum;  /* [speed][damping] */
    float *thin; /* [speed][cosine] */
    float *raw;  /* a grid before it is moved */
};

/* One grid of the table, or a thin one of the least damping. */
struct size {
    int speeds, cosines; /* choices */
    ptrdiff_t dampings;
};

/* --- directions --------------------------------------------------------------
 */

static void lay_directions(struct making *making) {
    double passing = roll_passing(&making->table->of, making->fastest_mps);
    int wanted = 4 * (int)ceil(passing * (DIRECTIONS_PER_PASSING / 4.0));
    making->directions = wanted < FEWEST_DIRECTIONS ? FEWEST_DIRECTIONS
                         : wanted > MOST_DIRECTIONS ? MOST_DIRECTIONS
                                                    : wanted;
    for (int i = 0; i < making->directions; i++)
        sincos_deg((i + 0.5) * 180.0 / making->directions, &making->sine[i],
                   &making->cosine[i]);
}

static double cosine_of(double axis) {
    double root = axis < 1.0 ? axis : 2.0 - axis;
    return axis < 1.0 ? root * root - 1.0 : 1.0 - root * root;
}

static double cosine_of_row(int row, int choice) {
    return cosine_of(2.0 * row / (cosines[choice] - 1));
}

/* Weights of the directions for a system from one cosine; sin^2 over its mean
 * is in them, and so they add up to 1. */
static void spread_from(const struct making *making, double along,
                        const struct spectrum *spectrum, float *into) {
    double across = sqrt(fmax(1.0 - along * along, 0.0)), all = 0.0;
    double weight[MOST_DIRECTIONS];
    for (int i = 0; i < making->directions; i++) {
        double c = making->cosine[i] * along, s = making->sine[i] * across;
        double density = spectrum_spread_per_rad(spectrum, c + s) +
                         spectrum_spread_per_rad(spectrum, c - s);
        all += density;
        weight[i] = density * making->sine[i] * making->sine[i];
    }
    double scale =
        1.0 /
        (all * roll_mean_sine2(spectrum_spread_cos2(&spectrum->shape), along));
    for (int i = 0; i < making->directions; i++)
        into[i] = (float)(weight[i] * scale);
}

static const float *spreading_of(struct making *making, int kind, int choice) {
    float **spreading = &making->spreading[kind][choice];
    if (*spreading)
        return *spreading;
    struct spectrum spectrum = spectrum_make(
        &spectrum_shapes[kind], ROLL_TABLE_HEIGHT_M, ROLL_TABLE_LONGEST_S);
    size_t directions = (size_t)making->directions;
    *spreading =
        arena_alloc(&making->arena, (size_t)cosines[choice] * directions,
                    sizeof **spreading);
    for (int row = 0; row < cosines[choice]; row++)
        spread_from(making, cosine_of_row(row, choice), &spectrum,
                    *spreading + (size_t)row * directions);
    return *spreading;
}

/* Where roll_speed_axis_of() is `axis`, m/s. */
static double speed_at(const struct roll_table *table, double axis) {
    double width = 1.0 / table->per_width, stretch = table->stretch_mps;
    double off = axis + table->speed_axis_begin - table->critical_mps;
    double part = width + stretch - fabs(off);
    double root = sqrt(part * part + 4.0 * width * fabs(off));
    return fmax(table->critical_mps + copysign(0.5 * (root - part), off), 0.0);
}

static double speed_axis_end(const struct making *making) {
    return roll_speed_axis_of(making->table, making->fastest_mps);
}

/* The cubic through four points at 0 to 3, taken at `t`, in parts of one. */
static void cubic(double t, double part, float weight[4]) {
    double a = t - 1.0, b = t - 2.0, c = t - 3.0;
    weight[0] = (float)(a * b * c * part * (-1.0 / 6.0));
    weight[1] = (float)(t * b * c * part * 0.5);
    weight[2] = (float)(t * a * c * part * -0.5);
    weight[3] = (float)(t * a * b * part * (1.0 / 6.0));
}

/* For a width in steps of long(). */
static int samples_for(double width) {
    return (int)fmin(width + 1.0, MOST_SAMPLES);
}

/* One direction and speed, in steps of long(); how many samples. */
static int sample_sector(const struct making *making, int direction,
                         double speed, struct sample *sample) {
    const int last = 2 * making->along.half - 3;
    const double sector = PI / making->directions;
    const int samples = samples_for(speed * making->sine[direction] * sector);
    for (int i = 0; i < samples; i++) {
        double angle = (direction + (i + 0.5) / samples) * sector;
        double place = making->along.half + speed * cos(angle);
        int low = (int)place - 1;
        low = low < 0 ? 0 : low > last ? last : low;
        sample[i].low = low * making->along.row;
        cubic(place - low, 1.0 / samples, sample[i].weight);
    }
    return samples;
}

static const struct sampling *sampling_of(struct making *making, int choice) {
    struct sampling *sampling = &making->sampling[choice];
    if (sampling->count)
        return sampling;
    size_t all = (size_t)making->directions * (size_t)speeds[choice];
    double per_step = speed_axis_end(making) / (speeds[choice] - 1);
    sampling->count = arena_alloc(&making->arena, all, sizeof(int));
    int most = samples_for(making->along.half * PI / making->directions);
    struct sample *sample = sampling->samples = arena_alloc(
        &making->arena, all * (size_t)most, sizeof *sampling->samples);
    int *count = sampling->count;
    for (int i = 0; i < making->directions; i++)
        for (int j = 0; j < speeds[choice]; j++, count++) {
            double speed_mps = speed_at(making->table, j * per_step);
            *count = sample_sector(making, i,
                                   speed_mps / making->along.step_mps, sample);
            sample += *count;
        }
    return sampling;
}

/* Four rows, weighed: as many dampings as a processor adds at once. */
static inline void add_block(const float *p, ptrdiff_t row, const float f[4],
                             float *restrict at) {
    const float *q = p + row, *r = q + row, *s = r + row;
#pragma omp simd
    for (int z = 0; z < ROLL_ALONG_BLOCK; z++)
        at[z] += (f[0] * p[z] + f[1] * q[z]) + (f[2] * r[z] + f[3] * s[z]);
}

/* Mean of long() over the sector of each direction, for all speeds of a grid:
 * [direction][speed][damping]. What blocks add beyond a row is overwritten. */
static void along_at(struct making *making, const float *answer,
                     const struct size *size) {
    const struct sampling *sampling = sampling_of(making, size->speeds);
    const struct sample *sample = sampling->samples;
    const int all = making->directions * speeds[size->speeds];
    float *at = making->at;
    for (int i = 0; i < all; i++, at += size->dampings) {
        const struct sample *end = sample + sampling->count[i];
        for (ptrdiff_t z = 0; z < size->dampings; z += ROLL_ALONG_BLOCK) {
            float block[ROLL_ALONG_BLOCK] = {0.0F};
            for (const struct sample *s = sample; s < end; s++)
                add_block(answer + s->low + z, making->along.row, s->weight,
                          block);
            memcpy(at + z, block, sizeof block);
        }
        sample = end;
    }
}

/* sum[] += weight[0] at[] + ...: four rows of `at`, `count` long. */
static void add_four(float *restrict sum, const float *weight,
                     const float *restrict at, ptrdiff_t count) {
    const float w0 = weight[0], w1 = weight[1], w2 = weight[2], w3 = weight[3];
    const float *restrict b = at + count, *restrict c = b + count,
                          *restrict d = c + count;
#pragma omp simd
    for (ptrdiff_t i = 0; i < count; i++)
        sum[i] += (w0 * at[i] + w1 * b[i]) + (w2 * c[i] + w3 * d[i]);
}

/* The fourth root of the reciprocal: see the head of this file. */
static float root4_of(float rad2) {
    return sqrtf(sqrtf(1.0F / (rad2 > LEAST_RAD2 ? rad2 : LEAST_RAD2)));
}

/* All speeds and dampings of one cosine. */
static void sum_directions(const struct making *making, const float *weight,
                           const struct size *size, float *answer) {
    const ptrdiff_t z = size->dampings, row = cosines[size->cosines] * z;
    const ptrdiff_t count = speeds[size->speeds] * z;
    float *sum = making->sum;
    for (ptrdiff_t i = 0; i < count; i++)
        sum[i] = 0.0F;
    for (int i = 0; i < making->directions; i += 4)
        if (weight[i] > 0.0F || weight[i + 3] > 0.0F)
            add_four(sum, weight + i, making->at + i * count, count);
    for (const float *end = sum + count; sum < end; sum += z, answer += row)
        for (ptrdiff_t i = 0; i < z; i++)
            answer[i] = root4_of(sum[i]);
}

/* [speed][cosine][damping] of one kind and period. */
static void fill(struct making *making, int kind, int period,
                 const struct size *size, float *answer) {
    const float *weight = spreading_of(making, kind, size->cosines);
    along_at(making, making->along.answer[kind][period], size);
    for (int i = 0; i < cosines[size->cosines]; i++)
        sum_directions(making, weight + (ptrdiff_t)i * making->directions, size,
                       answer + i * size->dampings);
}

/* --- how many points ---------------------------------------------------------
 */

/* The first choice that is no less, or the last. */
static int choice_of(const int *choices, int count, double wanted) {
    int choice = 0;
    while (choice < count - 1 && choices[choice] < wanted)
        choice++;
    return choice;
}

static struct size thin_size(const struct making *making, int period) {
    double period_s =
        fmin(making->table->period_s[period], making->table->of.period_s);
    double step = THIN_SPEED_STEP * GRAVITY_MPS2 / (2.0 * PI) * period_s;
    return (struct size){.speeds =
                             choice_of(speeds, SPEED_CHOICES,
                                       speed_axis_end(making) / step + 1.0),
                         .cosines = THIN_COSINES,
                         .dampings = 1};
}

/* How far a straight line is astray in the middle of two steps, in parts of
 * what may be, with the points moved. */
static double astray(float below, float point, float above) {
    double bend = (double)((below + above) - 2.0F * point);
    return fabs(bend) / (8.0 * ASTRAY_FRAC * (double)point);
}

/* How many points a grid needs, by a thin one. */
static struct points points_for(const float *thin, const struct size *size) {
    const int rows = cosines[size->cosines], columns = speeds[size->speeds];
    double speed = 0.0, cosine = 0.0;
    for (int j = 0; j < columns; j++)
        for (int row = 0; row < rows; row++) {
            const float *point = thin + (ptrdiff_t)j * rows + row;
            const float below = point[row > 0 ? -1 : 1];
            const float above = point[row < rows - 1 ? 1 : -1];
            cosine = fmax(cosine, astray(below, *point, above));
            if (j > 0 && j < columns - 1)
                speed = fmax(speed, astray(point[-rows], *point, point[rows]));
        }
    return (struct points){.speed = (columns - 1) * sqrt(speed) + 1.0,
                           .cosine = (rows - 1) * sqrt(cosine) + 1.0};
}

/* Every so many periods are asked, and the last. */
static void ask_all(struct making *making, int kind) {
    const int last = making->table->periods - 1;
    for (int period = 0; period < last + THIN_STRIDE; period += THIN_STRIDE) {
        const int asked = period < last ? period : last;
        const struct size thin = thin_size(making, asked);
        fill(making, kind, asked, &thin, making->thin);
        making->asked[asked] = points_for(making->thin, &thin);
    }
}

/* Between two that were asked: the more of both. */
static struct size size_of(const struct making *making, int period) {
    const int last = making->table->periods - 1;
    const int below = period - period % THIN_STRIDE;
    const int above = below + THIN_STRIDE;
    const struct points *a = &making->asked[period < last ? below : last];
    const struct points *b = &making->asked[above < last ? above : last];
    return (struct size){
        .speeds = choice_of(speeds, SPEED_CHOICES, fmax(a->speed, b->speed)),
        .cosines =
            choice_of(cosines, COSINE_CHOICES, fmax(a->cosine, b->cosine)),
        .dampings = making->table->dampings};
}

/* --- moving the points -------------------------------------------------------
 */

/* What is taken off a point: a sixteenth of the second difference. */
static inline float moved(float below, float point, float above) {
    return ((below + above) - 2.0F * point) * (1.0F / 16.0F);
}

/* All but the ends of one axis, of `points` that lie `inner` apart. */
static void move_within(const float *raw, ptrdiff_t inner, ptrdiff_t points,
                        float *restrict answer) {
    const ptrdiff_t end = (points - 1) * inner;
#pragma omp simd
    for (ptrdiff_t i = inner; i < end; i++)
        answer[i] -= moved(raw[i - inner], raw[i], raw[i + inner]);
}

/* An end moves as its neighbour `inner` from it does. */
static void move_end(const float *raw, ptrdiff_t inner, ptrdiff_t count,
                     float *answer) {
    for (ptrdiff_t i = 0; i < count; i++)
        answer[i] -= moved(raw[i], raw[i + inner], raw[i + inner + inner]);
}

/* Ahead and astern the answer goes on as in a mirror. */
static void move_mirrored(const float *raw, ptrdiff_t inner, ptrdiff_t count,
                          float *answer) {
    for (ptrdiff_t i = 0; i < count; i++)
        answer[i] -= moved(raw[i + inner], raw[i], raw[i + inner]);
}

static void move(const float *raw, const struct size *size, float *answer) {
    const ptrdiff_t z = size->dampings, rows = cosines[size->cosines];
    const ptrdiff_t columns = speeds[size->speeds];
    const ptrdiff_t row = rows * z, all = columns * row;
    memcpy(answer, raw, (size_t)all * sizeof *answer);
    move_within(raw, row, columns, answer);
    move_end(raw, row, row, answer);
    move_end(raw + all - row, -row, row, answer + all - row);
    for (ptrdiff_t i = 0; i < all; i += row) {
        const ptrdiff_t last = i + row - z;
        move_within(raw + i, z, rows, answer + i);
        move_mirrored(raw + i, z, z, answer + i);
        move_mirrored(raw + last, -z, z, answer + last);
    }
    for (ptrdiff_t i = 0; z > 2 && i < all; i += z) {
        const ptrdiff_t last = i + z - 1;
        move_within(raw + i, 1, z, answer + i);
        move_end(raw + i, 1, 1, answer + i);
        move_end(raw + last, -1, 1, answer + last);
    }
}

static void make_grid(struct making *making, int kind, int period,
                      struct arena *arena) {
    struct size size = size_of(making, period);
    struct roll_grid grid = {.speeds = speeds[size.speeds],
                             .cosines = cosines[size.cosines]};
    grid.per_speed_axis = (double)(grid.speeds - 1) / speed_axis_end(making);
    grid.per_axis = 0.5 * (double)(grid.cosines - 1);
    size_t count = (size_t)(grid.speeds * size.dampings * grid.cosines);
    float *answer = arena_alloc(arena, count, sizeof *answer);
    fill(making, kind, period, &size, making->raw);
    move(making->raw, &size, answer);
    grid.answer = answer;
    making->table->grid[kind][period] = grid;
    making->table->bytes += count * sizeof *answer;
}

/* --- the whole ---------------------------------------------------------------
 */

/* From the least to the most that hull and sails ever damp together. */
static void lay_dampings(struct making *making) {
    const struct roller *roller = &making->table->of;
    struct roll_table *table = making->table;
    double least =
        fmin(0.0, fmin(roller->sail_reach,
                       fmin(roller->sail_run_loose, roller->sail_run_spar)));
    double most =
        fmax(0.0, fmax(roller->sail_reach,
                       fmax(roller->sail_run_loose, roller->sail_run_spar)));
    double low = sqrt(sqrt(fmax(roller->damping + least, ROLL_DAMPING_FLOOR)));
    double high = sqrt(sqrt(fmax(roller->damping + most, ROLL_DAMPING_FLOOR)));
    double span = fmax(high - low, LEAST_DAMPING_SPAN);
    int dampings =
        (int)fmin(ceil(span / DAMPING_ROOT_STEP) + 1.0, MOST_DAMPINGS);
    table->dampings = dampings;
    table->damping_root = low;
    table->per_damping_root = (dampings - 1) / span;
    for (int z = 0; z < dampings; z++) {
        double root4 = low + z / table->per_damping_root;
        double root2 = root4 * root4;
        making->damping[z] = root2 * root2;
    }
}

static void lay_axes(struct roll_table *table) {
    double own_s = table->of.period_s;
    int steps = 0, part = 0, period = 0;
    while (true) {
        double period_s = ROLL_SHORTEST_S * exp(steps * roll_period_step());
        assert(period < ROLL_MOST_PERIODS);
        table->steps[period] = steps;
        table->period_s[period++] = period_s;
        if (steps == ROLL_PERIOD_STEPS)
            break;
        while (period_s >= layout[part].up_to_own * fmax(own_s, SHORTEST_OWN_S))
            part++;
        steps += layout[part].steps;
        if (steps > ROLL_PERIOD_STEPS)
            steps = ROLL_PERIOD_STEPS;
    }
    table->periods = period;
    table->critical_mps = GRAVITY_MPS2 * own_s / (8.0 * PI);
    table->per_width = 1.0 / (STRETCH_WIDTH * table->critical_mps);
    table->stretch_mps = STRETCH_GAIN * table->critical_mps;
    table->speed_axis_begin = 0.0;
    table->speed_axis_begin = roll_speed_axis_of(table, 0.0);
}

static void lay_bins(struct roll_table *table) {
    unsigned char below = 0;
    for (int i = 0; i < ROLL_BINS; i++) {
        while (below < table->periods - 2 &&
               table->period_s[below + 1] * ROLL_BINS_PER_S <= i)
            below++;
        table->bin[i] = below;
    }
    for (int i = 0; i < table->periods - 1; i++)
        table->per_period_s[i] =
            1.0 / (table->period_s[i + 1] - table->period_s[i]);
}

static void lay_room(struct making *making) {
    struct arena *arena = &making->arena;
    size_t row = (size_t)(MOST_SPEEDS * making->table->dampings);
    making->at =
        arena_alloc(arena, row * (size_t)making->directions + ROLL_ALONG_BLOCK,
                    sizeof(float));
    making->sum = arena_alloc(arena, row, sizeof(float));
    making->raw = arena_alloc(arena, row * MOST_COSINES, sizeof(float));
    making->thin =
        arena_alloc(arena, (size_t)MOST_SPEEDS * MOST_COSINES, sizeof(float));
    for (int kind = 0; kind < SPECTRUM_KINDS; kind++)
        making->table->spread[kind] =
            spectrum_spread_cos2(&spectrum_shapes[kind]);
}

const struct roll_table *roll_table_make(const struct roller *roller,
                                         double fastest_mps,
                                         struct arena *arena) {
    struct making making = {.fastest_mps = fastest_mps};
    arena_init(&making.arena);
    struct roll_table *table = making.table =
        arena_alloc(arena, 1, sizeof *table);
    table->of = *roller;
    table->bytes = sizeof *table;
    lay_axes(table);
    lay_dampings(&making);
    lay_bins(table);
    lay_directions(&making);
    lay_room(&making);
    making.along =
        roll_along_make(table, fastest_mps, making.damping, &making.arena);
    for (int kind = 0; kind < SPECTRUM_KINDS; kind++) {
        ask_all(&making, kind);
        for (int period = 0; period < table->periods; period++)
            make_grid(&making, kind, period, arena);
    }
    arena_free(&making.arena);
    return table;
}
