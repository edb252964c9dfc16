#include "report/page_chart.h"

#include "base/units.h"
#include "earth/angle.h"
#include "earth/mercator.h"
#include "earth/sun.h"
#include "report/clock.h"
#include "report/html.h"
#include "report/page_map.h"
#include "report/page_route.h"
#include "report/page_symbols.h"

#include <math.h>

/* --- land and zones -------------------------------------------------------*/

/* Shapes are drawn in eighths of a unit: whole numbers are short, and stay
 * sharp when the chart is brought nearer. */
enum { FINE = 8 };

struct fine {
    long x, y;
};

static struct fine fine_at(const struct plan_chart *chart,
                           struct mercator place) {
    struct page_place at = page_map_at(chart, place);
    return (struct fine){lround(at.x * FINE), lround(at.y * FINE)};
}

/* Each point by how far it is from the last. */
static void write_points(const struct plan_chart *chart,
                         const struct mercator *points, size_t count,
                         FILE *stream) {
    struct fine last = fine_at(chart, points[0]);
    fprintf(stream, "M%ld %ldl", last.x, last.y);
    for (size_t i = 1; i < count; i++) {
        struct fine at = fine_at(chart, points[i]);
        long x = at.x - last.x, y = at.y - last.y;
        fprintf(stream, "%s%ld%s%ld", i > 1 && x >= 0 ? " " : "", x,
                y >= 0 ? " " : "", y);
        last = at;
    }
}

static void write_areas(const struct plan_chart *chart,
                        const struct plan_shapes *shapes, FILE *stream) {
    for (size_t i = 0; i < shapes->count; i++) {
        write_points(chart, shapes->items[i].points, shapes->items[i].count,
                     stream);
        fputc('z', stream);
    }
}

static void write_shores(const struct plan_chart *chart,
                         const struct plan_shapes *shapes, FILE *stream) {
    for (size_t i = 0; i < shapes->count; i++) {
        const struct plan_shape *shape = &shapes->items[i];
        if (shape->shore_count > 1)
            write_points(chart, shape->points, shape->shore_count, stream);
    }
}

/* Where shorelines are not known: all of the chart with a hole in it. */
static void write_unknown(const struct plan_chart *chart, FILE *stream) {
    struct page_place low = page_map_at(chart, chart->covered.low);
    struct page_place high = page_map_at(chart, chart->covered.high);
    double west = fmax(low.x, 0.0), east = fmin(high.x, PAGE_MAP_WIDTH);
    double north = fmax(high.y, 0.0), south = fmin(low.y, PAGE_MAP_HEIGHT);
    if (!chart->has_coast || (west <= 0.0 && east >= PAGE_MAP_WIDTH &&
                              north <= 0.0 && south >= PAGE_MAP_HEIGHT))
        return;
    fprintf(stream,
            "<path class=\"unknown\" d=\"M0 0h%dv%dh-%dz"
            "M%.1f %.1fH%.1fV%.1fH%.1fz\"/>\n",
            PAGE_MAP_WIDTH, PAGE_MAP_HEIGHT, PAGE_MAP_WIDTH, west, north, east,
            south, west);
}

static void write_land(const struct plan_chart *chart, FILE *stream) {
    write_unknown(chart, stream);
    if (chart->land.count == 0)
        return;
    fprintf(stream, "<g transform=\"scale(%g)\">\n<path class=\"land\" d=\"",
            1.0 / FINE);
    write_areas(chart, &chart->land, stream);
    fputs("\"/>\n<path class=\"shore\" d=\"", stream);
    write_shores(chart, &chart->land, stream);
    fputs("\"/>\n</g>\n", stream);
}

static void write_zone_time(const struct plan *plan,
                            const struct plan_area *zone, FILE *stream) {
    char text[SHARP_TEXT_SIZE];
    if (zone->from_known) {
        clock_print_exact(plan, zone->from, text);
        html_print(stream, ", closed from %s", text);
    }
    if (zone->until_known) {
        clock_print_exact(plan, zone->until, text);
        html_print(stream, "%s until %s", zone->from_known ? "" : ", closed",
                   text);
    }
}

/* The name stands where the zone's first corner is. */
static void write_zone(const struct plan *plan, const struct plan_area *zone,
                       FILE *stream) {
    const struct plan_chart *chart = &plan->chart;
    fprintf(stream, "<g class=\"zone\"><path transform=\"scale(%g)\" d=\"",
            1.0 / FINE);
    write_areas(chart, &zone->rings, stream);
    fputs("\"><title>", stream);
    html_text(stream, zone->name);
    write_zone_time(plan, zone, stream);
    fputs("</title></path>", stream);
    struct page_place at = page_map_at(chart, zone->rings.items[0].points[0]);
    page_fixed_begin(stream, "", at.x, at.y);
    fputs("<text x=\"6\" y=\"-6\">", stream);
    html_text(stream, zone->name);
    fputs("</text>", stream);
    page_fixed_end(stream);
    fputs("</g>\n", stream);
}

/* --- graticule ------------------------------------------------------------*/

/* Lines that there are at least from west to east. */
static const double LINES = 5.0;

static double spacing_deg(const struct plan_chart *chart) {
    static const double steps_deg[] = {
        20.0,      10.0,      5.0,        2.0,        1.0,       0.5,
        1.0 / 3.0, 1.0 / 6.0, 1.0 / 12.0, 1.0 / 30.0, 1.0 / 60.0};
    enum { STEPS = sizeof steps_deg / sizeof *steps_deg };
    double width_deg =
        (chart->box.high.x - chart->box.low.x) / RADIANS_PER_DEGREE;
    int i = 0;
    while (i + 1 < STEPS && width_deg / steps_deg[i] < LINES)
        i++;
    return steps_deg[i];
}

static void write_degrees(double angle_deg, double step_deg, const char *signs,
                          FILE *stream) {
    long minutes = lround(fabs(angle_deg) * 60.0);
    char sign = signs[minutes == 0 ? 1 : angle_deg < 0.0 ? 2 : 0];
    if (step_deg >= 1.0)
        fprintf(stream, "%ld\u00b0%.*s", minutes / 60, sign != ' ', &sign);
    else
        fprintf(stream, "%ld\u00b0%02ld\u2032%.*s", minutes / 60, minutes % 60,
                sign != ' ', &sign);
}

static void write_meridians(const struct plan_chart *chart, double step_deg,
                            FILE *stream) {
    double west = chart->box.low.x / RADIANS_PER_DEGREE / step_deg;
    double east = chart->box.high.x / RADIANS_PER_DEGREE / step_deg;
    for (long i = (long)ceil(west); i <= (long)floor(east); i++) {
        double lon_deg = (double)i * step_deg;
        struct mercator at = {lon_deg * RADIANS_PER_DEGREE, 0.0};
        double x = page_map_at(chart, at).x;
        fprintf(stream, "<path d=\"M%.1f 0V%d\"/>", x, PAGE_MAP_HEIGHT);
        page_fixed_begin(stream, "", x, PAGE_MAP_HEIGHT);
        fputs("<text x=\"4\" y=\"-6\">", stream);
        write_degrees(angle_wrap_longitude(lon_deg), step_deg, "E W", stream);
        fputs("</text>", stream);
        page_fixed_end(stream);
    }
}

static void write_parallels(const struct plan_chart *chart, double step_deg,
                            FILE *stream) {
    double south = mercator_position(chart->box.low).lat_deg / step_deg;
    double north = mercator_position(chart->box.high).lat_deg / step_deg;
    for (long i = (long)ceil(south); i <= (long)floor(north); i++) {
        double lat_deg = (double)i * step_deg;
        struct mercator at = mercator_of((struct position){lat_deg, 0.0});
        double y = page_map_at(chart, at).y;
        fprintf(stream, "<path d=\"M0 %.1fH%d\"/>", y, PAGE_MAP_WIDTH);
        page_fixed_begin(stream, "", 0.0, y);
        fputs("<text x=\"4\" y=\"-5\">", stream);
        write_degrees(lat_deg, step_deg, "N S", stream);
        fputs("</text>", stream);
        page_fixed_end(stream);
    }
}

static void write_graticule(const struct plan_chart *chart, FILE *stream) {
    double step_deg = spacing_deg(chart);
    fputs("<g class=\"graticule\">", stream);
    write_meridians(chart, step_deg, stream);
    write_parallels(chart, step_deg, stream);
    fputs("</g>\n", stream);
}

/* --- night ----------------------------------------------------------------*/

enum { NIGHT_COLUMNS = 24 };

/* Sine of the sun's altitude is a sin(lat) + b cos(lat) on a meridian: dark
 * where that is below the sine of -6 degrees, from `south` to `north`. */
struct dark_span {
    double south_deg, north_deg; /* none: south above north */
};

static struct dark_span dark_on(struct sun sun, double lon_deg) {
    double dec_sine, dec_cosine, hour_sine, hour_cosine, limit, unused;
    sincos_deg(sun.declination_deg, &dec_sine, &dec_cosine);
    sincos_deg(sun.greenwich_hour_angle_deg + lon_deg, &hour_sine,
               &hour_cosine);
    sincos_deg(SUN_CIVIL_DEG, &limit, &unused);
    double a = dec_sine, b = dec_cosine * hour_cosine;
    double size = sqrt(a * a + b * b);
    if (size <= -limit)
        return (struct dark_span){90.0, -90.0};
    /* sin(lat + turn) < limit / size, round the middle of its low side */
    double turn_deg = atan2(b, a) / RADIANS_PER_DEGREE;
    double half_deg = acos(-limit / size) / RADIANS_PER_DEGREE;
    double middle_deg = angle_wrap_180(-90.0 - turn_deg);
    return (struct dark_span){middle_deg - half_deg, middle_deg + half_deg};
}

/* Over the pole and down the other side is another meridian's. */
static double on_meridian(double lat_deg) {
    return fmin(fmax(lat_deg, -90.0), 90.0);
}

static double y_of(const struct plan_chart *chart, double lat_deg) {
    struct position at = {on_meridian(lat_deg), 0.0};
    double y = page_map_at(chart, mercator_of(at)).y;
    return fmin(fmax(y, 0.0), PAGE_MAP_HEIGHT);
}

static double column_lon_deg(const struct plan_chart *chart, int column) {
    double part = (double)column / NIGHT_COLUMNS;
    return (chart->box.low.x + part * (chart->box.high.x - chart->box.low.x)) /
           RADIANS_PER_DEGREE;
}

void page_chart_night(const struct plan *plan, struct instant at,
                      FILE *stream) {
    const struct plan_chart *chart = &plan->chart;
    struct sun sun = sun_at((double)at.unix_s);
    bool any = false;
    double top[NIGHT_COLUMNS + 1], bottom[NIGHT_COLUMNS + 1];
    for (int i = 0; i <= NIGHT_COLUMNS; i++) {
        struct dark_span dark = dark_on(sun, column_lon_deg(chart, i));
        top[i] = y_of(chart, dark.north_deg);
        bottom[i] = fmax(top[i], y_of(chart, dark.south_deg));
        any = any || bottom[i] > top[i];
    }
    if (!any)
        return;
    for (int i = 0; i <= NIGHT_COLUMNS; i++)
        fprintf(stream, "%c%d %.0f", i > 0 ? 'L' : 'M',
                i * PAGE_MAP_WIDTH / NIGHT_COLUMNS, top[i]);
    for (int i = NIGHT_COLUMNS; i >= 0; i--)
        fprintf(stream, "L%d %.0f", i * PAGE_MAP_WIDTH / NIGHT_COLUMNS,
                bottom[i]);
    fputc('z', stream);
}

/* --- isochrones -----------------------------------------------------------*/

/* Neighbours further apart than this part of the way from the start are not
 * neighbours on the front. */
static const double GAP_FRAC = 0.3;

static bool is_gap(const struct plan *plan, struct position a,
                   struct position b) {
    const struct plan_chart *chart = &plan->chart;
    struct page_place start = page_map_of(chart, plan->track[0].position);
    struct page_place p = page_map_of(chart, a), q = page_map_of(chart, b);
    return hypot(q.x - p.x, q.y - p.y) >
           GAP_FRAC * hypot(q.x - start.x, q.y - start.y);
}

/* The first after `first` that is no neighbour of the one before. */
static size_t run_end(const struct plan *plan,
                      const struct plan_isochrone *isochrone, size_t first) {
    size_t end = first + 1;
    while (end < isochrone->count &&
           !is_gap(plan, isochrone->points[end - 1], isochrone->points[end]))
        end++;
    return end;
}

/* Fewer points are no line. */
enum { RUN_LEAST = 4 };

static void write_isochrone(const struct plan *plan,
                            const struct plan_isochrone *isochrone,
                            FILE *stream) {
    for (size_t i = 0; i < isochrone->count;) {
        size_t end = run_end(plan, isochrone, i);
        for (size_t k = i; k < end && end - i >= RUN_LEAST; k++) {
            struct page_place at =
                page_map_of(&plan->chart, isochrone->points[k]);
            fprintf(stream, "%c%.1f %.1f", k == i ? 'M' : 'L', at.x, at.y);
        }
        i = end;
    }
}

/* Enough of them to see how the boat gets on. */
enum { ISOCHRONES = 24 };

static void write_isochrones(const struct plan *plan, FILE *stream) {
    size_t every = plan->isochrone_count / ISOCHRONES + 1;
    fputs("<path class=\"isochrones\" d=\"", stream);
    for (size_t i = every - 1; i < plan->isochrone_count; i += every)
        write_isochrone(plan, &plan->isochrones[i], stream);
    fputs("\"/>\n", stream);
}

/* --- all ------------------------------------------------------------------*/

static void write_drawing(const struct plan *plan,
                          const struct waypoints *waypoints, FILE *stream) {
    const struct plan_chart *chart = &plan->chart;
    fprintf(stream,
            "<svg id=\"chart\" viewBox=\"0 0 %d %d\" role=\"img\" "
            "aria-labelledby=\"chart-name\" tabindex=\"0\">\n"
            "<title id=\"chart-name\">Chart of the passage, Mercator, true "
            "north up</title>\n",
            PAGE_MAP_WIDTH, PAGE_MAP_HEIGHT);
    page_symbols_write(stream);
    fprintf(stream,
            "<g id=\"view\"><rect class=\"sea\" width=\"%d\" "
            "height=\"%d\"/>\n",
            PAGE_MAP_WIDTH, PAGE_MAP_HEIGHT);
    write_isochrones(plan, stream);
    write_land(chart, stream);
    fputs("<path id=\"night\" d=\"", stream);
    page_chart_night(plan, plan->depart, stream);
    fputs("\"/>\n", stream);
    write_graticule(chart, stream);
    for (size_t i = 0; i < chart->zone_count; i++)
        write_zone(plan, &chart->zones[i], stream);
    page_symbols_weather(plan, stream);
    page_route_write(plan, waypoints, stream);
    fputs("</g></svg>\n", stream);
}

static void write_layer(const char *name, const char *label, FILE *stream) {
    fprintf(stream,
            "<input type=\"checkbox\" class=\"layer\" id=\"show-%s\" "
            "checked><label for=\"show-%s\">%s</label>\n",
            name, name, label);
}

void page_chart_write(const struct plan *plan,
                      const struct waypoints *waypoints, FILE *stream) {
    if (!page_map_is_there(plan))
        return;
    fputs("<figure class=\"chart\" id=\"chart-figure\">\n", stream);
    write_layer("wind", "wind", stream);
    write_layer("waves", "waves", stream);
    write_layer("fronts", "isochrones", stream);
    fputs("<span class=\"zoom\" hidden>"
          "<button type=\"button\" id=\"nearer\" "
          "aria-label=\"nearer\">+</button>"
          "<button type=\"button\" id=\"farther\" "
          "aria-label=\"farther\">&#8722;</button>"
          "<button type=\"button\" id=\"whole\">whole</button></span>\n",
          stream);
    write_drawing(plan, waypoints, stream);
    fputs("<figcaption>\n", stream);
    page_route_key(plan, stream);
    fputs("</figcaption></figure>\n", stream);
}
