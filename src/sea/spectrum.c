#include "sea/spectrum.h"

#include "earth/angle.h"
#include <assert.h>
#include <math.h>

/* Ten steps from the top of the peak to its foot, and no longer than this. */
#define STEPS_PER_PEAK 5.0
#define LONGEST_STEP 0.01

/* The moments end here, in peak frequencies: of the second, whose tail falls
 * off slowest, some 1e-6 lies beyond. */
#define HIGHEST 1000.0

const struct spectrum_shape spectrum_shapes[SPECTRUM_KINDS] = {
    [SPECTRUM_WIND_SEA] = {.gamma = 3.3,
                           .narrow_below = 0.07,
                           .narrow_above = 0.09,
                           .spread_power = 2},
    [SPECTRUM_SWELL] = {.gamma = 7.0,
                        .narrow_below = 0.07,
                        .narrow_above = 0.09,
                        .spread_power = 12}};

double spectrum_step(const struct spectrum_shape *shape) {
    double sigma = fmin(shape->narrow_below, shape->narrow_above);
    double peak = sigma / sqrt(1.0 + log(shape->gamma));
    return fmin(peak / STEPS_PER_PEAK, LONGEST_STEP);
}

/* Without its level; `x` in peak frequencies. */
static double shape_at(const struct spectrum_shape *shape, double x) {
    double sigma = x <= 1.0 ? shape->narrow_below : shape->narrow_above;
    double off = (x - 1.0) / sigma;
    double peak = exp(-0.5 * off * off) * log(shape->gamma);
    double x2 = x * x;
    return exp(peak - 1.25 / (x2 * x2)) / (x2 * x2 * x);
}

/* Integral of shape_at() times x^order over x; a step falls on the peak, where
 * sigma jumps. */
static double shape_moment(const struct spectrum_shape *shape, int order) {
    double step = spectrum_step(shape);
    int first = (int)(log(SPECTRUM_LOWEST) / step) - 1;
    int last = (int)(log(HIGHEST) / step) + 1;
    double sum = 0.0;
    for (int i = first; i <= last; i++) {
        double x = exp(i * step);
        sum += shape_at(shape, x) * pow(x, order + 1);
    }
    return sum * step;
}

/* Integral of cos^n over the half circle, by parts. */
static double spread_integral(int power) {
    if (power < 2)
        return power == 0 ? PI : 2.0;
    return (power - 1.0) / power * spread_integral(power - 2);
}

struct spectrum spectrum_make(const struct spectrum_shape *shape,
                              double height_m, double peak_period_s) {
    assert(height_m >= 0.0 && peak_period_s > 0.0);
    struct spectrum spectrum = {.shape = *shape,
                                .peak_rad_s = 2.0 * PI / peak_period_s};
    spectrum.level_m2s = height_m * height_m / 16.0 /
                         (shape_moment(shape, 0) * spectrum.peak_rad_s);
    if (shape->spread_power != SPECTRUM_LONG_CRESTED)
        spectrum.spread_per_rad = 1.0 / spread_integral(shape->spread_power);
    return spectrum;
}

double spectrum_density_m2s(const struct spectrum *spectrum, double w_rad_s) {
    return spectrum->level_m2s *
           shape_at(&spectrum->shape, w_rad_s / spectrum->peak_rad_s);
}

double spectrum_moment(const struct spectrum *spectrum, int order) {
    return spectrum->level_m2s * shape_moment(&spectrum->shape, order) *
           pow(spectrum->peak_rad_s, order + 1);
}

double spectrum_mean_period_s(const struct spectrum *spectrum) {
    return 2.0 * PI * spectrum_moment(spectrum, 0) /
           spectrum_moment(spectrum, 1);
}

double spectrum_crossing_period_s(const struct spectrum *spectrum) {
    return 2.0 * PI *
           sqrt(spectrum_moment(spectrum, 0) / spectrum_moment(spectrum, 2));
}

double spectrum_spread_per_rad(const struct spectrum *spectrum, double cosine) {
    int power = spectrum->shape.spread_power;
    assert(power != SPECTRUM_LONG_CRESTED);
    if (cosine <= 0.0)
        return 0.0;
    double product = spectrum->spread_per_rad, square = cosine;
    for (; power > 0; power /= 2) {
        if (power % 2 == 1)
            product *= square;
        square *= square;
    }
    return product;
}

double spectrum_spread_cos2(const struct spectrum_shape *shape) {
    double n = shape->spread_power;
    return shape->spread_power == SPECTRUM_LONG_CRESTED ? 1.0 : n / (n + 2.0);
}
