/* One part after the other, again and again, until none moves; after each round
 * once more along the way that all have gone in it, for where two parts hang
 * together the rounds alone creep (after Powell 1964, from memory). In the
 * first round a part is scanned over its whole range. Each line is narrowed by
 * golden sections (Kiefer 1953, from memory): no slope is asked for. */
#include "boat/roll_fit.h"

#include "base/text.h"
#include "boat/boat_keys.h"
#include <assert.h>
#include <math.h>

enum { SCAN_STEPS = 20, ROUNDS_LIMIT = 40 };

/* Well below the last decimal that is told: where the sections of one line
 * end, and where the rounds do. */
#define LINE_TOLERANCE 3e-6
#define ROUND_TOLERANCE 1e-5

/* A part moves by little more than all did in the round before. */
#define FOLLOW_FACTOR 3.0

/* So many times the way of a round is looked along. */
#define ONWARD_FACTOR 20.0

/* 1 / golden ratio. */
#define GOLDEN 0.61803398874989485

/* What a part is raised to, to see which one an observation tells. */
#define PART_PROBE 0.1

static const struct {
    const char *key;
    size_t offset;
} parts[SAIL_PARTS] = {
    [SAIL_REACH] = {"sail_roll_reach", offsetof(struct roller, sail_reach)},
    [SAIL_RUN_LOOSE] = {"sail_roll_run_loose",
                        offsetof(struct roller, sail_run_loose)},
    [SAIL_RUN_SPAR] = {"sail_roll_run_spar",
                       offsetof(struct roller, sail_run_spar)},
};

const char *sail_part_key(enum sail_part part) {
    return parts[part].key;
}

double sail_part_value(const struct roller *roller, enum sail_part part) {
    return *(const double *)((const char *)roller + parts[part].offset);
}

static void set_part(struct roller *roller, enum sail_part part, double value) {
    *(double *)((char *)roller + parts[part].offset) = value;
}

/* The row of the boat file's table, for the range. */
static const struct key *key_of(enum sail_part part) {
    size_t i = 0;
    while (!text_same(boat_keys.keys[i].name, parts[part].key)) {
        i++;
        assert(i < boat_keys.count);
    }
    return &boat_keys.keys[i];
}

static double roll_of(const struct roller *roller,
                      const struct roll_case *seen) {
    return roll_rms_deg(roller, &seen->sea, &seen->course);
}

static enum sail_part part_told(const struct roller *roller,
                                const struct roll_case *seen) {
    struct roller bare = *roller;
    for (int i = 0; i < SAIL_PARTS; i++)
        set_part(&bare, (enum sail_part)i, 0.0);
    enum sail_part told = SAIL_PARTS;
    double most_deg = ROLL_FIT_SEEN_DEG;
    for (int i = 0; i < SAIL_PARTS; i++) {
        struct roller probe = bare;
        set_part(&probe, (enum sail_part)i, PART_PROBE);
        double change_deg = fabs(roll_of(&probe, seen) - roll_of(&bare, seen));
        if (change_deg > most_deg) {
            most_deg = change_deg;
            told = (enum sail_part)i;
        }
    }
    return told;
}

/* --- one line ------------------------------------------------------------- */

/* The search along a line through the parts, none of which leaves its range. */
struct hunt {
    struct roller roller;
    const struct roll_case *cases;
    size_t count;
    double from[SAIL_PARTS], along[SAIL_PARTS];
    double best, best_misfit; /* how far along, and the misfit there */
};

static double *from_here(struct hunt *hunt) {
    for (int i = 0; i < SAIL_PARTS; i++)
        hunt->from[i] = sail_part_value(&hunt->roller, (enum sail_part)i);
    return hunt->from;
}

static void go(struct hunt *hunt, double far) {
    for (int i = 0; i < SAIL_PARTS; i++) {
        const struct key *key = key_of((enum sail_part)i);
        double value = hunt->from[i] + far * hunt->along[i];
        set_part(&hunt->roller, (enum sail_part)i,
                 fmin(fmax(value, key->low), key->high));
    }
}

/* Sum of squares there; the best is kept. Of equal ones the nearest to the
 * start: where damping is at its floor, all are equal. */
static double misfit(struct hunt *hunt, double far) {
    go(hunt, far);
    double sum = 0.0;
    for (size_t i = 0; i < hunt->count; i++) {
        double off_deg = roll_of(&hunt->roller, &hunt->cases[i]) -
                         hunt->cases[i].seen_rms_deg;
        sum += off_deg * off_deg;
    }
    bool nearer = fabs(far) < fabs(hunt->best);
    if (sum < hunt->best_misfit || (sum <= hunt->best_misfit && nearer)) {
        hunt->best = far;
        hunt->best_misfit = sum;
    }
    return sum;
}

static void begin(struct hunt *hunt) {
    hunt->best = 0.0;
    hunt->best_misfit = HUGE_VAL;
    misfit(hunt, 0.0);
}

/* Golden sections from `low` to `high`, then to the best. */
static void narrow(struct hunt *hunt, double low, double high,
                   double tolerance) {
    double a = high - GOLDEN * (high - low), b = low + GOLDEN * (high - low);
    double at_a = misfit(hunt, a), at_b = misfit(hunt, b);
    while (high - low > tolerance) {
        bool to_low = at_a < at_b || (at_a <= at_b && a > 0.0);
        if (to_low) {
            high = b;
            b = a;
            at_b = at_a;
            a = high - GOLDEN * (high - low);
            at_a = misfit(hunt, a);
        } else {
            low = a;
            a = b;
            at_a = at_b;
            b = low + GOLDEN * (high - low);
            at_b = misfit(hunt, b);
        }
    }
    go(hunt, hunt->best);
}

/* One part alone: anywhere in its range with `scan`, else by `room` at most.
 * Returns how far it has moved. */
static double fit_part(struct hunt *hunt, enum sail_part part, bool scan,
                       double room) {
    const struct key *key = key_of(part);
    double value = from_here(hunt)[part];
    double low = key->low - value, high = key->high - value;
    double step = (high - low) / SCAN_STEPS;
    for (int i = 0; i < SAIL_PARTS; i++)
        hunt->along[i] = i == (int)part ? 1.0 : 0.0;
    begin(hunt);
    for (int i = 0; scan && i <= SCAN_STEPS; i++)
        misfit(hunt, low + i * step);
    double half = fmin(room, step);
    narrow(hunt, fmax(hunt->best - half, low), fmin(hunt->best + half, high),
           LINE_TOLERANCE);
    return fabs(hunt->best);
}

/* All parts on along the way that they have come `since`. */
static double fit_onward(struct hunt *hunt, const struct roller *since,
                         double moved) {
    from_here(hunt);
    for (int i = 0; i < SAIL_PARTS; i++)
        hunt->along[i] =
            hunt->from[i] - sail_part_value(since, (enum sail_part)i);
    begin(hunt);
    narrow(hunt, 0.0, ONWARD_FACTOR, LINE_TOLERANCE / moved);
    return hunt->best * moved;
}

/* --- all of them ---------------------------------------------------------- */

/* To the decimals that are told; + 0.0: no "-0". */
static void round_parts(struct roller *roller, const bool told[SAIL_PARTS]) {
    const double decimals = pow(10.0, ROLL_FIT_DECIMALS);
    for (int i = 0; i < SAIL_PARTS; i++) {
        double value = sail_part_value(roller, (enum sail_part)i);
        if (told[i])
            set_part(roller, (enum sail_part)i,
                     round(value * decimals) / decimals + 0.0);
    }
}

static struct roller fit_parts(const struct roller *roller,
                               const bool told[SAIL_PARTS],
                               const struct roll_case *cases, size_t count) {
    struct hunt hunt = {.roller = *roller, .cases = cases, .count = count};
    bool several =
        told[SAIL_REACH] + told[SAIL_RUN_LOOSE] + told[SAIL_RUN_SPAR] > 1;
    double moved = HUGE_VAL;
    for (int round = 0; round < ROUNDS_LIMIT && moved > ROUND_TOLERANCE;
         round++) {
        struct roller since = hunt.roller;
        double room = FOLLOW_FACTOR * moved;
        moved = 0.0;
        for (int i = 0; i < SAIL_PARTS; i++)
            if (told[i])
                moved = fmax(moved, fit_part(&hunt, (enum sail_part)i,
                                             round == 0, room));
        if (several && moved > ROUND_TOLERANCE)
            moved = fmax(moved, fit_onward(&hunt, &since, moved));
    }
    round_parts(&hunt.roller, told);
    return hunt.roller;
}

/* The same had all waves been higher by a factor. */
static struct roller fit_in_waves(const struct roll_fit *fit,
                                  const struct roller *roller,
                                  const struct roll_case *cases, size_t count,
                                  double factor) {
    struct arena arena;
    arena_init(&arena);
    struct roll_case *other = arena_alloc(&arena, count, sizeof *other);
    for (size_t i = 0; i < count; i++) {
        other[i] = cases[i];
        other[i].sea.height_m *= factor;
        for (int k = 0; k < SEA_SYSTEMS; k++)
            other[i].sea.system[k].height_m *= factor;
    }
    struct roller fitted = fit_parts(roller, fit->told, other, count);
    arena_free(&arena);
    return fitted;
}

/* What the observation can be met with by its own part alone. */
static void reach_of(struct roll_fit_case *one, const struct roller *fitted,
                     const struct roll_case *seen) {
    one->least_deg = one->most_deg = one->after_deg;
    if (one->tells == SAIL_PARTS)
        return;
    const struct key *key = key_of(one->tells);
    struct roller probe = *fitted;
    for (int i = 0; i <= SCAN_STEPS; i++) {
        set_part(&probe, one->tells,
                 key->low + (key->high - key->low) * i / SCAN_STEPS);
        double roll_deg = roll_of(&probe, seen);
        one->least_deg = fmin(one->least_deg, roll_deg);
        one->most_deg = fmax(one->most_deg, roll_deg);
    }
}

void roll_fit(struct roll_fit *fit, struct roll_fit_case *each,
              const struct roller *roller, const struct roll_case *cases,
              size_t count) {
    *fit = (struct roll_fit){.fitted = *roller};
    for (size_t i = 0; i < count; i++) {
        each[i] =
            (struct roll_fit_case){.tells = part_told(roller, &cases[i]),
                                   .before_deg = roll_of(roller, &cases[i])};
        if (each[i].tells < SAIL_PARTS)
            fit->told[each[i].tells] = true;
    }
    fit->fitted = fit_parts(roller, fit->told, cases, count);
    fit->in_lower =
        fit_in_waves(fit, roller, cases, count, 1.0 - ROLL_FIT_WAVE_FRAC);
    fit->in_higher =
        fit_in_waves(fit, roller, cases, count, 1.0 + ROLL_FIT_WAVE_FRAC);
    for (size_t i = 0; i < count; i++) {
        each[i].after_deg = roll_of(&fit->fitted, &cases[i]);
        reach_of(&each[i], &fit->fitted, &cases[i]);
    }
}
