#include "report/page_log.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/compass.h"
#include "report/daylight.h"
#include "report/due.h"
#include "report/html.h"
#include "report/light.h"
#include "report/limits.h"
#include "report/page_route.h"
#include "report/room.h"
#include "report/words.h"

#include <math.h>
#include <string.h>

/* --- head -----------------------------------------------------------------*/

static void write_fact(FILE *stream, const char *label, const char *text) {
    fputs("<p><b>", stream);
    html_text(stream, label);
    fputs("</b> ", stream);
    html_text(stream, text);
    fputs("</p>\n", stream);
}

static void write_ends(const struct plan *plan, FILE *stream) {
    struct arena arena;
    char from[POSITION_TEXT_SIZE], to[POSITION_TEXT_SIZE];
    char depart[SHARP_TEXT_SIZE], arrive[SHARP_TEXT_SIZE];
    arena_init(&arena);
    position_print(plan->from, from);
    position_print(plan->to, to);
    clock_print_exact(plan, plan->depart, depart);
    clock_print(plan, plan->summary.arrive, arrive);
    write_fact(stream, "Boat", plan->boat_name);
    write_fact(stream, "Depart", arena_print(&arena, "%s, %s", depart, from));
    if (plan->summary.reached)
        write_fact(stream, "Arrive",
                   arena_print(&arena, "%s, %s, %s", arrive,
                               daylight_on_arrival(plan), to));
    else
        write_fact(stream, "Arrive",
                   arena_print(&arena,
                               "NOT REACHED: the forecast ends on the way, %s",
                               arrive));
    arena_free(&arena);
}

void page_log_head(const struct plan *plan, FILE *stream) {
    char zone[CLOCK_ZONE_SIZE];
    clock_zone(plan, zone);
    fputs("<header>\n<div class=\"looks\" role=\"group\" "
          "aria-label=\"Colours\"><label for=\"look-device\">as the device"
          "</label><label for=\"look-day\">day</label>"
          "<label for=\"look-dark\">dark</label>"
          "<label for=\"look-red\">red light</label></div>\n<h1>",
          stream);
    html_text(stream, plan->name);
    fputs("</h1>\n<div class=\"facts\">\n", stream);
    write_ends(plan, stream);
    fputs("</div>\n<p class=\"note\">", stream);
    html_print(
        stream,
        "%s Times are %s, directions true%s; wind is the true wind "
        "over the water but where it says apparent. A plan is advice: "
        "the skipper decides.",
        plan->timed_only ? "A track of your own, timed through the forecast."
                         : "A plan for the passage.",
        zone, plan->display.magnetic ? " but where it says magnetic" : "");
    if (plan->warning_count > 0)
        fprintf(stream,
                " <a class=\"alert\" href=\"#warnings\">%zu warning%s</a>",
                plan->warning_count, plan->warning_count > 1 ? "s" : "");
    fputs("</p>\n</header>\n", stream);
}

/* --- work on deck ---------------------------------------------------------*/

static void write_line(FILE *stream, const char *label, const char *text) {
    if (!text || !*text)
        return;
    fputs("<p class=\"entry\"><b>", stream);
    html_text(stream, label);
    fputs("</b> <span>", stream);
    html_text(stream, text);
    fputs("</span></p>\n", stream);
}

static void write_flag(struct deck deck, FILE *stream) {
    fprintf(stream, "<span class=\"flag %s\" aria-hidden=\"true\">%s</span>",
            page_route_class(deck), page_route_letter(deck));
}

static void write_title(struct arena *arena, const struct plan_change *change,
                        const char *name, FILE *stream) {
    char *order = words_order(arena, change->kind, change->to);
    if (*order >= 'a' && *order <= 'z')
        *order = (char)(*order - 'a' + 'A');
    write_flag(change->to, stream);
    fputs("<h3>", stream);
    html_text(stream, order);
    fprintf(stream, " <small>%s</small></h3>\n", name);
}

static void write_when(struct arena *arena, const struct plan *plan,
                       const struct plan_change *change, FILE *stream) {
    char at[SHARP_TEXT_SIZE], position[POSITION_TEXT_SIZE];
    clock_print_change(plan, change, at);
    position_print(change->position, position);
    fputs("<p class=\"when\">", stream);
    html_text(stream, at);
    fputs("</p>\n<p class=\"where\">", stream);
    html_text(stream, position);
    fputs("</p>\n<p class=\"light\">", stream);
    html_print(stream, "%s; takes %s; trust: %s", light_at(arena, plan, change),
               words_duration(arena, change->seconds),
               words_trust(change->trust));
    fputs("</p>\n", stream);
}

static const char *expected(struct arena *arena,
                            const struct plan_change *change) {
    const char *sea = "not known";
    if (change->wave_m.known)
        sea = arena_print(arena, "%.1f m", change->wave_m.value);
    return arena_print(
        arena, "wind %s on the %s side, %s, sea %s, roll %s%s",
        words_true_wind(arena, change->tws_mps, change->aws_mps),
        words_side(change->to.wind_starboard),
        words_gust(arena, change->gust_mps, change->gust_estimated), sea,
        words_roll(arena, change->roll_deg),
        words_lee(arena, "; ", change->lee_m));
}

static void write_warned(struct arena *arena, const struct plan *plan,
                         const struct plan_change *change, FILE *stream) {
    const char *dark = due_dark(plan, change);
    bool rough =
        change->outside_limits && (!dark || due_is_too_rough(plan, change));
    if (!rough && !dark)
        return;
    write_line(stream, "Beware",
               arena_print(arena, "%s%s%s",
                           rough ? "OUTSIDE THE WORK LIMITS" : "",
                           rough && dark ? "; " : "", dark ? dark : ""));
}

static void write_more(struct arena *arena, const struct plan *plan,
                       const struct plan_change *change, FILE *stream) {
    write_warned(arena, plan, change, stream);
    write_line(stream, "Margin", room_between(arena, plan, change));
    write_line(stream, "Surely", room_surely(arena, plan, change));
    write_line(stream, "Sign", due_short(arena, change));
    write_line(stream, "Expect", expected(arena, change));
    if (change->pole_length_m.known && change->headsail)
        write_line(stream, "Length",
                   arena_print(arena, "spar at %.1f m for the %s",
                               change->pole_length_m.value, change->headsail));
    write_line(stream, "Why", change->why);
    write_line(stream, "Undone", room_skip(arena, change));
    write_line(stream, "By light", room_lit(arena, plan, change));
}

static void write_work(const struct plan *plan,
                       const struct plan_change *change, const char *name,
                       FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    write_title(&arena, change, name, stream);
    write_when(&arena, plan, change, stream);
    fputs("<div class=\"more\">\n", stream);
    write_more(&arena, plan, change, stream);
    fputs("</div>\n", stream);
    arena_free(&arena);
}

void page_log_works(const struct plan *plan, const struct waypoints *waypoints,
                    FILE *stream) {
    bool any = false;
    fputs("<section class=\"works\" id=\"works-list\"><h2>Deck work</h2>\n"
          "<ol>\n",
          stream);
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        if (!change->deck_work)
            continue;
        const char *name = waypoint_name(waypoints, change);
        any = true;
        fprintf(stream, "<li class=\"work\" id=\"work-%s\">\n", name);
        write_work(plan, change, name, stream);
        fputs("</li>\n", stream);
    }
    fputs("</ol>\n", stream);
    if (!any)
        fputs("<p>None: nobody goes forward.</p>\n", stream);
    fputs("</section>\n", stream);
}

static const struct plan_change *first_work(const struct plan *plan) {
    for (size_t i = 0; i < plan->change_count; i++)
        if (plan->changes[i].deck_work)
            return &plan->changes[i];
    return NULL;
}

static void write_next(const struct plan *plan,
                       const struct waypoints *waypoints, FILE *stream) {
    const struct plan_change *next = first_work(plan);
    fputs("<section class=\"next\"><h2>Next on deck</h2>\n<div id=\"next\" "
          "class=\"work\" aria-live=\"off\">\n",
          stream);
    if (next)
        write_work(plan, next, waypoint_name(waypoints, next), stream);
    else
        fputs("<h3>Nothing: nobody goes forward</h3>\n", stream);
    fputs("</div></section>\n", stream);
}

/* --- read-outs ------------------------------------------------------------*/

static void write_reading(FILE *stream, const char *label, const char *name,
                          const char *text) {
    fprintf(stream, "<tr><th scope=\"row\">%s</th><td id=\"%s\">", label, name);
    html_text(stream, text);
    fputs("</td></tr>\n", stream);
}

static const char *side_of(double angle_deg) {
    return words_side(angle_deg >= 0.0);
}

static const char *sea_of(struct arena *arena,
                          const struct plan_sample *sample) {
    if (!sample->wave_m.known)
        return "not known";
    return arena_print(arena, "%.1f m, %.0f s, from %03d\u00b0%s",
                       sample->wave_m.value, sample->wave_period_s,
                       words_degrees(sample->wave_from_deg),
                       sample->wave_estimated ? ", estimated" : "");
}

static const char *steer_of(struct arena *arena, const struct plan *plan,
                            const struct plan_sample *sample) {
    const char *steer = arena_print(arena, "%03d\u00b0 true",
                                    words_degrees(sample->heading_deg));
    if (!plan->display.magnetic)
        return steer;
    struct figure shown = compass_of_sample(plan, sample);
    if (!shown.known)
        return arena_print(arena, "%s, magnetic not known", steer);
    return arena_print(arena, "%s, %03d\u00b0 magnetic", steer,
                       words_degrees(shown.value));
}

static void write_readings(struct arena *arena, const struct plan *plan,
                           FILE *stream) {
    const struct plan_sample *at = &plan->chart.samples[0];
    char position[POSITION_TEXT_SIZE];
    position_print(at->position, position);
    write_reading(stream, "Place", "at-place", position);
    write_reading(stream, "Steer", "at-steer", steer_of(arena, plan, at));
    write_reading(
        stream, "Wind", "at-wind",
        arena_print(arena, "%.0f kn from %03d\u00b0, %s",
                    mps_to_kn(at->tws_mps), words_degrees(at->twd_deg),
                    words_gust(arena, at->gust_mps, at->gust_estimated)));
    write_reading(stream, "Apparent", "at-apparent",
                  arena_print(arena, "%.0f\u00b0 on the %s side, %.0f kn",
                              fabs(at->awa_deg), side_of(at->awa_deg),
                              mps_to_kn(at->aws_mps)));
    write_reading(stream, "Sea", "at-sea", sea_of(arena, at));
    write_reading(stream, "Roll", "at-roll", words_roll(arena, at->roll_deg));
    write_reading(stream, "Speed", "at-speed",
                  arena_print(arena, "%.1f kn, over the ground %.1f kn",
                              mps_to_kn(at->stw_mps), mps_to_kn(at->sog_mps)));
    write_reading(stream, "Light", "at-light",
                  arena_print(arena, "%s; forecast: %s", words_light(at->light),
                              words_trust(plan->legs[0].trust)));
}

static void write_slider(const struct plan *plan, FILE *stream) {
    fprintf(stream,
            "<div class=\"steering\" id=\"steering\" hidden>\n"
            "<input type=\"range\" id=\"time\" min=\"0\" max=\"%.0f\" "
            "step=\"1\" value=\"0\" aria-label=\"Time of the passage\" "
            "aria-describedby=\"keys-help\">\n"
            "<p><button type=\"button\" id=\"to-start\">departure</button>"
            "<button type=\"button\" id=\"to-now\" hidden>now</button>"
            "<button type=\"button\" id=\"work-before\">&#8592; deck work"
            "</button><button type=\"button\" id=\"work-after\">deck work "
            "&#8594;</button></p></div>\n",
            plan->summary.elapsed_s);
}

void page_log_write(const struct plan *plan, const struct waypoints *waypoints,
                    FILE *stream) {
    struct arena arena;
    char at[SHARP_TEXT_SIZE];
    arena_init(&arena);
    fputs("<aside class=\"log\">\n", stream);
    write_next(plan, waypoints, stream);
    if (plan->chart.sample_count >= 2) {
        struct deck deck = plan->chart.samples[0].deck;
        clock_print_exact(plan, plan->depart, at);
        fputs("<section class=\"now-log\"><h2 id=\"at-name\">At departure"
              "</h2>\n",
              stream);
        write_slider(plan, stream);
        fprintf(stream,
                "<p class=\"when\" id=\"at-time\">%s</p>\n<p class=\"rig\" "
                "id=\"at-rig\">",
                at);
        write_flag(deck, stream);
        fprintf(stream, "<span>%s</span></p>\n<table class=\"readings\">\n",
                words_rig_short(deck));
        write_readings(&arena, plan, stream);
        fputs("</table>\n<p class=\"note\">Where she is then is the plan's "
              "guess; times to act by stand under Deck work.</p>\n"
              "<p class=\"note\" id=\"keys-help\">Keys: left and right half "
              "an hour, up and down six hours, Home and End; N and B the next "
              "and the last deck work.</p></section>\n",
              stream);
    }
    fputs("</aside>\n", stream);
    arena_free(&arena);
}
