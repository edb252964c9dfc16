#include "command/command.h"

#include "command/messages.h"
#include "command/options.h"
#include "command/progress.h"
#include "command/session.h"
#include "plan/spread.h"
#include "plan/world.h"
#include "report/spread_report.h"

#include <stdio.h>
#include <string.h>

static void tell_unused(const struct command_line *line) {
    static const char *const unused[] = {"out", "previous", "fallback"};
    for (size_t i = 0; i < line->setting_count; i++)
        for (size_t k = 0; k < sizeof unused / sizeof *unused; k++)
            if (strcmp(line->settings[i].name, unused[k]) == 0)
                message_note("'--%s' is not used: no plan is written",
                             unused[k]);
}

static bool make(struct spread **spread, const struct request *request,
                 struct arena *arena, struct error *error) {
    /* the plan keeps pointing to the boat in it */
    struct world *world = arena_alloc(arena, 1, sizeof *world);
    progress_stage("reading the forecast");
    bool good =
        world_load(world, request, arena, error) &&
        spread_make(spread, world, request, progress_of_plan(), arena, error);
    progress_end();
    return good;
}

bool command_spread(const struct command_line *line, struct arena *arena,
                    struct error *error) {
    if (line->flags[FLAG_TEMPLATE]) {
        request_template(stdout);
        return true;
    }
    const char *path = line->operand_count > 0 ? line->operands[0] : NULL;
    struct request request;
    struct spread *spread;
    if (!session_request(&request, path, line, arena, error))
        return false;
    tell_unused(line);
    if (!make(&spread, &request, arena, error))
        return false;
    session_warn(spread->plan);
    bool good = line->flags[FLAG_JSON]
                    ? spread_json_write(spread, stdout, error)
                    : spread_write(spread, stdout, error);
    return good || error_at(error, "standard output");
}
