#include "plan/spread.h"

#include "plan/alike.h"
#include "plan/passage.h"
#include "plan/retime.h"

#include <math.h>
#include <omp.h>
#include <stdio.h>
#include <string.h>

/* --- one member ----------------------------------------------------------- */

static bool is_same_member(struct member a, struct member b) {
    return a.kind == b.kind && a.type == b.type && a.number == b.number;
}

static struct spread_member told(struct member member) {
    struct spread_member told = {.number = member.number};
    told.kind = member.kind == MEMBER_NONE      ? SPREAD_PLAIN
                : member.kind == MEMBER_CONTROL ? SPREAD_CONTROL
                                                : SPREAD_NUMBERED;
    return told;
}

static void take_gust(struct spread_way *way, const struct plan *plan) {
    for (size_t i = 0; i < plan->leg_count; i++) {
        const struct plan_leg *leg = &plan->legs[i];
        if (!leg->gust_mps.known ||
            (way->gust_mps.known && leg->gust_mps.value <= way->gust_mps.value))
            continue;
        way->gust_mps = leg->gust_mps;
        way->gust_estimated = leg->gust_estimated;
    }
}

static struct spread_way way_of(const struct plan *plan) {
    struct spread_way way = {.arrives = plan->summary.reached,
                             .elapsed_s = plan->summary.elapsed_s,
                             .beyond_s = plan->summary.beyond_forecast_s};
    take_gust(&way, plan);
    return way;
}

static bool is_inside_margin(const struct plan_change *planned,
                             struct instant at) {
    return planned->earliest_known && planned->latest_known &&
           planned->earliest.unix_s <= at.unix_s &&
           at.unix_s <= planned->latest.unix_s;
}

static void see_track(const struct spread *spread, const struct plan *again,
                      struct spread_seen *seen, struct arena *scratch) {
    const struct plan *plan = spread->plan;
    const size_t *alike = alike_changes(plan, again, scratch);
    for (size_t i = 0; i < spread->work_count; i++) {
        const struct plan_change *planned = spread->works[i].change;
        size_t index = alike[planned - plan->changes];
        if (index == ALIKE_NONE)
            continue;
        const struct plan_change *done = &again->changes[index];
        seen[i].done = true;
        seen[i].done_s = instant_minus(done->at, plan->depart);
        seen[i].inside_margin = is_inside_margin(planned, done->at);
        seen[i].inside_limits = !done->outside_limits && !done->barred;
    }
}

static void see_own(const struct spread *spread, const struct plan *own,
                    struct spread_seen *seen, struct arena *scratch) {
    const struct plan *plan = spread->plan;
    const size_t *alike = alike_changes(plan, own, scratch);
    for (size_t i = 0; i < spread->work_count; i++) {
        size_t index = alike[spread->works[i].change - plan->changes];
        seen[i].own = index != ALIKE_NONE;
        if (seen[i].own)
            seen[i].own_s = instant_minus(own->changes[index].at, plan->depart);
    }
}

/* What all members share. */
struct task {
    struct spread *spread;
    const struct world *world;
    const struct request *request;
};

static void sail_track(const struct task *task, const struct world *world,
                       struct spread_row *row, struct arena *scratch) {
    enum obstacle broken, why;
    const struct plan *again = retime_plan(
        task->spread->plan, world, task->request, scratch, &broken, &why);
    row->track = way_of(again);
    row->track.broken = broken;
    if (!again->summary.reached)
        row->track.why = obstacle_name(why);
    see_track(task->spread, again, row->seen, scratch);
}

/* As `plan --member` makes it. The texts of its errors go with the row. */
static void find_own(const struct task *task, const struct world *world,
                     struct spread_row *row, char why[ERROR_TEXT_SIZE],
                     struct arena *scratch) {
    struct plan *own;
    struct error error;
    if (!plan_passage(world, task->request, NULL, scratch, &own, &error)) {
        memcpy(why, error.text, ERROR_TEXT_SIZE);
        return;
    }
    row->own = way_of(own);
    if (!own->summary.reached)
        snprintf(why, ERROR_TEXT_SIZE, "%s", obstacle_name(OBSTACLE_HORIZON));
    see_own(task->spread, own, row->seen, scratch);
}

static void work_out(const struct task *task, size_t index,
                     char why[ERROR_TEXT_SIZE]) {
    const struct spread *spread = task->spread;
    const struct forecast *forecast = task->world->forecast;
    struct spread_row *row = &spread->rows[index];
    struct member member = forecast_member(forecast, index);
    struct world world;
    struct error error;
    struct arena scratch;
    arena_init(&scratch);
    if (is_same_member(member, forecast_used(forecast))) {
        row->own = way_of(spread->plan);
        see_own(spread, spread->plan, row->seen, &scratch);
        sail_track(task, task->world, row, &scratch);
    } else if (world_of_member(&world, task->world, task->request, member,
                               &scratch, &error)) {
        sail_track(task, &world, row, &scratch);
        find_own(task, &world, row, why, &scratch);
    } else {
        memcpy(why, error.text, ERROR_TEXT_SIZE);
        row->track.why = "its weather, which can't be used";
    }
    arena_free(&scratch);
}

/* --- all members ---------------------------------------------------------- */

/* One at a time tells how many are done. */
static void tell_done(const struct plan_progress *progress, size_t *done,
                      size_t count) {
    if (!progress || !progress->report)
        return;
#pragma omp critical(spread_progress)
    progress->report(progress->context, "sailing the members",
                     (double)++*done / (double)count);
}

/* Threads write to places of their own alone; the arena is not theirs. */
static void work_out_all(const struct task *task,
                         const struct plan_progress *progress,
                         struct arena *arena) {
    struct spread *spread = task->spread;
    size_t done = 0;
    char(*why)[ERROR_TEXT_SIZE] =
        arena_alloc(arena, spread->count, sizeof *why);
    /* a search within takes the one thread that its member has */
    omp_set_max_active_levels(1);
#pragma omp parallel for schedule(dynamic, 1)
    for (size_t i = 0; i < spread->count; i++) {
        work_out(task, i, why[i]);
        tell_done(progress, &done, spread->count);
    }
    for (size_t i = 0; i < spread->count; i++)
        if (!spread->rows[i].own.arrives)
            spread->rows[i].own.why = why[i];
}

static void list_works(struct spread *spread, struct arena *arena) {
    const struct plan *plan = spread->plan;
    spread->works =
        arena_alloc(arena, plan->change_count + 1, sizeof *spread->works);
    for (size_t i = 0; i < plan->change_count; i++)
        if (plan->changes[i].deck_work)
            spread->works[spread->work_count++].change = &plan->changes[i];
}

static void list_rows(struct spread *spread, const struct forecast *forecast,
                      struct arena *arena) {
    spread->rows = arena_alloc(arena, spread->count, sizeof *spread->rows);
    for (size_t i = 0; i < spread->count; i++)
        spread->rows[i] = (struct spread_row){
            .member = told(forecast_member(forecast, i)),
            .seen = arena_alloc(arena, spread->work_count + 1,
                                sizeof *spread->rows[i].seen)};
}

/* --- sums ----------------------------------------------------------------- */

static void sum_work(struct spread *spread, size_t index, double *times_s) {
    struct spread_work *work = &spread->works[index];
    size_t count = 0;
    *work = (struct spread_work){.change = work->change};
    work->margin_known =
        work->change->earliest_known && work->change->latest_known;
    for (size_t i = 0; i < spread->count; i++) {
        const struct spread_seen *seen = &spread->rows[i].seen[index];
        if (seen->own)
            times_s[count++] = seen->own_s;
        work->done += seen->done;
        work->inside_margin += seen->inside_margin;
        work->inside_limits += seen->inside_limits;
    }
    work->own = quantiles_of(times_s, count);
}

static const struct spread_way *way_in(const struct spread_row *row, bool own) {
    return own ? &row->own : &row->track;
}

static struct spread_sum sum_way(const struct spread *spread, bool own,
                                 double *times_s) {
    struct spread_sum sum = {.broken = 0};
    size_t count = 0;
    for (size_t i = 0; i < spread->count; i++) {
        const struct spread_row *row = &spread->rows[i];
        const struct spread_way *way = way_in(row, own);
        if (way->arrives)
            times_s[count++] = way->elapsed_s;
        sum.broken += way->broken != OBSTACLE_NONE;
        sum.beyond += way->beyond_s > 0.0;
        if (!way->gust_mps.known ||
            (sum.gust_mps.known && way->gust_mps.value <= sum.gust_mps.value))
            continue;
        sum.gust_mps = way->gust_mps;
        sum.gust_estimated = way->gust_estimated;
        sum.gust_of = row->member;
    }
    sum.arrive = quantiles_of(times_s, count);
    return sum;
}

void spread_sum_up(struct spread *spread, struct arena *arena) {
    double *times_s = arena_alloc(arena, spread->count + 1, sizeof *times_s);
    for (size_t i = 0; i < spread->work_count; i++)
        sum_work(spread, i, times_s);
    spread->track = sum_way(spread, false, times_s);
    spread->own = sum_way(spread, true, times_s);
}

/* --- the whole ------------------------------------------------------------ */

static bool check_members(const struct forecast *forecast,
                          struct error *error) {
    size_t count = forecast_member_count(forecast);
    if (count < SPREAD_LEAST)
        return error_set(error, STATUS_INPUT,
                         "the wind of the forecast files has %s; give the "
                         "files of an ensemble, or plan with 'plan'",
                         count == 0 ? "no members" : "one member alone");
    if (count > SPREAD_MOST)
        return error_set(error, STATUS_INPUT,
                         "the wind of the forecast files has %zu members, and "
                         "%d is the most; leave files out",
                         count, SPREAD_MOST);
    return true;
}

static bool check_reached(const struct plan *plan, struct error *error) {
    return plan->summary.reached ||
           error_set(error, STATUS_OUTSIDE,
                     "the forecast ends before the finish is reached, so there "
                     "is no arrival to tell the spread of; give "
                     "--after-forecast hold, or a longer forecast");
}

/* No member is asked for ports to run to, which take a search each, nor for
 * what an old plan would do. */
static struct request bare(const struct request *request) {
    struct request plain = *request;
    plain.port_count = 0;
    plain.previous = NULL;
    return plain;
}

bool spread_make(struct spread **spread, const struct world *world,
                 const struct request *request,
                 const struct plan_progress *progress, struct arena *arena,
                 struct error *error) {
    struct plan *plan;
    struct request *plain = arena_alloc(arena, 1, sizeof *plain);
    *plain = bare(request);
    if (!check_members(world->forecast, error) ||
        !plan_passage(world, plain, progress, arena, &plan, error) ||
        !check_reached(plan, error))
        return false;
    struct spread *made = arena_alloc(arena, 1, sizeof *made);
    *made = (struct spread){.plan = plan,
                            .used = told(forecast_used(world->forecast)),
                            .count = forecast_member_count(world->forecast)};
    list_works(made, arena);
    list_rows(made, world->forecast, arena);
    struct task task = {made, world, plain};
    work_out_all(&task, progress, arena);
    spread_sum_up(made, arena);
    *spread = made;
    return true;
}

/* --- for a plan that is made by others ------------------------------------ */

const struct world *spread_worlds(const struct world *world,
                                  const struct request *request, size_t *count,
                                  struct arena *arena) {
    size_t members = forecast_member_count(world->forecast);
    *count = 0;
    if (members < SPREAD_LEAST || members > SPREAD_MOST)
        return NULL;
    struct world *worlds = arena_alloc(arena, members, sizeof *worlds);
    for (size_t i = 0; i < members; i++) {
        struct error error;
        if (!world_of_member(&worlds[i], world, request,
                             forecast_member(world->forecast, i), arena,
                             &error))
            return NULL;
    }
    *count = members;
    return worlds;
}

struct quantiles spread_arrivals(const struct plan *plan,
                                 const struct request *request,
                                 const struct world *worlds, size_t count) {
    double times_s[SPREAD_MOST];
    size_t arrived = 0;
    for (size_t i = 0; i < count; i++) {
        struct arena scratch;
        enum obstacle broken, why;
        arena_init(&scratch);
        const struct plan *again =
            retime_plan(plan, &worlds[i], request, &scratch, &broken, &why);
        if (again->summary.reached)
            times_s[arrived++] = again->summary.elapsed_s;
        arena_free(&scratch);
    }
    return quantiles_of(times_s, arrived);
}
