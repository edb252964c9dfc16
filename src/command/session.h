/* What plan, along and window do alike: the request before, the plan's delivery
 * after. */
#ifndef COMMAND_SESSION_H
#define COMMAND_SESSION_H

#include "command/options.h"
#include "forecast/forecast.h"
#include "plan/plan.h"
#include "plan/window.h"

/* The passage file, if `path` is not NULL, and the options of the line;
 * resolved. Tells which keys change nothing yet. */
bool session_request(struct request *request, const char *path,
                     const struct command_line *line, struct arena *arena,
                     struct error *error);

/* The same for a window; `*count`: its departures. */
bool session_window(struct request *request, const char *path,
                    const struct command_line *line, size_t *count,
                    struct arena *arena, struct error *error);

/* Prints what the files lack to standard error. */
void session_warn_of_forecast(const struct forecast *forecast);

/* Prints the plan's warnings to standard error. */
void session_warn(const struct plan *plan);

/* Prints the plan's warnings, with --verbose why she rolls, then the schedule
 * (with --json, plan.json). */
bool session_print(const struct plan *plan, const struct command_line *line,
                   struct error *error);

#endif
