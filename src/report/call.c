#include "report/call.h"

#include "base/units.h"
#include "report/leg_names.h"
#include "report/limits.h"
#include "report/sheet.h"
#include "report/words.h"
#include "voyage/conditions.h"
#include "voyage/voyage.h"

#include <math.h>

/* Legs that are sailed alike. */
struct group {
    enum sail_mode mode;
    int reefs;
    bool beating;
    double tws_mps; /* the strongest mean wind of them */
    struct figure gust_mps;
    const struct plan_leg *only; /* NULL where they are several */
    struct leg_names legs;
};

static struct group group_of(const struct plan_leg *leg) {
    return (struct group){.mode = leg->mode,
                          .reefs = leg->reefs,
                          .tws_mps = leg->tws_mps,
                          .gust_mps = leg->gust_mps,
                          .beating = leg->beating,
                          .only = leg,
                          .legs = {.text = NULL}};
}

static bool is_drawing(const struct group *group) {
    return group->mode == MODE_WING || group->mode == MODE_POLED_REACH;
}

static double spar_wind_mps(const struct plan *plan,
                            const struct group *group) {
    const struct spar *spar = &plan->boat->spar;
    return group->mode == MODE_WING ? spar->wing_max_wind_mps
                                    : spar->reach_max_wind_mps;
}

static double spar_gust_mps(const struct plan *plan,
                            const struct group *group) {
    const struct spar *spar = &plan->boat->spar;
    return group->mode == MODE_WING ? spar->wing_max_gust_mps
                                    : spar->reach_max_gust_mps;
}

/* --- call ------------------------------------------------------------------
 */

/* The reef that comes after those that are in; NULL where there is none. */
static const struct reef *next_reef(const struct plan *plan,
                                    const struct group *group) {
    for (size_t i = 0; i < plan->boat->reef_count; i++)
        if (plan->boat->reefs[i].number > group->reefs)
            return &plan->boat->reefs[i];
    return NULL;
}

/* A limit that the rising wind meets, and why it is one. */
struct limit {
    struct figure mps;
    const char *why;
};

static void take_lower(struct limit *limit, double mps, const char *why) {
    if (!limit->mps.known || mps < limit->mps.value)
        *limit = (struct limit){figure_of(mps), why};
}

/* "18 kn (reef 2 is due)": the first limit that the mean wind meets as it
 * rises; unknown where there is none. */
static struct limit wind_limit(struct arena *arena, const struct plan *plan,
                               const struct group *group) {
    const struct reef *reef = next_reef(plan, group);
    struct limit limit = {.why = NULL};
    if (is_drawing(group))
        take_lower(&limit, spar_wind_mps(plan, group), "the spar's limit");
    if (plan->max_wind_mps.known)
        take_lower(&limit, plan->max_wind_mps.value, "max_wind");
    if (reef)
        take_lower(&limit, reef->above_mps,
                   arena_print(arena, "reef %d is due", reef->number));
    if (!limit.mps.known && group->gust_mps.known)
        take_lower(&limit, group->gust_mps.value,
                   "the strongest gust expected");
    return limit;
}

/* That of the spar; with no sail on it, that of a wind as gusty as can be
 * expected whose mean is the limit. */
static struct limit gust_limit(const struct plan *plan,
                               const struct group *group,
                               const struct limit *wind) {
    struct limit limit = {.why = NULL};
    if (is_drawing(group))
        take_lower(&limit, spar_gust_mps(plan, group), "the spar's limit");
    else if (wind->mps.known)
        take_lower(&limit, CONDITIONS_GUST_FACTOR * wind->mps.value,
                   "1.4 x that mean");
    if (plan->max_gust_mps.known)
        take_lower(&limit, plan->max_gust_mps.value, "max_gust");
    return limit;
}

/* Of a headsail that draws from the spar. */
static const char *spar_angles(struct arena *arena, const struct plan *plan,
                               enum sail_mode mode) {
    double low_deg, high_deg;
    voyage_spar_range(plan->boat, mode, &low_deg, &high_deg);
    if (high_deg >= 180.0)
        return arena_print(arena,
                           "AWA comes under %.0f deg, she runs by the lee "
                           "past TWA %.0f deg (wind on the boom's side)",
                           low_deg, LIMITS_LEE_TWA_DEG);
    return arena_print(arena, "AWA leaves %.0f to %.0f deg", low_deg, high_deg);
}

/* With no sail on the spar it is a shift of the wind that asks for another
 * look at the plan. */
static const char *shift_of(struct arena *arena, const struct group *group) {
    if (group->beating)
        return "she can't lay her course";
    if (!group->only)
        return arena_print(arena, "AWA goes %.0f deg off that of its leg",
                           CALL_SHIFT_DEG);
    double awa_deg = fabs(group->only->awa_deg);
    double low_deg = fmax(awa_deg - CALL_SHIFT_DEG, CALL_CLOSEST_DEG);
    double high_deg = awa_deg + CALL_SHIFT_DEG;
    if (high_deg < CALL_ASTERN_DEG)
        return arena_print(arena, "AWA leaves %.0f to %.0f deg", low_deg,
                           high_deg);
    return arena_print(arena,
                       "AWA comes under %.0f deg, she runs by the lee past "
                       "TWA %.0f deg",
                       low_deg, LIMITS_LEE_TWA_DEG);
}

static const char *call_for(struct arena *arena, const struct plan *plan,
                            const struct group *group) {
    struct limit wind = wind_limit(arena, plan, group);
    struct limit gust = gust_limit(plan, group, &wind);
    const char *angle = is_drawing(group)
                            ? spar_angles(arena, plan, group->mode)
                            : shift_of(arena, group);
    const char *mean = "the wind is not as told here";
    if (wind.mps.known)
        mean = arena_print(arena, "the mean true wind passes %.0f kn (%s)",
                           mps_to_kn(wind.mps.value), wind.why);
    if (plan->summary.elapsed_s <= 0.0) /* she lies there, on no course */
        angle = arena_print(arena, "the wind shifts %.0f deg", CALL_SHIFT_DEG);
    if (!gust.mps.known)
        return arena_print(arena, "if %s, or %s", angle, mean);
    return arena_print(arena, "if %s, %s, or a gust passes %.0f kn (%s)", angle,
                       mean, mps_to_kn(gust.mps.value), gust.why);
}

/* --- squall ----------------------------------------------------------------
 */

/* "; reef 3 is due", "" where that wind asks for no more. */
static const char *reef_in(struct arena *arena, const struct plan *plan,
                           const struct group *group, double wind_mps) {
    int reefs = boat_reefs(plan->boat, wind_mps);
    if (reefs <= group->reefs)
        return "";
    return arena_print(arena, "; reef %d is due%s", reefs,
                       is_drawing(group) ? ", once the headsail is rolled"
                                         : ": reef before it comes");
}

static const char *squall_for(struct arena *arena, const struct plan *plan,
                              const struct group *group) {
    double wind_mps = group->tws_mps + kn_to_mps(CALL_SQUALL_KN);
    const char *reef = reef_in(arena, plan, group, wind_mps);
    const char *more =
        arena_print(arena, "%.0f kn more make %.0f kn of true wind",
                    CALL_SQUALL_KN, mps_to_kn(wind_mps));
    double most_kn = mps_to_kn(spar_wind_mps(plan, group));
    if (group->mode == MODE_ROLLED)
        return arena_print(arena,
                           "%s: the headsail stays rolled, the spar stays out; "
                           "nobody goes forward%s",
                           more, reef);
    if (!is_drawing(group))
        return arena_print(arena,
                           "%s: roll the headsail away in part or "
                           "whole, from the cockpit%s",
                           more, reef);
    if (wind_mps > spar_wind_mps(plan, group))
        return arena_print(arena,
                           "%s, above the spar's limit of %.0f kn: roll the "
                           "headsail away from the cockpit; the spar stays "
                           "out; nobody goes forward%s",
                           more, most_kn, reef);
    return arena_print(arena,
                       "%s, within the spar's limit of %.0f kn: be ready to "
                       "roll the headsail away from the cockpit; the spar "
                       "stays out; nobody goes forward%s",
                       more, most_kn, reef);
}

/* --- what is written -------------------------------------------------------
 */

void call_write_departure(const struct plan *plan, FILE *stream) {
    struct arena arena;
    struct group group = group_of(&plan->legs[0]);
    arena_init(&arena);
    sheet_entry(stream, "Call", "the skipper %s",
                call_for(&arena, plan, &group));
    sheet_entry(stream, "Squall", "%s", squall_for(&arena, plan, &group));
    arena_free(&arena);
}

/* Adds a leg where it belongs. */
static void add_leg(struct arena *arena, const struct waypoint *point,
                    struct group *groups, size_t *count) {
    struct group own = group_of(point->leg);
    size_t i = 0;
    while (i < *count &&
           (groups[i].mode != own.mode || groups[i].reefs != own.reefs ||
            groups[i].beating != own.beating))
        i++;
    struct group *group = &groups[i];
    if (i == *count)
        groups[(*count)++] = own;
    else
        group->only = NULL;
    group->tws_mps = fmax(group->tws_mps, own.tws_mps);
    group->gust_mps = figure_max(group->gust_mps, own.gust_mps);
    leg_names_add(&group->legs, point, arena);
}

static const char *rig_of(struct arena *arena, const struct plan *plan,
                          const struct group *group) {
    static const char *const words[] = {[MODE_STOWED] = "spar stowed",
                                        [MODE_WING] = "wing-and-wing",
                                        [MODE_POLED_REACH] = "poled reach",
                                        [MODE_ROLLED] =
                                            "headsail rolled, spar out"};
    const char *word = words[group->mode];
    if (plan->boat->reef_count == 0)
        return word;
    if (group->reefs == 0)
        return arena_print(arena, "%s, no reef", word);
    return arena_print(arena, "%s, reef %d", word, group->reefs);
}

void call_write(const struct plan *plan, const struct waypoints *waypoints,
                FILE *stream) {
    struct arena arena;
    size_t count = 0;
    arena_init(&arena);
    struct group *groups =
        arena_alloc(&arena, waypoints->count, sizeof *groups);
    for (size_t i = 0; i < waypoints->count; i++)
        if (waypoints->items[i].starts_leg)
            add_leg(&arena, &waypoints->items[i], groups, &count);
    sheet_heading(stream, "CALL THE SKIPPER");
    for (size_t i = 0; i < count; i++) {
        const struct group *group = &groups[i];
        sheet_item(stream, "-",
                   arena_print(&arena, "%s (%s): %s. Squall: %s.",
                               rig_of(&arena, plan, group),
                               leg_names_text(&group->legs, &arena),
                               call_for(&arena, plan, group),
                               squall_for(&arena, plan, group)));
    }
    arena_free(&arena);
}
