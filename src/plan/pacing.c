#include "plan/pacing.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/course.h"
#include "voyage/cost.h"

#include <math.h>
#include <string.h>

/* A place of the course reached so long before slowing is due will do for its
 * beginning. */
static const double NEAR_ENOUGH_S = 1.0 * SECONDS_PER_HOUR;

/* Places of a course closer than this are one. */
static const double SAME_VERTEX_M = 20.0;

/* Decimals of a degree in a route file: a centimetre. */
enum { DECIMALS = 7 };

/* Waiting is outside the circle by so much. */
static const double CLEAR_OF_CIRCLE_M = 0.5 * METRES_PER_NMI;

/* The pace is found to this; time goes with it. */
static const double SAME_FRAC = 1e-7;

/* After first light, so that no rounding makes it dark. */
static const double AFTER_LIGHT_S = 0.5;

/* Of looking for the moment to begin, and for that until which she waits. */
enum { WINDOW_ROUNDS = 5, WAIT_ROUNDS = 8 };

struct pacing {
    const struct voyage *voyage;
    const struct underway *start;
    const struct pacing_options *options;
    struct arena *arena;
    struct track track;
    struct underway *arrived; /* at each vertex, at full speed */
    double light_s;           /* when it is light at the finish */
};

/* Sails on from a vertex; when she is at the finish, HUGE_VAL where she does
 * not get there. */
static double arrive_from(const struct pacing *pacing, size_t first) {
    const struct track *track = &pacing->track;
    struct underway boat = pacing->arrived[first];
    for (size_t i = first; i + 1 < track->count; i++) {
        if (track_sail_stretch(pacing->voyage, track, i, &boat, NULL) !=
            OBSTACLE_NONE)
            return HUGE_VAL;
        pacing->arrived[i + 1] = boat;
    }
    return boat.crept_s > 0.0 ? HUGE_VAL : boat.t_s;
}

/* --- places for it ----------------------------------------------------------
 */

/* The vertex at a place on a stretch: one that is near, or a new one; where
 * there is no room for that the start of the stretch. */
static size_t vertex_at(struct pacing *pacing, size_t stretch,
                        struct position at) {
    struct track *track = &pacing->track;
    struct vertex *v = track->vertices;
    if (rhumb_between(v[stretch + 1].at, at).distance_m < SAME_VERTEX_M &&
        stretch + 2 < track->count)
        return stretch + 1;
    if (rhumb_between(v[stretch].at, at).distance_m < SAME_VERTEX_M ||
        track->count >= pacing->options->most_points)
        return stretch;
    size_t next = stretch + 1;
    memmove(&v[next + 1], &v[next], (track->count - next) * sizeof *v);
    v[next] = v[stretch];
    v[next].at = position_rounded(at, DECIMALS);
    v[next].pinned = false;
    v[next].added = true;
    track->count++;
    arrive_from(pacing, stretch);
    return next;
}

/* Where she is at that moment, at full speed. */
static size_t vertex_when(struct pacing *pacing, double t_s) {
    const struct vertex *v = pacing->track.vertices;
    size_t i = 0;
    while (i + 2 < pacing->track.count && pacing->arrived[i + 1].t_s <= t_s)
        i++;
    struct underway boat = pacing->arrived[i];
    if (t_s - boat.t_s <= NEAR_ENOUGH_S)
        return i;
    struct rhumb line = rhumb_between(v[i].at, v[i + 1].at);
    if (sail_change_deck(pacing->voyage, &boat, line.course_deg, v[i].order,
                         NULL) != OBSTACLE_NONE ||
        sail_for(pacing->voyage, &boat, line.course_deg, t_s - boat.t_s,
                 NULL) != OBSTACLE_NONE)
        return i;
    return vertex_at(pacing, i, boat.at);
}

/* On the way from `from`, which is outside the circle, to `to`, which is not:
 * where the circle is met. */
static struct position place_outside(const struct pacing *pacing,
                                     struct position from, struct position to,
                                     double circle_m) {
    struct rhumb line = rhumb_between(from, to);
    double out_m = 0.0, in_m = line.distance_m;
    while (in_m - out_m > 0.1) {
        double middle_m = 0.5 * (out_m + in_m);
        struct position at = rhumb_ahead(from, line.course_deg, middle_m);
        bool outside =
            rhumb_between(at, pacing->voyage->finish).distance_m > circle_m;
        *(outside ? &out_m : &in_m) = middle_m;
    }
    return rhumb_ahead(from, line.course_deg, out_m);
}

/* Where she waits: as near the finish as may be, and where the spar is in. */
static size_t vertex_to_wait(struct pacing *pacing) {
    const struct track *track = &pacing->track;
    const struct vertex *v = track->vertices;
    struct position finish = pacing->voyage->finish;
    double circle_m = pacing->options->circle_m + CLEAR_OF_CIRCLE_M;
    size_t last = track->count - 1, i = last, in;
    while (i > 0 && rhumb_between(v[i].at, finish).distance_m <= circle_m)
        i--;
    for (in = i; in < last && v[in].order.spar != SPAR_STOWED; in++)
        ;
    if (in > i)
        return in < last ? in : i;
    if (rhumb_between(v[i].at, finish).distance_m <= circle_m)
        return i; /* the start is in the circle */
    return vertex_at(pacing, i,
                     place_outside(pacing, v[i].at, v[i + 1].at, circle_m));
}

/* --- how much ---------------------------------------------------------------
 */

static double arrive_at_pace(struct pacing *pacing, size_t first, double frac) {
    for (size_t i = first; i + 1 < pacing->track.count; i++)
        pacing->track.vertices[i].pace_frac = frac < 1.0 ? frac : 0.0;
    return arrive_from(pacing, first);
}

static bool is_early(const struct pacing *pacing, double arrive_s) {
    return arrive_s < pacing->light_s - AFTER_LIGHT_S;
}

/* The pace from a vertex on that ends at first light, if need be a little
 * after; else the slowest that she can be held to, before it. When she
 * arrives. */
static double slow_down(struct pacing *pacing, size_t first) {
    double slow = PACING_LEAST_FRAC, fast = 1.0;
    double arrive_s = arrive_at_pace(pacing, first, slow);
    if (arrive_s <= pacing->light_s)
        return arrive_s;
    while (fast - slow > SAME_FRAC) {
        double frac = 0.5 * (slow + fast);
        bool late = arrive_at_pace(pacing, first, frac) > pacing->light_s;
        *(late ? &slow : &fast) = frac;
    }
    arrive_s = arrive_at_pace(pacing, first, slow);
    if (arrive_s < pacing->light_s + PACING_SHARP_S)
        return arrive_s;
    return arrive_at_pace(pacing, first, fast);
}

static void wait_for_light(struct pacing *pacing, double arrive_s) {
    size_t at = vertex_to_wait(pacing);
    struct vertex *v = &pacing->track.vertices[at];
    v->wait_until_s = pacing->arrived[at].t_s;
    for (int round = 0; round < WAIT_ROUNDS; round++) {
        v->wait_until_s += pacing->light_s - arrive_s;
        arrive_s = arrive_from(pacing, at);
        if (isinf(arrive_s)) {
            v->wait_until_s = 0.0;
            return;
        }
        if (fabs(pacing->light_s - arrive_s) < 0.5 * AFTER_LIGHT_S)
            return;
    }
}

/* --- work -------------------------------------------------------------------
 */

/* Held back she rolls otherwise, and comes elsewhere at other hours: is work
 * asked for that she may not do? */
static bool forbids(const struct pacing *pacing) {
    const struct underway *end = &pacing->arrived[pacing->track.count - 1];
    double allowed_s =
        end->t_s + pacing->voyage->ease * (end->discomfort_s + end->hardship_s);
    return end->cost_s > allowed_s + 0.5 * COST_FORBIDDEN_WORK_S;
}

/* Other orders, then, for the same places at that pace, and the pace for them;
 * when she arrives. */
static double rig_anew(struct pacing *pacing, size_t first, double arrive_s) {
    struct track track = track_copy(pacing->arena, &pacing->track);
    struct underway *arrived = pacing->arrived;
    if (course_rig(pacing->voyage, &track, pacing->start, pacing->arena) !=
        OBSTACLE_NONE)
        return arrive_s;
    for (size_t i = 0; i < track.count; i++)
        pacing->track.vertices[i].order = track.vertices[i].order;
    arrived[0] = track_start(pacing->voyage, &pacing->track, pacing->start);
    if (isinf(arrive_from(pacing, 0)))
        return HUGE_VAL;
    return slow_down(pacing, first);
}

/* --- the whole --------------------------------------------------------------
 */

/* A copy at full speed, with room for two more places. */
static struct track at_full_speed(const struct track *course,
                                  struct arena *arena) {
    struct track track = {.count = course->count};
    track.vertices =
        arena_alloc(arena, course->count + 2, sizeof *track.vertices);
    memcpy(track.vertices, course->vertices,
           course->count * sizeof *track.vertices);
    for (size_t i = 0; i < track.count; i++)
        track.vertices[i].pace_frac = track.vertices[i].wait_until_s = 0.0;
    return track;
}

/* The course at full speed; when she arrives. */
static double begin_anew(struct pacing *pacing, const struct track *course) {
    pacing->track = at_full_speed(course, pacing->arena);
    pacing->arrived[0] =
        track_start(pacing->voyage, &pacing->track, pacing->start);
    return arrive_from(pacing, 0);
}

/* Slows down from where that begins, sooner where that is not enough; when she
 * arrives. */
static double find_pace(struct pacing *pacing, const struct track *course,
                        double arrive_s) {
    const double sooner = PACING_LEAST_FRAC / (1.0 - PACING_LEAST_FRAC);
    double spare_s = pacing->light_s - arrive_s;
    double window_s = fmax(PACING_WINDOW_S, spare_s * (1.0 + sooner));
    size_t first = 0;
    for (int round = 0; round < WINDOW_ROUNDS; round++) {
        if (round > 0)
            begin_anew(pacing, course);
        first = vertex_when(pacing, pacing->light_s - window_s);
        arrive_s = slow_down(pacing, first);
        if (first == 0 || !is_early(pacing, arrive_s))
            break;
        window_s += PACING_SHARP_S + sooner * (pacing->light_s - arrive_s);
    }
    return forbids(pacing) ? rig_anew(pacing, first, arrive_s) : arrive_s;
}

struct track pacing_course(const struct voyage *voyage,
                           const struct track *course,
                           const struct underway *start,
                           const struct pacing_options *options,
                           struct arena *arena) {
    struct pacing pacing = {
        .voyage = voyage, .start = start, .options = options, .arena = arena};
    pacing.arrived =
        arena_alloc(arena, course->count + 2, sizeof *pacing.arrived);
    double arrive_s = begin_anew(&pacing, course);
    double spare_s =
        isfinite(arrive_s) ? voyage_arrival_wait_s(voyage, arrive_s) : 0.0;
    if (spare_s <= 0.0)
        return pacing.track;
    pacing.light_s = arrive_s + spare_s + AFTER_LIGHT_S;
    arrive_s = find_pace(&pacing, course, arrive_s);
    if (is_early(&pacing, arrive_s))
        wait_for_light(&pacing, arrive_s);
    return pacing.track;
}

/* How long she waits although she is not held to her slowest: a way with a
 * stretch to windward, or against a stream, that she can't be slowed down on.
 */
static double needless_s(const struct voyage *voyage, const struct track *track,
                         const struct underway *start) {
    struct underway boat = track_start(voyage, track, start);
    for (size_t i = 0; i + 1 < track->count; i++) {
        const struct vertex *v = &track->vertices[i];
        double wait_s = track_wait_s(v, &boat);
        if (wait_s > 0.0)
            return v->pace_frac > PACING_LEAST_FRAC || v->pace_frac <= 0.0
                       ? wait_s
                       : 0.0;
        if (track_sail_stretch(voyage, track, i, &boat, NULL) != OBSTACLE_NONE)
            break;
    }
    return 0.0;
}

struct haste_tried pacing_judge(const struct voyage *voyage,
                                const struct track *course,
                                const struct underway *start,
                                const struct pacing_options *options,
                                struct arena *arena) {
    double elapsed_s;
    struct haste_tried tried = {
        .cost_s = track_cost(voyage, course, start, &elapsed_s)};
    if (isinf(tried.cost_s) || voyage_arrival_wait_s(voyage, elapsed_s) <= 0.0)
        return tried;
    struct track paced = pacing_course(voyage, course, start, options, arena);
    tried.in_dark = true;
    tried.cost_s = course_cost_s(voyage, &paced, start) +
                   needless_s(voyage, &paced, start);
    return tried;
}
