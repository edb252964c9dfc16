#include "plan/resail.h"

#include "base/units.h"
#include "earth/rhumb.h"

#include <math.h>
#include <string.h>

/* Moments and places closer than this are the same. */
static const double SAME_TIME_S = 1e-6;
static const double SAME_PLACE_M = 0.01;

/* Places of a course closer than this are one. */
static const double SAME_VERTEX_M = 20.0;

/* Decimals of a degree in a route file: a centimetre. */
enum { DECIMALS = 7 };

/* An order whose own part comes so much later was none when it was given. */
static const double LONGEST_WORK_S = 3.0 * SECONDS_PER_HOUR;

/* --- once ----------------------------------------------------------------- */

/* Being sailed, and written down. */
struct record {
    struct resail *resail;
    struct arena *arena;
    size_t stretch, capacity;
};

static bool is_second_part(const struct resail_change *first,
                           const struct resail_change *second) {
    return first->unplanned && first->stretch == second->stretch &&
           deck_index(first->from) == deck_index(second->from) &&
           deck_index(first->to) == deck_index(second->to);
}

static void note_change(void *context, const struct sail_change *done) {
    struct record *record = context;
    struct resail *resail = record->resail;
    resail->changes =
        arena_room(record->arena, resail->changes, resail->change_count,
                   &record->capacity, sizeof *resail->changes);
    struct resail_change *change = &resail->changes[resail->change_count++];
    *change = (struct resail_change){.kind = done->kind,
                                     .from = done->from,
                                     .to = done->to,
                                     .t_s = done->t_s,
                                     .seconds = done->seconds,
                                     .stretch = record->stretch,
                                     .begun_s = done->t_s,
                                     .begun_at = done->at,
                                     .unplanned = done->unplanned,
                                     .outside_limits = done->outside_limits,
                                     .light = done->conditions->light};
    if (!done->unplanned) {
        change->begun_s = resail->arrived[record->stretch].t_s;
        change->begun_at = resail->arrived[record->stretch].at;
    } else if (resail->change_count > 1 && is_second_part(change - 1, change)) {
        change->begun_s = change[-1].begun_s;
        change->begun_at = change[-1].begun_at;
    }
    resail->mainsails += done->kind == CHANGE_MAINSAIL_GYBE;
}

/* What the cost has beyond time, discomfort and hardship. */
static double forbidden_s(const struct voyage *voyage,
                          const struct underway *boat) {
    return boat->cost_s - boat->t_s -
           voyage->ease * (boat->discomfort_s + boat->hardship_s);
}

struct resail resail_course(const struct voyage *voyage,
                            const struct track *course,
                            const struct underway *start, struct arena *arena) {
    struct resail resail = {.voyage = voyage, .course = course};
    struct record record = {.resail = &resail, .arena = arena};
    struct sail_observer observer = {.change = note_change, .context = &record};
    struct underway boat = *start;
    resail.arrived = arena_alloc(arena, course->count, sizeof *resail.arrived);
    for (size_t i = 0; i + 1 < course->count; i++) {
        resail.arrived[i] = boat;
        record.stretch = i;
        resail.obstacle =
            track_sail_stretch(voyage, course, i, &boat, &observer);
        if (resail.obstacle != OBSTACLE_NONE)
            return resail;
    }
    resail.arrived[course->count - 1] = resail.end = boat;
    return resail;
}

/* --- again ---------------------------------------------------------------- */

/* The course being sailed again. */
struct again {
    const struct resail *resail;
    struct underway boat;
    struct resailed told;
    bool waiting;           /* for the moved change */
    double due_s;           /* when that is */
    bool found;             /* it was done */
    bool mainsail;          /* it is one */
    bool undone;            /* the roll counts */
    int mainsails;          /* since the start of the course */
    bool own;               /* it is the last stow: the landfall binds it */
    size_t stow;            /* the vertex at which that is */
    enum obstacle obstacle; /* that stopped her */
};

static void watch_change(void *context, const struct sail_change *done) {
    struct again *again = context;
    bool mainsail = done->kind == CHANGE_MAINSAIL_GYBE;
    again->mainsails += mainsail;
    bool other = mainsail || done->kind == CHANGE_TACK;
    if (!again->waiting || done->unplanned || other != again->mainsail)
        return;
    again->waiting = false;
    again->found = done->t_s - again->due_s < LONGEST_WORK_S;
    again->told.outside_limits = done->outside_limits;
    again->told.light = done->conditions->light;
}

static void watch_step(void *context, const struct sail_step *step) {
    struct again *again = context;
    again->told.roll2 += step->seconds * step->roll_deg * step->roll_deg;
    again->told.roll_s += step->seconds;
}

static struct sail_observer observer_of(struct again *again) {
    return (struct sail_observer){.step = again->undone ? watch_step : NULL,
                                  .change = watch_change,
                                  .context = again};
}

static const struct vertex *vertex_at(const struct again *again, size_t index) {
    return &again->resail->course->vertices[index];
}

/* On along a stretch, at its pace but under one order, to a place; false where
 * she can't. */
static bool sail_under(struct again *again, size_t stretch, struct deck order,
                       struct position to) {
    struct sail_observer observer = observer_of(again);
    struct vertex under = *vertex_at(again, stretch);
    under.order = order;
    again->obstacle = track_sail_paced(again->resail->voyage, &again->boat,
                                       &under, to, &observer);
    return again->obstacle == OBSTACLE_NONE;
}

/* On under one order along a stretch until a moment, or its end. */
static bool sail_until(struct again *again, struct deck order, size_t stretch,
                       double t_s) {
    struct underway *boat = &again->boat;
    struct voyage paced =
        track_pace(again->resail->voyage, vertex_at(again, stretch));
    struct sail_observer observer = observer_of(again);
    struct rhumb line =
        rhumb_between(boat->at, vertex_at(again, stretch + 1)->at);
    double end_m = boat->sailed_m + line.distance_m;
    if (t_s - boat->t_s <= SAME_TIME_S || line.distance_m <= SAME_PLACE_M)
        return true;
    boat->motion_known = false; /* it may be that of another pace */
    enum obstacle why =
        sail_change_deck(&paced, boat, line.course_deg, order, &observer);
    while (why == OBSTACLE_NONE && t_s - boat->t_s > SAME_TIME_S &&
           end_m - boat->sailed_m > SAME_PLACE_M)
        why = sail_step(&paced, boat, line.course_deg, t_s - boat->t_s,
                        end_m - boat->sailed_m, &observer);
    again->obstacle = why;
    return why == OBSTACLE_NONE;
}

/* --- where a change stands among the others --------------------------------
 */

static bool is_mainsail(enum change_kind kind) {
    return kind == CHANGE_MAINSAIL_GYBE || kind == CHANGE_TACK;
}

bool resail_is_order(const struct resail_change *change) {
    return !is_mainsail(change->kind);
}

static struct deck order_before(const struct resail *resail, size_t vertex) {
    return vertex == 0 ? resail->arrived[0].deck
                       : resail->course->vertices[vertex - 1].order;
}

static bool is_ordered_at(const struct resail *resail, size_t vertex) {
    return !deck_same_rig(order_before(resail, vertex),
                          resail->course->vertices[vertex].order);
}

/* The next vertex at which another rig is ordered; the last if none is. */
static size_t next_order(const struct resail *resail, size_t stretch) {
    size_t last = resail->course->count - 1;
    for (size_t i = stretch + 1; i < last; i++)
        if (is_ordered_at(resail, i))
            return i;
    return last;
}

/* The vertex at which the spar is stowed for good; that of the finish where it
 * is not. */
static size_t last_stow(const struct resail *resail) {
    size_t last = resail->course->count - 1;
    for (size_t i = last; i-- > 0;) {
        if (!is_ordered_at(resail, i))
            continue;
        bool stows = resail->course->vertices[i].order.spar == SPAR_STOWED;
        return stows ? i : last;
    }
    return last;
}

bool resail_is_last_stow(const struct resail *resail,
                         const struct resail_change *change) {
    return !change->unplanned && resail_is_order(change) &&
           change->stretch == last_stow(resail);
}

static struct again begin(const struct resail *resail,
                          const struct resail_change *change) {
    return (struct again){.resail = resail,
                          .stow = last_stow(resail),
                          .own = resail_is_last_stow(resail, change)};
}

void resail_bounds(const struct resail *resail,
                   const struct resail_change *change, double *first_s,
                   double *last_s) {
    *first_s = 0.0;
    *last_s = resail->arrived[next_order(resail, change->stretch)].t_s -
              change->seconds;
    for (size_t i = 0; i < resail->change_count; i++) {
        const struct resail_change *other = &resail->changes[i];
        if (other->begun_s >= change->begun_s || is_mainsail(other->kind))
            continue;
        *first_s =
            fmin(fmax(*first_s, other->t_s + other->seconds), change->begun_s);
    }
}

/* --- to the finish ---------------------------------------------------------
 */

/* Hardship, and what forbidden work costs. */
static double work_cost_s(const struct voyage *voyage,
                          const struct underway *boat) {
    return boat->cost_s - boat->t_s - voyage->ease * boat->discomfort_s;
}

static struct resailed failed(struct again *again) {
    again->told.sailed = false;
    again->told.obstacle = again->obstacle;
    again->told.too_late = again->own && again->obstacle == OBSTACLE_LANDFALL;
    return again->told;
}

/* On as it was ordered at a vertex; a last stow that another change has made
 * longer is excused where it goes on past the landfall. */
static bool sail_as_ordered(struct again *again, size_t vertex) {
    struct deck order = vertex_at(again, vertex)->order;
    struct position to = vertex_at(again, vertex + 1)->at;
    if (sail_under(again, vertex, order, to))
        return true;
    if (again->obstacle != OBSTACLE_LANDFALL || again->own ||
        vertex < again->stow)
        return false;
    struct voyage excused =
        track_pace(again->resail->voyage, vertex_at(again, vertex));
    struct sail_observer observer = observer_of(again);
    excused.starts_near_finish = true;
    again->told.hastened = true;
    again->obstacle =
        track_sail_leg(&excused, &again->boat, order, to, &observer);
    return again->obstacle == OBSTACLE_NONE;
}

/* The rest of the course as it was ordered, from where she is on a stretch;
 * from vertex `counted` on with the planned hardship. */
static struct resailed sail_home(struct again *again, size_t stretch,
                                 size_t counted) {
    const struct resail *resail = again->resail;
    const struct voyage *voyage = resail->voyage;
    const struct underway *boat = &again->boat;
    const struct underway *planned = &resail->arrived[counted];
    size_t last = resail->course->count - 1;
    double work_s = 0.0;
    for (size_t i = stretch;; i++) {
        if (i == counted) {
            work_s = work_cost_s(voyage, boat) - work_cost_s(voyage, planned) +
                     work_cost_s(voyage, &resail->end);
            again->told.forbidden_s =
                forbidden_s(voyage, boat) - forbidden_s(voyage, planned);
            again->waiting = false;
        }
        if (i == last)
            break;
        if (!sail_as_ordered(again, i))
            return failed(again);
    }
    again->told.sailed = boat->crept_s <= 0.0;
    again->told.t_s = boat->t_s;
    again->told.cost_s = boat->t_s + voyage_arrival_wait_s(voyage, boat->t_s) +
                         voyage->ease * boat->discomfort_s + work_s;
    return again->told;
}

/* --- moved ------------------------------------------------------------------
 */

/* The last vertex that was reached by then, not after `most`. */
static size_t vertex_before(const struct resail *resail, double t_s,
                            size_t most) {
    size_t index = most;
    while (index > 0 && resail->arrived[index].t_s > t_s)
        index--;
    return index;
}

/* Sails as before until then; the stretch on which that is. */
static bool start_at(struct again *again, const struct resail_change *change,
                     double t_s, size_t *stretch) {
    const struct resail *resail = again->resail;
    *stretch = vertex_before(resail, t_s, change->stretch);
    again->boat = resail->arrived[*stretch];
    for (size_t i = 0; i < resail->change_count; i++)
        again->mainsails += resail->changes[i].stretch < *stretch &&
                            resail->changes[i].kind == CHANGE_MAINSAIL_GYBE;
    return sail_until(again, vertex_at(again, *stretch)->order, *stretch, t_s);
}

static void note_place(struct again *again, size_t stretch) {
    again->told.stretch = stretch;
    again->told.at = again->boat.at;
}

/* From then on under the new order to where it was given. `at`: the stretch. */
static bool sail_sooner(struct again *again, const struct resail_change *change,
                        double t_s, size_t *at) {
    struct deck order = change->to;
    if (!change->unplanned)
        order = vertex_at(again, change->stretch)->order;
    if (!start_at(again, change, t_s, at))
        return false;
    note_place(again, *at);
    again->waiting = true;
    for (size_t i = *at; i < change->stretch; i++)
        if (!sail_under(again, i, order, vertex_at(again, i + 1)->at))
            return false;
    if (!sail_under(again, change->stretch, order, change->begun_at))
        return false;
    again->waiting = false;
    again->boat.rolled_for_now = again->boat.rolled_for_now ||
                                 (change->unplanned && again->boat.deck.rolled);
    *at = change->stretch;
    return again->found;
}

/* Where the boat is when the change was to be done; what she is to keep. */
static bool arrive_at(struct again *again, const struct resail_change *change,
                      struct deck *kept) {
    if (change->unplanned) {
        size_t at;
        *kept = change->from;
        return start_at(again, change, change->begun_s, &at);
    }
    again->boat = again->resail->arrived[change->stretch];
    *kept = order_before(again->resail, change->stretch);
    return true;
}

/* As rigged before until then, no further than to where the next change is
 * ordered, and on to the end of that stretch. */
static bool sail_later(struct again *again, const struct resail_change *change,
                       double t_s, size_t *at) {
    struct deck kept;
    size_t next = next_order(again->resail, change->stretch);
    *at = change->stretch;
    if (!arrive_at(again, change, &kept))
        return false;
    for (;;) {
        struct position end = vertex_at(again, *at + 1)->at;
        if (!sail_until(again, kept, *at, t_s))
            return false;
        if (rhumb_between(again->boat.at, end).distance_m > SAME_PLACE_M)
            break;
        if (++*at >= next)
            return false;
        again->boat.at = end;
        if (t_s - again->boat.t_s <= SAME_TIME_S)
            break;
    }
    note_place(again, *at);
    again->waiting = true;
    return true;
}

struct resailed resail_moved(const struct resail *resail,
                             const struct resail_change *change, double t_s) {
    struct again again = begin(resail, change);
    size_t at;
    again.due_s = t_s;
    bool moved = t_s < change->begun_s ? sail_sooner(&again, change, t_s, &at)
                                       : sail_later(&again, change, t_s, &at);
    if (!moved)
        return failed(&again);
    struct resailed told = sail_home(&again, at, at + 1);
    told.sailed = told.sailed && again.found;
    return told;
}

/* The vertex to order it at, made where there is none; one that is there is
 * found again by a track that was read from a file. */
static size_t vertex_for(struct track *track, const struct resailed *moved) {
    struct vertex *v = track->vertices;
    size_t at = moved->stretch;
    if (rhumb_between(v[at].at, moved->at).distance_m < SAME_VERTEX_M)
        return at;
    if (rhumb_between(v[at + 1].at, moved->at).distance_m < SAME_VERTEX_M)
        return at + 1;
    memmove(&v[at + 2], &v[at + 1], (track->count - at - 1) * sizeof *v);
    track->count++;
    v[at + 1] = (struct vertex){.at = position_rounded(moved->at, DECIMALS),
                                .order = v[at].order,
                                .added = true,
                                .pace_frac = v[at].pace_frac};
    return at + 1;
}

struct track resail_course_moved(const struct resail *resail,
                                 const struct resail_change *change,
                                 const struct resailed *moved,
                                 struct arena *arena) {
    const struct track *course = resail->course;
    struct track track = {.count = course->count};
    struct vertex *v = arena_alloc(arena, course->count + 1, sizeof *v);
    memcpy(v, course->vertices, course->count * sizeof *v);
    track.vertices = v;
    struct deck kept = order_before(resail, change->stretch);
    struct deck order = course->vertices[change->stretch].order;
    size_t at = vertex_for(&track, moved);
    bool sooner = moved->stretch < change->stretch;
    if (sooner)
        for (size_t i = at; i <= change->stretch; i++)
            v[i].order = order;
    else
        for (size_t i = change->stretch; i < at; i++)
            v[i].order = kept;
    v[at].order = order;
    return track;
}

struct resailed resail_brought_over(const struct resail *resail,
                                    const struct resail_change *change,
                                    double t_s) {
    struct again again = begin(resail, change);
    size_t at;
    again.waiting = again.mainsail = true;
    again.due_s = t_s;
    if (!start_at(&again, change, t_s, &at))
        return failed(&again);
    struct sail_observer observer = observer_of(&again);
    struct rhumb line =
        rhumb_between(again.boat.at, vertex_at(&again, at + 1)->at);
    bool over = line.distance_m > SAME_PLACE_M &&
                again.boat.work_left_s <= SAME_TIME_S &&
                sail_bring_over(resail->voyage, &again.boat, line.course_deg,
                                &observer);
    for (; over && at < change->stretch; at++)
        over = sail_as_ordered(&again, at);
    if (!over)
        return failed(&again);
    struct resailed told = sail_home(&again, at, at + 1);
    told.sailed = told.sailed && again.mainsails <= resail->mainsails;
    return told;
}

/* --- left undone ------------------------------------------------------------
 */

/* The next vertex at which the spar is worked on again; until then it stays
 * where the change undone has left it, whatever is rolled and unrolled on it.
 * Of a change that is no work on the spar the next order of any kind. */
static size_t next_spar_work(const struct resail *resail, size_t vertex) {
    size_t last = resail->course->count - 1;
    const struct vertex *v = resail->course->vertices;
    if (order_before(resail, vertex).spar == v[vertex].order.spar)
        return next_order(resail, vertex);
    for (size_t i = vertex + 1; i < last; i++)
        if (v[i].order.spar != v[i - 1].order.spar)
            return i;
    return last;
}

/* From the change to where the spar is worked on next, kept so or as ordered,
 * and home. */
static struct resailed sail_with(const struct resail *resail,
                                 const struct resail_change *change,
                                 bool undone) {
    struct again again = begin(resail, change);
    size_t next = next_spar_work(resail, change->stretch);
    struct deck kept = order_before(resail, change->stretch);
    again.undone = true;
    again.boat = resail->arrived[change->stretch];
    for (size_t i = change->stretch; i < next; i++)
        if (!sail_under(&again, i, undone ? kept : vertex_at(&again, i)->order,
                        vertex_at(&again, i + 1)->at))
            return failed(&again);
    again.undone = false;
    return sail_home(&again, next,
                     next + 1 < resail->course->count ? next + 1 : next);
}

struct resailed resail_undone(const struct resail *resail,
                              const struct resail_change *change) {
    if (!is_ordered_at(resail, change->stretch))
        return (struct resailed){.sailed = false};
    return sail_with(resail, change, true);
}

struct resailed resail_done(const struct resail *resail,
                            const struct resail_change *change) {
    return sail_with(resail, change, false);
}
