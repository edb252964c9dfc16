#include "command/command.h"

#include "boat/boat.h"
#include "boat/roll_fit.h"
#include "boat/roll_seen.h"
#include "command/options.h"
#include "report/boat_report.h"
#include "report/roll_seen_report.h"

#include <stdio.h>

/* Lines of --roll-seen, before any file is read. */
static bool read_seen(const struct command_line *line, struct roll_seen *seen,
                      struct arena *arena, struct error *error) {
    for (size_t i = 0; i < line->roll_seen_count; i++)
        if (!roll_seen_read(&seen[i], line->roll_seen[i], arena, error))
            return error_at(error, "--roll-seen, observation %zu", i + 1);
    return true;
}

static bool fit_seen(const struct boat *boat, const struct roll_seen *seen,
                     size_t count, struct arena *arena, struct error *error) {
    struct roll_case *cases = arena_alloc(arena, count, sizeof *cases);
    struct roll_fit_case *each = arena_alloc(arena, count, sizeof *each);
    for (size_t i = 0; i < count; i++) {
        cases[i].sea = seen[i].sea;
        cases[i].seen_rms_deg = roll_seen_rms_deg(&seen[i]);
        if (!roll_seen_course(&seen[i], boat, &cases[i].course, error))
            return error_at(error, "--roll-seen, observation %zu", i + 1);
    }
    struct roll_fit fit;
    roll_fit(&fit, each, &boat->roller, cases, count);
    struct roll_sheet sheet = {.boat = boat,
                               .seen = seen,
                               .cases = cases,
                               .each = each,
                               .count = count,
                               .fit = &fit};
    roll_seen_report(&sheet, stdout);
    return true;
}

bool command_boat(const struct command_line *line, struct arena *arena,
                  struct error *error) {
    if (line->flags[FLAG_TEMPLATE]) {
        boat_template(stdout);
        return true;
    }
    size_t count = line->roll_seen_count;
    struct roll_seen *seen = arena_alloc(arena, count, sizeof *seen);
    struct boat boat;
    if (!read_seen(line, seen, arena, error) ||
        !boat_load(&boat, line->operands[0], arena, error))
        return false;
    if (count > 0)
        return fit_seen(&boat, seen, count, arena, error);
    boat_report(&boat, stdout);
    return true;
}
