#include "report/changed.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/sheet.h"
#include "report/words.h"
#include <math.h>
#include <stdlib.h>

/* Nearer to the old track than this she is on it. */
static const double ON_TRACK_M = METRES_PER_NMI;

/* From here on differences of times are told in hours. */
static const double HOURS_S = 6.0 * SECONDS_PER_HOUR;

/* More roll than this is told. */
static const double ROLL_DEG = 0.5;

/* "3 h 10 min later", "0 h 12 min sooner", "14 h sooner", "the same". */
static const char *later(struct arena *arena, double later_s) {
    const char *way = later_s > 0.0 ? "later" : "sooner";
    if (fabs(later_s) < SECONDS_PER_MINUTE)
        return "the same";
    if (fabs(later_s) < HOURS_S)
        return arena_print(arena, "%s %s", words_duration(arena, fabs(later_s)),
                           way);
    return arena_print(arena, "%.0f h %s", s_to_hours(fabs(later_s)), way);
}

/* --- arrival and deck work ------------------------------------------------ */

static void write_arrival(struct arena *arena, const struct plan *plan,
                          FILE *stream) {
    const struct previous *previous = plan->keeping->previous;
    char old[SHARP_TEXT_SIZE] = "not known", new[SHARP_TEXT_SIZE] = "not known";
    const char *difference = "";
    if (previous->reached)
        clock_print(plan, previous->arrive, old);
    if (plan->summary.reached)
        clock_print(plan, plan->summary.arrive, new);
    if (previous->reached && plan->summary.reached)
        difference =
            arena_print(arena, ": %s",
                        later(arena, instant_minus(plan->summary.arrive,
                                                   previous->arrive)));
    sheet_entry(stream, "Arrival", "was %s, now %s%s", old, new, difference);
}

static const struct plan_change *next_work(const struct plan *plan) {
    for (size_t i = 0; i < plan->change_count; i++)
        if (plan->changes[i].deck_work)
            return &plan->changes[i];
    return NULL;
}

static const char *order_at(struct arena *arena, const struct plan *plan,
                            const char *order, struct instant at) {
    char time[SHARP_TEXT_SIZE];
    clock_print(plan, at, time);
    return arena_print(arena, "%s, %s", order, time);
}

static void write_next(struct arena *arena, const struct plan *plan,
                       FILE *stream) {
    const struct previous_work *old =
        previous_next(plan->keeping->previous, plan->depart);
    const struct plan_change *new = next_work(plan);
    const char *was = "none", *now = "none", *difference = "";
    if (old)
        was = order_at(arena, plan, words_order(arena, old->kind, old->to),
                       old->at);
    if (new)
        now = order_at(arena, plan, words_order(arena, new->kind, new->to),
                       new->at);
    if (old && new && old->kind == new->kind && old->to.spar == new->to.spar)
        difference = arena_print(arena, ": %s",
                                 later(arena, instant_minus(new->at, old->at)));
    sheet_entry(stream, "Next work", "was %s", was);
    sheet_entry(stream, "", "now %s%s", now, difference);
}

static const char *spar_at(enum spar_place spar) {
    static const char *const words[] = {"stowed", "to port", "to starboard"};
    return words[spar];
}

/* Told where she is not rigged as the old plan would have her. */
static void write_rig(const struct plan *plan, FILE *stream) {
    enum spar_place old;
    enum spar_place now = plan->start.spar;
    if (previous_spar(plan->keeping->previous, plan->depart, &old) &&
        old != now)
        sheet_entry(stream, "Rig",
                    "the old plan has the spar %s by now; she has it %s",
                    spar_at(old), spar_at(now));
}

/* --- the old track -------------------------------------------------------- */

static const char *work_name(enum change_kind kind, bool many) {
    static const char *const words[CHANGE_KINDS][2] = {
        [CHANGE_SET] = {"set", "sets"},
        [CHANGE_GYBE] = {"gybe", "gybes"},
        [CHANGE_ACROSS] = {"crossing of the spar", "crossings of the spar"},
        [CHANGE_STOW] = {"stow", "stows"},
        [CHANGE_MAINSAIL_GYBE] = {"mainsail gybe", "mainsail gybes"},
        [CHANGE_TACK] = {"tack", "tacks"},
        [CHANGE_ROLL] = {"rolling away", "rollings away"},
        [CHANGE_UNROLL] = {"unrolling", "unrollings"},
    };
    return words[kind][many];
}

/* Clauses, to be joined as a sentence has them: "a, b and c". */
enum { CLAUSES = 2 * CHANGE_KINDS + 2 };

struct clauses {
    const char *items[CLAUSES];
    size_t count;
};

static const char *joined(struct arena *arena, const struct clauses *clauses) {
    const char *text = clauses->items[0];
    for (size_t i = 1; i < clauses->count; i++)
        text = arena_print(arena, "%s%s%s", text,
                           i + 1 == clauses->count ? " and " : ", ",
                           clauses->items[i]);
    return text;
}

/* "one more gybe in the dark". */
static void add_work(struct arena *arena, struct clauses *clauses, int more,
                     const char *const names[2], bool dark) {
    static const char *const numbers[] = {"", "one", "two", "three", "four"};
    int many = abs(more);
    const char *number = many < (int)(sizeof numbers / sizeof *numbers)
                             ? numbers[many]
                             : arena_print(arena, "%d", many);
    clauses->items[clauses->count++] =
        arena_print(arena, "%s %s %s %s", number, more > 0 ? "more" : "less",
                    names[many > 1], dark ? "in the dark" : "by day");
}

/* What someone has to go forward for, the dark first. */
static void add_all_work(struct arena *arena, struct clauses *clauses,
                         const struct plan_keeping *keeping) {
    for (int dark = 1; dark >= 0; dark--)
        for (int i = 0; i < CHANGE_KINDS; i++) {
            enum change_kind kind = (enum change_kind)i;
            const char *names[2] = {work_name(kind, false),
                                    work_name(kind, true)};
            if (keeping->more_work[i][dark] != 0)
                add_work(arena, clauses, keeping->more_work[i][dark], names,
                         dark != 0);
        }
}

static void add_roll(struct arena *arena, struct clauses *clauses,
                     double more_deg) {
    if (fabs(more_deg) >= ROLL_DEG)
        clauses->items[clauses->count++] =
            arena_print(arena, "%.1f deg %s roll", fabs(more_deg),
                        more_deg > 0.0 ? "more" : "less");
}

/* "costs 2 h 10 min", "takes no more time", "takes 0 h 30 min less". */
static void add_time(struct arena *arena, struct clauses *clauses,
                     double later_s) {
    const char *text = "takes no more time";
    if (fabs(later_s) >= SECONDS_PER_MINUTE)
        text = arena_print(arena, later_s > 0.0 ? "costs %s" : "takes %s less",
                           words_duration(arena, fabs(later_s)));
    clauses->items[clauses->count++] = text;
}

static const char *unknown(struct arena *arena,
                           const struct plan_keeping *keeping) {
    if (keeping->why == OBSTACLE_HORIZON)
        return "whether it is still good can't be told: the forecast ends on "
               "the way";
    return arena_print(arena, "it can't be kept to: stopped by %s",
                       obstacle_name(keeping->why));
}

const char *changed_verdict(struct arena *arena, const struct plan *plan) {
    const struct plan_keeping *keeping = plan->keeping;
    const struct plan_summary *old = &keeping->summary, *new = &plan->summary;
    if (!keeping->known || !new->reached)
        return unknown(arena, keeping);
    if (keeping->barred)
        return "it can't be kept to without work on deck outside the limits "
               "of the crew, or in the dark where deck_work forbids it";
    double weighed_s = old->cost_s - new->cost_s;
    struct clauses clauses = {.count = 0};
    add_time(arena, &clauses, old->elapsed_s - new->elapsed_s);
    add_all_work(arena, &clauses, keeping);
    add_roll(arena, &clauses, old->roll_mean_deg - new->roll_mean_deg);
    const char *price = joined(arena, &clauses);
    if (weighed_s > CHANGED_SAME_S)
        return arena_print(arena, "keeping to it %s; all weighed %s", price,
                           words_duration(arena, weighed_s));
    const char *within = arena_print(arena, "within %.0f min",
                                     CHANGED_SAME_S / SECONDS_PER_MINUTE);
    if (weighed_s < -CHANGED_SAME_S)
        within = arena_print(arena, "%s better than the new plan",
                             words_duration(arena, -weighed_s));
    return arena_print(arena, "still as good: keeping to it %s; all weighed %s",
                       price, within);
}

static void write_track(struct arena *arena, const struct plan *plan,
                        FILE *stream) {
    const struct plan_keeping *keeping = plan->keeping;
    char at[POSITION_TEXT_SIZE], arrive[SHARP_TEXT_SIZE];
    sheet_entry(stream, "Old track", "%s", changed_verdict(arena, plan));
    position_print(keeping->joined, at);
    const char *off = "on it now";
    if (keeping->off_m > ON_TRACK_M)
        off =
            arena_print(arena, "%.0f nmi off it now", m_to_nmi(keeping->off_m));
    const char *arrival = "";
    if (keeping->known) {
        clock_print(plan, keeping->summary.arrive, arrive);
        arrival = arena_print(arena, "; arrival that way %s", arrive);
    }
    sheet_entry(stream, "", "%s; timed by way of %s, %.0f nmi on%s", off, at,
                m_to_nmi(keeping->to_join_m), arrival);
}

void changed_write(const struct plan *plan, FILE *stream) {
    char depart[SHARP_TEXT_SIZE];
    struct arena arena;
    if (!plan->keeping)
        return;
    arena_init(&arena);
    clock_print_exact(plan, plan->keeping->previous->depart, depart);
    sheet_heading(stream, "SINCE THE OLD PLAN  '%s', which departs %s",
                  plan->keeping->previous->name, depart);
    write_arrival(&arena, plan, stream);
    write_next(&arena, plan, stream);
    write_rig(plan, stream);
    write_track(&arena, plan, stream);
    arena_free(&arena);
}
