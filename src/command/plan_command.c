#include "command/command.h"

#include "command/messages.h"
#include "command/options.h"
#include "command/outputs.h"
#include "command/progress.h"
#include "command/session.h"
#include "plan/eases.h"
#include "report/eases_report.h"
#include "report/plan_read.h"

#include <string.h>

/* NULL: no files are wanted. */
static const char *folder_for(const struct request *request,
                              const struct command_line *line,
                              struct arena *arena) {
    if (request->out || line->flags[FLAG_JSON])
        return request->out;
    return outputs_folder(request->name, arena);
}

/* Which of several eases is written: --choose, else the one in the middle. */
static bool choose(struct eases *eases, const struct request *request,
                   const struct command_line *line, struct error *error) {
    const char *word = line->values[FLAG_CHOOSE];
    size_t chosen = 0;
    eases->chosen = eases_middle(request);
    eases->by_choice = line->flags[FLAG_CHOOSE];
    if (!eases->by_choice)
        return true;
    if (request->ease_count < 2)
        return error_set(error, STATUS_USAGE,
                         "'--choose' is for several eases; give --ease 0,1,3, "
                         "or leave it out");
    if (strlen(word) == 1 && *word >= '1')
        chosen = (size_t)(*word - '0');
    eases->chosen = chosen - 1;
    if (chosen >= 1 && chosen <= request->ease_count)
        return true;
    return error_set(error, STATUS_USAGE,
                     "'%s' for '--choose' is none of the %zu eases; give a "
                     "number from 1 to %zu",
                     word, request->ease_count, request->ease_count);
}

static bool plan_eases(struct eases *eases, struct world *world,
                       const struct request *request, struct arena *arena,
                       struct plan **plan, struct error *error) {
    progress_stage("looking for open water");
    plan_prepare(world, request, arena);
    eases_plan(eases, world, request, progress_of_plan(), arena);
    *plan = eases->rows[eases->chosen].whole;
    if (!*plan)
        *error = eases->rows[eases->chosen].error;
    return *plan != NULL;
}

static bool make_plan(const struct request *request, struct eases *eases,
                      struct arena *arena, struct plan **plan,
                      struct error *error) {
    /* the plan keeps pointing to the boat in it */
    struct world *world = arena_alloc(arena, 1, sizeof *world);
    progress_stage("reading the forecast");
    bool good = world_load(world, request, arena, error) &&
                (request->ease_count > 1
                     ? plan_eases(eases, world, request, arena, plan, error)
                     : plan_passage(world, request, progress_of_plan(), arena,
                                    plan, error));
    progress_end();
    return good;
}

static void tell_search(const struct plan *plan) {
    const struct plan_search *search = &plan->search;
    if (search->front_cost_s <= 0.0)
        return; /* start and finish are one place */
    double refined_frac = 1.0 - search->refined_cost_s / search->front_cost_s;
    double lost_frac = plan->summary.cost_s / search->refined_cost_s - 1.0;
    message_detail("search: %zu labels, %zu runs; moving places and "
                   "change-overs took %.2f %% off the cost, cutting into legs "
                   "put %.2f %% on",
                   search->labels, search->runs, 100.0 * refined_frac,
                   100.0 * lost_frac);
}

/* The plan that is being sailed, if one is given. */
static bool take_previous(struct request *request, struct arena *arena,
                          struct error *error) {
    if (!request->previous_path)
        return true;
    struct previous *previous = arena_alloc(arena, 1, sizeof *previous);
    request->previous = previous;
    return plan_read(previous, request->previous_path, arena, error) &&
           previous_check(previous, request->to, error);
}

bool command_plan(const struct command_line *line, struct arena *arena,
                  struct error *error) {
    if (line->flags[FLAG_TEMPLATE]) {
        request_template(stdout);
        return true;
    }
    const char *path = line->operand_count > 0 ? line->operands[0] : NULL;
    struct request request;
    struct eases eases;
    struct plan *plan;
    if (!session_request(&request, path, line, arena, error) ||
        !choose(&eases, &request, line, error) ||
        !take_previous(&request, arena, error))
        return false;
    const char *folder = folder_for(&request, line, arena);
    message_detail("boat '%s', %zu forecast files", request.boat_path,
                   request.forecast_paths.count);
    if (folder && !outputs_check(folder, line->flags[FLAG_FORCE], error))
        return false;
    if (!make_plan(&request, &eases, arena, &plan, error))
        return false;
    tell_search(plan);
    bool lists = request.ease_count > 1 && !line->flags[FLAG_JSON];
    struct session_words words;
    session_begin(&words);
    bool good = (!lists || eases_write(&eases, words.out.stream, error)) &&
                session_compose(plan, line, &words, arena, error);
    return session_deliver(&words, good ? plan : NULL, folder,
                           line->flags[FLAG_FORCE], error);
}
