#include "search/arrive.h"

#include "voyage/cost.h"

/* To windward the last stretch may take so many layers. */
static const double BEATEN_LAYERS = 6.0;

static struct underway boat_of(const struct spot *spot) {
    const struct label *label = spot->label;
    return (struct underway){.at = label->at,
                             .t_s = spot->t_s,
                             .cost_s = label->cost_s,
                             .deck = label->deck,
                             .work_left_s = label->work_left_s,
                             .stowing = label->stowing,
                             .heading_deg = label->heading_deg,
                             .twa_deg = label->twa_deg,
                             .here_known = true,
                             .here = spot->conditions};
}

/* Gives the order; false where it is of no use or not allowed. */
static bool give_order(const struct voyage *voyage, struct underway *boat,
                       double course_deg, struct deck order) {
    if (deck_same_rig(order, boat->deck))
        return true;
    double before_s = boat->cost_s;
    if (sail_change_deck(voyage, boat, course_deg, order, NULL) !=
        OBSTACLE_NONE)
        return false;
    if (boat->cost_s - before_s >= COST_FORBIDDEN_WORK_S)
        return false;
    struct motion motion;
    return !deck_is_drawing(boat->deck) ||
           (voyage_motion(voyage, &boat->here, course_deg, boat->deck, false,
                          &motion) == OBSTACLE_NONE &&
            !motion.spar_unfit);
}

/* A layer along the way home, round its corners. */
static void try_homeward(struct spot *spot, const struct homeward *way,
                         struct deck order, struct corners *turned) {
    const struct expander *expander = spot->expander;
    double layer_s = expander->options->layer_s;
    struct harvest *harvest = spot->harvest;
    struct underway boat = boat_of(spot);
    double course_deg = homeward_course_deg(way, boat.at);
    harvest->tried++;
    if (!give_order(&expander->voyage, &boat, course_deg, order))
        return;
    enum obstacle obstacle =
        homeward_sail(&expander->voyage, &boat, way, layer_s, turned);
    harvest->stopped_by[obstacle]++;
    if (obstacle != OBSTACLE_NONE || boat.t_s < spot->t_s + 0.999999 * layer_s)
        return; /* home before the layer ends: an arrival */
    struct label *next = &harvest->items[harvest->count];
    double left_m = expand_left_m(expander, boat.at);
    *next = (struct label){
        .at = boat.at,
        .cost_s = boat.cost_s,
        .merit = boat.cost_s + left_m * expander->fair_s_per_m,
        .heading_deg = boat.heading_deg,
        .twa_deg = boat.twa_deg,
        .deck = boat.deck,
        .work_left_s = boat.work_left_s,
        .stowing = boat.stowing,
        .cell = cells_key(expander->cells, boat.at, deck_index(boat.deck)),
        .from = spot->label->at,
        .from_left_m = spot->left_m,
        .order = order,
        .turned = turned};
    if (!spot_is_hopeless(expander, next->cost_s, left_m) &&
        spot_is_in_corridor(spot, next->at) && !spot_is_beaten(spot, next))
        harvest->count++;
}

void arrive(struct spot *spot, const struct homeward *way) {
    const struct expander *expander = spot->expander;
    struct arrival *best = &spot->harvest->arrival;
    struct corners turned;
    struct underway scout = boat_of(spot);
    double most_s = BEATEN_LAYERS * expander->options->layer_s;
    bool sailed = homeward_sail(&expander->voyage, &scout, way, most_s,
                                &turned) == OBSTACLE_NONE &&
                  homeward_arrives(way, &turned);
    const struct corners *ahead = sailed ? &turned : &way->ahead;
    for (int i = 0; i < spot->order_count; i++) {
        struct arrival arrival = {
            .known = true, .crumb = spot->label->crumb, .boat = boat_of(spot)};
        struct track ending =
            homeward_ending(&expander->voyage, spot->label->at, ahead,
                            spot->orders[i], expander->options->top_mps,
                            expander->options->must_stow, arrival.vertices);
        arrival.count = ending.count;
        if (track_sail(&expander->voyage, &ending, &arrival.boat, NULL) ==
                OBSTACLE_NONE &&
            arrival.boat.cost_s < EXPAND_NEARLY * expander->bound_s &&
            (!best->known || arrival.boat.cost_s < best->boat.cost_s))
            *best = arrival;
    }
}

void arrive_homeward(struct spot *spot, const struct homeward *way) {
    for (int i = 0; i < spot->order_count; i++)
        try_homeward(spot, way, spot->orders[i], &spot->harvest->turned[i]);
}
