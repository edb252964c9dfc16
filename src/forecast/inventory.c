#include "forecast/inventory.h"

#include <string.h>

void inventory_trouble(struct inventory *inventory, const char *text) {
    if (!inventory->trouble)
        inventory->trouble = text;
}

/* --- what is not used ------------------------------------------------------*/

static bool is_same_kind(const struct unused *unused, size_t file,
                         const struct grib_field *field) {
    return unused->file == file && unused->fate == field->fate &&
           strcmp(unused->code, field->code) == 0 &&
           strcmp(unused->cause, field->cause) == 0;
}

/* Kinds that lie close together in a file lie close together in the list. */
static struct unused *find_unused(struct inventory *inventory, size_t file,
                                  const struct grib_field *field) {
    for (size_t i = inventory->unused_count; i-- > 0;) {
        if (is_same_kind(&inventory->unused[i], file, field))
            return &inventory->unused[i];
    }
    return NULL;
}

/* The list with one level more, unless it is there or the list is full. */
static const char *add_level(const char *list, struct level level,
                             struct arena *arena) {
    enum { LIST_LENGTH = 60 };
    char text[LEVEL_TEXT_SIZE];
    level_print(level, text);
    size_t length = strlen(text);
    for (const char *at = list; (at = strstr(at, text)); at += length) {
        bool begins = at == list || at[-1] == ' ';
        if (begins && (at[length] == '\0' || at[length] == ','))
            return list;
    }
    if (strlen(list) > LIST_LENGTH)
        return list;
    if (strlen(list) + length > LIST_LENGTH)
        return arena_print(arena, "%s, and other levels", list);
    return arena_print(arena, "%s%s%s", list, *list ? ", " : "", text);
}

static void add_unused(struct inventory *inventory, size_t file,
                       const struct decoded *decoded, struct arena *arena) {
    const struct grib_field *field = &decoded->field;
    struct unused *same = find_unused(inventory, file, field);
    if (same) {
        same->count++;
        same->levels = add_level(same->levels, field->level, arena);
        return;
    }
    inventory->unused =
        arena_room(arena, inventory->unused, inventory->unused_count,
                   &inventory->unused_capacity, sizeof *inventory->unused);
    inventory->unused[inventory->unused_count++] = (struct unused){
        .file = file,
        .fate = field->fate,
        .code = field->code,
        .cause = field->cause,
        .ours = field->fate != FATE_UNKNOWN && field->code[0] != '\0',
        .quantity = field->parameter.quantity,
        .levels = add_level("", field->level, arena),
        .count = 1,
        .first_message = decoded->message + 1};
}

/* --- notes -----------------------------------------------------------------*/

static const char *and_more(size_t count, struct arena *arena) {
    if (count <= 1)
        return "";
    return arena_print(arena, ", and %zu more", count - 1);
}

/* A note about something that is lost. */
static void note_trouble(struct inventory *inventory, struct notes *notes,
                         const char *text) {
    notes_add(notes, text);
    inventory_trouble(inventory, text);
}

static void note_unused(struct inventory *inventory,
                        const struct unused *unused, struct notes *notes) {
    struct arena *arena = notes->arena;
    const char *path = inventory->files[unused->file].path;
    const char *what =
        unused->ours ? quantity_name(unused->quantity) : "a message";
    const char *more = and_more(unused->count, arena);
    if (unused->fate == FATE_GRID && unused->ours)
        note_trouble(inventory, notes,
                     arena_print(arena,
                                 "'%s': %s on %s is not read (message %zu%s); "
                                 "ask for a regular lat-lon file",
                                 path, what, unused->cause,
                                 unused->first_message, more));
    if (unused->fate == FATE_DAMAGED || unused->fate == FATE_TIME)
        note_trouble(
            inventory, notes,
            arena_print(arena, "'%s': %s is not used: %s (message %zu%s)", path,
                        what, unused->cause, unused->first_message, more));
}

static void note_scan(struct inventory *inventory, const struct source *source,
                      struct notes *notes) {
    const struct scan *scan = &source->scan;
    struct arena *arena = notes->arena;
    const struct scan_loss *loss = scan->losses;
    if (scan->stray_bytes > 0)
        notes_add(notes, arena_print(arena,
                                     "'%s': %zu stray bytes beside the "
                                     "messages were skipped",
                                     source->path, scan->stray_bytes));
    if (scan->full)
        note_trouble(inventory, notes,
                     arena_print(arena,
                                 "'%s': only the first %d messages are read; "
                                 "split the file",
                                 source->path, SCAN_MESSAGE_LIMIT));
    if (scan->loss_count == 0)
        return;
    const char *more = and_more(scan->loss_count, arena);
    if (loss->cut_short)
        note_trouble(inventory, notes,
                     arena_print(arena,
                                 "'%s': the message at byte %zu is cut short "
                                 "(%zu of %zu bytes) and lost%s",
                                 source->path, loss->offset, loss->there_bytes,
                                 loss->length, more));
    else
        note_trouble(inventory, notes,
                     arena_print(arena,
                                 "'%s': the message at byte %zu is damaged "
                                 "and lost%s",
                                 source->path, loss->offset, more));
}

static void note_losses(struct inventory *inventory, const struct batch *batch,
                        const struct source *sources, struct notes *notes) {
    for (size_t i = 0; i < batch->loss_count; i++) {
        const struct lost *lost = &batch->losses[i];
        note_trouble(inventory, notes,
                     arena_print(notes->arena, "'%s': message %zu is lost: %s",
                                 sources[lost->source].path, lost->message + 1,
                                 lost->cause));
    }
}

/* Values beyond what nature does, per file and quantity. */
static void note_wild(const struct batch *batch, const struct source *source,
                      size_t index, struct notes *notes) {
    size_t count[QUANTITY_COUNT] = {0}, first[QUANTITY_COUNT] = {0};
    for (size_t i = 0; i < batch->count; i++) {
        const struct decoded *decoded = &batch->fields[i];
        int quantity = (int)decoded->field.parameter.quantity;
        if (decoded->source != index || decoded->field.fate != FATE_USED ||
            decoded->field.wild == 0)
            continue;
        if (count[quantity] == 0)
            first[quantity] = decoded->message + 1;
        count[quantity] += decoded->field.wild;
    }
    for (int i = 0; i < QUANTITY_COUNT; i++) {
        if (count[i] > 0)
            notes_add(notes, arena_print(
                                 notes->arena,
                                 "'%s': %s: %zu impossible value%s taken as "
                                 "missing (first in message %zu)",
                                 source->path, quantity_name((enum quantity)i),
                                 count[i], count[i] == 1 ? "" : "s", first[i]));
    }
}

void inventory_fill(struct inventory *inventory, const struct batch *batch,
                    const struct source *sources, size_t source_count,
                    const size_t *file_of, struct notes *notes) {
    for (size_t i = 0; i < batch->count; i++) {
        const struct decoded *decoded = &batch->fields[i];
        if (decoded->field.fate != FATE_USED &&
            decoded->field.fate != FATE_SPARED)
            add_unused(inventory, file_of[decoded->source], decoded,
                       notes->arena);
    }
    for (size_t i = 0; i < source_count; i++)
        note_scan(inventory, &sources[i], notes);
    note_losses(inventory, batch, sources, notes);
    for (size_t i = 0; i < inventory->unused_count; i++)
        note_unused(inventory, &inventory->unused[i], notes);
    for (size_t i = 0; i < source_count; i++)
        note_wild(batch, &sources[i], i, notes);
}

/* --- no wind --------------------------------------------------------------*/

static const struct unused *find_wind(const struct inventory *inventory,
                                      enum fate fate) {
    for (size_t i = 0; i < inventory->unused_count; i++) {
        const struct unused *unused = &inventory->unused[i];
        if (unused->ours && unused->quantity == QUANTITY_WIND &&
            unused->fate == fate)
            return unused;
    }
    return NULL;
}

bool inventory_no_wind(const struct inventory *inventory,
                       const struct layers *layers, struct error *error) {
    const struct unused *wind;
    if (layers->lone)
        return error_set(error, STATUS_INPUT,
                         "no usable wind: %s; ask for both parts",
                         layers->lone);
    if ((wind = find_wind(inventory, FATE_GRID)))
        return error_set(error, STATUS_INPUT,
                         "no usable wind: '%s', message %zu: %s is not read; "
                         "ask for a regular lat-lon file",
                         inventory->files[wind->file].path, wind->first_message,
                         wind->cause);
    if ((wind = find_wind(inventory, FATE_DAMAGED)))
        return error_set(
            error, STATUS_INPUT, "no usable wind: '%s', message %zu: %s%s",
            inventory->files[wind->file].path, wind->first_message, wind->cause,
            /* a cause may have a remedy of its own */
            strchr(wind->cause, ';') ? "" : "; download it again");
    if ((wind = find_wind(inventory, FATE_LEVEL)))
        return error_set(error, STATUS_INPUT,
                         "no wind at 10 m or at the surface, but at %s "
                         "('%s'); ask for the wind at 10 m",
                         wind->levels, inventory->files[wind->file].path);
    wind = find_wind(inventory, FATE_KIND);
    if (!wind)
        wind = find_wind(inventory, FATE_TIME);
    if (wind)
        return error_set(error, STATUS_INPUT,
                         "no usable wind: '%s', message %zu: %s; ask for a "
                         "forecast of u and v at 10 m",
                         inventory->files[wind->file].path, wind->first_message,
                         wind->cause);
    if (inventory->trouble)
        return error_set(error, STATUS_INPUT,
                         "no wind in the forecast files; %s",
                         inventory->trouble);
    return error_set(error, STATUS_INPUT,
                     "no wind in '%s'%s; ask for u and v at 10 m",
                     inventory->files[0].path,
                     inventory->file_count > 1 ? " and the others" : "");
}
