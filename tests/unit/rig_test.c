#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "earth/rhumb.h"
#include "search/rig.h"
#include <math.h>

static const struct position begin = {20.0, -40.0};

static const struct deck orders[] = {{.spar = SPAR_STOWED},
                                     {.spar = SPAR_PORT},
                                     {.spar = SPAR_STARBOARD},
                                     {.spar = SPAR_PORT, .rolled = true},
                                     {.spar = SPAR_STARBOARD, .rolled = true}};
enum { ORDERS = 5, STRETCHES = 5 };

/* A short passage to the west, weaving a little. */
struct passage {
    struct analytic weather;
    struct voyage voyage;
    struct vertex vertices[STRETCHES + 1];
    struct track track;
    struct underway start;
};

/* Lengths of the stretches, nmi: the same all the way, or a long one and short
 * ones up to the landfall circle, on which the spar has to come in. */
static const double even_nmi[STRETCHES] = {9.0, 9.0, 9.0, 9.0, 9.0};
static const double landfall_nmi[STRETCHES] = {25.0, 0.45, 0.45, 0.45, 5.1};

static void make_passage_of(struct passage *passage,
                            const double length_nmi[STRETCHES], bool steady,
                            struct seed *seed) {
    const char *boat =
        seed_between(seed, 0.0, 1.0) < 0.5 ? "heron-9" : "wanderer-12";
    double ease = seed_between(seed, -1.0, 2.0);
    passage->weather = (struct analytic){
        .wind_from_deg = seed_between(seed, 30.0, 150.0),
        .wind_mps = seed_between(seed, 4.0, 9.0),
        .veer_deg_per_day = steady ? 0.0 : seed_between(seed, -60.0, 60.0),
        .wave_m = seed_between(seed, 0.5, 2.0),
        .wave_period_s = 7.0,
        .night_every_s = steady ? 0.0 : 86400.0,
        .night_from_s = seed_between(seed, 0.0, 43200.0)};
    struct position at = begin;
    for (int i = 0; i <= STRETCHES; i++) {
        passage->vertices[i] = (struct vertex){.at = at};
        double course_deg = seed_between(seed, 245.0, 295.0);
        if (i < STRETCHES)
            at = rhumb_ahead(at, course_deg, nmi_to_m(length_nmi[i]));
    }
    passage->track =
        (struct track){.vertices = passage->vertices, .count = STRETCHES + 1};
    passage->voyage = analytic_voyage(analytic_boat(boat), &passage->weather,
                                      passage->vertices[STRETCHES].at);
    passage->voyage.ease = fmax(0.0, ease);
    int rigged = (int)seed_between(seed, 0.0, 2.999);
    passage->start = sail_start(begin, orders[rigged]);
}

static void make_passage(struct passage *passage, bool steady,
                         struct seed *seed) {
    make_passage_of(passage, even_nmi, steady, seed);
}

/* The cheapest of all ways to give an order at each vertex, with the wind on
 * either side at the start; HUGE_VAL where none ends with the spar stowed. */
static double cheapest_s(struct passage *passage) {
    double best_s = HUGE_VAL;
    int ways = 1;
    for (int i = 0; i + 1 < STRETCHES; i++)
        ways *= ORDERS; /* the last stretch is sailed stowed */
    for (int way = 0; way < 2 * ways; way++) {
        struct underway boat = passage->start;
        boat.deck.wind_starboard = way % 2;
        for (int i = 0, rest = way / 2; i + 1 < STRETCHES; i++, rest /= ORDERS)
            passage->vertices[i].order = orders[rest % ORDERS];
        passage->vertices[STRETCHES - 1].order = orders[0];
        if (track_sail(&passage->voyage, &passage->track, &boat, NULL) ==
            OBSTACLE_NONE)
            best_s = fmin(best_s, boat.cost_s);
    }
    return best_s;
}

static double sailed_s(struct passage *passage) {
    struct underway boat =
        track_start(&passage->voyage, &passage->track, &passage->start);
    assert_int_equal(track_sail(&passage->voyage, &passage->track, &boat, NULL),
                     OBSTACLE_NONE);
    assert_int_equal(boat.deck.spar, SPAR_STOWED);
    return boat.cost_s;
}

/* How many of `cases` passages find cheaper orders than rig_track() by trying
 * them all. What it promises must be what its track costs. */
static int count_beaten(const double length_nmi[STRETCHES], bool steady,
                        int cases) {
    struct seed seed = {31};
    int beaten = 0;
    for (int i = 0; i < cases; i++) {
        struct passage passage;
        make_passage_of(&passage, length_nmi, steady, &seed);
        double brute_s = cheapest_s(&passage), rigged_s = 0.0;
        enum obstacle obstacle = rig_track(&passage.voyage, &passage.track,
                                           &passage.start, &arena, &rigged_s);
        assert_int_equal(obstacle == OBSTACLE_NONE, isfinite(brute_s));
        if (obstacle != OBSTACLE_NONE)
            continue;
        assert_near(sailed_s(&passage), rigged_s, 0.01);
        assert_true(rigged_s > brute_s - 0.01); /* brute force tries it too */
        beaten += rigged_s > brute_s + 0.01;
    }
    return beaten;
}

static void in_a_steady_wind_no_other_orders_are_cheaper(void **state) {
    (void)state;
    assert_int_equal(count_beaten(even_nmi, true, check_is_long() ? 500 : 40),
                     0);
}

/* A boat that stows later is the cheaper one up to the circle, and bars the way
 * of none that has stowed in time. */
static void before_landfall_the_spar_is_stowed_in_time(void **state) {
    (void)state;
    int cases = check_is_long() ? 500 : 40;
    assert_int_equal(count_beaten(landfall_nmi, true, cases), 0);
}

/* Of two ways to a vertex in one deck state the cheaper is kept; where wind and
 * light change, the other may come later and so do without a gybe or meet the
 * day. That is rare: 5 of 500 passages with up to 60 degrees of shift a day. */
static void
in_a_shifting_wind_other_orders_are_hardly_ever_cheaper(void **state) {
    (void)state;
    int cases = check_is_long() ? 500 : 40;
    assert_true(count_beaten(even_nmi, false, cases) <= cases / 40);
}

/* --- more vertices, fewer vertices ---------------------------------------- */

static void dividing_changes_neither_way_nor_time(void **state) {
    (void)state;
    struct seed seed = {77};
    for (int i = 0; i < 20; i++) {
        struct passage passage;
        make_passage(&passage, i % 2 == 0, &seed);
        passage.start.deck = orders[0];
        struct track divided =
            rig_divide(&passage.voyage, &passage.track, nmi_to_m(2.0), &arena);
        assert_true(divided.count > 3 * passage.track.count);
        struct underway whole =
            track_start(&passage.voyage, &passage.track, &passage.start);
        struct underway parts =
            track_start(&passage.voyage, &divided, &passage.start);
        track_sail(&passage.voyage, &passage.track, &whole, NULL);
        track_sail(&passage.voyage, &divided, &parts, NULL);
        assert_near(parts.t_s / whole.t_s, 1.0, 2e-4);
        assert_near(parts.sailed_m, whole.sailed_m, 1.0);
    }
}

static void divided_tracks_are_fine_enough_everywhere(void **state) {
    (void)state;
    struct seed seed = {78};
    struct passage passage;
    make_passage(&passage, true, &seed);
    struct track divided =
        rig_divide(&passage.voyage, &passage.track, nmi_to_m(4.0), &arena);
    double landfall_m = passage.voyage.boat->spar.landfall_m;
    int near = 0;
    for (size_t i = 0; i + 1 < divided.count; i++) {
        struct position at = divided.vertices[i].at;
        double length_m =
            rhumb_between(at, divided.vertices[i + 1].at).distance_m;
        double off_m =
            rhumb_between(at, passage.voyage.finish).distance_m - landfall_m;
        bool is_near = off_m > 0.0 && off_m < nmi_to_m(5.0);
        assert_true(length_m <= nmi_to_m(is_near ? 0.76 : 6.01));
        near += is_near;
    }
    assert_true(near >= 6);
}

static void thinning_keeps_the_places_and_every_order(void **state) {
    (void)state;
    struct seed seed = {79};
    for (int i = 0; i < 20; i++) {
        struct passage passage;
        double cost_s;
        make_passage(&passage, false, &seed);
        struct track divided =
            rig_divide(&passage.voyage, &passage.track, nmi_to_m(3.0), &arena);
        if (rig_track(&passage.voyage, &divided, &passage.start, &arena,
                      &cost_s) != OBSTACLE_NONE)
            continue;
        struct track thin = rig_thin(&divided, &arena);
        assert_true(thin.count < divided.count / 2);
        struct underway boat =
            track_start(&passage.voyage, &thin, &passage.start);
        assert_int_equal(track_sail(&passage.voyage, &thin, &boat, NULL),
                         OBSTACLE_NONE);
        assert_near(boat.cost_s / cost_s, 1.0, 1e-3);
        size_t places = 0;
        for (size_t k = 0; k < thin.count; k++)
            places += !thin.vertices[k].added;
        assert_int_equal(places, passage.track.count);
    }
}

static void without_the_spar_nothing_is_ordered(void **state) {
    (void)state;
    struct seed seed = {80};
    for (int i = 0; i < 10; i++) {
        struct passage passage;
        double cost_s;
        make_passage(&passage, false, &seed);
        passage.voyage.spar_allowed = false;
        passage.start.deck = orders[0];
        assert_int_equal(rig_track(&passage.voyage, &passage.track,
                                   &passage.start, &arena, &cost_s),
                         OBSTACLE_NONE);
        for (size_t k = 0; k + 1 < passage.track.count; k++)
            assert_int_equal(passage.vertices[k].order.spar, SPAR_STOWED);
    }
}

static void a_track_too_short_to_stow_on_says_why(void **state) {
    (void)state;
    struct seed seed = {81};
    struct passage passage;
    double cost_s;
    make_passage(&passage, true, &seed);
    passage.start.deck = orders[1];
    passage.vertices[1].at =
        rhumb_ahead(begin, 270.0, nmi_to_m(5.3)); /* 15 minutes are too long */
    passage.track.count = 2;
    passage.voyage.finish = passage.vertices[1].at;
    assert_int_equal(rig_track(&passage.voyage, &passage.track, &passage.start,
                               &arena, &cost_s),
                     OBSTACLE_LANDFALL);
    passage.voyage.starts_near_finish = true;
    assert_int_equal(rig_track(&passage.voyage, &passage.track, &passage.start,
                               &arena, &cost_s),
                     OBSTACLE_NONE);
    assert_int_equal(passage.vertices[0].order.spar, SPAR_STOWED);
}

/* Twice the stretches, each new place in the middle of its rhumb line, on the
 * same order and free; sailed, it costs the same but for the integrator's
 * steps. */
static void halving_adds_a_place_in_every_middle(void **state) {
    (void)state;
    struct seed seed = {36};
    struct passage passage;
    make_passage(&passage, false, &seed);
    passage.vertices[1].order = orders[1];
    passage.vertices[2].order = orders[1];
    passage.vertices[0].pinned = passage.vertices[3].pinned = true;
    struct track halved = rig_halve(&passage.track, &arena);
    assert_int_equal(halved.count, 2 * STRETCHES + 1);
    for (size_t i = 0; i < halved.count; i++) {
        const struct vertex *v = &halved.vertices[i];
        const struct vertex *old = &passage.vertices[i / 2];
        assert_int_equal(v->order.spar, old->order.spar);
        assert_int_equal(v->pinned, i % 2 == 0 && old->pinned);
        assert_false(v->added);
        double length_m =
            i % 2 ? rhumb_between(old[0].at, old[1].at).distance_m : 0.0;
        assert_near(rhumb_between(old->at, v->at).distance_m, 0.5 * length_m,
                    0.01);
    }
    double before_s = sailed_s(&passage);
    passage.track = halved;
    assert_near(sailed_s(&passage) / before_s, 1.0, 2e-4);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(in_a_steady_wind_no_other_orders_are_cheaper),
        cmocka_unit_test(before_landfall_the_spar_is_stowed_in_time),
        cmocka_unit_test(
            in_a_shifting_wind_other_orders_are_hardly_ever_cheaper),
        cmocka_unit_test(dividing_changes_neither_way_nor_time),
        cmocka_unit_test(divided_tracks_are_fine_enough_everywhere),
        cmocka_unit_test(thinning_keeps_the_places_and_every_order),
        cmocka_unit_test(without_the_spar_nothing_is_ordered),
        cmocka_unit_test(a_track_too_short_to_stow_on_says_why),
        cmocka_unit_test(halving_adds_a_place_in_every_middle),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
