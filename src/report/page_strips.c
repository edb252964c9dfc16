#include "report/page_strips.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/html.h"
#include "report/page_route.h"
#include "report/words.h"

#include <math.h>
#include <string.h>

/* A strip is so wide and high in its own units, and drawn as wide as the page:
 * its lines are stretched, so no text stands in it. */
enum { WIDE = 1000, HIGH = 100 };

struct line {
    const char *look;
    struct figure (*value)(const struct plan_sample *sample);
};

/* Between two values, or at one. */
struct band {
    const char *look;
    double low, high;
};

enum { LINES_MOST = 2, BANDS_MOST = 2 };

struct strip {
    const char *name, *unit;
    const char *note; /* what its lines are */
    double low, high; /* at its bottom and top */
    struct line lines[LINES_MOST];
    struct band bands[BANDS_MOST];
};

/* --- time -----------------------------------------------------------------*/

static double part_at(const struct plan *plan, struct instant at) {
    double elapsed_s = fmax(plan->summary.elapsed_s, 1.0);
    return fmin(fmax(instant_minus(at, plan->depart) / elapsed_s, 0.0), 1.0);
}

/* A stretch of time with one look. */
struct span {
    struct instant start, end;
};

/* Stretches of samples that are alike; false when none is left. */
static bool next_span(const struct plan *plan, size_t *index,
                      bool (*alike)(const struct plan_sample *,
                                    const struct plan_sample *),
                      struct span *span) {
    const struct plan_chart *chart = &plan->chart;
    size_t first = *index, end = first + 1;
    if (first + 1 >= chart->sample_count)
        return false;
    while (end + 1 < chart->sample_count &&
           alike(&chart->samples[first], &chart->samples[end]))
        end++;
    *span = (struct span){chart->samples[first].at, chart->samples[end].at};
    *index = end;
    return true;
}

static bool same_light(const struct plan_sample *a,
                       const struct plan_sample *b) {
    return a->light == b->light;
}

static bool same_rig(const struct plan_sample *a, const struct plan_sample *b) {
    return deck_mode(a->deck) == deck_mode(b->deck) &&
           a->deck.spar == b->deck.spar;
}

static void write_nights(const struct plan *plan, FILE *stream) {
    size_t index = 0, first = 0;
    struct span span;
    while (next_span(plan, &index, same_light, &span)) {
        enum light light = plan->chart.samples[first].light;
        double start = WIDE * part_at(plan, span.start);
        if (light != LIGHT_DAY)
            fprintf(stream,
                    "<rect class=\"%s\" x=\"%.1f\" width=\"%.1f\" "
                    "height=\"%d\"/>",
                    words_light(light), start,
                    WIDE * part_at(plan, span.end) - start, HIGH);
        first = index;
    }
}

/* --- lines ----------------------------------------------------------------*/

static double y_of(const struct strip *strip, double value) {
    double part = (value - strip->low) / (strip->high - strip->low);
    return HIGH * (1.0 - fmin(fmax(part, 0.0), 1.0));
}

static void write_line(const struct plan *plan, const struct strip *strip,
                       const struct line *line, FILE *stream) {
    bool broken = true;
    fprintf(stream, "<path class=\"%s\" d=\"", line->look);
    for (size_t i = 0; i < plan->chart.sample_count; i++) {
        const struct plan_sample *sample = &plan->chart.samples[i];
        struct figure value = line->value(sample);
        if (value.known)
            fprintf(stream, "%c%.1f %.1f", broken ? 'M' : 'L',
                    WIDE * part_at(plan, sample->at), y_of(strip, value.value));
        broken = !value.known;
    }
    fputs("\"/>", stream);
}

static void write_band(const struct strip *strip, const struct band *band,
                       FILE *stream) {
    double low = y_of(strip, band->low), high = y_of(strip, band->high);
    if (!band->look || band->low > strip->high)
        return;
    if (band->high > band->low)
        fprintf(stream,
                "<rect class=\"%s\" y=\"%.1f\" width=\"%d\" height=\"%.1f\"/>",
                band->look, high, WIDE, low - high);
    else
        fprintf(stream, "<path class=\"%s\" d=\"M0 %.1fH%d\"/>", band->look,
                low, WIDE);
}

static void write_works(const struct plan *plan, FILE *stream) {
    for (size_t i = 0; i < plan->change_count; i++)
        if (plan->changes[i].deck_work)
            fprintf(stream, "<path class=\"work-line\" d=\"M%.1f 0V%d\"/>",
                    WIDE * part_at(plan, plan->changes[i].at), HIGH);
}

static void write_strip(const struct plan *plan, const struct strip *strip,
                        FILE *stream) {
    fprintf(stream,
            "<div class=\"strip\"><p class=\"gutter\"><b>%s</b> "
            "<span class=\"note\">%s</span></p><p class=\"scale\">"
            "<span>%g %s</span><span>%g</span></p>",
            strip->name, strip->note, strip->high, strip->unit, strip->low);
    fprintf(stream,
            "<svg class=\"plot\" viewBox=\"0 0 %d %d\" "
            "preserveAspectRatio=\"none\" role=\"img\" aria-label=\"%s over "
            "time\">",
            WIDE, HIGH, strip->name);
    write_nights(plan, stream);
    for (int i = 0; i < BANDS_MOST; i++)
        write_band(strip, &strip->bands[i], stream);
    write_works(plan, stream);
    for (int i = 0; i < LINES_MOST; i++)
        if (strip->lines[i].look)
            write_line(plan, strip, &strip->lines[i], stream);
    fprintf(stream, "<path class=\"now\" d=\"M0 0V%d\"/></svg></div>\n", HIGH);
}

/* --- values ---------------------------------------------------------------*/

static struct figure tws_kn(const struct plan_sample *sample) {
    return figure_of(mps_to_kn(sample->tws_mps));
}

static struct figure gust_kn(const struct plan_sample *sample) {
    return (struct figure){sample->gust_mps.known,
                           mps_to_kn(sample->gust_mps.value)};
}

static struct figure twa_deg(const struct plan_sample *sample) {
    return figure_of(fabs(sample->twa_deg));
}

static struct figure awa_deg(const struct plan_sample *sample) {
    return figure_of(fabs(sample->awa_deg));
}

static struct figure wave_m(const struct plan_sample *sample) {
    return sample->wave_m;
}

static struct figure roll_deg(const struct plan_sample *sample) {
    return figure_of(sample->roll_deg);
}

static struct figure stw_kn(const struct plan_sample *sample) {
    return figure_of(mps_to_kn(sample->stw_mps));
}

static struct figure sog_kn(const struct plan_sample *sample) {
    return figure_of(mps_to_kn(sample->sog_mps));
}

/* The least and the most of all values and bands. */
struct extent {
    double least, most;
};

static void reach(struct extent *extent, struct figure value) {
    if (!value.known)
        return;
    extent->least = fmin(extent->least, value.value);
    extent->most = fmax(extent->most, value.value);
}

static struct extent extent_of(const struct plan *plan,
                               const struct strip *strip) {
    struct extent extent = {HUGE_VAL, 0.0};
    for (size_t i = 0; i < plan->chart.sample_count; i++)
        for (int k = 0; k < LINES_MOST; k++)
            if (strip->lines[k].look)
                reach(&extent, strip->lines[k].value(&plan->chart.samples[i]));
    for (int k = 0; k < BANDS_MOST; k++) {
        if (!strip->bands[k].look)
            continue;
        reach(&extent, figure_of(strip->bands[k].low));
        reach(&extent, figure_of(strip->bands[k].high));
    }
    return extent;
}

/* From 0 to the next round figure above. */
static void put_strip(const struct plan *plan, struct strip *strip, double step,
                      FILE *stream) {
    double most = extent_of(plan, strip).most;
    strip->high = step * fmax(ceil(most / step), 1.0);
    write_strip(plan, strip, stream);
}

/* --- the strips -----------------------------------------------------------*/

static void write_wind(struct arena *arena, const struct plan *plan,
                       FILE *stream) {
    double limit_kn = mps_to_kn(plan->boat->work.max_wind_mps);
    struct strip strip = {
        .name = "True wind",
        .unit = "kn",
        .note = arena_print(arena,
                            "line: mean; dots: gust; dashes: limit for work "
                            "on deck, %.0f kn",
                            limit_kn),
        .lines = {{"line", tws_kn}, {"line dots", gust_kn}},
        .bands = {{"limit", limit_kn, limit_kn}}};
    put_strip(plan, &strip, 5.0, stream);
}

/* Where the angles' strip may begin. */
static const double ANGLE_STEP_DEG = 30.0;

static void write_angles(struct arena *arena, const struct plan *plan,
                         FILE *stream) {
    double wing[2], reach[2];
    voyage_spar_range(plan->boat, MODE_WING, &wing[0], &wing[1]);
    voyage_spar_range(plan->boat, MODE_POLED_REACH, &reach[0], &reach[1]);
    struct strip strip = {
        .name = "Wind angle",
        .unit = "deg",
        .note = arena_print(arena,
                            "line: AWA; dots: TWA; upper band: wing-and-wing, "
                            "AWA %.0f to %.0f deg; lower: poled reach, %.0f to "
                            "%.0f deg",
                            wing[0], wing[1], reach[0], reach[1]),
        .lines = {{"line", awa_deg}, {"line dots", twa_deg}},
        .bands = {{"range wing", wing[0], wing[1]},
                  {"range reach", reach[0], reach[1]}}};
    strip.high = 180.0;
    strip.low = ANGLE_STEP_DEG *
                fmin(floor(extent_of(plan, &strip).least / ANGLE_STEP_DEG),
                     strip.high / ANGLE_STEP_DEG - 1.0);
    write_strip(plan, &strip, stream);
}

static void write_sea(struct arena *arena, const struct plan *plan,
                      FILE *stream) {
    double limit_m = plan->boat->work.max_wave_m;
    struct strip strip = {
        .name = "Waves",
        .unit = "m",
        .note = arena_print(arena,
                            "significant height; dashes: limit for work on "
                            "deck, %.1f m",
                            limit_m),
        .lines = {{"line", wave_m}},
        .bands = {{"limit", limit_m, limit_m}}};
    put_strip(plan, &strip, 1.0, stream);
}

static void write_roll(struct arena *arena, const struct plan *plan,
                       FILE *stream) {
    const struct comfort *comfort = &plan->boat->comfort;
    struct strip strip = {
        .name = "Roll",
        .unit = "deg",
        .note = arena_print(arena,
                            "rms, often twice as much; band: easy, to %g deg; "
                            "dashes: working limit, %g deg",
                            comfort->easy_roll_deg, comfort->working_roll_deg),
        .lines = {{"line", roll_deg}},
        .bands = {
            {"range easy", 0.0, comfort->easy_roll_deg},
            {"limit", comfort->working_roll_deg, comfort->working_roll_deg}}};
    put_strip(plan, &strip, 2.0, stream);
}

static void write_speed(const struct plan *plan, FILE *stream) {
    struct strip strip = {.name = "Speed",
                          .unit = "kn",
                          .note =
                              "line: through the water; dots: over the ground",
                          .lines = {{"line", stw_kn}, {"line dots", sog_kn}}};
    put_strip(plan, &strip, 2.0, stream);
}

/* --- spar -----------------------------------------------------------------*/

/* A shorter stretch has no room for its letter, or for the mode beside it. */
static const double LETTER_PART = 0.02, MODE_PART = 0.12;

static const char *mode_word(struct deck deck) {
    static const char *const words[] = {[MODE_STOWED] = "",
                                        [MODE_WING] = " wing",
                                        [MODE_POLED_REACH] = " reach",
                                        [MODE_ROLLED] = " rolled"};
    return words[deck_mode(deck)];
}

static void write_rig_span(const struct plan *plan,
                           const struct plan_sample *sample, struct span span,
                           FILE *stream) {
    double start = part_at(plan, span.start), end = part_at(plan, span.end);
    const char *look = page_route_class(sample->deck);
    fprintf(stream,
            "<rect class=\"%s\" x=\"%.2f%%\" width=\"%.2f%%\" "
            "height=\"100%%\"><title>%s</title></rect>",
            look, 100.0 * start, 100.0 * (end - start),
            words_rig_short(sample->deck));
    if (end - start > LETTER_PART)
        fprintf(stream, "<text class=\"%s\" x=\"%.2f%%\" y=\"21\">%s%s</text>",
                look, 50.0 * (start + end), page_route_letter(sample->deck),
                end - start > MODE_PART ? mode_word(sample->deck) : "");
}

static void write_rigs(const struct plan *plan, FILE *stream) {
    size_t index = 0, first = 0;
    struct span span;
    fputs("<div class=\"strip ribbon\"><p class=\"gutter\"><b>Spar</b> <span "
          "class=\"note\">P: out to port; S: out to starboard; in: stowed; "
          "wing-and-wing, poled reach"
          "</span></p><p class=\"scale\"></p>"
          "<svg class=\"rigs\" role=\"img\" aria-label=\"Spar over time\">",
          stream);
    while (next_span(plan, &index, same_rig, &span)) {
        write_rig_span(plan, &plan->chart.samples[first], span, stream);
        first = index;
    }
    fputs("<line class=\"now\" x1=\"0%\" x2=\"0%\" y1=\"0\" y2=\"100%\"/>"
          "</svg></div>\n",
          stream);
}

/* --- hours ----------------------------------------------------------------*/

/* Enough room for a label: between so many of them. */
enum { TICKS_MOST = 9 };

static double tick_step_s(double elapsed_s) {
    static const double hours[] = {1.0, 3.0, 6.0, 12.0, 24.0, 48.0, 96.0};
    enum { STEPS = sizeof hours / sizeof *hours };
    int i = 0;
    while (i + 1 < STEPS && elapsed_s / hours_to_s(hours[i]) > TICKS_MOST)
        i++;
    return hours_to_s(hours[i]);
}

static void write_tick(const struct plan *plan, struct instant at,
                       double step_s, FILE *stream) {
    char text[SHARP_TEXT_SIZE];
    if (step_s < hours_to_s(24.0))
        clock_print_hour(plan, at, text);
    else
        clock_print_day(plan, at, text);
    char *month = strrchr(text, ' ');
    if (month)
        *month = '\0';
    double part = 100.0 * part_at(plan, at);
    fprintf(stream,
            "<line class=\"tick\" x1=\"%.2f%%\" x2=\"%.2f%%\" y1=\"0\" "
            "y2=\"6\"/><text x=\"%.2f%%\" y=\"21\">",
            part, part, part);
    html_text(stream, text);
    fputs("</text>", stream);
}

static void write_hours(const struct plan *plan, FILE *stream) {
    char zone[CLOCK_ZONE_SIZE];
    double elapsed_s = plan->summary.elapsed_s;
    double step_s = tick_step_s(elapsed_s);
    double first_s = (double)plan->depart.unix_s + plan->display.zone_s;
    double offset_s = ceil(first_s / step_s) * step_s - first_s;
    clock_zone(plan, zone);
    fprintf(stream,
            "<div class=\"strip hours\"><p class=\"gutter\"><b>%s</b></p>"
            "<p class=\"scale\"></p><svg role=\"img\" aria-label=\"%s\">",
            zone, step_s < hours_to_s(24.0) ? "Hours" : "Days");
    for (int i = 0; offset_s + i * step_s <= elapsed_s; i++)
        write_tick(plan, instant_plus(plan->depart, offset_s + i * step_s),
                   step_s, stream);
    fputs("</svg></div>\n", stream);
}

void page_strips_write(const struct plan *plan, FILE *stream) {
    struct arena arena;
    if (plan->chart.sample_count < 2)
        return;
    arena_init(&arena);
    fputs("<section class=\"strips\" id=\"strips\"><h2>Along the way</h2>\n"
          "<p class=\"note\">Shaded: twilight and night where the boat is. "
          "Upright lines: deck work.</p>\n",
          stream);
    write_rigs(plan, stream);
    write_hours(plan, stream);
    write_wind(&arena, plan, stream);
    write_angles(&arena, plan, stream);
    write_sea(&arena, plan, stream);
    write_roll(&arena, plan, stream);
    write_speed(plan, stream);
    fputs("</section>\n", stream);
    arena_free(&arena);
}
