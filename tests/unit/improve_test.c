#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"
#include "search/improve.h"
#include <math.h>

static const struct position begin = {20.0, -40.0};
enum { PLACES = 7 };

/* A way of 200 nmi before the wind, more or less, its places up to 15 nmi off
 * the line, and how she is rigged at its start. Points into itself. */
struct passage {
    struct analytic weather;
    struct voyage voyage;
    struct vertex vertices[PLACES];
    struct track track;
    struct underway start;
};

static void lay_track(struct passage *passage, struct seed *seed) {
    for (int i = 0; i < PLACES; i++) {
        bool end = i == 0 || i == PLACES - 1;
        struct position at =
            geodesic_ahead(begin, 255.0, nmi_to_m(200.0) * i / (PLACES - 1));
        if (!end)
            at = rhumb_ahead(at, seed_between(seed, 0.0, 360.0),
                             nmi_to_m(seed_between(seed, 0.0, 15.0)));
        passage->vertices[i] = (struct vertex){.at = at, .pinned = end};
    }
    passage->track =
        (struct track){.vertices = passage->vertices, .count = PLACES};
}

static void make_passage(struct passage *passage, int index,
                         struct seed *seed) {
    passage->weather =
        (struct analytic){.wind_from_deg = seed_between(seed, 30.0, 120.0),
                          .wind_mps = seed_between(seed, 5.0, 9.0),
                          .veer_deg_per_day = seed_between(seed, -40.0, 40.0),
                          .veer_deg_per_lat_deg = seed_between(seed, -6.0, 6.0),
                          .lat_deg = begin.lat_deg,
                          .wave_m = 1.5,
                          .wave_period_s = 6.5,
                          .night_every_s = 86400.0,
                          .night_from_s = 43200.0};
    if (index % 3 == 2)
        passage->weather.current =
            vector_towards(seed_between(seed, 0.0, 360.0), 0.4);
    lay_track(passage, seed);
    passage->voyage =
        analytic_voyage(analytic_boat(index % 2 ? "heron-9" : "wanderer-12"),
                        &passage->weather, passage->vertices[PLACES - 1].at);
    passage->voyage.ease = index % 2;
    passage->start = sail_start(begin, (struct deck){.spar = SPAR_STOWED});
}

static struct improve_options options_of(bool rough) {
    return (struct improve_options){.first_step_m = nmi_to_m(8.0),
                                    .last_step_m = nmi_to_m(rough ? 1.0 : 0.1),
                                    .worth_frac = 2e-5,
                                    .spacing_m = nmi_to_m(4.0),
                                    .coarse = rough ? 2.0 : 1.0,
                                    .turns = rough ? 1 : 3};
}

static double cost_of(const struct passage *passage,
                      const struct track *track) {
    double elapsed_s;
    return track_cost(&passage->voyage, track, &passage->start, &elapsed_s);
}

static struct track improved(const struct passage *passage, bool rough,
                             struct arena *own) {
    struct improve_options options = options_of(rough);
    struct track track = track_copy(own, &passage->track);
    improve_track(&passage->voyage, &track, &passage->start, &options, own);
    return track;
}

/* Nor is a pinned place moved, nor does she creep. */
static void no_track_gets_dearer(void **state) {
    (void)state;
    struct seed seed = {51};
    for (int i = 0; i < 8; i++) {
        struct passage passage;
        make_passage(&passage, i, &seed);
        double before_s = cost_of(&passage, &passage.track);
        assert_true(isfinite(before_s));
        for (int rough = 0; rough < 2; rough++) {
            struct track track = improved(&passage, rough, &arena);
            double after_s = cost_of(&passage, &track);
            assert_true(after_s < before_s);
            assert_near(track.vertices[0].at.lon_deg, begin.lon_deg, 0.0);
            assert_near(track.vertices[track.count - 1].at.lon_deg,
                        passage.vertices[PLACES - 1].at.lon_deg, 0.0);
        }
    }
}

static double four_mps(double twa_deg) {
    (void)twa_deg;
    return 4.0;
}

/* At one speed on all courses the best way is the geodesic; from 0.1 to 4 %
 * above it the rough moves, too, come within 0.002 %. */
static void rough_moves_see_which_way_is_worth_more(void **state) {
    (void)state;
    struct seed seed = {52};
    struct boat *boat = analytic_free_boat(four_mps);
    for (int i = 0; i < 4; i++) {
        struct passage passage;
        make_passage(&passage, 0, &seed);
        passage.weather = (struct analytic){.wind_mps = 8.0};
        passage.voyage.boat = boat;
        double least_s = nmi_to_m(200.0) / 4.0;
        assert_true(cost_of(&passage, &passage.track) > 1.001 * least_s);
        for (int rough = 0; rough < 2; rough++) {
            struct track track = improved(&passage, rough, &arena);
            assert_true(cost_of(&passage, &track) < 1.0001 * least_s);
        }
    }
}

/* Where the spar pays from start to landfall it is set and stowed. */
static void the_spar_is_set_where_it_pays(void **state) {
    (void)state;
    struct seed seed = {53};
    struct passage passage;
    make_passage(&passage, 0, &seed);
    passage.weather = (struct analytic){.wind_from_deg = 80.0, .wind_mps = 7.0};
    struct track track = improved(&passage, false, &arena);
    bool set = false;
    for (size_t i = 0; i < track.count; i++)
        set = set || track.vertices[i].order.spar != SPAR_STOWED;
    assert_true(set);
    assert_int_equal(track.vertices[track.count - 2].order.spar, SPAR_STOWED);
}

static void check_same(const struct track *a, const struct track *b) {
    assert_int_equal(a->count, b->count);
    for (size_t i = 0; i < a->count; i++) {
        assert_memory_equal(&a->vertices[i].at, &b->vertices[i].at,
                            sizeof a->vertices[i].at);
        assert_int_equal(a->vertices[i].order.spar, b->vertices[i].order.spar);
        assert_int_equal(a->vertices[i].order.rolled,
                         b->vertices[i].order.rolled);
    }
}

/* The search improves several ways at once, each by a thread with an arena of
 * its own. */
static void in_threads_of_their_own_tracks_come_out_the_same(void **state) {
    (void)state;
    enum { WAYS = 3 };
    struct seed seed = {54};
    struct passage passages[WAYS];
    struct arena arenas[WAYS];
    struct track alone[WAYS], together[WAYS];
    for (int i = 0; i < WAYS; i++) {
        make_passage(&passages[i], i, &seed);
        alone[i] = improved(&passages[i], false, &arena);
    }
#pragma omp parallel for num_threads(3)
    for (int i = 0; i < WAYS; i++) {
        arena_init(&arenas[i]);
        together[i] = improved(&passages[i], false, &arenas[i]);
    }
    for (int i = 0; i < WAYS; i++) {
        check_same(&alone[i], &together[i]);
        arena_free(&arenas[i]);
    }
}

/* A track that can't be sailed, or creeps, has no cost. */
static void what_can_not_be_sailed_costs_more_than_anything(void **state) {
    (void)state;
    struct seed seed = {55};
    struct passage passage;
    make_passage(&passage, 0, &seed);
    passage.weather = (struct analytic){.wind_from_deg = 255.0,
                                        .wind_mps = 7.0}; /* dead to windward */
    lay_track(&passage, &seed);
    for (int i = 1; i + 1 < PLACES; i++)
        passage.vertices[i].at =
            geodesic_ahead(begin, 255.0, nmi_to_m(200.0) * i / (PLACES - 1));
    assert_true(isinf(cost_of(&passage, &passage.track)));
    passage.weather = (struct analytic){
        .wind_from_deg = 80.0, .wind_mps = 7.0, .horizon_s = 7200.0};
    assert_true(isinf(cost_of(&passage, &passage.track)));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_track_gets_dearer),
        cmocka_unit_test(rough_moves_see_which_way_is_worth_more),
        cmocka_unit_test(the_spar_is_set_where_it_pays),
        cmocka_unit_test(in_threads_of_their_own_tracks_come_out_the_same),
        cmocka_unit_test(what_can_not_be_sailed_costs_more_than_anything),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
