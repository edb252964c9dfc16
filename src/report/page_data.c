#include "report/page_data.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/compass.h"
#include "report/page_chart.h"
#include "report/page_map.h"
#include "report/page_route.h"
#include "report/page_symbols.h"
#include "report/words.h"

#include <math.h>
#include <stddef.h>

/* --- the boat -------------------------------------------------------------*/

/* What a number of struct plan_sample is, by where it stands in it. */
enum kind {
    PLAIN,
    SPEED,        /* in knots for the page */
    FIGURE,       /* may not be known */
    FIGURE_SPEED, /* both */
    OF_WAVES      /* known where the waves are */
};

/* One list of numbers, a value for each sample. What the page rounds again has
 * so many decimals that it rounds as the tables do. */
struct column {
    const char *name;
    int decimals;
    enum kind kind;
    size_t place;
};

#define AT(field) offsetof(struct plan_sample, field)

static const struct column columns[] = {
    {"lat", 5, PLAIN, AT(position.lat_deg)},
    {"lon", 5, PLAIN, AT(position.lon_deg)},
    {"head", 0, PLAIN, AT(heading_deg)},
    {"twd", 0, PLAIN, AT(twd_deg)},
    {"twa", 0, PLAIN, AT(twa_deg)},
    {"awa", 0, PLAIN, AT(awa_deg)},
    {"tws", 3, SPEED, AT(tws_mps)},
    {"aws", 3, SPEED, AT(aws_mps)},
    {"stw", 3, SPEED, AT(stw_mps)},
    {"sog", 3, SPEED, AT(sog_mps)},
    {"roll", 3, PLAIN, AT(roll_deg)},
    {"gust", 3, FIGURE_SPEED, AT(gust_mps)},
    {"wave", 3, FIGURE, AT(wave_m)},
    {"period", 3, OF_WAVES, AT(wave_period_s)},
    {"wavefrom", 0, OF_WAVES, AT(wave_from_deg)},
};

#undef AT

enum { COLUMNS = sizeof columns / sizeof *columns };

static struct figure value_of(const struct column *column,
                              const struct plan_sample *sample) {
    const char *place = (const char *)sample + column->place;
    bool is_figure = column->kind == FIGURE || column->kind == FIGURE_SPEED;
    struct figure figure =
        is_figure ? *(const struct figure *)(const void *)place
                  : figure_of(*(const double *)(const void *)place);
    if (column->kind == SPEED || column->kind == FIGURE_SPEED)
        figure.value = mps_to_kn(figure.value);
    if (column->kind == OF_WAVES)
        figure.known = sample->wave_m.known;
    return figure;
}

/* As the page's script takes them apart. */
static int flags_of(const struct plan_sample *sample) {
    return (sample->working ? 1 : 0) + (sample->beyond_forecast ? 2 : 0) +
           (sample->gust_estimated ? 4 : 0) + (sample->wave_estimated ? 8 : 0);
}

/* Most numbers are whole, and printed many times faster as such. */
static const double WHOLE_MOST = 1e15;

/* JSON knows no other numbers; -0 is 0. */
static void put(struct figure figure, int decimals, FILE *stream) {
    if (!figure.known || !isfinite(figure.value)) {
        fputs("null", stream);
    } else if (decimals == 0 && fabs(figure.value) < WHOLE_MOST) {
        fprintf(stream, "%lld", llround(figure.value));
    } else {
        double tens = pow(10.0, decimals);
        double value = round(figure.value * tens) / tens;
        fprintf(stream, "%.*f", decimals, value + 0.0);
    }
}

static void write_column(const struct plan_chart *chart,
                         const struct column *column, FILE *stream) {
    fprintf(stream, ",\n\"%s\":[", column->name);
    for (size_t i = 0; i < chart->sample_count; i++) {
        if (i > 0)
            fputc(',', stream);
        put(value_of(column, &chart->samples[i]), column->decimals, stream);
    }
    fputc(']', stream);
}

/* The heading by the compass, where the plan wants it. */
static void write_magnetic(const struct plan *plan, FILE *stream) {
    if (!plan->display.magnetic)
        return;
    fputs(",\n\"mag\":[", stream);
    for (size_t i = 0; i < plan->chart.sample_count; i++) {
        if (i > 0)
            fputc(',', stream);
        put(compass_of_sample(plan, &plan->chart.samples[i]), 0, stream);
    }
    fputc(']', stream);
}

/* Where she is on the chart and when: one list of places, not of numbers. */
static void write_places(const struct plan *plan, FILE *stream) {
    const struct plan_chart *chart = &plan->chart;
    fputs("\"places\":[", stream);
    for (size_t i = 0; i < chart->sample_count; i++) {
        const struct plan_sample *sample = &chart->samples[i];
        struct page_place at = page_map_of(chart, sample->position);
        fprintf(stream, "%s[%.0f,%.2f,%.2f,%d,%d,%d]", i > 0 ? "," : "",
                instant_minus(sample->at, plan->depart), at.x, at.y,
                deck_index(sample->deck), flags_of(sample), (int)sample->light);
    }
    fputs("]", stream);
}

static void write_samples(const struct plan *plan, FILE *stream) {
    fputs("\"samples\":{", stream);
    write_places(plan, stream);
    for (int i = 0; i < COLUMNS; i++)
        write_column(&plan->chart, &columns[i], stream);
    write_magnetic(plan, stream);
    fputs("},\n", stream);
}

/* --- the weather ----------------------------------------------------------*/

static struct figure spot_barb(const struct plan_spot *spot) {
    return (struct figure){spot->known, page_barb(spot->tws_mps)};
}

static struct figure spot_from(const struct plan_spot *spot) {
    return (struct figure){spot->known, spot->twd_deg};
}

static struct figure spot_wave(const struct plan_spot *spot) {
    return (struct figure){spot->known && spot->wave_m.known,
                           10.0 * spot->wave_m.value};
}

static struct figure spot_wave_from(const struct plan_spot *spot) {
    return (struct figure){spot->known && spot->wave_m.known,
                           spot->wave_from_deg};
}

static void write_spots(const struct plan *plan, const struct plan_frame *frame,
                        const char *name,
                        struct figure (*value)(const struct plan_spot *),
                        FILE *stream) {
    fprintf(stream, ",\"%s\":[", name);
    for (size_t i = 0; i < plan->chart.spot_count; i++) {
        if (i > 0)
            fputc(',', stream);
        put(value(&frame->spots[i]), 0, stream);
    }
    fputc(']', stream);
}

static void write_frame(const struct plan *plan, const struct plan_frame *frame,
                        FILE *stream) {
    fprintf(stream, "{\"t\":%.0f,\"beyond\":%s,\"night\":\"",
            instant_minus(frame->at, plan->depart),
            frame->beyond_forecast ? "true" : "false");
    page_chart_night(plan, frame->at, stream);
    fputc('"', stream);
    write_spots(plan, frame, "barb", spot_barb, stream);
    write_spots(plan, frame, "from", spot_from, stream);
    write_spots(plan, frame, "wave", spot_wave, stream);
    write_spots(plan, frame, "wavefrom", spot_wave_from, stream);
    fputc('}', stream);
}

static void write_frames(const struct plan *plan, FILE *stream) {
    const struct plan_chart *chart = &plan->chart;
    fputs("\"sides\":\"", stream);
    for (size_t i = 0; i < chart->spot_count; i++)
        fputc(page_barb_side(chart->spots[i]), stream);
    fputs("\",\n\"frames\":[", stream);
    for (size_t i = 0; i < chart->frame_count; i++) {
        fputs(i > 0 ? ",\n" : "\n", stream);
        write_frame(plan, &chart->frames[i], stream);
    }
    fputs("],\n", stream);
}

/* --- the rest -------------------------------------------------------------*/

static void write_decks(FILE *stream) {
    fputs("\"decks\":[", stream);
    for (int i = 0; i < DECK_STATES; i++) {
        struct deck deck = deck_at(i);
        fprintf(stream, "%s[\"%s\",\"%s\",\"%s\"]", i > 0 ? ",\n" : "\n",
                words_rig_short(deck), page_route_class(deck),
                page_route_letter(deck));
    }
    fputs("],\n", stream);
}

static void write_works(const struct plan *plan,
                        const struct waypoints *waypoints, FILE *stream) {
    bool first = true;
    fputs("\"works\":[", stream);
    for (size_t i = 0; i < waypoints->count; i++) {
        const struct waypoint *point = &waypoints->items[i];
        if (!point->work)
            continue;
        fprintf(stream, "%s{\"t\":%.0f,\"name\":\"%s\"}", first ? "" : ",",
                instant_minus(point->work->at, plan->depart), point->name);
        first = false;
    }
    fputs("],\n\"legs\":[", stream);
    for (size_t i = 0; i < plan->leg_count; i++)
        fprintf(stream, "%s%.0f", i > 0 ? "," : "",
                instant_minus(plan->legs[i].start, plan->depart));
    fputs("]", stream);
}

void page_data_write(const struct plan *plan, const struct waypoints *waypoints,
                     FILE *stream) {
    char zone[CLOCK_ZONE_SIZE];
    if (plan->chart.sample_count < 2)
        return;
    clock_zone(plan, zone);
    fprintf(stream,
            "<script type=\"application/json\" id=\"figures\">\n"
            "{\"depart\":%.0f,\"zone_s\":%.0f,\"zone\":\"%s\","
            "\"elapsed\":%.0f,\"good\":%.0f,\"fair\":%.0f,\n",
            (double)plan->depart.unix_s, plan->display.zone_s, zone,
            plan->summary.elapsed_s,
            instant_minus(plan->good_until, plan->depart),
            instant_minus(plan->fair_until, plan->depart));
    write_samples(plan, stream);
    write_frames(plan, stream);
    write_decks(stream);
    write_works(plan, waypoints, stream);
    fputs("}\n</script>\n", stream);
}
