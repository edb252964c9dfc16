#include "report/explain.h"

#include "report/leg_start.h"
#include "report/sheet.h"
#include "report/waypoint.h"
#include "report/words.h"
#include <math.h>

static const char *name_of(const struct plan_leg *leg, int system) {
    static const char *const names[SEA_SYSTEMS] = {"wind sea", "swell 1",
                                                   "swell 2", "swell 3"};
    switch (leg->roll.origin[system]) {
    case WAVE_ESTIMATED: /* the other is what an earlier wind left */
        return system == 0 ? "wind (est)" : "old (est)";
    case WAVE_SPLIT:
        return system == 0 ? "wind (part)" : "rest (part)";
    case WAVE_FORECAST:
        break;
    }
    return names[system];
}

/* Of the roll's square, in percent; a boat that does not roll has none. */
static double percent_of(double roll2_deg2, const struct plan_leg *leg) {
    double whole = leg->roll_deg * leg->roll_deg;
    return whole > 0.0 ? 100.0 * roll2_deg2 / whole : 0.0;
}

/* 80 columns; `waves` has 51. */
static void write_part(const char *name, const char *waves, double roll2_deg2,
                       const struct plan_leg *leg, FILE *stream) {
    fprintf(stream, "  %-11s%-51s%6.2f deg%4.0f %%\n", name, waves,
            sqrt(roll2_deg2), percent_of(roll2_deg2, leg));
}

/* Waves that meet her more seldom keep pace with her. */
static const double SELDOM_S = 99.0;

static void write_waves(struct arena *arena, const struct plan_leg *leg,
                        int system, FILE *stream) {
    const struct plan_roll_part *part = &leg->roll.system[system];
    const char *meets = "keeps pace";
    if (part->meets_s.known && part->meets_s.value < SELDOM_S)
        meets = arena_print(arena, "every %4.1f s", part->meets_s.value);
    write_part(name_of(leg, system),
               arena_print(arena, "%4.1f m %4.1f s %-25s%s", part->height_m,
                           part->period_s, words_off_bow(part->off_bow_deg),
                           meets),
               part->roll2_deg2, leg, stream);
}

static void write_leg(struct arena *arena, const struct plan *plan,
                      const struct waypoint *point, FILE *stream) {
    const struct plan_leg *leg = point->leg;
    char start[SHARP_TEXT_SIZE];
    leg_start_print(plan, leg, start);
    fprintf(stream, "\n  %-7s%-9s%s; roll %.2f deg rms; damping %.3f\n",
            point->name, start, words_rig_cell(leg->deck), leg->roll_deg,
            leg->roll.damping);
    for (int i = 0; i < SEA_SYSTEMS; i++)
        if (leg->roll.system[i].known)
            write_waves(arena, leg, i, stream);
    write_part("sails' own", "", leg->roll.sails_deg2, leg, stream);
}

static void write_key(struct arena *arena, const struct plan *plan,
                      FILE *stream) {
    const struct roller *roller = &plan->boat->roller;
    sheet_paragraph(
        stream, 2, 0,
        arena_print(arena,
                    "Roll period of the boat: %.1f s, %s. For each leg, means "
                    "over its time: damping by hull and sails, of critical; "
                    "of each wave system the significant height, the period, "
                    "where from, how often it meets her, its part of the roll "
                    "(rms). est: estimated from the wind, old: what an "
                    "earlier wind left; part: of a sea that is forecast as a "
                    "whole, told apart by the wind. sails' own: what "
                    "they drive, on a run. The parts add up in squares; their "
                    "shares are those of the squares.",
                    roller->period_s,
                    roller->period_estimated ? "estimated" : "measured"));
}

void explain_roll(const struct plan *plan, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    struct waypoints waypoints = waypoints_of(plan, &arena);
    sheet_heading(stream, "WHY SHE ROLLS");
    write_key(&arena, plan, stream);
    for (size_t i = 0; i < waypoints.count; i++)
        if (waypoints.items[i].starts_leg)
            write_leg(&arena, plan, &waypoints.items[i], stream);
    arena_free(&arena);
}
