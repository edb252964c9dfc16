#include "inputs.h"

#include <stdio.h>

const int inputs_far_nmi[INPUTS_FAR] = {250, 500, 1000, 2000, 4000, 8000};
const int inputs_grid_points[INPUTS_GRIDS] = {1, 2, 4, 8};

const struct inputs_packing inputs_packings[INPUTS_PACKINGS] = {
    {"ocean", "grid_simple"},
    {"ocean-ccsds", "grid_ccsds"},
    {"ocean-jpeg", "grid_jpeg"}};

void inputs_forecast_path(const char *folder, const char *name,
                          char path[INPUTS_PATH_SIZE]) {
    snprintf(path, INPUTS_PATH_SIZE, "%s/%s.grib2", folder, name);
}

void inputs_passage_path(const char *folder, const char *name,
                         char path[INPUTS_PATH_SIZE]) {
    snprintf(path, INPUTS_PATH_SIZE, "%s/%s.ini", folder, name);
}
