/* Work in the dark, moved into the last light before it or the first after. */
#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/sailing.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "earth/rhumb.h"
#include "search/daylit.h"
#include "search/search.h"

/* Night from 4 h to 8 h after departure. */
static struct voyage made_voyage(void) {
    static struct analytic weather;
    weather = (struct analytic){.wind_from_deg = 0.0,
                                .wind_mps = 8.0,
                                .night_from_s = 4.0 * 3600.0,
                                .night_every_s = 8.0 * 3600.0};
    struct voyage voyage = analytic_voyage(plain_boat(), &weather, far_away);
    voyage.ease = 1.0;
    voyage.spar_allowed = true;
    return voyage;
}

/* South, the spar set at once and stowed after `hours`; 10 h at 3 m/s. */
static struct track made_track(double hours) {
    struct track track = {.count = 4};
    track.vertices = arena_alloc(&arena, 4, sizeof *track.vertices);
    double so_far_m[] = {0.0, 100.0, 5.0 * hours_to_s(hours),
                         5.0 * hours_to_s(10.0)};
    for (size_t i = 0; i < 4; i++)
        track.vertices[i] =
            (struct vertex){.at = rhumb_ahead(start, 180.0, so_far_m[i])};
    track.vertices[1].order = (struct deck){.spar = SPAR_PORT};
    return track;
}

struct stows {
    int count;
    double t_s[4];
    enum light light[4];
};

static void note_change(void *context, const struct sail_change *change) {
    struct stows *stows = context;
    if (change->kind != CHANGE_STOW)
        return;
    stows->t_s[stows->count] = change->t_s;
    stows->light[stows->count++] = change->conditions->light;
}

static struct stows stows_of(const struct voyage *voyage,
                             const struct track *track) {
    struct stows stows = {.count = 0};
    struct sail_observer observer = {.change = note_change, .context = &stows};
    struct underway from = sail_start(start, STOWED);
    struct underway boat = track_start(voyage, track, &from);
    assert_int_equal(track_sail(voyage, track, &boat, &observer),
                     OBSTACLE_NONE);
    return stows;
}

static size_t ways_of(const struct voyage *voyage, const struct track *track,
                      struct track ways[4]) {
    struct underway from = sail_start(start, STOWED);
    return daylit_ways(voyage, track, &from, ways, 4, &arena);
}

static void a_stow_at_night_goes_to_the_light_on_either_side(void **state) {
    (void)state;
    struct voyage voyage = made_voyage();
    struct track track = made_track(6.0), ways[4];
    struct stows night = stows_of(&voyage, &track);
    assert_int_equal(night.count, 1);
    assert_int_equal(night.light[0], LIGHT_NIGHT);
    assert_int_equal(ways_of(&voyage, &track, ways), 2);
    struct stows later = stows_of(&voyage, &ways[0]),
                 sooner = stows_of(&voyage, &ways[1]);
    assert_int_equal(later.count, 1);
    assert_int_equal(sooner.count, 1);
    assert_true(later.light[0] != LIGHT_NIGHT);
    assert_true(sooner.light[0] != LIGHT_NIGHT);
    assert_true(later.t_s[0] >= hours_to_s(8.0) &&
                later.t_s[0] < hours_to_s(9.0));
    assert_true(sooner.t_s[0] <= hours_to_s(4.0) &&
                sooner.t_s[0] > hours_to_s(3.0));
}

static void by_day_there_is_nothing_to_move(void **state) {
    (void)state;
    struct voyage voyage = made_voyage();
    struct track track = made_track(2.0), ways[4];
    assert_int_equal(ways_of(&voyage, &track, ways), 0);
}

static void where_the_dark_is_no_matter_nothing_is_moved(void **state) {
    (void)state;
    struct voyage voyage = made_voyage();
    struct track track = made_track(6.0), ways[4];
    voyage.work_rule = WORK_ANY;
    assert_int_equal(ways_of(&voyage, &track, ways), 0);
    voyage = made_voyage();
    voyage.ease = 0.0;
    assert_int_equal(ways_of(&voyage, &track, ways), 0);
}

/* The finish comes before it is light again. */
static void a_night_that_does_not_end_leaves_one_way(void **state) {
    (void)state;
    struct voyage voyage = made_voyage();
    struct analytic dark = *(const struct analytic *)voyage.weather;
    dark.night_every_s = 1.0e6;
    voyage.weather = &dark;
    struct track track = made_track(6.0), ways[4];
    assert_int_equal(ways_of(&voyage, &track, ways), 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_stow_at_night_goes_to_the_light_on_either_side),
        cmocka_unit_test(by_day_there_is_nothing_to_move),
        cmocka_unit_test(where_the_dark_is_no_matter_nothing_is_moved),
        cmocka_unit_test(a_night_that_does_not_end_leaves_one_way),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
