/* Dead before the wind over 300 nmi with a spar to bring across at every gybe:
 * how often that is worth its minutes can be said by hand. */
#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "earth/ellipsoid.h"
#include "search/search.h"
#include <math.h>

#define PASSAGE_NMI 300.0

static const double WIND_KN = 15.0;

/* Polar V0 |sin b|: 4 kn downwind on either gybe at 135 degrees, and nothing
 * between them is faster (its hull is flat there: M. Rabaud, "Optimal routing
 * in sailing", Sports Physics, Palaiseau, 8-10 June 2016). V0 is 8 kn with the
 * spar out and 5 kn with it stowed. */
static double spar_polar(double twa_deg) {
    return kn_to_mps(8.0) * fabs(sin(twa_deg * RADIANS_PER_DEGREE));
}

static double stowed_polar(double twa_deg) {
    return kn_to_mps(5.0) * fabs(sin(twa_deg * RADIANS_PER_DEGREE));
}

static const double GYBE_S = 3600.0, WORK_FRAC = 0.5;

/* All other changes take so long that nobody does them: she can't come round
 * faster without the spar. */
static const double LONG_S = 14400.0;

/* AWA is 115 degrees at 135 of true wind: the spar to windward draws, and to
 * leeward it may not, so that no mainsail gybe alone will do. */
static const struct boat *made_boat(void) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->stowed = analytic_polar(stowed_polar, 0.0);
    boat->spar_out = analytic_polar(spar_polar, 90.0);
    analytic_widen_limits(boat);
    struct spar *spar = &boat->spar;
    spar->wing_awa_deg[0] = 90.0;
    spar->wing_awa_deg[1] = 180.0;
    spar->reach_awa_deg[0] = 65.0;
    spar->reach_awa_deg[1] = 80.0;
    spar->angle_margin_deg = 5.0;
    spar->gybe_s = GYBE_S;
    spar->stow_s = 0.0;
    spar->set_s = boat->handling.mainsail_gybe_s = boat->handling.tack_s =
        LONG_S;
    spar->work_speed_frac = WORK_FRAC;
    spar->landfall_m = 0.0;
    return boat;
}

/* In a corridor of `half_nmi` to either side of the straight way, which runs
 * from its middle to its middle: so many miles to the side can be sailed with
 * so many gybes, and the angle off the wind's own way is that which uses them,
 * up to 45 degrees, V0 sin(off) cos(off) made good. Making good one and the
 * same all the way is best, for the time to each mile ahead is 1/q + q with q
 * the tangent, which is convex. While the spar is brought across she makes less
 * on the same courses. In the finish it is stowed in no time. */
static double by_hand_h(int gybes, double half_nmi) {
    double slope = fmin(1.0, 2.0 * half_nmi * gybes / PASSAGE_NMI);
    double made_good = slope / (1.0 + slope * slope); /* of V0 */
    double work_h = s_to_hours(GYBE_S) * gybes;
    double work_nmi = work_h * WORK_FRAC * 5.0 * made_good;
    return work_h + (PASSAGE_NMI - work_nmi) / (8.0 * made_good);
}

static int best_by_hand(double half_nmi) {
    int best = 1;
    for (int gybes = 2; gybes < 20; gybes++)
        if (by_hand_h(gybes, half_nmi) < by_hand_h(best, half_nmi))
            best = gybes;
    return best;
}

/* Half the corridor: with five gybes 45 degrees are possible all the way, and
 * 10 nmi to spare. On open water one gybe is enough, and one is needed: at the
 * start she is rigged on starboard. */
static const double NARROW_NMI = 31.0, OPEN_NMI = 200.0;

/* In the corridor 300 nmi at 4 kn are 75 h, and every gybe costs its hour less
 * the 1.25 nmi that she makes in it, 0.6875 h. Five: 78.4375 h; a sixth gains
 * nothing; with four she has to sail 39.6 degrees off and loses 1.3629 h on the
 * way to save 0.6875. Both are 0.9 % slower. */
static void the_hand_reckoning_is_the_one_in_the_comment(void **state) {
    (void)state;
    assert_near(by_hand_h(5, NARROW_NMI), 78.4375, 1e-4);
    assert_near(by_hand_h(4, NARROW_NMI), 79.1129, 1e-4);
    assert_near(by_hand_h(6, NARROW_NMI), 79.1250, 1e-4);
    assert_int_equal(best_by_hand(NARROW_NMI), 5);
    assert_int_equal(best_by_hand(OPEN_NMI), 1);
}

struct story {
    int count[CHANGE_KINDS];
};

static void note_change(void *context, const struct sail_change *change) {
    struct story *story = context;
    story->count[change->kind]++;
}

/* West along the equator, rigged on starboard; the earth is a plane to 0.004 %
 * within 30 nmi of it. */
static double best_h(double half_nmi, struct story *story) {
    const struct position from = {0.0, -30.0};
    double turn_deg =
        nmi_to_m(PASSAGE_NMI) / WGS84_EQUATOR_M / RADIANS_PER_DEGREE;
    struct analytic weather = {.wind_from_deg = 90.0,
                               .wind_mps = kn_to_mps(WIND_KN)};
    weather.north_deg = nmi_to_m(half_nmi) / 6335439.3 / RADIANS_PER_DEGREE;
    weather.south_deg = -weather.north_deg;
    weather.west_deg = -40.0;
    weather.east_deg = -25.0;
    struct voyage voyage = analytic_voyage(
        made_boat(), &weather, (struct position){0.0, -30.0 - turn_deg});
    struct search_request request = {
        .from = from, .to = voyage.finish, .start = {.spar = SPAR_STARBOARD}};
    struct search_result result;
    search_run(&voyage, &request, NULL, &arena, &result);
    assert_true(result.reached);
    struct sail_observer observer = {.change = note_change, .context = story};
    struct underway start = sail_start(from, request.start);
    start = track_start(&voyage, &result.track, &start);
    assert_int_equal(track_sail(&voyage, &result.track, &start, &observer),
                     OBSTACLE_NONE);
    assert_near(start.t_s, result.elapsed_s, 0.01);
    return s_to_hours(result.elapsed_s);
}

static void assert_gybes(double half_nmi) {
    struct story story = {.count = {0}};
    int gybes = best_by_hand(half_nmi);
    double hand_h = by_hand_h(gybes, half_nmi);
    double found_h = best_h(half_nmi, &story);
    print_message("%.0f nmi to either side: by hand %.4f h, %d gybes; found "
                  "%.4f h, %d, %+.4f %%\n",
                  half_nmi, hand_h, gybes, found_h, story.count[CHANGE_GYBE],
                  100.0 * (found_h / hand_h - 1.0));
    assert_int_equal(story.count[CHANGE_GYBE], gybes);
    assert_int_equal(story.count[CHANGE_SET], 0);
    assert_int_equal(story.count[CHANGE_MAINSAIL_GYBE], 0);
    assert_near(found_h / hand_h, 1.0, 0.001);
}

static void on_open_water_she_gybes_once(void **state) {
    (void)state;
    assert_gybes(OPEN_NMI);
}

static void in_a_corridor_she_gybes_as_often_as_that_pays(void **state) {
    (void)state;
    assert_gybes(NARROW_NMI);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_hand_reckoning_is_the_one_in_the_comment),
        cmocka_unit_test(on_open_water_she_gybes_once),
        cmocka_unit_test(in_a_corridor_she_gybes_as_often_as_that_pays),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
