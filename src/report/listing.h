/* Parts of a listing in plain text: headings, names out of a file, entries of a
 * list broken at blanks. */
#ifndef REPORT_LISTING_H
#define REPORT_LISTING_H

#include <stdio.h>

enum { LISTING_WIDTH = 80 };

/* What must not reach a terminal is shown as '?': clean_print(). */
void listing_name(FILE *stream, const char *name);

/* An empty line, the text, and a line under it. */
void listing_heading(FILE *stream, const char *text);

/* "* the text", broken at blanks, its later lines indented. Names in it are
 * shown as by listing_name(). */
void listing_item(FILE *stream, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* The same without a mark and an indent. */
void listing_text(FILE *stream, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
