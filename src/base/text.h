/* Text files and the words in them. Numbers are read and written in the C
 * locale: the program never sets a locale. */
#ifndef BASE_TEXT_H
#define BASE_TEXT_H

#include "base/arena.h"
#include "base/error.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* A file that somebody names, to be read and closed. NULL, with STATUS_INPUT,
 * where it is missing, unreadable, a folder, or a pipe that nobody writes into:
 * that would be waited for without end. Pipes that are written into are read.
 */
FILE *text_open(const char *path, struct error *error);

/* The whole of a text file, NUL-terminated in `arena`, a UTF-8 byte order mark
 * taken off. Refused with STATUS_INPUT: what text_open() refuses, larger than
 * `limit_bytes`, or holding a NUL byte. */
char *text_load(struct arena *arena, const char *path, size_t limit_bytes,
                struct error *error);

/* Cuts the next line off `*rest` (in place) without its end, LF or CRLF.
 * NULL when nothing is left. */
char *text_next_line(char **rest);

/* Blanks and tabs off both ends, in place. */
char *text_trim(char *text);

/* True if the whole of `text` is one finite decimal number (no hexadecimal,
 * no inf, no nan, no blanks). */
bool text_to_double(const char *text, double *value);
bool text_to_int(const char *text, int *value);

bool text_same(const char *a, const char *b);

/* The nearest of `count` words by edit distance, or NULL if none is near
 * (more than a third of the word would have to change). */
const char *text_nearest(const char *word, const char *const *words,
                         size_t count);

/* `name` taken relative to the folder of the file `base_path`, in `arena`; an
 * absolute name, or base_path NULL, gives `name` itself. */
char *text_beside(struct arena *arena, const char *base_path, const char *name);

#endif
