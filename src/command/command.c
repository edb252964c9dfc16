#include "command/command.h"

#include "base/text.h"
#include "plan/request.h"

const struct command commands[COMMAND_COUNT] = {
    [COMMAND_PLAN] = {"plan", "[PASSAGE.ini]",
                      "find the route; say what to do with the spar", 0, 1,
                      true, command_plan},
    [COMMAND_ALONG] = {"along", "TRACK.gpx [PASSAGE.ini]",
                       "time a route of your own through the forecast", 1, 2,
                       true, command_along},
    [COMMAND_WINDOW] = {"window", "[PASSAGE.ini]", "compare departure times", 0,
                        1, true, command_window},
    [COMMAND_SPREAD] = {"spread", "[PASSAGE.ini]",
                        "the plan against every ensemble member", 0, 1, true,
                        command_spread},
    [COMMAND_FORECAST] = {"forecast", "FILE...",
                          "what the files hold, what is missing; what to ask "
                          "for",
                          1, REQUEST_FILES, false, command_forecast},
    [COMMAND_BOAT] = {"boat", "BOAT.ini",
                      "check the polars and the spar; where the spar pays", 1,
                      1, false, command_boat},
};

const struct command *command_find(const char *name, struct error *error) {
    const char *names[COMMAND_COUNT];
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        names[i] = commands[i].name;
        if (text_same(commands[i].name, name))
            return &commands[i];
    }
    const char *near = text_nearest(name, names, COMMAND_COUNT);
    if (near)
        error_set(error, STATUS_USAGE,
                  "unknown command '%s'; did you mean '%s'", name, near);
    else
        error_set(error, STATUS_USAGE,
                  "unknown command '%s'; 'sparwise --help' lists them", name);
    return NULL;
}
