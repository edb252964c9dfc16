/* The search against a second one that shares nothing with it but the physics
 * (support/lattice.h), on three forecasts. Each figure is printed. */
#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/crossing.h"
#include "../support/lattice.h"
#include "../support/retime.h"
#include "base/units.h"
#include "earth/geodesic.h"

#include <math.h>
#include <time.h>

/* Of the cost of the reference: the search may be so much above, and no more
 * than that below, or the reference is wrong. */
static const double ABOVE_FRAC = 0.001, BELOW_FRAC = 0.003;

/* Of the time, between the integrator and the second one. */
static const double TIME_FRAC = 0.0002;

enum { PASSES = 5 };

static double cpu_s(void) {
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void print_passes(const struct lattice_pass *passes,
                         const struct lattice_result *results, size_t count) {
    for (size_t i = 0; i < count; i++)
        print_message("  %4.1f nmi, reach %d: cost %.1f, elapsed %.1f, "
                      "%zu labels, %zu edges, %zu points\n",
                      m_to_nmi(passes[i].spacing_m), passes[i].reach,
                      results[i].cost_s, results[i].elapsed_s,
                      results[i].labels, results[i].edges, results[i].count);
}

/* --- the reference against what is known ----------------------------------*/

static const struct lattice_pass known_passes[] = {
    {20.0 * METRES_PER_NMI, 5, 0.0}, {10.0 * METRES_PER_NMI, 8, 0.0}};

static double four_mps(double twa_deg) {
    (void)twa_deg;
    return 4.0;
}

/* Best made good before the wind at 135 degrees: half of this speed. */
static double eight_sine_mps(double twa_deg) {
    return 8.0 * sin(twa_deg * RADIANS_PER_DEGREE);
}

/* Cost of the reference in parts of what it should be. */
static double reference_frac(double (*speed_mps)(double), double first_deg,
                             struct position from, struct position to,
                             double best_s) {
    struct arena arena;
    struct boat *boat = analytic_boat_copy("wanderer-12");
    struct analytic weather = {.wind_mps = 7.0}; /* from the north */
    boat->stowed = boat->spar_out = analytic_polar(speed_mps, first_deg);
    analytic_widen_limits(boat);
    analytic_free_changes(boat);
    struct voyage voyage = analytic_voyage(boat, &weather, to);
    struct lattice_result results[2];
    arena_init(&arena);
    lattice_run(&voyage, &(struct lattice_request){from, known_passes, 2},
                &arena, results);
    print_passes(known_passes, results, 2);
    print_message("  %.5f of what is known\n", results[1].cost_s / best_s);
    assert_true(results[1].reached);
    arena_free(&arena);
    return results[1].cost_s / best_s;
}

static void reference_goes_straight_at_constant_speed(void **state) {
    (void)state;
    struct position from = {20.0, -40.0}, to = {18.0, -34.0};
    double best_s = geodesic_between(from, to).distance_m / 4.0;
    double frac = reference_frac(four_mps, 0.0, from, to, best_s);
    assert_true(frac >= 1.0 - 1e-6);
    assert_true(frac < 1.0002);
}

static void reference_gybes_dead_before_the_wind(void **state) {
    (void)state;
    struct position from = {20.0, -40.0}, to = {15.0, -40.0};
    double best_s = geodesic_between(from, to).distance_m / 4.0;
    double frac = reference_frac(eight_sine_mps, 1.0, from, to, best_s);
    /* Edges there are 2.7 degrees apart: a course is up to 1.4 degrees off and
     * loses 1 - cos(2 * 1.4 degrees), 0.0012. The polar is a polygon. */
    assert_true(frac >= 1.0 - 0.00004);
    assert_true(frac < 1.0015);
}

/* --- the search against the reference -------------------------------------*/

/* A track of so many seconds by the integrator takes as long by the second one:
 * by a strict eye, or one that overlooks what no crew would see. */
static void check_time(const struct crossing *crossing, const char *name,
                       const struct track *track, const struct underway *start,
                       double elapsed_s) {
    struct retime_options options[2] = {retime_strictly(), retime_leniently()};
    double least_frac = HUGE_VAL;
    for (int i = 0; i < 2; i++) {
        struct retimed retimed =
            retime_track(&crossing->voyage, track, start, &options[i]);
        double frac = elapsed_s / retimed.t_s - 1.0;
        print_message("  %s again by steps of 10 s, %s: %+.4f %%\n", name,
                      i == 0 ? "strictly" : "leniently", 100.0 * frac);
        if (retimed.obstacle == OBSTACLE_NONE)
            least_frac = fmin(least_frac, fabs(frac));
    }
    assert_true(least_frac < TIME_FRAC);
}

static void check_reference(struct crossing *crossing,
                            const struct lattice_result *result) {
    struct track track = {.count = result->count};
    struct underway start = sail_start(crossing->asked.from, result->start);
    track.vertices =
        arena_alloc(&crossing->arena, track.count, sizeof *track.vertices);
    for (size_t i = 0; i < track.count; i++)
        track.vertices[i] = (struct vertex){.at = result->points[i].at,
                                            .order = result->points[i].order};
    check_time(crossing, "reference", &track, &start, result->elapsed_s);
}

static void check_search(struct crossing *crossing,
                         const struct search_result *found) {
    struct underway start =
        sail_start(crossing->asked.from, crossing->asked.start);
    start = track_start(&crossing->voyage, &found->track, &start);
    check_time(crossing, "search", &found->track, &start, found->elapsed_s);
}

static void compare(struct crossing *crossing, double ease,
                    const struct lattice_pass passes[PASSES]) {
    struct lattice_result results[PASSES];
    struct search_result found;
    size_t count = 0;
    while (count < PASSES && passes[count].reach > 0)
        count++;
    crossing->voyage.ease = ease;
    double began_s = cpu_s();
    search_run(&crossing->voyage, &crossing->asked, NULL, &crossing->arena,
               &found);
    double searched_s = cpu_s();
    lattice_run(&crossing->voyage,
                &(struct lattice_request){crossing->asked.from, passes, count},
                &crossing->arena, results);
    const struct lattice_result *reference = &results[count - 1];
    double frac = found.cost_s / reference->cost_s - 1.0;
    print_message("%s, ease %g: search %.1f (elapsed %.1f), reference %.1f "
                  "(%.1f): %+.3f %%; %.1f and %.1f s of processor time\n",
                  crossing->name, ease, found.cost_s, found.elapsed_s,
                  reference->cost_s, reference->elapsed_s, 100.0 * frac,
                  searched_s - began_s, cpu_s() - searched_s);
    print_passes(passes, results, count);
    assert_true(found.reached && reference->reached);
    check_reference(crossing, reference);
    check_search(crossing, &found);
    assert_true(frac < ABOVE_FRAC);
    assert_true(frac > -BELOW_FRAC);
    crossing_free(crossing);
}

#define NMI METRES_PER_NMI
#define MINUTES(minutes) ((minutes)*60.0)

/* Spacings by the length of the way; where the best way turns with the wind at
 * the end of the spar's range, they have to be small. */
static const struct lattice_pass low_passes[PASSES] = {
    {34.0 * NMI, 5, 0.0}, {17.0 * NMI, 6, 0.0}, {8.5 * NMI, 8, 0.0}};
static const struct lattice_pass low_eased_passes[PASSES] = {
    {40.0 * NMI, 5, MINUTES(60)},
    {20.0 * NMI, 6, MINUTES(60)},
    {10.0 * NMI, 6, MINUTES(30)}};
static const struct lattice_pass madagascar_passes[PASSES] = {
    {20.0 * NMI, 5, 0.0},
    {10.0 * NMI, 6, 0.0},
    {5.0 * NMI, 6, 0.0},
    {2.5 * NMI, 8, 0.0}};
static const struct lattice_pass madagascar_eased_passes[PASSES] = {
    {20.0 * NMI, 5, MINUTES(60)},
    {10.0 * NMI, 6, MINUTES(60)},
    {5.0 * NMI, 6, MINUTES(30)},
    {2.5 * NMI, 6, MINUTES(30)},
    {1.25 * NMI, 8, MINUTES(30)}};
static const struct lattice_pass trades_passes[PASSES] = {
    {40.0 * NMI, 5, 0.0}, {20.0 * NMI, 6, 0.0}, {10.0 * NMI, 8, 0.0}};
static const struct lattice_pass trades_eased_passes[PASSES] = {
    {40.0 * NMI, 5, MINUTES(60)},
    {20.0 * NMI, 6, MINUTES(60)},
    {10.0 * NMI, 6, MINUTES(30)},
    {5.0 * NMI, 6, MINUTES(30)}};

static struct crossing crossing;

static void need_long(void) {
    if (check_is_long())
        return;
    print_message("skipped: too slow but for make check-long\n");
    skip();
}

static void search_is_the_best_way_round_a_low(void **state) {
    (void)state;
    crossing_low(&crossing);
    compare(&crossing, 0.0, low_passes);
}

static void search_is_the_best_way_on_real_winds(void **state) {
    (void)state;
    need_long();
    if (!crossing_madagascar(&crossing))
        skip();
    compare(&crossing, 0.0, madagascar_passes);
}

static void search_is_the_best_way_before_the_trades(void **state) {
    (void)state;
    need_long();
    crossing_trades(&crossing);
    compare(&crossing, 0.0, trades_passes);
}

static void search_is_the_easiest_way_round_a_low(void **state) {
    (void)state;
    need_long();
    crossing_low(&crossing);
    compare(&crossing, 1.0, low_eased_passes);
}

static void search_is_the_easiest_way_on_real_winds(void **state) {
    (void)state;
    need_long();
    if (!crossing_madagascar(&crossing))
        skip();
    compare(&crossing, 1.0, madagascar_eased_passes);
}

static void search_is_the_easiest_way_before_the_trades(void **state) {
    (void)state;
    need_long();
    crossing_trades(&crossing);
    compare(&crossing, 1.0, trades_eased_passes);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reference_goes_straight_at_constant_speed),
        cmocka_unit_test(reference_gybes_dead_before_the_wind),
        cmocka_unit_test(search_is_the_best_way_round_a_low),
        cmocka_unit_test(search_is_the_best_way_on_real_winds),
        cmocka_unit_test(search_is_the_best_way_before_the_trades),
        cmocka_unit_test(search_is_the_easiest_way_round_a_low),
        cmocka_unit_test(search_is_the_easiest_way_on_real_winds),
        cmocka_unit_test(search_is_the_easiest_way_before_the_trades),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
