/* Currents whose least time is known, written to a GRIB file, read back and
 * planned by the program: what the file, the interpolation between its grid
 * points and the cutting into legs leave of the closed form. */
#include "../support/check.h"
#include "../support/fastest.h"
#include "../support/planned.h"
#include "../support/scene.h"

#include <stdio.h>

/* At 6 kn on all courses, tacks and gybes in no time; invented. */
static const char boat_text[] = "[boat]\n"
                                "name = Six knots\n"
                                "length_waterline_m = 10\n"
                                "beam_m = 3\n"
                                "draft_m = 1.5\n"
                                "displacement_kg = 6000\n"
                                "[polars]\n"
                                "stowed = six.csv\n"
                                "spar = six.csv\n"
                                "[spar]\n"
                                "length_m = 2 5\n"
                                "[handling]\n"
                                "mainsail_gybe_minutes = 0\n"
                                "tack_minutes = 0\n";

static const char polar_text[] = "six knots,5,60\n"
                                 "0,6,6\n"
                                 "180,6,6\n";

/* A case in a file: its field, the way, the ends of the grid. */
struct filed {
    const char *name;
    const struct flow *flow;
    struct flow_way way;
    double south_deg, north_deg, west_deg, east_deg, step_deg;
};

/* 3.681324 as in tests/published/shear_test.c. Between points 0.02 degrees
 * apart, 0.6 units, linear interpolation loses (0.6 pi / 31)^2 / 12 = 0.03 % of
 * a sine on the mean; the current costs a fifteenth of the time, as its square,
 * so that is 0.004 % of the time. */
static const struct filed ferry = {
    .name = "ferry",
    .flow = &flow_ferry,
    .way = {.to = {31, 0}, .time = 3.681324, .heading_deg = -23.595256},
    .south_deg = -0.5,
    .north_deg = 0.5,
    .west_deg = -25.2,
    .east_deg = -23.7,
    .step_deg = 0.02};

/* 5.264932 as in tests/published/shear_test.c. A linear field is the same
 * between the points of the grid; 16 bits of 4.4 units are 0.007 % of the
 * boat's speed. */
static const struct filed shear = {
    .name = "shear",
    .flow = &flow_sheared,
    .way = {.from = {3.5, -1.8}, .time = 5.264932, .heading_deg = 105.510922},
    .south_deg = -0.85,
    .north_deg = 0.6,
    .west_deg = -25.5,
    .east_deg = -22.85,
    .step_deg = 0.05};

/* A day of steady wind and current; the boat leaves at its begin. Returns the
 * path of the passage file. */
static const char *passage_of(const struct filed *filed) {
    struct scene scene = {.name = filed->name,
                          .weather = flow_weather(filed->flow),
                          .south_deg = filed->south_deg,
                          .north_deg = filed->north_deg,
                          .west_deg = filed->west_deg,
                          .east_deg = filed->east_deg,
                          .step_deg = filed->step_deg,
                          .hours = 24,
                          .every = 12,
                          .no_gust = true};
    scene.weather.wind_mps = 20.0;
    /* the file ends where its grid does */
    scene.weather.south_deg = scene.weather.north_deg = 0.0;
    check_write("six.csv", polar_text);
    const char *boat = check_write("six.ini", boat_text);
    struct position from = flow_place(filed->flow, filed->way.from);
    struct position to = flow_place(filed->flow, filed->way.to);
    char text[4000], file[100];
    snprintf(text, sizeof text,
             "[passage]\nname = %s\nboat = %s\nforecast = %s\n"
             "from = %.9f,%.9f\nto = %.9f,%.9f\ndepart = 2026-06-01T00:00Z\n"
             "ease = 0\ncoast = none\n",
             filed->name, boat, scene_write(&scene), from.lat_deg, from.lon_deg,
             to.lat_deg, to.lon_deg);
    snprintf(file, sizeof file, "%s.ini", filed->name);
    return check_write(file, text);
}

/* By how much the arrival differs from the known one, of the time. */
static double arrival_miss(const struct filed *filed,
                           const struct planned *planned) {
    struct instant depart;
    assert_true(
        instant_from_civil((struct civil){2026, 6, 1, 0, 0, 0}, &depart));
    double known_s = filed->way.time * flow_unit_s(filed->flow);
    double found_s = planned_arrive_s(planned) - (double)depart.unix_s;
    double miss = found_s / known_s - 1.0;
    print_message("%s: known %.4f h, found %.4f h, %+.4f %%\n", filed->name,
                  s_to_hours(known_s), s_to_hours(found_s), 100.0 * miss);
    return miss;
}

/* --- the known way, timed ------------------------------------------------- */

enum { PLACES = 401 };

/* Its places as a GPX route. */
static const char *route_of(const struct filed *filed) {
    static char text[PLACES * 80];
    static struct position places[PLACES];
    flow_known_places(filed->flow, &filed->way, PLACES, places);
    size_t used =
        (size_t)snprintf(text, sizeof text,
                         "<gpx version=\"1.1\" creator=\"test\" "
                         "xmlns=\"http://www.topografix.com/GPX/1/1\"><rte>\n");
    for (size_t i = 0; i < PLACES; i++)
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "<rtept lat=\"%.9f\" lon=\"%.9f\"/>\n",
                                 places[i].lat_deg, places[i].lon_deg);
    snprintf(text + used, sizeof text - used, "</rte></gpx>\n");
    char file[100];
    snprintf(file, sizeof file, "%s.gpx", filed->name);
    return check_write(file, text);
}

/* No search: file, interpolation and integrator alone. */
static void the_known_ways_take_their_time_through_the_file(void **state) {
    (void)state;
    const struct filed *all[] = {&ferry, &shear};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        struct planned timed =
            planned_well(all[i]->name, "along '%s' '%s'", route_of(all[i]),
                         passage_of(all[i]));
        assert_near(arrival_miss(all[i], &timed), 0.0, 0.0002);
    }
}

/* --- the fastest way, planned --------------------------------------------- */

/* The usual 50 places lose 0.12 % of a way that bends so much. */
static void assert_planned(const struct filed *filed) {
    struct planned planned = planned_well(
        filed->name, "plan '%s' --leg-loss 0.0002 --route-points 200",
        passage_of(filed));
    assert_near(arrival_miss(filed, &planned), 0.0, 0.001);
}

static void a_ferry_is_planned_in_the_known_time(void **state) {
    (void)state;
    assert_planned(&ferry);
}

static void a_shear_is_planned_in_the_known_time(void **state) {
    (void)state;
    assert_planned(&shear);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_known_ways_take_their_time_through_the_file),
        cmocka_unit_test(a_ferry_is_planned_in_the_known_time),
        cmocka_unit_test(a_shear_is_planned_in_the_known_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
