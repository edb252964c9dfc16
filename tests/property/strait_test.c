#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/banks.h"
#include "../support/scratch.h"
#include "earth/geodesic.h"
#include "search/search.h"
#include "voyage/sail.h"

/* Whole searches among invented banks. Every stretch of a track is tested
 * against them anew, by plane geometry. */

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* Steady wind on the port quarter of a boat that goes west. */
static const struct analytic trades = {.wind_from_deg = 50.0, .wind_mps = 8.0};

static struct search_result
search_among(struct banks *banks, struct position from, struct position to) {
    struct voyage voyage =
        analytic_voyage(analytic_boat("wanderer-12"), &trades, to);
    banks_put(&voyage, banks);
    struct search_request request = {
        .from = from, .to = to, .start = {.spar = SPAR_STOWED}};
    bool open;
    request.ways = search_ways(&voyage, &request, &arena, &open);
    assert_true(open);
    struct search_result result;
    search_run(&voyage, &request, NULL, &arena, &result);
    return result;
}

static void assert_track_is_clear(const struct banks *banks,
                                  const struct track *track) {
    for (size_t i = 0; i + 1 < track->count; i++)
        assert_true(banks_distance_m(banks, track->vertices[i].at,
                                     track->vertices[i + 1].at) > 0.0);
}

/* A wall from north to south across the way, 40 nmi thick, with a strait
 * through it: so wide, so far from the direct way. */
struct strait {
    double wide_nmi, north_nmi;
};

static void wall_with(struct strait strait, struct bank bank[2]) {
    const double thick_nmi = 40.0, lon_deg = -33.0;
    double radius_deg = 0.5 * thick_nmi / 60.0;
    double low_deg = (strait.north_nmi - 0.5 * strait.wide_nmi) / 60.0;
    double high_deg = (strait.north_nmi + 0.5 * strait.wide_nmi) / 60.0;
    bank[0] = (struct bank){{-9.0, lon_deg},
                            {low_deg - radius_deg, lon_deg},
                            nmi_to_m(0.5 * thick_nmi),
                            OBSTACLE_LAND};
    bank[1] = (struct bank){{high_deg + radius_deg, lon_deg},
                            {9.0, lon_deg},
                            nmi_to_m(0.5 * thick_nmi),
                            OBSTACLE_LAND};
}

/* Open water of 3.5 nmi: a strait of 7.5 with 2 nmi of clearance; of 2 nmi: one
 * of 3 with half a mile. */
static void a_strait_is_found_and_no_wall_is_crossed(void **state) {
    (void)state;
    static const struct strait straits[] = {
        {3.5, 10.0}, {2.0, 10.0}, {3.5, -73.0}, {2.0, 61.5}};
    size_t count = check_is_long() ? COUNT(straits) : 2;
    for (size_t i = 0; i < count; i++) {
        struct bank bank[2];
        wall_with(straits[i], bank);
        struct banks banks = {.items = bank, .count = 2};
        struct position from = {0.0, -30.0}, to = {0.5, -37.0};
        struct position gap = {straits[i].north_nmi / 60.0, -33.0};
        struct search_result result = search_among(&banks, from, to);
        assert_true(result.reached);
        assert_track_is_clear(&banks, &result.track);
        double least_m = geodesic_between(from, gap).distance_m +
                         geodesic_between(gap, to).distance_m;
        double sailed_m = 0.0;
        for (size_t k = 0; k + 1 < result.track.count; k++)
            sailed_m += geodesic_between(result.track.vertices[k].at,
                                         result.track.vertices[k + 1].at)
                            .distance_m;
        assert_true(sailed_m < 1.1 * least_m);
    }
}

/* A chain of round islands a mile across, one on every line that the search is
 * likely to take. */
static void an_island_of_a_mile_is_never_crossed(void **state) {
    (void)state;
    enum { ISLANDS = 41 };
    struct bank islands[ISLANDS];
    for (int i = 0; i < ISLANDS; i++) {
        struct position at = {0.05 * (i - ISLANDS / 2), -32.0 - 0.01 * (i % 3)};
        islands[i] = (struct bank){at, at, nmi_to_m(0.5), OBSTACLE_LAND};
    }
    struct banks banks = {.items = islands, .count = ISLANDS};
    struct position from = {0.0, -30.0};
    for (int i = 0; i < (check_is_long() ? 6 : 2); i++) {
        struct position to = {0.02 * i, -34.0 - 1.5 * i};
        struct search_result result = search_among(&banks, from, to);
        assert_true(result.reached);
        assert_track_is_clear(&banks, &result.track);
    }
}

static void a_crooked_channel_is_sailed_from_end_to_end(void **state) {
    (void)state;
    /* two combs of walls, their teeth past each other: a mile and a half of
     * water between a tooth and the other side */
    enum { TEETH = 6, BANKS = 2 * TEETH + 4 };
    struct bank bank[BANKS];
    int count = 0;
    const double south_deg = -0.1, north_deg = 0.1, step_deg = 0.08;
    for (int i = 0; i < TEETH; i++) {
        double lon_deg = -31.0 - step_deg * i;
        double from_deg = i % 2 == 0 ? south_deg : north_deg;
        bank[count++] = (struct bank){{from_deg, lon_deg},
                                      {-from_deg * 0.6, lon_deg},
                                      nmi_to_m(0.5),
                                      OBSTACLE_LAND};
    }
    double west_deg = -31.0 - step_deg * TEETH;
    bank[count++] = (struct bank){
        {south_deg, -31.0}, {south_deg, west_deg}, 500.0, OBSTACLE_LAND};
    bank[count++] = (struct bank){
        {north_deg, -31.0}, {north_deg, west_deg}, 500.0, OBSTACLE_LAND};
    bank[count++] =
        (struct bank){{-3.0, -31.0}, {south_deg, -31.0}, 500.0, OBSTACLE_LAND};
    bank[count++] =
        (struct bank){{north_deg, -31.0}, {3.0, -31.0}, 500.0, OBSTACLE_LAND};
    struct banks banks = {.items = bank, .count = (size_t)count};
    struct position from = {0.0, -30.5}, to = {0.0, -32.2};
    struct search_result result = search_among(&banks, from, to);
    assert_true(result.reached);
    assert_track_is_clear(&banks, &result.track);
}

/* The wind blows straight down a strait of 3 nmi, forty long: she has to beat
 * up it. No more than twice the straight way, and a little. */
static void a_strait_with_the_wind_ahead_is_beaten_up(void **state) {
    (void)state;
    static const struct analytic ahead = {.wind_from_deg = 270.0,
                                          .wind_mps = 7.0};
    struct bank bank[2];
    wall_with((struct strait){3.0, 10.0}, bank);
    struct banks banks = {.items = bank, .count = 2};
    struct position from = {0.1, -32.4}, to = {0.3, -33.6};
    struct voyage voyage =
        analytic_voyage(analytic_boat("wanderer-12"), &ahead, to);
    banks_put(&voyage, &banks);
    struct search_request request = {
        .from = from, .to = to, .start = {.spar = SPAR_STOWED}};
    bool open;
    request.ways = search_ways(&voyage, &request, &arena, &open);
    struct search_result result;
    search_run(&voyage, &request, NULL, &arena, &result);
    assert_true(result.reached);
    assert_track_is_clear(&banks, &result.track);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_strait_is_found_and_no_wall_is_crossed),
        cmocka_unit_test(an_island_of_a_mile_is_never_crossed),
        cmocka_unit_test(a_crooked_channel_is_sailed_from_end_to_end),
        cmocka_unit_test(a_strait_with_the_wind_ahead_is_beaten_up),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
