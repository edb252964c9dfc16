#include "report/light.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/leg_names.h"
#include "report/nights.h"
#include "report/sheet.h"

#include <math.h>

static bool hour_is_known(const struct plan *plan, struct instant at) {
    struct instant early, late;
    clock_window(plan, at, &early, &late);
    return instant_minus(late, early) <= SECONDS_PER_HOUR;
}

static const char *moon_words(struct arena *arena, const struct plan_sky *sky) {
    if (!sky->moon_up || sky->moon_lit_frac < NIGHTS_NEW_FRAC)
        return "no moon";
    return arena_print(arena, "moon %.0f deg up, %.0f %% lit",
                       fmax(sky->moon_deg, 0.0), 100.0 * sky->moon_lit_frac);
}

static const char *sun_words(struct arena *arena, const struct plan_sky *sky) {
    return arena_print(arena, "sun %.0f deg up", fmax(sky->sun_deg, 0.0));
}

static bool is_dark(const struct plan_sky *sky) {
    return sky->sun_deg <= SUN_NAUTICAL_DEG;
}

/* Begun in better light than it ends in: the sky is that of its start. */
static bool runs_into_night(const struct plan_change *change) {
    return change->light == LIGHT_NIGHT && change->sky.sun_deg > SUN_CIVIL_DEG;
}

static bool runs_into_twilight(const struct plan_change *change) {
    return change->light == LIGHT_TWILIGHT &&
           change->sky.sun_deg > SUN_RISE_DEG;
}

const char *light_at(struct arena *arena, const struct plan *plan,
                     const struct plan_change *change) {
    static const char *const words[] = {"by day", "in twilight", "at night"};
    const struct plan_sky *sky = &change->sky;
    bool known = hour_is_known(plan, change->at);
    if (runs_into_night(change) && known)
        return arena_print(arena, "night falls before it is done, %s",
                           moon_words(arena, sky));
    if (change->light == LIGHT_NIGHT && known)
        return arena_print(arena, "at night, %s, %s",
                           is_dark(sky) ? "dark" : "in nautical twilight",
                           moon_words(arena, sky));
    if (change->light == LIGHT_NIGHT)
        return "at night, moon: see NIGHTS";
    if (change->light == LIGHT_TWILIGHT && known)
        return runs_into_twilight(change) ? "into civil twilight"
                                          : "in civil twilight";
    if (change->light == LIGHT_DAY && known)
        return arena_print(arena, "by day, %s", sun_words(arena, sky));
    return words[change->light];
}

const char *light_closer(struct arena *arena, const struct plan *plan,
                         const struct plan_change *change) {
    const struct plan_sky *sky = &change->sky;
    if (!hour_is_known(plan, change->at))
        return change->light == LIGHT_NIGHT ? "moon: see NIGHTS" : NULL;
    if (runs_into_night(change))
        return arena_print(arena, "into the night, %s", moon_words(arena, sky));
    if (change->light == LIGHT_NIGHT)
        return arena_print(arena, "%s, %s",
                           is_dark(sky) ? "dark" : "nautical twilight",
                           moon_words(arena, sky));
    return change->light == LIGHT_TWILIGHT ? "civil twilight"
                                           : sun_words(arena, sky);
}

/* --- legs ----------------------------------------------------------------- */

/* In the order in which they are told; day goes without saying. */
enum kind { DARK, NAUTICAL, CIVIL, UNKNOWN, DAY, KINDS };

static enum kind kind_of(const struct plan *plan, const struct plan_leg *leg) {
    double sun_deg = leg->sky.sun_deg;
    if (!hour_is_known(plan, leg->start))
        return UNKNOWN;
    if (sun_deg > SUN_RISE_DEG)
        return DAY;
    if (sun_deg >= SUN_CIVIL_DEG)
        return CIVIL;
    return sun_deg > SUN_NAUTICAL_DEG ? NAUTICAL : DARK;
}

void light_write_legs(const struct plan *plan,
                      const struct waypoints *waypoints, FILE *stream) {
    static const char *const words[DAY] = {"dark", "nautical twilight",
                                           "civil twilight",
                                           "the hour is not known, see NIGHTS"};
    struct leg_names names[KINDS] = {{.text = NULL}};
    const char *text = "";
    struct arena arena;
    arena_init(&arena);
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (!point->starts_leg)
            continue;
        leg_names_add(&names[kind_of(plan, point->leg)], point, &arena);
    }
    for (int kind = 0; kind < DAY; kind++)
        if (names[kind].first)
            text =
                arena_print(&arena, "%s%s%s: %s", text, *text ? "; " : "",
                            words[kind], leg_names_text(&names[kind], &arena));
    if (*text)
        sheet_paragraph(
            stream, 0, 2,
            arena_print(&arena, "light where a leg starts: %s%s", text,
                        names[DAY].first ? "; the others: day" : ""));
    arena_free(&arena);
}
