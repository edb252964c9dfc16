#include "report/sharp.h"

#include <stdio.h>
#include <stdlib.h>

enum {
    MINUTE_S = 60,
    NEXT_TO_S = 3 * MINUTE_S,
    HOUR_S = 3600,
    DAY_S = 86400,
    QUARTER_S = 900,
    WATCH_S = 4 * HOUR_S
};

static const char *weekday(struct instant at) {
    static const char *const names[] = {"Sun", "Mon", "Tue", "Wed",
                                        "Thu", "Fri", "Sat"};
    return names[instant_weekday(at)];
}

/* The last multiple of `step_s` at or before; days start a new count. */
static struct instant floored(struct instant at, int step_s) {
    struct civil civil = instant_to_civil(at);
    int second = civil.hour * HOUR_S + civil.minute * MINUTE_S + civil.second;
    return (struct instant){at.unix_s - second % step_s};
}

static struct instant nearest(struct instant at, int step_s) {
    return floored((struct instant){at.unix_s + step_s / 2}, step_s);
}

enum sharpness { TO_MINUTE, TO_QUARTER, TO_HOUR, TO_WATCH };

static enum sharpness sharpness_at(struct instant depart, struct instant at) {
    const int64_t day_s = DAY_S;
    int64_t after_s = at.unix_s - depart.unix_s;
    if (after_s == 0)
        return TO_MINUTE;
    if (after_s <= 2 * day_s)
        return TO_QUARTER;
    return after_s <= 4 * day_s ? TO_HOUR : TO_WATCH;
}

static struct instant rounded(struct instant at, enum sharpness sharpness) {
    switch (sharpness) {
    case TO_MINUTE:
        return nearest(at, MINUTE_S);
    case TO_QUARTER:
        return nearest(at, QUARTER_S);
    case TO_HOUR:
        return nearest(at, HOUR_S);
    case TO_WATCH:
        break;
    }
    return floored(at, WATCH_S);
}

enum { DAY_SIZE = 16 };

static void print_day(struct instant at, char text[DAY_SIZE]) {
    struct civil civil = instant_to_civil(at);
    snprintf(text, DAY_SIZE, "%s %d %s", weekday(at), civil.day,
             instant_month_name(civil.month));
}

void sharp_print_day(struct instant at, char text[SHARP_TEXT_SIZE]) {
    print_day(at, text);
}

static void print_long(struct instant shown, enum sharpness sharpness,
                       char text[SHARP_TEXT_SIZE]) {
    struct civil civil = instant_to_civil(shown);
    char day[DAY_SIZE];
    print_day(shown, day);
    if (sharpness == TO_WATCH)
        snprintf(text, SHARP_TEXT_SIZE, "%s %02d:00-%02d:00", day, civil.hour,
                 civil.hour + 4);
    else
        snprintf(text, SHARP_TEXT_SIZE, "%s %s%02d:%02d", day,
                 sharpness == TO_HOUR ? "about " : "", civil.hour,
                 civil.minute);
}

void sharp_print(struct instant depart, struct instant at,
                 char text[SHARP_TEXT_SIZE]) {
    enum sharpness sharpness = sharpness_at(depart, at);
    print_long(rounded(at, sharpness), sharpness, text);
}

bool sharp_is_watch(struct instant depart, struct instant at) {
    return sharpness_at(depart, at) == TO_WATCH;
}

bool sharp_is_within(struct instant depart, struct instant at,
                     struct instant early, struct instant late) {
    enum sharpness sharpness = sharpness_at(depart, at);
    int64_t told_s = rounded(at, sharpness).unix_s;
    return sharpness == TO_WATCH || (told_s > early.unix_s - NEXT_TO_S &&
                                     told_s < late.unix_s + NEXT_TO_S);
}

void sharp_print_at(struct instant at, char text[SHARP_TEXT_SIZE]) {
    print_long(floored(at, MINUTE_S), TO_MINUTE, text);
}

static struct instant inwards(struct instant end, int step_s, bool late) {
    return floored((struct instant){end.unix_s + (late ? 0 : step_s - 1)},
                   step_s);
}

/* To the minute; as the plan is told where that is next to it. */
static struct instant near_planned(struct instant end, struct instant planned,
                                   enum sharpness sharpness, bool late) {
    struct instant told = rounded(planned, sharpness);
    struct instant shown = inwards(end, MINUTE_S, late);
    if (llabs(told.unix_s - end.unix_s) < NEXT_TO_S)
        return told;
    return !late && shown.unix_s > planned.unix_s ? floored(planned, MINUTE_S)
                                                  : shown;
}

void sharp_print_end(struct instant depart, struct instant end,
                     struct instant planned, bool late,
                     char text[SHARP_TEXT_SIZE]) {
    enum sharpness sharpness = sharpness_at(depart, end);
    if (sharpness == TO_WATCH || sharpness == TO_MINUTE) {
        sharp_print(depart, end, text);
        return;
    }
    int step_s = sharpness == TO_HOUR ? HOUR_S : QUARTER_S;
    struct instant shown = inwards(end, step_s, late);
    if (late ? shown.unix_s < planned.unix_s : shown.unix_s > planned.unix_s) {
        shown = near_planned(end, planned, sharpness, late);
        sharpness = TO_MINUTE;
    }
    print_long(shown, sharpness, text);
}

static void print_time(struct civil civil, enum sharpness sharpness,
                       char text[SHARP_TEXT_SIZE]) {
    if (sharpness == TO_WATCH)
        snprintf(text, SHARP_TEXT_SIZE, "%02d-%02d", civil.hour,
                 civil.hour + 4);
    else if (sharpness == TO_HOUR)
        snprintf(text, SHARP_TEXT_SIZE, "%02dh", civil.hour);
    else
        snprintf(text, SHARP_TEXT_SIZE, "%02d:%02d", civil.hour, civil.minute);
}

static void print_short(struct instant at, enum sharpness sharpness,
                        char text[SHARP_TEXT_SIZE]) {
    struct civil civil = instant_to_civil(rounded(at, sharpness));
    char time[SHARP_TEXT_SIZE];
    print_time(civil, sharpness, time);
    snprintf(text, SHARP_TEXT_SIZE, "%02d %.16s", civil.day, time);
}

void sharp_print_dated(struct instant depart, struct instant at,
                       char text[SHARP_TEXT_SIZE]) {
    enum sharpness sharpness = sharpness_at(depart, at);
    struct civil civil = instant_to_civil(rounded(at, sharpness));
    char time[SHARP_TEXT_SIZE];
    print_time(civil, sharpness, time);
    snprintf(text, SHARP_TEXT_SIZE, "%02d %s %.16s", civil.day,
             instant_month_name(civil.month), time);
}

void sharp_print_short(struct instant depart, struct instant at,
                       char text[SHARP_TEXT_SIZE]) {
    print_short(at, sharpness_at(depart, at), text);
}

void sharp_print_minute(struct instant depart, struct instant at,
                        char text[SHARP_TEXT_SIZE]) {
    enum sharpness sharpness = sharpness_at(depart, at);
    print_short(at, sharpness == TO_QUARTER ? TO_MINUTE : sharpness, text);
}

void sharp_print_short_at(struct instant at, char text[SHARP_TEXT_SIZE]) {
    print_short(floored(at, MINUTE_S), TO_MINUTE, text);
}

void sharp_window(struct instant depart, struct instant at,
                  struct instant *early, struct instant *late) {
    static const int half_s[] = {
        [TO_MINUTE] = 0, [TO_QUARTER] = QUARTER_S / 2, [TO_HOUR] = HOUR_S / 2};
    enum sharpness sharpness = sharpness_at(depart, at);
    *early = *late = rounded(at, sharpness);
    if (sharpness == TO_WATCH) {
        late->unix_s += WATCH_S;
        return;
    }
    early->unix_s -= half_s[sharpness];
    late->unix_s += half_s[sharpness];
}

void sharp_print_exact(struct instant at, char text[SHARP_TEXT_SIZE]) {
    struct instant shown = nearest(at, MINUTE_S);
    struct civil civil = instant_to_civil(shown);
    snprintf(text, SHARP_TEXT_SIZE, "%s %d %s %04d %02d:%02d", weekday(shown),
             civil.day, instant_month_name(civil.month), civil.year, civil.hour,
             civil.minute);
}
