#include "plan/moving.h"

#include "earth/rhumb.h"
#include "plan/course.h"
#include "plan/engine.h"
#include "plan/margins.h"
#include "plan/orders.h"

#include <math.h>
#include <string.h>

/* Work that is so near to a change of watch is at it. */
static const double AT_WATCH_S = 15.0 * SECONDS_PER_MINUTE;

/* What is written can be timed again as closely as this. */
static const double SAME_TIME_S = 5.0;

/* A change this near to where it was moved to is that one. */
static const double SAME_PLACE_M = 50.0;

/* A course being moved. */
struct mover {
    const struct voyage *voyage;
    const struct underway *start;
    const struct moving *wish;
    struct arena *arena;
    struct track course;
    double most_cost_s;
    struct moved_list list;
    struct position origins[MOVED_MOST]; /* where each of the list was */
    struct position barred[MOVED_MOST];  /* what is there is left alone */
    size_t barred_count;
};

/* A moment to move one change to. */
struct target {
    const struct resail *resail;
    const struct resail_change *change;
    double first_s, last_s, most_cost_s; /* its margin */
    bool by_day;                         /* the dark will not do */
    double t_s;
    bool found;
};

/* Takes the moment where it will do and is nearer than what was found. */
static void try_moment(struct target *target, double t_s) {
    double off_s = fabs(t_s - target->change->begun_s);
    if (t_s <= target->first_s || t_s >= target->last_s ||
        (target->found && off_s >= fabs(target->t_s - target->change->begun_s)))
        return;
    struct resailed sailed = resail_moved(target->resail, target->change, t_s);
    bool dark = sailed.light == LIGHT_NIGHT;
    if (!sailed.sailed || sailed.hastened ||
        sailed.cost_s > target->most_cost_s || sailed.forbidden_s > 1.0 ||
        (dark && target->by_day) ||
        (sailed.outside_limits && !target->change->outside_limits))
        return;
    target->t_s = t_s;
    target->found = true;
}

static void try_watches(struct target *target, const struct moving *wish) {
    double watch_s = wish->watch_s.value;
    double since_s = fmax(0.0, target->first_s) - wish->first_watch_s;
    double t_s = wish->first_watch_s + ceil(since_s / watch_s) * watch_s;
    while (t_s <= target->last_s) {
        try_moment(target, t_s);
        t_s += watch_s;
    }
}

static void try_daylight(struct target *target) {
    double at_s = target->change->begun_s;
    for (int i = 1; !target->found && i * MARGINS_STEP_S < MARGINS_MOST_S; i++)
        for (int way = -1; way <= 1; way += 2)
            try_moment(target, at_s + way * i * MARGINS_STEP_S);
}

static bool is_at_watch(const struct moving *wish, double t_s) {
    double off_s =
        fabs(remainder(t_s - wish->first_watch_s, wish->watch_s.value));
    return off_s <= AT_WATCH_S;
}

static bool is_near(struct position a, struct position b) {
    return rhumb_between(a, b).distance_m < SAME_PLACE_M;
}

/* Was it moved already, or is it to be left alone? */
static bool is_settled(const struct mover *mover,
                       const struct resail_change *change) {
    for (size_t i = 0; i < mover->list.count; i++)
        if (is_near(mover->list.items[i].at, change->begun_at))
            return true;
    for (size_t i = 0; i < mover->barred_count; i++)
        if (is_near(mover->barred[i], change->begun_at))
            return true;
    return false;
}

/* Deck work that was ordered, not at departure. */
static bool may_move(const struct mover *mover,
                     const struct resail_change *change) {
    return !change->unplanned && resail_is_order(change) &&
           change_is_deck_work(mover->voyage->boat, change->kind) &&
           change->begun_s > 0.0 && !is_settled(mover, change);
}

/* Work in the dark that would rather be done by day. */
static bool is_dark(const struct mover *mover,
                    const struct resail_change *change) {
    return change->light == LIGHT_NIGHT && mover->voyage->work_rule != WORK_ANY;
}

/* First a change of watch, by day where it may be dark else; then daylight. */
static bool find_target(const struct mover *mover, struct target *target,
                        enum moved_to *to) {
    const struct moving *wish = mover->wish;
    bool dark = is_dark(mover, target->change);
    bool watches = wish->watch_s.known &&
                   (dark || !is_at_watch(wish, target->change->begun_s));
    if (!dark && !watches)
        return false;
    margins_span(target->resail, target->change, target->most_cost_s,
                 &target->first_s, &target->last_s);
    target->by_day = mover->voyage->work_rule != WORK_ANY;
    *to = MOVED_TO_WATCH;
    if (watches)
        try_watches(target, wish);
    if (!target->found && dark) {
        *to = MOVED_TO_DAY;
        try_daylight(target);
    }
    return target->found;
}

/* What was moved is still where it was moved to, by time and light: another
 * move may bring it there later. */
static bool keeps_moved(const struct mover *mover, const struct track *track) {
    struct underway boat = track_start(mover->voyage, track, mover->start);
    struct resail resail =
        resail_course(mover->voyage, track, &boat, mover->arena);
    for (size_t i = 0; i < resail.change_count; i++)
        for (size_t k = 0; k < mover->list.count; k++) {
            const struct resail_change *change = &resail.changes[i];
            const struct moved_work *work = &mover->list.items[k];
            if (!resail_is_order(change) ||
                !is_near(change->begun_at, work->at))
                continue;
            if (is_dark(mover, change) ||
                (work->to == MOVED_TO_WATCH &&
                 !is_at_watch(mover->wish, change->begun_s)))
                return false;
        }
    return resail.obstacle == OBSTACLE_NONE;
}

/* Takes the course as moved where all of it costs no more than it may. */
static bool take(struct mover *mover, const struct target *target,
                 enum moved_to to) {
    struct resailed moved =
        resail_moved(target->resail, target->change, target->t_s);
    struct track track = resail_course_moved(target->resail, target->change,
                                             &moved, mover->arena);
    double cost_s = course_cost_s(mover->voyage, &track, mover->start);
    if (cost_s > mover->most_cost_s || mover->list.count == MOVED_MOST ||
        (track.count > mover->course.count &&
         track.count > mover->wish->most_points) ||
        !keeps_moved(mover, &track))
        return false;
    mover->course = track;
    mover->list.spent_s = cost_s - (mover->most_cost_s - mover->wish->margin_s);
    mover->origins[mover->list.count] = target->change->begun_at;
    mover->list.items[mover->list.count++] =
        (struct moved_work){.at = moved.at, .to = to};
    return true;
}

/* Moves the first change after `after_s` that can be, in the dark or by day;
 * when that is then. */
static bool move_next(struct mover *mover, bool dark, double *after_s) {
    struct underway boat =
        track_start(mover->voyage, &mover->course, mover->start);
    struct track course = mover->course;
    struct resail resail =
        resail_course(mover->voyage, &course, &boat, mover->arena);
    if (resail.obstacle != OBSTACLE_NONE)
        return false;
    for (size_t i = 0; i < resail.change_count; i++) {
        const struct resail_change *change = &resail.changes[i];
        enum moved_to to;
        struct target target = {.resail = &resail,
                                .change = change,
                                .most_cost_s = mover->most_cost_s};
        if (change->begun_s <= *after_s || is_dark(mover, change) != dark ||
            !may_move(mover, change))
            continue;
        *after_s = change->begun_s;
        if (!find_target(mover, &target, &to) || !take(mover, &target, to))
            continue;
        *after_s = fmax(change->begun_s, target.t_s + AT_WATCH_S);
        return true;
    }
    return false;
}

/* What gains the crew most goes first: work out of the dark, then a change of
 * watch; of the same kind in order of time. Each is kept if the whole, sailed
 * with all that were kept before, costs no more than it may. */
static void move_all(struct mover *mover) {
    double cost_s = course_cost_s(mover->voyage, &mover->course, mover->start);
    mover->list.count = 0;
    mover->most_cost_s = cost_s + mover->wish->margin_s;
    for (int dark = 1; dark >= 0; dark--) {
        double after_s = 0.0;
        while (isfinite(cost_s) && move_next(mover, dark, &after_s))
            ;
    }
}

static bool is_same_course(const struct mover *mover,
                           const struct mover *again) {
    double first_s, second_s;
    track_cost(mover->voyage, &mover->course, mover->start, &first_s);
    track_cost(mover->voyage, &again->course, mover->start, &second_s);
    return again->course.count == mover->course.count &&
           fabs(first_s - second_s) < SAME_TIME_S;
}

/* The same, read from the route file and rigged anew, with all of the fuel to
 * spend again; false where it can't be. */
static bool read_again(const struct mover *mover, struct mover *again) {
    const struct orders_options options = {.own_changes = true};
    struct voyage whole = *mover->voyage;
    *again = *mover;
    again->course = track_copy(mover->arena, &mover->course);
    if (whole.arrival_wait_s || !whole.boat->motor.fitted)
        return course_rig(&whole, &again->course, mover->start, mover->arena) ==
               OBSTACLE_NONE;
    whole.motoring = engine_of(whole.boat);
    return orders_give(&whole, &again->course, mover->start, &options,
                       mover->arena) == OBSTACLE_NONE;
}

static bool comes_to_the_same(const struct mover *mover) {
    struct mover again;
    if (!read_again(mover, &again))
        return false;
    move_all(&again);
    return is_same_course(mover, &again);
}

/* Moves what can be, and gives up the move that gains least, one after the
 * other, until the course comes to the same when it is read again. */
static void move_what_holds(struct mover *mover) {
    struct track course = mover->course;
    mover->barred_count = 0;
    move_all(mover);
    while (mover->list.count > 0 && !comes_to_the_same(mover) &&
           mover->barred_count < MOVED_MOST) {
        mover->barred[mover->barred_count++] =
            mover->origins[mover->list.count - 1];
        mover->course = course;
        move_all(mover);
    }
}

/* So will one who reads it, who does not know what was given up? */
static bool holds(const struct mover *mover) {
    struct mover again;
    if (mover->barred_count == 0)
        return true;
    if (!read_again(mover, &again))
        return false;
    move_what_holds(&again);
    return is_same_course(mover, &again);
}

struct moved_course moving_course(const struct voyage *voyage,
                                  const struct track *course,
                                  const struct underway *start,
                                  const struct moving *wish,
                                  struct arena *arena) {
    struct mover mover = {.voyage = voyage,
                          .start = start,
                          .wish = wish,
                          .arena = arena,
                          .course = *course};
    move_what_holds(&mover);
    if (mover.list.count == 0 || !holds(&mover))
        return (struct moved_course){.track = *course};
    return (struct moved_course){.track = mover.course, .list = mover.list};
}

static bool is_moved(const struct plan_change *change,
                     const struct moved_work *work) {
    return change->deck_work && change->kind != CHANGE_MAINSAIL_GYBE &&
           is_near(change->position, work->at);
}

void moving_tell(const struct moved_list *list, struct plan *plan,
                 struct arena *arena) {
    for (size_t i = 0; i < list->count; i++)
        for (size_t k = 0; k < plan->change_count; k++) {
            struct plan_change *change = &plan->changes[k];
            if (!is_moved(change, &list->items[i]))
                continue;
            change->why = arena_print(
                arena, "%s; moved %s", change->why ? change->why : "planned",
                list->items[i].to == MOVED_TO_WATCH ? "to the change of watch"
                                                    : "into daylight");
        }
}
