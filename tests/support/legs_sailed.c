#include "legs_sailed.h"

#include "scratch.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/legs.h"

const struct position start_at = {30.0, -40.0};
const struct instant departure = {1780272000};
const struct analytic trades = {.wind_from_deg = 90.0,
                                .wind_mps = 7.0,
                                .wave_m = 1.2,
                                .wave_period_s = 6.0,
                                .gust_frac = {true, 1.2}};

struct vertex place(double course_deg, double distance_nmi,
                    struct position from, enum spar_place spar) {
    return (struct vertex){
        .at = rhumb_ahead(from, course_deg, nmi_to_m(distance_nmi)),
        .order = {.spar = spar}};
}

size_t run_west(struct vertex vertices[5]) {
    vertices[0] = (struct vertex){.at = start_at};
    vertices[1] = place(262.0, 20.0, vertices[0].at, SPAR_PORT);
    vertices[2] = place(262.0, 40.0, vertices[1].at, SPAR_STARBOARD);
    vertices[3] = place(278.0, 50.0, vertices[2].at, SPAR_STOWED);
    vertices[4] = place(278.0, 15.0, vertices[3].at, SPAR_STOWED);
    return 5;
}

void sail_boat(struct sailed *sailed, const struct boat *boat,
               const struct analytic *weather, struct vertex *vertices,
               size_t count) {
    struct track course = {.vertices = vertices, .count = count};
    *sailed = (struct sailed){.obstacle = OBSTACLE_COUNT};
    sailed->voyage = analytic_voyage(boat, weather, vertices[count - 1].at);
    sailed->plan = (struct plan){.boat = boat,
                                 .depart = departure,
                                 .forecast_run = departure,
                                 .forecast_end = instant_plus(departure, 1e6)};
    struct underway begin =
        sail_start(vertices[0].at, (struct deck){.spar = SPAR_STOWED});
    struct underway under = track_start(&sailed->voyage, &course, &begin);
    legs_sail(&sailed->voyage, &course, &under, &arena, &sailed->plan,
              &sailed->obstacle);
}

void sail(struct sailed *sailed, const struct analytic *weather,
          struct vertex *vertices, size_t count) {
    sail_boat(sailed, analytic_boat("wanderer-12"), weather, vertices, count);
}

double leg_s(const struct plan_leg *leg) {
    return instant_minus(leg->end, leg->start);
}
