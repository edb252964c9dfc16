#include "chart_example.h"

#include "base/units.h"
#include "earth/angle.h"

#include <string.h>

static struct mercator at(double lat_deg, double lon_deg) {
    return mercator_of((struct position){lat_deg, lon_deg});
}

/* 38 to 23 W, and two thirds of that from north to south. */
static struct chart_box box_made(void) {
    struct chart_box box = {at(10.0, -38.0), at(10.0, -23.0)};
    box.high.y += (box.high.x - box.low.x) / 1.5;
    return box;
}

static void make_land(struct chart_example *chart) {
    chart->island[0] = at(15.0, -24.0);
    chart->island[1] = at(15.5, -24.0);
    chart->island[2] = at(15.5, -24.5);
    chart->island[3] = at(15.0, -24.5);
    chart->land = (struct plan_shape){chart->island, 4, 3, false};
    chart->ring[0] = at(14.0, -30.0);
    chart->ring[1] = at(14.5, -30.0);
    chart->ring[2] = at(14.0, -30.5);
    chart->edge = (struct plan_shape){chart->ring, 3, 3, true};
    chart->zone = (struct plan_area){
        .name = "Range <script>alert(1)</script> \"7'",
        .until_known = true,
        .until = {1710500000},
        .rings = {.items = &chart->edge, .count = 1, .point_count = 3}};
}

static void make_weather(struct chart_example *chart, const struct plan *plan) {
    static const struct plan_spot spots[2][2] = {
        {{true, 9.26, 45.0, {true, 12.0}, {true, 2.04}, 10.0},
         {.known = false}},
        {{true, 0.4, 359.9, {false, 0.0}, {false, 0.0}, 0.0},
         {true, 27.1, 181.0, {true, 36.0}, {true, 5.96}, 200.0}}};
    memcpy(chart->weather, spots, sizeof spots);
    chart->spots[0] = (struct position){16.5, -30.0};
    chart->spots[1] = (struct position){-2.0, -33.0};
    for (int i = 0; i < CHART_EXAMPLE_FRAMES; i++)
        chart->frames[i] =
            (struct plan_frame){.at = {plan->depart.unix_s + i * 43200},
                                .beyond_forecast = i == 1,
                                .spots = chart->weather[i]};
}

static struct plan_sample sample_made(const struct plan_leg *leg) {
    return (struct plan_sample){.at = leg->start,
                                .position = leg->from,
                                .deck = leg->deck,
                                .heading_deg = leg->heading_deg,
                                .course_deg = leg->course_deg,
                                .tws_mps = leg->tws_mps,
                                .twd_deg = leg->twd_deg,
                                .twa_deg = leg->twa_deg,
                                .aws_mps = leg->aws_mps,
                                .awa_deg = leg->awa_deg,
                                .stw_mps = leg->stw_mps,
                                .sog_mps = leg->sog_mps,
                                .gust_mps = leg->gust_mps,
                                .gust_estimated = leg->gust_estimated,
                                .wave_m = leg->wave_m,
                                .wave_period_s = leg->wave_period_s.value,
                                .wave_from_deg = leg->wave_from_deg.value,
                                .roll_deg = leg->roll_deg,
                                .light = LIGHT_NIGHT,
                                .beyond_forecast = leg->beyond_forecast};
}

static void make_samples(struct chart_example *chart,
                         const struct plan_example *example) {
    enum { LAST = PLAN_EXAMPLE_LEGS };
    for (int i = 0; i < LAST; i++)
        chart->samples[i] = sample_made(&example->legs[i]);
    chart->samples[1].light = LIGHT_DAY;
    chart->samples[LAST] = chart->samples[LAST - 1];
    chart->samples[LAST].at = example->legs[LAST - 1].end;
    chart->samples[LAST].position = example->legs[LAST - 1].to;
}

void chart_example_make(struct chart_example *chart,
                        struct plan_example *example) {
    memset(chart, 0, sizeof *chart);
    make_land(chart);
    make_weather(chart, &example->plan);
    make_samples(chart, example);
    chart->files[0] = "tuesday<1>.grib2";
    struct chart_box box = box_made();
    struct chart_box covered = box;
    covered.high.x = at(0.0, -24.0).x;
    example->plan.chart = (struct plan_chart){
        .box = box,
        .has_coast = true,
        .covered = covered,
        .land = {.items = &chart->land, .count = 1, .point_count = 4},
        .zones = &chart->zone,
        .zone_count = 1,
        .spots = chart->spots,
        .spot_count = CHART_EXAMPLE_SPOTS,
        .frame_s = 43200.0,
        .frames = chart->frames,
        .frame_count = CHART_EXAMPLE_FRAMES,
        .samples = chart->samples,
        .sample_count = PLAN_EXAMPLE_LEGS + 1,
        .forecast_files = chart->files,
        .file_count = 1};
}
