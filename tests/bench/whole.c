/* Whole plans: the program as a user runs it, its files written. */
#include "whole.h"

#include "floor.h"
#include "inputs.h"
#include "inside.h"
#include "table.h"
#include "tables.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

struct taken whole_measure(const char *name, int threads) {
    char passage[INPUTS_PATH_SIZE], folder[INPUTS_PATH_SIZE], count[16];
    const char *program = getenv("SPARWISE");
    mkdir(INPUTS_FOLDER "/out", 0777);
    inputs_passage_path(INPUTS_FOLDER, name, passage);
    snprintf(folder, sizeof folder, INPUTS_FOLDER "/out/%s", name);
    snprintf(count, sizeof count, "%d", threads);
    const char *words[] = {program ? program : "build/release/sparwise",
                           "plan",
                           passage,
                           "--out",
                           folder,
                           "--threads",
                           count,
                           "--force",
                           "--quiet",
                           NULL};
    return measure_program(words);
}

enum { PASSAGES = 5 };

struct passage {
    const char *name, *title;
    struct floor_taken floor;
    bool made;
};

static void add_whole(struct table *table, const struct passage *passage) {
    const struct floor_taken *floor = &passage->floor;
    table_add(table, "%s", passage->title);
    if (!passage->made) {
        table_add(table, "not there");
        table_skip(table);
        return;
    }
    struct taken taken = whole_measure(passage->name, 0);
    table_add(table, "%.2f", taken.wall_s / floor->seconds);
    table_add(table, "%.2f", taken.cpu_s / floor->cpu_s);
    table_add(table, "%.3f", taken.wall_s);
    table_add(table, "%.3f", floor->seconds);
    table_add(table, "%.3f", taken.cpu_s);
    table_add(table, "%.3f", floor->cpu_s);
    table_add(table, "%.0f", taken.peak_mb);
    table_add(table, "%zu", floor->messages);
    table_add(table, "%.2f", 1e-6 * (double)floor->values);
    table_add(table, "%.2f", 1e-6 * (double)floor->bytes);
}

static void add_parts(struct table *table, const struct passage *passage) {
    char path[INPUTS_PATH_SIZE];
    inputs_passage_path(INPUTS_FOLDER, passage->name, path);
    struct inside_task task = {.passage = path, .effort = 1.0};
    struct inside_plan plan = inside_plan(&task);
    struct inside_search search = inside_search(&task);
    double floor_s = passage->floor.seconds;
    table_add(table, "%s", passage->title);
    table_add(table, "%.2f", plan.load_s / floor_s);
    table_add(table, "%.2f", plan.plan_s / floor_s);
    table_add(table, "%.3f", plan.load_s);
    table_add(table, "%.3f", plan.plan_s);
    table_add(table, "%.3f", search.seconds);
    table_add(table, "%zu", search.labels);
    table_add(table, "%zu", search.expansions);
    table_add(table, "%.0f", (double)search.labels / search.seconds);
    table_add(table, "%.0f", (double)search.expansions / search.seconds);
}

void whole_tables(void) {
    struct passage passages[PASSAGES] = {
        {.name = "ocean", .title = "ocean, simple packing"},
        {.name = "ocean-ccsds", .title = "ocean, CCSDS"},
        {.name = "ocean-jpeg", .title = "ocean, JPEG 2000"},
        {.name = "offshore", .title = "offshore"},
        {.name = "hard", .title = "hard"}};
    struct table whole = table_make("passage|plan/floor|CPU/floor|plan s|floor "
                                    "s|plan CPU s|floor CPU s|peak MB|"
                                    "messages|million values|file MB");
    struct table parts =
        table_make("passage|load/floor|rest/floor|load s|rest s|one search s|"
                   "labels|expansions|labels/s|expansions/s");
    for (size_t i = 0; i < PASSAGES; i++) {
        char forecast[INPUTS_PATH_SIZE];
        inputs_forecast_path(INPUTS_FOLDER, passages[i].name, forecast);
        passages[i].made = access(forecast, R_OK) == 0;
        if (passages[i].made)
            passages[i].floor = floor_measure(forecast);
        add_whole(&whole, &passages[i]);
        if (passages[i].made)
            add_parts(&parts, &passages[i]);
    }
    table_print(&whole, "Whole plans by the program. The floor is a bare "
                        "decoding of the same file on one\nthread; peak MB is "
                        "that of the largest process.");
    table_print(&parts, "Their parts, through the library. The rest is all "
                        "but loading and writing, with\nboth searches; one "
                        "search is that with the spar.");
}
