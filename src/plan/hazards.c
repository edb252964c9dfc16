#include "plan/hazards.h"

#include "earth/geodesic.h"
#include "earth/rhumb.h"
#include "plan/marks.h"

#include <math.h>

/* --- zones near the way ---------------------------------------------------
 */

/* The way that the crew would go if nothing barred it: geodesics, in rhumb
 * lines as short as this. */
static const double STRAIGHT_M = 50.0 * METRES_PER_NMI;

static bool bars_between(const struct zone *zone, struct position from,
                         struct position to) {
    struct geodesic line = geodesic_between(from, to);
    int parts = 1 + (int)(line.distance_m / STRAIGHT_M);
    struct position last = from;
    for (int i = 1; i <= parts; i++) {
        struct position next =
            i == parts ? to
                       : geodesic_ahead(from, line.course_start_deg,
                                        line.distance_m * i / parts);
        if (zone_meets(zone, last, next))
            return true;
        last = next;
    }
    return false;
}

static bool is_in_straight_way(const struct zone *zone, struct stops stops) {
    for (size_t i = 0; i + 1 < stops.count; i++)
        if (bars_between(zone, stops.places[i], stops.places[i + 1]))
            return true;
    return false;
}

static double off_legs_m(const struct plan *plan, const struct zone *zone) {
    double least_m = PLAN_ZONE_M;
    for (size_t i = 0; i < plan->leg_count; i++)
        least_m = zone_segment_distance_m(zone, plan->legs[i].from,
                                          plan->legs[i].to, least_m);
    return least_m;
}

void hazards_find_zones(struct plan *plan, const struct water *water,
                        struct stops stops, struct arena *arena) {
    const struct zones *zones = &water->zones;
    plan->all_zone_count = zones->count;
    plan->zones = arena_alloc(arena, zones->count + 1, sizeof *plan->zones);
    for (size_t i = 0; i < zones->count; i++) {
        const struct zone *zone = &zones->items[i];
        bool straight = is_in_straight_way(zone, stops);
        double off_m = off_legs_m(plan, zone);
        if (!straight && off_m >= PLAN_ZONE_M)
            continue;
        plan->zones[plan->zone_count++] =
            (struct plan_zone){.name = zone->name,
                               .distance_m = off_m,
                               .in_straight_way = straight,
                               .from_known = zone->from_known,
                               .until_known = zone->until_known,
                               .from = zone->from,
                               .until = zone->until};
    }
}

/* --- what a track does wrong ------------------------------------------------
 */

struct teller {
    const struct plan *plan;
    const struct water *water;
    void (*warn)(void *context, const char *text);
    void *context;
    struct arena *arena;
    int crossings; /* so far */
};

/* Beyond a crossing one looks on from here. */
static const double STEP_M = 2.0;

/* More crossings are only counted; and no more are looked for on one leg. */
enum { TOLD = 20, LOOKED_FOR = 200 };

static void tell_crossing(struct teller *teller, size_t leg, const char *what,
                          struct position at) {
    if (++teller->crossings > TOLD)
        return;
    char place[POSITION_TEXT_SIZE];
    position_print(at, place);
    teller->warn(teller->context, arena_print(teller->arena, "leg %zu %s %s",
                                              leg + 1, what, place));
}

/* Each place where the leg goes from sea to land; false if it is all sea. */
static bool tell_land(struct teller *teller, size_t index) {
    const struct plan_leg *leg = &teller->plan->legs[index];
    const struct water *water = teller->water;
    struct position here = leg->from, at;
    bool inland = water_is_inland(water, here), dry = inland;
    if (inland && index == 0)
        tell_crossing(teller, index, "begins on land,", here);
    for (int i = 0; i < LOOKED_FOR; i++) {
        if (!coast_first_crossing(water->coast, here, leg->to, &at))
            return dry;
        if (!inland)
            tell_crossing(teller, index, "crosses land at", at);
        dry = true;
        if (rhumb_between(at, leg->to).distance_m <= STEP_M)
            return dry;
        here = rhumb_ahead(at, leg->course_deg, STEP_M);
        inland = water_is_inland(water, here);
    }
    return dry;
}

/* Legs one after the other that are nearer to the land than the clearance. */
struct near_legs {
    size_t first, count;
    double least_m;
};

static void tell_near(const struct teller *teller, struct near_legs *near) {
    if (near->count == 0)
        return;
    struct arena *arena = teller->arena;
    const char *legs =
        near->count == 1
            ? arena_print(arena, "leg %s comes", mark_leg(arena, near->first))
            : arena_print(arena, "legs %s to %s come",
                          mark_leg(arena, near->first),
                          mark_leg(arena, near->first + near->count - 1));
    teller->warn(teller->context,
                 arena_print(arena,
                             "%s within %.2f nmi of the land; the clearance is "
                             "%.2f nmi",
                             legs, m_to_nmi(near->least_m),
                             m_to_nmi(teller->water->clearance_m)));
    near->count = 0;
}

static void note_near(struct near_legs *near, size_t index, double off_m) {
    if (near->count == 0)
        *near = (struct near_legs){index, 0, off_m};
    near->count++;
    near->least_m = fmin(near->least_m, off_m);
}

static bool is_covered(const struct teller *teller,
                       const struct plan_leg *leg) {
    const struct coast *coast = teller->water->coast;
    return coast_covers(coast, leg->from) && coast_covers(coast, leg->to);
}

static void tell_legs(struct teller *teller) {
    const struct plan *plan = teller->plan;
    struct near_legs near = {.count = 0};
    size_t unknown = 0;
    for (size_t i = 0; i < plan->leg_count; i++) {
        const struct plan_leg *leg = &plan->legs[i];
        double off_m = HUGE_VAL;
        if (!is_covered(teller, leg))
            unknown++;
        else if (!tell_land(teller, i) && plan->timed_only)
            off_m = water_off_m(teller->water, leg->from, leg->to);
        if (off_m < teller->water->clearance_m)
            note_near(&near, i, off_m);
        else
            tell_near(teller, &near);
    }
    tell_near(teller, &near);
    if (teller->crossings > TOLD)
        teller->warn(teller->context,
                     arena_print(teller->arena,
                                 "land is crossed at %d more places",
                                 teller->crossings - TOLD));
    if (unknown > 0)
        teller->warn(teller->context,
                     arena_print(teller->arena,
                                 "%zu legs leave the coast that was loaded: "
                                 "NOT CHECKED for land",
                                 unknown));
}

static size_t leg_at(const struct plan *plan, struct instant at) {
    size_t leg = 0;
    while (leg + 1 < plan->leg_count && plan->legs[leg].end.unix_s <= at.unix_s)
        leg++;
    return leg;
}

static void tell_zone(const struct teller *teller, const struct zone *zone,
                      const struct plan_point *at) {
    struct arena *arena = teller->arena;
    char place[POSITION_TEXT_SIZE];
    position_print(at->position, place);
    teller->warn(teller->context,
                 arena_print(teller->arena,
                             "leg %s enters the zone '%s' about %s, %s",
                             mark_leg(arena, leg_at(teller->plan, at->at)),
                             zone->name, mark_time(arena, at->at), place));
}

/* Each time that the track comes into it. */
static void tell_entries(const struct teller *teller, const struct zone *zone) {
    const struct plan *plan = teller->plan;
    bool inside = false;
    for (size_t i = 0; i + 1 < plan->track_count; i++) {
        const struct plan_point *a = &plan->track[i], *b = a + 1;
        bool meets =
            zone_is_active(zone, (double)a->at.unix_s, (double)b->at.unix_s) &&
            zone_meets(zone, a->position, b->position);
        if (meets && !inside)
            tell_zone(teller, zone, a);
        inside = meets;
    }
}

void hazards_warn(const struct plan *plan, const struct water *water,
                  void (*warn)(void *context, const char *text), void *context,
                  struct arena *arena) {
    struct teller teller = {plan, water, warn, context, arena, 0};
    if (water->coast)
        tell_legs(&teller);
    for (size_t i = 0; plan->timed_only && i < water->zones.count; i++)
        tell_entries(&teller, &water->zones.items[i]);
}
