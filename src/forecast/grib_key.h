/* Numbers out of a message's header, for the files that know the library. */
#ifndef FORECAST_GRIB_KEY_H
#define FORECAST_GRIB_KEY_H

#include <eccodes.h>

/* `other` where it is not there or written as missing. */
static inline long key_or(const codes_handle *handle, const char *key,
                          long other) {
    long value;
    if (codes_get_long(handle, key, &value) != 0 || value == CODES_MISSING_LONG)
        return other;
    return value;
}

/* CODES_MISSING_DOUBLE where it is not there. */
static inline double key_real(const codes_handle *handle, const char *key) {
    double value;
    if (codes_get_double(handle, key, &value) != 0)
        return CODES_MISSING_DOUBLE;
    return value;
}

#endif
