#include "command/command.h"

#include "command/options.h"
#include "command/progress.h"
#include "command/session.h"
#include "plan/spread.h"
#include "plan/world.h"
#include "report/spread_report.h"

#include <stdio.h>

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
    if (!session_request(&request, path, line, arena, error) ||
        !make(&spread, &request, arena, error))
        return false;
    session_warn(spread->plan);
    bool good = line->flags[FLAG_JSON]
                    ? spread_json_write(spread, stdout, error)
                    : spread_write(spread, stdout, error);
    return good || error_at(error, "standard output");
}
