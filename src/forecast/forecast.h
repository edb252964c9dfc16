/* The forecast: fields on a time axis, sampled at any place and instant.
 *
 * GRIB files go in, decoded message by message in child processes
 * (forecast/grib.h); fields of one quantity, grid and run are put in order of
 * time (forecast/field.h); out comes the weather at (position, instant).
 *
 * Invariants
 *   - a value that is not there is a flag; no fill number gets past the load;
 *   - vectors are interpolated as components, directions as unit vectors
 *     (weighted by height squared for waves); never as plain numbers;
 *   - masked corners drop out and the weights are renormalised;
 *   - no value is carried across a hole in time longer than the gap limit;
 *   - an interval maximum (gust) holds over its interval, the shortest interval
 *     that covers the instant wins, and an instantaneous one beats it only
 *     where there is no interval.
 */
#ifndef FORECAST_FORECAST_H
#define FORECAST_FORECAST_H

#include "base/arena.h"
#include "base/error.h"
#include "base/figure.h"
#include "base/instant.h"
#include "earth/angle.h"
#include "earth/position.h"
#include "sea/wave.h"
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

enum quantity {
    QUANTITY_WIND, /* pair u, v; a file may give speed and direction */
    QUANTITY_GUST,
    QUANTITY_PRESSURE,
    QUANTITY_CURRENT, /* pair u, v or speed and direction (towards) */
    QUANTITY_SEA,     /* combined sea: height, period, direction */
    QUANTITY_WIND_SEA,
    QUANTITY_SWELL_1,
    QUANTITY_SWELL_2,
    QUANTITY_SWELL_3,
    QUANTITY_COUNT
};

/* Which run of an ensemble. */
enum member_kind {
    MEMBER_NONE, /* of no ensemble */
    MEMBER_CONTROL,
    MEMBER_PERTURBED
};

struct member {
    enum member_kind kind;
    int type; /* the producer's type of perturbation */
    int number;
};

enum { MEMBER_TEXT_SIZE = 40 };

/* "the control", "member 7", "the forecast without members". */
void member_print(struct member member, char text[MEMBER_TEXT_SIZE]);

/* The weather at one place and instant. */
struct weather {
    bool wind_known;
    struct vector_mps wind; /* where the air goes, over the ground */
    struct figure gust_mps;
    bool gust_coarse; /* from an interval longer than the finest in the file */
    struct figure pressure_pa;
    bool current_known;
    struct vector_mps current;  /* sets towards */
    struct figure sea_height_m; /* combined, significant */
    struct wave_system sea, wind_sea, swell[3];
    bool waves_near_mask; /* only one corner of the cell had a value */
};

enum coverage {
    COVERAGE_INSIDE,
    COVERAGE_OUTSIDE_AREA, /* no wind at that place */
    COVERAGE_BEFORE,       /* before the first step of the wind */
    COVERAGE_AFTER,        /* after the last one */
    COVERAGE_HOLE          /* in a hole in time longer than the limit */
};

struct forecast;

struct grid_bounds; /* forecast/grid.h */

struct forecast_options {
    double gap_limit_s; /* widest hole bridged in time; default 12 h */
    bool waves_towards; /* the files give where waves go to */
    int workers;        /* child processes, at most 64; default 0: as many as
                           pay */
    uint32_t spared; /* a bit for each enum quantity that nobody will ask for:
                        not decoded; default none */
    const struct grid_bounds *wanted; /* all that will be sampled: of large
                                         grids the rest is not kept; NULL, the
                                         default: all */
    struct figure member; /* number of an ensemble's member; default unknown:
                             the control, else the forecast without members,
                             else the lowest */
    /* Called once while the child processes decode, which leave this one
     * idle; default NULL. */
    void (*meanwhile)(void *context);
    void *context;
};

struct forecast_options forecast_defaults(void);

/* Reads and decodes all files. Warnings are kept (forecast_warnings). False
 * when no usable wind is left, or none of the member that is asked for
 * (STATUS_INPUT), or the GRIB library's definitions are missing
 * (STATUS_RESOURCE). One bad file among good ones is a
 * warning. The result lives in `arena`. */
bool forecast_load(struct forecast **forecast, const char *const *paths,
                   size_t count, const struct forecast_options *options,
                   struct arena *arena, struct error *error);

/* The members that the wind has, the control first, then by number; none of a
 * forecast without an ensemble. */
size_t forecast_member_count(const struct forecast *forecast);
struct member forecast_member(const struct forecast *forecast, size_t index);

/* What the wind in use is of. */
struct member forecast_used(const struct forecast *forecast);

/* The weather of another member out of the same files, which are not read
 * again; without warnings. It lives in `arena`, and no longer than `all`.
 * Several threads may make some. STATUS_INPUT where it has no usable wind. */
bool forecast_of_member(struct forecast **one, const struct forecast *all,
                        struct member member, struct arena *arena,
                        struct error *error);

/* Samples everything. `unix_s` may have a fraction. The wind decides the
 * coverage; other quantities are unknown where they are not there. Safe to
 * call from several threads. */
enum coverage forecast_at(const struct forecast *forecast,
                          struct position position, double unix_s,
                          struct weather *weather);

/* The wind alone, at the nearest point of the best grid that has one there: for
 * what is worked out at many places that the boat does not come to, since it
 * reads no more of the files than that. Safe to call from several threads. */
bool forecast_point_wind(const struct forecast *forecast,
                         struct position position, double unix_s,
                         struct vector_mps *wind);

/* One quantity as the files have it. */
struct field_summary {
    bool present;
    struct instant first, last; /* valid times */
    size_t steps;
    double longest_gap_s, shortest_gap_s; /* 0: there is one step alone */
    bool interval; /* holds over an interval rather than at an instant */
};

struct area {
    double south_deg, north_deg;
    double west_deg,
        east_deg; /* west in [-180,180), east >= west; global: +360 */
    double lat_step_deg, lon_step_deg;
};

struct field_summary forecast_summary(const struct forecast *forecast,
                                      enum quantity quantity);

/* The finest grid of that quantity, as it is in the file. */
struct area forecast_area(const struct forecast *forecast,
                          enum quantity quantity);

/* The strongest current in there at any step: no sample is stronger. 0 where
 * there is none. */
double forecast_strongest_current_mps(const struct forecast *forecast,
                                      const struct grid_bounds *within);

/* Reference time of the newest run in use for the wind. */
struct instant forecast_run(const struct forecast *forecast);

size_t forecast_warning_count(const struct forecast *forecast);
const char *forecast_warning(const struct forecast *forecast, size_t index);

/* What `sparwise forecast` prints: files, fields, levels, area, spacing,
 * steps, gaps, members, and what a plan will miss. Width 80. */
void forecast_describe(const struct forecast *forecast, FILE *stream);

#endif
