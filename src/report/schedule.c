#include "report/schedule.h"

#include "base/text.h"
#include "base/units.h"
#include "report/call.h"
#include "report/cards.h"
#include "report/changed.h"
#include "report/clock.h"
#include "report/compass.h"
#include "report/daylight.h"
#include "report/due.h"
#include "report/engine_report.h"
#include "report/escape.h"
#include "report/landfall.h"
#include "report/leg_remarks.h"
#include "report/leg_start.h"
#include "report/light.h"
#include "report/limits.h"
#include "report/marked.h"
#include "report/nights.h"
#include "report/room.h"
#include "report/sheet.h"
#include "report/spare.h"
#include "report/stretches.h"
#include "report/watch.h"
#include "report/watches.h"
#include "report/waypoint.h"
#include "report/words.h"
#include "report/zone_list.h"
#include <math.h>

/* --- legs -------------------------------------------------------------------
 */

enum { CELL_SIZE = 16 };

static void print_figure(char cell[CELL_SIZE], struct figure figure,
                         int decimals) {
    if (figure.known)
        snprintf(cell, CELL_SIZE, "%.*f", decimals, figure.value);
    else
        snprintf(cell, CELL_SIZE, "-");
}

static struct figure in_knots(struct figure speed_mps) {
    speed_mps.value = mps_to_kn(speed_mps.value);
    return speed_mps;
}

/* A boat file without reefs says nothing of them. */
static struct figure reefs_of(const struct boat *boat,
                              const struct plan_leg *leg) {
    return boat->reef_count > 0 ? figure_of(leg->reefs) : figure_unknown();
}

/* 80 columns: see write_leg_row(). */
static const char leg_layout[] =
    "%-6s %-8s %-*s %-*s %*s %6s %3s %-5s %3s %3s %s\n";

/* The magnetic course takes its room from rig and reef. */
struct leg_widths {
    int steer, rig, reef;
};

static struct leg_widths widths_of(const struct plan *plan) {
    return plan->display.magnetic ? (struct leg_widths){7, 22, 2}
                                  : (struct leg_widths){3, 24, 4};
}

static void write_leg_row(struct arena *arena, const struct plan *plan,
                          const struct waypoint *point, FILE *stream) {
    const struct plan_leg *leg = point->leg;
    struct leg_widths width = widths_of(plan);
    char start[SHARP_TEXT_SIZE], wind[CELL_SIZE];
    char gust[CELL_SIZE], awa[CELL_SIZE], sea[CELL_SIZE], roll[CELL_SIZE];
    char reefs[CELL_SIZE];
    leg_start_print(plan, leg, start);
    snprintf(wind, sizeof wind, "%03d %2.0f", words_degrees(leg->twd_deg),
             mps_to_kn(leg->tws_mps));
    print_figure(gust, in_knots(leg->gust_mps), 0);
    snprintf(awa, sizeof awa, "%3.0f %s", fabs(leg->awa_deg),
             leg->awa_deg >= 0.0 ? "S" : "P");
    print_figure(sea, leg->wave_m, leg->wave_m.value < 9.95 ? 1 : 0);
    snprintf(roll, sizeof roll, "%.0f", leg->roll_deg);
    print_figure(reefs, reefs_of(plan->boat, leg), 0);
    fprintf(stream, leg_layout, point->name, start, width.steer,
            compass_cell(arena, plan, leg), width.rig,
            words_rig_cell(leg->deck), width.reef, reefs, wind, gust, awa, sea,
            roll, words_trust(leg->trust));
}

/* What the columns mean. */
static void write_key(const struct plan *plan, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    sheet_paragraph(
        stream, 0, 2,
        arena_print(
            &arena,
            "%s: day and time, to the quarter or, of two legs in one, to the "
            "minute; 09h to the hour, 08-12 within that watch. "
            "steer: through the water, current allowed for%s. wing: "
            "wing-and-wing; "
            "reach: poled reach; rolled: the headsail, the spar out. reef: of "
            "the mainsail in the leg's mean wind, 0: none. wind: true, over "
            "the water, from where. AWA: P wind on the port side, S on the "
            "starboard "
            "side. gust and sea are the greatest of the leg. roll: rms; often "
            "twice, at times three times as much.",
            clock_heading(plan),
            plan->display.magnetic
                ? "; mag: magnetic, where the leg starts, without deviation"
                : ""));
    arena_free(&arena);
}

static void write_legs_heading(const struct plan *plan, FILE *stream) {
    struct leg_widths width = widths_of(plan);
    bool magnetic = plan->display.magnetic;
    sheet_heading(stream, "LEGS");
    if (magnetic)
        fprintf(stream, "%16s%-29s%-5s%-7s%s\n", "", "steer", "reef", "wind",
                "gust AWA   sea roll");
    else
        fprintf(stream, "%16s%-34s%-7s%s\n", "", "steer", "wind",
                "gust AWA   sea roll");
    fprintf(stream, leg_layout, "point", clock_heading(plan), width.steer,
            magnetic ? "deg mag" : "deg", width.rig, "rig", width.reef,
            magnetic ? "" : "reef", "deg kn", "kn", "deg", "m", "deg", "trust");
}

/* A course held true for days is not held by the compass. */
static void write_turning(struct arena *arena, const struct plan *plan,
                          const struct waypoints *waypoints, FILE *stream) {
    const char *text = "";
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        double end_deg;
        if (!point->starts_leg || !compass_turns(plan, point->leg, &end_deg))
            continue;
        text = arena_print(
            arena, "%s%s%s %03d to %03d deg", text, *text ? ", " : "",
            point->name, words_degrees(compass_heading(plan, point->leg).value),
            words_degrees(end_deg));
    }
    if (*text)
        sheet_paragraph(
            stream, 0, 2,
            arena_print(arena, "deg magnetic, from start to end of the leg: %s",
                        text));
}

static void write_legs(const struct plan *plan,
                       const struct waypoints *waypoints, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    write_legs_heading(plan, stream);
    for (size_t i = 0; i < waypoints->count; i++)
        if (waypoints->items[i].starts_leg)
            write_leg_row(&arena, plan, &waypoints->items[i], stream);
    write_key(plan, stream);
    write_turning(&arena, plan, waypoints, stream);
    light_write_legs(plan, waypoints, stream);
    spare_write_legs(waypoints, stream);
    leg_remarks_write(plan, waypoints, stream);
    arena_free(&arena);
}

/* --- changes ----------------------------------------------------------------
 */

static const char change_layout[] = "%-7s %-8s %-27s %3s %-8s %4s %4s %4s %s\n";

static void write_change_row(struct arena *arena, const struct plan *plan,
                             const struct plan_change *change, const char *name,
                             FILE *stream) {
    char at[SHARP_TEXT_SIZE], minutes[CELL_SIZE], wind[CELL_SIZE];
    char gust[CELL_SIZE], roll[CELL_SIZE];
    clock_print_change_short(plan, change, at);
    snprintf(minutes, sizeof minutes, "%ld",
             lround(change->seconds / SECONDS_PER_MINUTE));
    snprintf(wind, sizeof wind, "%.0f", mps_to_kn(change->tws_mps));
    print_figure(gust, in_knots(change->gust_mps), 0);
    snprintf(roll, sizeof roll, "%.0f", change->roll_deg);
    fprintf(stream, change_layout, name, at,
            words_result(arena, change->kind, change->to), minutes,
            words_light(change->light), wind, gust, roll,
            words_trust(change->trust));
}

static const char *then(struct arena *arena, const char *text) {
    return text ? arena_print(arena, "; %s", text) : "";
}

static const char *room_of(struct arena *arena, const struct plan *plan,
                           const struct plan_change *change) {
    return arena_print(arena, "%s%s%s",
                       then(arena, room_between(arena, plan, change)),
                       then(arena, room_surely(arena, plan, change)),
                       then(arena, room_skip(arena, change)));
}

/* Where the limits of that work stand, and what the apparent wind is there. */
static const char *limits_of(struct arena *arena,
                             const struct plan_change *change) {
    const char *apparent = "";
    if (!change->deck_work)
        return "";
    if (change->most_aws_mps.known)
        apparent = arena_print(arena, " (%.0f kn apparent)",
                               mps_to_kn(change->most_aws_mps.value));
    return arena_print(arena, "; limits: see %s%s", limits_name(change->kind),
                       apparent);
}

/* For those who go forward: how it rolls and what light there is. */
static const char *roll_of(struct arena *arena, const struct plan *plan,
                           const struct plan_change *change) {
    if (!change->deck_work)
        return "";
    return arena_print(arena, "; roll %s%s",
                       words_roll_seen(arena, change->roll_deg),
                       then(arena, light_closer(arena, plan, change)));
}

static const char *due_of(struct arena *arena,
                          const struct plan_change *change) {
    const char *due = due_short(arena, change);
    return due ? arena_print(arena, "; sign: %s", due) : "";
}

/* The line under a change: why, how long there is for it, the spar's length,
 * the room to leeward. */
static void write_change_notes(struct arena *arena, const struct plan *plan,
                               const struct plan_change *change, FILE *stream) {
    const char *length = "";
    if (change->pole_length_m.known && change->headsail)
        length = arena_print(arena, "; spar at %.1f m for the %s",
                             change->pole_length_m.value, change->headsail);
    const char *dark = due_dark(plan, change);
    bool rough =
        change->outside_limits && (!dark || due_is_too_rough(plan, change));
    const char *limits = arena_print(
        arena, "%s%s%s", rough ? "; OUTSIDE THE WORK LIMITS" : "",
        then(arena, dark), then(arena, room_lit(arena, plan, change)));
    const char *gust = change->gust_estimated ? "; gust estimated" : "";
    const char *lee =
        change->deck_work ? words_lee(arena, "; ", change->lee_m) : "";
    const char *text = arena_print(
        arena, "; %s%s%s%s%s%s%s%s%s", change->why ? change->why : "",
        due_of(arena, change), room_of(arena, plan, change), length, gust, lee,
        limits_of(arena, change), limits, roll_of(arena, plan, change));
    while (*text == ';' || *text == ' ')
        text++;
    if (*text)
        sheet_paragraph(stream, 8, 0, text);
}

static void write_changes(const struct plan *plan,
                          const struct waypoints *waypoints, FILE *stream) {
    struct arena arena;
    sheet_heading(stream, "CHANGES");
    if (plan->change_count == 0) {
        sheet_paragraph(stream, 2, 0, "none: the boat stays as she is rigged");
        return;
    }
    arena_init(&arena);
    fprintf(stream, "%56s %4s %4s %4s\n", "", "wind", "gust", "roll");
    fprintf(stream, change_layout, "point", clock_heading(plan), "what", "min",
            "light", "kn", "kn", "deg", "trust");
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        const char *name = waypoint_name(waypoints, change);
        write_change_row(&arena, plan, change, name ? name : "cockpit", stream);
        write_change_notes(&arena, plan, change, stream);
    }
    sheet_paragraph(stream, 0, 2,
                    "With a name: someone goes forward. cockpit: nobody does.");
    if (plan->margin_s > 0.0)
        sheet_paragraph(stream, 0, 2, room_key(&arena, plan));
    arena_free(&arena);
    limits_write_key(plan, stream);
    limits_write_work(plan, stream);
}

/* --- arrival and summary
 * ------------------------------------------------------ */

static void write_arrival(const struct plan *plan, FILE *stream) {
    struct arena arena;
    char at[SHARP_TEXT_SIZE];
    clock_print(plan, plan->summary.arrive, at);
    if (!plan->summary.reached) {
        sheet_heading(stream,
                      "NOT REACHED   the forecast ends on the way, %s; plan "
                      "again with a later one",
                      at);
        return;
    }
    arena_init(&arena);
    sheet_heading(stream, "ARRIVE        %s, %s%s", at,
                  daylight_on_arrival(plan), daylight_advice(plan));
    sheet_entry(stream, "Sun there", "%s", daylight_turns(&arena, plan));
    landfall_write(plan, stream);
    arena_free(&arena);
}

/* Nobody cares for less. */
static const double SAME_TIME_S = SECONDS_PER_MINUTE;

/* A track that is only timed is not compared. */
static void write_against_no_spar(struct arena *arena, const struct plan *plan,
                                  FILE *stream) {
    const struct plan_summary *summary = &plan->summary;
    const char *with =
        arena_print(arena, "%s%s", words_duration(arena, summary->elapsed_s),
                    words_guess(plan, summary->arrive));
    if (!summary->elapsed_without_spar_s.known) {
        sheet_entry(stream, "Time", "%s%s", with,
                    plan->timed_only ? "" : "; without the spar: not known");
        return;
    }
    double without_s = summary->elapsed_without_spar_s.value;
    double saved_s = without_s - summary->elapsed_s;
    const char *guess =
        words_guess(plan, instant_plus(plan->depart, without_s));
    if (fabs(saved_s) < SAME_TIME_S)
        sheet_entry(stream, "Time", "%s; without the spar the same%s", with,
                    guess);
    else
        sheet_entry(stream, "Time", "%s; without the spar %s%s: %s %s", with,
                    words_duration(arena, without_s), guess,
                    words_duration(arena, fabs(saved_s)),
                    saved_s >= 0.0 ? "slower" : "faster");
}

static void write_cost(const struct plan *plan, FILE *stream) {
    const struct plan_summary *summary = &plan->summary;
    char without[64] = "; without the spar: not known";
    if (plan->timed_only)
        without[0] = '\0';
    if (summary->cost_without_spar_s.known)
        snprintf(without, sizeof without, "; without the spar: %.1f h",
                 s_to_hours(summary->cost_without_spar_s.value));
    sheet_entry(stream, "Cost",
                "%.1f h: the time, with ease %g another %.1f h for roll and "
                "%.1f h for deck work%s",
                s_to_hours(summary->cost_s), plan->ease,
                plan->ease * s_to_hours(summary->discomfort_s),
                plan->ease * s_to_hours(summary->hardship_s), without);
}

/* Hours to a tenth; what is less than half of that is nothing, of no sign. */
static double tenths_h(double seconds) {
    return round(10.0 * s_to_hours(seconds)) / 10.0 + 0.0;
}

static void write_fewer(const struct plan *plan, FILE *stream) {
    const struct plan_fewer *fewer = &plan->fewer;
    if (fewer->points == 0)
        return;
    sheet_entry(stream, "Points",
                "%zu for route_points, not %zu: cost %+.1f h, time %+.1f h "
                "against the course with all of them",
                plan->leg_count + 1, fewer->points, tenths_h(fewer->cost_s),
                tenths_h(fewer->time_s));
}

static void write_kept_gybes(const struct plan *plan, FILE *stream) {
    struct figure more_s = plan->summary.kept_gybes_s;
    if (!more_s.known || tenths_h(more_s.value) <= 0.0)
        return;
    sheet_entry(stream, "Gybes",
                "none of the mainsail beyond the work limits%s: costs %.1f h "
                "(weighed) more than with one; a second preventer would spare "
                "that",
                plan->daylight_only ? " or in the dark" : "",
                tenths_h(more_s.value));
}

static void write_use_of_spar(struct arena *arena,
                              const struct plan_summary *summary,
                              FILE *stream) {
    sheet_entry(stream, "Spar out", "%s: wing-and-wing %s, poled reach %s",
                words_duration(arena, summary->spar_s),
                words_duration(arena, summary->wing_s),
                words_duration(arena, summary->poled_reach_s));
    sheet_entry(stream, "On deck",
                "times that someone goes forward: %d, at night: %d",
                summary->deck_work, summary->night_deck_work);
    if (summary->upwind_s > 0.0)
        sheet_entry(stream, "Upwind", "%s",
                    words_duration(arena, summary->upwind_s));
}

/* The strongest gust of all legs, some of which may be estimates. */
static const char *strongest_gust(struct arena *arena,
                                  const struct plan *plan) {
    const struct plan_leg *most = &plan->legs[0];
    for (size_t i = 1; i < plan->leg_count; i++) {
        struct figure gust = plan->legs[i].gust_mps;
        bool more = !most->gust_mps.known ||
                    (gust.known && gust.value > most->gust_mps.value);
        if (more)
            most = &plan->legs[i];
    }
    return words_gust(arena, most->gust_mps, most->gust_estimated);
}

/* A day's sail in hours and tenths, a longer one in hours. */
static const double TENTHS_S = 24.0 * SECONDS_PER_HOUR;

static void write_roll(struct arena *arena, const struct plan *plan,
                       FILE *stream) {
    const struct plan_summary *summary = &plan->summary;
    const struct comfort *comfort = &plan->boat->comfort;
    int decimals = summary->elapsed_s < TENTHS_S ? 1 : 0;
    const char *over = "none";
    if (summary->roll_over_limit_s > 0.0)
        over = words_duration(arena, summary->roll_over_limit_s);
    sheet_entry(stream, "Roll", "%s",
                words_roll(arena, summary->roll_mean_deg));
    sheet_entry(stream, "Comfort",
                "%.*f h of %.*f h below the easy roll, %g deg rms; %s above "
                "the working limit, %g deg",
                decimals, s_to_hours(summary->roll_easy_s), decimals,
                s_to_hours(summary->elapsed_s), comfort->easy_roll_deg, over,
                comfort->working_roll_deg);
}

static void write_weather(struct arena *arena, const struct plan *plan,
                          FILE *stream) {
    const struct plan_summary *summary = &plan->summary;
    const char *sea = "not known";
    if (summary->max_wave_m.known)
        sea = arena_print(arena, "%.1f m", summary->max_wave_m.value);
    sheet_entry(stream, "At most", "wind %.0f kn, %s, sea %s",
                mps_to_kn(summary->max_tws_mps), strongest_gust(arena, plan),
                sea);
    write_roll(arena, plan, stream);
    if (summary->beyond_forecast_s > 0.0)
        sheet_entry(stream, "A guess", "%s of it, beyond the forecast",
                    words_duration(arena, summary->beyond_forecast_s));
}

void schedule_write_summary(const struct plan *plan, FILE *stream) {
    const struct plan_summary *summary = &plan->summary;
    struct arena arena;
    arena_init(&arena);
    sheet_heading(stream, "SUMMARY");
    write_against_no_spar(&arena, plan, stream);
    sheet_entry(stream, "Distance", "%.0f nmi; great circle %.0f nmi",
                m_to_nmi(summary->distance_m),
                m_to_nmi(summary->great_circle_m));
    write_use_of_spar(&arena, summary, stream);
    engine_report_summary(plan, stream);
    write_weather(&arena, plan, stream);
    write_cost(plan, stream);
    write_fewer(plan, stream);
    write_kept_gybes(plan, stream);
    arena_free(&arena);
}

/* --- warnings and cautions
 * ---------------------------------------------------- */

void schedule_write_warnings(const struct plan *plan,
                             const struct waypoints *waypoints, FILE *stream) {
    struct arena arena;
    if (plan->warning_count == 0)
        return;
    arena_init(&arena);
    sheet_heading(stream, "WARNINGS");
    for (size_t i = 0; i < plan->warning_count; i++)
        sheet_item(
            stream, "-",
            marked_for_sheet(&arena, plan, waypoints, plan->warnings[i]));
    arena_free(&arena);
}

void schedule_write_cautions(const struct plan *plan, FILE *stream) {
    sheet_heading(stream, "CAUTIONS");
    sheet_paragraph(stream, 2, 0,
                    "A plan is advice: the skipper decides. Charts, notices to "
                    "mariners and the weather that is there come first. Not "
                    "for navigation.");
    if (!plan->coast.name)
        sheet_paragraph(stream, 2, 0,
                        "LAND IS NOT CHECKED: lay every leg off on the chart.");
    else
        sheet_paragraph(
            stream, 2, 0,
            "The coast check sees shorelines only: not rocks, reefs, shoals, "
            "wrecks, depths or traffic schemes; charts decide. Lay every leg "
            "off on the chart.");
    sheet_paragraph(stream, 2, 0,
                    "Tidal streams are not in it, nor shoals, traffic, ice and "
                    "fishing gear. Local rules and the practice of those who "
                    "hold a licence go before it.");
}

bool schedule_write(const struct plan *plan, FILE *stream,
                    struct error *error) {
    struct arena arena;
    arena_init(&arena);
    struct waypoints waypoints = waypoints_of(plan, &arena);
    struct nights nights = nights_of(plan, &arena);
    watch_write_head(plan, stream);
    watch_write_departure(plan, &nights, stream);
    watch_write_next(plan, &waypoints, stream);
    changed_write(plan, stream);
    write_legs(plan, &waypoints, stream);
    write_arrival(plan, stream);
    escape_write_departure(plan, stream);
    engine_report_write(plan, stream);
    nights_write(plan, &nights, stream);
    call_write(plan, &waypoints, stream);
    limits_write_spar(plan, &waypoints, stream);
    write_changes(plan, &waypoints, stream);
    stretches_write(plan, &waypoints, stream);
    watches_write(plan, &waypoints, stream);
    escape_write(plan, &waypoints, stream);
    schedule_write_summary(plan, stream);
    zone_list_write(plan, stream);
    schedule_write_warnings(plan, &waypoints, stream);
    schedule_write_cautions(plan, stream);
    cards_write(plan->boat, stream);
    arena_free(&arena);
    if (fflush(stream) != 0 || ferror(stream))
        return error_set(error, STATUS_WRITE,
                         "the schedule can't be written; is the disk full?");
    return true;
}
