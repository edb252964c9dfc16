/* JSON out, through jansson: a tree is built, then written once, keys in the
 * order in which they were put, two blanks of indentation. An unknown figure is
 * null. A number is rounded to the given decimals first, so that the bytes do
 * not depend on the last bit. */
#ifndef EXCHANGE_JSON_H
#define EXCHANGE_JSON_H

#include "base/error.h"
#include "base/figure.h"
#include "base/instant.h"
#include <stdbool.h>
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
void json_free(struct json *root);

#endif
