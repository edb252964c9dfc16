#include "report/clock.h"

#include "base/units.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MINUTE_S = 60 };

/* The zone in whole minutes: no clock on board is set finer. */
static int zone_minutes(const struct plan *plan) {
    return (int)lround(plan->display.zone_s / MINUTE_S);
}

/* The instant whose UTC reads like ship's time at `at`: for printing only. */
static struct instant shown_at(const struct plan *plan, struct instant at) {
    return (struct instant){at.unix_s + (int64_t)zone_minutes(plan) * MINUTE_S};
}

void clock_zone(const struct plan *plan, char text[CLOCK_ZONE_SIZE]) {
    int minutes = zone_minutes(plan);
    int size = abs(minutes);
    if (minutes == 0)
        snprintf(text, CLOCK_ZONE_SIZE, "UTC");
    else if (size % 60 == 0)
        snprintf(text, CLOCK_ZONE_SIZE, "UTC%+d", minutes / 60);
    else
        snprintf(text, CLOCK_ZONE_SIZE, "UTC%c%d:%02d", minutes < 0 ? '-' : '+',
                 size / 60 % 100, size % 60);
}

const char *clock_heading(const struct plan *plan) {
    return zone_minutes(plan) == 0 ? "UTC" : "ship's";
}

static void add_zone(const struct plan *plan, char text[SHARP_TEXT_SIZE]) {
    char zone[CLOCK_ZONE_SIZE];
    clock_zone(plan, zone);
    size_t length = strlen(text);
    snprintf(text + length, SHARP_TEXT_SIZE - length, " %s", zone);
}

void clock_print(const struct plan *plan, struct instant at,
                 char text[SHARP_TEXT_SIZE]) {
    sharp_print(shown_at(plan, plan->depart), shown_at(plan, at), text);
    add_zone(plan, text);
}

/* The length of the day and month that both texts begin with; 0 if of two. */
static size_t same_day(const char *first, const char *last) {
    size_t length = 0;
    for (int words = 0; words < 3; words++)
        length += strcspn(first + length, " ") + 1;
    return strncmp(first, last, length) == 0 ? length : 0;
}

static bool is_watch(const struct plan *plan, struct instant at) {
    return sharp_is_watch(shown_at(plan, plan->depart), shown_at(plan, at));
}

/* Both ends, the second with its zone; its day where that is another. */
static void join(const char *first, bool first_watch, const char *last,
                 bool last_watch, char text[CLOCK_SPAN_SIZE]) {
    snprintf(text, CLOCK_SPAN_SIZE, "%s%s and %s%s",
             first_watch ? "the watch of " : "", first,
             !last_watch   ? ""
             : first_watch ? "that of "
                           : "the watch of ",
             last + same_day(first, last));
}

void clock_print_span(const struct plan *plan, struct instant early,
                      struct instant late, char text[CLOCK_SPAN_SIZE]) {
    char first[SHARP_TEXT_SIZE], last[SHARP_TEXT_SIZE];
    sharp_print(shown_at(plan, plan->depart), shown_at(plan, early), first);
    clock_print(plan, late, last);
    join(first, is_watch(plan, early), last, is_watch(plan, late), text);
}

void clock_print_latest(const struct plan *plan, struct instant planned,
                        struct instant latest, char text[SHARP_TEXT_SIZE]) {
    sharp_print_end(shown_at(plan, plan->depart), shown_at(plan, latest),
                    shown_at(plan, planned), true, text);
    add_zone(plan, text);
}

bool clock_print_room(const struct plan *plan, struct instant early,
                      struct instant planned, struct instant late,
                      char text[CLOCK_SPAN_SIZE]) {
    char first[SHARP_TEXT_SIZE], last[SHARP_TEXT_SIZE];
    sharp_print_end(shown_at(plan, plan->depart), shown_at(plan, early),
                    shown_at(plan, planned), false, first);
    clock_print_latest(plan, planned, late, last);
    bool differ = strncmp(first, last, strlen(first)) != 0;
    if (differ)
        join(first, is_watch(plan, early), last, is_watch(plan, late), text);
    else
        snprintf(text, CLOCK_SPAN_SIZE, "%s", last);
    return differ;
}

void clock_print_short(const struct plan *plan, struct instant at,
                       char text[SHARP_TEXT_SIZE]) {
    sharp_print_short(shown_at(plan, plan->depart), shown_at(plan, at), text);
}

void clock_print_dated(const struct plan *plan, struct instant at,
                       char text[SHARP_TEXT_SIZE]) {
    sharp_print_dated(shown_at(plan, plan->depart), shown_at(plan, at), text);
}

void clock_print_minute(const struct plan *plan, struct instant at,
                        char text[SHARP_TEXT_SIZE]) {
    sharp_print_minute(shown_at(plan, plan->depart), shown_at(plan, at), text);
}

/* One without a span is done at its place, whatever the clock says. */
static bool is_within(const struct plan *plan,
                      const struct plan_change *change) {
    return !change->deck_work || !change->earliest_known ||
           !change->latest_known ||
           instant_minus(change->latest, change->earliest) <=
               SECONDS_PER_MINUTE ||
           sharp_is_within(shown_at(plan, plan->depart),
                           shown_at(plan, change->at),
                           shown_at(plan, change->earliest),
                           shown_at(plan, change->latest));
}

void clock_print_change(const struct plan *plan,
                        const struct plan_change *change,
                        char text[SHARP_TEXT_SIZE]) {
    if (is_within(plan, change)) {
        clock_print(plan, change->at, text);
        return;
    }
    sharp_print_at(shown_at(plan, change->at), text);
    add_zone(plan, text);
}

void clock_print_change_short(const struct plan *plan,
                              const struct plan_change *change,
                              char text[SHARP_TEXT_SIZE]) {
    if (is_within(plan, change))
        clock_print_short(plan, change->at, text);
    else
        sharp_print_short_at(shown_at(plan, change->at), text);
}

const struct plan_change *clock_work_at(const struct plan *plan,
                                        struct instant at) {
    for (size_t i = 0; i < plan->change_count; i++)
        if (plan->changes[i].deck_work &&
            plan->changes[i].at.unix_s == at.unix_s)
            return &plan->changes[i];
    return NULL;
}

void clock_print_moment(const struct plan *plan, struct instant at,
                        char text[SHARP_TEXT_SIZE]) {
    const struct plan_change *change = clock_work_at(plan, at);
    if (change)
        clock_print_change(plan, change, text);
    else
        clock_print(plan, at, text);
}

void clock_print_exact(const struct plan *plan, struct instant at,
                       char text[SHARP_TEXT_SIZE]) {
    sharp_print_exact(shown_at(plan, at), text);
    add_zone(plan, text);
}

void clock_print_day(const struct plan *plan, struct instant at,
                     char text[SHARP_TEXT_SIZE]) {
    sharp_print_day(shown_at(plan, at), text);
}

void clock_window(const struct plan *plan, struct instant at,
                  struct instant *early, struct instant *late) {
    int64_t zone_s = (int64_t)zone_minutes(plan) * MINUTE_S;
    sharp_window(shown_at(plan, plan->depart), shown_at(plan, at), early, late);
    early->unix_s -= zone_s;
    late->unix_s -= zone_s;
}

void clock_print_hour(const struct plan *plan, struct instant at,
                      char text[CLOCK_HOUR_SIZE]) {
    struct civil civil =
        instant_to_civil(shown_at(plan, instant_plus(at, MINUTE_S / 2.0)));
    snprintf(text, CLOCK_HOUR_SIZE, "%02d:%02d", civil.hour % 24,
             civil.minute % 60);
}
