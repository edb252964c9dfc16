#include "command/command.h"

#include "command/messages.h"
#include "command/options.h"
#include "command/progress.h"
#include "forecast/forecast.h"

#include <stdio.h>

bool command_forecast(const struct command_line *line, struct arena *arena,
                      struct error *error) {
    struct forecast *forecast;
    struct forecast_options options = forecast_defaults();
    progress_stage("reading the forecast");
    bool good = forecast_load(&forecast, line->operands, line->operand_count,
                              &options, arena, error);
    progress_end();
    if (!good)
        return false;
    for (size_t i = 0; i < forecast_warning_count(forecast); i++)
        message_warning(forecast_warning(forecast, i));
    forecast_describe(forecast, stdout);
    return true;
}
