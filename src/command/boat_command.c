#include "command/command.h"

#include "boat/boat.h"
#include "command/options.h"
#include "report/boat_report.h"

#include <stdio.h>

bool command_boat(const struct command_line *line, struct arena *arena,
                  struct error *error) {
    if (line->flags[FLAG_TEMPLATE]) {
        boat_template(stdout);
        return true;
    }
    struct boat boat;
    if (!boat_load(&boat, line->operands[0], arena, error))
        return false;
    boat_report(&boat, stdout);
    return true;
}
