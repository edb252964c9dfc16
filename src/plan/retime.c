#include "plan/retime.h"

#include "plan/engine.h"
#include "plan/legs.h"
#include "plan/trust.h"
#include "plan/weather.h"

#include <math.h>

const struct sailed *retime_keep(const struct voyage *voyage,
                                 const struct water *water,
                                 const struct underway *start,
                                 const struct track *course,
                                 struct arena *arena) {
    struct sailed *sailed = arena_alloc(arena, 1, sizeof *sailed);
    *sailed = (struct sailed){.voyage = *voyage,
                              .water = *water,
                              .start = *start,
                              .course = track_copy(arena, course)};
    sailed->voyage.weather = NULL;
    sailed->voyage.water = &sailed->water;
    return sailed;
}

struct plan *retime_course(const struct plan *plan, const struct voyage *voyage,
                           const struct underway *start,
                           const struct track *course, struct arena *arena,
                           enum obstacle *why) {
    struct plan *again = arena_alloc(arena, 1, sizeof *again);
    *again = (struct plan){.boat = plan->boat,
                           .depart = plan->depart,
                           .forecast_run = plan->forecast_run,
                           .forecast_start = plan->forecast_start,
                           .forecast_end = plan->forecast_end,
                           .good_until = plan->good_until,
                           .fair_until = plan->fair_until,
                           .max_wind_mps = plan->max_wind_mps,
                           .max_gust_mps = plan->max_gust_mps};
    struct underway boat = track_start(voyage, course, start);
    legs_sail(voyage, course, &boat, arena, again, why);
    if (*why == OBSTACLE_NONE && boat.crept_s > 0.0)
        *why = OBSTACLE_NO_SPEED;
    again->summary.arrive = instant_plus(plan->depart, boat.t_s);
    again->summary.reached = *why == OBSTACLE_NONE;
    return again;
}

/* The head of the plan, with the times of another forecast. */
static struct plan head_in(const struct plan *plan,
                           const struct forecast *forecast) {
    struct field_summary wind = forecast_summary(forecast, QUANTITY_WIND);
    struct plan head = *plan;
    head.forecast_run = forecast_run(forecast);
    head.forecast_start = wind.first;
    head.forecast_end = wind.last;
    head.good_until = trust_ends(&head, TRUST_GOOD_S);
    head.fair_until = trust_ends(&head, TRUST_FAIR_S);
    return head;
}

static bool is_limit(enum obstacle obstacle) {
    return obstacle == OBSTACLE_WIND || obstacle == OBSTACLE_GUST ||
           obstacle == OBSTACLE_WAVE;
}

/* By the plan's own rule for the engine; where that burns more than there is,
 * held to the fuel as a plan's own course is. */
static struct plan *within_fuel(const struct plan *head, struct voyage voyage,
                                struct arena *arena, enum obstacle *why) {
    const struct underway *start = &head->sailed->start;
    const struct track *course = &head->sailed->course;
    bool lasts = engine_is_within(&voyage, course, start);
    if (!lasts) {
        double elapsed_s;
        voyage.motoring = engine_of(voyage.boat);
        lasts = isfinite(engine_fit(&voyage, course, start, &elapsed_s));
    }
    struct plan *again =
        retime_course(head, &voyage, start, course, arena, why);
    if (!lasts && *why == OBSTACLE_NONE) {
        *why = OBSTACLE_FUEL;
        again->summary.reached = false;
    }
    return again;
}

struct plan *retime_plan(const struct plan *plan, const struct world *world,
                         const struct request *request, struct arena *arena,
                         enum obstacle *broken, enum obstacle *why) {
    struct weather_view weather = weather_view(world, request);
    struct plan head = head_in(plan, world->forecast);
    struct voyage voyage = plan->sailed->voyage;
    voyage.weather = &weather;
    voyage.max_current_mps = world->max_current_mps;
    /* in more wind she is past the landfall before the last stow, ordered where
     * it is, is done: the crew begins it some minutes sooner */
    voyage.starts_near_finish = true;
    *broken = OBSTACLE_NONE;
    struct plan *again = within_fuel(&head, voyage, arena, why);
    if (!is_limit(*why))
        return again;
    *broken = *why;
    voyage.max_wind_mps = voyage.max_gust_mps = voyage.max_wave_m =
        figure_unknown();
    return within_fuel(&head, voyage, arena, why);
}
