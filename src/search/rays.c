#include "search/rays.h"

#include "earth/mercator.h"
#include "search/ray.h"

#include <math.h>

/* Rays that leave a place, their steps in the time that is expected, and how
 * many they are followed for. */
enum { RAYS = 48, STEPS = 64, MOST_STEPS = 4 * STEPS };
static const double APART = 2.0 * PI / RAYS;

/* The fan: the best heading is found between its own. */
static const double FAN_DEG = 5.0;

/* Two rays are drawn together so often, to a quarter of a degree; the way
 * between them that meets the goal is found in so many rounds. Pairs are tried
 * until one leads there, so many at most. */
enum { DRAWS = 5, ROUNDS = 6, TRIES = 8 };

/* A ray that is only thought of holds so near to its neighbour. */
static const double NEAR_PART = 0.25;

/* Straight stretches are halved where that gains such a part of their time; so
 * often in any case, for a bend back and forth has its middle on the line, and
 * so often at most. */
static const double WORTH_FRAC = 1e-4;
enum { SURE_HALVINGS = 6, HALVINGS = 14 };

/* --- one of them ---------------------------------------------------------- */

/* From a place at a moment to a goal. */
struct shot {
    struct ray_water water;
    struct position start, end;
    struct plane_point from, goal;
    double start_s, step_s;
};

/* A ray: where it has passed and how fast, step by step; it ends with the last
 * of them. */
struct path {
    double angle;
    struct ray ray;
    bool ends;
    int steps;
    struct plane_point at[MOST_STEPS + 1], velocity[MOST_STEPS + 1];
};

static void leave(const struct shot *shot, double angle, struct path *path) {
    path->angle = angle;
    path->ray = ray_leaving(shot->from, angle);
    path->ends = false;
    path->steps = 0;
    path->at[0] = shot->from;
}

static void run_to(const struct shot *shot, int steps, struct path *path) {
    while (path->steps < steps && !path->ends) {
        struct ray_change change;
        int i = path->steps;
        double t_s = shot->start_s + i * shot->step_s;
        path->ends =
            !ray_step(&shot->water, &path->ray, t_s, shot->step_s, &change);
        if (path->ends)
            return;
        path->velocity[i] = path->velocity[i + 1] = change.at;
        path->at[++path->steps] = path->ray.at;
    }
}

/* So far on from one path to another. */
static void blend(const struct path *from, const struct path *to, double part,
                  struct path *path) {
    path->steps = from->steps < to->steps ? from->steps : to->steps;
    path->ends = true;
    for (int i = 0; i <= path->steps; i++) {
        path->at[i] = ray_between(from->at[i], to->at[i], part);
        path->velocity[i] =
            ray_between(from->velocity[i], to->velocity[i], part);
    }
}

/* After so many steps: on the cubic that has the places and velocities at both
 * ends of the last. */
static struct plane_point place_after(const struct path *path, double steps,
                                      double step_s) {
    int i = (int)fmin(steps, path->steps - 1.0);
    double u = steps - i, v = 1.0 - u;
    struct plane_point at =
        ray_between(path->at[i], path->at[i + 1], u * u * (3.0 - 2.0 * u));
    at = ray_plus(at, path->velocity[i], step_s * u * v * v);
    return ray_plus(at, path->velocity[i + 1], -step_s * u * u * v);
}

/* --- two of them ---------------------------------------------------------- */

/* Two rays side by side, and a step of theirs: the first is 0. */
struct pair {
    struct path sides[2];
    bool thought; /* the second is only thought of */
    int step;
};

/* That the goal lies between two rays: after which part of the step, and at
 * which part of the way from one to the other. */
struct meeting {
    bool known;
    double when, where;
};

/* The shares of its corners, together 1, that a place in a triangle has; false
 * outside. */
static bool find_shares(struct plane_point at, struct plane_point a,
                        struct plane_point b, struct plane_point c,
                        double shares[3]) {
    double area = plane_side(a, b, c);
    if (fabs(area) <= 0.0)
        return false;
    shares[0] = plane_side(b, c, at) / area;
    shares[1] = plane_side(c, a, at) / area;
    shares[2] = plane_side(a, b, at) / area;
    return shares[0] >= 0.0 && shares[1] >= 0.0 && shares[2] >= 0.0;
}

/* Two rays sweep over the triangles on both sides of a diagonal. */
static struct meeting sweep(const struct path *a, const struct path *b,
                            int step, struct plane_point goal) {
    double shares[3];
    if (step < 0 || a->steps <= step || b->steps <= step)
        return (struct meeting){.known = false};
    const struct plane_point *p = &a->at[step], *q = &b->at[step];
    if (find_shares(goal, p[0], q[0], q[1], shares))
        return (struct meeting){true, shares[2], shares[1] + shares[2]};
    if (find_shares(goal, p[0], q[1], p[1], shares))
        return (struct meeting){true, shares[1] + shares[2], shares[1]};
    return (struct meeting){.known = false};
}

/* A ray and the next one on that side; false where that pair is none, or the
 * next one's own. Beyond the last ray that has not ended the next one is
 * thought of, as far off as the one on its other side. */
static bool take_pair(const struct path paths[RAYS], int index, int side,
                      int step, struct pair *pair) {
    const struct path *ray = &paths[index];
    const struct path *next = &paths[(index + side + RAYS) % RAYS];
    const struct path *other = &paths[(index - side + RAYS) % RAYS];
    pair->thought = next->steps <= step;
    if (ray->steps <= step || (!pair->thought && side < 0))
        return false;
    pair->step = step;
    pair->sides[0] = *ray;
    pair->sides[1] = *next;
    if (pair->thought)
        blend(other, ray, 2.0, &pair->sides[1]);
    pair->sides[1].angle = ray->angle + side * APART;
    return true;
}

static bool meets(const struct pair *pair, struct plane_point goal) {
    struct meeting meeting =
        sweep(&pair->sides[0], &pair->sides[1], pair->step, goal);
    return meeting.known && (!pair->thought || meeting.where < NEAR_PART);
}

/* Does the goal still lie between them when one side is that ray, in that step
 * or the ones before and after? Then it becomes that side. */
static bool takes_side(struct pair *pair, int side, const struct path *ray,
                       struct plane_point goal) {
    const struct path *other = &pair->sides[1 - side];
    for (int step = pair->step - 1; step <= pair->step + 1; step++) {
        if (!sweep(ray, other, step, goal).known)
            continue;
        pair->sides[side] = *ray;
        pair->step = step;
        return true;
    }
    return false;
}

/* Draws them together by rays between them, as long as the goal lies on one
 * side of those. */
static void draw_together(const struct shot *shot, struct pair *pair) {
    struct path between;
    bool drawn = true;
    for (int round = 0; drawn && round < DRAWS; round++) {
        double angle = 0.5 * (pair->sides[0].angle + pair->sides[1].angle);
        leave(shot, angle, &between);
        run_to(shot, pair->step + 2, &between);
        for (int side = 0; side < 2; side++)
            run_to(shot, pair->step + 2, &pair->sides[side]);
        drawn = takes_side(pair, 0, &between, shot->goal) ||
                takes_side(pair, 1, &between, shot->goal);
    }
}

/* The way that meets the goal. */
struct way {
    struct path path;
    double steps;            /* until then */
    struct plane_point miss; /* what it is off the goal by, all the same */
};

static double within(double value, double most) {
    return fmax(-most, fmin(most, value));
}

/* What a step later, and what a pair's width further over, would change. */
static void find_slopes(const struct shot *shot, const struct pair *pair,
                        const struct way *way, struct plane_point *later,
                        struct plane_point *over) {
    const struct path *path = &way->path;
    int i = (int)fmin(way->steps, path->steps - 1.0);
    double part = way->steps - i;
    struct plane_point wide[2];
    for (int end = 0; end < 2; end++)
        wide[end] = ray_plus(pair->sides[1].at[i + end],
                             pair->sides[0].at[i + end], -1.0);
    *over = ray_between(wide[0], wide[1], part);
    *later = ray_between(path->velocity[i], path->velocity[i + 1], part);
    *later = ray_plus(*later, *later, shot->step_s - 1.0);
}

/* Where between two rays it runs, and when it is there: from a first guess, by
 * what that misses the goal by (Newton's method). */
static void find_way(const struct shot *shot, const struct pair *pair,
                     struct way *way) {
    const struct path *a = &pair->sides[0], *b = &pair->sides[1];
    struct meeting guess = sweep(a, b, pair->step, shot->goal);
    double where = guess.where;
    way->steps = pair->step + guess.when;
    for (int round = 0; round <= ROUNDS; round++) {
        struct plane_point later, over;
        blend(a, b, where, &way->path);
        way->miss =
            ray_plus(shot->goal,
                     place_after(&way->path, way->steps, shot->step_s), -1.0);
        find_slopes(shot, pair, way, &later, &over);
        double area = later.x * over.y - later.y * over.x;
        if (fabs(area) <= 0.0 || round == ROUNDS)
            return;
        double steps = way->miss.x * over.y - way->miss.y * over.x;
        double part = later.x * way->miss.y - later.y * way->miss.x;
        way->steps += within(steps / area, 0.5);
        way->steps = fmax(0.0, fmin(way->path.steps, way->steps));
        where += within(part / area, 1.0);
    }
}

/* --- written down --------------------------------------------------------- */

/* A track that is being written, and the boat at its last vertex. */
struct draft {
    const struct voyage *voyage;
    struct arena *arena;
    struct track track;
    size_t capacity;
    struct underway boat;
    const struct shot *shot;
    const struct way *way;
};

/* After a part of the time. What the goal is missed by is shared out. */
static struct position place_on(const struct draft *draft, double part) {
    const struct way *way = draft->way;
    if (part >= 1.0)
        return draft->shot->end;
    struct plane_point at =
        place_after(&way->path, part * way->steps, draft->shot->step_s);
    return ray_position(ray_plus(at, way->miss, part));
}

static void add_vertex(struct draft *draft, struct position at, bool pinned) {
    struct track *track = &draft->track;
    track->vertices = arena_room(draft->arena, track->vertices, track->count,
                                 &draft->capacity, sizeof *track->vertices);
    track->vertices[track->count++] =
        (struct vertex){.at = at, .pinned = pinned};
}

/* When she is there, sailing straight; HUGE_VAL where she would creep, or
 * can't. */
static double sail_straight(const struct draft *draft, struct underway *boat,
                            struct position to) {
    double crept_s = boat->crept_s;
    enum obstacle obstacle = track_sail_leg(
        draft->voyage, boat, (struct deck){.spar = SPAR_STOWED}, to, NULL);
    return obstacle == OBSTACLE_NONE && boat->crept_s <= crept_s ? boat->t_s
                                                                 : HUGE_VAL;
}

/* From one part of the time to another: straight or, as long as that is worth
 * it, in halves. */
static bool write_down(struct draft *draft, double from, double to,
                       int halvings) {
    double half = 0.5 * (from + to);
    struct position middle = place_on(draft, half), end = place_on(draft, to);
    struct underway straight = draft->boat, bent = draft->boat;
    double straight_s = sail_straight(draft, &straight, end);
    double bent_s = sail_straight(draft, &bent, middle);
    bent_s = fmax(bent_s, sail_straight(draft, &bent, end));
    bool sure = halvings > HALVINGS - SURE_HALVINGS;
    bool worth =
        isinf(straight_s) ||
        straight_s - bent_s > WORTH_FRAC * (straight_s - draft->boat.t_s);
    if (halvings > 0 && (sure || worth))
        return write_down(draft, from, half, halvings - 1) &&
               write_down(draft, half, to, halvings - 1);
    draft->boat = straight;
    add_vertex(draft, end, to >= 1.0);
    return !isinf(straight_s);
}

/* At the start of the passage the wind is on the side that suits the way. */
static struct underway start_on(const struct draft *draft) {
    struct vertex ends[2] = {draft->track.vertices[0],
                             {.at = place_on(draft, 1.0 / STEPS)}};
    struct track first = {.vertices = ends, .count = 2};
    return track_start(draft->voyage, &first, &draft->boat);
}

/* The way between two rays; false, and nothing is written, where it can't be
 * sailed. */
static bool write_pair(struct draft *draft, struct pair *pair) {
    struct draft before = *draft;
    struct way way;
    draw_together(draft->shot, pair);
    find_way(draft->shot, pair, &way);
    draft->way = &way;
    if (draft->track.count == 1)
        draft->boat = start_on(draft);
    bool written = write_down(draft, 0.0, 1.0, HALVINGS);
    if (!written)
        *draft = before;
    draft->way = NULL;
    return written;
}

/* --- all of them ---------------------------------------------------------- */

/* Tries the pairs that sweep over the goal in a step. */
static bool write_any(struct draft *draft, const struct path paths[RAYS],
                      int step, int *tries) {
    struct pair pair;
    for (int i = 0; i < 2 * RAYS && *tries < TRIES; i++) {
        int side = i < RAYS ? 1 : -1;
        if (!take_pair(paths, i % RAYS, side, step, &pair) ||
            !meets(&pair, draft->shot->goal))
            continue;
        ++*tries;
        if (write_pair(draft, &pair))
            return true;
    }
    return false;
}

/* Step by step, from the start, until a pair leads to the goal. */
static bool write_first(struct draft *draft, double most_s,
                        struct path paths[RAYS]) {
    const struct shot *shot = draft->shot;
    int most = (int)fmin(MOST_STEPS, ceil(most_s / shot->step_s));
    int tries = 0;
    for (int i = 0; i < RAYS; i++)
        leave(shot, i * APART, &paths[i]);
    for (int step = 0; step < most && tries < TRIES; step++) {
#pragma omp taskgroup
        for (int i = 0; i < RAYS; i++)
#pragma omp task
            run_to(shot, step + 1, &paths[i]);
        if (write_any(draft, paths, step, &tries))
            return true;
    }
    return false;
}

static struct plane_point point_of(struct mercator at) {
    return (struct plane_point){at.x, at.y};
}

/* From one stop to the next. */
static bool add_part(struct draft *draft, struct shot *shot, double most_s) {
    struct arena scratch;
    arena_init(&scratch);
    struct path *paths = arena_alloc(&scratch, RAYS, sizeof *paths);
    struct mercator from = mercator_of(shot->start);
    shot->from = point_of(from);
    shot->goal = point_of(mercator_near(shot->end, from));
    shot->start_s = draft->boat.t_s;
    draft->shot = shot;
    bool written = write_first(draft, most_s - shot->start_s, paths);
    arena_free(&scratch);
    return written;
}

bool rays_are_needed(const struct voyage *voyage) {
    return voyage->max_current_mps > voyage_top_speed(voyage);
}

struct track rays_track(const struct voyage *voyage,
                        const struct search_request *request, double about_s,
                        double most_s, struct arena *arena) {
    struct voyage stowed = *voyage;
    stowed.spar_allowed = false;
    struct fan fan;
    fan_init(&fan, &stowed, FAN_DEG, arena);
    struct draft draft = {.voyage = voyage,
                          .arena = arena,
                          .boat = sail_start(request->from, request->start)};
    struct position from = request->from;
    add_vertex(&draft, from, true);
    for (size_t stop = 0; stop < search_stop_count(request); stop++) {
        struct shot shot = {.water = {&stowed, &fan},
                            .start = from,
                            .end = search_stop_at(request, stop),
                            .step_s = about_s / STEPS};
        if (!add_part(&draft, &shot, most_s))
            return (struct track){.count = 0};
        from = shot.end;
    }
    return draft.track;
}
