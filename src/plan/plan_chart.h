/* What is drawn of a plan: a piece of the Mercator chart with the land, zones
 * and weather in it, and what the boat meets on her way. Filled by plan/, drawn
 * by report/, which sees no forecast and no coast. Places on the chart are in
 * radians (earth/mercator.h), x without a seam from `box.low` to `box.high`.
 */
#ifndef PLAN_PLAN_CHART_H
#define PLAN_PLAN_CHART_H

#include "base/figure.h"
#include "base/instant.h"
#include "earth/chart.h"
#include "earth/position.h"
#include "earth/sun.h"
#include "voyage/deck.h"
#include <stdbool.h>
#include <stddef.h>

/* A closed line. All shapes of the land together, even-odd, are the land; the
 * same holds for those of one zone. */
struct plan_shape {
    struct mercator *points; /* the first not repeated */
    size_t count;
    size_t shore_count; /* so many at its beginning are shoreline, the others
                           close it along the edges of a tile */
    bool is_ring;       /* all of it is one shoreline, its end at its start */
};

struct plan_shapes {
    struct plan_shape *items;
    size_t count, capacity;
    size_t point_count; /* of all */
};

struct plan_area {
    const char *name;
    bool from_known, until_known;
    struct instant from, until;
    struct plan_shapes rings;
};

/* The weather at one spot and moment; wind over the water. */
struct plan_spot {
    bool known; /* false: outside the forecast */
    double tws_mps, twd_deg;
    struct figure gust_mps;
    struct figure wave_m; /* unknown: its direction is, too */
    double wave_from_deg;
};

/* The weather over the chart at one moment. */
struct plan_frame {
    struct instant at;
    bool beyond_forecast;
    struct plan_spot *spots; /* spot_count */
};

/* The boat at one moment of her way, as the integrator sails her. */
struct plan_sample {
    struct instant at;
    struct position position;
    struct deck deck;
    bool working; /* hands are busy with a change */
    double heading_deg, course_deg;
    double tws_mps, twd_deg, twa_deg, aws_mps, awa_deg, stw_mps, sog_mps;
    struct figure gust_mps;
    bool gust_estimated;
    struct figure wave_m;
    double wave_period_s, wave_from_deg; /* where wave_m is known */
    bool wave_estimated;
    double roll_deg; /* RMS */
    enum light light;
    bool beyond_forecast;
};

/* Zeroed: nothing is drawn. */
struct plan_chart {
    struct chart_box box;     /* three wide and two high */
    bool has_coast;           /* false: no land is known anywhere */
    struct chart_box covered; /* where shorelines are */
    struct plan_shapes land;
    struct plan_area *zones; /* those that reach into the box */
    size_t zone_count;
    struct position *spots; /* at sea, a grid over the box */
    size_t spot_count;
    double frame_s; /* from one frame to the next */
    struct plan_frame *frames;
    size_t frame_count;
    struct plan_sample *samples; /* in order of time; leg ends among them */
    size_t sample_count, sample_capacity;
    const char **forecast_files; /* without their folders */
    size_t file_count;
};

#endif
