/* A window of departures: as a table for people, and as figures for other
 * programs. */
#ifndef REPORT_WINDOW_REPORT_H
#define REPORT_WINDOW_REPORT_H

#include "plan/window.h"
#include <stdio.h>

/* One line for each departure, in order of time, the one of least cost marked;
 * under it what makes that one better than the next best and than the middle
 * one. ASCII, at most 100 columns. At least one departure is planned. */
bool window_write(const struct window *window, FILE *stream,
                  struct error *error);

/* The same figures with a heading, commas between (RFC 4180, lines end with a
 * line feed). What is not known is empty. */
bool window_csv_write(const struct window *window, FILE *stream,
                      struct error *error);

/* One JSON document. */
bool window_json_write(const struct window *window, FILE *stream,
                       struct error *error);

/* One JSON object a line for each departure, complete in itself: it does not
 * tell what other departures there are. */
bool window_lines_write(const struct window *window, FILE *stream,
                        struct error *error);

#endif
