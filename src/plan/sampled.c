#include "plan/sampled.h"

#include "base/units.h"
#include "earth/angle.h"

/* A step of the integrator is half an hour at most. */
static const double SPACING_S = 1500.0;

static struct plan_sample sample_of(const struct plan *plan,
                                    const struct sail_step *step) {
    const struct conditions *here = step->conditions;
    const struct motion *motion = step->motion;
    struct figure wave_m = {here->sea.height_known, here->sea.height_m};
    return (struct plan_sample){
        .at = instant_plus(plan->depart, step->start_s),
        .position = step->from,
        .deck = step->deck,
        .working = step->working,
        .heading_deg = motion->heading_deg,
        .course_deg = step->course_deg,
        .tws_mps = here->tws_mps,
        .twd_deg = here->twd_deg,
        .twa_deg = motion->twa_deg,
        .aws_mps = motion->aws_mps,
        .awa_deg = voyage_awa_deg(motion),
        .stw_mps = motion->stw_mps,
        .sog_mps = motion->sog_mps,
        .gust_mps = figure_of(voyage_gust_mps(here, here->tws_mps)),
        .gust_estimated = !here->gust_mps.known,
        .wave_m = wave_m.known ? wave_m : figure_unknown(),
        .wave_period_s = here->sea.period_s,
        .wave_from_deg = here->sea.from_deg,
        .wave_estimated = here->sea.estimated,
        .roll_deg = step->roll_deg,
        .light = here->light,
        .beyond_forecast = here->beyond_forecast,
    };
}

static void append(struct plan_chart *chart, const struct plan_sample *sample,
                   struct arena *arena) {
    chart->samples =
        arena_room(arena, chart->samples, chart->sample_count,
                   &chart->sample_capacity, sizeof *chart->samples);
    chart->samples[chart->sample_count++] = *sample;
}

/* One moment has one state: the later one told. */
static void put(struct plan_chart *chart, const struct plan_sample *sample,
                struct arena *arena) {
    if (chart->sample_count > 0 &&
        chart->samples[chart->sample_count - 1].at.unix_s == sample->at.unix_s)
        chart->sample_count--;
    append(chart, sample, arena);
}

static bool is_due(const struct plan_chart *chart,
                   const struct plan_sample *sample) {
    if (chart->sample_count == 0)
        return true;
    const struct plan_sample *last = &chart->samples[chart->sample_count - 1];
    return instant_minus(sample->at, last->at) >= SPACING_S ||
           sample->working != last->working ||
           deck_index(sample->deck) != deck_index(last->deck);
}

void sampled_add(struct plan *plan, const struct sail_step *step,
                 bool starts_leg, struct arena *arena) {
    struct plan_sample sample = sample_of(plan, step);
    if (starts_leg || is_due(&plan->chart, &sample))
        put(&plan->chart, &sample, arena);
}

void sampled_end(struct plan *plan, struct position at, struct instant when,
                 struct arena *arena) {
    struct plan_chart *chart = &plan->chart;
    if (chart->sample_count == 0)
        return;
    struct plan_sample last = chart->samples[chart->sample_count - 1];
    last.position = at;
    last.at = when;
    put(chart, &last, arena);
}
