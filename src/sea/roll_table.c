/* Looking up: called for every heading of every place of a search, so there is
 * no memory and no function of the library in it but the root, which is one
 * instruction. */
#include "sea/roll_grid.h"

#include "earth/angle.h"

size_t roll_table_bytes(const struct roll_table *table) {
    return table->bytes;
}

static bool is_same(double a, double b) {
    return a <= b && a >= b;
}

static bool is_of(const struct roll_table *table, const struct roller *roller) {
    const struct roller *of = &table->of;
    return is_same(of->beam_m, roller->beam_m) &&
           is_same(of->draft_m, roller->draft_m) &&
           is_same(of->period_s, roller->period_s) &&
           is_same(of->damping, roller->damping) &&
           is_same(of->sail_reach, roller->sail_reach) &&
           is_same(of->sail_run_loose, roller->sail_run_loose) &&
           is_same(of->sail_run_spar, roller->sail_run_spar);
}

/* The last period of the table not above it, but not the very last. */
static int period_below(const struct roll_table *table, double period_s) {
    int below = table->bin[(int)(period_s * ROLL_BINS_PER_S)];
    while (below < table->periods - 2 && table->period_s[below + 1] <= period_s)
        below++;
    return below;
}

static void place_in_table(const struct roll_table *table,
                           struct roll_wave *wave) {
    double height = wave->height_m / ROLL_TABLE_HEIGHT_M;
    double period_s = wave->period_s;
    if (period_s > ROLL_TABLE_LONGEST_S) {
        double longer = period_s / ROLL_TABLE_LONGEST_S;
        height /= longer * longer; /* the slope goes as that */
        period_s = ROLL_TABLE_LONGEST_S;
    }
    int below = period_below(table, period_s);
    wave->height2 = height * height;
    wave->spread = table->spread[wave->kind];
    wave->grid = &table->grid[wave->kind][below];
    wave->part = (float)((period_s - table->period_s[below]) *
                         table->per_period_s[below]);
}

struct roll_sea roll_sea_of(const struct roller *roller,
                            const struct sea *sea) {
    struct roll_sea waves;
    waves.count = 0;
    waves.table =
        roller->table && is_of(roller->table, roller) ? roller->table : NULL;
    for (int i = 0; i < SEA_SYSTEMS; i++) {
        const struct wave_system *system = &sea->system[i];
        double height_m = roll_height_m(system);
        if (height_m <= 0.0)
            continue;
        struct roll_wave *wave = &waves.wave[waves.count++];
        wave->kind = i == 0 ? SPECTRUM_WIND_SEA : SPECTRUM_SWELL;
        wave->height_m = height_m;
        wave->period_s = roll_period_s(system);
        double sine, cosine;
        sincos_deg(system->from_deg, &sine, &cosine);
        wave->towards_sine = -sine;
        wave->towards_cosine = -cosine;
        if (waves.table)
            place_in_table(waves.table, wave);
    }
    return waves;
}

/* Where between two points of an axis. */
struct place {
    ptrdiff_t below;
    float part;
};

static inline struct place place_at(double at, ptrdiff_t points) {
    double last = (double)(points - 2);
    ptrdiff_t below = at < last ? (ptrdiff_t)at : points - 2;
    double part = at - (double)below;
    return (struct place){below, part < 1.0 ? (float)part : 1.0F};
}

static inline float between(float a, float b, float part) {
    return a + part * (b - a);
}

/* Straight lines in speed, cosine and damping. */
static inline float answer_in(const struct roll_grid *grid, double axis,
                              double speed_axis, struct place damping,
                              ptrdiff_t dampings) {
    struct place u = place_at(speed_axis * grid->per_speed_axis, grid->speeds);
    struct place x = place_at(axis * grid->per_axis, grid->cosines);
    const float *a = grid->answer +
                     (u.below * grid->cosines + x.below) * dampings +
                     damping.below;
    const float *b = a + grid->cosines * dampings;
    float z = damping.part;
    float a0 = between(a[0], a[1], z);
    float a1 = between(a[dampings], a[dampings + 1], z);
    float b0 = between(b[0], b[1], z);
    float b1 = between(b[dampings], b[dampings + 1], z);
    return between(between(a0, a1, x.part), between(b0, b1, x.part), u.part);
}

static inline double by_table_rad2(const struct roll_wave *wave, double cosine,
                                   double speed_axis, struct place damping,
                                   ptrdiff_t dampings) {
    double axis = roll_axis_of(cosine);
    float below = answer_in(wave->grid, axis, speed_axis, damping, dampings);
    float above =
        answer_in(wave->grid + 1, axis, speed_axis, damping, dampings);
    double root4 = (double)between(below, above, wave->part);
    double root2 = root4 * root4;
    return wave->height2 * roll_mean_sine2(wave->spread, cosine) /
           (root2 * root2);
}

static double by_integral_rad2(const struct roller *roller,
                               const struct roll_wave *wave,
                               const struct roll_meeting *meeting) {
    struct spectrum spectrum = spectrum_make(&spectrum_shapes[wave->kind],
                                             wave->height_m, wave->period_s);
    return roll_variance_rad2(roller, &spectrum, meeting);
}

static double by_integral_all_rad2(const struct roller *roller,
                                   const struct roll_sea *sea,
                                   struct roll_meeting meeting, double sine,
                                   double cosine) {
    double variance = 0.0;
    for (int i = 0; i < sea->count; i++) {
        const struct roll_wave *wave = &sea->wave[i];
        meeting.cosine =
            cosine * wave->towards_cosine + sine * wave->towards_sine;
        variance += by_integral_rad2(roller, wave, &meeting);
    }
    return variance;
}

double roll_rms_heading_deg(const struct roller *roller,
                            const struct roll_sea *sea,
                            const struct roll_course *course, double sine,
                            double cosine) {
    const struct roll_table *table = sea->table;
    double damping = roll_damping(roller, course);
    double variance = roll_drive_rad2(course, damping);
    if (!table) {
        struct roll_meeting meeting = {.speed_mps = course->speed_mps,
                                       .damping = damping};
        return roll_limited_deg(variance + by_integral_all_rad2(roller, sea,
                                                                meeting, sine,
                                                                cosine));
    }
    struct place place = place_at((sqrt(sqrt(damping)) - table->damping_root) *
                                      table->per_damping_root,
                                  table->dampings);
    double speed_axis = roll_speed_axis_of(table, course->speed_mps);
    for (int i = 0; i < sea->count; i++) {
        const struct roll_wave *wave = &sea->wave[i];
        variance += by_table_rad2(
            wave, cosine * wave->towards_cosine + sine * wave->towards_sine,
            speed_axis, place, table->dampings);
    }
    return roll_limited_deg(variance);
}

double roll_rms_in_sea_deg(const struct roller *roller,
                           const struct roll_sea *sea,
                           const struct roll_course *course) {
    double sine, cosine;
    sincos_deg(course->heading_deg, &sine, &cosine);
    return roll_rms_heading_deg(roller, sea, course, sine, cosine);
}
