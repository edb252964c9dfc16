#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"
#include "plan/water.h"
#include "search/search.h"
#include "voyage/sail.h"

#include <stdio.h>
#include <stdlib.h>

/* Seeded passages over real coasts, from a river mouth's width to a sea's, in a
 * steady invented wind. No stretch of a track is on land, by the levels of
 * places along it, which are worked out otherwise than the search does; and
 * where there is no way, a flood over small squares finds none either. */

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* Seas with islands, straits and inlets. */
static const struct coast_box seas[] = {
    {35.5, 40.0, 23.0, 28.0},     /* Aegean */
    {58.0, 62.0, 2.0, 7.0},       /* south-west Norway */
    {-17.0, -11.0, 43.0, 52.0},   /* north of Madagascar */
    {11.0, 16.0, -63.0, -58.0},   /* Windward Islands */
    {26.5, 30.0, -19.0, -12.0},   /* Canary Islands */
    {-19.5, -15.5, 176.0, 182.0}, /* Fiji, across 180 */
    {-55.5, -51.0, -76.0, -67.0}, /* Strait of Magellan */
    {54.0, 59.0, 8.0, 14.0},      /* Danish straits */
    {-10.0, -7.0, 116.0, 124.0},  /* Flores Sea */
    {-42.0, -34.0, 172.0, 179.0}, /* New Zealand, north */
    {10.5, 15.0, 41.0, 46.5},     /* Bab-el-Mandeb */
    {22.0, 27.0, -80.0, -73.0},   /* Bahamas */
};

struct passage {
    struct water water;
    struct analytic weather;
    struct voyage voyage;
    struct search_request request;
};

static struct position random_place(struct seed *seed,
                                    const struct coast_box *box) {
    return (struct position){
        seed_between(seed, box->south_deg, box->north_deg),
        angle_wrap_longitude(seed_between(seed, box->west_deg, box->east_deg))};
}

/* In the sea; near to `centre` by the scale. */
static struct position sea_place(struct seed *seed, const struct water *water,
                                 struct position centre, double within_m) {
    for (;;) {
        struct position place = random_place(seed, &water->box);
        if (coast_level_at(water->coast, place) == COAST_SEA &&
            geodesic_between(centre, place).distance_m < within_m)
            return place;
    }
}

static void draw(struct passage *passage, struct seed *seed,
                 const struct water *sea) {
    static const double clearances_nmi[] = {0.2, 0.5, 1.0, 2.0};
    static const double scales_nmi[] = {25.0, 60.0, 150.0, 1000.0};
    struct water *water = &passage->water;
    *water = *sea;
    double within_m = nmi_to_m(scales_nmi[(int)seed_between(seed, 0.0, 4.0)]);
    struct position anywhere = random_place(seed, &water->box);
    water->start = sea_place(seed, water, anywhere, HUGE_VAL);
    do {
        water->finish = sea_place(seed, water, water->start, within_m);
    } while (geodesic_between(water->start, water->finish).distance_m < 2000.0);
    water->clearance_m =
        nmi_to_m(clearances_nmi[(int)seed_between(seed, 0.0, 4.0)]);
    water->approach_m = nmi_to_m(5.0);
    water_prepare(water, &arena);
    passage->weather =
        (struct analytic){.wind_from_deg = seed_between(seed, 0.0, 360.0),
                          .wind_mps = seed_between(seed, 5.0, 9.0)};
    passage->voyage = analytic_voyage(analytic_boat("wanderer-12"),
                                      &passage->weather, water->finish);
    passage->voyage.spar_allowed = seed_between(seed, 0.0, 1.0) < 0.2;
    passage->voyage.starts_near_finish = true;
    passage->voyage.blocked = water_blocked;
    passage->voyage.room_m = water_room_m;
    passage->voyage.clear_m = water_clear_m;
    passage->voyage.water = water;
    passage->request = (struct search_request){.from = water->start,
                                               .to = water->finish,
                                               .start = {.spar = SPAR_STOWED}};
}

static void assert_no_land_under(const struct water *water,
                                 const struct track *track) {
    for (size_t i = 0; i + 1 < track->count; i++) {
        struct position from = track->vertices[i].at;
        struct rhumb line = rhumb_between(from, track->vertices[i + 1].at);
        int places = 2 + (int)(line.distance_m / 200.0);
        for (int k = 0; k <= places; k++) {
            struct position at = rhumb_ahead(from, line.course_deg,
                                             line.distance_m * k / places);
            assert_int_equal(coast_level_at(water->coast, at), COAST_SEA);
        }
    }
}

/* --- the flood --------------------------------------------------------------
 */

/* Squares of a third of a mile; from one to the next where the line between
 * their middles is free. */
struct flood {
    const struct water *water;
    int rows, columns;
    double lat_step_deg, lon_step_deg;
    unsigned char *wet;
    int *queue;
};

static struct position flood_place(const struct flood *flood, int row,
                                   int column) {
    const struct coast_box *box = &flood->water->box;
    return (struct position){
        box->south_deg + (row + 0.5) * flood->lat_step_deg,
        angle_wrap_longitude(box->west_deg +
                             (column + 0.5) * flood->lon_step_deg)};
}

static bool is_free(const struct flood *flood, struct position a,
                    struct position b) {
    return water_blocked(flood->water, a, b, VOYAGE_FOR_GOOD,
                         VOYAGE_FOR_GOOD) == OBSTACLE_NONE;
}

static int square_at(const struct flood *flood, struct position at) {
    const struct coast_box *box = &flood->water->box;
    int row = (int)((at.lat_deg - box->south_deg) / flood->lat_step_deg);
    int column =
        (int)(angle_wrap_360(at.lon_deg - box->west_deg) / flood->lon_step_deg);
    return row * flood->columns + column;
}

/* Wets the squares about a place that can be seen from it; how many. */
static int wet_about(struct flood *flood, struct position place) {
    int count = 0, middle = square_at(flood, place);
    for (int k = 0; k < 25; k++) {
        int row = middle / flood->columns + k / 5 - 2;
        int column = middle % flood->columns + k % 5 - 2;
        if (row < 0 || row >= flood->rows || column < 0 ||
            column >= flood->columns ||
            !is_free(flood, place, flood_place(flood, row, column)))
            continue;
        int square = row * flood->columns + column;
        flood->wet[square] = 1;
        flood->queue[count++] = square;
    }
    return count;
}

static void spread(struct flood *flood, int count) {
    static const int north[] = {1, -1, 0, 0}, east[] = {0, 0, 1, -1};
    for (int next = 0; next < count; next++) {
        int row = flood->queue[next] / flood->columns;
        int column = flood->queue[next] % flood->columns;
        struct position here = flood_place(flood, row, column);
        for (int k = 0; k < 4; k++) {
            int r = row + north[k], c = column + east[k];
            if (r < 0 || r >= flood->rows || c < 0 || c >= flood->columns)
                continue;
            int square = r * flood->columns + c;
            if (flood->wet[square] ||
                !is_free(flood, here, flood_place(flood, r, c)))
                continue;
            flood->wet[square] = 1;
            flood->queue[count++] = square;
        }
    }
}

static bool flood_joins(const struct water *water) {
    const double side_deg = 0.33 / 60.0;
    const struct coast_box *box = &water->box;
    double level =
        cos(0.5 * (box->south_deg + box->north_deg) * RADIANS_PER_DEGREE);
    struct flood flood = {.water = water,
                          .lat_step_deg = side_deg,
                          .lon_step_deg = side_deg / level};
    flood.rows = (int)((box->north_deg - box->south_deg) / side_deg);
    flood.columns = (int)((box->east_deg - box->west_deg) / flood.lon_step_deg);
    size_t squares = (size_t)flood.rows * (size_t)flood.columns;
    flood.wet = calloc(squares, 1);
    flood.queue = calloc(squares, sizeof *flood.queue);
    assert_non_null(flood.wet);
    assert_non_null(flood.queue);
    spread(&flood, wet_about(&flood, water->start));
    int middle = square_at(&flood, water->finish);
    bool joined = false;
    for (int k = 0; k < 25 && !joined; k++) {
        int row = middle / flood.columns + k / 5 - 2;
        int column = middle % flood.columns + k % 5 - 2;
        joined =
            row >= 0 && row < flood.rows && column >= 0 &&
            column < flood.columns && flood.wet[row * flood.columns + column] &&
            is_free(&flood, flood_place(&flood, row, column), water->finish);
    }
    free(flood.wet);
    free(flood.queue);
    return joined;
}

/* --- all of it --------------------------------------------------------------
 */

static void tell(int number, const struct passage *passage, const char *what) {
    char from[POSITION_TEXT_SIZE], to[POSITION_TEXT_SIZE];
    position_print(passage->water.start, from);
    position_print(passage->water.finish, to);
    printf("passage %d, %s to %s, clearance %.1f nmi: %s\n", number, from, to,
           m_to_nmi(passage->water.clearance_m), what);
}

static void try_passage(int number, const struct water *sea) {
    struct seed seed = {(uint64_t)number + 1};
    struct passage passage;
    struct search_result result = {.reached = false};
    draw(&passage, &seed, sea);
    bool open;
    passage.request.ways =
        search_ways(&passage.voyage, &passage.request, &arena, &open);
    if (open)
        search_run(&passage.voyage, &passage.request, NULL, &arena, &result);
    if (result.reached) {
        assert_no_land_under(&passage.water, &result.track);
        return;
    }
    bool joined = flood_joins(&passage.water);
    if (joined || open)
        tell(number, &passage, open ? "not sailed" : "the flood gets there");
    assert_false(joined);
}

/* The finest set, or a coarser one that loads in no time. */
static const char *coast_path(void) {
    const char *path = coast_installed(&arena);
    if (!path) {
        printf("skipped: no shorelines are installed\n");
        skip();
    }
    return check_is_long() ? path : "/usr/share/gmt-gshhg/binned_GSHHS_i.nc";
}

static void try_sea(int index, int each) {
    struct error error;
    struct coast *coast;
    const struct coast_box *box = &seas[index];
    if (!coast_load(&coast, coast_path(), box, &arena, &error))
        fail_msg("%s", error.text);
    struct water sea = {
        .coast = coast, .mask = sea_mask_make(coast, box, &arena), .box = *box};
    for (int k = 0; k < each; k++)
        try_passage(index * 100 + k, &sea);
    arena_free(&arena);
    arena_init(&arena);
}

static void seeded_passages_keep_off_the_land(void **state) {
    (void)state;
    int each = check_is_long() ? 25 : 3;
    for (size_t i = 0; i < COUNT(seas); i++)
        try_sea((int)i, each);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(seeded_passages_keep_off_the_land),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
