/* Dead before a steady wind, 300 nmi, limits wide: what the best way is, and
 * how long it takes, can be said by hand from the polars. */
#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "search/search.h"
#include <math.h>

#define PASSAGE_M (300.0 * METRES_PER_NMI)

/* West along the equator, which is geodesic and rhumb line at once (WGS84:
 * 6378137 m to the radian), with the wind from the east all the way. */
static const struct position begin = {0.0, -30.0};

static struct position finish(void) {
    double turn_deg = PASSAGE_M / 6378137.0 / RADIANS_PER_DEGREE;
    return (struct position){0.0, -30.0 - turn_deg};
}

/* What was done on the way. */
struct story {
    int count[CHANGE_KINDS];
    double drawing_s, far_from_s; /* further than 6 degrees from `twa_deg` */
    double twa_deg;
};

static void note_change(void *context, const struct sail_change *change) {
    struct story *story = context;
    story->count[change->kind]++;
    assert_false(change->outside_limits);
}

static void note_step(void *context, const struct sail_step *step) {
    struct story *story = context;
    if (deck_is_drawing(step->deck))
        story->drawing_s += step->seconds;
    if (fabs(fabs(step->motion->twa_deg) - story->twa_deg) > 6.0)
        story->far_from_s += step->seconds;
}

/* Searches, and sails the track found once more for the story. */
static double best_s(const struct boat *boat, double wind_kn, bool spar,
                     double twa_deg, struct story *story) {
    struct analytic weather = {.wind_from_deg = 90.0,
                               .wind_mps = kn_to_mps(wind_kn)};
    struct voyage voyage = analytic_voyage(boat, &weather, finish());
    voyage.spar_allowed = spar;
    struct search_request request = {.from = begin, .to = voyage.finish};
    struct search_result result;
    search_run(&voyage, &request, NULL, &arena, &result);
    assert_true(result.reached);
    *story = (struct story){.twa_deg = twa_deg};
    struct sail_observer observer = {
        .step = note_step, .change = note_change, .context = story};
    struct underway start = sail_start(begin, request.start);
    start = track_start(&voyage, &result.track, &start);
    assert_int_equal(track_sail(&voyage, &result.track, &start, &observer),
                     OBSTACLE_NONE);
    assert_near(start.t_s, result.elapsed_s, 0.01);
    return result.elapsed_s;
}

static double run_mps(const struct polar *polar, double wind_kn) {
    return polar_speed(polar, 180.0, kn_to_mps(wind_kn));
}

/* By hand: set and stow take their minutes at 0.7 of the stowed speed dead
 * before the wind; the last 5 nmi are sailed stowed; all the rest at the
 * spar's speed at TWA 180. For wanderer-12 in 15 kn: stowed 6.225, spar out
 * 7.28 kn; 35 minutes at 4.3575 kn make 2.542 nmi, 5 nmi at 6.225 take
 * 0.8032 h, the other 292.458 nmi at 7.28 take 40.1728 h: 41.5594 h. */
static double by_hand_s(const struct boat *boat, double wind_kn) {
    const struct spar *spar = &boat->spar;
    double stowed_mps = run_mps(&boat->stowed, wind_kn);
    double spar_mps = run_mps(&boat->spar_out, wind_kn);
    double work_s = spar->set_s + spar->stow_s;
    double work_m = work_s * spar->work_speed_frac * stowed_mps;
    return work_s + spar->landfall_m / stowed_mps +
           (PASSAGE_M - work_m - spar->landfall_m) / spar_mps;
}

static void the_hand_reckoning_is_the_one_in_the_comment(void **state) {
    (void)state;
    const struct boat *boat = analytic_boat("wanderer-12");
    assert_near(s_to_hours(by_hand_s(boat, 15.0)), 41.5594, 0.0001);
}

static void with_the_spar_one_set_no_gybe_one_stow(void **state) {
    (void)state;
    static const struct {
        const char *boat;
        double wind_kn;
    } rows[] = {{"wanderer-12", 15.0}, {"heron-9", 12.0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct boat *boat = analytic_boat_copy(rows[i].boat);
        analytic_widen_limits(boat);
        struct story story;
        double found_s = best_s(boat, rows[i].wind_kn, true, 180.0, &story);
        double hand_s = by_hand_s(boat, rows[i].wind_kn);
        print_message("%s: %.4f h, by hand %.4f h\n", rows[i].boat,
                      s_to_hours(found_s), s_to_hours(hand_s));
        assert_int_equal(story.count[CHANGE_SET], 1);
        assert_int_equal(story.count[CHANGE_GYBE], 0);
        assert_int_equal(story.count[CHANGE_ACROSS], 0);
        assert_int_equal(story.count[CHANGE_STOW], 1);
        assert_int_equal(story.count[CHANGE_ROLL], 0);
        assert_int_equal(story.count[CHANGE_MAINSAIL_GYBE], 0);
        assert_near(found_s / hand_s, 1.0, 0.005);
        assert_true(story.drawing_s > 0.95 * found_s);
    }
}

/* Without the spar the boat gybes at the angle of her best speed made good
 * where that is faster than the dead run, and else runs dead before it. One
 * gybe is enough; it costs 0.3 of its 8 minutes. */
static void without_the_spar_she_gybes_where_that_is_faster(void **state) {
    (void)state;
    static const struct {
        const char *boat;
        double wind_kn;
        bool gybes;
    } rows[] = {{"wanderer-12", 10.0, true},
                {"heron-9", 8.0, true},
                {"wanderer-12", 25.0, false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct boat *boat = analytic_boat_copy(rows[i].boat);
        analytic_widen_limits(boat);
        double twa_deg;
        double vmg_mps = polar_best_downwind(
            &boat->stowed, kn_to_mps(rows[i].wind_kn), &twa_deg);
        assert_int_equal(twa_deg < 175.0, rows[i].gybes);
        double gybe_s = rows[i].gybes ? (1.0 - boat->spar.work_speed_frac) *
                                            boat->handling.mainsail_gybe_s
                                      : 0.0;
        double hand_s = PASSAGE_M / vmg_mps + gybe_s;
        struct story story;
        double found_s = best_s(boat, rows[i].wind_kn, false, twa_deg, &story);
        print_message("%s, %.0f kn: %.4f h, by hand %.4f h, %d gybes\n",
                      rows[i].boat, rows[i].wind_kn, s_to_hours(found_s),
                      s_to_hours(hand_s), story.count[CHANGE_MAINSAIL_GYBE]);
        assert_near(found_s / hand_s, 1.0, 0.005);
        assert_int_equal(story.count[CHANGE_MAINSAIL_GYBE] > 0, rows[i].gybes);
        assert_int_equal(story.count[CHANGE_SET], 0);
        assert_near(story.drawing_s, 0.0, 0.0);
        assert_true(story.far_from_s < 0.05 * found_s);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_hand_reckoning_is_the_one_in_the_comment),
        cmocka_unit_test(with_the_spar_one_set_no_gybe_one_stow),
        cmocka_unit_test(without_the_spar_she_gybes_where_that_is_faster),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
