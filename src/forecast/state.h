/* Inside of a loaded forecast; for the files of this folder only. */
#ifndef FORECAST_STATE_H
#define FORECAST_STATE_H

#include "forecast/field.h"
#include "forecast/inventory.h"
#include "forecast/layer.h"
#include "forecast/member.h"

struct forecast {
    struct forecast_options options;
    const struct batch *batch;    /* all that was decoded, of every member */
    const struct source *sources; /* their paths alone: they are closed */
    struct roster roster;
    struct choice choice;
    struct blocks blocks;
    struct layers layers; /* what was used */
    struct inventory inventory;
    struct notes notes;
    struct field_summary summary[QUANTITY_COUNT];
    struct instant run;
    size_t points; /* values that were loaded, all fields together */
};

#endif
