/* Text made safe for a file in an open format, or for a terminal. Names come
 * from settings files and from other people's routes: any bytes at all may
 * stand in them. */
#ifndef EXCHANGE_CLEAN_H
#define EXCHANGE_CLEAN_H

#include "base/arena.h"

#include <stdio.h>

/* `text` as well-formed UTF-8 in `arena`: control characters dropped (all but
 * tab and newline; C1 and DEL too), those that turn the order of letters
 * (U+202A to 202E, U+2066 to 2069), and the two signs that XML forbids, U+FFFE
 * and U+FFFF; each byte that is not UTF-8 becomes U+FFFD. */
char *clean_text(struct arena *arena, const char *text);

/* The first `bytes` of a text, whole characters, for a terminal, on one line
 * and without memory: '?' for each of these characters, for tabs and newlines,
 * and for each byte that is not UTF-8. */
void clean_print(FILE *stream, const char *text, size_t bytes);

/* A name out of a foreign file, for messages and tables: clean_text() on one
 * line, blanks off its ends, and no longer than CLEAN_NAME_BYTES: what is more
 * is cut off between two characters, and "..." says so. */
enum { CLEAN_NAME_BYTES = 120 };
char *clean_name(struct arena *arena, const char *text);

#endif
