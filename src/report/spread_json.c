#include "report/spread_report.h"

#include "base/units.h"
#include "exchange/json.h"
#include "report/words.h"

enum { HOURS = 4, KNOTS = 2, PLACE = 7 };

static void put_member(struct json *json, const char *key,
                       struct spread_member member) {
    static const char *const kinds[] = {[SPREAD_PLAIN] = "none",
                                        [SPREAD_CONTROL] = "control",
                                        [SPREAD_NUMBERED] = "member"};
    struct json *object = json_put_object(json, key);
    json_put_text(object, "kind", kinds[member.kind]);
    if (member.kind == SPREAD_PLAIN)
        json_put_null(object, "number");
    else
        json_put_count(object, "number", member.number);
}

static void put_place(struct json *json, const char *key,
                      struct position position) {
    struct position rounded = position_rounded(position, PLACE);
    struct json *object = json_put_object(json, key);
    json_put_number(object, "lat", rounded.lat_deg, PLACE);
    json_put_number(object, "lon", rounded.lon_deg, PLACE);
}

static void put_time(struct json *json, const char *key,
                     const struct plan *plan, struct figure t_s) {
    if (t_s.known)
        json_put_instant(json, key, instant_plus(plan->depart, t_s.value));
    else
        json_put_null(json, key);
}

static void put_times(struct json *json, const char *key,
                      const struct plan *plan,
                      const struct quantiles *quantiles) {
    struct json *object = json_put_object(json, key);
    bool any = quantiles->count > 0;
    json_put_count(object, "members", (long)quantiles->count);
    put_time(object, "earliest", plan,
             any ? figure_of(quantiles->earliest_s) : figure_unknown());
    put_time(object, "p10", plan, quantiles->tenth_s);
    put_time(object, "p50", plan, quantiles->middle_s);
    put_time(object, "p90", plan, quantiles->ninetieth_s);
    put_time(object, "latest", plan,
             any ? figure_of(quantiles->latest_s) : figure_unknown());
}

static void put_gust(struct json *json, const char *key,
                     struct figure gust_mps) {
    if (gust_mps.known)
        json_put_number(json, key, mps_to_kn(gust_mps.value), KNOTS);
    else
        json_put_null(json, key);
}

static void put_sum(struct json *json, const char *key,
                    const struct spread *spread, const struct spread_sum *sum) {
    struct json *object = json_put_object(json, key);
    put_times(object, "arrive", spread->plan, &sum->arrive);
    put_gust(object, "worst_gust_kn", sum->gust_mps);
    json_put_flag(object, "worst_gust_estimated", sum->gust_estimated);
    if (sum->gust_mps.known)
        put_member(object, "worst_gust_member", sum->gust_of);
    else
        json_put_null(object, "worst_gust_member");
    json_put_count(object, "break_a_limit", (long)sum->broken);
    json_put_count(object, "beyond_forecast", (long)sum->beyond);
}

static void put_work(struct json *list, const struct spread *spread,
                     const struct spread_work *work) {
    const struct plan_change *change = work->change;
    struct json *object = json_put_object(list, NULL);
    json_put_text(object, "change", words_change(change->kind));
    json_put_text(object, "to_state", words_state(change->to));
    json_put_instant(object, "at", change->at);
    if (work->margin_known) {
        json_put_instant(object, "earliest", change->earliest);
        json_put_instant(object, "latest", change->latest);
    } else {
        json_put_null(object, "earliest");
        json_put_null(object, "latest");
    }
    put_times(object, "own", spread->plan, &work->own);
    json_put_count(object, "done", (long)work->done);
    if (work->margin_known)
        json_put_count(object, "inside_margin", (long)work->inside_margin);
    else
        json_put_null(object, "inside_margin");
    json_put_count(object, "inside_limits", (long)work->inside_limits);
}

static const char *limit_name(enum obstacle broken) {
    return broken == OBSTACLE_WIND   ? "max_wind"
           : broken == OBSTACLE_GUST ? "max_gust"
                                     : "max_wave";
}

static void put_way(struct json *json, const char *key, const struct plan *plan,
                    const struct spread_way *way) {
    struct json *object = json_put_object(json, key);
    struct figure elapsed_s =
        way->arrives ? figure_of(way->elapsed_s) : figure_unknown();
    put_time(object, "arrive", plan, elapsed_s);
    if (way->arrives)
        json_put_number(object, "elapsed_h", s_to_hours(way->elapsed_s), HOURS);
    else
        json_put_null(object, "elapsed_h");
    put_gust(object, "gust_kn", way->gust_mps);
    json_put_flag(object, "gust_estimated", way->gust_estimated);
    json_put_number(object, "beyond_forecast_h", s_to_hours(way->beyond_s),
                    HOURS);
    if (way->broken != OBSTACLE_NONE)
        json_put_text(object, "breaks", limit_name(way->broken));
    else
        json_put_null(object, "breaks");
    if (way->arrives)
        json_put_null(object, "why_not");
    else
        json_put_text(object, "why_not", way->why);
}

static void put_seen(struct json *list, const struct plan *plan,
                     const struct spread_work *work,
                     const struct spread_seen *seen) {
    struct json *object = json_put_object(list, NULL);
    put_time(object, "done", plan,
             seen->done ? figure_of(seen->done_s) : figure_unknown());
    if (work->margin_known && seen->done)
        json_put_flag(object, "inside_margin", seen->inside_margin);
    else
        json_put_null(object, "inside_margin");
    if (seen->done)
        json_put_flag(object, "inside_limits", seen->inside_limits);
    else
        json_put_null(object, "inside_limits");
    put_time(object, "own", plan,
             seen->own ? figure_of(seen->own_s) : figure_unknown());
}

static void put_row(struct json *list, const struct spread *spread,
                    const struct spread_row *row) {
    struct json *object = json_put_object(list, NULL);
    put_member(object, "member", row->member);
    put_way(object, "track", spread->plan, &row->track);
    put_way(object, "own", spread->plan, &row->own);
    struct json *works = json_put_array(object, "deck_work");
    for (size_t i = 0; i < spread->work_count; i++)
        put_seen(works, spread->plan, &spread->works[i], &row->seen[i]);
}

static void put_passage(struct json *root, const struct spread *spread) {
    const struct plan *plan = spread->plan;
    struct json *passage = json_put_object(root, "passage");
    json_put_text(passage, "name", plan->name);
    put_place(passage, "from", plan->from);
    put_place(passage, "to", plan->to);
    json_put_instant(passage, "depart", plan->depart);
    json_put_instant(passage, "forecast_start", plan->forecast_start);
    json_put_instant(passage, "forecast_end", plan->forecast_end);
    struct json *made = json_put_object(root, "plan");
    put_member(made, "member", spread->used);
    json_put_instant(made, "arrive", plan->summary.arrive);
    json_put_number(made, "elapsed_h", s_to_hours(plan->summary.elapsed_s),
                    HOURS);
}

bool spread_json_write(const struct spread *spread, FILE *stream,
                       struct error *error) {
    struct json *root = json_make_object();
    json_put_text(root, "sparwise", spread->plan->version);
    json_put_count(root, "spread_format", SPREAD_JSON_FORMAT);
    put_passage(root, spread);
    json_put_count(root, "members", (long)spread->count);
    put_sum(root, "track", spread, &spread->track);
    put_sum(root, "own", spread, &spread->own);
    struct json *works = json_put_array(root, "deck_work");
    for (size_t i = 0; i < spread->work_count; i++)
        put_work(works, spread, &spread->works[i]);
    struct json *rows = json_put_array(root, "rows");
    for (size_t i = 0; i < spread->count; i++)
        put_row(rows, spread, &spread->rows[i]);
    bool good = json_write(root, stream, error);
    json_free(root);
    return good;
}
