#include "command/command.h"

#include "boat/boat.h"
#include "command/messages.h"
#include "command/options.h"
#include "command/progress.h"
#include "command/session.h"
#include "forecast/forecast.h"
#include "plan/request.h"
#include "report/ask_report.h"

#include <stdio.h>

static bool describe(const struct command_line *line, struct arena *arena,
                     struct error *error) {
    struct forecast *forecast;
    struct forecast_options options = forecast_defaults();
    progress_stage("reading the forecast");
    bool good = forecast_load(&forecast, line->operands, line->operand_count,
                              &options, arena, error);
    progress_end();
    if (!good)
        return false;
    session_warn_of_forecast(forecast);
    forecast_describe(forecast, stdout);
    return true;
}

/* What to ask for. Neither a forecast nor a coast is read. */
static bool ask(const struct command_line *line, struct arena *arena,
                struct error *error) {
    struct request request;
    struct boat boat;
    if (!request_load(&request, line->values[FLAG_FOR], arena, error))
        return false;
    for (size_t i = 0; i < line->setting_count; i++)
        if (!request_option(&request, line->settings[i].name,
                            line->settings[i].value, arena, error))
            return false;
    return request_resolve_ask(&request, arena, error) &&
           boat_load(&boat, request.boat_path, arena, error) &&
           ask_report_write(&boat, &request, stdout, error);
}

bool command_forecast(const struct command_line *line, struct arena *arena,
                      struct error *error) {
    if (!line->flags[FLAG_FOR] && line->setting_count > 0)
        return error_set(error, STATUS_USAGE,
                         "'--%s' goes with a passage; give one with --for",
                         line->settings[0].name);
    if (line->flags[FLAG_FOR] && line->operand_count > 0)
        return error_set(error, STATUS_USAGE,
                         "'%s' and --for are two questions; ask them one by "
                         "one",
                         line->operands[0]);
    return line->flags[FLAG_FOR] ? ask(line, arena, error)
                                 : describe(line, arena, error);
}
