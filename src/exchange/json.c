#include "exchange/json.h"

#include "base/arena.h"
#include "base/heap.h"
#include "base/text.h"
#include "exchange/clean.h"
#include <assert.h>
#include <jansson.h>
#include <math.h>
#include <stdlib.h>

/* Significant digits: enough for any figure of ours, one less than would show
 * the last bit. */
enum { DIGITS = 15 };

static json_t *inner(struct json *json) {
    return (json_t *)json;
}

/* Before anything is made or read. */
static void begin(void) {
    json_set_alloc_funcs(heap_take, free);
}

static struct json *outer(json_t *value) {
    assert(value);
    return (struct json *)value;
}

static void put(struct json *parent, const char *key, json_t *value) {
    assert(value);
    assert((key != NULL) == json_is_object(inner(parent)));
    assert(!key || !json_object_get(inner(parent), key));
    int failed = key ? json_object_set_new(inner(parent), key, value)
                     : json_array_append_new(inner(parent), value);
    assert(!failed);
    (void)failed;
}

struct json *json_make_object(void) {
    begin();
    return outer(json_object());
}

struct json *json_make_array(void) {
    begin();
    return outer(json_array());
}

struct json *json_put_object(struct json *parent, const char *key) {
    json_t *value = json_object();
    put(parent, key, value);
    return outer(value);
}

struct json *json_put_array(struct json *parent, const char *key) {
    json_t *value = json_array();
    put(parent, key, value);
    return outer(value);
}

void json_put_text(struct json *parent, const char *key, const char *text) {
    if (!text) {
        json_put_null(parent, key);
        return;
    }
    struct arena arena;
    arena_init(&arena);
    put(parent, key, json_string(clean_text(&arena, text)));
    arena_free(&arena);
}

void json_put_flag(struct json *parent, const char *key, bool flag) {
    put(parent, key, json_boolean(flag));
}

void json_put_count(struct json *parent, const char *key, long count) {
    put(parent, key, json_integer(count));
}

void json_put_number(struct json *parent, const char *key, double value,
                     int decimals) {
    assert(isfinite(value) && decimals >= 0 && decimals <= 9);
    double scale = 1.0;
    for (int i = 0; i < decimals; i++)
        scale *= 10.0;
    double rounded = round(value * scale) / scale + 0.0; /* no minus zero */
    assert(fabs(rounded) * scale < 1e15);
    if (decimals == 0)
        put(parent, key, json_integer((json_int_t)rounded));
    else
        put(parent, key, json_real(rounded));
}

void json_put_figure(struct json *parent, const char *key, struct figure figure,
                     int decimals) {
    if (figure.known)
        json_put_number(parent, key, figure.value, decimals);
    else
        json_put_null(parent, key);
}

void json_put_instant(struct json *parent, const char *key,
                      struct instant instant) {
    char text[INSTANT_TEXT_SIZE];
    instant_print(instant, text);
    put(parent, key, json_string(text));
}

void json_put_null(struct json *parent, const char *key) {
    put(parent, key, json_null());
}

static bool dump(const struct json *root, size_t flags, FILE *stream,
                 struct error *error) {
    int failed = json_dumpf((const json_t *)root, stream,
                            flags | JSON_REAL_PRECISION(DIGITS));
    if (failed || fputc('\n', stream) == EOF || fflush(stream) != 0)
        return error_set(error, STATUS_WRITE,
                         "JSON can't be written; is the disk full?");
    return true;
}

bool json_write(const struct json *root, FILE *stream, struct error *error) {
    return dump(root, JSON_INDENT(2), stream, error);
}

bool json_write_line(const struct json *root, FILE *stream,
                     struct error *error) {
    return dump(root, JSON_COMPACT, stream, error);
}

void json_free(struct json *root) {
    json_decref(inner(root));
}

/* --- in ------------------------------------------------------------------- */

static const json_t *inside(const struct json *json) {
    return (const json_t *)json;
}

/* null is nothing. */
static const struct json *found(const json_t *value) {
    return json_is_null(value) ? NULL : (const struct json *)value;
}

bool json_load(struct json **root, const char *path, size_t limit,
               struct error *error) {
    struct arena scratch;
    json_error_t fault;
    json_t *read = NULL;
    begin();
    arena_init(&scratch);
    char *text = text_load(&scratch, path, limit, error);
    if (text)
        read = json_loads(text, JSON_REJECT_DUPLICATES, &fault);
    if (text && !read) {
        error_set(error, STATUS_INPUT,
                  "not JSON: %s; it may be cut short: copy it again",
                  fault.text);
        error_at(error, "%s:%d", path, fault.line);
    }
    arena_free(&scratch);
    *root = (struct json *)read;
    return read != NULL;
}

const struct json *json_get(const struct json *object, const char *key) {
    return found(json_object_get(inside(object), key));
}

const struct json *json_item(const struct json *array, size_t index) {
    return found(json_array_get(inside(array), index));
}

size_t json_count(const struct json *array) {
    return json_array_size(inside(array));
}

bool json_text(const struct json *json, const char **value) {
    if (!json_is_string(inside(json)))
        return false;
    *value = json_string_value(inside(json));
    return true;
}

bool json_number(const struct json *json, double *value) {
    if (!json_is_number(inside(json)))
        return false;
    *value = json_number_value(inside(json));
    return true;
}

bool json_flag(const struct json *json, bool *value) {
    if (!json_is_boolean(inside(json)))
        return false;
    *value = json_is_true(inside(json));
    return true;
}

bool json_instant(const struct json *json, struct instant *value) {
    const char *text;
    bool zone_given;
    return json_text(json, &text) && instant_parse(text, value, &zone_given);
}
