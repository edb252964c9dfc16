/* Times as sharply as they can be known: to 15 minutes in the first two days
 * after departure, to the hour in the next two, to the watch of four hours
 * after that. The departure itself is known to the minute. Always UTC. */
#ifndef REPORT_SHARP_H
#define REPORT_SHARP_H

#include "base/instant.h"
#include <stdbool.h>

enum { SHARP_TEXT_SIZE = 64 };

/* "Thu 15 Mar 08:15", "Sat 17 Mar about 09:00", "Mon 19 Mar
 * 08:00-12:00". The zone stands in the heading of what it is printed in. */
void sharp_print(struct instant depart, struct instant at,
                 char text[SHARP_TEXT_SIZE]);

/* Does it, as printed so, lie between the two, or within three minutes of
 * them? A watch does. */
bool sharp_is_within(struct instant depart, struct instant at,
                     struct instant early, struct instant late);

/* To the minute at any time: "Thu 15 Mar 08:13", and in eight columns. */
void sharp_print_at(struct instant at, char text[SHARP_TEXT_SIZE]);
void sharp_print_short_at(struct instant at, char text[SHARP_TEXT_SIZE]);

/* One end of a time in which something can be done, round `planned`: rounded
 * inwards; to the minute where that would leave out what is planned, and as the
 * plan is told where it is within three minutes of that. Of a watch: the one
 * that it falls in. */
void sharp_print_end(struct instant depart, struct instant end,
                     struct instant planned, bool late,
                     char text[SHARP_TEXT_SIZE]);

/* Eight columns: "15 08:15", "17 09h", "19 08-12". */
void sharp_print_short(struct instant depart, struct instant at,
                       char text[SHARP_TEXT_SIZE]);

/* Twelve columns, with the month: "15 Mar 08:15", "17 Mar 09h", "19 Mar
 * 08-12". */
void sharp_print_dated(struct instant depart, struct instant at,
                       char text[SHARP_TEXT_SIZE]);

/* As sharp_print_short(), to the minute: "15 08:13"; for a row beside another
 * of the same quarter, in the two days that are known to quarters; else as
 * above. */
void sharp_print_minute(struct instant depart, struct instant at,
                        char text[SHARP_TEXT_SIZE]);

/* Is it printed as a watch? */
bool sharp_is_watch(struct instant depart, struct instant at);

/* From when to when that is, as printed: the four hours of a watch, else half
 * of what it is rounded to before and after. */
void sharp_window(struct instant depart, struct instant at,
                  struct instant *early, struct instant *late);

/* The day alone: "Thu 15 Mar". */
void sharp_print_day(struct instant at, char text[SHARP_TEXT_SIZE]);

/* To the minute, with the year: "Thu 15 Mar 2024 08:15". */
void sharp_print_exact(struct instant at, char text[SHARP_TEXT_SIZE]);

#endif
