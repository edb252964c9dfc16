#include "command/session.h"

#include "command/messages.h"
#include "report/explain.h"
#include "report/marked.h"
#include "report/plan_json.h"
#include "report/schedule.h"

#include <omp.h>

static bool check_eases(const struct request *request,
                        const struct command_line *line, struct error *error) {
    if (request->ease_count <= 1 || line->command == &commands[COMMAND_PLAN])
        return true;
    return error_set(error, STATUS_USAGE,
                     "several eases, '%s', are for 'plan' alone; give --ease "
                     "with one number",
                     request->ease_text);
}

/* Passage file and options, as they are written. */
static bool read(struct request *request, const char *path,
                 const struct command_line *line, struct arena *arena,
                 struct error *error) {
    if (!request_load(request, path, arena, error))
        return false;
    for (size_t i = 0; i < line->setting_count; i++)
        if (!request_option(request, line->settings[i].name,
                            line->settings[i].value, arena, error))
            return false;
    return check_eases(request, line, error);
}

static bool resolve(struct request *request, bool track_given,
                    struct arena *arena, struct error *error) {
    if (!request_resolve(request, track_given, arena, error))
        return false;
    if (request->threads > 0)
        omp_set_num_threads(request->threads);
    return true;
}

bool session_request(struct request *request, const char *path,
                     const struct command_line *line, struct arena *arena,
                     struct error *error) {
    bool track_given = line->command == &commands[COMMAND_ALONG];
    return read(request, path, line, arena, error) &&
           resolve(request, track_given, arena, error);
}

bool session_window(struct request *request, const char *path,
                    const struct command_line *line, size_t *count,
                    struct arena *arena, struct error *error) {
    return read(request, path, line, arena, error) &&
           window_count(request, count, arena, error) &&
           resolve(request, false, arena, error);
}

void session_warn_of_forecast(const struct forecast *forecast) {
    for (size_t i = 0; i < forecast_warning_count(forecast); i++)
        message_warning(forecast_warning(forecast, i));
}

void session_warn(const struct plan *plan) {
    struct arena arena;
    arena_init(&arena);
    struct waypoints waypoints = waypoints_of(plan, &arena);
    for (size_t i = 0; i < plan->warning_count; i++)
        message_warning(
            marked_for_message(&arena, plan, &waypoints, plan->warnings[i]));
    arena_free(&arena);
}

bool session_print(const struct plan *plan, const struct command_line *line,
                   struct error *error) {
    session_warn(plan);
    if (line->flags[FLAG_VERBOSE] && !line->flags[FLAG_QUIET])
        explain_roll(plan, stderr);
    bool good = line->flags[FLAG_JSON] ? plan_json_write(plan, stdout, error)
                                       : schedule_write(plan, stdout, error);
    return good || error_at(error, "standard output");
}
