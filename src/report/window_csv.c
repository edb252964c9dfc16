#include "base/units.h"
#include "report/daylight.h"
#include "report/window_report.h"
#include "report/words.h"

static const char heading[] =
    "depart,arrive,arrive_light,elapsed_h,distance_nmi,cost_h,roll_easy_h,"
    "roll_mean_deg,roll_over_limit_h,deck_work,night_deck_work,spar_h,motor_h,"
    "upwind_h,beyond_forecast_h,members,spread_h,max_tws_kn,max_gust_kn,max_"
    "wave_m,best,failure";

/* What stands between arrival and best, where nothing is known. */
static const char nothing[] = ",,,,,,,,,,,,,,,,,,,";

static void put_figure(FILE *stream, struct figure figure, double scale,
                       int decimals) {
    if (figure.known)
        fprintf(stream, ",%.*f", decimals, figure.value * scale);
    else
        fputc(',', stream);
}

static void put_hours(FILE *stream, double seconds) {
    fprintf(stream, ",%.4f", s_to_hours(seconds));
}

/* A text with a comma or a quote in it is quoted, its quotes doubled. */
static void put_text(FILE *stream, const char *text) {
    struct arena arena;
    arena_init(&arena);
    fputs(",\"", stream);
    for (const char *at = words_ascii(&arena, text); *at; at++) {
        if (*at == '"')
            fputc('"', stream);
        fputc(*at, stream);
    }
    fputc('"', stream);
    arena_free(&arena);
}

static void put_arrival(FILE *stream, const struct plan *plan) {
    char arrive[INSTANT_TEXT_SIZE];
    instant_print(plan->summary.arrive, arrive);
    if (plan->summary.reached)
        fprintf(stream, ",%s,%s", arrive, daylight_word(plan));
    else
        fputs(",,", stream);
}

static void put_members(FILE *stream, const struct quantiles *members) {
    fprintf(stream, ",%zu", members->count);
    put_figure(stream, quantiles_spread_s(members), s_to_hours(1.0), 4);
}

static void put_figures(FILE *stream, const struct many_row *row) {
    const struct plan *plan = &row->plan;
    const struct plan_summary *summary = &plan->summary;
    const double to_kn = mps_to_kn(1.0);
    put_arrival(stream, plan);
    put_hours(stream, summary->elapsed_s);
    fprintf(stream, ",%.3f", m_to_nmi(summary->distance_m));
    put_hours(stream, summary->cost_s);
    put_hours(stream, summary->roll_easy_s);
    fprintf(stream, ",%.2f", summary->roll_mean_deg);
    put_hours(stream, summary->roll_over_limit_s);
    fprintf(stream, ",%d,%d", summary->deck_work, summary->night_deck_work);
    put_hours(stream, summary->spar_s);
    put_figure(stream, summary->motor_s, s_to_hours(1.0), 4);
    put_hours(stream, summary->upwind_s);
    put_hours(stream, summary->beyond_forecast_s);
    put_members(stream, &row->members);
    fprintf(stream, ",%.2f", mps_to_kn(summary->max_tws_mps));
    put_figure(stream, summary->max_gust_mps, to_kn, 2);
    put_figure(stream, summary->max_wave_m, 1.0, 2);
}

static void put_row(FILE *stream, const struct window *window, size_t index) {
    const struct many_row *row = &window->rows[index];
    bool best = window->ranked_count > 0 && window->ranked[0] == index;
    char depart[INSTANT_TEXT_SIZE];
    instant_print(row->plan.depart, depart);
    fputs(depart, stream);
    if (row->planned)
        put_figures(stream, row);
    else
        fputs(nothing, stream);
    fputs(best ? ",yes" : ",no", stream);
    if (row->planned)
        fputc(',', stream);
    else
        put_text(stream, row->error.text);
    fputc('\n', stream);
}

bool window_csv_write(const struct window *window, FILE *stream,
                      struct error *error) {
    fprintf(stream, "%s\n", heading);
    for (size_t i = 0; i < window->count; i++)
        put_row(stream, window, i);
    return !ferror(stream) ||
           error_set(error, STATUS_WRITE, "can't write the table");
}
