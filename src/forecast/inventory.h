/* What the files hold beside what is used, and why it is not used. */
#ifndef FORECAST_INVENTORY_H
#define FORECAST_INVENTORY_H

#include "forecast/decode.h"
#include "forecast/layer.h"

/* A file as it was found. */
struct file_entry {
    const char *path;
    const char *refused; /* why nothing of it is used, or NULL */
    size_t bytes, messages, stray_bytes, damaged;
};

/* Fields of one kind that are not used, of one file: of one parameter at
 * whatever level, for one reason. */
struct unused {
    size_t file; /* index */
    enum fate fate;
    const char *code; /* numbers of the parameter */
    const char *cause;
    bool ours; /* a quantity of ours, in `quantity` */
    enum quantity quantity;
    const char *levels; /* "100 m, 850 hPa": the first few, each once */
    size_t count, first_message; /* from 1 */
};

struct inventory {
    struct file_entry *files; /* all that were asked for, in order */
    size_t file_count;
    struct unused *unused;
    size_t unused_count, unused_capacity;
    const char *trouble; /* the first thing that was refused or lost, or NULL */
};

/* Keeps the first text only. */
void inventory_trouble(struct inventory *inventory, const char *text);

/* Fills the list of what is not used, and tells in notes what the user should
 * know: losses, damage, grids that are not read, wild values, stray bytes.
 * `file_of[source]` is the source's place in inventory->files. */
void inventory_fill(struct inventory *inventory, const struct batch *batch,
                    const struct source *sources, size_t source_count,
                    const size_t *file_of, struct notes *notes);

/* Why there is no wind: the most helpful of all reasons. Always false. */
bool inventory_no_wind(const struct inventory *inventory,
                       const struct layers *layers, struct error *error);

#endif
