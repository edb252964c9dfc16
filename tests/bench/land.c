/* What the land check adds to the demo passages. */
#include "inside.h"
#include "table.h"
#include "tables.h"

#include "earth/coast.h"

#include <stdio.h>

static const char *const demos[] = {"trade-crossing", "coastal-hop",
                                    "dateline-hop"};

static void add_demo(struct table *table, const char *name, bool installed) {
    char path[128];
    snprintf(path, sizeof path, "grib-samples/%s.ini", name);
    struct inside_task task = {.passage = path, .coast = "none", .effort = 1.0};
    struct inside_plan open = inside_plan(&task);
    task.coast = "auto";
    struct inside_plan plan = installed ? inside_plan(&task) : open;
    table_add(table, "%s", name);
    table_add(table, "%.2f", plan.plan_s / plan.load_s);
    if (installed) {
        table_add(table, "%.1f", 100.0 * (plan.plan_s / open.plan_s - 1.0));
        table_add(table, "%.1f", 1000.0 * (plan.load_s - open.load_s));
    } else {
        table_add(table, "no coast");
        table_add(table, "no coast");
    }
    table_add(table, "%.3f", plan.load_s);
    table_add(table, "%.3f", plan.plan_s);
    table_add(table, "%.1f", plan.arena_mb);
}

void land_table(void) {
    struct arena arena;
    arena_init(&arena);
    bool installed = coast_installed(&arena) != NULL;
    struct table table =
        table_make("passage|rest/load|land adds %|to load ms|load s|rest s|"
                   "arena MB");
    for (size_t i = 0; i < sizeof demos / sizeof *demos; i++)
        add_demo(&table, demos[i], installed);
    arena_free(&arena);
    table_print(&table, "The demo passages, and what the land check adds to "
                        "them.");
}
