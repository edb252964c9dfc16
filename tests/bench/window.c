/* Many departures on one forecast: one thread beside all cores. */
#include "inputs.h"
#include "inside.h"
#include "measure.h"
#include "table.h"
#include "tables.h"

#include <stdio.h>
#include <stdlib.h>

/* What two cores should make of it, the loading apart. */
static const double WANTED = 1.8;

static const struct {
    const char *passage;
    int departures;
} windows[] = {{"offshore", 40}, {"ocean", 8}};

/* An hour apart, from the run of the forecast on. */
static struct taken window_measure(size_t index, const char *threads) {
    char passage[INPUTS_PATH_SIZE], latest[INSTANT_TEXT_SIZE];
    const char *program = getenv("SPARWISE");
    struct instant run;
    instant_from_civil(ocean_run, &run);
    instant_print(instant_plus(run, (windows[index].departures - 1) * 3600.0),
                  latest);
    inputs_passage_path(INPUTS_FOLDER, windows[index].passage, passage);
    const char *words[] = {program ? program : "build/release/sparwise",
                           "window",
                           passage,
                           "--latest",
                           latest,
                           "--every",
                           "1",
                           "--threads",
                           threads,
                           "--quiet",
                           NULL};
    return measure_program(words);
}

static void add_window(struct table *table, size_t index) {
    char path[INPUTS_PATH_SIZE];
    inputs_passage_path(INPUTS_FOLDER, windows[index].passage, path);
    struct inside_task task = {.passage = path, .threads = 1, .effort = 1.0};
    double load_s = inside_plan(&task).load_s;
    struct taken one = window_measure(index, "1");
    struct taken all = window_measure(index, "0");
    double wanted_s = load_s + (one.wall_s - load_s) / WANTED;
    table_add(table, "%s", windows[index].passage);
    table_add(table, "%.2f", all.wall_s / wanted_s);
    table_add(table, "%.2f", all.peak_mb / one.peak_mb);
    table_add(table, "%.2f", all.cpu_s / one.cpu_s);
    table_add(table, "%.3f", all.wall_s);
    table_add(table, "%.3f", one.wall_s);
    table_add(table, "%.3f", load_s);
    table_add(table, "%.0f", all.peak_mb);
    table_add(table, "%.0f", one.peak_mb);
    table_add(table, "%d", windows[index].departures);
}

void window_table(void) {
    struct table table =
        table_make("passage|time/wanted|peak/one|CPU/one|window s|one s|load "
                   "s|peak MB|one MB|departures");
    for (size_t i = 0; i < sizeof windows / sizeof *windows; i++)
        add_window(&table, i);
    table_print(&table, "Departures on one forecast, on all cores; one: on "
                        "one thread, one plan at a time.\nWanted: loading, "
                        "and all the rest of that through 1.8.");
}
