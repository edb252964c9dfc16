/* The sea that a forecast's wind raises, at places and times of its raster and
 * between them. */
#include "../support/check.h"
#include "../support/gshhg_maker.h"
#include "../support/scene.h"

#include "base/text.h"
#include "base/units.h"
#include "plan/seaway.h"
#include "sea/growth.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

static const struct coast_box all = {-8.0, 8.0, 20.0, 40.0};

static struct scene scene_made(void) {
    return (struct scene){.name = "seaway",
                          .weather = {.wind_from_deg = 250.0, .wind_mps = 10.0},
                          .south_deg = -8.0,
                          .north_deg = 8.0,
                          .west_deg = 20.0,
                          .east_deg = 40.0,
                          .step_deg = 1.0,
                          .hours = 72,
                          .every = 6,
                          .no_gust = true};
}

struct made {
    struct arena arena;
    struct world world;
    const struct seaway *seaway;
    double start_unix_s;
};

static void make(struct made *made, const struct scene *scene,
                 const struct sea_mask *mask) {
    arena_init(&made->arena);
    made->world = scene_world(scene, "wanderer-12", &made->arena);
    made->seaway = seaway_make(made->world.forecast, &all, mask, &made->arena);
    made->start_unix_s =
        (double)forecast_summary(made->world.forecast, QUANTITY_WIND)
            .first.unix_s;
}

static struct standing_system wind_sea(const struct made *made,
                                       struct position at, double hours) {
    struct seaway_mix mix;
    assert_true(seaway_at(made->seaway, at,
                          made->start_unix_s + hours_to_s(hours), &mix));
    return seaway_wind_sea(&mix);
}

static void a_steady_wind_gives_the_law_everywhere(void **state) {
    (void)state;
    struct made made;
    struct scene scene = scene_made();
    make(&made, &scene, NULL);
    struct seed seed = {31};
    for (int i = 0; i < 500; i++) {
        struct position at = {seed_between(&seed, -8.0, 8.0),
                              seed_between(&seed, 20.0, 40.0)};
        double hours = seed_between(&seed, 0.0, 72.0);
        struct standing_system sea = wind_sea(&made, at, hours);
        struct wave_system law =
            growth_wind_sea(10.0, 250.0, GROWTH_OPEN_WATER_M,
                            hours_to_s(GROWTH_ASSUMED_HOURS + hours));
        /* straight between times 3 h apart, where growth ends at once */
        assert_near(sea.height_m, law.height_m, 0.1);
        assert_near(sea.period_s, law.period_s, 0.2);
        assert_angle_near(vector_direction_towards(sea.from), 250.0, 0.1);
    }
    arena_free(&made.arena);
}

/* A corner of the raster, with a wind that rises and veers: the same as to
 * follow it by hand. */
static void a_point_of_the_raster_is_the_past_of_its_wind(void **state) {
    (void)state;
    struct made made;
    struct scene scene = scene_made();
    scene.weather.veer_deg_per_day = 60.0;
    scene.weather.rise_mps_per_day = -2.0;
    make(&made, &scene, NULL);
    struct position at = {-8.0, 20.0};
    struct vector_mps wind;
    double t = made.start_unix_s;
    assert_true(forecast_point_wind(made.world.forecast, at, t, &wind));
    struct standing_sea sea =
        standing_begin(wind, hours_to_s(GROWTH_ASSUMED_HOURS));
    for (int i = 1; i <= 24; i++) {
        for (int half = 1; half <= 2; half++) {
            struct vector_mps before = wind;
            t += hours_to_s(1.5);
            assert_true(forecast_point_wind(made.world.forecast, at, t, &wind));
            standing_blow(
                &sea,
                (struct vector_mps){0.5 * (before.east + wind.east),
                                    0.5 * (before.north + wind.north)},
                hours_to_s(1.5));
        }
        struct standing_system got = wind_sea(&made, at, 3.0 * i);
        assert_near(got.height_m, sea.wind_sea.height_m, 1e-4);
        assert_near(got.period_s, sea.wind_sea.period_s, 1e-4);
        assert_angle_near(vector_direction_towards(got.from),
                          vector_direction_towards(sea.wind_sea.from), 0.01);
    }
    arena_free(&made.arena);
}

static void before_the_first_step_and_after_the_last_it_is_held(void **state) {
    (void)state;
    struct made made;
    struct scene scene = scene_made();
    scene.weather.wind_mps = 15.0;
    make(&made, &scene, NULL);
    struct position at = {3.0, 31.3};
    assert_near(wind_sea(&made, at, -5.0).height_m,
                wind_sea(&made, at, 0.0).height_m, 0.0);
    assert_near(wind_sea(&made, at, 100.0).height_m,
                wind_sea(&made, at, 72.0).height_m, 1e-6);
    arena_free(&made.arena);
}

/* Nothing is known of the wind from 24 to 48 h: it is taken up as at the first
 * step, and in the hole there is no sea. */
static void a_hole_in_time_starts_the_past_anew(void **state) {
    (void)state;
    struct made made;
    struct scene scene = scene_made();
    struct seaway_mix mix;
    scene.weather.wind_mps = 15.0;
    scene.skip_from_h = 30;
    scene.skip_to_h = 42;
    make(&made, &scene, NULL);
    struct position at = {3.0, 31.3};
    double first_m = wind_sea(&made, at, 0.0).height_m;
    assert_true(wind_sea(&made, at, 24.0).height_m > 1.2 * first_m);
    assert_near(wind_sea(&made, at, 48.0).height_m, first_m, 1e-4);
    assert_false(
        seaway_at(made.seaway, at, made.start_unix_s + hours_to_s(36.0), &mix));
    arena_free(&made.arena);
}

static void outside_the_box_nothing_is_known(void **state) {
    (void)state;
    struct made made;
    struct scene scene = scene_made();
    struct seaway_mix mix;
    make(&made, &scene, NULL);
    static const struct position outside[] = {
        {8.1, 30.0}, {-8.1, 30.0}, {0.0, 19.9}, {0.0, 40.1}};
    for (size_t i = 0; i < sizeof outside / sizeof *outside; i++)
        assert_false(
            seaway_at(made.seaway, outside[i], made.start_unix_s, &mix));
    static const struct position rim[] = {
        {8.0, 40.0}, {-8.0, 20.0}, {8.0, 20.0}, {-8.0, 40.0}};
    for (size_t i = 0; i < sizeof rim / sizeof *rim; i++)
        assert_true(seaway_at(made.seaway, rim[i], made.start_unix_s, &mix));
    arena_free(&made.arena);
}

/* What is said of a place is the same to the last bit in boxes of all sizes:
 * their raster is one. */
static void the_box_doesn_t_matter_to_places_inside(void **state) {
    (void)state;
    static const struct coast_box boxes[] = {{-3.3, 3.1, 24.7, 33.4},
                                             {0.9, 2.4, 29.1, 31.0},
                                             {-90.0, 90.0, -180.0, 180.0},
                                             {-8.0, 8.0, 20.0, 40.0}};
    struct made made;
    struct scene scene = scene_made();
    scene.weather.rise_mps_per_lat_deg = 0.4;
    scene.weather.veer_deg_per_day = 70.0;
    scene.step_deg = 1.6; /* of which 225 go round: no multiple of it is 20 */
    make(&made, &scene, NULL);
    struct seed seed = {83};
    for (size_t k = 0; k < sizeof boxes / sizeof *boxes; k++) {
        const struct seaway *other =
            seaway_make(made.world.forecast, &boxes[k], NULL, &made.arena);
        for (int i = 0; i < 50; i++) {
            struct position at = {seed_between(&seed, 0.9, 2.4),
                                  seed_between(&seed, 29.1, 31.0)};
            double unix_s = made.start_unix_s + 3600.0 * i;
            struct seaway_mix a, b;
            assert_true(seaway_at(made.seaway, at, unix_s, &a));
            assert_true(seaway_at(other, at, unix_s, &b));
            assert_memory_equal(&a, &b, sizeof a);
        }
    }
    arena_free(&made.arena);
}

/* Likewise across 180 degrees, with steps of which no whole number goes round:
 * 1.7 degrees are taken as 1.706. */
static void nor_across_the_dateline(void **state) {
    (void)state;
    static const struct coast_box wide = {-5.0, 5.0, 172.0, 188.0},
                                  east = {-5.0, 5.0, -179.9, -173.0};
    struct made made;
    struct scene scene = scene_made();
    scene.west_deg = 171.3;
    scene.east_deg = 191.7;
    scene.south_deg = -8.5;
    scene.north_deg = 8.5;
    scene.step_deg = 1.7;
    scene.weather.rise_mps_per_lat_deg = 0.4;
    make(&made, &scene, NULL);
    const struct forecast *forecast = made.world.forecast;
    const struct seaway *a = seaway_make(forecast, &wide, NULL, &made.arena);
    const struct seaway *b = seaway_make(forecast, &east, NULL, &made.arena);
    for (double lon_deg = -179.9; lon_deg <= -173.0; lon_deg += 0.3) {
        struct position at = {0.1 * lon_deg + 17.0, lon_deg};
        struct seaway_mix of_a, of_b;
        double unix_s = made.start_unix_s + 36000.0;
        assert_true(seaway_at(a, at, unix_s, &of_a));
        assert_true(seaway_at(b, at, unix_s, &of_b));
        assert_memory_equal(&of_a, &of_b, sizeof of_a);
    }
    struct seaway_mix mix;
    assert_true(
        seaway_at(a, (struct position){0.0, 179.999}, made.start_unix_s, &mix));
    assert_true(
        seaway_at(a, (struct position){0.0, -180.0}, made.start_unix_s, &mix));
    arena_free(&made.arena);
}

/* The wind's area ends between two points: the one beyond it has the wind of
 * the border, to the full. */
static void beyond_the_wind_its_border_counts(void **state) {
    (void)state;
    static const struct coast_box box = {-8.4, 8.4, 20.3, 39.5};
    struct made made;
    struct scene scene = scene_made();
    scene.west_deg = 20.3;
    scene.east_deg = 39.5;
    scene.south_deg = -8.4;
    scene.north_deg = 8.4;
    scene.step_deg = 1.2;
    make(&made, &scene, NULL);
    const struct seaway *seaway =
        seaway_make(made.world.forecast, &box, NULL, &made.arena);
    static const struct position rim[] = {
        {8.4, 39.5}, {-8.4, 20.3}, {8.4, 20.3}, {-8.4, 39.5}, {0.0, 30.0}};
    for (size_t i = 0; i < sizeof rim / sizeof *rim; i++) {
        struct seaway_mix mix;
        assert_true(seaway_at(seaway, rim[i], made.start_unix_s, &mix));
        assert_near((double)mix.value[SEAWAY_VALUES - 2], 1.0, 1e-6);
    }
    arena_free(&made.arena);
}

/* On an invented island, 24 to 36 E and 6 S to 6 N, no point counts; beside it
 * those at sea do. */
static void points_on_land_don_t_count(void **state) {
    (void)state;
    struct made made;
    struct scene scene = scene_made();
    struct gshhg gshhg = gshhg_make();
    struct arena arena;
    struct coast *coast;
    struct error error;
    struct seaway_mix mix;
    arena_init(&arena);
    if (!coast_load(&coast, gshhg_write(&gshhg, "seaway.nc"), &all, &arena,
                    &error))
        fail_msg("%s", error.text);
    make(&made, &scene, sea_mask_make(coast, &all, &arena));
    assert_false(seaway_at(made.seaway, (struct position){4.0, 30.0},
                           made.start_unix_s, &mix));
    double open_m = wind_sea(&made, (struct position){0.0, 21.0}, 6.0).height_m;
    assert_near(wind_sea(&made, (struct position){0.0, 23.9}, 6.0).height_m,
                open_m, 1e-4);
    arena_free(&made.arena);
    arena_free(&arena);
}

/* In a process of its own: all four corners of so many cells, side by side. */
_Noreturn static void ask_of_cells(const struct made *made,
                                   const struct seaway *seaway, int cells) {
    struct seaway_mix mix;
    if (!freopen(check_write("seaway.err", ""), "w", stderr) ||
        setvbuf(stderr, NULL, _IONBF, 0) != 0)
        _exit(EXIT_FAILURE);
    for (int i = 0; i < cells; i++)
        seaway_at(seaway, (struct position){0.5, 20.5 + i}, made->start_unix_s,
                  &mix);
    _exit(EXIT_SUCCESS);
}

static int ending_of_cells(size_t limit_bytes, int cells) {
    struct made made;
    struct scene scene = scene_made();
    make(&made, &scene, NULL);
    const struct seaway *seaway = seaway_make_within(
        limit_bytes, made.world.forecast, &all, NULL, &made.arena);
    fflush(NULL);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0)
        ask_of_cells(&made, seaway, cells);
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    arena_free(&made.arena);
    assert_true(WIFEXITED(status));
    return WEXITSTATUS(status);
}

/* Points have 25 times here: 72 h, every 3. One cell has 4 of them, two have
 * 6. */
static void points_are_held_to_a_limit(void **state) {
    (void)state;
    enum { POINT_BYTES = 25 * sizeof(struct seaway_mix) };
    struct arena arena;
    struct error error;
    assert_int_equal(ending_of_cells(4 * POINT_BYTES, 1), 0);
    assert_int_equal(ending_of_cells(4 * POINT_BYTES - 1, 1), STATUS_RESOURCE);
    assert_int_equal(ending_of_cells(6 * POINT_BYTES, 2), 0);
    assert_int_equal(ending_of_cells(6 * POINT_BYTES - 1, 2), STATUS_RESOURCE);
    arena_init(&arena);
    const char *path = arena_print(&arena, "%s/seaway.err", check_folder());
    assert_string_equal(text_load(&arena, path, 999, &error),
                        "sparwise: the sea that the wind raises takes more "
                        "than 0 MB on a search as wide as this; take a "
                        "forecast of a smaller area, or of fewer days\n");
    arena_free(&arena);
}

/* Asked by several threads at once, the answers are those of one alone. */
static void threads_get_the_same_answers(void **state) {
    (void)state;
    enum { PLACES = 400 };
    static float alone[PLACES], together[PLACES];
    struct made made;
    struct scene scene = scene_made();
    scene.weather.veer_deg_per_day = 100.0;
    make(&made, &scene, NULL);
    const struct seaway *fresh =
        seaway_make(made.world.forecast, &all, NULL, &made.arena);
    for (int i = 0; i < PLACES; i++) {
        struct position at = {-8.0 + 0.04 * i, 20.0 + 0.05 * i};
        struct seaway_mix mix;
        assert_true(
            seaway_at(made.seaway, at, made.start_unix_s + 600.0 * i, &mix));
        alone[i] = mix.value[0] + mix.value[5];
    }
#pragma omp parallel for num_threads(4) schedule(dynamic, 1)
    for (int i = 0; i < PLACES; i++) {
        struct position at = {-8.0 + 0.04 * i, 20.0 + 0.05 * i};
        struct seaway_mix mix;
        seaway_at(fresh, at, made.start_unix_s + 600.0 * i, &mix);
        together[i] = mix.value[0] + mix.value[5];
    }
    for (int i = 0; i < PLACES; i++)
        assert_near((double)together[i], (double)alone[i], 0.0);
    arena_free(&made.arena);
}

/* At the points of its grid the wind alone is that of a sample. */
static void the_wind_of_a_point_is_that_of_a_sample_there(void **state) {
    (void)state;
    struct made made;
    struct scene scene = scene_made();
    scene.weather.veer_deg_per_day = 70.0;
    scene.weather.rise_mps_per_lat_deg = 0.4;
    make(&made, &scene, NULL);
    for (double lat_deg = -8.0; lat_deg <= 8.0; lat_deg += 4.0)
        for (double hours = -1.0; hours <= 73.0; hours += 2.5) {
            struct position at = {lat_deg, 33.0}, near = {lat_deg, 33.4};
            struct weather weather;
            struct vector_mps wind, beside;
            double unix_s = made.start_unix_s + hours_to_s(hours);
            bool inside = forecast_at(made.world.forecast, at, unix_s,
                                      &weather) == COVERAGE_INSIDE;
            assert_int_equal(
                forecast_point_wind(made.world.forecast, at, unix_s, &wind),
                inside);
            if (!inside)
                continue;
            assert_near(wind.east, weather.wind.east, 1e-5);
            assert_near(wind.north, weather.wind.north, 1e-5);
            assert_true(forecast_point_wind(made.world.forecast, near, unix_s,
                                            &beside));
            assert_near(beside.east, wind.east, 0.0);
        }
    arena_free(&made.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_steady_wind_gives_the_law_everywhere),
        cmocka_unit_test(a_point_of_the_raster_is_the_past_of_its_wind),
        cmocka_unit_test(before_the_first_step_and_after_the_last_it_is_held),
        cmocka_unit_test(a_hole_in_time_starts_the_past_anew),
        cmocka_unit_test(outside_the_box_nothing_is_known),
        cmocka_unit_test(the_box_doesn_t_matter_to_places_inside),
        cmocka_unit_test(nor_across_the_dateline),
        cmocka_unit_test(beyond_the_wind_its_border_counts),
        cmocka_unit_test(points_on_land_don_t_count),
        cmocka_unit_test(points_are_held_to_a_limit),
        cmocka_unit_test(threads_get_the_same_answers),
        cmocka_unit_test(the_wind_of_a_point_is_that_of_a_sample_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
