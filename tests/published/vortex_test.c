/* The search against currents that turn, and turn ever faster. In the
 * textbooks' units: one unit of length is 20 nmi, and the boat makes 6 kn, a
 * unit of speed (flow.h). */
#include "../support/check.h"

#include "../support/fastest.h"
#include <math.h>

/* The search's own claim. */
#define TOLERANCE 0.001

/* The integrator's, and the earth's not being a plane. */
#define SAILED_TOLERANCE 0.0002

static void assert_fastest(const struct flow *flow, struct flow_way way) {
    assert_near(flow_miss(flow, &way), 0.0, TOLERANCE);
}

static void assert_sailed(const struct flow *flow, struct flow_way way) {
    assert_near(flow_sailed_miss(flow, &way), 0.0, SAILED_TOLERANCE);
}

/* --- vortex --------------------------------------------------------------- */

/* w = exp(-x^2 - y^2 + 0.25), u = y w, v = -x w, V = 1: Bryson and Ho 1975,
 * p. 77. It never exceeds 0.551. */
static struct plane_point vortex(struct plane_point place, double t) {
    (void)t;
    double w = exp(0.25 - place.x * place.x - place.y * place.y);
    return (struct plane_point){.x = place.y * w, .y = -place.x * w};
}

static const struct flow flow_vortex = {.unit_m = 20.0 * METRES_PER_NMI,
                                        .unit_mps = 6.0 * METRES_PER_NMI /
                                                    SECONDS_PER_HOUR,
                                        .box = {-4, -4, 4, 4},
                                        .most = 0.551,
                                        .at = vortex};

/* The published answer, 3.68200848 (tomdyn.com/examples/zermeloOne.html,
 * "Zermelos problem, version 1"), is a local one. The global one, calculated by
 * shooting from 100 starts and by a front of 14,401 rays: 3.5197397. */
static const struct flow_way round_vortex = {.name = "steady vortex",
                                             .from = {-2, 0},
                                             .to = {0.5, -1.6},
                                             .time = 3.519740,
                                             .heading_deg = 7.17197};

static const struct flow_way local_round_vortex = {
    .name = "steady vortex, the local optimum",
    .from = {-2, 0},
    .to = {0.5, -1.6},
    .time = 3.68200848,
    .heading_deg = 294.70097};

static void the_way_round_the_vortex_is_the_global_one(void **state) {
    (void)state;
    assert_fastest(&flow_vortex, round_vortex);
}

/* --- vortex with a sink, changing with time ------------------------------- */

/* u = s x - Om y, v = Om x + s y, Om = t - 0.5, s = -0.3: attributed to L.
 * Techy, "Optimal navigation in planar time-varying flow: Zermelo's problem
 * revisited", 2011, fig. 12; the paper was not seen. With z = x + iy and Phi =
 * t^2/2 - t/2 the least time is the smallest root T of |zf exp(-s T - i Phi(T))
 * - z0| = V (1 - exp(-s T)) / s. From t = 3.5 on, when all have arrived, the
 * vortex turns no faster, so that there is a strongest current. */
static const double SINK = -0.3, STEADY_FROM = 3.5;

static struct plane_point sinking(struct plane_point place, double t) {
    double turn = fmin(t, STEADY_FROM) - 0.5;
    return (struct plane_point){.x = SINK * place.x - turn * place.y,
                                .y = turn * place.x + SINK * place.y};
}

/* Its strongest: in a corner of the box, 3.25 * sqrt(3^2 + 0.3^2). */
static const struct flow whirl = {.unit_m = 20.0 * METRES_PER_NMI,
                                  .unit_mps =
                                      6.0 * METRES_PER_NMI / SECONDS_PER_HOUR,
                                  .box = {-2.3, -2.3, 2.3, 2.3},
                                  .most = 9.81,
                                  .at = sinking};

/* Calculated from the closed form. ln(1 + r s) / s to the distance r. */
static const struct flow_way half_out = {.name =
                                             "vortex and sink, half-way out",
                                         .to = {1, 0},
                                         .time = 1.188916480,
                                         .heading_deg = -6.434486};

/* Near this goal the current is five times as fast as the boat and turns as she
 * goes, and the courses over the ground that she can hold lie within 11 degrees
 * of it: cut into straight stretches of equal time, 160 of them lose 5 % and
 * 640 0.5 %. */
static const struct flow_way outwards = {.name = "vortex and sink, outwards",
                                         .to = {2, 0},
                                         .time = 3.054302440,
                                         .heading_deg = 180.249934};

/* -ln(1 - 2 s) / s */
static const struct flow_way inwards = {.name = "vortex and sink, inwards",
                                        .from = {2, 0},
                                        .time = 1.566678764,
                                        .heading_deg = 180.0};

static const struct flow_way past = {.name = "vortex and sink, past it",
                                     .from = {2, 0},
                                     .to = {-1, 1},
                                     .time = 2.042109017,
                                     .heading_deg = 117.069146};

static const struct flow_way opposite = {.name = "vortex and sink, opposite",
                                         .from = {1, 0},
                                         .to = {-1, 0},
                                         .time = 1.889074000,
                                         .heading_deg = 148.917941};

static void half_way_out_of_a_sink_that_turns_ever_faster(void **state) {
    (void)state;
    assert_fastest(&whirl, half_out);
}

static void outwards_from_a_sink_that_turns_ever_faster(void **state) {
    (void)state;
    assert_fastest(&whirl, outwards);
}

static void into_a_sink_that_turns_ever_faster(void **state) {
    (void)state;
    assert_fastest(&whirl, inwards);
}

static void past_a_sink_that_turns_ever_faster(void **state) {
    (void)state;
    assert_fastest(&whirl, past);
}

static void to_the_other_side_of_a_sink_that_turns(void **state) {
    (void)state;
    assert_fastest(&whirl, opposite);
}

/* --- all of them ---------------------------------------------------------- */

static void the_known_ways_take_their_time(void **state) {
    (void)state;
    assert_sailed(&flow_vortex, round_vortex);
    assert_sailed(&flow_vortex, local_round_vortex);
    assert_sailed(&whirl, outwards);
    assert_sailed(&whirl, half_out);
    assert_sailed(&whirl, inwards);
    assert_sailed(&whirl, past);
    assert_sailed(&whirl, opposite);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_known_ways_take_their_time),
        cmocka_unit_test(the_way_round_the_vortex_is_the_global_one),
        cmocka_unit_test(half_way_out_of_a_sink_that_turns_ever_faster),
        cmocka_unit_test(outwards_from_a_sink_that_turns_ever_faster),
        cmocka_unit_test(into_a_sink_that_turns_ever_faster),
        cmocka_unit_test(past_a_sink_that_turns_ever_faster),
        cmocka_unit_test(to_the_other_side_of_a_sink_that_turns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
