#include "boat/polar.h"

#include "earth/angle.h"
#include <assert.h>
#include <math.h>

/* A node and how far beyond it, as a fraction of the way to the next. */
struct node {
    size_t at, next;
    double part;
};

static void index_axis(struct polar_index *index, const double *axis,
                       size_t count) {
    index->parts_per_unit = POLAR_PARTS / (axis[count - 1] - axis[0]);
    uint16_t at = 0;
    for (int part = 0; part < POLAR_PARTS; part++) {
        double start = axis[0] + part / index->parts_per_unit;
        while ((size_t)at + 1 < count && axis[at + 1] <= start)
            at++;
        index->node[part] = at;
    }
}

void polar_make_index(struct polar *polar) {
    index_axis(&polar->angle_index, polar->angle_deg, polar->angles);
    index_axis(&polar->wind_index, polar->wind_mps, polar->winds);
}

/* `x` at or above the first node. Exact at a node: there part is 0. */
static struct node node_below(const double *axis, size_t count,
                              const struct polar_index *index, double x) {
    double parts = (x - axis[0]) * index->parts_per_unit;
    /* beyond the last node also what is no number at all */
    size_t at =
        index->node[parts < POLAR_PARTS ? (size_t)parts : POLAR_PARTS - 1];
    /* rounding may have put it one part too far */
    while (at > 0 && axis[at] > x)
        at--;
    while (at + 1 < count && axis[at + 1] <= x)
        at++;
    if (at + 1 == count)
        return (struct node){at, at, 0.0};
    double part = (x - axis[at]) / (axis[at + 1] - axis[at]);
    return (struct node){at, at + 1, part};
}

static double between(double a, double b, double part) {
    return a + (b - a) * part;
}

static double row_speed(const struct polar *polar, size_t row,
                        struct node wind) {
    const double *speed = polar->speed_mps + row * polar->winds;
    return between(speed[wind.at], speed[wind.next], wind.part);
}

double polar_speed(const struct polar *polar, double twa_deg, double tws_mps) {
    double angle_deg = fabs(twa_deg);
    if (angle_deg < polar->angle_deg[0])
        return 0.0;
    double below = 1.0; /* share of the first column, in less wind than it */
    double wind_mps = tws_mps;
    if (wind_mps < polar->wind_mps[0]) {
        wind_mps = polar->wind_mps[0];
        below = tws_mps / wind_mps;
    }
    struct node wind =
        node_below(polar->wind_mps, polar->winds, &polar->wind_index, wind_mps);
    struct node angle = node_below(polar->angle_deg, polar->angles,
                                   &polar->angle_index, angle_deg);
    return below * between(row_speed(polar, angle.at, wind),
                           row_speed(polar, angle.next, wind), angle.part);
}

bool polar_is_beyond(const struct polar *polar, double tws_mps) {
    return tws_mps > polar->wind_mps[polar->winds - 1];
}

double polar_top_speed(const struct polar *polar) {
    double top_mps = 0.0;
    for (size_t i = 0; i < polar->angles * polar->winds; i++)
        top_mps = fmax(top_mps, polar->speed_mps[i]);
    return top_mps;
}

double polar_best_downwind(const struct polar *polar, double tws_mps,
                           double *twa_deg) {
    double best_mps = 0.0;
    *twa_deg = 180.0;
    for (int tenth = 1800; tenth >= 900; tenth--) {
        double angle_deg = tenth / 10.0, sine, cosine;
        sincos_deg(angle_deg, &sine, &cosine);
        double made_good = -cosine * polar_speed(polar, angle_deg, tws_mps);
        if (made_good > best_mps) {
            best_mps = made_good;
            *twa_deg = angle_deg;
        }
    }
    return best_mps;
}
