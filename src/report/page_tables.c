#include "report/page_tables.h"

#include "base/rendering.h"
#include "base/units.h"
#include "report/call.h"
#include "report/cards.h"
#include "report/changed.h"
#include "report/clock.h"
#include "report/compass.h"
#include "report/engine_report.h"
#include "report/escape.h"
#include "report/html.h"
#include "report/leg_start.h"
#include "report/limits.h"
#include "report/nights.h"
#include "report/page_route.h"
#include "report/schedule.h"
#include "report/sheet.h"
#include "report/stretches.h"
#include "report/watch.h"
#include "report/watches.h"
#include "report/words.h"
#include "report/zone_list.h"

#include <math.h>
#include <string.h>

/* --- cells ----------------------------------------------------------------*/

static void cell(FILE *stream, const char *text) {
    fputs("<td>", stream);
    html_text(stream, text);
    fputs("</td>", stream);
}

static const char *figure_cell(struct arena *arena, struct figure figure,
                               int decimals) {
    if (!figure.known)
        return "-";
    return arena_print(arena, "%.*f", decimals, figure.value);
}

static struct figure in_knots(struct figure speed_mps) {
    return (struct figure){speed_mps.known, mps_to_kn(speed_mps.value)};
}

static void head(FILE *stream, const char *const *names, size_t count) {
    fputs("<thead><tr>", stream);
    for (size_t i = 0; i < count; i++)
        fprintf(stream, "<th scope=\"col\">%s</th>", names[i]);
    fputs("</tr></thead>\n<tbody>\n", stream);
}

static void rig_cell(FILE *stream, struct deck deck, const char *text) {
    fprintf(stream, "<td class=\"rig-cell\"><span class=\"flag %s\">%s</span> ",
            page_route_class(deck), page_route_letter(deck));
    html_text(stream, text);
    fputs("</td>", stream);
}

/* "spar starboard, wing-and-wing": what the flag says, too, may go where there
 * is little room. */
static void leg_rig_cell(FILE *stream, struct deck deck) {
    const char *words = words_rig_short(deck);
    const char *comma = strchr(words, ',');
    int side = comma ? (int)(comma + 2 - words) : (int)strlen("spar ");
    fprintf(stream,
            "<td class=\"rig-cell\"><span class=\"flag %s\">%s</span> "
            "<span class=\"side-words\">%.*s</span>%s</td>",
            page_route_class(deck), page_route_letter(deck), side, words,
            words + side);
}

/* --- legs -----------------------------------------------------------------*/

static void write_leg(struct arena *arena, const struct plan *plan,
                      const struct waypoint *point, FILE *stream) {
    const struct plan_leg *leg = point->leg;
    char start[SHARP_TEXT_SIZE];
    leg_start_print(plan, leg, start);
    fprintf(stream, "<tr id=\"leg-%s\"%s><th scope=\"row\">%s</th>",
            point->name, point->work ? " class=\"forward\"" : "", point->name);
    cell(stream, start);
    cell(stream, compass_cell(arena, plan, leg));
    cell(stream, arena_print(arena, "%.0f", m_to_nmi(leg->distance_m)));
    leg_rig_cell(stream, leg->deck);
    cell(stream, plan->boat->reef_count > 0
                     ? arena_print(arena, "%d", leg->reefs)
                     : "-");
    cell(stream, arena_print(arena, "%03d", words_degrees(leg->twd_deg)));
    cell(stream, arena_print(arena, "%.0f", mps_to_kn(leg->tws_mps)));
    cell(stream, arena_print(arena, "%s%s",
                             figure_cell(arena, in_knots(leg->gust_mps), 0),
                             leg->gust_estimated ? "*" : ""));
    cell(stream, arena_print(arena, "%.0f %c", fabs(leg->awa_deg),
                             leg->awa_deg >= 0.0 ? 'S' : 'P'));
    cell(stream, arena_print(arena, "%s%s", figure_cell(arena, leg->wave_m, 1),
                             leg->wave_estimated ? "*" : ""));
    cell(stream, arena_print(arena, "%.0f", leg->roll_deg));
    cell(stream, arena_print(arena, "%.1f", mps_to_kn(leg->stw_mps)));
    cell(stream,
         arena_print(arena, "%s%s%s", words_trust(leg->trust),
                     leg->beyond_forecast ? ", beyond the forecast" : "",
                     leg->unchecked ? ", NOT CHECKED" : ""));
    fputs("</tr>\n", stream);
}

static void write_legs(const struct plan *plan,
                       const struct waypoints *waypoints, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    const char *const names[] = {"Point",
                                 clock_heading(plan),
                                 plan->display.magnetic ? "Steer deg, mag"
                                                        : "Steer deg",
                                 "nmi",
                                 "Rig",
                                 "Reef",
                                 "Wind from deg",
                                 "Wind kn",
                                 "Gust kn",
                                 "AWA deg",
                                 "Sea m",
                                 "Roll deg",
                                 "Speed kn",
                                 "Trust"};
    fputs("<section class=\"legs\"><h2>Legs</h2>\n<div class=\"wide\" "
          "tabindex=\"0\" role=\"region\" aria-label=\"Legs\"><table>\n",
          stream);
    head(stream, names, sizeof names / sizeof *names);
    for (size_t i = 0; i < waypoints->count; i++)
        if (waypoints->items[i].starts_leg)
            write_leg(&arena, plan, &waypoints->items[i], stream);
    fputs("</tbody></table></div>\n<p class=\"note\">", stream);
    html_print(stream,
               "%s: day and time the leg starts; 09h to the hour, 08-12 within "
               "that watch. Steer: through the water, current allowed for. "
               "AWA: P wind on the port side, S on the starboard side. Gust "
               "and sea are the greatest of the leg. Roll: rms; often twice, "
               "at times three times as much. *: estimated, not in the "
               "forecast. -: not known.",
               clock_heading(plan));
    fputs("</p></section>\n", stream);
    arena_free(&arena);
}

/* --- changes --------------------------------------------------------------*/

static void write_change(struct arena *arena, const struct plan *plan,
                         const struct plan_change *change, const char *name,
                         FILE *stream) {
    char at[SHARP_TEXT_SIZE];
    clock_print_change_short(plan, change, at);
    fprintf(stream, "<tr%s><th scope=\"row\">%s</th>",
            name ? " class=\"forward\"" : "", name ? name : "cockpit");
    cell(stream, at);
    rig_cell(stream, change->to, words_result(arena, change->kind, change->to));
    cell(stream,
         arena_print(arena, "%.0f", change->seconds / SECONDS_PER_MINUTE));
    cell(stream, words_light(change->light));
    cell(stream, arena_print(arena, "%.0f", mps_to_kn(change->tws_mps)));
    cell(stream, arena_print(arena, "%s%s",
                             figure_cell(arena, in_knots(change->gust_mps), 0),
                             change->gust_estimated ? "*" : ""));
    cell(stream, arena_print(arena, "%.0f", change->roll_deg));
    cell(stream, words_trust(change->trust));
    cell(stream, change->why ? change->why : "");
    fputs("</tr>\n", stream);
}

static void write_changes(const struct plan *plan,
                          const struct waypoints *waypoints, FILE *stream) {
    struct arena arena;
    const char *const names[] = {
        "Point",   clock_heading(plan), "What",     "Min",   "Light",
        "Wind kn", "Gust kn",           "Roll deg", "Trust", "Why"};
    fputs("<section class=\"changes\"><h2>All changes</h2>\n", stream);
    if (plan->change_count == 0) {
        fputs("<p>None: the boat stays as she is rigged.</p></section>\n",
              stream);
        return;
    }
    arena_init(&arena);
    fputs("<div class=\"wide\" tabindex=\"0\" role=\"region\" "
          "aria-label=\"All changes\"><table>\n",
          stream);
    head(stream, names, sizeof names / sizeof *names);
    for (size_t i = 0; i < plan->change_count; i++)
        write_change(&arena, plan, &plan->changes[i],
                     waypoint_name(waypoints, &plan->changes[i]), stream);
    fputs("</tbody></table></div>\n<p class=\"note\">With a name: someone goes "
          "forward. cockpit: nobody does.</p></section>\n",
          stream);
    arena_free(&arena);
}

/* --- what the plan assumes ------------------------------------------------*/

static void entry_limits(struct arena *arena, const struct plan *plan,
                         FILE *stream) {
    const struct work_limits *work = &plan->boat->work;
    const char *wind = "none", *gust = "none";
    if (plan->max_wind_mps.known)
        wind =
            arena_print(arena, "%.0f kn", mps_to_kn(plan->max_wind_mps.value));
    if (plan->max_gust_mps.known)
        gust =
            arena_print(arena, "%.0f kn", mps_to_kn(plan->max_gust_mps.value));
    sheet_entry(stream, "Route limits", "true wind %s, gust %s", wind, gust);
    sheet_entry(stream, "Work limits",
                "true wind %.0f kn, gust %.0f kn, sea %.1f m, roll %g deg rms; "
                "to stow: true wind %.0f kn, gust %.0f kn",
                mps_to_kn(work->max_wind_mps), mps_to_kn(work->max_gust_mps),
                work->max_wave_m, work->max_roll_deg,
                mps_to_kn(work->stow_max_wind_mps),
                mps_to_kn(work->stow_max_gust_mps));
    sheet_entry(stream, "Comfort",
                "easy up to %g deg rms, working limit %g deg; ease %g",
                plan->boat->comfort.easy_roll_deg,
                plan->boat->comfort.working_roll_deg, plan->ease);
    if (plan->daylight_only)
        sheet_entry(stream, "Rule", "work on deck by daylight only");
}

static void write_assumed(struct arena *arena, const struct plan *plan,
                          FILE *stream) {
    const struct plan_chart *chart = &plan->chart;
    fputs("<section class=\"assumed\"><h2>What the plan assumes</h2>\n",
          stream);
    watch_write_head(plan, stream);
    for (size_t i = 0; i < chart->file_count; i++)
        sheet_entry(stream, "File", "%s", chart->forecast_files[i]);
    entry_limits(arena, plan, stream);
    sheet_entry(stream, "Made by", "sparwise %s", plan->version);
    fputs("</section>\n", stream);
}

/* --- all ------------------------------------------------------------------*/

static void write_important(const struct plan *plan,
                            const struct waypoints *waypoints, FILE *stream) {
    fputs("<section class=\"important\" id=\"warnings\">\n", stream);
    changed_write(plan, stream);
    schedule_write_warnings(plan, waypoints, stream);
    zone_list_write(plan, stream);
    schedule_write_cautions(plan, stream);
    fputs("</section>\n", stream);
}

static void write_nights(const struct plan *plan, const struct nights *nights,
                         FILE *stream) {
    struct rendering lines;
    rendering_open(&lines);
    nights_write(plan, nights, lines.stream);
    rendering_close(&lines);
    if (lines.size > 0) {
        fputs("<pre>", stream);
        html_text(stream, lines.bytes);
        fputs("</pre>\n", stream);
    }
    rendering_free(&lines);
}

/* By function, since all of them are sheets. */
static void write_more(const struct plan *plan,
                       const struct waypoints *waypoints,
                       const struct nights *nights, FILE *stream) {
    fputs("<details class=\"more-sheets\"><summary>At departure, next on deck"
          "</summary>\n",
          stream);
    watch_write_departure(plan, nights, stream);
    watch_write_next(plan, waypoints, stream);
    fputs("</details>\n<details class=\"more-sheets\"><summary>When to call "
          "the skipper; angles and limits of the spar</summary>\n",
          stream);
    call_write(plan, waypoints, stream);
    limits_write_spar(plan, waypoints, stream);
    limits_write_key(plan, stream);
    limits_write_work(plan, stream);
    stretches_write(plan, waypoints, stream);
    engine_report_write(plan, stream);
    fputs("</details>\n<details class=\"more-sheets\"><summary>Nights, watches "
          "and rest</summary>\n",
          stream);
    write_nights(plan, nights, stream);
    watches_write(plan, waypoints, stream);
    fputs("</details>\n<details class=\"more-sheets\"><summary>If the spar "
          "breaks; ports to run to</summary>\n",
          stream);
    escape_write(plan, waypoints, stream);
    fputs("</details>\n<details class=\"more-sheets\"><summary>Order of steps "
          "for each kind of work</summary>\n",
          stream);
    cards_write(plan->boat, stream);
    fputs("</details>\n", stream);
}

void page_tables_write(const struct plan *plan,
                       const struct waypoints *waypoints, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    struct nights nights = nights_of(plan, &arena);
    sheet_as_html(stream);
    write_important(plan, waypoints, stream);
    write_legs(plan, waypoints, stream);
    write_changes(plan, waypoints, stream);
    fputs("<section class=\"sums\">\n", stream);
    schedule_write_summary(plan, stream);
    fputs("</section>\n", stream);
    write_assumed(&arena, plan, stream);
    write_more(plan, waypoints, &nights, stream);
    sheet_as_html(NULL);
    arena_free(&arena);
}
