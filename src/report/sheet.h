/* Lines of at most 80 ASCII characters: headings, labelled entries and
 * paragraphs, wrapped at blanks. */
#ifndef REPORT_SHEET_H
#define REPORT_SHEET_H

#include <stdio.h>

enum { SHEET_WIDTH = 80, SHEET_LABEL = 14 };

/* From here on, what goes to that stream is written as HTML: a heading as <h3>,
 * an entry as <p class="entry"> and an item as <p class="item"> with their
 * label or mark in <b>, a paragraph as <p>; signs outside ASCII stay. NULL:
 * back to lines. One stream at a time, from one thread: the reports know each
 * other's sections by their functions, and this is the page's way to all of
 * them. */
void sheet_as_html(FILE *stream);

/* An empty line, then the text. */
void sheet_heading(FILE *stream, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* "  Label     the text, wrapped under itself". */
void sheet_entry(FILE *stream, const char *label, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* The text, all lines but the first `hang` columns further in than `indent`.
 * A word longer than the line is cut. */
void sheet_paragraph(FILE *stream, int indent, int hang, const char *text);

/* "  MARK  the text, wrapped under itself". */
void sheet_item(FILE *stream, const char *mark, const char *text);

#endif
