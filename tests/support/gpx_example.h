/* A route and a track with all that other readers stumble over: names to be
 * escaped, tiny numbers, both sides of the date line, every text filled. */
#ifndef TESTS_GPX_EXAMPLE_H
#define TESTS_GPX_EXAMPLE_H

#include "exchange/gpx.h"

struct gpx gpx_example(void);

/* Written into check_folder() under `name`; its path. */
const char *gpx_example_write(const struct gpx *gpx, const char *name);

#endif
