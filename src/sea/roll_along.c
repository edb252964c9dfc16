#include "sea/roll_along.h"

#include "earth/angle.h"
#include <math.h>

/* The lattice of frequencies: steps between two periods, as many as the damping
 * asks for: so many for its width, and for the width in which the shortest
 * waves, run with at full speed, pass through the resonance. */
enum { MOST_STEPS = 12 };
#define STEP_PER_DAMPING 0.3
#define PASSING_PER_DAMPING 1.0

/* Where the integral ends, too: waves whose slope the hull feels by less than
 * exp(-5) are left out, but for those about the shortest peak. */
#define LEAST_HULL_FACTOR2 4.5e-5
#define NEAR_PEAK 1.5

/* The step of speed with the waves, about, and the fewest steps. */
#define WITH_STEP_MPS 0.06
#define FEWEST_WITH 8.0

/* Periods that are summed at once, while their spectrum is at hand. */
enum { AT_ONCE = 4 };

/* Frequencies, and the spectra and the hull at them. */
struct lattice {
    double step; /* of the logarithm */
    int periods; /* steps from one step of the period to the next */
    int below;   /* steps below the lowest peak */
    int count;
    float *w, *k;                 /* frequency, wave number */
    float *slope;                 /* k^2 h^2 */
    float *shape[SPECTRUM_KINDS]; /* S dw, peak at `below` */
    float *answer;                /* slope |H|^2, for one speed; 0 beyond
                                     `count`, for the shortest period */
};

/* Steps from the lowest frequency to where the hull feels no wave. */
static int lattice_count(const struct roller *roller, double step,
                         double lowest_rad_s) {
    double shortest = 2.0 * PI / ROLL_SHORTEST_S;
    double w = lowest_rad_s;
    int count = 0;
    while (w < NEAR_PEAK * shortest ||
           roll_hull_factor2(roller, w * w / GRAVITY_MPS2) >
               LEAST_HULL_FACTOR2) {
        w *= exp(step);
        count++;
    }
    return count;
}

double roll_passing(const struct roller *roller, double fastest_mps) {
    double shortest = 2.0 * PI / ROLL_SHORTEST_S;
    double own = 2.0 * PI / roller->period_s;
    return shortest / own * (2.0 * shortest * fastest_mps / GRAVITY_MPS2 - 1.0);
}

static int lattice_steps(double passing, double damping) {
    double step = fmin(STEP_PER_DAMPING * damping,
                       PASSING_PER_DAMPING * damping / fmax(passing, 1.0));
    return (int)fmin(ceil(roll_period_step() / step), MOST_STEPS);
}

static float *row(struct arena *arena, int count) {
    return arena_alloc(arena, (size_t)count, sizeof(float));
}

static void lay_shapes(struct lattice *lattice, struct arena *arena) {
    for (int kind = 0; kind < SPECTRUM_KINDS; kind++) {
        struct spectrum spectrum = spectrum_make(
            &spectrum_shapes[kind], ROLL_TABLE_HEIGHT_M, ROLL_TABLE_LONGEST_S);
        float *shape = lattice->shape[kind] = row(arena, lattice->count);
        for (int i = 0; i < lattice->count; i++) {
            double w = (double)lattice->w[i];
            shape[i] =
                (float)(spectrum_density_m2s(&spectrum, w) * w * lattice->step);
        }
    }
}

static struct lattice lattice_make(const struct roller *roller, int steps,
                                   struct arena *arena) {
    struct lattice lattice = {.periods = steps};
    lattice.step = roll_period_step() / steps;
    lattice.below = (int)(-log(SPECTRUM_LOWEST) / lattice.step);
    double lowest =
        2.0 * PI / ROLL_TABLE_LONGEST_S * exp(-lattice.below * lattice.step);
    int count = lattice.count = lattice_count(roller, lattice.step, lowest);
    lattice.w = row(arena, count);
    lattice.k = row(arena, count);
    lattice.slope = row(arena, count);
    for (int i = 0; i < count; i++) {
        double w = lowest * exp(i * lattice.step), k = w * w / GRAVITY_MPS2;
        lattice.w[i] = (float)w;
        lattice.k[i] = (float)k;
        lattice.slope[i] = (float)(k * k * roll_hull_factor2(roller, k));
    }
    lay_shapes(&lattice, arena);
    lattice.answer = row(arena, count + ROLL_PERIOD_STEPS * steps);
    return lattice;
}

/* The first frequency of a period on the lattice. */
static int lattice_first(const struct roll_table *table,
                         const struct lattice *lattice, int period) {
    return (ROLL_PERIOD_STEPS - table->steps[period]) * lattice->periods;
}

static void answer_at(const struct lattice *lattice, double period_s,
                      double with_mps, double damping) {
    float softness = (float)(period_s / (2.0 * PI)), with = (float)with_mps;
    float damped = (float)(4.0 * damping * damping);
    const float *w = lattice->w, *k = lattice->k, *slope = lattice->slope;
    float *answer = lattice->answer;
    int count = lattice->count;
#pragma omp simd
    for (int i = 0; i < count; i++) {
        float r = (w[i] - k[i] * with) * softness;
        float r2 = r * r, stiff = 1.0F - r2;
        answer[i] = slope[i] / (stiff * stiff + damped * r2);
    }
}

/* sum[j] = a . b[j] */
static void products(const float *a, const float *const b[AT_ONCE], int count,
                     float sum[AT_ONCE]) {
    const float *b0 = b[0], *b1 = b[1], *b2 = b[2], *b3 = b[3];
    float s0 = 0.0F, s1 = 0.0F, s2 = 0.0F, s3 = 0.0F;
#pragma omp simd reduction(+ : s0, s1, s2, s3)
    for (int i = 0; i < count; i++) {
        s0 += a[i] * b0[i];
        s1 += a[i] * b1[i];
        s2 += a[i] * b2[i];
        s3 += a[i] * b3[i];
    }
    sum[0] = s0;
    sum[1] = s1;
    sum[2] = s2;
    sum[3] = s3;
}

/* The periods from `period` on at one speed, whose place in a row is `at`. */
static void sum_periods(const struct roll_table *table,
                        const struct lattice *lattice,
                        const struct roll_along *along, int period,
                        ptrdiff_t at) {
    const float *answer[AT_ONCE];
    int first = 0, last = table->periods - 1;
    for (int j = 0; j < AT_ONCE; j++) {
        int each = period + j < last ? period + j : last;
        first = lattice_first(table, lattice, each);
        answer[j] = lattice->answer + first;
    }
    for (int kind = 0; kind < SPECTRUM_KINDS; kind++) {
        float sum[AT_ONCE];
        products(lattice->shape[kind], answer, lattice->count - first, sum);
        for (int j = 0; j < AT_ONCE && period + j <= last; j++)
            along->answer[kind][period + j][at] = sum[j];
    }
}

static void sum_frequencies(const struct roll_table *table,
                            const struct lattice *lattice,
                            const struct roll_along *along, double damping,
                            ptrdiff_t at) {
    for (int with = -along->half; with <= along->half; with++) {
        answer_at(lattice, table->of.period_s, with * along->step_mps, damping);
        for (int period = 0; period < table->periods; period += AT_ONCE)
            sum_periods(table, lattice, along, period, at);
        at += along->row;
    }
}

struct roll_along roll_along_make(const struct roll_table *table,
                                  double fastest_mps, const double *damping,
                                  struct arena *arena) {
    ptrdiff_t blocks = (table->dampings - 1) / ROLL_ALONG_BLOCK + 1;
    struct roll_along along = {.row = blocks * ROLL_ALONG_BLOCK};
    along.half = (int)ceil(fmax(fastest_mps / WITH_STEP_MPS, FEWEST_WITH));
    along.step_mps = fastest_mps / along.half;
    size_t count = (size_t)((2 * along.half + 1) * along.row);
    for (int kind = 0; kind < SPECTRUM_KINDS; kind++)
        for (int period = 0; period < table->periods; period++)
            along.answer[kind][period] =
                arena_alloc(arena, count, sizeof(float));
    double passing = roll_passing(&table->of, fastest_mps);
    struct lattice lattice = {.periods = 0};
    for (ptrdiff_t z = 0; z < table->dampings; z++) {
        int steps = lattice_steps(passing, damping[z]);
        if (steps != lattice.periods)
            lattice = lattice_make(&table->of, steps, arena);
        sum_frequencies(table, &lattice, &along, damping[z], z);
    }
    return along;
}
