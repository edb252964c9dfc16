#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "earth/geodesic.h"
#include "search/improve.h"
#include "search/search.h"
#include <math.h>
#include <string.h>

static const struct position begin = {20.0, -40.0};

/* 100 nmi to the west, the trade wind on the quarter, turning with latitude. */
static const struct analytic trades = {.wind_from_deg = 60.0,
                                       .wind_mps = 7.0,
                                       .veer_deg_per_lat_deg = 8.0,
                                       .veer_deg_per_day = 20.0,
                                       .lat_deg = 20.0,
                                       .wave_m = 1.5,
                                       .wave_period_s = 6.5};

static struct voyage voyage_of(const struct analytic *weather) {
    struct voyage voyage =
        analytic_voyage(analytic_boat("heron-9"), weather,
                        geodesic_ahead(begin, 262.0, nmi_to_m(100.0)));
    voyage.spar_allowed = false; /* for speed */
    return voyage;
}

static struct search_request request_of(const struct voyage *voyage) {
    return (struct search_request){
        .from = begin, .to = voyage->finish, .start = {.spar = SPAR_STOWED}};
}

static struct search_result search(const struct voyage *voyage,
                                   const struct search_request *request) {
    struct search_result result;
    search_run(voyage, request, NULL, &arena, &result);
    return result;
}

/* The figures told are those of the track; what refining took off is told,
 * too, and was not below what the fronts had found. */
static void what_is_told_is_what_the_track_costs(void **state) {
    (void)state;
    for (int ease = 0; ease < 2; ease++) {
        struct voyage voyage = voyage_of(&trades);
        voyage.ease = ease;
        voyage.spar_allowed = ease > 0;
        struct search_request request = request_of(&voyage);
        struct search_result result = search(&voyage, &request);
        struct underway start = sail_start(begin, request.start);
        double elapsed_s;
        assert_true(result.reached && result.sailed);
        assert_near(track_cost(&voyage, &result.track, &start, &elapsed_s),
                    result.cost_s, 1e-6);
        assert_near(elapsed_s, result.elapsed_s, 1e-6);
        assert_true(result.refined_s > 0.0);
        assert_true(result.refined_s < 0.1 * result.cost_s);
    }
}

/* More work finds nothing worse, to a five hundredth; less work is less. An
 * effort of 0 is that of 1. */
static void effort_is_work_and_work_pays(void **state) {
    (void)state;
    static const double efforts[] = {0.1, 0.0, 1.0};
    size_t expansions[3];
    double cost_s[3];
    struct voyage voyage = voyage_of(&trades);
    for (int i = 0; i < 3; i++) {
        struct search_request request = request_of(&voyage);
        request.effort = efforts[i];
        struct search_result result = search(&voyage, &request);
        assert_true(result.reached);
        assert_true(result.refined_s >= 0.0);
        expansions[i] = result.expansions;
        cost_s[i] = result.cost_s;
    }
    assert_true(2 * expansions[0] < expansions[1]);
    assert_int_equal(expansions[1], expansions[2]);
    assert_near(cost_s[1], cost_s[2], 0.0);
    assert_true(cost_s[1] <= 1.002 * cost_s[0]);
    assert_true(cost_s[0] <= 1.01 * cost_s[1]);
}

/* Where no way is found nothing was refined, and the cause is told. */
static void without_a_way_nothing_is_refined(void **state) {
    (void)state;
    static const struct {
        double max_wind_mps, horizon_s; /* 0: none */
        enum obstacle cause;
        bool sailed;
    } rows[] = {{6.0, 0.0, OBSTACLE_WIND, false},
                {0.0, 18000.0, OBSTACLE_HORIZON, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = trades;
        weather.horizon_s = rows[i].horizon_s;
        struct voyage voyage = voyage_of(&weather);
        if (rows[i].max_wind_mps > 0.0)
            voyage.max_wind_mps = figure_of(rows[i].max_wind_mps);
        struct search_request request = request_of(&voyage);
        struct search_result result = search(&voyage, &request);
        assert_false(result.reached);
        assert_int_equal(result.sailed, rows[i].sailed);
        assert_int_equal(result.cause, rows[i].cause);
        assert_near(result.refined_s, 0.0, 0.0);
    }
}

/* Places to pass are vertices of the track, pinned, in their order. */
static void places_to_pass_are_passed(void **state) {
    (void)state;
    const struct position via[] = {
        geodesic_ahead(begin, 250.0, nmi_to_m(35.0)),
        geodesic_ahead(begin, 270.0, nmi_to_m(70.0))};
    struct voyage voyage = voyage_of(&trades);
    struct search_request request = request_of(&voyage);
    double free_s = search(&voyage, &request).cost_s;
    request.via = via;
    request.via_count = 2;
    struct search_result result = search(&voyage, &request);
    size_t passed = 0;
    for (size_t i = 0; i < result.track.count; i++) {
        const struct vertex *v = &result.track.vertices[i];
        if (passed < 2 && memcmp(&v->at, &via[passed], sizeof v->at) == 0) {
            assert_true(v->pinned);
            passed++;
        }
    }
    assert_true(result.reached);
    assert_int_equal(passed, 2);
    assert_true(result.cost_s > 1.005 * free_s);
}

/* To windward, where she closes with the goal slowly, then dead before the
 * wind, where to gybe pays: together what either part costs alone. In a steady
 * wind it does not matter when she is there. */
static void a_slow_part_does_not_spoil_a_fast_one(void **state) {
    (void)state;
    const struct analytic steady = {.wind_from_deg = 90.0, .wind_mps = 4.0};
    const struct position windward =
        geodesic_ahead(begin, 90.0, nmi_to_m(40.0));
    struct voyage voyage = voyage_of(&steady);
    struct search_request request = request_of(&voyage);
    request.to = windward;
    double cost_s = search(&voyage, &request).cost_s;
    request.from = windward;
    request.to = voyage.finish;
    cost_s += search(&voyage, &request).cost_s;
    request.from = begin;
    request.via = &windward;
    request.via_count = 1;
    struct search_result result = search(&voyage, &request);
    assert_true(result.reached);
    assert_true(result.cost_s < 1.004 * cost_s);
}

struct heard {
    double done;
    int count;
};

static void hear(void *context, const char *stage, double done_frac) {
    struct heard *heard = context;
    assert_non_null(stage);
    assert_true(done_frac >= heard->done && done_frac <= 1.0);
    heard->done = done_frac;
    heard->count++;
}

static void progress_goes_on_up_to_the_end(void **state) {
    (void)state;
    struct heard heard = {0.0, 0};
    struct search_progress progress = {.report = hear, .context = &heard};
    struct voyage voyage = voyage_of(&trades);
    struct search_request request = request_of(&voyage);
    struct search_result result;
    search_run(&voyage, &request, &progress, &arena, &result);
    assert_near(heard.done, 1.0, 0.0);
    assert_true(heard.count >= 5);
}

struct nearing {
    struct track best;
    int count;
};

static void hear_nearly_done(void *context, const struct track *best) {
    struct nearing *nearing = context;
    nearing->best = track_copy(&arena, best);
    nearing->count++;
}

/* Once, with a track that is hardly dearer than that of the end. */
static void the_best_track_is_told_before_its_last_moves(void **state) {
    (void)state;
    struct nearing nearing = {.count = 0};
    struct search_progress progress = {.nearly_done = hear_nearly_done,
                                       .context = &nearing};
    struct voyage voyage = voyage_of(&trades);
    struct search_request request = request_of(&voyage);
    struct underway start = sail_start(begin, request.start);
    struct search_result result;
    double elapsed_s;
    search_run(&voyage, &request, &progress, &arena, &result);
    assert_int_equal(nearing.count, 1);
    double cost_s = track_cost(&voyage, &nearing.best, &start, &elapsed_s);
    assert_true(cost_s >= result.cost_s);
    assert_true(cost_s < 1.005 * result.cost_s);
}

static enum obstacle nothing_bars(const void *water, struct position from,
                                  struct position to, double start_s,
                                  double end_s) {
    (void)water, (void)from, (void)to, (void)start_s, (void)end_s;
    return OBSTACLE_NONE;
}

/* With a value every 120 nmi and 12 h, a passage of 100 nmi needs no layer of
 * a mile and a half; where no grain is known, or shores count, all layers are
 * searched. */
static void coarse_weather_takes_less_work(void **state) {
    (void)state;
    struct voyage voyage = voyage_of(&trades);
    struct search_request request = request_of(&voyage);
    struct search_result fine = search(&voyage, &request);
    voyage.grain = (struct grain){nmi_to_m(120.0), 12.0 * SECONDS_PER_HOUR};
    struct search_result coarse = search(&voyage, &request);
    assert_true((double)coarse.expansions < 0.8 * (double)fine.expansions);
    assert_near(coarse.cost_s, fine.cost_s, 1e-3 * fine.cost_s);
    voyage.grain.metres = nmi_to_m(1.0);
    assert_int_equal(search(&voyage, &request).expansions, fine.expansions);
    voyage.grain.metres = nmi_to_m(120.0);
    voyage.blocked = nothing_bars;
    assert_int_equal(search(&voyage, &request).expansions, fine.expansions);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_told_is_what_the_track_costs),
        cmocka_unit_test(effort_is_work_and_work_pays),
        cmocka_unit_test(without_a_way_nothing_is_refined),
        cmocka_unit_test(places_to_pass_are_passed),
        cmocka_unit_test(a_slow_part_does_not_spoil_a_fast_one),
        cmocka_unit_test(progress_goes_on_up_to_the_end),
        cmocka_unit_test(the_best_track_is_told_before_its_last_moves),
        cmocka_unit_test(coarse_weather_takes_less_work),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
