/* Numbers out of a message's header, for the files that know the library. */
#ifndef FORECAST_GRIB_KEY_H
#define FORECAST_GRIB_KEY_H

#include <eccodes.h>

/* After a refusal of the library: ends the process with GRIB_NO_MEMORY where it
 * had no memory. It says that of the memory which it asks grib.c for; of what
 * the C library needs to open and to read its definitions it does not: then
 * keys are not there, and a wind is none. */
void grib_memory_check(int code);

/* `other` where it is not there or written as missing. */
static inline long key_or(const codes_handle *handle, const char *key,
                          long other) {
    long value;
    int code = codes_get_long(handle, key, &value);
    if (code == 0)
        return value == CODES_MISSING_LONG ? other : value;
    grib_memory_check(code);
    return other;
}

/* CODES_MISSING_DOUBLE where it is not there. */
static inline double key_real(const codes_handle *handle, const char *key) {
    double value;
    int code = codes_get_double(handle, key, &value);
    if (code == 0)
        return value;
    grib_memory_check(code);
    return CODES_MISSING_DOUBLE;
}

#endif
