#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "voyage/fan.h"
#include <math.h>

static const struct position middle = {20.0, -40.0};

/* One place in one weather, and the fan there. `scene` points into itself:
 * filled in place. */
struct scene {
    struct analytic weather;
    struct voyage voyage;
    struct conditions conditions;
    struct fan fan;
    struct fan_here here;
};

static void look(struct scene *scene, const struct boat *boat,
                 double step_deg) {
    scene->voyage = analytic_voyage(boat, &scene->weather, middle);
    assert_int_equal(
        voyage_look(&scene->voyage, middle, 0.0, &scene->conditions),
        OBSTACLE_NONE);
    fan_init(&scene->fan, &scene->voyage, step_deg, &arena);
    fan_look(&scene->fan, &scene->conditions, &scene->here);
}

/* Wind from nothing to above the polars' last column, gusts known or not,
 * seas, by day and by night. */
static void make_scene(struct scene *scene, int index, struct seed *seed) {
    scene->weather = (struct analytic){
        .wind_from_deg = seed_between(seed, 0.0, 360.0),
        .wind_mps = seed_between(seed, 0.5, 22.0),
        .wave_m = index % 3 == 0 ? 0.0 : seed_between(seed, 0.3, 4.0),
        .wave_period_s = seed_between(seed, 4.0, 10.0),
        .swell = {.known = index % 2 == 0,
                  .height_m = seed_between(seed, 0.5, 3.0),
                  .period_s = seed_between(seed, 8.0, 15.0),
                  .from_deg = seed_between(seed, 0.0, 360.0)},
        .gust_frac = index % 4 == 0 ? figure_unknown()
                                    : figure_of(seed_between(seed, 1.0, 1.6)),
        .night_every_s = index % 5 < 2 ? 1e9 : 0.0};
    const char *name = index % 2 ? "heron-9" : "wanderer-12";
    struct boat *boat = analytic_boat_copy(name);
    boat->factor = seed_between(seed, 0.8, 1.1);
    boat->night_factor = 0.9;
    look(scene, boat, seed_between(seed, 2.0, 20.0));
}

enum { SCENES = 60 };

/* The rig of that number, with the wind on the side of the heading. */
static struct deck deck_for(int index, const struct fan_heading *heading) {
    struct deck deck = deck_at(index);
    deck.wind_starboard = heading->twa_deg >= 0.0;
    return deck;
}

/* Calls for all headings of the fan, and as many others. */
typedef void look_over(const struct scene *scene,
                       const struct fan_heading *heading, void *note);

static void check_headings(const struct scene *scene, look_over *one,
                           struct seed *seed, void *note) {
    for (int angle = 0; angle < scene->fan.angles; angle++)
        for (int side = 0; side < 2; side++) {
            struct fan_heading own =
                fan_heading_at(&scene->here, angle, side == 1);
            struct fan_heading other =
                fan_heading_of(&scene->here, seed_between(seed, 0.0, 360.0));
            one(scene, &own, note);
            one(scene, &other, note);
        }
}

static void check_scenes(look_over *one, void *note) {
    struct seed seed = {41};
    for (int i = 0; i < SCENES; i++) {
        struct scene scene;
        make_scene(&scene, i, &seed);
        check_headings(&scene, one, &seed, note);
    }
}

/* Below the first angle of its polar, and on the fan's own angles up to
 * FAN_SHIFT_DEG above it, there is no speed to compare. */
static bool is_sailed(const struct scene *scene,
                      const struct fan_heading *heading, struct deck deck,
                      bool working) {
    const struct boat *boat = scene->voyage.boat;
    const struct polar *polar =
        deck_is_drawing(deck) && !working ? &boat->spar_out : &boat->stowed;
    double shift_deg = heading->part > 0.0 ? 0.0 : FAN_SHIFT_DEG;
    return fabs(heading->twa_deg) >= polar->angle_deg[0] + shift_deg + 1e-9;
}

/* --- headings ------------------------------------------------------------- */

static void check_unit(const struct scene *scene,
                       const struct fan_heading *heading, void *note) {
    (void)note;
    double sine, cosine;
    sincos_deg(heading->heading_deg, &sine, &cosine);
    assert_near(heading->unit.east, sine, 1e-12);
    assert_near(heading->unit.north, cosine, 1e-12);
    assert_angle_near(
        angle_turn(heading->heading_deg, scene->conditions.twd_deg),
        heading->twa_deg, 1e-9);
    assert_near((heading->angle + heading->part) * scene->fan.step_deg,
                fabs(heading->twa_deg), 1e-9);
    assert_true(heading->part >= 0.0 && heading->part <= 1.0);
    assert_true(heading->angle + (heading->part > 0.0) < scene->fan.angles);
}

static void a_heading_its_angle_and_its_unit_vector_agree(void **state) {
    (void)state;
    check_scenes(check_unit, NULL);
}

static void the_fan_reaches_from_the_wind_to_dead_astern(void **state) {
    (void)state;
    static const struct {
        double wanted_deg, step_deg;
        int angles;
    } rows[] = {{2.0, 2.0, 91},  {5.0, 5.0, 37},          {15.0, 15.0, 13},
                {90.0, 90.0, 3}, {7.0, 180.0 / 26.0, 27}, {400.0, 180.0, 2},
                {0.5, 2.0, 91}};
    struct scene scene = {.weather = {.wind_mps = 8.0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        look(&scene, analytic_boat("wanderer-12"), rows[i].wanted_deg);
        assert_int_equal(scene.fan.angles, rows[i].angles);
        assert_near(scene.fan.step_deg, rows[i].step_deg, 1e-12);
        struct fan_heading astern =
            fan_heading_at(&scene.here, scene.fan.angles - 1, true);
        assert_near(astern.twa_deg, 180.0, 1e-9);
    }
}

/* --- speed and roll ------------------------------------------------------- */

/* Speed, and the roll at that speed, are those of voyage.h. */
static void check_motion(const struct scene *scene,
                         const struct fan_heading *heading, void *note) {
    int *compared = note;
    for (int i = 0; i < 2 * DECK_STATES; i++) {
        struct deck deck = deck_for(i / 2, heading);
        bool working = i % 2;
        double mps = fan_speed(&scene->here, heading, deck, working);
        struct motion motion;
        if (!is_sailed(scene, heading, deck, working) ||
            voyage_motion(&scene->voyage, &scene->conditions,
                          heading->heading_deg, deck, working,
                          &motion) != OBSTACLE_NONE)
            continue;
        assert_near(mps, motion.stw_mps, 1e-9);
        assert_near(
            fan_roll_deg(&scene->here, heading, deck, mps),
            voyage_roll_deg(&scene->voyage, &scene->conditions, &motion, deck),
            1e-9);
        (*compared)++;
    }
}

static void speed_and_roll_are_those_of_the_voyage(void **state) {
    (void)state;
    int compared = 0;
    check_scenes(check_motion, &compared);
    assert_true(compared > 30000);
}

static void near_the_end_of_a_polar_the_fan_has_no_speed(void **state) {
    (void)state;
    struct scene scene = {.weather = {.wind_mps = 8.0}};
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->stowed.angle_deg[0] = 40.5; /* the fan's 42 is within 2 degrees */
    look(&scene, boat, 2.0);
    static const struct {
        int angle;
        bool sails;
    } rows[] = {{0, false}, {19, false}, {20, false}, {21, false}, {22, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fan_heading heading =
            fan_heading_at(&scene.here, rows[i].angle, i % 2);
        struct deck deck = {.spar = SPAR_STOWED};
        double mps = fan_speed(&scene.here, &heading, deck, false);
        assert_int_equal(mps > 0.0, rows[i].sails);
    }
}

static void the_night_factor_holds_by_night_alone(void **state) {
    (void)state;
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->night_factor = 0.8;
    double mps[2][2];
    for (int night = 0; night < 2; night++) {
        struct scene scene = {
            .weather = {.wind_mps = 8.0, .night_every_s = night ? 1e9 : 0.0}};
        look(&scene, boat, 5.0);
        for (int drawing = 0; drawing < 2; drawing++) {
            struct fan_heading heading =
                fan_heading_at(&scene.here, 34, true); /* 170 */
            struct deck deck = {.spar = drawing ? SPAR_STARBOARD : SPAR_STOWED,
                                .wind_starboard = true};
            mps[night][drawing] = fan_speed(&scene.here, &heading, deck, false);
        }
    }
    assert_true(mps[0][0] > 1.0);
    for (int drawing = 0; drawing < 2; drawing++)
        assert_near(mps[1][drawing], 0.8 * mps[0][drawing], 1e-12);
}

static void check_top(const struct scene *scene,
                      const struct fan_heading *heading, void *note) {
    (void)note;
    double top_mps = fan_top_mps(&scene->here, heading);
    for (int i = 0; i < 2 * DECK_STATES; i++)
        assert_true(fan_speed(&scene->here, heading, deck_for(i / 2, heading),
                              i % 2) <= top_mps + 1e-12);
}

static void no_rig_is_faster_than_the_top_speed_of_a_heading(void **state) {
    (void)state;
    check_scenes(check_top, NULL);
}

/* What was in memory before must not count. */
static void without_a_spar_the_stowed_polar_alone_counts(void **state) {
    (void)state;
    struct scene scene = {.weather = {.wind_mps = 8.0, .wind_from_deg = 30.0}};
    look(&scene, analytic_boat("wanderer-12"), 5.0);
    scene.voyage.spar_allowed = false;
    fan_look(&scene.fan, &scene.conditions, &scene.here);
    for (int angle = 0; angle < scene.fan.angles; angle++) {
        struct fan_heading heading = fan_heading_at(&scene.here, angle, true);
        struct deck stowed = {.spar = SPAR_STOWED},
                    drawing = {.spar = SPAR_PORT};
        assert_near(fan_top_mps(&scene.here, &heading),
                    fan_speed(&scene.here, &heading, stowed, false), 0.0);
        assert_true(fan_slack_deg(&scene.here, &heading, drawing) < 0.0);
    }
}

/* --- where the spar may draw ---------------------------------------------- */

/* How far the apparent wind is inside the range of the mode, by voyage.h. */
static double slack_of(const struct scene *scene, const struct motion *motion,
                       struct deck deck) {
    double low_deg, high_deg, awa_deg = fabs(voyage_awa_deg(motion));
    voyage_spar_range(scene->voyage.boat, deck_mode(deck), &low_deg, &high_deg);
    if (high_deg >= 180.0)
        return awa_deg - low_deg;
    return fmin(awa_deg - low_deg, high_deg - awa_deg);
}

struct slack_note {
    double most_deg; /* the greatest difference */
    int fit, unfit;
};

static void check_slack(const struct scene *scene,
                        const struct fan_heading *heading, void *note) {
    struct slack_note *worst = note;
    for (int i = 0; i < DECK_STATES; i++) {
        struct deck deck = deck_for(i, heading);
        struct motion motion;
        if (!deck_is_drawing(deck) || !is_sailed(scene, heading, deck, false) ||
            voyage_motion(&scene->voyage, &scene->conditions,
                          heading->heading_deg, deck, false,
                          &motion) != OBSTACLE_NONE)
            continue;
        double slack_deg = fan_slack_deg(&scene->here, heading, deck);
        double miss_deg = 0.0;
        if (slack_deg > -180.0)
            miss_deg = fabs(slack_deg - slack_of(scene, &motion, deck));
        else
            assert_true(motion.spar_unfit);
        worst->most_deg = fmax(worst->most_deg, miss_deg);
        assert_int_equal(slack_deg < 0.0, motion.spar_unfit);
        worst->fit += !motion.spar_unfit;
        worst->unfit += motion.spar_unfit;
    }
}

static void the_slack_of_the_spar_is_that_of_the_voyage(void **state) {
    (void)state;
    struct slack_note worst = {0.0, 0, 0};
    check_scenes(check_slack, &worst);
    assert_true(worst.fit > 1000 && worst.unfit > 1000);
    assert_true(worst.most_deg < 1e-9);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_heading_its_angle_and_its_unit_vector_agree),
        cmocka_unit_test(the_fan_reaches_from_the_wind_to_dead_astern),
        cmocka_unit_test(speed_and_roll_are_those_of_the_voyage),
        cmocka_unit_test(near_the_end_of_a_polar_the_fan_has_no_speed),
        cmocka_unit_test(the_night_factor_holds_by_night_alone),
        cmocka_unit_test(no_rig_is_faster_than_the_top_speed_of_a_heading),
        cmocka_unit_test(without_a_spar_the_stowed_polar_alone_counts),
        cmocka_unit_test(the_slack_of_the_spar_is_that_of_the_voyage),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
