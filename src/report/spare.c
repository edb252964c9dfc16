#include "report/spare.h"

#include "report/clock.h"
#include "report/sheet.h"
#include "report/words.h"

static const char hows[] = "hove-to or standing off and on";

static bool waits(const struct plan_leg *leg) {
    return leg->wait_s >= PLAN_WAIT_TOLD_S;
}

static bool is_slow(const struct plan_leg *leg) {
    return leg->pace_frac > 0.0;
}

static const char *slow_words(struct arena *arena, const struct plan_leg *leg) {
    return arena_print(arena, "slow down to %.1f kn to arrive by daylight",
                       mps_to_kn(leg->stw_mps));
}

static const char *wait_words(struct arena *arena, const struct plan_leg *leg) {
    return arena_print(arena, "first wait %s here, %s, to arrive by daylight",
                       words_duration(arena, leg->wait_s), hows);
}

const char *spare_of_leg(struct arena *arena, const struct plan_leg *leg) {
    return arena_print(
        arena, "%s%s%s%s", waits(leg) ? wait_words(arena, leg) : "",
        waits(leg) ? "; " : "", is_slow(leg) ? slow_words(arena, leg) : "",
        is_slow(leg) ? "; " : "");
}

void spare_write_leg(const struct plan_leg *leg, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    if (waits(leg))
        sheet_entry(stream, "Wait", "%s", wait_words(&arena, leg));
    if (is_slow(leg))
        sheet_entry(stream, "Pace", "%s", slow_words(&arena, leg));
    arena_free(&arena);
}

static const struct plan_leg *first_leg(const struct plan *plan,
                                        bool (*has)(const struct plan_leg *)) {
    for (size_t i = 0; i < plan->leg_count; i++)
        if (has(&plan->legs[i]))
            return &plan->legs[i];
    return NULL;
}

void spare_write_head(const struct plan *plan, FILE *stream) {
    const struct plan_leg *slow = first_leg(plan, is_slow);
    const struct plan_leg *wait = first_leg(plan, waits);
    struct arena arena;
    char at[SHARP_TEXT_SIZE];
    arena_init(&arena);
    if (slow) {
        clock_print(plan, slow->start, at);
        sheet_entry(stream, "Slow down",
                    "from %s on, to %.0f %% of her speed, to arrive by "
                    "daylight",
                    at, 100.0 * slow->pace_frac);
    }
    if (wait) {
        clock_print(plan, wait->start, at);
        sheet_entry(stream, "Wait", "%s from %s on, %s, to arrive by daylight",
                    words_duration(&arena, wait->wait_s), at, hows);
    }
    arena_free(&arena);
}

void spare_write_legs(const struct waypoints *waypoints, FILE *stream) {
    struct arena arena;
    const char *slow = "", *wait = "";
    arena_init(&arena);
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (point->starts_leg && is_slow(point->leg))
            slow =
                arena_print(&arena, "%s%s %s %.1f kn", slow, *slow ? "," : "",
                            point->name, mps_to_kn(point->leg->stw_mps));
        if (point->starts_leg && waits(point->leg))
            wait = arena_print(&arena, "%s%s %s %s", wait, *wait ? "," : "",
                               point->name,
                               words_duration(&arena, point->leg->wait_s));
    }
    if (*slow)
        sheet_paragraph(stream, 0, 2,
                        arena_print(&arena,
                                    "SLOW DOWN to arrive by daylight, speed "
                                    "through the water:%s",
                                    slow));
    if (*wait)
        sheet_paragraph(stream, 0, 2,
                        arena_print(&arena,
                                    "WAIT first to arrive by daylight, %s:%s",
                                    hows, wait));
    arena_free(&arena);
}
