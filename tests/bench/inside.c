#include "inside.h"

#include "earth/geodesic.h"
#include "measure.h"
#include "plan/passage.h"
#include "plan/weather.h"
#include "search/search.h"

#include <math.h>
#include <omp.h>
#include <stdio.h>
#include <stdlib.h>

/* One request and what it needs, in an arena of its own. */
struct loaded {
    struct arena arena;
    struct request request;
    struct world world;
};

static void must(bool good, const struct error *error) {
    if (good)
        return;
    fprintf(stderr, "bench: %s\n", error->text);
    exit(1);
}

static void read_request(struct loaded *loaded,
                         const struct inside_task *task) {
    struct error error;
    arena_init(&loaded->arena);
    must(request_load(&loaded->request, task->passage, &loaded->arena, &error),
         &error);
    if (task->coast)
        must(request_option(&loaded->request, "coast", task->coast,
                            &loaded->arena, &error),
             &error);
    must(request_resolve(&loaded->request, false, &loaded->arena, &error),
         &error);
    if (task->threads > 0)
        omp_set_num_threads(task->threads);
}

static void load(struct loaded *loaded, const struct inside_task *task) {
    struct error error;
    read_request(loaded, task);
    must(world_load(&loaded->world, &loaded->request, &loaded->arena, &error),
         &error);
}

/* --- a whole plan --------------------------------------------------------- */

static void plan_once(const struct inside_task *task,
                      struct inside_plan *best) {
    struct loaded loaded;
    struct plan *plan;
    struct error error;
    double start_s = seconds_now();
    load(&loaded, task);
    double loaded_s = seconds_now();
    must(plan_passage(&loaded.world, &loaded.request, NULL, &loaded.arena,
                      &plan, &error),
         &error);
    best->load_s = fmin(best->load_s, loaded_s - start_s);
    best->plan_s = fmin(best->plan_s, seconds_now() - loaded_s);
    best->arena_mb = (double)loaded.arena.used_bytes / 1e6;
    arena_free(&loaded.arena);
}

static void plan_work(const void *task, void *result) {
    struct inside_plan *best = result;
    double start_s = seconds_now();
    *best = (struct inside_plan){.load_s = HUGE_VAL, .plan_s = HUGE_VAL};
    for (int round = 0; measure_again(round, start_s); round++)
        plan_once(task, best);
}

struct inside_plan inside_plan(const struct inside_task *task) {
    struct inside_plan best;
    measure_apart(plan_work, task, &best, sizeof best);
    return best;
}

/* --- a search alone ------------------------------------------------------- */

/* As plan_passage() has it, with no land and no limits. */
static struct voyage voyage_of(const struct loaded *loaded,
                               const struct weather_view *weather) {
    const struct request *request = &loaded->request;
    double distance_m = geodesic_between(request->from, request->to).distance_m;
    return (struct voyage){.boat = &loaded->world.boat,
                           .ease = request->ease,
                           .spar_allowed = true,
                           .finish = request->to,
                           .starts_near_finish =
                               distance_m < loaded->world.boat.spar.landfall_m,
                           .step_s = VOYAGE_STEP_S,
                           .max_current_mps = loaded->world.max_current_mps,
                           .grain = loaded->world.grain,
                           .conditions = weather_conditions,
                           .weather = weather};
}

static void search_once(const struct voyage *voyage,
                        const struct search_request *asked,
                        struct inside_search *best) {
    struct arena arena;
    struct search_result found;
    arena_init(&arena);
    double start_s = seconds_now();
    search_run(voyage, asked, NULL, &arena, &found);
    best->seconds = fmin(best->seconds, seconds_now() - start_s);
    best->cost_s = found.reached ? found.cost_s : HUGE_VAL;
    best->labels = found.labels;
    best->expansions = found.expansions;
    arena_free(&arena);
}

static void search_work(const void *context, void *result) {
    const struct inside_task *task = context;
    struct inside_search *best = result;
    struct loaded loaded;
    load(&loaded, task);
    struct weather_view weather = weather_view(&loaded.world, &loaded.request);
    struct voyage voyage = voyage_of(&loaded, &weather);
    struct search_request asked = {.from = loaded.request.from,
                                   .to = loaded.request.to,
                                   .start = loaded.request.start};
    asked.effort = task->effort;
    double start_s = seconds_now();
    *best = (struct inside_search){.seconds = HUGE_VAL};
    for (int round = 0; measure_again(round, start_s); round++)
        search_once(&voyage, &asked, best);
    arena_free(&loaded.arena);
}

struct inside_search inside_search(const struct inside_task *task) {
    struct inside_search best;
    measure_apart(search_work, task, &best, sizeof best);
    return best;
}
