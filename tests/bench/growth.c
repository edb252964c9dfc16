/* How the time grows: each series with its slope, the power of the first
 * column that the time goes with. */
#include "inputs.h"
#include "inside.h"
#include "table.h"
#include "tables.h"
#include "whole.h"

#include <math.h>
#include <stdio.h>

/* A series ends after a measurement that took longer. */
static const double LONG_S = 20.0;

enum { SERIES = 8 };
struct series {
    double x[SERIES], y[SERIES];
    int count;
};

static void series_add(struct series *series, double x, double y) {
    series->x[series->count] = log(x);
    series->y[series->count++] = log(y);
}

/* Least squares through the logarithms from item `first` on. */
static double slope_from(const struct series *series, int first) {
    double n = series->count - first, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
    for (int i = first; i < series->count; i++) {
        x += series->x[i] / n;
        y += series->y[i] / n;
    }
    for (int i = first; i < series->count; i++) {
        xx += (series->x[i] - x) * (series->x[i] - x);
        xy += (series->x[i] - x) * (series->y[i] - y);
    }
    return xy / xx;
}

static void add_slope(struct table *table, const struct series *series) {
    if (series->count < 2)
        table_add(table, "-");
    else
        table_add(table, "%.2f", slope_from(series, series->count - 2));
}

/* One plan of a series; false where the series should end. */
static bool add_plan(struct table *table, const char *name, double x,
                     struct series *load, struct series *rest) {
    char path[INPUTS_PATH_SIZE];
    inputs_passage_path(INPUTS_FOLDER, name, path);
    struct inside_task task = {.passage = path, .effort = 1.0};
    struct inside_plan plan = inside_plan(&task);
    series_add(load, x, plan.load_s);
    series_add(rest, x, plan.plan_s);
    add_slope(table, rest);
    table_add(table, "%.3f", plan.plan_s);
    table_add(table, "%.3f", plan.load_s);
    return plan.plan_s < LONG_S;
}

static void add_fit(struct table *table, const struct series *rest,
                    const struct series *load) {
    table_add(table, "slope of all");
    table_add(table, "%.2f", slope_from(rest, 0));
    table_skip(table);
    if (!load)
        return;
    table_add(table, "slope of loading");
    table_add(table, "%.2f", slope_from(load, 0));
    table_skip(table);
}

static void passage_table(void) {
    struct table table = table_make("passage nmi|slope|rest s|load s");
    struct series load = {.count = 0}, rest = {.count = 0};
    bool going = true;
    for (size_t i = 0; i < INPUTS_FAR; i++) {
        int nmi = inputs_far_nmi[i];
        char name[32];
        snprintf(name, sizeof name, "far-%d", nmi);
        table_add(&table, "%d", nmi);
        if (going)
            going = add_plan(&table, name, nmi, &load, &rest);
        else
            table_add(&table, "not run");
        table_skip(&table);
    }
    add_fit(&table, &rest, NULL);
    table_print(&table, "Growth with the passage, on one forecast. The rest "
                        "is all but loading and writing.");
}

static void grid_table(void) {
    struct table table = table_make("grid degree|slope|rest s|load s|points");
    struct series load = {.count = 0}, rest = {.count = 0};
    for (size_t i = 0; i < INPUTS_GRIDS; i++) {
        int parts = inputs_grid_points[i];
        char name[32];
        struct ocean grid = ocean_grid(1.0 / parts);
        double points = (double)ocean_points(&grid);
        snprintf(name, sizeof name, "grid-%d", parts);
        table_add(&table, "%.3f", 1.0 / parts);
        add_plan(&table, name, points, &load, &rest);
        table_add(&table, "%.0f", points);
    }
    add_fit(&table, &rest, &load);
    table_print(&table, "Growth with the points of the grid, on one passage "
                        "of 1,000 nmi.");
}

static void threads_table(void) {
    struct table table = table_make("threads|slope|plan s|CPU s");
    struct series series = {.count = 0};
    for (int threads = 1; threads <= 2; threads++) {
        struct taken taken = whole_measure("ocean", threads);
        series_add(&series, threads, taken.wall_s);
        table_add(&table, "%d", threads);
        add_slope(&table, &series);
        table_add(&table, "%.3f", taken.wall_s);
        table_add(&table, "%.3f", taken.cpu_s);
    }
    table_print(&table, "Threads of the search, ocean, whole plans. Two "
                        "processes decode either way.");
}

void growth_tables(void) {
    passage_table();
    grid_table();
    threads_table();
}
