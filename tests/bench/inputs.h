/* The bench's invented passages, made once into a folder. */
#ifndef BENCH_INPUTS_H
#define BENCH_INPUTS_H

#include "../support/ocean_maker.h"

#include <stdbool.h>
#include <stddef.h>

/* Where `make bench` has them made, from the top of the project. */
#define INPUTS_FOLDER "build/bench"

enum { INPUTS_PATH_SIZE = 256 };

/* "FOLDER/NAME.grib2" and "FOLDER/NAME.ini". */
void inputs_forecast_path(const char *folder, const char *name,
                          char path[INPUTS_PATH_SIZE]);
void inputs_passage_path(const char *folder, const char *name,
                         char path[INPUTS_PATH_SIZE]);

/* Growth: nautical miles of the passages far-NMI, one forecast for all of
 * them, and points per degree of the grids grid-POINTS. */
enum { INPUTS_FAR = 6, INPUTS_GRIDS = 4 };
extern const int inputs_far_nmi[INPUTS_FAR];
extern const int inputs_grid_points[INPUTS_GRIDS];

/* The ocean's packings: the names of its files and of the library's packing. */
enum { INPUTS_PACKINGS = 3 };
struct inputs_packing {
    const char *name, *packing;
};
extern const struct inputs_packing inputs_packings[INPUTS_PACKINGS];

#endif
