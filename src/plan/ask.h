/* What to ask a forecast for, for a passage: before there is any. */
#ifndef PLAN_ASK_H
#define PLAN_ASK_H

#include "boat/boat.h"
#include "plan/request.h"

/* Whole degrees. West in [-180, 180), east beyond it, by 360 at most. */
struct ask_area {
    double south_deg, north_deg, west_deg, east_deg;
};

/* Round all stops, the great circles between them and the ports to run to: so
 * much room to the north and south, and as many miles to the west and east. */
struct ask_area ask_area(const struct request *request, double room_deg);

/* From stop to stop by great circles. */
double ask_way_m(const struct request *request);

/* What the program reads, in the order of need. */
enum ask_field {
    ASK_WIND,       /* two components */
    ASK_GUST,       /* one field */
    ASK_SEA,        /* the whole sea: height, period, direction */
    ASK_WIND_SEA,   /* likewise */
    ASK_SWELL,      /* likewise */
    ASK_SWELL_MORE, /* a second swell */
    ASK_CURRENT,    /* two components */
    ASK_PRESSURE,
    ASK_FIELDS
};

/* How many fields that makes at each step. */
int ask_fields_of(enum ask_field field);

/* Bytes of one step of it over so many points, all of them sea: GRIB edition 2,
 * plainly packed. Bits of each kind are those of the files of weather centres
 * that tests/unit/ask_test.c measures. */
double ask_bytes(enum ask_field field, double points);

enum ask_size { ASK_SMALL, ASK_FULL };

struct ask {
    struct ask_area area;
    double room_deg;
    double passage_s; /* at the boat's fair speed */
    double hours;     /* to ask for: that, a margin, whole steps */
    double step_h, spacing_deg;
    size_t columns, rows, steps;
    enum ask_field last; /* the fields up to this one */
    double bytes;
};

/* A fair speed: the mean of the stowed polar over true wind angles of 60 to 180
 * degrees in 12 kn of wind (common practice, no source). */
double ask_fair_mps(const struct boat *boat);

/* ASK_SMALL: what a plan needs at least, for a slow link. ASK_FULL: what it can
 * use. The larger they get, the longer the passage, the coarser they are. */
struct ask ask_for(const struct boat *boat, const struct request *request,
                   enum ask_size size);

#endif
