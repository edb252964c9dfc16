#include "report/landfall.h"

#include "plan/arrival.h"
#include "report/clock.h"
#include "report/sheet.h"

static const char *light_of(struct arena *arena, const struct plan *plan) {
    const struct plan_arrival *arrival = &plan->arrival;
    char until[CLOCK_HOUR_SIZE], from[CLOCK_HOUR_SIZE], zone[CLOCK_ZONE_SIZE];
    const char *text = "";
    clock_zone(plan, zone);
    if (arrival->dark && !arrival->light_known)
        return "; dark all day";
    if (arrival->dark) {
        clock_print_hour(plan, arrival->light_from, from);
        return arena_print(arena,
                           "; in the dark, light from %s %s: slow down or "
                           "stand off until then",
                           from, zone);
    }
    clock_print_hour(plan, arrival->dark_until, until);
    clock_print_hour(plan, arrival->dark_from, from);
    if (arrival->dark_before)
        text = arena_print(arena, "; dark until %s %s: if early, slow down",
                           until, zone);
    if (arrival->dark_after)
        text = arena_print(arena,
                           "%s; dark from %s %s: if late, slow down and enter "
                           "by day",
                           text, from, zone);
    return *text ? text : "; by day, be it early or late";
}

void landfall_write(const struct plan *plan, FILE *stream) {
    const struct plan_arrival *arrival = &plan->arrival;
    struct arena arena;
    char early[SHARP_TEXT_SIZE], late[SHARP_TEXT_SIZE];
    if (!arrival->known)
        return;
    arena_init(&arena);
    clock_print_exact(plan, arrival_early(plan), early);
    clock_print_exact(plan, arrival_late(plan), late);
    sheet_entry(stream, "Early, late", "between %s and %s%s", early, late,
                light_of(&arena, plan));
    arena_free(&arena);
}
