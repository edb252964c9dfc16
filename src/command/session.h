/* What plan, along and window do alike: the request before, the plan's delivery
 * after. */
#ifndef COMMAND_SESSION_H
#define COMMAND_SESSION_H

#include "base/rendering.h"
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

/* What is printed once the files are in place, made before: the plan's
 * warnings, with --verbose why she rolls, and what `out` holds. */
struct session_words {
    const char **warnings;
    size_t warning_count;
    struct rendering reasons, out;
};

/* Opens `out`, for what a command prints before the schedule and after it. */
void session_begin(struct session_words *words);

/* The schedule (with --json, plan.json) into `out`, and the rest; what lives on
 * is in `arena`. */
bool session_compose(const struct plan *plan, const struct command_line *line,
                     struct session_words *words, struct arena *arena,
                     struct error *error);

/* Writes the plan's files into `folder`, if that is not NULL, then prints the
 * warnings and the reasons to standard error, the rest to standard output.
 * `plan`: NULL where composing failed. Frees the words. */
bool session_deliver(struct session_words *words, const struct plan *plan,
                     const char *folder, bool force, struct error *error);

#endif
