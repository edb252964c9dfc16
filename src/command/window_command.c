#include "command/command.h"

#include "command/messages.h"
#include "command/options.h"
#include "command/progress.h"
#include "command/session.h"
#include "plan/window.h"
#include "report/window_report.h"

/* How the window is told: the first that is asked for, else the table. */
static const struct {
    enum flag flag;
    bool (*write)(const struct window *window, FILE *stream,
                  struct error *error);
} forms[] = {{FLAG_CSV, window_csv_write},
             {FLAG_JSON, window_json_write},
             {FLAG_JSONL, window_lines_write}};

enum { FORMS = sizeof forms / sizeof *forms };

static bool check_forms(const struct command_line *line, struct error *error) {
    int asked = 0;
    for (int i = 0; i < FORMS; i++)
        asked += line->flags[forms[i].flag];
    return asked <= 1 || error_set(error, STATUS_USAGE,
                                   "--csv, --json and --jsonl each print the "
                                   "whole window; give one of them");
}

static void tell_zones(const struct request *request) {
    if (!request->depart_zone_given || !request->latest_zone_given)
        message_warning("a departure without a time zone is taken as UTC");
}

static bool load(struct world **world, const struct request *request,
                 struct arena *arena, struct error *error) {
    *world = arena_alloc(arena, 1, sizeof **world);
    progress_stage("reading the forecast");
    if (!world_load(*world, request, arena, error))
        return false;
    progress_stage("looking for open water");
    plan_prepare(*world, request, arena);
    return true;
}

/* Where none can be planned the error tells why; other programs still get all
 * rows. */
static bool print(const struct window *window, const struct command_line *line,
                  struct error *error) {
    for (int i = 0; i < FORMS; i++)
        if (line->flags[forms[i].flag])
            return forms[i].write(window, stdout, error) &&
                   window_check(window, error);
    return window_check(window, error) && window_write(window, stdout, error);
}

bool command_window(const struct command_line *line, struct arena *arena,
                    struct error *error) {
    if (line->flags[FLAG_TEMPLATE]) {
        request_template(stdout);
        return true;
    }
    const char *path = line->operand_count > 0 ? line->operands[0] : NULL;
    struct request request;
    struct world *world;
    size_t count;
    if (!check_forms(line, error) ||
        !session_window(&request, path, line, &count, arena, error))
        return false;
    tell_zones(&request);
    bool good = load(&world, &request, arena, error);
    const struct window *window =
        good ? window_plan(world, &request, count, progress_of_plan(), arena)
             : NULL;
    progress_end();
    if (good)
        session_warn_of_forecast(world->forecast);
    return good && print(window, line, error);
}
