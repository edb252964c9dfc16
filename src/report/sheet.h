/* Lines of at most 80 ASCII characters: headings, labelled entries and
 * paragraphs, wrapped at blanks. */
#ifndef REPORT_SHEET_H
#define REPORT_SHEET_H

#include <stdio.h>

enum { SHEET_WIDTH = 80, SHEET_LABEL = 14 };

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
