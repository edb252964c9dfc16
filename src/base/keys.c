#include "base/keys.h"

#include "base/figure.h"
#include "base/text.h"

#include <assert.h>
#include <string.h>

enum { DETAIL_SIZE = 256, LINE_WIDTH = 80 };

static void *place_of(const struct key *key, void *target) {
    return (char *)target + key->offset;
}

static double scale_of(const struct key *key) {
    return key->scale > 0.0 ? key->scale : 1.0;
}

static bool has_range(const struct key *key) {
    return key->kind == KEY_NUMBER || key->kind == KEY_FIGURE ||
           key->kind == KEY_COUNT || key->kind == KEY_PAIR;
}

/* Adds to a text of DETAIL_SIZE bytes what still fits. */
static void append(char *text, const char *more) {
    size_t length = strlen(text);
    snprintf(text + length, DETAIL_SIZE - length, "%s", more);
}

/* What is allowed: "5 to 60 kn", "one of any, daylight-only". Empty for texts.
 */
static void print_allowed(const struct key *key, char text[DETAIL_SIZE]) {
    text[0] = '\0';
    if (has_range(key)) {
        const char *unit = key->unit ? key->unit : "";
        snprintf(text, DETAIL_SIZE, "%s%g to %g%s%s",
                 key->kind == KEY_PAIR ? "two of " : "", key->low, key->high,
                 *unit ? " " : "", unit);
    }
    if (key->kind != KEY_CHOICE)
        return;
    append(text, "one of ");
    for (size_t i = 0; key->choices[i]; i++) {
        append(text, i > 0 ? ", " : "");
        append(text, key->choices[i]);
    }
}

/* "'300' for 'max_wind_kn' in [work] is out of range; give 5 to 60 kn". */
static bool refuse(const struct key *key, const char *value, const char *cause,
                   struct error *error) {
    char allowed[DETAIL_SIZE];
    print_allowed(key, allowed);
    return error_set(error, STATUS_INPUT, "'%s' for '%s' in [%s] %s; give %s",
                     value, key->name, key->section, cause, allowed);
}

/* What the key is follows, for a figure of another kind may stand there. */
static bool refuse_range(const struct key *key, const char *value,
                         struct error *error) {
    char allowed[DETAIL_SIZE];
    print_allowed(key, allowed);
    return error_set(error, STATUS_INPUT,
                     "'%s' for '%s' in [%s] is out of range; give %s: %s",
                     value, key->name, key->section, allowed, key->help);
}

static bool read_number(const struct key *key, const char *text,
                        const char *value, double *number,
                        struct error *error) {
    if (!text_to_double(text, number))
        return refuse(key, value, "is not a number", error);
    if (*number < key->low || *number > key->high)
        return refuse_range(key, value, error);
    return true;
}

static bool store_number(const struct key *key, void *target, const char *value,
                         struct error *error) {
    double number;
    if (!read_number(key, value, value, &number, error))
        return false;
    *(double *)place_of(key, target) = number * scale_of(key);
    return true;
}

static bool store_figure(const struct key *key, void *target, const char *value,
                         struct error *error) {
    struct figure *figure = place_of(key, target);
    *figure = figure_unknown();
    if (!*value)
        return true;
    double number;
    if (!read_number(key, value, value, &number, error))
        return false;
    *figure = figure_of(number * scale_of(key));
    return true;
}

static bool store_count(const struct key *key, void *target, const char *value,
                        struct error *error) {
    int count;
    if (!text_to_int(value, &count))
        return refuse(key, value, "is not a whole number", error);
    if (count < key->low || count > key->high)
        return refuse_range(key, value, error);
    *(int *)place_of(key, target) = count;
    return true;
}

/* Two numbers with blanks between: a comma might be a decimal one. */
static bool store_pair(const struct key *key, void *target, const char *value,
                       struct error *error) {
    char texts[2][DETAIL_SIZE];
    char rest;
    double pair[2];
    if (strlen(value) >= DETAIL_SIZE ||
        sscanf(value, "%s %s %c", texts[0], texts[1], &rest) != 2)
        return refuse(key, value, "is not two numbers with a blank between",
                      error);
    for (int i = 0; i < 2; i++)
        if (!read_number(key, texts[i], value, &pair[i], error))
            return false;
    if (pair[0] > pair[1])
        return refuse(key, value, "has the greater number first", error);
    double *place = place_of(key, target);
    place[0] = pair[0] * scale_of(key);
    place[1] = pair[1] * scale_of(key);
    return true;
}

static bool store_choice(const struct key *key, void *target, const char *value,
                         struct error *error) {
    for (int i = 0; key->choices[i]; i++)
        if (text_same(key->choices[i], value)) {
            *(int *)place_of(key, target) = i;
            return true;
        }
    return refuse(key, value, "is not known", error);
}

static void store_in_list(const struct key *key, void *target,
                          const char *value, struct arena *arena) {
    struct key_list *list = place_of(key, target);
    list->texts = arena_room(arena, list->texts, list->count, &list->capacity,
                             sizeof *list->texts);
    list->texts[list->count++] = arena_copy(arena, value);
}

static bool store_value(const struct key *key, void *target, const char *value,
                        const char *path, struct arena *arena,
                        struct error *error) {
    switch (key->kind) {
    case KEY_NUMBER:
        return store_number(key, target, value, error);
    case KEY_FIGURE:
        return store_figure(key, target, value, error);
    case KEY_COUNT:
        return store_count(key, target, value, error);
    case KEY_PAIR:
        return store_pair(key, target, value, error);
    case KEY_CHOICE:
        return store_choice(key, target, value, error);
    case KEY_TEXT:
        *(const char **)place_of(key, target) = arena_copy(arena, value);
        break;
    case KEY_PATH:
        *(const char **)place_of(key, target) = text_beside(arena, path, value);
        break;
    case KEY_LIST:
        store_in_list(key, target, value, arena);
        break;
    }
    return true;
}

/* A key whose default is "" and that is not given. */
static void store_unset(const struct key *key, void *target) {
    switch (key->kind) {
    case KEY_FIGURE:
        *(struct figure *)place_of(key, target) = figure_unknown();
        break;
    case KEY_TEXT:
    case KEY_PATH:
        *(const char **)place_of(key, target) = NULL;
        break;
    case KEY_LIST:
        *(struct key_list *)place_of(key, target) =
            (struct key_list){.count = 0};
        break;
    case KEY_NUMBER:
    case KEY_COUNT:
    case KEY_PAIR:
    case KEY_CHOICE:
        assert(false && "only figures, texts, paths and lists can be unset");
    }
}

void keys_set_defaults(const struct key_table *table, void *target,
                       struct arena *arena) {
    for (size_t i = 0; i < table->count; i++) {
        const struct key *key = &table->keys[i];
        struct error error;
        if (!key->fallback)
            continue;
        if (!*key->fallback) {
            store_unset(key, target);
            continue;
        }
        bool good =
            store_value(key, target, key->fallback, NULL, arena, &error);
        assert(good && "a default is outside its own range");
        (void)good;
    }
}

static const struct key *find(const struct key_table *table,
                              const char *section, const char *name) {
    for (size_t i = 0; i < table->count; i++) {
        const struct key *key = &table->keys[i];
        if ((!section || text_same(key->section, section)) &&
            text_same(key->name, name))
            return key;
    }
    return NULL;
}

static bool unknown_section(const struct key_table *table,
                            const struct ini_entry *entry, struct arena *arena,
                            struct error *error) {
    const char **sections = arena_alloc(arena, table->count, sizeof *sections);
    for (size_t i = 0; i < table->count; i++)
        sections[i] = table->keys[i].section;
    const struct key *key = find(table, NULL, entry->name);
    if (!*entry->section)
        return error_set(error, STATUS_INPUT,
                         "key '%s' stands before any section; put it under "
                         "[%s]",
                         entry->name, key ? key->section : sections[0]);
    const char *near = text_nearest(entry->section, sections, table->count);
    if (near)
        return error_set(error, STATUS_INPUT,
                         "unknown section [%s]; did you mean [%s]",
                         entry->section, near);
    return error_set(error, STATUS_INPUT,
                     "unknown section [%s]; --template lists the sections",
                     entry->section);
}

static bool unknown_key(const struct key_table *table,
                        const struct ini_entry *entry, struct arena *arena,
                        struct error *error) {
    const char **names = arena_alloc(arena, table->count, sizeof *names);
    size_t count = 0;
    for (size_t i = 0; i < table->count; i++)
        if (text_same(table->keys[i].section, entry->section))
            names[count++] = table->keys[i].name;
    if (count == 0)
        return unknown_section(table, entry, arena, error);
    error_set(error, STATUS_INPUT, "unknown key '%s' in [%s]; ", entry->name,
              entry->section);
    size_t length = strlen(error->text);
    char *rest = error->text + length;
    size_t size = sizeof error->text - length;
    const struct key *elsewhere = find(table, NULL, entry->name);
    const char *near = text_nearest(entry->name, names, count);
    if (elsewhere)
        snprintf(rest, size, "it belongs under [%s]", elsewhere->section);
    else if (near)
        snprintf(rest, size, "did you mean '%s'", near);
    else
        snprintf(rest, size, "--template lists the keys");
    return false;
}

bool keys_store(const struct key_table *table, void *target, bool *seen,
                const struct ini_entry *entry, const char *path,
                struct arena *arena, struct error *error) {
    const struct key *key = find(table, entry->section, entry->name);
    if (!key)
        return unknown_key(table, entry, arena, error);
    size_t index = (size_t)(key - table->keys);
    if (seen[index] && key->kind != KEY_LIST)
        return error_set(error, STATUS_INPUT,
                         "key '%s' in [%s] is given twice; keep one of them",
                         key->name, key->section);
    bool optional = key->fallback && !*key->fallback;
    seen[index] = true;
    if (*entry->value)
        return store_value(key, target, entry->value, path, arena, error);
    if (!optional)
        return error_set(error, STATUS_INPUT,
                         "key '%s' in [%s] has no value; write one after '='",
                         key->name, key->section);
    if (key->kind != KEY_LIST)
        store_unset(key, target);
    return true;
}

bool keys_complete(const struct key_table *table, const bool *seen,
                   const char *path, struct error *error) {
    for (size_t i = 0; i < table->count; i++) {
        const struct key *key = &table->keys[i];
        if (seen[i] || key->fallback)
            continue;
        char allowed[DETAIL_SIZE];
        print_allowed(key, allowed);
        error_set(error, STATUS_INPUT,
                  "key '%s' is missing from [%s]; add it: %s%s%s%s", key->name,
                  key->section, key->help, *allowed ? " (" : "", allowed,
                  *allowed ? ")" : "");
        return path ? error_at(error, "%s", path) : false;
    }
    return true;
}

/* Prints words as comment lines of at most LINE_WIDTH columns. */
static void print_comment(FILE *stream, const char *text) {
    int column = fprintf(stream, "#");
    while (*text) {
        int length = (int)strcspn(text, " ");
        if (column + 1 + length > LINE_WIDTH) {
            fputc('\n', stream);
            column = fprintf(stream, "#");
        }
        column += fprintf(stream, " %.*s", length, text);
        text += length;
        text += strspn(text, " ");
    }
    fputc('\n', stream);
}

char *keys_describe(const struct key *key, struct arena *arena) {
    char allowed[DETAIL_SIZE];
    print_allowed(key, allowed);
    const char *standing = !key->fallback   ? "required"
                           : *key->fallback ? "default "
                                            : "optional";
    const char *fallback = key->fallback ? key->fallback : "";
    return arena_print(arena, "%s (%s%s%s%s%s)", key->help, allowed,
                       *allowed ? ", " : "", standing, fallback,
                       key->kind == KEY_LIST ? ", may be repeated" : "");
}

void keys_template(const struct key_table *table, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    const char *section = "";
    for (size_t i = 0; i < table->count; i++) {
        const struct key *key = &table->keys[i];
        if (!text_same(section, key->section)) {
            fprintf(stream, "%s[%s]\n", i > 0 ? "\n" : "", key->section);
            section = key->section;
        }
        print_comment(stream, keys_describe(key, &arena));
        const char *value = key->fallback ? key->fallback : "";
        fprintf(stream, "%s%s =%s%s\n", key->fallback ? "#" : "", key->name,
                *value ? " " : "", value);
    }
    arena_free(&arena);
}
