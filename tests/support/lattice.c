#include "lattice.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "mesh.h"
#include "voyage/cost.h"

#include <math.h>
#include <stdbool.h>

/* Places through which the way is longer than this times the direct one are
 * left out. */
static const double LONGEST = 1.2;

/* Round the way of the pass before: so many of its spacings, and as much time
 * as that takes at a slow speed. */
static const double WIDTH = 2.0, SLOW_MPS = 3.0;

/* An edge is not sailed that is worse than what is there by this part of
 * itself, by the speeds at its ends. */
static const double SLACK = 0.02;

/* Longest step of the integrator while searching. */
static const double STEP_S = 1800.0;

/* Off the landfall circle the spar may be brought in at so many places, so far
 * apart. */
enum { STOWS = 10 };
static const double STOW_EVERY_M = 0.4 * METRES_PER_NMI;

/* Costs closer than this are the same. */
static const double SAME_COST_S = 0.001;

/* The boat at a node. */
struct mark {
    double cost_s, t_s, work_left_s, twa_deg;
    struct deck deck;
    bool stowing;
};

/* One way to be there. */
struct label {
    int node, parent;
    int next; /* of the same node and deck state */
    bool settled;
    struct mark mark;
    struct deck order; /* for the edge that led here */
    double stow_m;     /* stowed on it, so far off the finish; 0: not */
};

/* A label that waits to be settled. */
struct entry {
    double key;
    int label;
};

struct lattice {
    struct voyage voyage; /* with the steps of the search */
    struct arena *arena;
    struct mesh mesh;
    int finish;
    double clock_s, apart_s; /* from the rough way, in time */
    double top_mps;
    struct label *labels;
    size_t label_count, label_capacity;
    int *first; /* label of each node and deck state, or MESH_NONE */
    struct entry *queue;
    size_t queued, queue_capacity;
    struct lattice_result *result;
};

/* --- labels ---------------------------------------------------------------*/

/* Hands that are busy keep the boat back: the time that this will still take,
 * more or less, counts already. */
static double hold_up_s(const struct lattice *lattice,
                        const struct mark *mark) {
    return mark->work_left_s *
           (1.0 - lattice->voyage.boat->spar.work_speed_frac);
}

static int *first_at(const struct lattice *lattice, int node,
                     struct deck deck) {
    return &lattice->first[node * DECK_STATES + deck_index(deck)];
}

/* Does a boat with one mark do as well as a boat with another, who comes
 * `later_s` after her? If that is less than nothing, no, but for the slack. If
 * it is more, she can wait for her, which costs no less than time does: being
 * late may be good where weather has to pass. */
static bool does_as_well(double cost_s, double other_cost_s, double later_s,
                         double slack_s) {
    if (later_s < -slack_s)
        return false;
    double wait_s = later_s > slack_s ? later_s : 0.0;
    return cost_s + wait_s <= other_cost_s + SAME_COST_S;
}

/* Is there a label at the node, other than `own`, that does as well? Within
 * `clock_s` where it is settled, and stays for good. */
static bool is_beaten(const struct lattice *lattice, int node,
                      const struct mark *mark, int own) {
    double hold_s = hold_up_s(lattice, mark);
    int label = *first_at(lattice, node, mark->deck);
    for (; label != MESH_NONE; label = lattice->labels[label].next) {
        const struct label *other = &lattice->labels[label];
        double gain_s = hold_s - hold_up_s(lattice, &other->mark);
        double slack_s = other->settled && lattice->voyage.ease > 0.0
                             ? lattice->clock_s
                             : 0.0;
        if (label != own && (own == MESH_NONE || other->settled) &&
            does_as_well(other->mark.cost_s, mark->cost_s + gain_s,
                         mark->t_s + gain_s - other->mark.t_s, slack_s))
            return true;
    }
    return false;
}

static void push(struct lattice *lattice, struct entry entry) {
    lattice->queue =
        arena_room(lattice->arena, lattice->queue, lattice->queued,
                   &lattice->queue_capacity, sizeof *lattice->queue);
    size_t place = lattice->queued++;
    while (place > 0 && lattice->queue[(place - 1) / 2].key > entry.key) {
        lattice->queue[place] = lattice->queue[(place - 1) / 2];
        place = (place - 1) / 2;
    }
    lattice->queue[place] = entry;
}

static int pop(struct lattice *lattice) {
    int label = lattice->queue[0].label;
    struct entry last = lattice->queue[--lattice->queued];
    size_t place = 0;
    for (;;) {
        size_t child = 2 * place + 1;
        if (child + 1 < lattice->queued &&
            lattice->queue[child + 1].key < lattice->queue[child].key)
            child++;
        if (child >= lattice->queued || lattice->queue[child].key >= last.key)
            break;
        lattice->queue[place] = lattice->queue[child];
        place = child;
    }
    lattice->queue[place] = last;
    return label;
}

static void add_label(struct lattice *lattice, struct label label) {
    lattice->labels =
        arena_room(lattice->arena, lattice->labels, lattice->label_count,
                   &lattice->label_capacity, sizeof *lattice->labels);
    int index = (int)lattice->label_count++;
    int *first = first_at(lattice, label.node, label.mark.deck);
    label.next = *first;
    *first = index;
    lattice->labels[index] = label;
    push(lattice,
         (struct entry){label.mark.cost_s + hold_up_s(lattice, &label.mark),
                        index});
}

/* --- edges ----------------------------------------------------------------*/

static struct underway boat_at(const struct lattice *lattice,
                               const struct label *label) {
    struct underway boat = sail_start(
        mesh_node(&lattice->mesh, label->node)->at, label->mark.deck);
    boat.cost_s = label->mark.cost_s;
    boat.t_s = label->mark.t_s;
    boat.work_left_s = label->mark.work_left_s;
    boat.twa_deg = label->mark.twa_deg;
    boat.stowing = label->mark.stowing;
    return boat;
}

static struct mark mark_of(const struct underway *boat) {
    return (struct mark){.cost_s = boat->cost_s,
                         .t_s = boat->t_s,
                         .work_left_s = boat->work_left_s,
                         .twa_deg = boat->twa_deg,
                         .deck = boat->deck,
                         .stowing = boat->stowing};
}

/* Gives an order, sails; false where that can't be done, or the order is not
 * allowed there: on open water, at eases up to 1, hardship alone never comes to
 * as much. */
static bool sail_order(const struct voyage *voyage, struct underway *boat,
                       struct deck order, struct position to) {
    double course_deg = rhumb_between(boat->at, to).course_deg;
    double before_s = boat->cost_s;
    return sail_change_deck(voyage, boat, course_deg, order, NULL) ==
               OBSTACLE_NONE &&
           boat->cost_s - before_s < COST_FORBIDDEN_WORK_S &&
           sail_to(voyage, boat, to, NULL) == OBSTACLE_NONE;
}

/* An edge that is being tried. */
struct trial {
    int parent, node;
    struct position to;
    double course_deg, distance_m;
    struct underway boat;    /* where it begins */
    struct conditions there; /* at its end, about when she will be there */
    bool there_known;
};

static double discomfort_rate(const struct voyage *voyage,
                              const struct conditions *conditions,
                              const struct motion *motion, struct deck deck) {
    const struct comfort *comfort = &voyage->boat->comfort;
    if (voyage->ease <= 0.0)
        return 0.0;
    return cost_discomfort(voyage_roll_deg(voyage, conditions, motion, deck),
                           comfort->easy_roll_deg, comfort->working_roll_deg);
}

/* Looks at the end of the edge; false where that can't be sailed to. */
static bool look_there(const struct lattice *lattice, struct trial *trial,
                       double seconds) {
    if (trial->there_known)
        return true;
    trial->there_known =
        voyage_look(&lattice->voyage, trial->to, trial->boat.t_s + seconds,
                    &trial->there) == OBSTACLE_NONE &&
        voyage_limit(&lattice->voyage, &trial->there) == OBSTACLE_NONE;
    return trial->there_known;
}

/* Seconds and cost of the edge by the speeds at its two ends; false where it
 * can't be sailed. */
static bool guess(const struct lattice *lattice, struct trial *trial,
                  struct deck deck, double *seconds, double *cost_s) {
    const struct voyage *voyage = &lattice->voyage;
    const struct conditions *here = &trial->boat.here;
    struct motion start, end;
    if (voyage_motion(voyage, here, trial->course_deg, deck, false, &start) !=
        OBSTACLE_NONE)
        return false;
    *seconds = trial->distance_m / start.sog_mps;
    if (!look_there(lattice, trial, *seconds))
        return false;
    if (voyage_motion(voyage, &trial->there, trial->course_deg, deck, false,
                      &end) != OBSTACLE_NONE)
        end = start;
    *seconds = 2.0 * trial->distance_m / (start.sog_mps + end.sog_mps);
    double rate = discomfort_rate(voyage, here, &start, deck) +
                  discomfort_rate(voyage, &trial->there, &end, deck);
    *cost_s = *seconds * (1.0 + 0.5 * voyage->ease * rate);
    return true;
}

/* Is what is there already better by far than what this edge promises? */
static bool is_hopeless(struct lattice *lattice, struct trial *trial,
                        struct deck order) {
    struct underway boat = trial->boat;
    double seconds, cost_s;
    if (sail_change_deck(&lattice->voyage, &boat, trial->course_deg, order,
                         NULL) != OBSTACLE_NONE ||
        !guess(lattice, trial, boat.deck, &seconds, &cost_s))
        return true;
    struct mark mark = mark_of(&boat);
    double part = 1.0 - SLACK;
    mark.cost_s += part * cost_s;
    mark.t_s += part * seconds;
    return is_beaten(lattice, trial->node, &mark, MESH_NONE);
}

/* Even at top speed? */
static bool is_out_of_reach(const struct lattice *lattice,
                            const struct trial *trial) {
    double least_s = trial->distance_m / lattice->top_mps;
    for (int state = 0; state < DECK_STATES; state++) {
        struct mark mark = mark_of(&trial->boat);
        mark.cost_s += least_s;
        mark.t_s += least_s;
        mark.deck = deck_at(state);
        if (!is_beaten(lattice, trial->node, &mark, MESH_NONE))
            return false;
    }
    return true;
}

/* So late or early that it has nothing to do with the rough way? */
static bool is_out_of_time(const struct lattice *lattice,
                           const struct label *label) {
    return lattice->mesh.options.rough_count > 0 &&
           fabs(label->mark.t_s -
                mesh_node(&lattice->mesh, label->node)->due_s) >
               lattice->apart_s;
}

static void arrive(struct lattice *lattice, const struct trial *trial,
                   const struct underway *boat, struct deck order,
                   double stow_m) {
    struct label label = {.node = trial->node,
                          .parent = trial->parent,
                          .mark = mark_of(boat),
                          .order = order,
                          .stow_m = stow_m};
    if (!is_out_of_time(lattice, &label) &&
        !is_beaten(lattice, label.node, &label.mark, MESH_NONE))
        add_label(lattice, label);
}

static struct position stow_place(struct position from, struct position to,
                                  double stow_m) {
    struct rhumb line = rhumb_between(from, to);
    return rhumb_ahead(from, line.course_deg, line.distance_m - stow_m);
}

/* To the finish with the spar brought in on the way. */
static void try_stows(struct lattice *lattice, const struct trial *trial,
                      struct deck order) {
    double landfall_m = lattice->voyage.boat->spar.landfall_m;
    for (int i = 1; i <= STOWS; i++) {
        double stow_m = landfall_m + i * STOW_EVERY_M;
        if (stow_m >= trial->distance_m)
            return;
        struct underway boat = trial->boat;
        struct position stow = stow_place(boat.at, trial->to, stow_m);
        lattice->result->edges++;
        if (sail_order(&lattice->voyage, &boat, order, stow) &&
            sail_order(&lattice->voyage, &boat,
                       (struct deck){.spar = SPAR_STOWED}, trial->to))
            arrive(lattice, trial, &boat, order, stow_m);
    }
}

static void try_order(struct lattice *lattice, struct trial *trial,
                      struct deck order) {
    if (is_hopeless(lattice, trial, order))
        return;
    if (trial->node == lattice->finish && order.spar != SPAR_STOWED)
        try_stows(lattice, trial, order);
    struct underway boat = trial->boat;
    lattice->result->edges++;
    if (sail_order(&lattice->voyage, &boat, order, trial->to))
        arrive(lattice, trial, &boat, order, 0.0);
}

/* May the spar draw there, at the beginning of the edge? */
static bool may_draw(const struct lattice *lattice, const struct trial *trial,
                     enum spar_place spar) {
    const struct conditions *here = &trial->boat.here;
    struct deck deck = {.spar = spar};
    deck.wind_starboard = angle_turn(trial->course_deg, here->twd_deg) >= 0.0;
    for (int side = 0; side < 2; side++) {
        struct motion motion;
        if (voyage_motion(&lattice->voyage, here, trial->course_deg, deck,
                          false, &motion) == OBSTACLE_NONE &&
            !motion.spar_unfit && !motion.wrong_side)
            return true;
        deck.wind_starboard = !deck.wind_starboard;
    }
    return false;
}

static void try_edge(struct lattice *lattice, struct trial *trial) {
    struct deck now = trial->boat.deck;
    try_order(lattice, trial, (struct deck){.spar = SPAR_STOWED});
    if (lattice->voyage.spar_allowed)
        for (int spar = SPAR_PORT; spar <= SPAR_STARBOARD; spar++)
            if (may_draw(lattice, trial, (enum spar_place)spar))
                try_order(lattice, trial,
                          (struct deck){.spar = (enum spar_place)spar});
    if (now.spar != SPAR_STOWED)
        try_order(lattice, trial,
                  (struct deck){.spar = now.spar, .rolled = true});
}

static void expand(struct lattice *lattice, int index) {
    const struct label label = lattice->labels[index];
    struct mesh *mesh = &lattice->mesh;
    struct trial trial = {.parent = index, .boat = boat_at(lattice, &label)};
    if (sail_look(&lattice->voyage, &trial.boat) != OBSTACLE_NONE)
        return;
    for (size_t i = 0; i < mesh->edge_count; i++) {
        trial.node = mesh_along(mesh, label.node, mesh->edges[i]);
        if (trial.node == MESH_NONE)
            continue;
        trial.to = mesh_node(mesh, trial.node)->at;
        struct rhumb line = rhumb_between(trial.boat.at, trial.to);
        trial.course_deg = line.course_deg;
        trial.distance_m = line.distance_m;
        trial.there_known = false;
        if (!is_out_of_reach(lattice, &trial))
            try_edge(lattice, &trial);
    }
}

/* --- the way --------------------------------------------------------------*/

static size_t count_points(const struct label *labels, int last) {
    size_t count = 1;
    for (int i = last; labels[i].parent != MESH_NONE; i = labels[i].parent)
        count += labels[i].stow_m > 0.0 ? 2 : 1;
    return count;
}

static void put_way(struct lattice *lattice, int last) {
    const struct label *labels = lattice->labels;
    struct lattice_result *result = lattice->result;
    struct position finish = lattice->voyage.finish;
    size_t place = result->count = count_points(labels, last);
    struct lattice_point *points = result->points =
        arena_alloc(lattice->arena, place, sizeof *points);
    points[--place] =
        (struct lattice_point){.at = finish, .t_s = labels[last].mark.t_s};
    int i = last;
    for (; labels[i].parent != MESH_NONE; i = labels[i].parent) {
        const struct label *parent = &labels[labels[i].parent];
        struct position from = mesh_node(&lattice->mesh, parent->node)->at;
        double stow_m = labels[i].stow_m;
        if (stow_m > 0.0)
            points[--place] =
                (struct lattice_point){.at = stow_place(from, finish, stow_m),
                                       .t_s = labels[i].mark.t_s};
        points[--place] = (struct lattice_point){
            .at = from, .order = labels[i].order, .t_s = parent->mark.t_s};
    }
    result->start = labels[i].mark.deck;
    result->promised_s = labels[last].mark.cost_s;
}

/* Sails the way that was found by the steps of the voyage itself. */
static void sail_way(const struct voyage *voyage,
                     struct lattice_result *result) {
    struct underway boat = sail_start(result->points[0].at, result->start);
    result->reached = true;
    for (size_t i = 0; i + 1 < result->count && result->reached; i++)
        result->reached = sail_order(voyage, &boat, result->points[i].order,
                                     result->points[i + 1].at);
    result->cost_s = boat.cost_s;
    result->elapsed_s = boat.t_s;
}

/* --- passes ---------------------------------------------------------------*/

/* What the pass before has found is where this one looks. */
static void lay_mesh(struct lattice *lattice, struct position from,
                     const struct lattice_pass *pass,
                     const struct lattice_pass *last,
                     const struct lattice_result *found) {
    struct mesh_options options = {
        .spacing_m = pass->spacing_m, .reach = pass->reach, .longest = LONGEST};
    if (last) {
        struct mesh_moment *rough =
            arena_alloc(lattice->arena, found->count, sizeof *rough);
        for (size_t i = 0; i < found->count; i++)
            rough[i] =
                (struct mesh_moment){found->points[i].at, found->points[i].t_s};
        options.rough = rough;
        options.rough_count = found->count;
        options.width_m = WIDTH * last->spacing_m;
        lattice->apart_s = options.width_m / SLOW_MPS;
    }
    mesh_lay(&lattice->mesh, from, lattice->voyage.finish, &options,
             lattice->arena);
}

static void begin(struct lattice *lattice) {
    size_t states = mesh_size(&lattice->mesh) * DECK_STATES;
    lattice->first =
        arena_alloc(lattice->arena, states, sizeof *lattice->first);
    for (size_t i = 0; i < states; i++)
        lattice->first[i] = MESH_NONE;
    int start = mesh_start(&lattice->mesh);
    lattice->finish = mesh_finish(&lattice->mesh);
    /* before she has sailed, the wind may be called on either side */
    for (int side = 0; side < 2; side++) {
        struct deck deck = {.wind_starboard = side == 1};
        struct underway boat =
            sail_start(mesh_node(&lattice->mesh, start)->at, deck);
        add_label(lattice, (struct label){.node = start,
                                          .parent = MESH_NONE,
                                          .mark = mark_of(&boat)});
    }
}

/* Settles labels until one is at the finish with the spar in: its number, or
 * MESH_NONE. */
static int settle_all(struct lattice *lattice) {
    while (lattice->queued > 0) {
        int index = pop(lattice);
        struct label *label = &lattice->labels[index];
        if (is_beaten(lattice, label->node, &label->mark, index))
            continue;
        label->settled = true;
        lattice->result->labels++;
        if (label->node == lattice->finish &&
            label->mark.deck.spar == SPAR_STOWED)
            return index;
        expand(lattice, index);
    }
    return MESH_NONE;
}

void lattice_run(const struct voyage *voyage,
                 const struct lattice_request *request, struct arena *arena,
                 struct lattice_result *results) {
    for (size_t i = 0; i < request->count; i++)
        results[i] = (struct lattice_result){.reached = false};
    for (size_t i = 0; i < request->count; i++) {
        const struct lattice_pass *pass = &request->passes[i];
        struct lattice lattice = {.voyage = *voyage,
                                  .arena = arena,
                                  .clock_s = pass->clock_s,
                                  .top_mps = voyage_top_speed(voyage) +
                                             voyage->max_current_mps,
                                  .result = &results[i]};
        lattice.voyage.step_s = STEP_S;
        lay_mesh(&lattice, request->from, pass, i > 0 ? pass - 1 : NULL,
                 i > 0 ? &results[i - 1] : NULL);
        begin(&lattice);
        int last = settle_all(&lattice);
        if (last == MESH_NONE)
            return;
        put_way(&lattice, last);
        sail_way(voyage, &results[i]);
    }
}
