#include "report/ask_report.h"

#include "base/units.h"
#include "earth/angle.h"
#include "plan/ask.h"
#include "report/sharp.h"
#include "report/sheet.h"
#include "report/words.h"

#include <math.h>
#include <stdlib.h>

static const char *const field_names[ASK_FIELDS] = {
    [ASK_WIND] = "wind at 10 m, both components",
    [ASK_GUST] = "gust at the surface or 10 m",
    [ASK_SEA] = "significant height, period and direction of the whole sea",
    [ASK_WIND_SEA] = "height, period and direction of the wind sea alone",
    [ASK_SWELL] = "height, period and direction of the first swell",
    [ASK_SWELL_MORE] = "height, period and direction of a second swell",
    [ASK_CURRENT] = "current at the surface, both components",
    [ASK_PRESSURE] = "pressure at sea level, to compare the barometer with",
};

/* "24 N". */
static const char *latitude(struct arena *arena, double lat_deg) {
    return arena_print(arena, "%.0f %c", fabs(lat_deg),
                       lat_deg < 0.0 ? 'S' : 'N');
}

static const char *longitude(struct arena *arena, double lon_deg) {
    double wrapped_deg = angle_wrap_longitude(lon_deg);
    return arena_print(arena, "%.0f %c", fabs(wrapped_deg),
                       wrapped_deg < 0.0 ? 'W' : 'E');
}

/* "96 kB", "1.4 MB": as sharp as it is known. */
static const char *size_of(struct arena *arena, double bytes) {
    if (bytes < 1e4)
        return arena_print(arena, "%.0f kB", fmax(1.0, ceil(bytes / 1e3)));
    if (bytes < 1e6)
        return arena_print(arena, "%.0f kB", round(bytes / 1e4) * 10.0);
    return arena_print(arena, "%.1f MB", bytes / 1e6);
}

/* Two speeds of links at sea: common practice, no source. */
static const double SLOW_BITS_PER_S = 2400.0;
static const double BETTER_BITS_PER_S = 64000.0;

static const char *minutes(struct arena *arena, double bytes,
                           double bits_per_s) {
    return words_duration(arena,
                          fmax(8.0 * bytes / bits_per_s, SECONDS_PER_MINUTE));
}

static void write_area(struct arena *arena, const struct ask *ask,
                       const struct request *request, FILE *stream) {
    const struct ask_area *area = &ask->area;
    sheet_entry(
        stream, "Area",
        "%s to %s, %s to %s: %.1f degrees of room "
        "(%.0f nmi) round the stops%s and the great "
        "circles between, to whole degrees outward",
        latitude(arena, area->south_deg), latitude(arena, area->north_deg),
        longitude(arena, area->west_deg), longitude(arena, area->east_deg),
        ask->room_deg, 60.0 * ask->room_deg,
        request->port_count > 0 ? ", the ports to run to" : "");
}

static void write_hours(const struct ask *ask, const struct request *request,
                        FILE *stream) {
    char depart[SHARP_TEXT_SIZE];
    sharp_print_exact(request->depart, depart);
    if (request->depart_text)
        sheet_entry(stream, "Hours",
                    "%.0f h from the last step before departure, %s UTC, on",
                    ask->hours, depart);
    else
        sheet_entry(stream, "Hours",
                    "%.0f h from the last step before departure on",
                    ask->hours);
    sheet_entry(stream, "Steps", "every %.0f h: %zu steps", ask->step_h,
                ask->steps);
}

static void write_size(struct arena *arena, const struct ask *ask,
                       FILE *stream) {
    sheet_entry(stream, "Size",
                "about %s, packed plainly; %s at 2400 bit/s, %s at 64 kbit/s; "
                "a third more as an attachment to a mail",
                size_of(arena, ask->bytes),
                minutes(arena, ask->bytes, SLOW_BITS_PER_S),
                minutes(arena, ask->bytes, BETTER_BITS_PER_S));
}

static void write_ask(struct arena *arena, const char *heading,
                      const struct ask *ask, const struct request *request,
                      FILE *stream) {
    int fields = 0;
    sheet_heading(stream, "%s  about %s", heading, size_of(arena, ask->bytes));
    write_area(arena, ask, request, stream);
    write_hours(ask, request, stream);
    sheet_entry(stream, "Spacing",
                "%g degree%s or the next that there is: %zu by %zu points",
                ask->spacing_deg, ask->spacing_deg > 1.0 ? "s" : "",
                ask->columns, ask->rows);
    for (int i = 0; i <= (int)ask->last; i++) {
        fields += ask_fields_of((enum ask_field)i);
        sheet_entry(stream, i == 0 ? "Fields" : "", "%s", field_names[i]);
    }
    sheet_entry(stream, "", "%d fields at each step", fields);
    write_size(arena, ask, stream);
}

static void write_way(struct arena *arena, const struct boat *boat,
                      const struct request *request, const struct ask *ask,
                      FILE *stream) {
    sheet_paragraph(
        stream, 0, 0,
        arena_print(arena, "What to ask a forecast for: %s", request->name));
    fputc('\n', stream);
    sheet_entry(stream, "Way", "%.0f nmi by great circles from stop to stop",
                m_to_nmi(ask_way_m(request)));
    sheet_entry(stream, "Time",
                "%s at %.1f kn: the mean of the stowed polar of %s over "
                "all angles from 60 deg aft in 12 kn of wind",
                words_duration(arena, ask->passage_s),
                mps_to_kn(ask_fair_mps(boat)), boat->name);
}

static void write_notes(const struct request *request, FILE *stream) {
    sheet_heading(stream, "NOTES");
    if (request->max_gust_mps.known)
        sheet_item(stream, "-",
                   "max_gust is set: without gusts no plan is made");
    if (request->max_wave_m.known)
        sheet_item(stream, "-",
                   "max_wave is set: without heights of the sea no plan is "
                   "made");
    sheet_item(stream, "-",
               "The small one has a tenth of the time and 6 h to spare, the "
               "fuller one three tenths and 24 h. Where the forecast ends "
               "sooner take all of it: what lies beyond is a guess, and marked "
               "so.");
    sheet_item(stream, "-",
               "With land between the stops the way is longer: give places to "
               "pass with --via, and the area follows.");
    sheet_item(stream, "-",
               "What there is not, leave out: 'sparwise forecast FILE' tells "
               "what a plan will miss.");
    sheet_item(stream, "-",
               "The size is that of GRIB edition 2, plainly packed, over open "
               "sea. Files of weather centres had from a quarter of it, packed "
               "tightly and most of it land, to a third more.");
    sheet_item(stream, "-",
               "Too large? First a wider spacing, then fewer hours; wind, gust "
               "and the whole sea last.");
}

bool ask_report_write(const struct boat *boat, const struct request *request,
                      FILE *stream, struct error *error) {
    struct arena arena;
    arena_init(&arena);
    struct ask small = ask_for(boat, request, ASK_SMALL);
    struct ask full = ask_for(boat, request, ASK_FULL);
    write_way(&arena, boat, request, &small, stream);
    write_ask(&arena, "SMALL REQUEST", &small, request, stream);
    write_ask(&arena, "FULLER REQUEST", &full, request, stream);
    write_notes(request, stream);
    arena_free(&arena);
    return (fflush(stream) == 0 && !ferror(stream)) ||
           error_set(error, STATUS_WRITE,
                     "what to ask for can't be written; is the disk full?");
}
