/* INI files, line by line, through inih. Comments start with # or ; at the
 * start of a line; a value keeps any that stand in it. A line of 200 bytes or
 * more, or one that starts with a blank, is an error with its number: inih
 * would cut the first and join the second to the line before. */
#ifndef BASE_INI_H
#define BASE_INI_H

#include "base/error.h"
#include <stdbool.h>

struct ini_entry {
    const char *section; /* "" before the first section */
    const char *name;
    const char *value;
    int line;
};

/* Calls `entry` for every key in order; it returns false with `error` filled
 * to stop. The texts live during the call only. Errors are given the place
 * "PATH:LINE". */
bool ini_load(const char *path,
              bool (*entry)(void *context, const struct ini_entry *entry,
                            struct error *error),
              void *context, struct error *error);

#endif
