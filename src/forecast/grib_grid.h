/* The grid of a message, through ecCodes: read as it is where it is a regular
 * lat-lon one, else put on one (forecast/resample.h).
 *
 * For a child process, as all that calls the library. Where the points lie is
 * asked for once for all messages of a grid.
 */
#ifndef FORECAST_GRIB_GRID_H
#define FORECAST_GRIB_GRID_H

#include "forecast/grib.h"

struct grib_handle; /* the library's own name of a codes_handle */

/* Fills field->grid, corners and origin. False, with fate and cause, where it
 * is not read. */
bool grib_grid_read(const struct grib_handle *handle, struct placings *placings,
                    struct grib_field *field);

/* Where the points of the message come to lie, for a field whose grid was read
 * from this header. NULL, with fate and cause, where that can't be. It lives
 * until the next call. */
const struct resampling *grib_grid_place(const struct grib_handle *handle,
                                         struct placings *placings,
                                         struct grib_field *field);

#endif
