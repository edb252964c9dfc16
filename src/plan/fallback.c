#include "plan/fallback.h"

#include "base/units.h"
#include "earth/angle.h"
#include "earth/geodesic.h"
#include "plan/berth.h"
#include "plan/homing.h"
#include "plan/trust.h"

#include <math.h>

/* Nearer than this she is there. */
static const double THERE_M = 1.0;

/* The way keeps so much more off the land than she has to: its corners lie on
 * the edge of what is open, and no course is held to the metre. */
static const double SPARE_M = 30.0;

/* The way is asked for anew after so long. */
static const double RUN_S = 12.0 * SECONDS_PER_HOUR;

/* A waterway knows the ways from about one start; so many are made for a
 * port. */
enum { WATERWAYS = 4 };

/* One port, and what is needed to sail there. */
struct run {
    const struct plan *plan;
    struct arena *arena;
    struct voyage voyage; /* as she is sailed */
    struct water water;
    struct voyage planned; /* as the way is looked for: further off the land */
    struct water planned_water;
    struct position goal;
    const struct waterway *waterway; /* NULL: all is open water */
    int waterways;
};

bool fallback_find(struct plan *plan, const struct request *request,
                   const struct water *water, struct arena *arena,
                   struct error *error) {
    plan->ports =
        arena_alloc(arena, request->port_count + 1, sizeof *plan->ports);
    for (size_t i = 0; i < request->port_count; i++) {
        const struct request_port *asked = &request->ports[i];
        const char *what = arena_print(arena, "fallback %s", asked->name);
        struct berth berth;
        if (!berth_find(&berth, water, what, asked->at, error))
            return false;
        plan->ports[plan->port_count++] =
            (struct plan_port){.name = asked->name,
                               .position = berth.at,
                               .moved_m = berth.moved_m};
    }
    return true;
}

/* --- one way -------------------------------------------------------------- */

static struct homeward way_from(struct run *run, struct position at) {
    const struct voyage *voyage = &run->voyage;
    struct position corner;
    bool known =
        !voyage->room_m ||
        (run->waterway && waterway_path(run->waterway, at, &corner, 1) > 0);
    if (!known && run->waterways < WATERWAYS) {
        run->waterways++;
        run->waterway = waterway_make(&run->planned, at, run->goal, run->arena);
    }
    return homeward_from(run->waterway, at, run->goal);
}

static double way_m(const struct homeward *way, struct position at) {
    double sum_m = 0.0;
    const struct corners *ahead = &way->ahead;
    for (size_t i = 0; i < ahead->count; i++) {
        sum_m += geodesic_between(at, ahead->places[i]).distance_m;
        at = ahead->places[i];
    }
    return sum_m + geodesic_between(at, way->goal).distance_m;
}

static bool is_there(const struct run *run, const struct underway *boat) {
    return geodesic_between(boat->at, run->goal).distance_m < THERE_M;
}

/* Sails there; false where something is in the way, told in `*why`, or it
 * takes longer than `most_s`. */
static bool sail_there(struct run *run, struct underway *boat, double most_s,
                       enum obstacle *why) {
    double end_s = boat->t_s + most_s;
    while (!is_there(run, boat)) {
        double before_s = boat->t_s;
        struct homeward way = way_from(run, boat->at);
        *why = homing_sail(&run->voyage, boat, &way,
                           fmin(RUN_S, end_s - boat->t_s));
        if (*why != OBSTACLE_NONE || boat->t_s <= before_s)
            return is_there(run, boat);
        if (boat->t_s >= end_s - 1.0)
            return is_there(run, boat);
    }
    return true;
}

/* No boat is that fast. */
static bool is_too_far(const struct run *run, struct position at,
                       double most_s) {
    double straight_m = geodesic_between(at, run->goal).distance_m;
    return straight_m > most_s * voyage_top_speed(&run->voyage);
}

/* From a point of the track, if it takes no longer than that. */
static struct plan_refuge refuge_from(struct run *run, size_t point,
                                      double most_s) {
    const struct plan_point *from = &run->plan->track[point];
    struct plan_refuge refuge = {.known = false};
    struct underway boat =
        sail_start(from->position, (struct deck){.spar = SPAR_STOWED});
    double start_s = instant_minus(from->at, run->plan->depart);
    boat.t_s = start_s;
    if (most_s <= 0.0 || is_too_far(run, boat.at, most_s))
        return refuge;
    refuge.why = sail_look(&run->voyage, &boat);
    if (refuge.why != OBSTACLE_NONE)
        return refuge;
    struct homeward way = way_from(run, boat.at);
    refuge.distance_m = way_m(&way, boat.at);
    refuge.off_bow_deg =
        angle_turn(homeward_course_deg(&way, boat.at), boat.here.twd_deg);
    boat.deck.wind_starboard = refuge.off_bow_deg >= 0.0;
    refuge.known = sail_there(run, &boat, most_s, &refuge.why);
    refuge.seconds = boat.t_s - start_s;
    struct instant there = instant_plus(from->at, refuge.seconds);
    refuge.guess = trust_at(run->plan, there) == TRUST_GUESS;
    return refuge;
}

/* --- along the track ------------------------------------------------------ */

/* Of the plan that the crew has in hand. */
static double left_s(const struct plan *plan, size_t point) {
    return instant_minus(plan->summary.arrive, plan->track[point].at);
}

/* Is it worth to turn off there? */
static bool is_worth(struct run *run, size_t point,
                     struct plan_refuge *refuge) {
    *refuge = refuge_from(run, point, left_s(run->plan, point));
    return refuge->known && refuge->seconds < left_s(run->plan, point) &&
           fabs(refuge->off_bow_deg) >= FALLBACK_OFF_DEG;
}

static void put_turn_off(struct run *run, size_t point,
                         struct plan_refuge refuge, struct plan_port *port) {
    port->turn_off_known = true;
    port->turn_off = run->plan->track[point];
    port->left_s = left_s(run->plan, point);
    port->from_turn_off = refuge;
}

/* Between a point at which it is worth it and one at which it is not. */
static void narrow(struct run *run, size_t low, size_t high,
                   struct plan_port *port) {
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        struct plan_refuge refuge;
        if (is_worth(run, middle, &refuge)) {
            low = middle;
            put_turn_off(run, middle, refuge, port);
        } else {
            high = middle;
        }
    }
}

/* Looks back from the end of the track. */
static void find_turn_off(struct run *run, struct plan_port *port) {
    const struct plan *plan = run->plan;
    size_t later = plan->track_count - 1;
    for (size_t i = later; i-- > 0;) {
        bool due = i == 0 ||
                   instant_minus(plan->track[later].at, plan->track[i - 1].at) >
                       FALLBACK_LOOK_S;
        struct plan_refuge refuge;
        if (!due)
            continue;
        if (is_worth(run, i, &refuge)) {
            put_turn_off(run, i, refuge, port);
            narrow(run, i, later, port);
            port->turn_off_why = OBSTACLE_NONE;
            return;
        }
        if (!refuge.known && port->turn_off_why == OBSTACLE_NONE)
            port->turn_off_why = refuge.why;
        later = i;
    }
}

/* Where a leg starts on the track: its points hold the ends of all legs. */
static size_t point_of_leg(const struct plan *plan, size_t leg) {
    size_t point = 0;
    while (point + 1 < plan->track_count &&
           plan->track[point].at.unix_s < plan->legs[leg].start.unix_s)
        point++;
    return point;
}

/* The crew's limits do not hold for a boat that runs for shelter. */
static void prepare(struct run *run, const struct voyage *voyage,
                    const struct water *water) {
    struct voyage *own = &run->voyage;
    *own = *voyage;
    run->water = *water;
    run->water.finish = own->finish = run->goal;
    own->spar_allowed = false;
    own->max_wind_mps = own->max_gust_mps = own->max_wave_m = figure_unknown();
    if (water->coast || water->zones.count > 0) {
        own->blocked = water_blocked; /* a given track is timed without */
        own->room_m = water_room_m;
    }
    run->planned = *own;
    run->planned_water = run->water;
    run->water.rounding_m = 0.0;
    run->planned_water.rounding_m = SPARE_M;
    own->water = &run->water;
    run->planned.water = &run->planned_water;
}

/* Without wind where it lies no way can end there, however long. */
static bool is_outside(const struct run *run) {
    struct underway there =
        sail_start(run->goal, (struct deck){.spar = SPAR_STOWED});
    return sail_look(&run->voyage, &there) == OBSTACLE_AREA;
}

static void give_port(const struct plan *plan, const struct voyage *voyage,
                      const struct water *water, struct plan_port *port) {
    struct arena arena;
    arena_init(&arena);
    struct run run = {.plan = plan, .arena = &arena, .goal = port->position};
    prepare(&run, voyage, water);
    port->outside = is_outside(&run);
    size_t step = (plan->leg_count + FALLBACK_LEGS - 1) / FALLBACK_LEGS;
    for (size_t i = 0; !port->outside && i < plan->leg_count; i += step) {
        size_t point = point_of_leg(plan, i);
        bool sooner = i > 0 && plan->summary.reached;
        port->from_leg[i] = refuge_from(
            &run, point, sooner ? left_s(plan, point) : FALLBACK_MOST_S);
    }
    if (plan->summary.reached && !port->outside)
        find_turn_off(&run, port);
    arena_free(&arena);
}

void fallback_give(struct plan *plan, const struct voyage *voyage,
                   const struct water *water, struct arena *arena) {
    for (size_t i = 0; i < plan->port_count; i++)
        plan->ports[i].from_leg = arena_alloc(arena, plan->leg_count,
                                              sizeof *plan->ports[i].from_leg);
#pragma omp parallel for schedule(dynamic)
    for (size_t i = 0; i < plan->port_count; i++)
        give_port(plan, voyage, water, &plan->ports[i]);
}
