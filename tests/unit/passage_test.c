/* What plan_along() refuses before it sails anything. */
#include "../support/check.h"
#include "../support/scene.h"
#include "../support/scratch.h"

#include "plan/passage.h"
#include "plan/preflight.h"
#include <string.h>

static struct error error;

/* Any world will do: no track of these gets as far as the wind. */
static bool along(const struct position *places, size_t count) {
    struct scene scene = {.name = "passage",
                          .weather = {.wind_from_deg = 90.0, .wind_mps = 8.0},
                          .south_deg = 10.0,
                          .north_deg = 12.0,
                          .west_deg = -50.0,
                          .east_deg = -48.0,
                          .step_deg = 1.0,
                          .hours = 24,
                          .every = 6,
                          .sea = SCENE_NO_SEA};
    struct world world = scene_world(&scene, "wanderer-12", &arena);
    struct request request =
        scene_request("11N 49W", "11N 48W", "2026-06-01T00:00Z", &arena);
    struct given_track track = {"mine.gpx", places, count, false};
    struct plan *plan;
    return plan_along(&world, &request, &track, &arena, &plan, &error);
}

/* All in one place: as many as the limit come to that fault, one more to the
 * limit. */
static void a_track_of_too_many_points_is_refused(void **state) {
    (void)state;
    struct position *places =
        arena_alloc(&arena, PREFLIGHT_TRACK_POINTS + 1, sizeof *places);
    assert_false(along(places, PREFLIGHT_TRACK_POINTS));
    assert_contains(error.text, "the points of 'mine.gpx' are all one place");
    assert_false(along(places, PREFLIGHT_TRACK_POINTS + 1));
    assert_string_equal(error.text,
                        "'mine.gpx' has 10001 points, and more than 10000 are "
                        "not timed; thin the track out");
    assert_int_equal(error.status, STATUS_INPUT);
}

/* A degree of the line is 60.108 nmi: 532 are 31,977 nmi, 533 are 32,038. The
 * shorter one comes as far as the area of the wind. */
static void a_track_of_too_many_miles_is_refused(void **state) {
    (void)state;
    struct position track[] = {{0.0, 0.0},   {0.0, 90.0}, {0.0, -180.0},
                               {0.0, -90.0}, {0.0, 0.0},  {0.0, 90.0},
                               {0.0, 172.0}, {0.0, 173.0}};
    assert_false(along(track, 7));
    assert_null(strstr(error.text, "not planned"));
    assert_false(along(track, 8));
    assert_contains(error.text,
                    "nmi, and more than 32000 nmi are not planned; look at the "
                    "letters");
    assert_int_equal(error.status, STATUS_INPUT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_track_of_too_many_points_is_refused,
                                        scratch_begin, scratch_end),
        cmocka_unit_test_setup_teardown(a_track_of_too_many_miles_is_refused,
                                        scratch_begin, scratch_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
