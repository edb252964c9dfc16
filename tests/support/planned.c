#include "planned.h"

#include "base/instant.h"
#include <stdio.h>
#include <string.h>

enum { ARGUMENTS_SIZE = 6000, LINE_SIZE = 16000 };

static char *file_of(const struct planned *planned, const char *name) {
    char line[LINE_SIZE];
    snprintf(line, sizeof line, "cat '%s/%s'", planned->folder, name);
    return check_shell(line).out;
}

/* jansson's texts and our held ones live on; the leak check sees this list. */
static void keep(json_t *json) {
    static json_t *all;
    if (!all)
        all = json_array();
    json_array_append_new(all, json);
}

static struct planned run(const char *name, const char *format, va_list values)
    __attribute__((format(printf, 2, 0)));

static struct planned run(const char *name, const char *format,
                          va_list values) {
    struct planned planned = {.json = NULL};
    char arguments[ARGUMENTS_SIZE], line[LINE_SIZE];
    vsnprintf(arguments, sizeof arguments, format, values);
    snprintf(planned.folder, sizeof planned.folder, "%s/%s", check_folder(),
             name);
    snprintf(line, sizeof line, "%s --out '%s' --force --quiet", arguments,
             planned.folder);
    planned.ran = check_run(line);
    planned.schedule = file_of(&planned, "schedule.txt");
    planned.gpx = file_of(&planned, "route.gpx");
    planned.json_text = file_of(&planned, "plan.json");
    if (planned.ran.status == 0) {
        json_error_t error;
        planned.json =
            json_loads(planned.json_text, JSON_REJECT_DUPLICATES, &error);
        if (!planned.json)
            fail_msg("plan.json:%d: %s", error.line, error.text);
        keep(planned.json);
    }
    return planned;
}

struct planned planned_run(const char *name, const char *arguments, ...) {
    va_list values;
    va_start(values, arguments);
    struct planned planned = run(name, arguments, values);
    va_end(values);
    return planned;
}

struct planned planned_well(const char *name, const char *arguments, ...) {
    va_list values;
    va_start(values, arguments);
    struct planned planned = run(name, arguments, values);
    va_end(values);
    if (planned.ran.status != 0)
        fail_msg("%s: status %d: %s", name, planned.ran.status,
                 planned.ran.err);
    return planned;
}

double planned_figure(const struct planned *planned, const char *key) {
    json_t *value =
        json_object_get(json_object_get(planned->json, "summary"), key);
    if (!json_is_number(value))
        fail_msg("summary: %s is no number", key);
    return json_number_value(value);
}

double planned_time_s(const json_t *text) {
    struct instant instant;
    bool zone;
    if (!json_is_string(text) ||
        !instant_parse(json_string_value(text), &instant, &zone) || !zone)
        fail_msg("no time");
    return (double)instant.unix_s;
}

double planned_arrive_s(const struct planned *planned) {
    return planned_time_s(
        json_object_get(json_object_get(planned->json, "summary"), "arrive"));
}

static double hardship_h(const json_t *change, double most_gust_kn) {
    const char *light = json_string_value(json_object_get(change, "light"));
    double roll_deg = json_number_value(json_object_get(change, "roll_deg"));
    if (!json_is_true(json_object_get(change, "deck_work")))
        return 5.0 / 60.0;
    double gust_kn = json_number_value(json_object_get(change, "gust_kn"));
    return (light && strcmp(light, "night") == 0 ? 2.0 : 0.5) *
           (roll_deg > 4.0 ? 2.0 : 1.0) * (gust_kn > most_gust_kn ? 2.0 : 1.0);
}

double planned_hardship_h(const struct planned *planned) {
    const json_t *changes = json_object_get(planned->json, "changes");
    double most_gust_kn = strstr(planned->schedule, "Heron 9") ? 20.0 : 22.0;
    double sum_h = 0.0;
    for (size_t i = 0; i < json_array_size(changes); i++)
        sum_h += hardship_h(json_array_get(changes, i), most_gust_kn);
    return sum_h;
}
