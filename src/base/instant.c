#include "base/instant.h"

#include <assert.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum {
    DAY_S = 86400,
    HOUR_S = 3600,
    MINUTE_S = 60,
    YEAR_LOW = 1,
    YEAR_HIGH = 9999,
    ERA_DAYS = 146097, /* 400 Gregorian years */
    /* from 0000-03-01 to 1970-01-01 */
    EPOCH_DAYS = 719468,
    ZONE_HIGH_S = 14 * HOUR_S /* the greatest offset in use is +14:00 */
};

static bool is_leap(int year) {
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static int days_in_month(int year, int month) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month == 2 && is_leap(year) ? 29 : days[month - 1];
}

static bool civil_exists(struct civil civil) {
    return civil.year >= YEAR_LOW && civil.year <= YEAR_HIGH &&
           civil.month >= 1 && civil.month <= 12 && civil.day >= 1 &&
           civil.day <= days_in_month(civil.year, civil.month) &&
           civil.hour >= 0 && civil.hour <= 23 && civil.minute >= 0 &&
           civil.minute <= 59 && civil.second >= 0 && civil.second <= 59;
}

/* Days since 1970-01-01. Years are counted from March, so that the leap day
 * is the last of its year and the months' lengths follow one line:
 * (153 m + 2) / 5 days before month m. */
static int64_t days_of(int year, int month, int day) {
    int64_t march_year = month > 2 ? year : year - 1;
    int march_month = (month + 9) % 12;
    int day_of_year = (153 * march_month + 2) / 5 + day - 1;
    return march_year * 365 + march_year / 4 - march_year / 100 +
           march_year / 400 + day_of_year - EPOCH_DAYS;
}

static int64_t floor_divide(int64_t value, int64_t by) {
    int64_t quotient = value / by;
    return value % by < 0 ? quotient - 1 : quotient;
}

bool instant_from_civil(struct civil civil, struct instant *instant) {
    if (!civil_exists(civil))
        return false;
    int second_of_day =
        civil.hour * HOUR_S + civil.minute * MINUTE_S + civil.second;
    instant->unix_s =
        days_of(civil.year, civil.month, civil.day) * DAY_S + second_of_day;
    return true;
}

struct civil instant_to_civil(struct instant instant) {
    int64_t days = floor_divide(instant.unix_s, DAY_S);
    int second_of_day = (int)(instant.unix_s - days * DAY_S);
    int64_t shifted = days + EPOCH_DAYS;
    int64_t era = floor_divide(shifted, ERA_DAYS);
    int64_t day_of_era = shifted - era * ERA_DAYS;
    /* the leap days passed so far are taken out before dividing by 365 */
    int64_t year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36524 -
                           day_of_era / 146096) /
                          365;
    int day_of_year = (int)(day_of_era - (365 * year_of_era + year_of_era / 4 -
                                          year_of_era / 100));
    int march_month = (5 * day_of_year + 2) / 153;
    int month = march_month < 10 ? march_month + 3 : march_month - 9;
    return (struct civil){
        .year = (int)(year_of_era + era * 400 + (month <= 2 ? 1 : 0)),
        .month = month,
        .day = day_of_year - (153 * march_month + 2) / 5 + 1,
        .hour = second_of_day / HOUR_S,
        .minute = second_of_day / MINUTE_S % 60,
        .second = second_of_day % 60};
}

int instant_weekday(struct instant instant) {
    int64_t days = floor_divide(instant.unix_s, DAY_S);
    /* 1970-01-01 was a Thursday */
    int64_t since_sunday = days + 4;
    return (int)(since_sunday - 7 * floor_divide(since_sunday, 7));
}

const char *instant_month_name(int month) {
    static const char *const names[] = {"Jan", "Feb", "Mar", "Apr",
                                        "May", "Jun", "Jul", "Aug",
                                        "Sep", "Oct", "Nov", "Dec"};
    assert(month >= 1 && month <= 12);
    return names[month - 1];
}

/* Readers take what they know off the front of `*text`. */

static bool take_digits(const char **text, int count, int *value) {
    *value = 0;
    for (int i = 0; i < count; i++, (*text)++) {
        if (**text < '0' || **text > '9')
            return false;
        *value = *value * 10 + (**text - '0');
    }
    return true;
}

static bool take_one_of(const char **text, const char *signs) {
    if (!**text || !strchr(signs, **text))
        return false;
    (*text)++;
    return true;
}

static bool take_date(const char **text, struct civil *civil) {
    return take_digits(text, 4, &civil->year) && take_one_of(text, "-") &&
           take_digits(text, 2, &civil->month) && take_one_of(text, "-") &&
           take_digits(text, 2, &civil->day);
}

static bool take_fraction(const char **text) {
    size_t digits = strspn(*text, "0123456789");
    *text += digits;
    return digits > 0;
}

static bool take_time(const char **text, struct civil *civil) {
    if (!take_digits(text, 2, &civil->hour) || !take_one_of(text, ":") ||
        !take_digits(text, 2, &civil->minute))
        return false;
    if (!take_one_of(text, ":"))
        return true;
    if (!take_digits(text, 2, &civil->second))
        return false;
    return !take_one_of(text, ".,") || take_fraction(text);
}

/* Z, +13:00, +1300 or +13; nothing at all is UTC, not given. */
static bool take_zone(const char **text, int *offset_s, bool *given) {
    *offset_s = 0;
    *given = **text != '\0';
    if (!*given || take_one_of(text, "Zz"))
        return true;
    bool west = **text == '-';
    int hours, minutes = 0;
    if (!take_one_of(text, "+-") || !take_digits(text, 2, &hours))
        return false;
    bool colon = take_one_of(text, ":");
    if ((colon || **text) && !take_digits(text, 2, &minutes))
        return false;
    int size_s = hours * HOUR_S + minutes * MINUTE_S;
    *offset_s = west ? -size_s : size_s;
    return minutes <= 59 && size_s <= ZONE_HIGH_S;
}

bool instant_parse(const char *text, struct instant *instant,
                   bool *zone_given) {
    struct civil civil = {.year = 0};
    int offset_s = 0;
    *zone_given = false;
    if (!take_date(&text, &civil))
        return false;
    if (*text && (!take_one_of(&text, "Tt ") || !take_time(&text, &civil) ||
                  !take_zone(&text, &offset_s, zone_given)))
        return false;
    struct instant local;
    if (*text || !instant_from_civil(civil, &local))
        return false;
    local.unix_s -= offset_s;
    if (!civil_exists(instant_to_civil(local)))
        return false;
    *instant = local;
    return true;
}

void instant_print(struct instant instant, char text[INSTANT_TEXT_SIZE]) {
    struct civil civil = instant_to_civil(instant);
    assert(civil_exists(civil));
    /* the remainders change nothing; they show the compiler that it fits */
    snprintf(text, INSTANT_TEXT_SIZE, "%04u-%02u-%02uT%02u:%02u:%02uZ",
             (unsigned)civil.year % 10000, (unsigned)civil.month % 100,
             (unsigned)civil.day % 100, (unsigned)civil.hour % 100,
             (unsigned)civil.minute % 100, (unsigned)civil.second % 100);
}

struct instant instant_now(void) {
    const char *fixed = getenv("SOURCE_DATE_EPOCH");
    if (fixed && *fixed && !fixed[strspn(fixed, "0123456789")]) {
        errno = 0;
        long long seconds = strtoll(fixed, NULL, 10);
        if (errno == 0)
            return (struct instant){seconds};
    }
    return (struct instant){(int64_t)time(NULL)};
}
