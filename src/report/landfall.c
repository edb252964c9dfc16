#include "report/landfall.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/sheet.h"

#include <math.h>

/* Up to here quarters of an hour mean something, beyond hours. */
static const double QUARTERS_S = 48.0 * SECONDS_PER_HOUR;

/* On the ship's clock, to the quarter or the hour before, or after. */
static struct instant rounded(const struct plan *plan, struct instant at,
                              bool up) {
    bool quarters = plan->summary.elapsed_s <= QUARTERS_S;
    double step_s = (quarters ? 0.25 : 1.0) * SECONDS_PER_HOUR;
    double shown_s = (double)at.unix_s + plan->display.zone_s;
    double steps = up ? ceil(shown_s / step_s) : floor(shown_s / step_s);
    return instant_plus(at, steps * step_s - shown_s);
}

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
    clock_print_exact(plan, rounded(plan, arrival->early, false), early);
    clock_print_exact(plan, rounded(plan, arrival->late, true), late);
    sheet_entry(stream, "Early, late", "between %s and %s%s", early, late,
                light_of(&arena, plan));
    arena_free(&arena);
}
