#include "banks.h"

#include "earth/mercator.h"
#include "earth/rhumb.h"

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
    return hypot(ap.x - part * ab.x, ap.y - part * ab.y);
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

static double bank_distance_m(const struct bank *bank, struct position from,
                              struct position to) {
    struct mercator a = mercator_of(bank->a), b = mercator_near(bank->b, a);
    double scale_m =
        mercator_scale_m(0.5 * (bank->a.lat_deg + bank->b.lat_deg));
    struct mercator p = mercator_near(from, a), q = mercator_near(to, p);
    return scale_m * line_to_line(p, q, a, b) - bank->radius_m;
}

double banks_distance_m(const struct banks *banks, struct position from,
                        struct position to) {
    double least_m = HUGE_VAL;
    for (size_t i = 0; i < banks->count; i++)
        least_m = fmin(least_m, bank_distance_m(&banks->items[i], from, to));
    return least_m;
}

static enum obstacle blocked(const void *water, struct position from,
                             struct position to, double start_s, double end_s) {
    (void)start_s, (void)end_s;
    const struct banks *banks = water;
    for (size_t i = 0; i < banks->count; i++)
        if (bank_distance_m(&banks->items[i], from, to) <= 0.0)
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

void banks_put(struct voyage *voyage, const struct banks *banks) {
    voyage->blocked = blocked;
    voyage->room_m = room_m;
    voyage->clear_m = clear_m;
    voyage->water = banks;
}
