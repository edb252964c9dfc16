#include "report/page_route.h"

#include "report/clock.h"
#include "report/html.h"
#include "report/page_map.h"
#include "report/page_symbols.h"
#include "report/words.h"

#include <math.h>

const char *page_route_class(struct deck deck) {
    static const char *const words[][2] = {
        [MODE_STOWED] = {"stowed", "stowed"},
        [MODE_WING] = {"port wing", "starboard wing"},
        [MODE_POLED_REACH] = {"port reach", "starboard reach"},
        [MODE_ROLLED] = {"port rolled", "starboard rolled"},
    };
    return words[deck_mode(deck)][deck.spar == SPAR_STARBOARD];
}

const char *page_route_letter(struct deck deck) {
    static const char *const letters[] = {
        [SPAR_STOWED] = "in", [SPAR_PORT] = "P", [SPAR_STARBOARD] = "S"};
    return letters[deck.spar];
}

/* --- legs -----------------------------------------------------------------*/

static bool same_look(struct deck a, struct deck b) {
    return deck_mode(a) == deck_mode(b) && a.spar == b.spar;
}

/* Legs sailed alike, one after the other, are one line. */
struct run {
    size_t first, end;
};

static struct run run_from(const struct plan *plan, size_t first) {
    struct run run = {first, first + 1};
    while (run.end < plan->leg_count &&
           same_look(plan->legs[run.end].deck, plan->legs[first].deck))
        run.end++;
    return run;
}

static void write_line(const struct plan *plan, struct run run, FILE *stream) {
    struct page_place at =
        page_map_of(&plan->chart, plan->legs[run.first].from);
    fprintf(stream, "M%.2f %.2fL", at.x, at.y);
    for (size_t i = run.first; i < run.end; i++) {
        at = page_map_of(&plan->chart, plan->legs[i].to);
        fprintf(stream, "%s%.2f %.2f", i > run.first ? " " : "", at.x, at.y);
    }
}

/* The leg that the middle of the run is on, and how far along it. */
static struct page_place middle_of(const struct plan *plan, struct run run) {
    double sum_m = 0.0;
    for (size_t i = run.first; i < run.end; i++)
        sum_m += plan->legs[i].distance_m;
    double left_m = 0.5 * sum_m;
    size_t i = run.first;
    while (i + 1 < run.end && left_m > plan->legs[i].distance_m)
        left_m -= plan->legs[i++].distance_m;
    struct page_place a = page_map_of(&plan->chart, plan->legs[i].from);
    struct page_place b = page_map_of(&plan->chart, plan->legs[i].to);
    double part = left_m / fmax(plan->legs[i].distance_m, 1.0);
    return (struct page_place){a.x + part * (b.x - a.x),
                               a.y + part * (b.y - a.y)};
}

static double length_of(const struct plan *plan, struct run run) {
    double sum = 0.0;
    for (size_t i = run.first; i < run.end; i++) {
        struct page_place a = page_map_of(&plan->chart, plan->legs[i].from);
        struct page_place b = page_map_of(&plan->chart, plan->legs[i].to);
        sum += hypot(b.x - a.x, b.y - a.y);
    }
    return sum;
}

/* A shorter run has no room for its letter. */
static const double LETTER_ROOM = 40.0;

static void write_letter(const struct plan *plan, struct run run,
                         FILE *stream) {
    if (length_of(plan, run) < LETTER_ROOM)
        return;
    struct deck deck = plan->legs[run.first].deck;
    struct page_place at = middle_of(plan, run);
    page_fixed_begin(stream, "letter", at.x, at.y);
    fprintf(stream, "<circle class=\"%s\" r=\"11\"/><text y=\"6\">%s</text>",
            page_route_class(deck), page_route_letter(deck));
    page_fixed_end(stream);
    fputc('\n', stream);
}

static void write_legs(const struct plan *plan, FILE *stream) {
    struct run all = {0, plan->leg_count};
    fputs("<g id=\"route\"><path class=\"halo\" d=\"", stream);
    write_line(plan, all, stream);
    fputs("\"/>\n", stream);
    for (size_t i = 0; i < plan->leg_count;) {
        struct run run = run_from(plan, i);
        fprintf(stream, "<path class=\"leg %s\" d=\"",
                page_route_class(plan->legs[i].deck));
        write_line(plan, run, stream);
        fprintf(stream, "\"><title>%s</title></path>\n",
                words_rig_short(plan->legs[i].deck));
        i = run.end;
    }
    for (size_t i = 0; i < plan->leg_count;) {
        struct run run = run_from(plan, i);
        write_letter(plan, run, stream);
        i = run.end;
    }
    fputs("</g>\n", stream);
}

/* --- deck work ------------------------------------------------------------*/

static struct page_place place_on_track(const struct plan *plan,
                                        struct instant at) {
    size_t i = 1;
    while (i + 1 < plan->track_count && plan->track[i].at.unix_s < at.unix_s)
        i++;
    const struct plan_point *a = &plan->track[i - 1], *b = &plan->track[i];
    double span_s = fmax(instant_minus(b->at, a->at), 1.0);
    double part = fmin(fmax(instant_minus(at, a->at) / span_s, 0.0), 1.0);
    struct page_place p = page_map_of(&plan->chart, a->position);
    struct page_place q = page_map_of(&plan->chart, b->position);
    return (struct page_place){p.x + part * (q.x - p.x),
                               p.y + part * (q.y - p.y)};
}

/* The stretch of the track within which it can be done for little. */
static void write_margin(const struct plan *plan,
                         const struct plan_change *change, FILE *stream) {
    if (!change->earliest_known || !change->latest_known ||
        change->latest.unix_s <= change->earliest.unix_s ||
        plan->track_count < 2)
        return;
    struct page_place at = place_on_track(plan, change->earliest);
    fprintf(stream, "<path class=\"margin\" d=\"M%.2f %.2fL", at.x, at.y);
    for (size_t i = 0; i < plan->track_count; i++) {
        struct instant when = plan->track[i].at;
        if (when.unix_s <= change->earliest.unix_s ||
            when.unix_s >= change->latest.unix_s)
            continue;
        at = page_map_of(&plan->chart, plan->track[i].position);
        fprintf(stream, "%.2f %.2f ", at.x, at.y);
    }
    at = place_on_track(plan, change->latest);
    fprintf(stream, "%.2f %.2f\"/>\n", at.x, at.y);
}

static void write_mark(const struct plan *plan, const struct waypoint *point,
                       FILE *stream) {
    struct page_place at = page_map_of(&plan->chart, point->position);
    struct arena arena;
    arena_init(&arena);
    fprintf(stream, "<g class=\"work\" id=\"mark-%s\">", point->name);
    page_fixed_begin(stream, page_route_class(point->work->to), at.x, at.y);
    bool left = at.x > 0.88 * PAGE_MAP_WIDTH;
    fprintf(stream,
            "<path d=\"M-11 -11h22v22h-22z\"/><text class=\"side\" y=\"6\">%s"
            "</text><text class=\"name%s\" x=\"%d\" y=\"-13\">%s</text>",
            page_route_letter(point->work->to), left ? " left" : "",
            left ? -12 : 12, point->name);
    page_fixed_end(stream);
    fputs("<title>", stream);
    html_text(stream, words_order(&arena, point->work->kind, point->work->to));
    fputs("</title></g>\n", stream);
    arena_free(&arena);
}

static void write_works(const struct plan *plan,
                        const struct waypoints *waypoints, FILE *stream) {
    fputs("<g id=\"works\">\n", stream);
    for (size_t i = 0; i < waypoints->count; i++)
        if (waypoints->items[i].work)
            write_mark(plan, &waypoints->items[i], stream);
    fputs("</g>\n", stream);
}

/* --- ends, ports, boat ----------------------------------------------------*/

static void write_end(const struct plan *plan, struct position place,
                      const char *name, FILE *stream) {
    struct page_place at = page_map_of(&plan->chart, place);
    bool left = at.x > 0.8 * PAGE_MAP_WIDTH;
    page_fixed_begin(stream, "end", at.x, at.y);
    fprintf(stream,
            "<circle r=\"8\"/><circle r=\"2\"/><text%s x=\"%d\" "
            "y=\"28\">",
            left ? " class=\"left\"" : "", left ? 8 : -8);
    html_text(stream, name);
    fputs("</text>", stream);
    page_fixed_end(stream);
    fputc('\n', stream);
}

static void write_boat(const struct plan *plan, FILE *stream) {
    const struct plan_leg *leg = &plan->legs[0];
    struct page_place at = page_map_of(&plan->chart, leg->from);
    fputs("<g id=\"boat-here\">", stream);
    page_fixed_begin(stream, "boat", at.x, at.y);
    fprintf(stream, "<use href=\"#boat\" transform=\"rotate(%.0f)\"/>",
            leg->heading_deg);
    page_fixed_end(stream);
    fputs("</g>\n", stream);
}

void page_route_write(const struct plan *plan,
                      const struct waypoints *waypoints, FILE *stream) {
    for (size_t i = 0; i < plan->change_count; i++)
        if (plan->changes[i].deck_work)
            write_margin(plan, &plan->changes[i], stream);
    write_legs(plan, stream);
    for (size_t i = 0; i < plan->port_count; i++)
        write_end(plan, plan->ports[i].position, plan->ports[i].name, stream);
    write_end(plan, plan->legs[0].from, "start", stream);
    write_end(plan, plan->legs[plan->leg_count - 1].to,
              plan->summary.reached ? "finish" : "forecast ends", stream);
    write_works(plan, waypoints, stream);
    write_boat(plan, stream);
}

/* --- key ------------------------------------------------------------------*/

static void write_key_line(struct deck deck, const char *words, FILE *stream) {
    const char *look = page_route_class(deck);
    fprintf(stream,
            "<span class=\"key\"><svg width=\"64\" height=\"24\" "
            "viewBox=\"0 0 64 24\" aria-hidden=\"true\"><path class=\"leg %s\" "
            "d=\"M2 12H62\"/><g class=\"letter\"><circle class=\"%s\" "
            "cx=\"32\" cy=\"12\" r=\"11\"/><text x=\"32\" y=\"18\">%s</text>"
            "</g></svg>%s</span>\n",
            look, look, page_route_letter(deck), words);
}

static bool is_used(const struct plan *plan, struct deck deck) {
    for (size_t i = 0; i < plan->leg_count; i++)
        if (same_look(plan->legs[i].deck, deck))
            return true;
    return false;
}

static void write_lines_key(const struct plan *plan, FILE *stream) {
    for (int i = 0; i < DECK_STATES; i++) {
        struct deck deck = deck_at(i);
        bool told = false; /* stowed looks the same on both tacks */
        for (int k = 0; k < i; k++)
            told = told || same_look(deck_at(k), deck);
        if (!told && is_used(plan, deck))
            write_key_line(deck, words_rig_short(deck), stream);
    }
}

/* The script puts that of the chosen time there. */
static void write_weather_time(const struct plan *plan, FILE *stream) {
    const struct plan_chart *chart = &plan->chart;
    char at[SHARP_TEXT_SIZE];
    if (chart->frame_count == 0)
        return;
    clock_print_exact(plan, chart->frames[0].at, at);
    fprintf(stream,
            "<p class=\"weather-time\">Wind, waves and night: "
            "<b id=\"weather-time\">%s%s</b></p>\n",
            at,
            chart->frames[0].beyond_forecast ? ", beyond the forecast: a guess"
                                             : "");
}

void page_route_key(const struct plan *plan, FILE *stream) {
    write_weather_time(plan, stream);
    fputs("<p class=\"keys\">", stream);
    write_lines_key(plan, stream);
    fputs("</p>\n<p>Square: deck work; the band along the route is its "
          "margin. Wind barbs: over the water, half a barb 5 kn, a barb 10, "
          "a pennant 50, a ring calm. Waves: arrow to where they go, height "
          "in metres. Shaded: night, the sun more than 6\u00b0 down.",
          stream);
    if (plan->isochrone_count > 0)
        fputs(" Thin lines: isochrones.", stream);
    if (!plan->chart.has_coast)
        fputs(" <strong>No land is drawn, and none was checked.</strong>",
              stream);
    else
        fputs(" Land is drawn coarser than it was checked; where there are "
              "slanting lines no shoreline is loaded.",
              stream);
    fputs(" Not for navigation.</p>\n", stream);
}
