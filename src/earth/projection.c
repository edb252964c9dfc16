#include "earth/projection.h"

#include <math.h>
#include <proj.h>
#include <stdio.h>

enum { TEXT_SIZE = 400 };
/* No earth is larger or smaller. */
static const double RADIUS_LEAST_M = 6.3e6, RADIUS_MOST_M = 6.4e6;
static const double STEP_MOST_M = 1e7;

static bool is_within(double value, double least, double most) {
    return value >= least && value <= most;
}

static bool is_sane(const struct projection *projection,
                    const struct net *net) {
    return is_within(projection->major_m, RADIUS_LEAST_M, RADIUS_MOST_M) &&
           is_within(projection->minor_m, RADIUS_LEAST_M,
                     projection->major_m) &&
           is_within(projection->first_parallel_deg, -90.0, 90.0) &&
           is_within(projection->second_parallel_deg, -90.0, 90.0) &&
           is_within(projection->meridian_deg, -720.0, 720.0) &&
           is_within(net->first.lat_deg, -90.0, 90.0) &&
           is_within(net->first.lon_deg, -720.0, 720.0) &&
           is_within(fabs(net->step_x_m), 1.0, STEP_MOST_M) &&
           is_within(fabs(net->step_y_m), 1.0, STEP_MOST_M);
}

/* "+over": a net may cross the meridian opposite to its own. */
static void print_projection(const struct projection *projection,
                             double first_lon_deg, char text[TEXT_SIZE]) {
    double first = projection->first_parallel_deg;
    char kind[TEXT_SIZE / 2] = "";
    switch (projection->kind) {
    case PROJECTION_LAMBERT:
        snprintf(kind, sizeof kind,
                 "+proj=lcc +lat_1=%.9f +lat_2=%.9f +lat_0=%.9f +lon_0=%.9f",
                 first, projection->second_parallel_deg, first,
                 projection->meridian_deg);
        break;
    case PROJECTION_POLAR:
        snprintf(kind, sizeof kind,
                 "+proj=stere +lat_ts=%.9f +lat_0=%d +lon_0=%.9f", first,
                 first < 0.0 ? -90 : 90, projection->meridian_deg);
        break;
    case PROJECTION_MERCATOR:
        snprintf(kind, sizeof kind, "+proj=merc +lat_ts=%.9f +lon_0=%.9f +over",
                 first, first_lon_deg);
        break;
    }
    snprintf(text, TEXT_SIZE, "%s +a=%.4f +b=%.4f", kind, projection->major_m,
             projection->minor_m);
}

static bool place_all(PJ *chart, const struct net *net,
                      struct position *sites) {
    PJ_COORD at = proj_coord(proj_torad(net->first.lon_deg),
                             proj_torad(net->first.lat_deg), 0.0, 0.0);
    PJ_COORD origin = proj_trans(chart, PJ_FWD, at);
    size_t inner = net->by_columns ? net->rows : net->columns;
    size_t count = net->columns * net->rows;
    for (size_t k = 0; k < count; k++) {
        size_t along = k % inner, line = k / inner;
        size_t i = net->by_columns ? line : along;
        size_t j = net->by_columns ? along : line;
        at = proj_coord(origin.xy.x + net->step_x_m * (double)i,
                        origin.xy.y + net->step_y_m * (double)j, 0.0, 0.0);
        at = proj_trans(chart, PJ_INV, at);
        sites[k].lat_deg = proj_todeg(at.lp.phi);
        sites[k].lon_deg = proj_todeg(at.lp.lam);
        if (!(fabs(sites[k].lat_deg) <= 90.0 + 1e-9 &&
              fabs(sites[k].lon_deg) <= 720.0))
            return false;
    }
    return true;
}

bool projection_place(const struct projection *projection,
                      const struct net *net, struct position *sites) {
    char text[TEXT_SIZE];
    if (!is_sane(projection, net))
        return false;
    print_projection(projection, net->first.lon_deg, text);
    PJ_CONTEXT *context = proj_context_create();
    proj_log_level(context, PJ_LOG_NONE);
    PJ *chart = proj_create(context, text);
    bool good = chart && place_all(chart, net, sites);
    proj_destroy(chart);
    proj_context_destroy(context);
    return good;
}
