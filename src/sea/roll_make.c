/* Making the table. The hull's answer to a long-crested system hangs on
 * direction and speed only through the boat's speed with the waves,
 * c = U cos(b). So the frequencies are summed once for each c:
 *
 *   long(T, c) = sum over w of S(w; T) k^2 h^2 |H(w - w^2 c / g)|^2
 *
 * and the directions are a second sum, over c on the half circle:
 *
 *   variance(T, U, a) = sum over b of D(b - a) sin^2(b) long(T, U cos(b))
 *
 * With frequencies even in their logarithm, a spectrum of another period is the
 * same row of numbers, moved: it is worked out once. What is stored is
 * (mean of sin^2) / variance, and of that the fourth root: in long waves it
 * grows straight with the period, and wherever the variance changes fast it
 * changes less, so that straight lines between few points do. */
#include "sea/roll_grid.h"

#include "earth/angle.h"
#include <math.h>

/* The lattice of frequencies: steps between two periods, as many as the damping
 * asks for. */
enum { FEWEST_STEPS = 3, MOST_STEPS = 10 };
#define STEP_PER_DAMPING 0.3

/* Waves whose slope the hull feels by less than a hundredth are left out, but
 * for those about the shortest peak. */
#define LEAST_HULL_FACTOR2 1e-4
#define NEAR_PEAK 1.2

/* Dampings, evenly in their fourth root. */
enum { MOST_DAMPINGS = 16 };
#define DAMPING_ROOT_STEP 0.075
#define LEAST_DAMPING_SPAN 0.01 /* of the root */

/* Periods are laid out finely up to this, and up to so many of her own: met
 * from ahead, longer waves than her period come in it. */
#define FINE_UP_TO_S 8.1
#define FINE_UP_TO_OWN 2.3

/* roll_speed_axis_of(): how wide the stretch is and how much it adds, in parts
 * of the critical speed. */
#define STRETCH_WIDTH 0.25
#define STRETCH_GAIN 1.2

/* How finely short and long periods are laid out: directions of waves on the
 * half circle, cosines of the main direction, of the finest steps of speed with
 * the waves one in so many, and the boat's speed in steps of that part of the
 * speed of the waves, or of waves in her own period where those are slower
 * (g T / (2 pi) either way). */
struct fineness {
    double below_s; /* periods up to here, for a boat whose own is no longer
                       than FINENESS_OWN_S; in proportion for a slower one */
    int with_stride, cosines, directions;
    double speed_step;
};
#define FINENESS_OWN_S 4.0
static const struct fineness finenesses[] = {{4.0, 1, 43, 120, 0.034},
                                             {8.0, 1, 29, 80, 0.044},
                                             {HUGE_VAL, 2, 25, 80, 0.044}};
enum { MOST_COSINES = 43, MOST_DIRECTIONS = 120 };

/* The finest step of speed with the waves, about. */
#define WITH_STEP_MPS 0.06
enum { WITH_MULTIPLE = 2 }; /* the widest stride */

/* No smaller variance is told, rad^2. */
#define LEAST_RAD2 1e-16F

/* --- frequencies -------------------------------------------------------------
 */

/* Everything that the making needs and the table does not. */
struct making {
    struct roll_table *table;
    const struct roller *roller;
    struct arena arena;
    double fastest_mps;
    double damping[MOST_DAMPINGS];
    struct spectrum spectra[SPECTRUM_KINDS]; /* of the longest period */
    int with_half; /* speeds with the waves: so many steps either side of 0 */
    /* long(T, c): [c][damping], c by the stride of the period */
    double *along[SPECTRUM_KINDS][ROLL_MOST_PERIODS];
    double *speed;   /* of a grid, in parts of the fastest */
    float *at, *sum; /* room: [direction][speed][damping], [speed][damping] */
};

/* Frequencies, and the spectra and the hull at them. */
struct lattice {
    double step; /* of the logarithm */
    int periods; /* steps from one period to the next */
    int below;   /* steps below the lowest peak */
    int count;
    double *w, *k;                 /* frequency, wave number */
    double *slope;                 /* k^2 h^2 */
    double *shape[SPECTRUM_KINDS]; /* S dw, peak at `below` */
    double *answer;                /* slope |H|^2, for one speed */
};

static const struct fineness *fineness_of(const struct making *making,
                                          double period_s) {
    const struct fineness *fineness = finenesses;
    double longer = fmax(making->roller->period_s / FINENESS_OWN_S, 1.0);
    while (period_s >= fineness->below_s * longer)
        fineness++;
    return fineness;
}

static double period_step(void) {
    return log(ROLL_TABLE_LONGEST_S / ROLL_SHORTEST_S) / ROLL_PERIOD_STEPS;
}

/* Steps from the shortest period. */
static int steps_to(const struct roll_table *table, int period) {
    int fine = table->fine_periods;
    return period < fine ? period : 2 * period - (fine - 1);
}

/* Steps from the lowest frequency to where the hull feels no wave. */
static int lattice_count(const struct roller *roller,
                         const struct lattice *lattice, double lowest_rad_s) {
    double shortest = 2.0 * PI / ROLL_SHORTEST_S;
    double w = lowest_rad_s;
    int count = 0;
    while (w < NEAR_PEAK * shortest ||
           roll_hull_factor2(roller, w * w / GRAVITY_MPS2) >
               LEAST_HULL_FACTOR2) {
        w *= exp(lattice->step);
        count++;
    }
    return count;
}

static int lattice_steps(double damping) {
    double wanted = period_step() / (STEP_PER_DAMPING * damping);
    return (int)fmin(fmax(ceil(wanted), FEWEST_STEPS), MOST_STEPS);
}

static struct lattice lattice_make(struct making *making, int steps) {
    struct lattice lattice = {.periods = steps};
    lattice.step = period_step() / lattice.periods;
    lattice.below = (int)(-log(SPECTRUM_LOWEST) / lattice.step);
    double lowest =
        2.0 * PI / ROLL_TABLE_LONGEST_S * exp(-lattice.below * lattice.step);
    lattice.count = lattice_count(making->roller, &lattice, lowest);
    size_t count = (size_t)lattice.count, size = sizeof *lattice.w;
    lattice.w = arena_alloc(&making->arena, count, size);
    lattice.k = arena_alloc(&making->arena, count, size);
    lattice.slope = arena_alloc(&making->arena, count, size);
    lattice.answer = arena_alloc(&making->arena, count, size);
    for (int i = 0; i < lattice.count; i++) {
        double w = lattice.w[i] = lowest * exp(i * lattice.step);
        double k = lattice.k[i] = w * w / GRAVITY_MPS2;
        lattice.slope[i] = k * k * roll_hull_factor2(making->roller, k);
    }
    for (int kind = 0; kind < SPECTRUM_KINDS; kind++) {
        lattice.shape[kind] = arena_alloc(&making->arena, count, size);
        for (int i = 0; i < lattice.count; i++)
            lattice.shape[kind][i] =
                spectrum_density_m2s(&making->spectra[kind], lattice.w[i]) *
                lattice.w[i] * lattice.step;
    }
    return lattice;
}

static double product(const double *a, const double *b, int count) {
    double sum = 0.0;
#pragma omp simd reduction(+ : sum)
    for (int i = 0; i < count; i++)
        sum += a[i] * b[i];
    return sum;
}

/* The first frequency of a period on the lattice. */
static int lattice_first(const struct roll_table *table,
                         const struct lattice *lattice, int period) {
    return (ROLL_PERIOD_STEPS - steps_to(table, period)) * lattice->periods;
}

static void answer_at(const struct making *making, struct lattice *lattice,
                      double with_mps, double damping, int first) {
    double softness = making->roller->period_s / (2.0 * PI);
    double damped = 4.0 * damping * damping;
    const double *w = lattice->w, *k = lattice->k, *slope = lattice->slope;
    double *answer = lattice->answer;
    int count = lattice->count;
#pragma omp simd
    for (int i = first; i < count; i++) {
        double r = (w[i] - k[i] * with_mps) * softness;
        double r2 = r * r, stiff = 1.0 - r2;
        answer[i] = slope[i] / (stiff * stiff + damped * r2);
    }
}

/* The last period whose stride has that step of speed in it. */
static int last_period(const struct making *making, int with) {
    int period = making->table->periods - 1;
    while (with %
           fineness_of(making, making->table->period_s[period])->with_stride)
        period--;
    return period;
}

static void sum_frequencies(struct making *making, struct lattice *lattice,
                            int damping) {
    ptrdiff_t dampings = making->table->dampings;
    int half = making->with_half;
    for (int with = -half; with <= half; with++) {
        int last = last_period(making, with);
        answer_at(making, lattice, with * making->fastest_mps / half,
                  making->damping[damping],
                  lattice_first(making->table, lattice, last));
        for (int period = 0; period <= last; period++) {
            int stride = fineness_of(making, making->table->period_s[period])
                             ->with_stride;
            int first = lattice_first(making->table, lattice, period);
            ptrdiff_t at = (with + half) / stride * dampings + damping;
            for (int kind = 0; kind < SPECTRUM_KINDS; kind++)
                making->along[kind][period][at] =
                    product(lattice->shape[kind], lattice->answer + first,
                            lattice->count - first);
        }
    }
}

/* --- directions --------------------------------------------------------------
 */

/* The fourth root of the reciprocal: see the head of this file. */
static float root4_of(float rad2) {
    return rad2 > LEAST_RAD2 ? sqrtf(sqrtf(1.0F / rad2))
                             : sqrtf(sqrtf(1.0F / LEAST_RAD2));
}

/* The second sum as a matrix: [cosine][direction], and the means of sin^2. */
struct spreading {
    const struct fineness *fineness;
    double sine[MOST_DIRECTIONS], cosine[MOST_DIRECTIONS];
    float weight[MOST_COSINES][MOST_DIRECTIONS];
};

static double cosine_of(double axis) {
    double root = axis < 1.0 ? axis : 2.0 - axis;
    return axis < 1.0 ? root * root - 1.0 : 1.0 - root * root;
}

/* One row: weights of the directions for a system from `along`; sin^2 over its
 * mean is in them, and so they add up to 1. */
static void spread_from(struct spreading *spreading,
                        const struct spectrum *spectrum, int row) {
    int count = spreading->fineness->directions;
    double along = cosine_of(2.0 * row / (spreading->fineness->cosines - 1));
    double across = sqrt(fmax(1.0 - along * along, 0.0)), all = 0.0;
    double weight[MOST_DIRECTIONS];
    for (int i = 0; i < count; i++) {
        double c = spreading->cosine[i] * along,
               s = spreading->sine[i] * across;
        double density = spectrum_spread_per_rad(spectrum, c + s) +
                         spectrum_spread_per_rad(spectrum, c - s);
        all += density;
        weight[i] = density * spreading->sine[i] * spreading->sine[i];
    }
    double scale =
        1.0 /
        (all * roll_mean_sine2(spectrum_spread_cos2(&spectrum->shape), along));
    for (int i = 0; i < count; i++)
        spreading->weight[row][i] = (float)(weight[i] * scale);
}

static void spreading_make(struct spreading *spreading,
                           const struct fineness *fineness,
                           const struct spectrum *spectrum) {
    spreading->fineness = fineness;
    for (int i = 0; i < fineness->directions; i++)
        sincos_deg((i + 0.5) * 180.0 / fineness->directions,
                   &spreading->sine[i], &spreading->cosine[i]);
    for (int row = 0; row < fineness->cosines; row++)
        spread_from(spreading, spectrum, row);
}

/* Weights of four points, at 0 to 3, for the cubic through them at `t`. */
static void cubic(double t, double weight[4]) {
    double a = t - 1.0, b = t - 2.0, c = t - 3.0;
    weight[0] = a * b * c * (-1.0 / 6.0);
    weight[1] = t * b * c * 0.5;
    weight[2] = t * a * c * -0.5;
    weight[3] = t * a * b * (1.0 / 6.0);
}

/* long() at the speed with the waves of each direction, for all speeds of a
 * grid: [direction][speed][damping]. */
static void along_at(const struct making *making,
                     const struct spreading *spreading, const double *along,
                     int speeds, float *at) {
    ptrdiff_t dampings = making->table->dampings;
    int last = 2 * making->with_half / spreading->fineness->with_stride;
    for (int i = 0; i < spreading->fineness->directions; i++) {
        double fastest = 0.5 * last * spreading->cosine[i];
        for (int j = 0; j < speeds; j++) {
            double place = 0.5 * last + making->speed[j] * fastest, f[4];
            int low = (int)place - 1;
            low = low < 0 ? 0 : low > last - 3 ? last - 3 : low;
            cubic(place - low, f);
            const double *p = along + low * dampings;
            for (int z = 0; z < dampings; z++, p++)
                *at++ =
                    (float)(f[0] * p[0] + f[1] * p[dampings] +
                            f[2] * p[2 * dampings] + f[3] * p[3 * dampings]);
        }
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

/* All speeds and dampings of one cosine. */
static void sum_directions(const struct making *making,
                           const struct spreading *spreading, int row,
                           const struct roll_grid *grid, float *answer) {
    ptrdiff_t dampings = making->table->dampings;
    ptrdiff_t count = grid->speeds * dampings;
    const float *weight = spreading->weight[row];
    float *sum = making->sum;
    for (int i = 0; i < count; i++)
        sum[i] = 0.0F;
    for (int i = 0; i < spreading->fineness->directions; i += 4)
        if (weight[i] > 0.0F || weight[i + 3] > 0.0F)
            add_four(sum, weight + i, making->at + i * count, count);
    for (int j = 0; j < grid->speeds; j++)
        for (int z = 0; z < dampings; z++)
            answer[(j * grid->cosines + row) * dampings + z] =
                root4_of(sum[j * dampings + z]);
}

static int speeds_of(const struct making *making, int period) {
    double period_s = making->table->period_s[period];
    double waves_mps =
        GRAVITY_MPS2 / (2.0 * PI) * fmin(period_s, making->roller->period_s);
    return (int)ceil(roll_speed_axis_of(making->table, making->fastest_mps) /
                     (fineness_of(making, period_s)->speed_step * waves_mps)) +
           1;
}

/* Where roll_speed_axis_of() is `axis`, m/s. */
static double speed_at(const struct roll_table *table, double axis) {
    double width = 1.0 / table->per_width, stretch = table->stretch_mps;
    double off = axis + table->speed_axis_begin - table->critical_mps;
    double part = width + stretch - fabs(off);
    double root = sqrt(part * part + 4.0 * width * fabs(off));
    return table->critical_mps + copysign(0.5 * (root - part), off);
}

/* The speeds of a grid; how many for each unit of the axis. */
static double lay_speeds(struct making *making, int speeds) {
    const struct roll_table *table = making->table;
    double per_axis =
        (speeds - 1) / roll_speed_axis_of(table, making->fastest_mps);
    for (int i = 0; i < speeds; i++)
        making->speed[i] = speed_at(table, i / per_axis) / making->fastest_mps;
    return per_axis;
}

static void fill_grid(struct making *making, const struct spreading *spreading,
                      int kind, int period, struct arena *arena) {
    const struct fineness *fineness = spreading->fineness;
    struct roll_table *table = making->table;
    int speeds = speeds_of(making, period);
    struct roll_grid grid = {.per_speed_axis = lay_speeds(making, speeds),
                             .per_axis = 0.5 * (fineness->cosines - 1),
                             .speeds = speeds,
                             .cosines = fineness->cosines};
    size_t count = (size_t)(grid.speeds * table->dampings * grid.cosines);
    float *answer = arena_alloc(arena, count, sizeof *answer);
    grid.answer = answer;
    along_at(making, spreading, making->along[kind][period], speeds,
             making->at);
    for (int i = 0; i < grid.cosines; i++)
        sum_directions(making, spreading, i, &grid, answer);
    table->grid[kind][period] = grid;
    table->bytes += count * sizeof *answer;
}

/* --- the whole
 * ----------------------------------------------------------------
 */

/* From the least to the most that hull and sails ever damp together. */
static void lay_dampings(struct making *making) {
    const struct roller *roller = making->roller;
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
    double fine_s = fmax(FINE_UP_TO_S, FINE_UP_TO_OWN * own_s);
    int steps = (int)ceil(log(fine_s / ROLL_SHORTEST_S) / period_step());
    steps += steps % 2 == 0; /* what is left has to be even */
    table->fine_periods =
        1 + (steps < ROLL_PERIOD_STEPS ? steps : ROLL_PERIOD_STEPS);
    table->periods =
        table->fine_periods + (ROLL_MOST_PERIODS - table->fine_periods) / 2;
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

static void lay_along(struct making *making) {
    for (int period = 0; period < making->table->periods; period++) {
        double period_s = ROLL_SHORTEST_S *
                          exp(steps_to(making->table, period) * period_step());
        making->table->period_s[period] = period_s;
        int stride = fineness_of(making, period_s)->with_stride;
        ptrdiff_t steps = 2 * making->with_half / stride + 1;
        size_t count = (size_t)(steps * making->table->dampings);
        for (int kind = 0; kind < SPECTRUM_KINDS; kind++)
            making->along[kind][period] =
                arena_alloc(&making->arena, count, sizeof(double));
    }
}

static void fill(struct making *making, struct arena *arena) {
    struct lattice lattice = {.periods = 0};
    for (int z = 0; z < making->table->dampings; z++) {
        int steps = lattice_steps(making->damping[z]);
        if (steps != lattice.periods)
            lattice = lattice_make(making, steps);
        sum_frequencies(making, &lattice, z);
    }
    ptrdiff_t speeds = speeds_of(making, 0);
    size_t row = (size_t)(speeds * making->table->dampings);
    making->at =
        arena_alloc(&making->arena, row * MOST_DIRECTIONS, sizeof *making->at);
    making->speed =
        arena_alloc(&making->arena, (size_t)speeds, sizeof *making->speed);
    making->sum = arena_alloc(&making->arena, row, sizeof *making->sum);
    struct spreading *spreading =
        arena_alloc(&making->arena, 1, sizeof *spreading);
    for (int kind = 0; kind < SPECTRUM_KINDS; kind++)
        for (int period = 0; period < making->table->periods; period++) {
            const struct fineness *fineness =
                fineness_of(making, making->table->period_s[period]);
            if (period == 0 || fineness != spreading->fineness)
                spreading_make(spreading, fineness, &making->spectra[kind]);
            fill_grid(making, spreading, kind, period, arena);
        }
}

const struct roll_table *roll_table_make(const struct roller *roller,
                                         double fastest_mps,
                                         struct arena *arena) {
    struct making making = {.roller = roller, .fastest_mps = fastest_mps};
    arena_init(&making.arena);
    making.table = arena_alloc(arena, 1, sizeof *making.table);
    making.table->of = *roller;
    making.table->bytes = sizeof *making.table;
    making.with_half =
        WITH_MULTIPLE *
        (int)ceil(fmax(fastest_mps / WITH_STEP_MPS, 8.0) / WITH_MULTIPLE);
    for (int kind = 0; kind < SPECTRUM_KINDS; kind++) {
        making.spectra[kind] = spectrum_make(
            &spectrum_shapes[kind], ROLL_TABLE_HEIGHT_M, ROLL_TABLE_LONGEST_S);
        making.table->spread[kind] =
            spectrum_spread_cos2(&spectrum_shapes[kind]);
    }
    lay_axes(making.table);
    lay_dampings(&making);
    lay_along(&making);
    lay_bins(making.table);
    fill(&making, arena);
    arena_free(&making.arena);
    return making.table;
}
