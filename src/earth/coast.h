/* The coasts of the world: the shorelines of GSHHG (Wessel and Smith 1996, A
 * global self-consistent, hierarchical, high-resolution shoreline database,
 * JGR 101, 8741-8743), in the binned netCDF files that the Generic Mapping
 * Tools read and Debian packages as gmt-gshhg-low, -high and -full.
 *
 * Five sets, from full to crude; the coarser ones leave small islands out, and
 * none has rocks, reefs or depths: charts decide. Antarctica ends at the front
 * of its ice. Of all sets only the bins that a box can reach are read.
 *
 * Only the sea's own shoreline counts for meeting and for distance: a lake is
 * no water for us. Read only once loaded, safe for threads.
 */
#ifndef EARTH_COAST_H
#define EARTH_COAST_H

#include "base/arena.h"
#include "base/error.h"
#include "earth/position.h"
#include "earth/shore.h"
#include <stdbool.h>
#include <stddef.h>

struct coast;

/* Path of the finest set on this machine, in `arena`; NULL if there is none.*/
const char *coast_installed(struct arena *arena);

/* Reads what the box and SHORE_REACH_M about it hold. A box wider than 180
 * degrees is taken as all the way round. STATUS_INPUT where the file is
 * missing, is another kind of file or is damaged. */
bool coast_load(struct coast **coast, const char *path,
                const struct coast_box *box, struct arena *arena,
                struct error *error);

/* "GSHHG 2.3.7, high resolution" */
const char *coast_name(const struct coast *coast);

/* 'f', 'h', 'i', 'l' or 'c': full, high, intermediate, low, crude. */
char coast_resolution(const struct coast *coast);

/* Of the whole file, all over the world. */
size_t coast_polygon_count(const struct coast *coast);

/* Its shorelines, for drawing. */
const struct shore *coast_shore(const struct coast *coast);

/* Inside the box that was asked for. Everything below may be asked there only,
 * and that is asserted: elsewhere nothing is known. */
bool coast_covers(const struct coast *coast, struct position position);

/* On a shoreline it is that of its land side. */
enum coast_level coast_level_at(const struct coast *coast,
                                struct position position);

/* From here on as in earth/shore_meet.h and earth/shore_near.h: does a leg
 * (rhumb line) or geodesic meet the shoreline, touching included, and where
 * first; how near does a leg or a place come to it, at most `most_m`. */
bool coast_meets(const struct coast *coast, struct position from,
                 struct position to);
bool coast_meets_geodesic(const struct coast *coast, struct position from,
                          struct position to);
bool coast_first_crossing(const struct coast *coast, struct position from,
                          struct position to, struct position *at);
double coast_segment_distance_m(const struct coast *coast, struct position from,
                                struct position to, double most_m);
/* Quick: is the leg nearer to a shoreline than that anywhere? */
bool coast_nearer(const struct coast *coast, struct position from,
                  struct position to, double distance_m);
double coast_distance_m(const struct coast *coast, struct position at,
                        double most_m, struct position *nearest);

#endif
