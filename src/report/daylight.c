#include "report/daylight.h"

#include "earth/sun.h"
#include "report/clock.h"

enum { MINUTE_S = 60, HALF_DAY_S = 43200 };

static enum light light_at(const struct plan *plan, int64_t unix_s) {
    return sun_light(sun_at((double)unix_s), plan->to);
}

static bool is_rising(const struct plan *plan, int64_t unix_s) {
    double now = sun_altitude_deg(sun_at((double)unix_s), plan->to);
    double later =
        sun_altitude_deg(sun_at((double)(unix_s + MINUTE_S)), plan->to);
    return later > now;
}

enum arrival {
    BY_DAY,
    AT_DAWN,
    AT_DUSK,
    AT_NIGHT,
    DARK_FIRST,
    DARK_LAST,
    PLANNED_LIT
};

/* By the time within which it lies, as that is printed. */
static enum arrival arrival_within(const struct plan *plan) {
    struct instant early, late;
    bool seen[3] = {false, false, false};
    clock_window(plan, plan->summary.arrive, &early, &late);
    for (int64_t s = early.unix_s; s <= late.unix_s; s += MINUTE_S)
        seen[light_at(plan, s)] = true;
    enum light first = light_at(plan, early.unix_s);
    enum light last = light_at(plan, late.unix_s);
    if (seen[LIGHT_NIGHT] && (first == LIGHT_NIGHT) == (last == LIGHT_NIGHT))
        return AT_NIGHT;
    if (seen[LIGHT_NIGHT])
        return first == LIGHT_NIGHT ? DARK_FIRST : DARK_LAST;
    if (!seen[LIGHT_TWILIGHT])
        return BY_DAY;
    bool dawn = first == LIGHT_TWILIGHT && is_rising(plan, early.unix_s);
    return dawn ? AT_DAWN : AT_DUSK;
}

static bool is_planned_lit(const struct plan *plan) {
    return plan->arrive_by_day && plan->arrival.known && !plan->arrival.dark;
}

/* What was planned for light is in the light, though the hour or the watch that
 * is printed begins or ends in the dark. */
static enum arrival arrival_of(const struct plan *plan) {
    enum arrival arrival = arrival_within(plan);
    bool dark =
        arrival == AT_NIGHT || arrival == DARK_FIRST || arrival == DARK_LAST;
    return dark && is_planned_lit(plan) ? PLANNED_LIT : arrival;
}

const char *daylight_on_arrival(const struct plan *plan) {
    static const char *const words[] = {[BY_DAY] = "by day",
                                        [AT_DAWN] = "at dawn",
                                        [AT_DUSK] = "at dusk",
                                        [AT_NIGHT] = "at night",
                                        [DARK_FIRST] = "dark at first",
                                        [DARK_LAST] = "dark at its end",
                                        [PLANNED_LIT] =
                                            "in that part of it that is light"};
    return words[arrival_of(plan)];
}

const char *daylight_word(const struct plan *plan) {
    static const char *const words[] = {
        [BY_DAY] = "day",     [AT_DAWN] = "dawn",    [AT_DUSK] = "dusk",
        [AT_NIGHT] = "night", [DARK_FIRST] = "part", [DARK_LAST] = "part",
        [PLANNED_LIT] = "day"};
    return words[arrival_of(plan)];
}

const char *daylight_advice(const struct plan *plan) {
    static const char *const advice[] = {
        [BY_DAY] = "",
        [AT_DAWN] = ": it is dark before; slow down rather than be early",
        [AT_DUSK] = ": dark comes after; be early, or stand off until day",
        [AT_NIGHT] = ": slow down or stand off rather than enter in the dark",
        [DARK_FIRST] = ": slow down rather than enter in the dark",
        [DARK_LAST] = ": be early, or stand off until it is day"};
    if (is_planned_lit(plan))
        return ": planned for daylight; if early or late, slow down or stand "
               "off until day";
    return advice[arrival_of(plan)];
}

/* What one minute brings; NULL where it stays as it is. */
static const char *turn_of(enum light before, enum light after) {
    static const char *const turns[3][3] = {
        [LIGHT_DAY] = {[LIGHT_TWILIGHT] = "sunset"},
        [LIGHT_TWILIGHT] =
            {[LIGHT_DAY] = "sunrise", [LIGHT_NIGHT] = "dark from"},
        [LIGHT_NIGHT] = {[LIGHT_TWILIGHT] = "dark until"}};
    return turns[before][after];
}

const char *daylight_turns(struct arena *arena, const struct plan *plan) {
    static const char *const always[] = {
        [LIGHT_DAY] = "the sun does not set",
        [LIGHT_TWILIGHT] = "twilight all day",
        [LIGHT_NIGHT] = "dark all day",
    };
    char zone[CLOCK_ZONE_SIZE], hour[CLOCK_HOUR_SIZE];
    struct instant early, late;
    clock_window(plan, plan->summary.arrive, &early, &late);
    int64_t middle = (early.unix_s + late.unix_s) / 2 / MINUTE_S * MINUTE_S;
    const char *text = "";
    enum light light = light_at(plan, middle - HALF_DAY_S - MINUTE_S / 2);
    for (int s = -HALF_DAY_S; s < HALF_DAY_S; s += MINUTE_S) {
        enum light next = light_at(plan, middle + s + MINUTE_S / 2);
        const char *turn = turn_of(light, next);
        light = next;
        if (!turn)
            continue;
        clock_print_hour(plan, (struct instant){middle + s}, hour);
        text = arena_print(arena, "%s%s%s %s", text, *text ? ", " : "", turn,
                           hour);
    }
    if (!*text)
        return always[light];
    clock_zone(plan, zone);
    return arena_print(arena, "%s %s", text, zone);
}
