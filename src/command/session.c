#include "command/session.h"

#include "command/messages.h"
#include "command/outputs.h"
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

/* As they are printed. */
static const char **warnings_of(const struct plan *plan, struct arena *arena) {
    struct waypoints waypoints = waypoints_of(plan, arena);
    const char **warnings =
        arena_alloc(arena, plan->warning_count, sizeof *warnings);
    for (size_t i = 0; i < plan->warning_count; i++)
        warnings[i] =
            marked_for_message(arena, plan, &waypoints, plan->warnings[i]);
    return warnings;
}

static void warn(const char *const *warnings, size_t count) {
    for (size_t i = 0; i < count; i++)
        message_warning(warnings[i]);
}

void session_warn(const struct plan *plan) {
    struct arena arena;
    arena_init(&arena);
    warn(warnings_of(plan, &arena), plan->warning_count);
    arena_free(&arena);
}

void session_begin(struct session_words *words) {
    *words = (struct session_words){.warning_count = 0};
    rendering_open(&words->out);
}

bool session_compose(const struct plan *plan, const struct command_line *line,
                     struct session_words *words, struct arena *arena,
                     struct error *error) {
    FILE *out = words->out.stream;
    words->warnings = warnings_of(plan, arena);
    words->warning_count = plan->warning_count;
    rendering_open(&words->reasons);
    if (line->flags[FLAG_VERBOSE] && !line->flags[FLAG_QUIET])
        explain_roll(plan, words->reasons.stream);
    rendering_close(&words->reasons);
    bool good = line->flags[FLAG_JSON] ? plan_json_write(plan, out, error)
                                       : schedule_write(plan, out, error);
    return good || error_at(error, "standard output");
}

static void print(const struct session_words *words) {
    warn(words->warnings, words->warning_count);
    fwrite(words->reasons.bytes, 1, words->reasons.size, stderr);
    fwrite(words->out.bytes, 1, words->out.size, stdout);
}

bool session_deliver(struct session_words *words, const struct plan *plan,
                     const char *folder, bool force, struct error *error) {
    rendering_close(&words->out);
    bool good = plan && (!folder || outputs_write(plan, folder, force, error));
    if (good && folder)
        message_detail("written to folder '%s'", folder);
    if (good)
        print(words);
    rendering_free(&words->reasons);
    rendering_free(&words->out);
    return good;
}
