/* The commands of the program: one row each, one file each. A command gets its
 * line already taken apart, does its job, and tells what went wrong by `error`,
 * whose status becomes that of the program. */
#ifndef COMMAND_COMMAND_H
#define COMMAND_COMMAND_H

#include "base/arena.h"
#include "base/error.h"
#include <stdbool.h>
#include <stddef.h>

struct command_line; /* command/options.h */

enum command_id {
    COMMAND_PLAN,
    COMMAND_ALONG,
    COMMAND_WINDOW,
    COMMAND_SPREAD,
    COMMAND_FORECAST,
    COMMAND_BOAT,
    COMMAND_COUNT
};

struct command {
    const char *name;
    const char *operands; /* "TRACK.gpx [PASSAGE.ini]" */
    const char *summary;
    size_t least, most; /* operands */
    bool plans;         /* takes the options of the passage file */
    bool (*run)(const struct command_line *line, struct arena *arena,
                struct error *error);
};

extern const struct command commands[COMMAND_COUNT];

/* The command of that name, or NULL with `error` filled (STATUS_USAGE). */
const struct command *command_find(const char *name, struct error *error);

bool command_plan(const struct command_line *line, struct arena *arena,
                  struct error *error);
bool command_along(const struct command_line *line, struct arena *arena,
                   struct error *error);
bool command_window(const struct command_line *line, struct arena *arena,
                    struct error *error);
bool command_spread(const struct command_line *line, struct arena *arena,
                    struct error *error);
bool command_forecast(const struct command_line *line, struct arena *arena,
                      struct error *error);
bool command_boat(const struct command_line *line, struct arena *arena,
                  struct error *error);

#endif
