/* Land as it is drawn against land as a plan asks for it. */
#include "../support/check.h"
#include "../support/gshhg_maker.h"
#include "../support/scratch.h"

#include "base/file.h"
#include "base/units.h"
#include "earth/angle.h"
#include "earth/coast.h"
#include "plan/mapped.h"
#include <math.h>

static bool crosses(struct mercator a, struct mercator b,
                    struct mercator place) {
    if ((a.y > place.y) == (b.y > place.y))
        return false;
    return place.x < a.x + (place.y - a.y) / (b.y - a.y) * (b.x - a.x);
}

/* Even-odd over all shapes. */
static bool is_in(const struct plan_shapes *shapes, struct mercator place) {
    bool in = false;
    for (size_t i = 0; i < shapes->count; i++) {
        const struct plan_shape *shape = &shapes->items[i];
        for (size_t k = 0; k < shape->count; k++)
            in ^= crosses(shape->points[k],
                          shape->points[(k + 1) % shape->count], place);
    }
    return in;
}

static struct plan_chart chart_of(double south_deg, double north_deg,
                                  double west_deg, double east_deg) {
    struct plan_chart chart = {.has_coast = false};
    chart.box.low =
        (struct mercator){west_deg * RADIANS_PER_DEGREE,
                          mercator_of((struct position){south_deg, 0.0}).y};
    chart.box.high =
        (struct mercator){east_deg * RADIANS_PER_DEGREE,
                          mercator_of((struct position){north_deg, 0.0}).y};
    return chart;
}

/* Where a shoreline is near, thinning may put a place to the other side. */
static void expect_same_land(const struct plan_chart *chart,
                             const struct coast *coast, double near_m,
                             int rounds) {
    struct seed seed = {77};
    int land = 0, sea = 0;
    for (int i = 0; i < rounds; i++) {
        struct mercator place = {
            seed_between(&seed, chart->box.low.x, chart->box.high.x),
            seed_between(&seed, chart->box.low.y, chart->box.high.y)};
        struct position at = mercator_position(place);
        if (coast_distance_m(coast, at, near_m, NULL) < near_m)
            continue;
        bool drawn = is_in(&chart->land, place);
        if (drawn != (coast_level_at(coast, at) != COAST_SEA))
            fail_msg("%.4f %.4f: drawn as %s", at.lat_deg, at.lon_deg,
                     drawn ? "land" : "sea");
        land += drawn;
        sea += !drawn;
    }
    assert_true(land > 0 && sea > 0);
}

static const struct coast *made_coast(void) {
    struct gshhg gshhg = gshhg_make();
    struct coast *coast;
    struct error error;
    const struct coast_box world = {-90.0, 90.0, -180.0, 180.0};
    assert_true(coast_load(&coast, gshhg_write(&gshhg, "made.nc"), &world,
                           &arena, &error));
    return coast;
}

/* Land over corners of tiles, across longitude 180 at either turn, lakes. */
static void made_land_is_drawn_where_it_is(void **state) {
    (void)state;
    static const double boxes[][4] = {{-12, 12, 20, 40},
                                      {-5, 5, 170, 190},
                                      {-5, 5, -190, -170},
                                      {-6, 6, -9, 9},
                                      {-84, -60, 60, 140}};
    const struct coast *coast = made_coast();
    for (int i = 0; i < 5; i++) {
        struct plan_chart chart =
            chart_of(boxes[i][0], boxes[i][1], boxes[i][2], boxes[i][3]);
        mapped_land(&chart, coast_shore(coast), &arena);
        assert_true(chart.has_coast);
        expect_same_land(&chart, coast, 5000.0, 2000);
    }
}

/* Shorelines of the world, coarse, over many tiles. */
static void the_world_s_land_is_drawn_where_it_is(void **state) {
    (void)state;
    const char *path = "/usr/share/gmt-gshhg/binned_GSHHS_l.nc";
    if (!file_exists(path)) {
        print_message("skipped: no shorelines: install gmt-gshhg-low\n");
        skip();
        return;
    }
    static const double boxes[][4] = {{30, 47, -12, 20}, /* west of Europe */
                                      {-50, -30, 160, 190} /* New Zealand */};
    for (int i = 0; i < 2; i++) {
        struct coast *coast;
        struct error error;
        const double *box = boxes[i];
        const struct coast_box wanted = {box[0], box[1], box[2], box[3]};
        assert_true(coast_load(&coast, path, &wanted, &arena, &error));
        struct plan_chart chart = chart_of(box[0], box[1], box[2], box[3]);
        mapped_land(&chart, coast_shore(coast), &arena);
        assert_in_range(chart.land.point_count, 100, MAPPED_POINTS);
        expect_same_land(&chart, coast, 20000.0, 3000);
        assert_true(chart.covered.low.x <= chart.box.low.x &&
                    chart.covered.high.x >= chart.box.high.x);
    }
}

/* A zone far away is not drawn; one beyond 180 stands at the chart's turn. */
static void zones_in_the_box_are_drawn(void **state) {
    (void)state;
    struct zone near = {.name = "near"}, far = {.name = "far"};
    const struct position ring[] = {{1, -179}, {2, -179}, {2, -178}, {1, -178}};
    const struct position away[] = {{1, 79}, {2, 79}, {2, 80}, {1, 80}};
    const struct position hole[] = {
        {1.2, -178.8}, {1.8, -178.8}, {1.8, -178.2}, {1.2, -178.2}};
    assert_null(zone_add_ring(&near, ring, 4, false, &arena));
    assert_null(zone_add_ring(&near, hole, 4, true, &arena));
    assert_null(zone_add_ring(&far, away, 4, false, &arena));
    struct zone items[] = {far, near};
    const struct zones zones = {.items = items, .count = 2};
    struct plan_chart chart = chart_of(-3, 3, 176, 185);
    mapped_zones(&chart, &zones, &arena);
    assert_int_equal(chart.zone_count, 1);
    assert_string_equal(chart.zones[0].name, "near");
    struct mercator in = mercator_of((struct position){1.1, -178.5});
    struct mercator middle = mercator_of((struct position){1.5, -178.5});
    in.x += 2.0 * PI;
    middle.x += 2.0 * PI;
    assert_true(is_in(&chart.zones[0].rings, in));
    assert_false(is_in(&chart.zones[0].rings, middle));
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(made_land_is_drawn_where_it_is),
        TEST(the_world_s_land_is_drawn_where_it_is),
        TEST(zones_in_the_box_are_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
