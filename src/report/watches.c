#include "report/watches.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/sheet.h"
#include "report/words.h"

#include <math.h>

static const double DAY_S = 24.0 * SECONDS_PER_HOUR;

static const char *name_at(const struct crew *crew, struct instant at) {
    return crew->names[crew_on_watch(crew, at)];
}

static const char *hour_of(struct arena *arena, const struct plan *plan,
                           struct instant at) {
    char hour[CLOCK_HOUR_SIZE];
    clock_print_hour(plan, at, hour);
    return arena_copy(arena, hour);
}

static const char *zone_of(struct arena *arena, const struct plan *plan) {
    char zone[CLOCK_ZONE_SIZE];
    clock_zone(plan, zone);
    return arena_copy(arena, zone);
}

/* "Ann to 08:00, then Bo to 12:00 UTC": the next `count` watches. */
static const char *next_watches(struct arena *arena, const struct plan *plan,
                                const char *then, int count) {
    const struct crew *crew = &plan->crew;
    const char *text = "";
    struct instant at = plan->depart;
    for (int i = 0; i < count; i++) {
        struct instant end = crew_watch_end(crew, at);
        text = arena_print(arena, "%s%s%s to %s", text, i > 0 ? then : "",
                           name_at(crew, at), hour_of(arena, plan, end));
        at = end;
    }
    return arena_print(arena, "%s %s", text, zone_of(arena, plan));
}

void watches_write_departure(const struct plan *plan, FILE *stream) {
    struct arena arena;
    if (plan->crew.count == 0)
        return;
    arena_init(&arena);
    if (plan->crew.count == 1)
        sheet_entry(stream, "Watch", "%s, alone", plan->crew.names[0]);
    else
        sheet_entry(stream, "Watch", "%s",
                    next_watches(&arena, plan, ", then ", 2));
    arena_free(&arena);
}

/* As sharply as the time of the work is known. */
static const char *hands_for(struct arena *arena, const struct plan *plan,
                             const struct plan_change *change) {
    const struct crew *crew = &plan->crew;
    struct instant early, late;
    if (crew->count == 1)
        return arena_print(arena, "%s, alone", crew->names[0]);
    const char *watch = name_at(crew, change->at);
    const char *called = crew->names[crew_called(crew, change->at)];
    clock_window(plan, change->at, &early, &late);
    bool sharp = crew_watch_end(crew, early).unix_s >= late.unix_s;
    return arena_print(arena,
                       sharp ? "%s has the watch, %s is called"
                             : "near a change of watch: %s and %s",
                       watch, called);
}

void watches_write_hands(const struct plan *plan,
                         const struct plan_change *change, FILE *stream) {
    struct arena arena;
    if (plan->crew.count == 0)
        return;
    arena_init(&arena);
    sheet_entry(stream, "Hands", "%s", hands_for(&arena, plan, change));
    arena_free(&arena);
}

/* "Ann 04:00-08:00, 16:00-20:00": one day's watches of one person. */
static const char *day_of(struct arena *arena, const struct plan *plan,
                          int person) {
    const struct crew *crew = &plan->crew;
    double round_s = crew->count * crew->watch_s;
    const char *text = arena_print(arena, "%s ", crew->names[person]);
    long rounds = lround(DAY_S / round_s);
    for (long i = 0; i < rounds; i++) {
        struct instant start = instant_plus(
            crew->first, person * crew->watch_s + (double)i * round_s);
        struct instant end = instant_plus(start, crew->watch_s);
        text =
            arena_print(arena, "%s%s%s-%s", text, i > 0 ? ", " : "",
                        hour_of(arena, plan, start), hour_of(arena, plan, end));
    }
    return text;
}

static void write_watches(struct arena *arena, const struct plan *plan,
                          FILE *stream) {
    const struct crew *crew = &plan->crew;
    const char *text = "";
    if (crew->count == 1) {
        sheet_entry(stream, "Watch", "%s, alone", crew->names[0]);
        return;
    }
    sheet_entry(stream, "Watches", "%.*f h each, one person at a time",
                fmod(crew->watch_s, SECONDS_PER_HOUR) > 0.0 ? 1 : 0,
                s_to_hours(crew->watch_s));
    if (!crew_is_daily(crew)) {
        int count = (int)ceil(DAY_S / crew->watch_s);
        sheet_entry(stream, "First day",
                    "%s; on in that order, the hours shift from day to day",
                    next_watches(arena, plan, ", ", count));
        return;
    }
    for (int i = 0; i < crew->count; i++)
        text = arena_print(arena, "%s%s%s", text, i > 0 ? "; " : "",
                           day_of(arena, plan, i));
    sheet_entry(stream, "Every day", "%s %s", text, zone_of(arena, plan));
}

static void write_works(struct arena *arena, const struct plan *plan,
                        const struct waypoints *waypoints, FILE *stream) {
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        const char *name = waypoint_name(waypoints, change);
        char at[SHARP_TEXT_SIZE];
        if (!change->deck_work)
            continue;
        clock_print_change(plan, change, at);
        sheet_entry(stream, name ? name : "Deck", "%s, for %s: %s", at,
                    words_duration(arena, change->seconds),
                    hands_for(arena, plan, change));
    }
}

/* "11 h 20 min a day", of a short passage "7 h 10 min in all". */
static const char *share_of(struct arena *arena, const struct plan *plan,
                            double seconds) {
    double days = plan->summary.elapsed_s / DAY_S;
    return days < 1.0
               ? arena_print(arena, "%s in all", words_duration(arena, seconds))
               : arena_print(arena, "%s a day",
                             words_duration(arena, seconds / days));
}

static const char *times(struct arena *arena, int count) {
    return count == 0   ? "never called"
           : count == 1 ? "called once"
                        : arena_print(arena, "called %d times", count);
}

static void write_rest(struct arena *arena, const struct plan *plan, int person,
                       FILE *stream) {
    const struct crew_rest *rest = &plan->crew.rest[person];
    const char *name = plan->crew.names[person];
    const char *longest = words_duration(arena, rest->longest_s);
    if (plan->crew.count == 1)
        sheet_item(stream, "-",
                   arena_print(arena,
                               "%s, alone: never off watch; longest without "
                               "work on deck %s",
                               name, longest));
    else
        sheet_item(stream, "-",
                   arena_print(arena,
                               "%s: longest unbroken %s; rest %s, of it %s "
                               "below the easy roll; %s",
                               name, longest,
                               share_of(arena, plan, rest->rest_s),
                               share_of(arena, plan, rest->easy_s),
                               times(arena, rest->called)));
}

void watches_write(const struct plan *plan, const struct waypoints *waypoints,
                   FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    sheet_heading(stream, "WATCHES AND REST");
    if (plan->crew.count == 0) {
        sheet_paragraph(stream, 2, 0,
                        "not worked out: the passage file has no [crew]");
        return;
    }
    write_watches(&arena, plan, stream);
    write_works(&arena, plan, waypoints, stream);
    for (int i = 0; i < plan->crew.count; i++)
        write_rest(&arena, plan, i, stream);
    if (plan->crew.count > 1)
        sheet_paragraph(
            stream, 2, 0,
            arena_print(&arena,
                        "Rest: off watch and not called for work on deck, "
                        "which takes two. Easy roll: up to %g deg rms.",
                        plan->boat->comfort.easy_roll_deg));
    arena_free(&arena);
}
