/* The first part of the schedule: head, the rig and course at departure, the
 * next work on deck. */
#ifndef REPORT_WATCH_H
#define REPORT_WATCH_H

#include "report/nights.h"
#include "report/waypoint.h"
#include <stdio.h>

void watch_write_head(const struct plan *plan, FILE *stream);
void watch_write_departure(const struct plan *plan, const struct nights *nights,
                           FILE *stream);
void watch_write_next(const struct plan *plan,
                      const struct waypoints *waypoints, FILE *stream);

#endif
