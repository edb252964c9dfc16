/* A moment in UTC, in whole seconds. No local time exists in this program:
 * neither TZ nor the locale is ever asked. Proleptic Gregorian calendar. */
#ifndef BASE_INSTANT_H
#define BASE_INSTANT_H

#include <stdbool.h>
#include <stdint.h>

struct instant {
    int64_t unix_s; /* seconds since 1970-01-01T00:00:00Z, no leap seconds */
};

struct civil {
    int year, month, day;     /* month 1..12, day 1..31 */
    int hour, minute, second; /* 0..23, 0..59, 0..59 */
};

enum { INSTANT_TEXT_SIZE = 24 };

/* False where the date or the time of day does not exist. Years 1..9999. */
bool instant_from_civil(struct civil civil, struct instant *instant);
struct civil instant_to_civil(struct instant instant);

/* 0 is Sunday. */
int instant_weekday(struct instant instant);

/* Three letters of a month, 1..12: "Jan". */
const char *instant_month_name(int month);

/* Reads ISO 8601: 2024-02-28T18:00Z, 2024-02-28 18:00:00+13:00, with or
 * without seconds (a fraction is dropped), a day alone is its 00:00.
 * `*zone_given` is false where no zone stood there and UTC was taken.
 * False if the text is anything else. */
bool instant_parse(const char *text, struct instant *instant, bool *zone_given);

/* Writes 2024-02-28T18:00:00Z. */
void instant_print(struct instant instant, char text[INSTANT_TEXT_SIZE]);

static inline struct instant instant_plus(struct instant instant,
                                          double seconds) {
    double whole = seconds < 0.0 ? seconds - 0.5 : seconds + 0.5;
    return (struct instant){instant.unix_s + (int64_t)whole};
}

static inline double instant_minus(struct instant a, struct instant b) {
    return (double)(a.unix_s - b.unix_s);
}

/* The wall clock, or SOURCE_DATE_EPOCH where that is set: only `now` on the
 * command line may ask. */
struct instant instant_now(void);

#endif
