/* Text for a page of HTML: the one place where signs are escaped. What it
 * writes holds in running text, in SVG text and between double quotes. */
#ifndef REPORT_HTML_H
#define REPORT_HTML_H

#include <stdio.h>

/* Any bytes at all, as well-formed UTF-8 without control characters, signs of
 * HTML escaped. */
void html_text(FILE *stream, const char *text);

/* The same of a format. No place for markup: that is escaped, too. */
void html_print(FILE *stream, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
