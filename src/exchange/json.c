#include "exchange/json.h"

#include "base/arena.h"
#include "exchange/clean.h"
#include <assert.h>
#include <jansson.h>
#include <math.h>

/* Significant digits: enough for any figure of ours, one less than would show
 * the last bit. */
enum { DIGITS = 15 };

static json_t *inner(struct json *json) {
    return (json_t *)json;
}

static struct json *outer(json_t *value) {
    if (!value)
        arena_exhausted();
    return (struct json *)value;
}

static void put(struct json *parent, const char *key, json_t *value) {
    if (!value)
        arena_exhausted();
    assert((key != NULL) == json_is_object(inner(parent)));
    assert(!key || !json_object_get(inner(parent), key));
    int failed = key ? json_object_set_new(inner(parent), key, value)
                     : json_array_append_new(inner(parent), value);
    if (failed)
        arena_exhausted();
}

struct json *json_make_object(void) {
    return outer(json_object());
}

struct json *json_make_array(void) {
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

bool json_write(const struct json *root, FILE *stream, struct error *error) {
    int failed = json_dumpf((const json_t *)root, stream,
                            JSON_INDENT(2) | JSON_REAL_PRECISION(DIGITS));
    if (failed || fputc('\n', stream) == EOF || fflush(stream) != 0)
        return error_set(error, STATUS_WRITE,
                         "JSON can't be written; is the disk full?");
    return true;
}

void json_free(struct json *root) {
    json_decref(inner(root));
}
