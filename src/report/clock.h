/* Times of a plan as the crew reads them: as sharply as they can be known
 * (report/sharp.h), by ship's time where the plan asks for it, the zone always
 * named beside them. A plan for display in UTC, the default, says "UTC". */
#ifndef REPORT_CLOCK_H
#define REPORT_CLOCK_H

#include "plan/plan.h"
#include "report/sharp.h"

enum { CLOCK_ZONE_SIZE = 16 };

/* "UTC", "UTC-3:30", "UTC+10". */
void clock_zone(const struct plan *plan, char text[CLOCK_ZONE_SIZE]);

/* What stands over a column of times: "UTC" or "ship's". */
const char *clock_heading(const struct plan *plan);

/* "Thu 15 Mar 08:15 UTC-3:30". */
void clock_print(const struct plan *plan, struct instant at,
                 char text[SHARP_TEXT_SIZE]);

enum { CLOCK_SPAN_SIZE = 2 * SHARP_TEXT_SIZE + 40 };

/* "Thu 15 Mar 07:00 and Fri 16 Mar 11:00 UTC-3:30"; of one day "Thu 15 Mar
 * 07:00 and 11:00 UTC-3:30"; of watches "the watch of Mon 19 Mar 08:00-12:00
 * and that of 12:00-16:00 UTC-3:30". */
void clock_print_span(const struct plan *plan, struct instant early,
                      struct instant late, char text[CLOCK_SPAN_SIZE]);

/* The same of a time in which something can be done, that is planned for
 * `planned`: each end rounded inwards, sharp_print_end(). Where both are
 * printed alike, once: "Thu 15 Mar 07:00 UTC-3:30". True where they are not. */
bool clock_print_room(const struct plan *plan, struct instant early,
                      struct instant planned, struct instant late,
                      char text[CLOCK_SPAN_SIZE]);

/* Its end alone: "Thu 15 Mar 11:00 UTC-3:30". */
void clock_print_latest(const struct plan *plan, struct instant planned,
                        struct instant latest, char text[SHARP_TEXT_SIZE]);

/* Eight columns, without the zone: "15 08:15". */
void clock_print_short(const struct plan *plan, struct instant at,
                       char text[SHARP_TEXT_SIZE]);

/* Twelve columns, with the month: "15 Mar 08:15". */
void clock_print_dated(const struct plan *plan, struct instant at,
                       char text[SHARP_TEXT_SIZE]);

/* The eight columns to the minute, where quarters are known: see
 * report/sharp.h. */
void clock_print_minute(const struct plan *plan, struct instant at,
                        char text[SHARP_TEXT_SIZE]);

/* From when to when that is, as printed: see report/sharp.h. */
void clock_window(const struct plan *plan, struct instant at,
                  struct instant *early, struct instant *late);

enum { CLOCK_HOUR_SIZE = 16 };

/* The time of day to the minute, without day and zone: "08:15". */
void clock_print_hour(const struct plan *plan, struct instant at,
                      char text[CLOCK_HOUR_SIZE]);

/* The day alone, without the zone: "Thu 15 Mar". */
void clock_print_day(const struct plan *plan, struct instant at,
                     char text[SHARP_TEXT_SIZE]);

/* The work on deck that begins then; NULL: none. */
const struct plan_change *clock_work_at(const struct plan *plan,
                                        struct instant at);

/* A change: as sharply as any time, but work on deck to the minute where it
 * would be told outside its margin. The second in eight columns, without the
 * zone. */
void clock_print_change(const struct plan *plan,
                        const struct plan_change *change,
                        char text[SHARP_TEXT_SIZE]);
void clock_print_change_short(const struct plan *plan,
                              const struct plan_change *change,
                              char text[SHARP_TEXT_SIZE]);

/* A moment of the plan; where work on deck begins then, as that is told. */
void clock_print_moment(const struct plan *plan, struct instant at,
                        char text[SHARP_TEXT_SIZE]);

/* To the minute: "Thu 15 Mar 2024 08:15 UTC-3:30". */
void clock_print_exact(const struct plan *plan, struct instant at,
                       char text[SHARP_TEXT_SIZE]);

#endif
