#include "report/zone_list.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/sheet.h"

static const char *time_of(struct arena *arena, const struct plan *plan,
                           const struct plan_zone *zone) {
    char from[SHARP_TEXT_SIZE], until[SHARP_TEXT_SIZE];
    clock_print_exact(plan, zone->from, from);
    clock_print_exact(plan, zone->until, until);
    const char *text = "";
    if (zone->from_known)
        text = arena_print(arena, " from %s", from);
    if (zone->until_known)
        text = arena_print(arena, "%s until %s", text, until);
    return *text ? arena_print(arena, "; closed%s", text) : "";
}

static void write_zone(struct arena *arena, const struct plan *plan,
                       const struct plan_zone *zone, FILE *stream) {
    bool far = zone->distance_m >= PLAN_ZONE_M;
    bool timed = zone->from_known || zone->until_known;
    const char *off =
        zone->distance_m > 0.0
            ? arena_print(arena, "%s%.1f nmi off the legs", far ? "over " : "",
                          m_to_nmi(zone->distance_m))
        : timed && !plan->timed_only ? "sailed outside its time"
                                     : "a leg goes into it";
    sheet_item(stream, "-",
               arena_print(arena, "%s: %s%s%s", zone->name, off,
                           zone->in_straight_way ? ", in the straight way" : "",
                           time_of(arena, plan, zone)));
}

void zone_list_write(const struct plan *plan, FILE *stream) {
    struct arena arena;
    if (plan->all_zone_count == 0)
        return;
    arena_init(&arena);
    sheet_heading(stream, "ZONES TO KEEP OUT OF");
    for (size_t i = 0; i < plan->zone_count; i++)
        write_zone(&arena, plan, &plan->zones[i], stream);
    size_t others = plan->all_zone_count - plan->zone_count;
    if (others > 0)
        sheet_paragraph(stream, 2, 0,
                        arena_print(&arena, "far from the way: %zu%s", others,
                                    plan->zone_count > 0 ? " more" : ""));
    arena_free(&arena);
}
