/* Inside of a loaded forecast; for the files of this folder only. */
#ifndef FORECAST_STATE_H
#define FORECAST_STATE_H

#include "forecast/field.h"
#include "forecast/inventory.h"
#include "forecast/layer.h"

struct forecast {
    struct forecast_options options;
    struct blocks blocks;
    struct layers layers; /* what was used */
    struct inventory inventory;
    struct notes notes;
    struct field_summary summary[QUANTITY_COUNT];
    struct instant run;
    size_t points; /* values that were loaded, all fields together */
};

#endif
