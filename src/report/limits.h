/* Up to where: the angles and winds that the spar may draw in, and the weather
 * in which someone may go forward, with what to do beyond. Wind is true, over
 * the water, the apparent wind beside it where it is known. */
#ifndef REPORT_LIMITS_H
#define REPORT_LIMITS_H

#include "report/waypoint.h"
#include "voyage/voyage.h"
#include <stdio.h>

/* As far by the lee as the plan sails before the mainsail has to come over: the
 * true wind on the boom's side, by its angle. */
#define LIMITS_LEE_TWA_DEG (180.0 - VOYAGE_BY_THE_LEE_DEG)

/* "AWA 145 deg on the starboard side, through dead aft, to TWA 177 deg (AWA
 * 175 deg) on the port side, boom to port"; "AWA between 105 and 140 deg on the
 * port side, boom to starboard": for a leg with the spar drawing, in its mean
 * wind. */
const char *limits_angles(struct arena *arena, const struct plan *plan,
                          const struct plan_leg *leg);

/* Is the mean wind of the leg on the boom's side of dead aft, to the degree? */
bool limits_is_by_the_lee(const struct plan_leg *leg);

/* Nearer than this to an angle that AWA may not pass. */
#define LIMITS_AT_DEG 2.0

/* Does the headsail draw from the spar with AWA at the end of what it may be?
 */
bool limits_is_at_limit(const struct plan *plan, const struct plan_leg *leg);

/* For each way to carry the headsail on the spar that the plan sails in: where,
 * the angles to keep, when to roll. Nothing where the spar never draws. */
void limits_write_spar(const struct plan *plan,
                       const struct waypoints *waypoints, FILE *stream);

/* "SET", "GYBE", "STOW" or "MAIN": what the names of such work begin with. */
const char *limits_name(enum change_kind kind);

/* Go, not, else: for one work on deck. */
void limits_write_go(const struct plan *plan, const struct plan_change *change,
                     FILE *stream);

/* What "sign:" means under the changes; nothing where none has it. */
void limits_write_key(const struct plan *plan, FILE *stream);

/* The same for every kind of work on deck in the plan, by limits_name(). */
void limits_write_work(const struct plan *plan, FILE *stream);

#endif
