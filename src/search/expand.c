#include "search/expand.h"

#include "earth/rhumb.h"
#include "earth/sphere.h"
#include "search/arrive.h"
#include "search/work.h"

#include <math.h>
#include <string.h>

/* Slower than this through the water is not sailing. */
static const double SLOWEST_MPS = 0.05;

/* Nearer to a pole than this the short formula of a run is no good. */
static const double FLAT_DEG = 75.0;

/* Arrival is tried from so many layers' runs away. */
static const double REACH_LAYERS = 1.5;

/* A corner ahead is sailed to and round from so many layers' runs off. */
static const double CORNER_LAYERS = 3.0;

/* A course held for hours sees the wind shift: the spar is planned to draw so
 * far inside its range. */
static const double SLACK_DEG = 2.0;

/* From so far outside the landfall circle a stow is the last one. */
static const double LAST_STOW_LAYERS = 2.0;

/* --- the way left --------------------------------------------------------- */

double expand_left_m(const struct expander *expander, struct position at) {
    if (expander->options->waterway)
        return waterway_left_m(expander->options->waterway, at);
    return sphere_distance_m(sphere_point(at), sphere_point(expander->goal));
}

bool spot_is_hopeless(const struct expander *expander, double cost_s,
                      double left_m) {
    return cost_s + left_m * expander->least_s_per_m >= expander->bound_s;
}

/* East and north components, in metres, of the straight way to a place. */
static struct vector_mps way_to(struct position from, struct position to) {
    double sine, cosine, lon_sine, lon_cosine;
    sincos_deg(from.lat_deg, &sine, &cosine);
    sincos_deg(from.lon_deg, &lon_sine, &lon_cosine);
    struct sphere_point end = sphere_point(to);
    double east = -lon_sine * end.x + lon_cosine * end.y;
    double north =
        cosine * end.z - sine * (lon_cosine * end.x + lon_sine * end.y);
    double length = sqrt(east * east + north * north);
    double distance_m = sphere_distance_m(sphere_point(from), end);
    if (length <= 0.0)
        return (struct vector_mps){0.0, 0.0};
    return (struct vector_mps){east / length * distance_m,
                               north / length * distance_m};
}

/* --- the label put right -------------------------------------------------- */

/* With a single preventer a mainsail gybe is deck work, and weighs as such. */
static void do_on_the_way(const struct spot *spot, enum change_kind kind,
                          double seconds) {
    const struct voyage *voyage = &spot->expander->voyage;
    spot->label->work_left_s += seconds;
    spot->label->cost_s +=
        voyage->ease * voyage_hardship_s(voyage, spot->label->at,
                                         &spot->conditions, kind, 0.0);
}

/* What the crew has had to do on the way: bring the mainsail over where the
 * wind came by the lee, roll the headsail away where the spar may not draw.
 * False where that may not be done. */
static bool settle(const struct spot *spot, const struct fan_heading *heading) {
    struct label *label = spot->label;
    const struct boat *boat = spot->expander->voyage.boat;
    if (voyage_side_slack_deg(heading->twa_deg, label->deck.wind_starboard) <
        0.0) {
        if (!work_may_gybe(spot, heading))
            return false;
        label->deck.wind_starboard = !label->deck.wind_starboard;
        do_on_the_way(spot, CHANGE_MAINSAIL_GYBE,
                      boat->handling.mainsail_gybe_s);
    }
    if (deck_is_drawing(label->deck) &&
        fan_slack_deg(&spot->fan, heading, label->deck) < 0.0) {
        label->deck.rolled = true;
        do_on_the_way(spot, CHANGE_ROLL, boat->spar.roll_s);
    }
    return true;
}

/* What a second under way costs beside itself: roll and, to a search that has
 * to be sparing with it, fuel. */
static double burden_of(const struct spot *spot,
                        const struct fan_heading *heading, struct deck deck,
                        double mps) {
    const struct voyage *voyage = &spot->expander->voyage;
    double burden = 0.0;
    if (voyage->ease > 0.0)
        burden = voyage->ease *
                 voyage_discomfort(
                     voyage, fan_roll_deg(&spot->fan, heading, deck, mps));
    if (voyage->motoring.price > 0.0 && fan_motors(&spot->fan, heading, deck))
        burden += voyage->motoring.price;
    return burden;
}

/* The mean of the speeds, and of the burdens, at both ends of the run;
 * false where she does not sail at its end, or may not do what that asks. */
static bool correct(struct spot *spot) {
    struct label *label = spot->label;
    struct fan_heading heading = fan_heading_of(&spot->fan, label->heading_deg);
    if (!settle(spot, &heading))
        return false;
    double mps = fan_speed(&spot->fan, &heading, label->deck, false);
    if (mps <= SLOWEST_MPS)
        return false;
    struct vector_mps current = spot->conditions.current;
    struct vector_mps gain = {
        mps * heading.unit.east + current.east - label->velocity_mps.east,
        mps * heading.unit.north + current.north - label->velocity_mps.north};
    double half_s = 0.5 * label->sailed_s;
    double gain_m = half_s * vector_length(gain);
    if (gain_m > 0.0)
        label->at =
            rhumb_step(label->at, vector_direction_towards(gain), gain_m);
    if (!spot->expander->voyage.gybes_kept)
        label->twa_deg = heading.twa_deg;
    label->cost_s +=
        half_s * (burden_of(spot, &heading, label->deck, mps) - label->burden);
    return true;
}

static bool is_inside_landfall(const struct spot *spot) {
    const struct voyage *voyage = &spot->expander->voyage;
    const struct label *label = spot->label;
    bool out = label->deck.spar != SPAR_STOWED || label->stowing;
    return out && !voyage->starts_near_finish &&
           rhumb_between(label->at, voyage->finish).distance_m <
               voyage->boat->spar.landfall_m;
}

/* What bars the middle of the run to a label: a front that looks at its labels
 * alone cuts the corners of the forecast's area, and of weather above the
 * limits.
 */
static enum obstacle look_half_way(const struct spot *spot) {
    const struct voyage *voyage = &spot->expander->voyage;
    const struct label *label = spot->label;
    struct conditions conditions;
    struct rhumb way = rhumb_between(label->from, label->at);
    enum obstacle obstacle = voyage_look(
        voyage, rhumb_step(label->from, way.course_deg, 0.5 * way.distance_m),
        spot->t_s - 0.5 * spot->expander->options->layer_s, &conditions);
    return obstacle == OBSTACLE_NONE ? voyage_limit(voyage, &conditions)
                                     : obstacle;
}

/* Looks at the label's place, puts it right, and says what bars it. */
static enum obstacle look_at_label(struct spot *spot) {
    const struct voyage *voyage = &spot->expander->voyage;
    struct label *label = spot->label;
    enum obstacle obstacle =
        voyage_look(voyage, label->at, spot->t_s, &spot->conditions);
    if (obstacle == OBSTACLE_NONE)
        obstacle = voyage_limit(voyage, &spot->conditions);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    fan_look(&spot->expander->fan, &spot->conditions, &spot->fan);
    bool sailed = label->sailed_s > 0.0;
    if (sailed && !correct(spot))
        return OBSTACLE_NO_SPEED;
    double layer_s = spot->expander->options->layer_s;
    if (voyage->spar_allowed && is_inside_landfall(spot))
        return OBSTACLE_LANDFALL;
    if (!sailed)
        return OBSTACLE_NONE;
    obstacle = look_half_way(spot);
    if (obstacle != OBSTACLE_NONE || !voyage->blocked)
        return obstacle;
    return voyage->blocked(voyage->water, label->from, label->at,
                           spot->t_s - layer_s, spot->t_s);
}

/* --- runs ----------------------------------------------------------------- */

/* Orders worth trying from a deck state: to keep it, and one change. To roll
 * is left to the integrator, which does it where the spar may not draw. */
static void list_orders(struct spot *spot) {
    struct deck deck = spot->label->deck, *orders = spot->orders;
    int count = 0;
    orders[count++] = deck;
    if (spot->expander->voyage.spar_allowed) {
        if (deck.spar != SPAR_STOWED)
            orders[count++] = (struct deck){.spar = SPAR_STOWED};
        if (deck.spar != SPAR_PORT || deck.rolled)
            orders[count++] = (struct deck){.spar = SPAR_PORT};
        if (deck.spar != SPAR_STARBOARD || deck.rolled)
            orders[count++] = (struct deck){.spar = SPAR_STARBOARD};
    }
    spot->order_count = count;
}

static const struct work *work_for(struct spot *spot, struct deck to,
                                   bool tacks) {
    static const struct work none = {.answer = WORK_POSSIBLE};
    if (deck_index(to) == deck_index(spot->label->deck))
        return &none;
    struct work *work = &spot->works[deck_index(to)][tacks];
    if (work->answer == WORK_UNASKED)
        work_ask(spot, to, tacks, work);
    return work;
}

/* A run along a heading of the fan under one order. */
struct run {
    const struct fan_heading *heading;
    struct deck to;
    const struct work *work;
    double speed_mps; /* once the work is done */
    double work_s;    /* of the layer */
};

static struct position moved(const struct spot *spot, struct vector_mps way_m) {
    if (fabs(spot->label->at.lat_deg) > FLAT_DEG)
        return rhumb_step(spot->label->at, vector_direction_towards(way_m),
                          vector_length(way_m));
    double north_deg = way_m.north * spot->north_deg_per_m;
    double half = 0.5 * RADIANS_PER_DEGREE * north_deg;
    double tangent = spot->tangent;
    /* the secant of the middle latitude, by its first two derivatives */
    double widening = 1.0 + half * (tangent + half * (0.5 + tangent * tangent));
    double lon_deg =
        spot->label->at.lon_deg + way_m.east * spot->east_deg_per_m * widening;
    return (struct position){spot->label->at.lat_deg + north_deg,
                             angle_wrap_longitude(lon_deg)};
}

/* The way left after sailing so far along a heading, with the current. */
static double left_after_m(const struct spot *spot,
                           const struct fan_heading *heading, double ahead_m) {
    double east_m = spot->drifted_m.east - ahead_m * heading->unit.east;
    double north_m = spot->drifted_m.north - ahead_m * heading->unit.north;
    return spot->beyond_m + sqrt(east_m * east_m + north_m * north_m);
}

/* Straight on for a layer; false where the label's cell has a better one, or
 * there is no hope. All but its burden and land, which take longer. */
static bool sail_run(const struct spot *spot, const struct run *run,
                     struct label *next) {
    const struct expander *expander = spot->expander;
    double layer_s = expander->options->layer_s;
    double sail_s = layer_s - run->work_s;
    struct vector_mps current = spot->conditions.current;
    double ahead_m = sail_s * run->speed_mps;
    if (run->work_s > 0.0)
        ahead_m +=
            run->work_s * fan_speed(&spot->fan, run->heading, run->to, true);
    struct vector_mps way_m = {
        ahead_m * run->heading->unit.east + layer_s * current.east,
        ahead_m * run->heading->unit.north + layer_s * current.north};
    double left_m = left_after_m(spot, run->heading, ahead_m);
    next->at = moved(spot, way_m);
    next->cost_s = spot->label->cost_s + layer_s + run->work->cost_s;
    next->merit = next->cost_s + left_m * expander->fair_s_per_m;
    next->deck = run->to;
    next->velocity_mps = (struct vector_mps){
        run->speed_mps * run->heading->unit.east + current.east,
        run->speed_mps * run->heading->unit.north + current.north};
    next->sailed_s = sail_s;
    return !spot_is_hopeless(expander, next->cost_s, left_m);
}

bool spot_is_in_corridor(const struct spot *spot, struct position at) {
    const struct cells *open = spot->expander->open;
    return !open || cells_find(open, cells_key(open, at, 0));
}

/* Who is later and less uneasy may be dearer by this part of what less has to
 * be. */
static const double LATE_FRAC = 1.0;

bool expand_is_beaten(const struct expander *expander, const struct cell *cell,
                      const struct label *label, double t_s) {
    if (label->merit < cell->merit)
        return false;
    double unease_s = label->cost_s - t_s;
    return cell->layer == expander->layer ||
           label->merit > cell->merit + LATE_FRAC * expander->calmer_s ||
           unease_s > cell->unease_s - expander->calmer_s;
}

bool spot_is_beaten(const struct spot *spot, const struct label *next) {
    const struct expander *expander = spot->expander;
    const struct cell *cell = cells_find(expander->cells, next->cell);
    return cell && next->cell != spot->label->cell &&
           expand_is_beaten(expander, cell, next,
                            spot->t_s + expander->options->layer_s);
}

/* The roll of the run, which its work and its burden ask for. */
static bool feel_run(const struct spot *spot, const struct run *run,
                     struct label *next) {
    const struct expander *expander = spot->expander;
    if (run->work->deck_work) {
        bool excused =
            run->to.spar == SPAR_STOWED &&
            (spot->near_finish || (deck_is_drawing(spot->label->deck) &&
                                   fan_slack_deg(&spot->fan, run->heading,
                                                 spot->label->deck) < 0.0));
        bool outside =
            run->work->stow_outside || !work_roll_allows(spot, run->heading);
        if (outside && !excused)
            return false;
    }
    next->burden = burden_of(spot, run->heading, run->to, run->speed_mps);
    if (next->burden <= 0.0)
        return true;
    double cost_s = expander->options->layer_s * next->burden;
    next->cost_s += cost_s;
    next->merit += cost_s;
    return !spot_is_beaten(spot, next);
}

/* Over water: the straight run, and the way left round what lies ahead. With
 * the goal in sight that is as good as the straight way; asking took half the
 * time of a front. */
static bool is_open_run(const struct spot *spot, struct label *next) {
    const struct expander *expander = spot->expander;
    const struct voyage *voyage = &expander->voyage;
    if (voyage->blocked) {
        enum obstacle obstacle =
            voyage->blocked(voyage->water, spot->label->at, next->at, spot->t_s,
                            spot->t_s + expander->options->layer_s);
        spot->harvest->stopped_by[obstacle]++;
        if (obstacle != OBSTACLE_NONE)
            return false;
    }
    if (!expander->options->waterway || spot->in_sight)
        return true;
    double left_m = expand_left_m(expander, next->at);
    next->merit = next->cost_s + left_m * expander->fair_s_per_m;
    return !spot_is_hopeless(expander, next->cost_s, left_m) &&
           !spot_is_beaten(spot, next);
}

/* Where she may not gybe it takes its time until she may tack instead; else it
 * is no great matter to a front. */
static double twa_after(const struct spot *spot,
                        const struct fan_heading *heading) {
    const struct expander *expander = spot->expander;
    if (!expander->voyage.gybes_kept)
        return heading->twa_deg;
    return voyage_trimmed_deg(spot->label->twa_deg, heading->twa_deg,
                              expander->options->layer_s);
}

static void try_run(struct spot *spot, const struct run *run) {
    struct harvest *harvest = spot->harvest;
    struct label *next = &harvest->items[harvest->count];
    harvest->tried++;
    if (!sail_run(spot, run, next))
        return;
    next->cell =
        cells_key(spot->expander->cells, next->at, deck_index(next->deck));
    if (spot_is_beaten(spot, next) || !spot_is_in_corridor(spot, next->at) ||
        !feel_run(spot, run, next))
        return;
    next->from = spot->label->at;
    next->from_left_m = spot->left_m;
    next->heading_deg = run->heading->heading_deg;
    next->twa_deg = twa_after(spot, run->heading);
    next->order = run->to;
    next->turned = NULL;
    double left_s = spot->label->work_left_s + run->work->seconds -
                    spot->expander->options->layer_s;
    next->work_left_s = fmax(0.0, left_s);
    bool stows =
        run->to.spar == SPAR_STOWED && spot->label->deck.spar != SPAR_STOWED;
    next->stowing = left_s > 0.0 && (spot->label->stowing || stows);
    if (is_open_run(spot, next))
        harvest->count++;
}

/* A run under one order on one heading, where it can be given and is of use:
 * `least_mps` is what she makes without it. */
static void try_order(struct spot *spot, const struct fan_heading *heading,
                      bool wind_starboard, struct deck order,
                      double *least_mps) {
    bool keeps = deck_same_rig(order, spot->label->deck);
    struct run run = {.heading = heading, .to = order};
    run.to.wind_starboard = wind_starboard;
    bool draws = !deck_is_drawing(order) ||
                 fan_slack_deg(&spot->fan, heading, run.to) >= SLACK_DEG;
    if (!draws && !keeps)
        return;
    run.to.rolled = order.rolled || !draws;
    run.speed_mps = fan_speed(&spot->fan, heading, run.to, false);
    bool last_stow = order.spar == SPAR_STOWED && spot->near_finish;
    if (run.speed_mps <= SLOWEST_MPS ||
        (!keeps && run.speed_mps <= *least_mps && !last_stow))
        return;
    if (keeps)
        *least_mps = run.speed_mps;
    bool tacks = spot->label->deck.wind_starboard != wind_starboard &&
                 voyage_tacks(&spot->expander->voyage, spot->label->twa_deg,
                              heading->twa_deg);
    run.work = work_for(spot, run.to, tacks);
    if (run.work->answer == WORK_FORBIDDEN)
        return;
    run.work_s = fmin(spot->expander->options->layer_s,
                      spot->label->work_left_s + run.work->seconds);
    try_run(spot, &run);
}

/* No hope on that heading, even at once and with the better polar. */
static bool is_idle(const struct spot *spot,
                    const struct fan_heading *heading) {
    const struct expander *expander = spot->expander;
    double layer_s = expander->options->layer_s;
    double mps = fan_top_mps(&spot->fan, heading);
    return mps <= SLOWEST_MPS ||
           spot_is_hopeless(expander, spot->label->cost_s + layer_s,
                            left_after_m(spot, heading, layer_s * mps));
}

static void try_heading(struct spot *spot, const struct fan_heading *heading,
                        bool wind_starboard) {
    if (is_idle(spot, heading))
        return;
    double least_mps = 0.0; /* the first order is to keep the rig */
    for (int i = 0; i < spot->order_count; i++)
        try_order(spot, heading, wind_starboard, spot->orders[i], &least_mps);
}

/* Dead before the wind the boom stays where it is: false for the other side. */
static bool keeps_side(const struct spot *spot,
                       const struct fan_heading *heading, bool wind_starboard) {
    return fabs(heading->twa_deg) < 180.0 - VOYAGE_BY_THE_LEE_DEG ||
           wind_starboard == spot->label->deck.wind_starboard;
}

static void try_fan(struct spot *spot) {
    for (int angle = 0; angle < spot->expander->fan.angles; angle++) {
        for (int side = 0; side < 2; side++) {
            struct fan_heading heading =
                fan_heading_at(&spot->fan, angle, side == 1);
            if (keeps_side(spot, &heading, side == 1))
                try_heading(spot, &heading, side == 1);
        }
    }
    double home_deg = vector_direction_towards(spot->home_m);
    struct fan_heading home = fan_heading_of(&spot->fan, home_deg);
    bool starboard = home.twa_deg >= 0.0;
    if (!keeps_side(spot, &home, starboard))
        starboard = !starboard;
    try_heading(spot, &home, starboard);
}

/* --- on from the label -----------------------------------------------------
 */

/* Where home is, and what is left of the way there. */
static void look_home(struct spot *spot, const struct homeward *way) {
    double layer_s = spot->expander->options->layer_s;
    struct vector_mps current = spot->conditions.current;
    spot->home_m = way_to(spot->label->at, way->ahead.places[0]);
    spot->in_sight = way->ahead.count == 1;
    spot->beyond_m = fmax(0.0, spot->left_m - vector_length(spot->home_m));
    spot->drifted_m =
        (struct vector_mps){spot->home_m.east - layer_s * current.east,
                            spot->home_m.north - layer_s * current.north};
}

/* Where a corner is near, or land stands in the way of straight runs, she also
 * goes home round it, or beats from shore to shore. */
static bool is_confined(const struct spot *spot, const struct homeward *way) {
    const struct front_options *options = spot->expander->options;
    const size_t *stopped_by = spot->harvest->stopped_by;
    double near_m = CORNER_LAYERS * options->layer_s * options->fair_mps;
    if (!options->waterway)
        return false;
    return (way->ahead.count > 1 && vector_length(spot->home_m) < near_m) ||
           stopped_by[OBSTACLE_LAND] > 0 || stopped_by[OBSTACLE_ZONE] > 0;
}

static void sail_on(struct spot *spot) {
    const struct expander *expander = spot->expander;
    const struct front_options *options = expander->options;
    double reach_m = REACH_LAYERS * options->layer_s * options->fair_mps;
    struct homeward way =
        homeward_from(options->waterway, spot->label->at, expander->goal);
    if (spot->left_m <= reach_m && homeward_arrives(&way, &way.ahead))
        arrive(spot, &way);
    look_home(spot, &way);
    try_fan(spot);
    if (!is_confined(spot, &way))
        return;
    arrive_homeward(spot, &way);
}

/* --- all together --------------------------------------------------------- */

size_t expand_most(const struct fan *fan) {
    return ((size_t)fan->angles * 2 + 2) * EXPAND_ORDERS + 1;
}

static void measure(struct spot *spot) {
    const struct voyage *voyage = &spot->expander->voyage;
    const struct label *label = spot->label;
    const double mile_m = 1852.0;
    struct position north = rhumb_step(label->at, 0.0, mile_m);
    struct position east = rhumb_step(label->at, 90.0, mile_m);
    spot->north_deg_per_m = (north.lat_deg - label->at.lat_deg) / mile_m;
    spot->east_deg_per_m = angle_turn(label->at.lon_deg, east.lon_deg) / mile_m;
    double sine, cosine;
    sincos_deg(label->at.lat_deg, &sine, &cosine);
    spot->tangent = sine / fmax(cosine, 1e-3);
    double near_m = voyage->boat->spar.landfall_m +
                    LAST_STOW_LAYERS * spot->expander->options->layer_s *
                        spot->expander->options->fair_mps;
    spot->near_finish =
        voyage->spar_allowed &&
        sphere_distance_m(sphere_point(label->at),
                          sphere_point(voyage->finish)) < near_m;
}

/* All but corners and arrival, which are filled before they count: to clear
 * those, too, took a twentieth of the time of a front. */
static void clear(struct harvest *harvest) {
    harvest->count = harvest->tried = 0;
    harvest->closing_mps = 0.0;
    memset(harvest->stopped_by, 0, sizeof harvest->stopped_by);
    harvest->horizon_met = false;
    harvest->arrival.known = false;
}

/* The rest of the spot is found out on the way. */
static void begin(struct spot *spot, const struct expander *expander,
                  struct label *label, struct harvest *harvest) {
    spot->expander = expander;
    spot->label = label;
    spot->harvest = harvest;
    memset(spot->works, 0, sizeof spot->works); /* WORK_UNASKED */
}

void expand_label(const struct expander *expander, struct label *label,
                  double t_s, struct harvest *harvest) {
    struct spot spot;
    clear(harvest);
    begin(&spot, expander, label, harvest);
    spot.t_s = t_s;
    enum obstacle obstacle = look_at_label(&spot);
    harvest->stopped_by[obstacle]++;
    harvest->horizon_met = obstacle == OBSTACLE_HORIZON;
    if (obstacle != OBSTACLE_NONE)
        return;
    double left_m = expand_left_m(expander, label->at);
    spot.left_m = left_m;
    if (label->sailed_s > 0.0)
        harvest->closing_mps = (label->from_left_m - left_m) /
                               expander->options->layer_s /
                               (1.0 + label->burden);
    if (spot_is_hopeless(expander, label->cost_s, left_m))
        return;
    measure(&spot);
    list_orders(&spot);
    sail_on(&spot);
}
