/* Plans made by the program itself, and what stands in their files. */
#ifndef TESTS_PLANNED_H
#define TESTS_PLANNED_H

#include "check.h"

#include <jansson.h>

struct planned {
    struct ran ran;
    char folder[4200];
    char *schedule, *gpx, *json_text; /* empty where there is no file */
    json_t *json;                     /* NULL where there is none */
};

/* Runs "sparwise ARGUMENTS --out FOLDER --force --quiet"; the folder is named
 * `name` in that of the test. Arguments begin with the command. Everything
 * lives to the end of the program. */
struct planned planned_run(const char *name, const char *arguments, ...)
    __attribute__((format(printf, 2, 3)));

/* The same, and ends the test unless the status is 0. */
struct planned planned_well(const char *name, const char *arguments, ...)
    __attribute__((format(printf, 2, 3)));

/* A number of the summary; ends the test where it is none. */
double planned_figure(const struct planned *planned, const char *key);

/* Seconds since 1970 of a text of plan.json. */
double planned_time_s(const json_t *text);

/* Arrival, seconds since 1970; ends the test where it is null. */
double planned_arrive_s(const struct planned *planned);

/* Hardship of all changes by the rules of the cost: deck work 30 minutes by day
 * or twilight, 120 at night, twice that above the work limit of 4 degrees of
 * roll, twice above that of gusts; 5 minutes from the cockpit. Holds for the
 * boats of polars/, with no land near. */
double planned_hardship_h(const struct planned *planned);

#endif
