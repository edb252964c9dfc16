#include "search/refine.h"

#include "earth/rhumb.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* A gain below this is none. */
static const double LEAST_GAIN_S = 0.01;

/* The next step where this one has brought too little. */
static const double SHORTER = 0.4;

/* Where a vertex may go to in one round: it stays, goes a step to either side
 * or, where she turns or changes her rig, ahead or astern. */
static const double ways_deg[] = {0.0, 90.0, -90.0, 0.0, 180.0};
enum { WAYS = sizeof ways_deg / sizeof *ways_deg, STAYS = 0, SIDEWAYS = 3 };

/* A bend sharper than this is a turn. */
static const double TURN_DEG = 10.0;

/* The cheapest boat at one of the places that a vertex may go to. */
struct stand {
    bool live;
    struct underway boat;
};

/* A track while it is being moved. Vertices that have no choice of their own
 * are carried along by those that have, before and after them. */
struct moving {
    const struct voyage *voyage;
    const struct underway *start;
    struct track *track;
    double cost_s, crept_s;
    struct position (*places)[WAYS]; /* [count] */
    uint8_t *ways;                   /* [count]: how many of them are tried */
    size_t *choosers;                /* [count]: the vertices that choose */
    size_t chooser_count;
    double *part;           /* [count]: of the way from chooser to chooser */
    uint8_t (*from)[WAYS];  /* [chooser]: way of the chooser before */
    struct vertex *before;  /* [count]: the track as it was */
    struct position *moved; /* [count] */
};

static void time_all(struct moving *moving) {
    struct underway boat =
        track_start(moving->voyage, moving->track, moving->start);
    bool sails =
        track_sail(moving->voyage, moving->track, &boat, NULL) == OBSTACLE_NONE;
    moving->cost_s = sails ? boat.cost_s : HUGE_VAL;
    moving->crept_s = boat.crept_s;
}

/* How many ways are worth trying. */
static int count_ways(const struct vertex *v) {
    if (v->pinned)
        return 1;
    double turn_deg = angle_turn(rhumb_between(v[-1].at, v[0].at).course_deg,
                                 rhumb_between(v[0].at, v[1].at).course_deg);
    return fabs(turn_deg) > TURN_DEG || !deck_same_rig(v->order, v[-1].order)
               ? WAYS
               : SIDEWAYS;
}

/* All vertices choose or, `bends`, only those where she turns or changes her
 * rig: the legs between are then moved as a whole, so that a bend can move
 * where no single vertex may leave its leg. */
static void name_choosers(struct moving *moving, bool bends) {
    const struct vertex *v = moving->track->vertices;
    size_t last = moving->track->count - 1;
    moving->chooser_count = 0;
    for (size_t i = 0; i <= last; i++) {
        moving->ways[i] = (uint8_t)count_ways(&v[i]);
        if (!bends || moving->ways[i] == WAYS || i == 0 || i == last ||
            v[i].pinned)
            moving->choosers[moving->chooser_count++] = i;
    }
}

/* How far on each vertex is from one chooser to the next. */
static void share_out(struct moving *moving) {
    const struct vertex *v = moving->track->vertices;
    for (size_t k = 0; k + 1 < moving->chooser_count; k++) {
        size_t first = moving->choosers[k], last = moving->choosers[k + 1];
        double sum_m = moving->part[first] = 0.0;
        for (size_t i = first; i < last; i++) {
            sum_m += rhumb_between(v[i].at, v[i + 1].at).distance_m;
            moving->part[i + 1] = sum_m;
        }
        for (size_t i = first + 1; i <= last; i++)
            moving->part[i] /= fmax(sum_m, 1.0);
    }
}

static void spread_places(const struct moving *moving, double step_m) {
    const struct vertex *v = moving->track->vertices;
    for (size_t k = 0; k < moving->chooser_count; k++) {
        size_t i = moving->choosers[k];
        moving->places[i][STAYS] = v[i].at;
        if (moving->ways[i] == 1)
            continue;
        double along_deg = rhumb_between(v[i - 1].at, v[i + 1].at).course_deg;
        for (int way = STAYS + 1; way < moving->ways[i]; way++)
            moving->places[i][way] = rhumb_ahead(
                v[i].at, angle_wrap_360(along_deg + ways_deg[way]), step_m);
    }
}

/* A stretch of the track from one chooser to the next, each with its way. */
struct carried {
    size_t first, last;
    int first_way, last_way;
};

/* Where vertex `index` goes to when the ends of its stretch do. */
static struct position carried_to(const struct moving *moving,
                                  const struct carried *by, size_t index) {
    const struct vertex *v = moving->track->vertices;
    if (index == by->last)
        return moving->places[index][by->last_way];
    struct position a = moving->places[by->first][by->first_way];
    struct position b = moving->places[by->last][by->last_way];
    double part = moving->part[index];
    double north_deg = (1.0 - part) * (a.lat_deg - v[by->first].at.lat_deg) +
                       part * (b.lat_deg - v[by->last].at.lat_deg);
    double east_deg =
        (1.0 - part) * angle_turn(v[by->first].at.lon_deg, a.lon_deg) +
        part * angle_turn(v[by->last].at.lon_deg, b.lon_deg);
    return (struct position){
        .lat_deg = fmax(-90.0, fmin(90.0, v[index].at.lat_deg + north_deg)),
        .lon_deg = angle_wrap_longitude(v[index].at.lon_deg + east_deg)};
}

static bool sail_carried(const struct moving *moving, const struct carried *by,
                         struct underway *boat) {
    for (size_t i = by->first; i < by->last; i++)
        if (track_sail_leg(
                moving->voyage, boat, moving->track->vertices[i].order,
                carried_to(moving, by, i + 1), NULL) != OBSTACLE_NONE)
            return false;
    return true;
}

/* To creep a little may cost less than the tack that it saves, but no finished
 * plan may: of two boats the one that has crept less is the better. */
static bool is_better(const struct underway *boat, const struct stand *than) {
    if (!than->live || boat->crept_s < than->boat.crept_s)
        return true;
    return boat->crept_s <= than->boat.crept_s &&
           boat->cost_s < than->boat.cost_s;
}

/* The cheapest way to one place of the chooser after `index`, from all the
 * places of that. */
static void reach_place(const struct moving *moving, size_t index, int way,
                        const struct stand row[WAYS], struct stand *stand) {
    struct carried by = {.first = moving->choosers[index],
                         .last = moving->choosers[index + 1],
                         .last_way = way};
    stand->live = false;
    for (int from = 0; from < moving->ways[by.first]; from++) {
        if (!row[from].live)
            continue;
        struct underway boat = row[from].boat;
        by.first_way = from;
        if (!sail_carried(moving, &by, &boat) || !is_better(&boat, stand))
            continue;
        *stand = (struct stand){.live = true, .boat = boat};
        moving->from[index + 1][way] = (uint8_t)from;
    }
}

/* Takes the places on the cheapest way. */
static void take_places(struct moving *moving) {
    struct carried by = {.last_way = STAYS}; /* the last vertex is pinned */
    memcpy(moving->before, moving->track->vertices,
           moving->track->count * sizeof *moving->before);
    for (size_t k = moving->chooser_count - 1; k > 0; k--) {
        by.first = moving->choosers[k - 1];
        by.last = moving->choosers[k];
        by.first_way = moving->from[k][by.last_way];
        for (size_t i = by.last; i > by.first; i--)
            moving->moved[i] = carried_to(moving, &by, i);
        by.last_way = by.first_way;
    }
    for (size_t i = 1; i < moving->track->count; i++)
        moving->track->vertices[i].at = moving->moved[i];
}

/* One round over all choosers together; the gain in seconds. */
static double move_all(struct moving *moving, double step_m) {
    struct track *track = moving->track;
    struct stand rows[2][WAYS] = {0};
    size_t last = moving->chooser_count - 1;
    share_out(moving);
    spread_places(moving, step_m);
    rows[0][STAYS] = (struct stand){
        .live = true,
        .boat = track_start(moving->voyage, track, moving->start)};
    for (size_t k = 0; k < last; k++)
        for (int way = 0; way < moving->ways[moving->choosers[k + 1]]; way++)
            reach_place(moving, k, way, rows[k % 2], &rows[(k + 1) % 2][way]);
    if (!rows[last % 2][STAYS].live)
        return 0.0;
    double before_s = moving->cost_s, crept_s = moving->crept_s;
    take_places(moving);
    time_all(moving);
    if (moving->cost_s < before_s - LEAST_GAIN_S && moving->crept_s <= crept_s)
        return before_s - moving->cost_s;
    memcpy(track->vertices, moving->before,
           track->count * sizeof *track->vertices);
    moving->cost_s = before_s;
    moving->crept_s = crept_s;
    return 0.0;
}

/* One round with steps of that size; what part of the cost it took off. */
static double gain_frac(struct moving *moving, double step_m, bool bends) {
    name_choosers(moving, bends);
    return move_all(moving, step_m) / moving->cost_s;
}

double refine_track(const struct voyage *voyage, struct track *track,
                    const struct underway *start,
                    const struct refine_options *options,
                    struct arena *scratch) {
    struct moving moving = {.voyage = voyage, .start = start, .track = track};
    size_t count = track->count;
    moving.places = arena_alloc(scratch, count, sizeof *moving.places);
    moving.ways = arena_alloc(scratch, count, sizeof *moving.ways);
    moving.choosers = arena_alloc(scratch, count, sizeof *moving.choosers);
    moving.part = arena_alloc(scratch, count, sizeof *moving.part);
    moving.from = arena_alloc(scratch, count, sizeof *moving.from);
    moving.before = arena_alloc(scratch, count, sizeof *moving.before);
    moving.moved = arena_alloc(scratch, count, sizeof *moving.moved);
    time_all(&moving);
    double step_m = options->first_step_m;
    for (int round = 0; round < options->rounds && !isinf(moving.cost_s) &&
                        step_m >= options->last_step_m;
         round++) {
        double bent_frac =
            options->bends ? gain_frac(&moving, step_m, true) : 0.0;
        double moved_frac = gain_frac(&moving, step_m, false);
        if (fmax(bent_frac, moved_frac) <= options->worth_frac)
            step_m *= SHORTER;
    }
    return moving.cost_s;
}

/* --- places that are not missed ------------------------------------------- */

/* Straight to a vertex under the order of another. */
static bool sail_between(const struct voyage *voyage, const struct vertex *from,
                         const struct vertex *to, struct underway *boat) {
    return track_sail_leg(voyage, boat, from->order, to->at, NULL) ==
           OBSTACLE_NONE;
}

/* Does it cost more to sail from vertex `last` past `index` to the next one?
 * True, too, where it has to stay. */
static bool is_missed(const struct voyage *voyage, const struct track *track,
                      size_t last, size_t index, const struct underway *boat) {
    const struct vertex *v = &track->vertices[index];
    if (v->pinned || !deck_same_rig(v->order, v[-1].order) ||
        !deck_same_rig(v->order, track->vertices[last].order))
        return true;
    struct underway over = *boat, past = *boat;
    const struct vertex *from = &track->vertices[last];
    return !sail_between(voyage, from, v, &over) ||
           !sail_between(voyage, v, v + 1, &over) ||
           !sail_between(voyage, from, v + 1, &past) ||
           past.crept_s > over.crept_s ||
           past.cost_s > over.cost_s + LEAST_GAIN_S;
}

void refine_prune(const struct voyage *voyage, struct track *track,
                  const struct underway *start) {
    struct underway boat = track_start(voyage, track, start);
    size_t last = 0, kept = 1;
    for (size_t i = 1; i < track->count; i++) {
        if (i + 1 < track->count && !is_missed(voyage, track, last, i, &boat))
            continue;
        sail_between(voyage, &track->vertices[last], &track->vertices[i],
                     &boat);
        last = i;
        track->vertices[kept++] = track->vertices[i];
    }
    track->count = kept;
}

/* --- fewer places --------------------------------------------------------- */

/* A track that loses vertices, and the boat as she was at each of them. */
struct thinning {
    const struct voyage *voyage;
    const struct underway *start;
    struct track *track;
    struct underway *at; /* [count] */
    double *dear_s;      /* [count]: what it costs to do without; HUGE_VAL: it
                            has to stay */
    size_t timed;        /* `at` holds up to there */
    double cost_s;       /* of the whole; HUGE_VAL: it can't be sailed */
    double crept_s;
    struct thinning *kept; /* to go back to */
};

/* Its cost but for forbidden work: seconds that a place less puts on or takes
 * off the clock may push work that was just allowed over its limit. Whoever
 * thins a track chooses its deck states anew. */
static double allowed_cost_s(const struct thinning *thinning,
                             const struct underway *boat) {
    const struct voyage *voyage = thinning->voyage;
    return boat->t_s + voyage->ease * (boat->discomfort_s + boat->hardship_s) +
           voyage->motoring.price * boat->motored_s;
}

static void thinning_copy(struct thinning *to, const struct thinning *from) {
    size_t count = to->track->count = from->track->count;
    memcpy(to->track->vertices, from->track->vertices,
           count * sizeof *to->track->vertices);
    memcpy(to->at, from->at, count * sizeof *to->at);
    memcpy(to->dear_s, from->dear_s, count * sizeof *to->dear_s);
    to->timed = from->timed;
    to->cost_s = from->cost_s;
    to->crept_s = from->crept_s;
}

/* From where it holds. On another first stretch the wind may be called on the
 * other side. */
static void time_rest(struct thinning *thinning) {
    struct track *track = thinning->track;
    size_t last = track->count - 1;
    if (thinning->timed == 0)
        thinning->at[0] = track_start(thinning->voyage, track, thinning->start);
    thinning->cost_s = HUGE_VAL;
    for (; thinning->timed < last; thinning->timed++) {
        struct underway boat = thinning->at[thinning->timed];
        if (track_sail_stretch(thinning->voyage, track, thinning->timed, &boat,
                               NULL) != OBSTACLE_NONE)
            return;
        thinning->at[thinning->timed + 1] = boat;
    }
    thinning->cost_s = allowed_cost_s(thinning, &thinning->at[last]);
    thinning->crept_s = thinning->at[last].crept_s;
}

/* What doing without a vertex costs up to the next one. That is nearly all:
 * further on only the clock differs. */
static double dearness(const struct thinning *thinning, size_t index) {
    const struct vertex *v = &thinning->track->vertices[index];
    if (v->pinned || !deck_same_rig(v->order, v[-1].order))
        return HUGE_VAL;
    struct underway boat = thinning->at[index - 1];
    const struct underway *with = &thinning->at[index + 1];
    if (!sail_between(thinning->voyage, &v[-1], &v[1], &boat) ||
        boat.crept_s > with->crept_s)
        return HUGE_VAL;
    return allowed_cost_s(thinning, &boat) - allowed_cost_s(thinning, with);
}

static size_t least_dear(const struct thinning *thinning) {
    size_t least = 0;
    for (size_t i = 1; i + 1 < thinning->track->count; i++)
        if (!isinf(thinning->dear_s[i]) &&
            (least == 0 || thinning->dear_s[i] < thinning->dear_s[least]))
            least = i;
    return least;
}

static void remove_vertex(struct thinning *thinning, size_t index) {
    struct track *track = thinning->track;
    size_t rest = track->count - index - 1;
    memmove(&track->vertices[index], &track->vertices[index + 1],
            rest * sizeof *track->vertices);
    memmove(&thinning->dear_s[index], &thinning->dear_s[index + 1],
            rest * sizeof *thinning->dear_s);
    track->count--;
    thinning->timed = index - 1;
}

/* The neighbours of a vertex that is gone. */
static void value_neighbours(struct thinning *thinning, size_t index) {
    for (size_t i = index > 1 ? index - 1 : 1; i <= index; i++)
        if (i + 1 < thinning->track->count)
            thinning->dear_s[i] = dearness(thinning, i);
}

/* Tries to do without one vertex; it stays where that costs too much. */
static void do_without(struct thinning *thinning, size_t index,
                       double allowed_s) {
    thinning_copy(thinning->kept, thinning);
    remove_vertex(thinning, index);
    time_rest(thinning);
    if (!isinf(thinning->cost_s) && thinning->cost_s <= allowed_s &&
        thinning->crept_s <= thinning->kept->crept_s) {
        value_neighbours(thinning, index);
        return;
    }
    thinning_copy(thinning, thinning->kept);
    thinning->dear_s[index] = HUGE_VAL;
}

/* Takes out the least needed as long as more than `most` are left and no more
 * than that part of the least cost on the way is lost. */
static void thin(struct thinning *thinning, size_t most, double loss_frac) {
    double least_s = thinning->cost_s;
    for (size_t i = 1; i + 1 < thinning->track->count; i++)
        thinning->dear_s[i] = dearness(thinning, i);
    while (thinning->track->count > most) {
        size_t index = least_dear(thinning);
        if (index == 0)
            return;
        do_without(thinning, index, least_s * (1.0 + loss_frac));
        least_s = fmin(least_s, thinning->cost_s);
    }
}

static void make_room(struct thinning *thinning, size_t count,
                      struct arena *scratch) {
    thinning->at = arena_alloc(scratch, count, sizeof *thinning->at);
    thinning->dear_s = arena_alloc(scratch, count, sizeof *thinning->dear_s);
}

double refine_simplify(const struct voyage *voyage, struct track *track,
                       const struct underway *start, double loss_frac,
                       size_t most, struct arena *scratch) {
    struct track copy = track_copy(scratch, track);
    struct thinning kept = {.track = &copy};
    struct thinning thinning = {
        .voyage = voyage, .start = start, .track = track, .kept = &kept};
    make_room(&thinning, track->count, scratch);
    make_room(&kept, track->count, scratch);
    time_rest(&thinning);
    if (isinf(thinning.cost_s))
        return thinning.cost_s;
    thin(&thinning, 2, loss_frac);
    thin(&thinning, most, HUGE_VAL);
    return thinning.cost_s;
}
