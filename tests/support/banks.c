#include "banks.h"

#include "check.h"

#include "earth/angle.h"
#include "earth/rhumb.h"

#include <string.h>

static struct mercator minus(struct mercator p, struct mercator q) {
    return (struct mercator){p.x - q.x, p.y - q.y};
}

static double cross(struct mercator p, struct mercator q) {
    return p.x * q.y - p.y * q.x;
}

static double dot(struct mercator p, struct mercator q) {
    return p.x * q.x + p.y * q.y;
}

static double point_to_line(struct mercator p, struct mercator a,
                            struct mercator b) {
    struct mercator ab = minus(b, a), ap = minus(p, a);
    double length2 = dot(ab, ab);
    double part = length2 > 0.0 ? dot(ap, ab) / length2 : 0.0;
    part = fmin(fmax(part, 0.0), 1.0);
    double x = ap.x - part * ab.x, y = ap.y - part * ab.y;
    return sqrt(x * x + y * y);
}

static bool cross_each_other(struct mercator a, struct mercator b,
                             struct mercator c, struct mercator d) {
    struct mercator ab = minus(b, a), cd = minus(d, c);
    return cross(ab, minus(c, a)) * cross(ab, minus(d, a)) < 0.0 &&
           cross(cd, minus(a, c)) * cross(cd, minus(b, c)) < 0.0;
}

static double line_to_line(struct mercator a, struct mercator b,
                           struct mercator c, struct mercator d) {
    if (cross_each_other(a, b, c, d))
        return 0.0;
    return fmin(fmin(point_to_line(a, c, d), point_to_line(b, c, d)),
                fmin(point_to_line(c, a, b), point_to_line(d, a, b)));
}

/* A line between two places, on the chart. */
struct line {
    struct mercator a, b;
};

static struct line line_of(struct position from, struct position to) {
    struct mercator a = mercator_of(from);
    bool point = memcmp(&from, &to, sizeof from) == 0;
    return (struct line){a, point ? a : mercator_near(to, a)};
}

static double bank_distance_m(const struct banks *banks, size_t index,
                              struct line line) {
    const struct bank_chart *chart = &banks->charts[index];
    double off = line.a.x - chart->a.x;
    double turn = off > PI ? -2.0 * PI : off < -PI ? 2.0 * PI : 0.0;
    line.a.x += turn;
    line.b.x += turn;
    return chart->scale_m * line_to_line(line.a, line.b, chart->a, chart->b) -
           banks->items[index].radius_m;
}

double banks_distance_m(const struct banks *banks, struct position from,
                        struct position to) {
    double least_m = HUGE_VAL;
    struct line line = line_of(from, to);
    for (size_t i = 0; i < banks->count; i++)
        least_m = fmin(least_m, bank_distance_m(banks, i, line));
    return least_m;
}

static enum obstacle blocked(const void *water, struct position from,
                             struct position to, double start_s, double end_s) {
    (void)start_s, (void)end_s;
    const struct banks *banks = water;
    struct line line = line_of(from, to);
    for (size_t i = 0; i < banks->count; i++)
        if (bank_distance_m(banks, i, line) <= 0.0)
            return banks->items[i].kind;
    return OBSTACLE_NONE;
}

static double room_m(const void *water, struct position at) {
    double least_m = banks_distance_m(water, at, at);
    return fmin(fmax(least_m, -VOYAGE_ROOM_M), VOYAGE_ROOM_M);
}

static double clear_m(const void *water, struct position at,
                      double direction_deg, double most_m) {
    double low_m = 0.0, high_m = most_m;
    struct position end = rhumb_ahead(at, direction_deg, most_m);
    if (blocked(water, at, end, 0.0, 0.0) == OBSTACLE_NONE)
        return most_m;
    while (high_m - low_m > 1.0) {
        double middle_m = 0.5 * (low_m + high_m);
        end = rhumb_ahead(at, direction_deg, middle_m);
        if (blocked(water, at, end, 0.0, 0.0) == OBSTACLE_NONE)
            low_m = middle_m;
        else
            high_m = middle_m;
    }
    return low_m;
}

void banks_put(struct voyage *voyage, struct banks *banks) {
    assert_true(banks->count <= MOST_BANKS);
    for (size_t i = 0; i < banks->count; i++) {
        const struct bank *bank = &banks->items[i];
        double lat_deg = 0.5 * (bank->a.lat_deg + bank->b.lat_deg);
        struct mercator a = mercator_of(bank->a);
        banks->charts[i] =
            (struct bank_chart){.a = a,
                                .b = mercator_near(bank->b, a),
                                .scale_m = mercator_scale_m(lat_deg)};
    }
    voyage->blocked = blocked;
    voyage->room_m = room_m;
    voyage->clear_m = clear_m;
    voyage->water = banks;
}
