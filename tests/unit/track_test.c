#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "earth/rhumb.h"
#include "search/track.h"
#include <math.h>
#include <string.h>

static const struct position west = {20.0, -40.0};
static const struct position far_away = {-50.0, 100.0};

static double four_mps(double twa_deg) {
    return fabs(twa_deg) < 30.0 ? 0.0 : 4.0;
}

static struct boat *boat_of_one_speed(void) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->stowed = boat->spar_out = analytic_polar(four_mps, 0.0);
    analytic_widen_limits(boat);
    return boat;
}

/* Three stretches to the east of 20 nmi each, with these orders. */
static struct track eastward(const struct deck orders[3],
                             struct vertex vertices[4]) {
    for (int i = 0; i < 4; i++)
        vertices[i] = (struct vertex){
            .at = rhumb_ahead(west, 90.0, nmi_to_m(20.0 * i)),
            .order = i < 3 ? orders[i] : (struct deck){.spar = SPAR_STOWED}};
    return (struct track){.vertices = vertices, .count = 4};
}

static void a_copy_shares_nothing(void **state) {
    (void)state;
    struct vertex vertices[4];
    const struct deck orders[3] = {{.spar = SPAR_PORT}};
    struct track track = eastward(orders, vertices);
    struct track copy = track_copy(&arena, &track);
    assert_int_equal(copy.count, 4);
    assert_memory_equal(copy.vertices, vertices, sizeof vertices);
    copy.vertices[1].at.lat_deg = 0.0;
    assert_near(vertices[1].at.lat_deg, 20.0, 1e-9);
}

static void
the_start_has_the_wind_on_the_side_of_the_first_stretch(void **state) {
    (void)state;
    static const struct {
        double from_deg; /* the course is 90 */
        enum spar_place first;
        bool starboard;
    } rows[] = {
        {180, SPAR_STOWED, true},
        {0, SPAR_STOWED, false},
        {300, SPAR_PORT, false},
        {240, SPAR_PORT, true},
        /* from astern: where the spar will be, so that it is to windward */
        {270, SPAR_PORT, false},
        {270, SPAR_STARBOARD, true},
        {272, SPAR_STARBOARD, true},
        {268, SPAR_PORT, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct vertex vertices[4];
        const struct deck orders[3] = {{.spar = rows[i].first}};
        struct track track = eastward(orders, vertices);
        struct analytic weather = {.wind_from_deg = rows[i].from_deg,
                                   .wind_mps = 8.0};
        struct voyage voyage =
            analytic_voyage(boat_of_one_speed(), &weather, far_away);
        struct underway start =
            sail_start(west, (struct deck){.spar = SPAR_STOWED});
        struct underway boat = track_start(&voyage, &track, &start);
        assert_int_equal(boat.deck.wind_starboard, rows[i].starboard);
        assert_int_equal(boat.deck.spar, SPAR_STOWED);
        assert_near(boat.cost_s, 0.0, 0.0);
    }
}

struct heard {
    enum change_kind kind[8];
    double lon_deg[8];
    int count;
};

static void hear(void *context, const struct sail_change *change) {
    struct heard *heard = context;
    assert_true(heard->count < 8);
    heard->kind[heard->count] = change->kind;
    heard->lon_deg[heard->count++] = change->at.lon_deg;
}

static void orders_are_carried_out_where_they_stand(void **state) {
    (void)state;
    struct vertex vertices[4];
    const struct deck orders[3] = {
        {.spar = SPAR_STOWED}, {.spar = SPAR_PORT}, {.spar = SPAR_STARBOARD}};
    struct track track = eastward(orders, vertices);
    struct analytic weather = {.wind_from_deg = 270.0, .wind_mps = 8.0};
    struct boat *boat = boat_of_one_speed();
    boat->spar.reach_awa_deg[1] = 180.0; /* all is fit before the wind */
    struct voyage voyage = analytic_voyage(boat, &weather, far_away);
    struct underway under =
        sail_start(west, (struct deck){.spar = SPAR_STOWED});
    under = track_start(&voyage, &track, &under);
    struct heard heard = {.count = 0};
    struct sail_observer observer = {.change = hear, .context = &heard};
    assert_int_equal(track_sail(&voyage, &track, &under, &observer),
                     OBSTACLE_NONE);
    assert_int_equal(heard.count, 2);
    assert_int_equal(heard.kind[0], CHANGE_SET);
    assert_int_equal(heard.kind[1], CHANGE_ACROSS);
    for (int i = 0; i < 2; i++)
        assert_near(heard.lon_deg[i], vertices[i + 1].at.lon_deg, 1e-9);
    assert_near(under.at.lon_deg, vertices[3].at.lon_deg, 0.0);
    /* 60 nmi at 4 m/s, and work at 0.7 of it: set 20 and gybe 30 minutes */
    double lost_s = 0.3 * (boat->spar.set_s + boat->spar.gybe_s);
    assert_near(under.t_s, nmi_to_m(60.0) / 4.0 + lost_s, 0.05);
}

static void stretch_by_stretch_is_the_whole_track(void **state) {
    (void)state;
    struct vertex vertices[4];
    const struct deck orders[3] = {{.spar = SPAR_PORT},
                                   {.spar = SPAR_PORT, .rolled = true},
                                   {.spar = SPAR_STOWED}};
    struct track track = eastward(orders, vertices);
    struct analytic weather = {.wind_from_deg = 255.0,
                               .wind_mps = 7.0,
                               .veer_deg_per_day = 50.0,
                               .wave_m = 2.0,
                               .wave_period_s = 7.0};
    struct voyage voyage =
        analytic_voyage(analytic_boat("wanderer-12"), &weather, far_away);
    voyage.ease = 1.0;
    struct underway whole = sail_start(west, orders[0]);
    struct underway parts = whole;
    assert_int_equal(track_sail(&voyage, &track, &whole, NULL), OBSTACLE_NONE);
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(track_sail_stretch(&voyage, &track, i, &parts, NULL),
                         OBSTACLE_NONE);
    assert_near(parts.cost_s, whole.cost_s, 0.0);
    assert_near(parts.t_s, whole.t_s, 0.0);
}

static void two_vertices_in_one_place_take_no_time(void **state) {
    (void)state;
    struct vertex vertices[4];
    const struct deck orders[3] = {{.spar = SPAR_STOWED}};
    struct track track = eastward(orders, vertices);
    vertices[2].at = vertices[1].at;
    vertices[1].order.spar = SPAR_PORT; /* overruled by the next one */
    struct analytic weather = {.wind_from_deg = 270.0, .wind_mps = 8.0};
    struct voyage voyage =
        analytic_voyage(boat_of_one_speed(), &weather, far_away);
    struct underway boat = sail_start(west, (struct deck){.spar = SPAR_STOWED});
    boat = track_start(&voyage, &track, &boat);
    assert_int_equal(track_sail(&voyage, &track, &boat, NULL), OBSTACLE_NONE);
    assert_near(boat.t_s, nmi_to_m(60.0) / 4.0, 0.01);
}

/* Into the wind, and against a current that is stronger than the boat, she
 * creeps: the cost stays finite, and `crept_s` tells it. */
static void what_can_not_be_sailed_is_crept_and_told(void **state) {
    (void)state;
    static const struct analytic weathers[] = {
        {.wind_from_deg = 90.0, .wind_mps = 8.0},
        {.wind_from_deg = 0.0, .wind_mps = 8.0, .current = {-5.0, 0.0}},
    };
    for (size_t i = 0; i < 2; i++) {
        struct vertex vertices[4];
        const struct deck orders[3] = {{.spar = SPAR_STOWED}};
        struct track track = eastward(orders, vertices);
        struct voyage voyage =
            analytic_voyage(boat_of_one_speed(), &weathers[i], far_away);
        struct underway boat =
            sail_start(west, (struct deck){.spar = SPAR_STOWED});
        assert_int_equal(track_sail(&voyage, &track, &boat, NULL),
                         OBSTACLE_NONE);
        assert_true(boat.crept_s > 0.9 * boat.t_s);
        assert_true(boat.t_s > 2.0 * nmi_to_m(60.0) / 4.0);
        assert_true(isfinite(boat.cost_s));
    }
    struct vertex vertices[4];
    const struct deck orders[3] = {{.spar = SPAR_STOWED}};
    struct track track = eastward(orders, vertices);
    struct analytic fair = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct voyage voyage =
        analytic_voyage(boat_of_one_speed(), &fair, far_away);
    struct underway boat = sail_start(west, (struct deck){.spar = SPAR_STOWED});
    track_sail(&voyage, &track, &boat, NULL);
    assert_near(boat.crept_s, 0.0, 0.0);
}

/* 20 nmi at 4 m/s take 9,260 s, at half that twice as long; the spar is stowed
 * while she waits, and that is over when she sails on. */
static void a_pace_is_kept_from_vertex_to_vertex(void **state) {
    (void)state;
    struct vertex vertices[4];
    const struct deck orders[3] = {{.spar = SPAR_STOWED}};
    struct track track = eastward(orders, vertices);
    const struct analytic weather = {.wind_from_deg = 180.0, .wind_mps = 8.0};
    struct boat *boat = boat_of_one_speed();
    struct voyage voyage = analytic_voyage(boat, &weather, far_away);
    struct underway start = sail_start(west, orders[0]);
    double stretch_s = nmi_to_m(20.0) / 4.0, elapsed_s;
    vertices[1].pace_frac = 0.5;
    assert_near(track_cost(&voyage, &track, &start, &elapsed_s),
                4.0 * stretch_s, 1.0);
    assert_near(elapsed_s, 4.0 * stretch_s, 1.0);
    start.deck.spar = SPAR_PORT;
    vertices[0].wait_until_s = boat->spar.stow_s + 1000.0;
    struct underway under_way = track_start(&voyage, &track, &start);
    assert_near(track_wait_s(&vertices[0], &under_way),
                boat->spar.stow_s + 1000.0, 0.0);
    assert_int_equal(track_sail_stretch(&voyage, &track, 0, &under_way, NULL),
                     OBSTACLE_NONE);
    assert_int_equal(under_way.deck.spar, SPAR_STOWED);
    assert_near(under_way.t_s, stretch_s + boat->spar.stow_s + 1000.0, 1.0);
    assert_near(track_wait_s(&vertices[0], &under_way), 0.0, 0.0);
}

/* In a sea she rolls as she lies: that weighs as it does under way. */
static void a_wait_weighs_by_its_roll(void **state) {
    (void)state;
    struct vertex vertices[4];
    const struct deck orders[3] = {{.spar = SPAR_STOWED}};
    struct track track = eastward(orders, vertices);
    const struct analytic weather = {.wind_from_deg = 180.0,
                                     .wind_mps = 8.0,
                                     .wave_m = 2.0,
                                     .wave_period_s = 6.0};
    struct boat *boat = boat_of_one_speed();
    struct voyage voyage = analytic_voyage(boat, &weather, far_away);
    struct underway start = sail_start(west, orders[0]), after[2];
    voyage.ease = 2.0;
    boat->comfort.easy_roll_deg = 0.0;
    for (int waits = 0; waits < 2; waits++) {
        vertices[0].wait_until_s = waits * 5000.0;
        after[waits] = track_start(&voyage, &track, &start);
        assert_int_equal(
            track_sail_stretch(&voyage, &track, 0, &after[waits], NULL),
            OBSTACLE_NONE);
    }
    double more_s = after[1].discomfort_s - after[0].discomfort_s;
    assert_true(more_s > 0.0);
    assert_near(after[1].t_s - after[0].t_s, 5000.0, 1e-6);
    assert_near(after[1].cost_s - after[0].cost_s, 5000.0 + 2.0 * more_s, 1e-6);
}

static enum obstacle closed_at_first(const void *water, struct position from,
                                     struct position to, double start_s,
                                     double end_s) {
    (void)water, (void)from, (void)to, (void)end_s;
    return start_s < 100.0 ? OBSTACLE_ZONE : OBSTACLE_NONE;
}

static void nobody_waits_where_she_may_not_be(void **state) {
    (void)state;
    struct vertex vertices[4];
    const struct deck orders[3] = {{.spar = SPAR_STOWED}};
    struct track track = eastward(orders, vertices);
    const struct analytic weather = {.wind_from_deg = 180.0, .wind_mps = 8.0};
    struct voyage voyage =
        analytic_voyage(boat_of_one_speed(), &weather, far_away);
    struct underway boat = sail_start(west, orders[0]);
    voyage.blocked = closed_at_first;
    vertices[0].wait_until_s = 1000.0;
    assert_int_equal(track_sail_stretch(&voyage, &track, 0, &boat, NULL),
                     OBSTACLE_ZONE);
    assert_near(boat.t_s, 0.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_copy_shares_nothing),
        cmocka_unit_test(
            the_start_has_the_wind_on_the_side_of_the_first_stretch),
        cmocka_unit_test(orders_are_carried_out_where_they_stand),
        cmocka_unit_test(stretch_by_stretch_is_the_whole_track),
        cmocka_unit_test(two_vertices_in_one_place_take_no_time),
        cmocka_unit_test(what_can_not_be_sailed_is_crept_and_told),
        cmocka_unit_test(a_pace_is_kept_from_vertex_to_vertex),
        cmocka_unit_test(a_wait_weighs_by_its_roll),
        cmocka_unit_test(nobody_waits_where_she_may_not_be),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
