#include "plan/charted.h"

#include "base/units.h"
#include "earth/mercator.h"
#include "plan/mapped.h"
#include "plan/thinned.h"

#include <math.h>
#include <string.h>

/* --- the box --------------------------------------------------------------*/

/* Room round the way, as a part of its longer side, and no less than this:
 * about 6 nmi. */
static const double ROOM_FRAC = 0.09;
static const double ROOM_LEAST = 0.0017;

/* Width over height. */
static const double SHAPE = 1.5;

/* No chart reaches nearer to a pole. */
static const double LAST_LAT_DEG = 85.0;

static struct chart_box with_place(struct chart_box box,
                                   struct position place) {
    return chart_box_with(box, mercator_near(place, box.low));
}

static struct chart_box box_of_way(const struct plan *plan) {
    struct mercator start = mercator_of(plan->track[0].position);
    struct chart_box box = {start, start};
    struct mercator last = start;
    for (size_t i = 1; i < plan->track_count; i++) {
        last = mercator_near(plan->track[i].position, last);
        box = chart_box_with(box, last);
    }
    for (size_t i = 0; i < plan->port_count; i++)
        box = with_place(box, plan->ports[i].position);
    return box;
}

/* Moved whole, so that it keeps its shape. */
static void keep_off_poles(struct chart_box *box) {
    double most = mercator_of((struct position){LAST_LAT_DEG, 0.0}).y;
    double down = fmax(0.0, box->high.y - most);
    double up = fmax(0.0, -most - box->low.y);
    box->low.y += up - down;
    box->high.y += up - down;
}

static struct chart_box chart_box(const struct plan *plan) {
    struct chart_box box = box_of_way(plan);
    double x = box.high.x - box.low.x, y = box.high.y - box.low.y;
    double room = fmax(ROOM_FRAC * fmax(x, SHAPE * y), ROOM_LEAST);
    double width = fmax(x + 2.0 * room, SHAPE * (y + 2.0 * room));
    double more_x = 0.5 * (width - x), more_y = 0.5 * (width / SHAPE - y);
    box.low.x -= more_x;
    box.high.x += more_x;
    box.low.y -= more_y;
    box.high.y += more_y;
    keep_off_poles(&box);
    return box;
}

/* --- the weather ----------------------------------------------------------*/

enum { GRID_COLUMNS = 15, GRID_ROWS = 10 };

static bool is_spot(const struct charting *from, struct position at) {
    if (!from->water->coast)
        return true;
    return coast_covers(from->water->coast, at) &&
           !water_is_inland(from->water, at);
}

static void lay_spots(struct plan_chart *chart, const struct charting *from,
                      struct arena *arena) {
    const struct chart_box *box = &chart->box;
    chart->spots = arena_alloc(arena, (size_t)GRID_COLUMNS * GRID_ROWS,
                               sizeof *chart->spots);
    for (int i = 0; i < GRID_COLUMNS * GRID_ROWS; i++) {
        int column = i % GRID_COLUMNS, row = i / GRID_COLUMNS;
        double east = (column + 0.5) / GRID_COLUMNS;
        double north = (row + 0.5) / GRID_ROWS;
        struct position at = mercator_position(
            (struct mercator){box->low.x + east * (box->high.x - box->low.x),
                              box->low.y + north * (box->high.y - box->low.y)});
        if (is_spot(from, at))
            chart->spots[chart->spot_count++] = at;
    }
}

static struct plan_spot spot_at(const struct voyage *voyage, struct position at,
                                double t_s, bool *beyond_forecast) {
    struct conditions here;
    if (voyage_look(voyage, at, t_s, &here) != OBSTACLE_NONE)
        return (struct plan_spot){.known = false};
    *beyond_forecast = here.beyond_forecast;
    struct plan_spot spot = {.known = true,
                             .tws_mps = here.tws_mps,
                             .twd_deg = here.twd_deg,
                             .gust_mps = here.gust_mps};
    if (here.sea.height_known) {
        spot.wave_m = figure_of(here.sea.height_m);
        spot.wave_from_deg = here.sea.from_deg;
    }
    return spot;
}

/* Hours between frames, the first that makes few enough. */
static double frame_step_s(double elapsed_s) {
    static const double hours[] = {1.0, 3.0, 6.0, 12.0};
    for (size_t i = 0; i < sizeof hours / sizeof *hours; i++)
        if (elapsed_s <= (CHARTED_FRAMES - 2) * hours_to_s(hours[i]))
            return hours_to_s(hours[i]);
    double days = ceil(elapsed_s / (CHARTED_FRAMES - 2) / hours_to_s(24.0));
    return hours_to_s(24.0 * days);
}

static void take_frame(struct plan *plan, const struct voyage *voyage,
                       double t_s, struct arena *arena) {
    struct plan_chart *chart = &plan->chart;
    struct plan_frame *frame = &chart->frames[chart->frame_count++];
    frame->at = instant_plus(plan->depart, t_s);
    frame->spots =
        arena_alloc(arena, chart->spot_count + 1, sizeof *frame->spots);
    for (size_t i = 0; i < chart->spot_count; i++)
        frame->spots[i] =
            spot_at(voyage, chart->spots[i], t_s, &frame->beyond_forecast);
}

static void take_weather(struct plan *plan, const struct voyage *voyage,
                         struct arena *arena) {
    struct plan_chart *chart = &plan->chart;
    double elapsed_s = plan->summary.elapsed_s;
    chart->frame_s = frame_step_s(elapsed_s);
    chart->frames = arena_alloc(arena, CHARTED_FRAMES, sizeof *chart->frames);
    int count = 2 + (int)floor(elapsed_s / chart->frame_s);
    for (int i = 0; i < count; i++)
        take_frame(plan, voyage, i * chart->frame_s, arena);
}

/* --- the rest ------------------------------------------------------------- */

static bool starts_leg(const struct plan *plan,
                       const struct plan_sample *sample, size_t *leg) {
    while (*leg < plan->leg_count &&
           plan->legs[*leg].start.unix_s < sample->at.unix_s)
        ++*leg;
    return *leg < plan->leg_count &&
           plan->legs[*leg].start.unix_s == sample->at.unix_s;
}

/* Every so-many-th, and all that begin a leg; the last. */
static void thin_samples(struct plan *plan) {
    struct plan_chart *chart = &plan->chart;
    size_t every = chart->sample_count / CHARTED_SAMPLES + 1, kept = 0, leg = 0;
    for (size_t i = 0; i < chart->sample_count; i++) {
        bool begins = starts_leg(plan, &chart->samples[i], &leg);
        if (begins || i % every == 0 || i + 1 == chart->sample_count)
            chart->samples[kept++] = chart->samples[i];
    }
    chart->sample_count = kept;
}

/* Folders are of this machine only. */
static const char *without_folder(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

static void name_files(struct plan_chart *chart, const struct request *request,
                       struct arena *arena) {
    chart->file_count = request->forecast_paths.count;
    chart->forecast_files = arena_alloc(arena, chart->file_count + 1,
                                        sizeof *chart->forecast_files);
    for (size_t i = 0; i < chart->file_count; i++)
        chart->forecast_files[i] =
            without_folder(request->forecast_paths.texts[i]);
}

void charted_fill(struct plan *plan, const struct charting *from,
                  struct arena *arena) {
    struct plan_chart *chart = &plan->chart;
    chart->box = chart_box(plan);
    if (from->world->coast)
        mapped_land(chart, coast_shore(from->world->coast), arena);
    mapped_zones(chart, &from->world->zones, arena);
    lay_spots(chart, from, arena);
    take_weather(plan, from->voyage, arena);
    thin_samples(plan);
    name_files(chart, from->request, arena);
}
