/* A table of keys drives everything that a settings file needs: reading with
 * range checks, required keys and doubles, and the commented template that
 * `--template` prints. Boat file and passage file each have one table; the
 * command line is made from the passage table too.
 *
 * Every value lands in a struct at `offset`, in the unit of the file times
 * `scale`:
 *   KEY_NUMBER   double                      KEY_FIGURE   struct figure
 *   KEY_COUNT    int                         KEY_PAIR     double[2], low <=
 * high KEY_TEXT     const char *                KEY_PATH     const char *,
 * taken KEY_CHOICE   int, index in `choices`                  relative to the
 * file KEY_LIST     struct key_list (the key may be repeated; raw texts; paths
 *                are the reader's affair)
 * An unset figure is not known, an unset text or path is NULL, an unset list
 * is empty. A pair has a blank between its numbers.
 */
#ifndef BASE_KEYS_H
#define BASE_KEYS_H

#include "base/arena.h"
#include "base/error.h"
#include "base/ini.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum key_kind {
    KEY_NUMBER,
    KEY_FIGURE,
    KEY_COUNT,
    KEY_PAIR,
    KEY_TEXT,
    KEY_PATH,
    KEY_CHOICE,
    KEY_LIST
};

struct key_list {
    const char **texts;
    size_t count, capacity;
};

struct key {
    const char *section, *name;
    enum key_kind kind;
    size_t offset;
    double low, high;     /* allowed range, inclusive, in the file's unit */
    double scale;         /* file unit to SI; 0 means 1 */
    const char *unit;     /* as printed: "kn", "deg", "" */
    const char *fallback; /* default as text; NULL: required; "": unset,
                             for figures, texts, paths and lists only */
    const char *const *choices; /* KEY_CHOICE: NULL-terminated words */
    const char *help;           /* one line, for the template and --help */
};

struct key_table {
    const struct key *keys;
    size_t count;
};

/* Which keys have been seen: one flag per key of the table, in the caller's
 * memory, zeroed at first. */

/* Sets every key that has a default or is unset (not the required ones). */
void keys_set_defaults(const struct key_table *table, void *target,
                       struct arena *arena);

/* Stores one entry. Errors: unknown key (with the nearest known name), given
 * twice, not a number, out of range (with range and unit), not one of the
 * choices. `path` is the file that paths are relative to, or NULL. */
bool keys_store(const struct key_table *table, void *target, bool *seen,
                const struct ini_entry *entry, const char *path,
                struct arena *arena, struct error *error);

/* Error if a key without default has not been seen. */
bool keys_complete(const struct key_table *table, const bool *seen,
                   const char *path, struct error *error);

/* What a key means and may be, in `arena`: "least distance off the land (0 to
 * 50 nmi, default 2)". */
char *keys_describe(const struct key *key, struct arena *arena);

/* The file with every key, its meaning, unit, range and default; keys with a
 * default are commented out. */
void keys_template(const struct key_table *table, FILE *stream);

#endif
