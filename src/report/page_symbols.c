#include "report/page_symbols.h"

#include "base/units.h"
#include "report/page_map.h"

#include <math.h>

/* In units of the chart. */
static const double SHAFT = 30.0, FULL = 12.0, SLANT = 5.0, APART = 5.0,
                    PENNANT = 8.0;

void page_fixed_begin(FILE *stream, const char *name, double x, double y) {
    fprintf(stream,
            "<g class=\"at%s%s\" transform=\"translate(%.1f %.1f)\">"
            "<g class=\"fix\">",
            *name ? " " : "", name, x, y);
}

void page_fixed_end(FILE *stream) {
    fputs("</g></g>", stream);
}

int page_barb(double tws_mps) {
    long fives = lround(mps_to_kn(tws_mps) / 5.0);
    return 5 *
           (int)(fives < PAGE_BARB_MOST_KN / 5 ? fives : PAGE_BARB_MOST_KN / 5);
}

char page_barb_side(struct position at) {
    return at.lat_deg < 0.0 ? 's' : 'n';
}

/* From the outer end of the shaft inward; `side` is 1 to the right of it. */
static void write_feathers(int knots, double side, FILE *stream) {
    double y = -SHAFT;
    if (knots < 10)
        y += APART; /* half a barb alone stands off the end */
    while (knots >= 50) {
        fprintf(stream, "M0 %gL%g %gL0 %gz", y, side * FULL, y - 1.0,
                y + PENNANT - 1.0);
        knots -= 50;
        y += PENNANT;
    }
    while (knots >= 10) {
        fprintf(stream, "M0 %gL%g %g", y, side * FULL, y - SLANT);
        knots -= 10;
        y += APART;
    }
    if (knots >= 5)
        fprintf(stream, "M0 %gL%g %g", y, side * FULL / 2.0, y - SLANT / 2.0);
}

static void write_barb(char name, int knots, FILE *stream) {
    fprintf(stream, "<g id=\"%c%d\" class=\"barb\">", name, knots);
    if (knots == 0)
        fputs("<circle r=\"6\"/><circle r=\"2\"/>", stream);
    else {
        fprintf(stream, "<path d=\"M0 0V%g", -SHAFT);
        write_feathers(knots, name == 'n' ? 1.0 : -1.0, stream);
        fputs("\"/><circle class=\"foot\" r=\"2\"/>", stream);
    }
    fputs("</g>\n", stream);
}

void page_symbols_write(FILE *stream) {
    fputs("<defs>\n", stream);
    for (int knots = 0; knots <= PAGE_BARB_MOST_KN; knots += 5) {
        write_barb('n', knots, stream);
        write_barb('s', knots, stream);
    }
    /* towards the south, as waves from the north go */
    fputs("<path id=\"wave\" class=\"wave\" d=\"M0 6c-5 3 5 6 0 9s5 6 0 9"
          "m-5 -4l5 10l5 -10\"/>\n"
          "<g id=\"boat\"><circle class=\"ring\" r=\"24\"/>"
          "<path class=\"hull\" d=\"M0 -20C9 -8 9 6 6 15H-6C-9 6 -9 -8 0 -20z"
          "\"/></g>\n"
          "<pattern id=\"no-shore\" width=\"12\" height=\"12\" "
          "patternUnits=\"userSpaceOnUse\"><path d=\"M0 12L12 0\"/></pattern>\n"
          "<pattern id=\"keep-out\" width=\"64\" height=\"64\" "
          "patternUnits=\"userSpaceOnUse\"><path d=\"M0 0L64 64\"/></pattern>\n"
          "</defs>\n",
          stream);
}

/* The height stands where the waves come from, off the arrow. */
static int height_y(double from_deg) {
    return from_deg > 90.0 && from_deg < 270.0 ? 20 : -8;
}

static void write_wave(const struct plan_spot *spot, FILE *stream) {
    bool known = spot->known && spot->wave_m.known;
    fprintf(stream,
            "<g class=\"sea-state\"%s><use href=\"#wave\" "
            "transform=\"rotate(%.0f)\"/><text y=\"%d\">",
            known ? "" : " visibility=\"hidden\"", spot->wave_from_deg,
            height_y(spot->wave_from_deg));
    if (known)
        fprintf(stream, "%.1f m", spot->wave_m.value);
    fputs("</text></g>", stream);
}

/* Barbs and waves take turns, like the fields of a chessboard. */
void page_symbols_weather(const struct plan *plan, FILE *stream) {
    const struct plan_chart *chart = &plan->chart;
    if (chart->frame_count == 0)
        return;
    fputs("<g id=\"weather\">\n", stream);
    for (size_t i = 0; i < chart->spot_count; i++) {
        const struct plan_spot *spot = &chart->frames[0].spots[i];
        struct page_place at = page_map_of(chart, chart->spots[i]);
        page_fixed_begin(stream, "spot", at.x, at.y);
        fprintf(stream,
                "<use class=\"wind\" href=\"#%c%d\" transform=\"rotate(%.0f)\""
                "%s/>",
                page_barb_side(chart->spots[i]),
                spot->known ? page_barb(spot->tws_mps) : 0, spot->twd_deg,
                spot->known ? "" : " visibility=\"hidden\"");
        write_wave(spot, stream);
        page_fixed_end(stream);
        fputc('\n', stream);
    }
    fputs("</g>\n", stream);
}
