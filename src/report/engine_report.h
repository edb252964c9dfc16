/* The engine on the sheet: when it runs, and what that leaves in the tank. */
#ifndef REPORT_ENGINE_REPORT_H
#define REPORT_ENGINE_REPORT_H

#include "plan/plan.h"
#include <stdio.h>

/* A line at departure where the engine runs at once. */
void engine_report_departure(const struct plan *plan, FILE *stream);

/* When it runs, from where to where; nothing where it does not. */
void engine_report_write(const struct plan *plan, FILE *stream);

/* Hours and litres, a line of the summary; nothing without an engine. */
void engine_report_summary(const struct plan *plan, FILE *stream);

#endif
