#include "fastest.h"

#include "check.h"

#include "voyage/sail.h"
#include <math.h>
#include <time.h>

double fastest_miss(const char *name, const struct voyage *voyage,
                    struct position from, double known_s) {
    struct arena arena;
    arena_init(&arena);
    struct voyage stowed = *voyage;
    stowed.spar_allowed = false;
    struct search_request request = {.from = from, .to = voyage->finish};
    struct search_result result;
    clock_t start = clock();
    search_run(&stowed, &request, NULL, &arena, &result);
    double busy_s = (double)(clock() - start) / CLOCKS_PER_SEC;
    arena_free(&arena);
    if (!result.reached) {
        print_message("%-34s known %9.4f h, not reached: %s; %.2f s\n", name,
                      s_to_hours(known_s), obstacle_name(result.cause), busy_s);
        return HUGE_VAL;
    }
    double miss = result.elapsed_s / known_s - 1.0;
    print_message("%-34s known %9.4f h, found %9.4f h, %+.4f %%; %.2f s\n",
                  name, s_to_hours(known_s), s_to_hours(result.elapsed_s),
                  100.0 * miss, busy_s);
    return miss;
}

static struct voyage flow_voyage(const struct flow *flow,
                                 const struct analytic *weather,
                                 const struct flow_way *way) {
    return analytic_voyage(analytic_free_boat(flow_six_kn), weather,
                           flow_place(flow, way->to));
}

double flow_miss(const struct flow *flow, const struct flow_way *way) {
    struct analytic weather = flow_weather(flow);
    struct voyage voyage = flow_voyage(flow, &weather, way);
    return fastest_miss(way->name, &voyage, flow_place(flow, way->from),
                        way->time * flow_unit_s(flow));
}

/* --- the known way -------------------------------------------------------- */

/* A boat on it: place, heading in radians. */
struct known {
    double x, y, heading;
};

static struct known plus(struct known a, struct known b, double times) {
    return (struct known){a.x + times * b.x, a.y + times * b.y,
                          a.heading + times * b.heading};
}

/* How it changes: theta' = sin^2 v_x + sin cos (u_x - v_y) - cos^2 u_y (A. E.
 * Bryson, Y.-C. Ho, "Applied Optimal Control", 1975, section 2.7; from memory),
 * derivatives by differences. */
static struct known rate(const struct flow *flow, struct known at, double t) {
    const double h = 1e-4;
    double speed = flow_six_kn(0.0) / flow->unit_mps;
    struct plane_point here = flow->at((struct plane_point){at.x, at.y}, t);
    struct plane_point east = flow->at((struct plane_point){at.x + h, at.y}, t);
    struct plane_point west = flow->at((struct plane_point){at.x - h, at.y}, t);
    struct plane_point up = flow->at((struct plane_point){at.x, at.y + h}, t);
    struct plane_point down = flow->at((struct plane_point){at.x, at.y - h}, t);
    double u_x = (east.x - west.x) / (2.0 * h);
    double v_x = (east.y - west.y) / (2.0 * h);
    double u_y = (up.x - down.x) / (2.0 * h);
    double v_y = (up.y - down.y) / (2.0 * h);
    double sine = sin(at.heading), cosine = cos(at.heading);
    return (struct known){
        .x = speed * cosine + here.x,
        .y = speed * sine + here.y,
        .heading = sine * sine * v_x + sine * cosine * (u_x - v_y) -
                   cosine * cosine * u_y,
    };
}

/* One step of Runge and Kutta's classic method. */
static struct known step(const struct flow *flow, struct known at, double t,
                         double dt) {
    struct known a = rate(flow, at, t);
    struct known b = rate(flow, plus(at, a, 0.5 * dt), t + 0.5 * dt);
    struct known c = rate(flow, plus(at, b, 0.5 * dt), t + 0.5 * dt);
    struct known d = rate(flow, plus(at, c, dt), t + dt);
    at = plus(at, a, dt / 6.0);
    at = plus(at, b, dt / 3.0);
    at = plus(at, c, dt / 3.0);
    return plus(at, d, dt / 6.0);
}

void flow_known_places(const struct flow *flow, const struct flow_way *way,
                       size_t count, struct position *places) {
    enum { STEPS = 8000 };
    struct known at = {way->from.x, way->from.y,
                       way->heading_deg * RADIANS_PER_DEGREE};
    double dt = way->time / STEPS;
    places[0] = flow_place(flow, way->from);
    for (size_t i = 1; i <= STEPS; i++) {
        at = step(flow, at, (double)(i - 1) * dt, dt);
        if (i * (count - 1) % STEPS == 0)
            places[i * (count - 1) / STEPS] =
                flow_place(flow, (struct plane_point){at.x, at.y});
    }
    assert_near(hypot(at.x - way->to.x, at.y - way->to.y), 0.0, 0.001);
}

double flow_sailed_miss(const struct flow *flow, const struct flow_way *way) {
    enum { PLACES = 8001 };
    static struct position places[PLACES];
    flow_known_places(flow, way, PLACES, places);
    struct analytic weather = flow_weather(flow);
    struct voyage voyage = flow_voyage(flow, &weather, way);
    struct underway boat =
        sail_start(places[0], (struct deck){.spar = SPAR_STOWED});
    for (size_t i = 1; i < PLACES; i++)
        assert_int_equal(sail_to(&voyage, &boat, places[i], NULL),
                         OBSTACLE_NONE);
    double miss = boat.t_s / (way->time * flow_unit_s(flow)) - 1.0;
    print_message("%-34s known way sailed: %+.4f %%\n", way->name,
                  100.0 * miss);
    return miss;
}
