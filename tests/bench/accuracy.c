/* Accuracy against time: searches of more and less effort on the forecast
 * that makes it hard. */
#include "inputs.h"
#include "inside.h"
#include "table.h"
#include "tables.h"

#include <math.h>

enum { EFFORTS = 9, ALLOWED = 4 };
static const double efforts[EFFORTS] = {0.0625, 0.125, 0.25, 0.5, 1.0,
                                        2.0,    4.0,   8.0,  16.0};
static const double allowed_s[ALLOWED] = {0.1, 0.3, 1.0, 3.0};

/* Nothing is learnt from searches longer than this. */
static const double LONG_S = 6.0;

struct run {
    double effort;
    struct inside_search search;
};

static size_t run_all(struct run runs[EFFORTS]) {
    char path[INPUTS_PATH_SIZE];
    size_t count = 0;
    inputs_passage_path(INPUTS_FOLDER, "hard", path);
    while (count < EFFORTS) {
        struct inside_task task = {.passage = path, .effort = efforts[count]};
        runs[count] =
            (struct run){.effort = task.effort, .search = inside_search(&task)};
        if (runs[count++].search.seconds > LONG_S)
            break;
    }
    return count;
}

/* The cheapest way of any search that took no longer; NULL: none. */
static const struct run *best_within(const struct run *runs, size_t count,
                                     double seconds) {
    const struct run *best = NULL;
    for (size_t i = 0; i < count; i++)
        if (runs[i].search.seconds <= seconds &&
            (!best || runs[i].search.cost_s < best->search.cost_s))
            best = &runs[i];
    return best;
}

static double above_percent(const struct run *run, double best_s) {
    return 100.0 * (run->search.cost_s / best_s - 1.0);
}

static void effort_table(const struct run *runs, size_t count, double best_s) {
    struct table table =
        table_make("effort|above best %|cost h|search s|labels|expansions");
    for (size_t i = 0; i < count; i++) {
        const struct inside_search *search = &runs[i].search;
        table_add(&table, "%g", runs[i].effort);
        table_add(&table, "%.3f", above_percent(&runs[i], best_s));
        table_add(&table, "%.3f", search->cost_s / 3600.0);
        table_add(&table, "%.3f", search->seconds);
        table_add(&table, "%zu", search->labels);
        table_add(&table, "%zu", search->expansions);
    }
    table_print(&table, "Searches of more and less effort, hard, one search "
                        "with the spar. Best: of this table.");
}

static void time_table(const struct run *runs, size_t count, double best_s) {
    struct table table =
        table_make("search s allowed|above best %|cost h|effort|search s");
    for (size_t i = 0; i < ALLOWED; i++) {
        const struct run *run = best_within(runs, count, allowed_s[i]);
        table_add(&table, "%g", allowed_s[i]);
        if (run) {
            table_add(&table, "%.3f", above_percent(run, best_s));
            table_add(&table, "%.3f", run->search.cost_s / 3600.0);
            table_add(&table, "%g", run->effort);
            table_add(&table, "%.3f", run->search.seconds);
        } else {
            table_add(&table, "none so quick");
        }
        table_skip(&table);
    }
    table_print(&table, "The best of them that took no longer.");
}

void accuracy_tables(void) {
    struct run runs[EFFORTS];
    size_t count = run_all(runs);
    double best_s = best_within(runs, count, HUGE_VAL)->search.cost_s;
    effort_table(runs, count, best_s);
    time_table(runs, count, best_s);
}
