/* JSON out and in, through jansson. Out: a tree is built, then written once,
 * keys in the order in which they were put, two blanks of indentation. An
 * unknown figure is null. A number is rounded to the given decimals first, so
 * that the bytes do not depend on the last bit. */
#ifndef EXCHANGE_JSON_H
#define EXCHANGE_JSON_H

#include "base/error.h"
#include "base/figure.h"
#include "base/instant.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

struct json; /* a value; owned by what it was put into */

struct json *json_make_object(void);
struct json *json_make_array(void);

/* Into an object under `key`; into an array with `key` NULL. */
struct json *json_put_object(struct json *parent, const char *key);
struct json *json_put_array(struct json *parent, const char *key);
void json_put_text(struct json *parent, const char *key, const char *text);
void json_put_flag(struct json *parent, const char *key, bool flag);
void json_put_count(struct json *parent, const char *key, long count);
void json_put_number(struct json *parent, const char *key, double value,
                     int decimals);
void json_put_figure(struct json *parent, const char *key, struct figure figure,
                     int decimals);
void json_put_instant(struct json *parent, const char *key,
                      struct instant instant);
void json_put_null(struct json *parent, const char *key);

/* Writes the tree and a newline. */
bool json_write(const struct json *root, FILE *stream, struct error *error);
/* The same on one line, without blanks. */
bool json_write_line(const struct json *root, FILE *stream,
                     struct error *error);
void json_free(struct json *root);

/* In: a whole file, freed by json_free(). STATUS_INPUT, with file and line: it
 * can't be read, is larger than `limit` bytes, is no JSON or has a key
 * twice. */
bool json_load(struct json **root, const char *path, size_t limit,
               struct error *error);

/* What stands there; NULL where nothing does, or null. Each of these takes NULL
 * and gives "nothing" for it. */
const struct json *json_get(const struct json *object, const char *key);
const struct json *json_item(const struct json *array, size_t index);
size_t json_count(const struct json *array); /* 0 where it is no list */

/* False, `*value` untouched, where it is something else. A text lives as long
 * as the tree. */
bool json_text(const struct json *json, const char **value);
bool json_number(const struct json *json, double *value);
bool json_flag(const struct json *json, bool *value);
bool json_instant(const struct json *json, struct instant *value);

#endif
