#include "report/nights.h"

#include "earth/almanac.h"
#include "earth/moon.h"
#include "earth/rhumb.h"
#include "report/clock.h"
#include "report/sheet.h"

#include <math.h>

static const double HALF_DAY_S = 12.0 * SECONDS_PER_HOUR;
static const double NEXT_NIGHT_S = 6.0 * SECONDS_PER_HOUR;

/* --- where and when ------------------------------------------------------- */

/* Even speed along the legs; before and after the passage at its ends. */
static struct position place_at(const void *context, double unix_s) {
    const struct plan *plan = context;
    for (size_t i = 0; i < plan->leg_count; i++) {
        const struct plan_leg *leg = &plan->legs[i];
        double start_s = (double)leg->start.unix_s;
        double end_s = (double)leg->end.unix_s;
        if (unix_s <= start_s)
            return leg->from;
        if (unix_s < end_s)
            return rhumb_ahead(leg->from, leg->course_deg,
                               leg->distance_m * (unix_s - start_s) /
                                   (end_s - start_s));
    }
    return plan->legs[plan->leg_count - 1].to;
}

static double or_else(struct figure figure, double other) {
    return figure.known ? figure.value : other;
}

static bool is_dark(const struct night *night) {
    return night->sun_deg < SUN_CIVIL_DEG;
}

static bool is_light(const struct night *night) {
    return night->sun_deg > SUN_RISE_DEG;
}

static void put_moon(struct night *night, const struct observer *observer,
                     double depart_s) {
    double middle_s = night->middle_s;
    bool dark = is_dark(night);
    struct figure first = dark ? night->dusk_s : night->sunset_s;
    struct figure last = dark ? night->dawn_s : night->sunrise_s;
    double from_s = or_else(first, middle_s - HALF_DAY_S);
    double until_s = or_else(last, middle_s + HALF_DAY_S);
    if (depart_s > from_s && depart_s < until_s)
        from_s = depart_s;
    night->lit_frac = moon_lit_frac(moon_at(middle_s), sun_at(middle_s));
    night->moon_up_first =
        almanac_height_deg(ALMANAC_MOONRISE, observer, from_s) > 0.0;
    night->moonrise_s =
        almanac_next(ALMANAC_MOONRISE, observer, from_s, until_s);
    night->moonset_s = almanac_next(ALMANAC_MOONSET, observer, from_s, until_s);
}

static struct night night_about(const struct observer *observer,
                                double middle_s, double depart_s) {
    double from_s = middle_s - HALF_DAY_S, until_s = middle_s + HALF_DAY_S;
    struct night night = {
        .middle_s = middle_s,
        .sunset_s = almanac_next(ALMANAC_SUNSET, observer, from_s, middle_s),
        .dusk_s = almanac_next(ALMANAC_CIVIL_DUSK, observer, from_s, middle_s),
        .dawn_s = almanac_next(ALMANAC_CIVIL_DAWN, observer, middle_s, until_s),
        .sunrise_s = almanac_next(ALMANAC_SUNRISE, observer, middle_s, until_s),
        .sun_deg = sun_altitude_deg(
            sun_at(middle_s), observer->place(observer->context, middle_s))};
    put_moon(&night, observer, depart_s);
    return night;
}

/* A night without darkness counts by its middle. */
static bool is_under_way(const struct night *night, double depart_s,
                         double arrive_s) {
    double around_s = is_light(night) ? 0.0 : HALF_DAY_S;
    double first_s = or_else(night->sunset_s, night->middle_s - around_s);
    double last_s = or_else(night->sunrise_s, night->middle_s + around_s);
    return first_s < arrive_s && last_s > depart_s;
}

struct nights nights_of(const struct plan *plan, struct arena *arena) {
    struct nights nights = {NULL, 0};
    struct observer observer = {place_at, plan};
    double depart_s = (double)plan->depart.unix_s;
    double arrive_s = (double)plan->summary.arrive.unix_s;
    size_t capacity = 0;
    double from_s = depart_s - HALF_DAY_S;
    while (from_s < arrive_s + HALF_DAY_S) {
        double middle_s = almanac_midnight(&observer, from_s);
        struct night night = night_about(&observer, middle_s, depart_s);
        from_s = middle_s + NEXT_NIGHT_S;
        if (!is_under_way(&night, depart_s, arrive_s))
            continue;
        nights.items = arena_room(arena, nights.items, nights.count, &capacity,
                                  sizeof *nights.items);
        nights.items[nights.count++] = night;
    }
    return nights;
}

/* --- words ---------------------------------------------------------------- */

static struct instant instant_of(double unix_s) {
    return instant_plus((struct instant){0}, unix_s);
}

/* "18:44", or "-" where that does not happen. */
static const char *hour_of(struct arena *arena, const struct plan *plan,
                           struct figure unix_s) {
    char hour[CLOCK_HOUR_SIZE];
    if (!unix_s.known)
        return "-";
    clock_print_hour(plan, instant_of(unix_s.value), hour);
    return arena_copy(arena, hour);
}

/* ", sets 01:40", "" where she does not. */
static const char *turn_of(struct arena *arena, const struct plan *plan,
                           const char *word, struct figure unix_s) {
    if (!unix_s.known)
        return "";
    return arena_print(arena, ", %s %s", word, hour_of(arena, plan, unix_s));
}

static bool moon_turns(const struct night *night) {
    return night->moonrise_s.known || night->moonset_s.known;
}

static bool has_moon(const struct night *night) {
    return !is_light(night) && night->lit_frac >= NIGHTS_NEW_FRAC &&
           (moon_turns(night) || night->moon_up_first);
}

/* "62 %, sets 01:40", "62 %, stays up", "no moon"; `zone`: what stands
 * behind her times. */
static const char *moon_of(struct arena *arena, const struct plan *plan,
                           const struct night *night, const char *zone) {
    if (!has_moon(night))
        return "no moon";
    const char *lit = arena_print(arena, "%.0f %%", 100.0 * night->lit_frac);
    if (!moon_turns(night))
        return arena_print(arena, "%s, stays up", lit);
    const char *rises = turn_of(arena, plan, "rises", night->moonrise_s);
    const char *sets = turn_of(arena, plan, "sets", night->moonset_s);
    bool up = night->moon_up_first;
    return arena_print(arena, "%s%s%s%s", lit, up ? sets : rises,
                       up ? rises : sets, zone);
}

static const char *remark_of(const struct night *night) {
    if (!night->sunset_s.known && !night->sunrise_s.known)
        return "; the sun does not rise";
    if (!is_dark(night))
        return "; twilight all night";
    if (night->sun_deg > SUN_NAUTICAL_DEG)
        return "; not fully dark";
    return "";
}

static const char *night_words(struct arena *arena, const struct plan *plan,
                               const struct night *night, const char *zone) {
    if (is_light(night))
        return "the sun does not set";
    return arena_print(arena, "%s%s", moon_of(arena, plan, night, zone),
                       remark_of(night));
}

/* 40 columns in front of what is told of the moon. */
static const char row_layout[] = "%-11s%-8s%-6s%-6s%-9s%s";
enum { MOON_COLUMN = 40 };

static void write_row(struct arena *arena, const struct plan *plan,
                      const struct night *night, FILE *stream) {
    char day[SHARP_TEXT_SIZE];
    double first_s =
        or_else(night->sunset_s, or_else(night->dusk_s, night->middle_s));
    clock_print_day(plan, instant_of(first_s), day);
    const char *row = arena_print(arena, row_layout, day,
                                  hour_of(arena, plan, night->sunset_s),
                                  hour_of(arena, plan, night->dusk_s),
                                  hour_of(arena, plan, night->dawn_s),
                                  hour_of(arena, plan, night->sunrise_s),
                                  night_words(arena, plan, night, ""));
    sheet_paragraph(stream, 0, MOON_COLUMN, row);
}

void nights_write(const struct plan *plan, const struct nights *nights,
                  FILE *stream) {
    struct arena arena;
    if (nights->count == 0)
        return;
    arena_init(&arena);
    sheet_heading(stream, "NIGHTS");
    fprintf(stream, "%19s%s\n", "", "dark");
    fprintf(stream, row_layout, clock_heading(plan), "sunset", "from", "until",
            "sunrise", "moon\n");
    for (size_t i = 0; i < nights->count; i++)
        write_row(&arena, plan, &nights->items[i], stream);
    sheet_paragraph(
        stream, 0, 2,
        "Where the boat then is; the day is that of the sunset. "
        "dark: the sun more than 6 deg below the horizon; fully "
        "dark: 12 deg. moon: how much of it is lit, and when it rises "
        "and sets in the dark.");
    arena_free(&arena);
}

/* What has not been at departure. */
static struct figure to_come(const struct plan *plan, struct figure unix_s) {
    bool over = unix_s.value < (double)plan->depart.unix_s;
    return over ? figure_unknown() : unix_s;
}

/* `text` with ", sunset 18:20" behind it, if that is to come; no comma where it
 * comes first. */
static const char *with_turn(struct arena *arena, const struct plan *plan,
                             const char *text, const char *word,
                             struct figure unix_s) {
    unix_s = to_come(plan, unix_s);
    if (!unix_s.known)
        return text;
    return arena_print(arena, "%s%s%s %s", text, *text ? ", " : "", word,
                       hour_of(arena, plan, unix_s));
}

const char *nights_first(struct arena *arena, const struct plan *plan,
                         const struct nights *nights) {
    if (nights->count == 0)
        return NULL;
    const struct night *night = &nights->items[0];
    char name[CLOCK_ZONE_SIZE];
    clock_zone(plan, name);
    const char *zone = arena_print(arena, " %s", name);
    const char *words = night_words(arena, plan, night, zone);
    const char *text = with_turn(arena, plan, "", "sunset", night->sunset_s);
    text = with_turn(arena, plan, text, "dark from", night->dusk_s);
    text = with_turn(arena, plan, text, "dark until", night->dawn_s);
    text = with_turn(arena, plan, text, "sunrise", night->sunrise_s);
    return arena_print(arena, "%s%s%s%s", text,
                       *text ? arena_print(arena, "%s; ", zone) : "",
                       has_moon(night) ? "moon " : "", words);
}
