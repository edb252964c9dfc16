/* The forecast as a voyage asks for it: what lies beyond the last step, which
 * sea the hull feels and what of it is an estimate, what is not known. */
#include "../support/check.h"
#include "../support/gshhg_maker.h"
#include "../support/scene.h"

#include "plan/weather.h"
#include "sea/growth.h"
#include <math.h>

static const struct position here = {40.0, -20.0};

static const double DAY_S = 86400.0;

/* Two days of west wind that veers 24 degrees a day. */
static struct scene scene_made(enum scene_sea sea) {
    return (struct scene){.name = "weather",
                          .weather = {.wind_from_deg = 250.0,
                                      .wind_mps = 10.0,
                                      .veer_deg_per_day = 24.0,
                                      .wave_m = 2.0,
                                      .wave_period_s = 7.0,
                                      .swell = {true, 1.5, 12.0, 320.0},
                                      .gust_frac = figure_of(1.25)},
                          .south_deg = 38.0,
                          .north_deg = 42.0,
                          .west_deg = -23.0,
                          .east_deg = -17.0,
                          .step_deg = 1.0,
                          .hours = 48,
                          .every = 6,
                          .sea = sea};
}

/* A view of a scene, and what it says at one moment. */
struct look {
    struct arena arena;
    struct world world;
    struct request request;
    struct weather_view view;
    struct conditions conditions;
};

static void look_begin(struct look *look, const struct scene *scene) {
    arena_init(&look->arena);
    look->world = scene_world(scene, "wanderer-12", &look->arena);
    look->request =
        scene_request("40N 20W", "39N 21W", "2026-06-01T00:00Z", &look->arena);
}

static enum obstacle look_at(struct look *look, double t_s) {
    look->view = weather_view(&look->world, &look->request);
    return weather_conditions(&look->view, here, t_s, &look->conditions);
}

static double wind_from(const struct look *look) {
    return vector_direction_from(look->conditions.wind);
}

static void inside_it_is_the_forecast(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_APART);
    look_begin(&look, &scene);
    assert_int_equal(look_at(&look, DAY_S), OBSTACLE_NONE);
    assert_angle_near(wind_from(&look), 274.0, 0.1);
    assert_near(vector_length(look.conditions.wind), 10.0, 0.01);
    assert_near(look.conditions.gust_mps.value, 12.5, 0.01);
    assert_false(look.conditions.beyond_forecast);
    assert_false(look.conditions.current_known);
    assert_near(vector_length(look.conditions.current), 0.0, 0.0);
    arena_free(&look.arena);
}

static void hold_keeps_the_last_fields_and_marks_them(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_APART);
    look_begin(&look, &scene);
    assert_int_equal(look_at(&look, 2.0 * DAY_S), OBSTACLE_NONE);
    assert_false(look.conditions.beyond_forecast);
    assert_int_equal(look_at(&look, 2.0 * DAY_S + 1.0), OBSTACLE_NONE);
    assert_true(look.conditions.beyond_forecast);
    assert_int_equal(look_at(&look, 30.0 * DAY_S), OBSTACLE_NONE);
    assert_angle_near(wind_from(&look), 298.0, 0.1);
    assert_true(look.conditions.beyond_forecast);
    arena_free(&look.arena);
}

static void stop_ends_at_the_last_step(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_APART);
    look_begin(&look, &scene);
    look.request.after = AFTER_STOP;
    assert_int_equal(look_at(&look, 2.0 * DAY_S), OBSTACLE_NONE);
    assert_int_equal(look_at(&look, 2.0 * DAY_S + 1.0), OBSTACLE_HORIZON);
    arena_free(&look.arena);
}

static void the_crew_s_own_wind_comes_after_a_day_of_holding(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_APART);
    look_begin(&look, &scene);
    look.request.after = AFTER_WIND;
    look.request.after_wind_from_deg = 60.0;
    look.request.after_wind_mps = 7.0;
    assert_int_equal(look_at(&look, 3.0 * DAY_S), OBSTACLE_NONE);
    assert_angle_near(wind_from(&look), 298.0, 0.1);
    assert_true(look.conditions.gust_mps.known);
    assert_int_equal(look_at(&look, 3.0 * DAY_S + 1.0), OBSTACLE_NONE);
    assert_angle_near(wind_from(&look), 60.0, 1e-9);
    assert_near(vector_length(look.conditions.wind), 7.0, 1e-9);
    assert_false(look.conditions.gust_mps.known);
    assert_true(look.conditions.beyond_forecast);
    arena_free(&look.arena);
}

/* Its sea is that of the growth law, the forecast's swell runs on. */
static void the_crew_s_own_wind_raises_its_own_sea(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_APART);
    look_begin(&look, &scene);
    look.request.after = AFTER_WIND;
    look.request.after_wind_from_deg = 60.0;
    look.request.after_wind_mps = 7.0;
    look_at(&look, 4.0 * DAY_S);
    struct wave_system grown = growth_wind_sea(7.0, 60.0, GROWTH_OPEN_WATER_M,
                                               GROWTH_ASSUMED_HOURS * 3600.0);
    const struct sea *sea = &look.conditions.sea;
    assert_true(sea->estimated);
    assert_int_equal(sea->origin[0], WAVE_ESTIMATED);
    assert_near(sea->system[0].height_m, grown.height_m, 1e-9);
    assert_angle_near(sea->system[0].from_deg, 60.0, 1e-9);
    assert_near(sea->system[1].height_m, 1.5, 0.01);
    assert_near(sea->height_m, hypot(grown.height_m, 1.5), 0.01);
    arena_free(&look.arena);
}

static void systems_apart_go_before_the_combined_sea(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_APART);
    look_begin(&look, &scene);
    look_at(&look, 3600.0);
    const struct sea *sea = &look.conditions.sea;
    assert_near(sea->system[0].height_m, 2.0, 0.01);
    assert_near(sea->system[1].height_m, 1.5, 0.01);
    assert_angle_near(sea->system[1].from_deg, 320.0, 0.1);
    assert_false(sea->system[2].known);
    assert_near(sea->height_m, 2.5, 0.01); /* 3-4-5 triangle */
    assert_false(sea->estimated);
    arena_free(&look.arena);
}

/* The energy of the file is kept, and so are its peak period and direction for
 * the whole; what the wind raises is wind sea, the rest is swell. */
static void of_a_combined_sea_the_wind_s_part_is_split_off(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_COMBINED);
    scene.weather.wave_m = 3.0;
    scene.weather.swell.height_m = 2.5;
    look_begin(&look, &scene);
    look_at(&look, 3600.0);
    struct wave_system grown = growth_wind_sea(10.0, 251.0, GROWTH_OPEN_WATER_M,
                                               GROWTH_ASSUMED_HOURS * 3600.0);
    const struct sea *sea = &look.conditions.sea;
    assert_near(sea->height_m, hypot(3.0, 2.5), 0.01);
    assert_near(sea->period_s, 7.0, 0.01); /* of the higher one */
    assert_true(sea->split);
    assert_false(sea->estimated);
    assert_int_equal(sea->origin[0], WAVE_SPLIT);
    assert_int_equal(sea->origin[1], WAVE_SPLIT);
    assert_near(sea->system[0].height_m, grown.height_m, 0.02);
    assert_near(sea->system[0].period_s, grown.period_s, 0.05);
    assert_angle_near(sea->system[0].from_deg, 251.0, 0.1);
    assert_near(hypot(sea->system[0].height_m, sea->system[1].height_m),
                hypot(3.0, 2.5), 0.01);
    assert_near(sea->system[1].period_s, 7.0, 0.01);
    assert_angle_near(sea->system[1].from_deg, sea->from_deg, 1e-9);
    arena_free(&look.arena);
}

/* A combined sea lower than the wind would raise is wind sea altogether, and
 * keeps the steepness of the grown one. */
static void a_low_combined_sea_is_a_young_wind_sea(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_COMBINED);
    scene.weather.wave_m = 0.5;
    scene.weather.swell.height_m = 0.3;
    look_begin(&look, &scene);
    look_at(&look, 3600.0);
    struct wave_system grown = growth_wind_sea(10.0, 251.0, GROWTH_OPEN_WATER_M,
                                               GROWTH_ASSUMED_HOURS * 3600.0);
    const struct wave_system *system = look.conditions.sea.system;
    assert_near(system[0].height_m, hypot(0.5, 0.3), 0.01);
    assert_near(wave_steepness(system[0].height_m, system[0].period_s),
                wave_steepness(grown.height_m, grown.period_s), 1e-3);
    assert_near(system[1].height_m, 0.0, 1e-6);
    arena_free(&look.arena);
}

static void without_waves_the_sea_is_estimated_and_marked(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_NO_SEA);
    look_begin(&look, &scene);
    look_at(&look, 3600.0);
    struct wave_system grown = growth_wind_sea(10.0, 251.0, GROWTH_OPEN_WATER_M,
                                               GROWTH_ASSUMED_HOURS * 3600.0);
    const struct sea *sea = &look.conditions.sea;
    assert_true(sea->estimated);
    assert_int_equal(sea->origin[0], WAVE_ESTIMATED);
    assert_true(sea->height_estimated);
    assert_near(sea->height_m, grown.height_m, 0.01);
    assert_angle_near(sea->from_deg, 251.0, 0.1);
    arena_free(&look.arena);
}

/* A wind sea and the whole: the rest is swell, with the peak of the whole. */
static void a_swell_that_is_missing_is_the_rest_of_the_whole(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_WIND_SEA);
    look_begin(&look, &scene);
    look_at(&look, 3600.0);
    const struct sea *sea = &look.conditions.sea;
    assert_true(sea->split);
    assert_false(sea->estimated);
    assert_int_equal(sea->origin[0], WAVE_FORECAST);
    assert_int_equal(sea->origin[1], WAVE_SPLIT);
    assert_near(sea->system[0].height_m, 2.0, 0.01);
    assert_near(sea->system[1].height_m, 1.5, 0.02); /* 3-4-5 triangle */
    assert_near(sea->system[1].period_s, sea->period_s, 1e-9);
    assert_near(sea->height_m, 2.5, 0.01);
    arena_free(&look.arena);
}

/* Swell alone in the files: the wind raises a sea beside it. */
static void a_wind_sea_that_is_missing_is_estimated(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_SWELL);
    look_begin(&look, &scene);
    look_at(&look, 3600.0);
    struct wave_system grown = growth_wind_sea(10.0, 251.0, GROWTH_OPEN_WATER_M,
                                               GROWTH_ASSUMED_HOURS * 3600.0);
    const struct sea *sea = &look.conditions.sea;
    assert_true(sea->estimated);
    assert_int_equal(sea->origin[0], WAVE_ESTIMATED);
    assert_true(sea->height_estimated);
    assert_near(sea->system[0].height_m, grown.height_m, 0.01);
    assert_near(sea->system[1].height_m, 1.5, 0.01);
    assert_near(sea->height_m, hypot(grown.height_m, 1.5), 0.02);
    arena_free(&look.arena);
}

/* The past of the wind counts where the reach of the passage is known: a day
 * later the sea is older, up to the full one. */
static void the_sea_grows_with_the_hours_of_the_forecast(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_NO_SEA);
    scene.weather.wind_mps = 14.0;
    scene.weather.veer_deg_per_day = 0.0;
    look_begin(&look, &scene);
    struct coast_box box = {38.0, 42.0, -23.0, -17.0};
    look.world.seaway =
        seaway_make(look.world.forecast, &box, NULL, &look.arena);
    for (double hours = 0.0; hours <= 48.0; hours += 4.0) {
        look_at(&look, hours * 3600.0);
        struct wave_system grown =
            growth_wind_sea(14.0, 250.0, GROWTH_OPEN_WATER_M,
                            (GROWTH_ASSUMED_HOURS + hours) * 3600.0);
        const struct wave_system *system = look.conditions.sea.system;
        /* straight between times 3 h apart, where growth ends at once */
        assert_near(system[0].height_m, grown.height_m, 0.1);
        assert_near(system[0].period_s, grown.period_s, 0.1);
        assert_angle_near(system[0].from_deg, 250.0, 0.1);
        assert_false(system[1].known);
    }
    arena_free(&look.arena);
}

/* After the wind has dropped, its sea is still there: as a system of its own.
 */
static void an_earlier_wind_leaves_its_sea(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_NO_SEA);
    scene.weather.wind_mps = 12.0;
    scene.weather.rise_mps_per_day = -5.0;
    look_begin(&look, &scene);
    struct coast_box box = {38.0, 42.0, -23.0, -17.0};
    look.world.seaway =
        seaway_make(look.world.forecast, &box, NULL, &look.arena);
    look_at(&look, 2.0 * DAY_S); /* 2 m/s */
    const struct sea *sea = &look.conditions.sea;
    assert_true(sea->estimated);
    assert_int_equal(sea->origin[0], WAVE_ESTIMATED);
    assert_near(sea->system[0].height_m, growth_full_height_m(2.0), 0.05);
    assert_true(sea->system[1].known);
    assert_true(sea->system[1].height_m > 0.5);
    assert_true(sea->system[1].period_s > 5.0);
    assert_near(sea->height_m,
                hypot(sea->system[0].height_m, sea->system[1].height_m), 1e-9);
    arena_free(&look.arena);
}

static struct wave_system sea_beside_island(struct look *look, double lon_deg) {
    const struct position at = {0.4, lon_deg};
    look->view = weather_view(&look->world, &look->request);
    assert_int_equal(
        weather_conditions(&look->view, at, DAY_S, &look->conditions),
        OBSTACLE_NONE);
    assert_true(look->conditions.sea.estimated);
    return look->conditions.sea.system[0];
}

/* An invented island, 24 to 36 E across the equator, in a west wind. */
static void in_the_lee_of_an_island_the_sea_is_lower(void **state) {
    (void)state;
    struct look look;
    struct error error;
    struct coast *coast;
    struct gshhg gshhg = gshhg_make();
    struct coast_box box = {-10.0, 10.0, 15.0, 45.0};
    struct scene scene = {.name = "lee",
                          .weather = {.wind_from_deg = 270.0, .wind_mps = 9.0},
                          .south_deg = -10.0,
                          .north_deg = 10.0,
                          .west_deg = 15.0,
                          .east_deg = 45.0,
                          .step_deg = 1.0,
                          .hours = 48,
                          .every = 6,
                          .sea = SCENE_NO_SEA};
    look_begin(&look, &scene);
    struct arena *arena = &look.arena;
    const char *path = gshhg_write(&gshhg, "lee.nc");
    struct world *world = &look.world;
    double open_m = sea_beside_island(&look, 36.5).height_m;
    if (!coast_load(&coast, path, &box, arena, &error))
        fail_msg("%s", error.text);
    world->mask = sea_mask_make(coast, &box, arena);
    world->fetch = fetch_make(world->mask, &box, arena);
    world->seaway = seaway_make(world->forecast, &box, world->mask, arena);
    struct wave_system off = sea_beside_island(&look, 23.5);
    struct wave_system lee = sea_beside_island(&look, 36.5);
    struct wave_system beyond = sea_beside_island(&look, 39.0);
    /* 56 km off a straight coast: the law of that fetch, within a tenth */
    struct wave_system law = growth_wind_sea(9.0, 270.0, 55.7e3, 1e6);
    assert_near(off.height_m, open_m, 0.15 * open_m);
    assert_near(lee.height_m, law.height_m, 0.1 * law.height_m);
    assert_near(lee.period_s, law.period_s, 0.1 * law.period_s);
    assert_true(lee.height_m < 0.8 * off.height_m);
    assert_true(beyond.height_m > lee.height_m);
    arena_free(&look.arena);
}

/* A height without period and direction: the limit of the crew is checked
 * against it, the rest is an estimate. */
static void a_height_alone_is_kept_and_counts_for_limits(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_HEIGHT);
    look_begin(&look, &scene);
    look_at(&look, 3600.0);
    const struct sea *sea = &look.conditions.sea;
    assert_true(sea->estimated);
    assert_int_equal(sea->origin[0], WAVE_ESTIMATED);
    assert_false(sea->height_estimated);
    assert_near(sea->height_m, 2.5, 0.01);
    assert_near(sea->system[0].height_m, 2.5, 0.01);
    /* as steep as the wind's own, and so as much longer */
    struct wave_system grown = growth_wind_sea(10.0, 251.0, GROWTH_OPEN_WATER_M,
                                               GROWTH_ASSUMED_HOURS * 3600.0);
    assert_near(wave_steepness(2.5, sea->system[0].period_s),
                wave_steepness(grown.height_m, grown.period_s), 1e-3);
    struct voyage voyage = {.max_wave_m = figure_of(2.4)};
    assert_int_equal(voyage_limit(&voyage, &look.conditions), OBSTACLE_WAVE);
    assert_false(voyage_unchecked(&voyage, &look.conditions));
    arena_free(&look.arena);
}

static void an_unknown_gust_stays_unknown(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_APART);
    scene.no_gust = true;
    look_begin(&look, &scene);
    look_at(&look, 3600.0);
    assert_false(look.conditions.gust_mps.known);
    assert_near(voyage_gust_mps(&look.conditions, 10.0), 14.0, 1e-9);
    arena_free(&look.arena);
}

static void outside_the_area_there_is_no_wind(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_APART);
    look_begin(&look, &scene);
    look.view = weather_view(&look.world, &look.request);
    static const struct position outside[] = {
        {42.2, -20.0}, {37.8, -20.0}, {40.0, -23.2}, {40.0, -16.8}};
    for (size_t i = 0; i < sizeof outside / sizeof *outside; i++)
        assert_int_equal(weather_conditions(&look.view, outside[i], 3600.0,
                                            &look.conditions),
                         OBSTACLE_AREA);
    arena_free(&look.arena);
}

/* The table of the sun against the sun itself, by the light it gives. */
static void the_light_is_that_of_the_sun(void **state) {
    (void)state;
    struct look look;
    struct scene scene = scene_made(SCENE_APART);
    look_begin(&look, &scene);
    look.view = weather_view(&look.world, &look.request);
    int seen[3] = {0};
    for (double t_s = 0.0; t_s < 50.0 * DAY_S; t_s += 7001.0) {
        double unix_s = look.view.depart_unix_s + t_s;
        assert_int_equal(
            weather_conditions(&look.view, here, t_s, &look.conditions),
            OBSTACLE_NONE);
        enum light light = sun_light(sun_at(unix_s), here);
        assert_int_equal(look.conditions.light, light);
        seen[light]++;
    }
    assert_true(seen[LIGHT_DAY] > 0 && seen[LIGHT_TWILIGHT] > 0 &&
                seen[LIGHT_NIGHT] > 0);
    arena_free(&look.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(inside_it_is_the_forecast),
        cmocka_unit_test(hold_keeps_the_last_fields_and_marks_them),
        cmocka_unit_test(stop_ends_at_the_last_step),
        cmocka_unit_test(the_crew_s_own_wind_comes_after_a_day_of_holding),
        cmocka_unit_test(the_crew_s_own_wind_raises_its_own_sea),
        cmocka_unit_test(systems_apart_go_before_the_combined_sea),
        cmocka_unit_test(of_a_combined_sea_the_wind_s_part_is_split_off),
        cmocka_unit_test(a_low_combined_sea_is_a_young_wind_sea),
        cmocka_unit_test(without_waves_the_sea_is_estimated_and_marked),
        cmocka_unit_test(a_swell_that_is_missing_is_the_rest_of_the_whole),
        cmocka_unit_test(a_wind_sea_that_is_missing_is_estimated),
        cmocka_unit_test(the_sea_grows_with_the_hours_of_the_forecast),
        cmocka_unit_test(an_earlier_wind_leaves_its_sea),
        cmocka_unit_test(in_the_lee_of_an_island_the_sea_is_lower),
        cmocka_unit_test(a_height_alone_is_kept_and_counts_for_limits),
        cmocka_unit_test(an_unknown_gust_stays_unknown),
        cmocka_unit_test(outside_the_area_there_is_no_wind),
        cmocka_unit_test(the_light_is_that_of_the_sun),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
