#include "base/units.h"
#include "exchange/json.h"
#include "report/daylight.h"
#include "report/plan_json.h"
#include "report/window_report.h"

enum { HOURS = 4 };

static void put_head(struct json *json, const struct plan *plan) {
    json_put_text(json, "sparwise", plan->version);
    json_put_count(json, "format", PLAN_JSON_FORMAT);
    json_put_text(json, "name", plan->name);
    plan_json_put_place(json, "from", plan->from);
    plan_json_put_place(json, "to", plan->to);
    json_put_text(json, "boat", plan->boat_name);
    json_put_number(json, "ease", plan->ease, 3);
    json_put_instant(json, "forecast_run", plan->forecast_run);
    json_put_instant(json, "forecast_start", plan->forecast_start);
    json_put_instant(json, "forecast_end", plan->forecast_end);
}

static void put_members(struct json *json, const struct quantiles *members) {
    struct figure spread_s = quantiles_spread_s(members);
    json_put_count(json, "members", (int)members->count);
    json_put_figure(json, "spread_h",
                    (struct figure){spread_s.known, s_to_hours(spread_s.value)},
                    HOURS);
}

static void put_figures(struct json *json, const struct many_row *row) {
    const struct plan *plan = &row->plan;
    const struct plan_summary *summary = &plan->summary;
    json_put_text(json, "arrive_light",
                  summary->reached ? daylight_word(plan) : NULL);
    json_put_count(json, "deck_work", summary->deck_work);
    json_put_number(json, "hardship_h", s_to_hours(summary->hardship_s), HOURS);
    json_put_number(json, "roll_easy_h", s_to_hours(summary->roll_easy_s),
                    HOURS);
    put_members(json, &row->members);
    plan_json_put_summary(json, plan);
    json_put_null(json, "failure");
}

static void put_failure(struct json *json, const struct error *error) {
    static const char *const unknown[] = {
        "arrive_light", "deck_work", "hardship_h", "roll_easy_h",
        "members",      "spread_h",  "summary"};
    for (size_t i = 0; i < sizeof unknown / sizeof *unknown; i++)
        json_put_null(json, unknown[i]);
    struct json *failure = json_put_object(json, "failure");
    json_put_count(failure, "status", error->status);
    json_put_text(failure, "text", error->text);
}

static void put_row(struct json *json, const struct many_row *row) {
    json_put_instant(json, "depart", row->plan.depart);
    if (row->planned)
        put_figures(json, row);
    else
        put_failure(json, &row->error);
}

static void put_window(struct json *json, const struct window *window) {
    const struct many_row *rows = window->rows;
    json_put_instant(json, "earliest", rows[0].plan.depart);
    json_put_instant(json, "latest", rows[window->count - 1].plan.depart);
    json_put_number(json, "every_h", s_to_hours(window->request->every_s),
                    HOURS);
    if (window->ranked_count > 0)
        json_put_instant(json, "best", rows[window->ranked[0]].plan.depart);
    else
        json_put_null(json, "best");
}

bool window_json_write(const struct window *window, FILE *stream,
                       struct error *error) {
    struct json *root = json_make_object();
    put_head(root, &window->rows[0].plan);
    put_window(root, window);
    struct json *list = json_put_array(root, "departures");
    for (size_t i = 0; i < window->count; i++)
        put_row(json_put_object(list, NULL), &window->rows[i]);
    bool written = json_write(root, stream, error);
    json_free(root);
    return written;
}

static bool write_line(const struct many_row *row, FILE *stream,
                       struct error *error) {
    struct json *root = json_make_object();
    put_head(root, &row->plan);
    put_row(root, row);
    bool written = json_write_line(root, stream, error);
    json_free(root);
    return written;
}

bool window_lines_write(const struct window *window, FILE *stream,
                        struct error *error) {
    for (size_t i = 0; i < window->count; i++)
        if (!write_line(&window->rows[i], stream, error))
            return false;
    return true;
}
