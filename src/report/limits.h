/* Up to where: the angles and winds that the spar may draw in, and the weather
 * in which someone may go forward, with what to do beyond. Wind is true, over
 * the water, the apparent wind beside it where it is known. */
#ifndef REPORT_LIMITS_H
#define REPORT_LIMITS_H

#include "report/waypoint.h"
#include <stdio.h>

/* "AWA 145 deg or more", "AWA between 105 and 140 deg". */
const char *limits_angles(struct arena *arena, const struct plan *plan,
                          enum sail_mode mode);

/* For each way to carry the headsail on the spar that the plan sails in: where,
 * the angles to keep, when to roll. Nothing where the spar never draws. */
void limits_write_spar(const struct plan *plan,
                       const struct waypoints *waypoints, FILE *stream);

/* "SET", "GYBE", "STOW" or "MAIN": what the names of such work begin with. */
const char *limits_name(enum change_kind kind);

/* Go, not, else: for one work on deck. */
void limits_write_go(const struct plan *plan, const struct plan_change *change,
                     FILE *stream);

/* The same for every kind of work on deck in the plan, by limits_name(). */
void limits_write_work(const struct plan *plan, FILE *stream);

#endif
