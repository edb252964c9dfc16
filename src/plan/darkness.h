/* How long it is dark in a step of the integrator: with the sun more than 6
 * degrees below the horizon, as everywhere in a plan (earth/sun.h). */
#ifndef PLAN_DARKNESS_H
#define PLAN_DARKNESS_H

#include "base/instant.h"
#include "voyage/sail.h"

/* Seconds of it, [0, step->seconds], to a second. Night that begins and ends
 * within one step is not seen: steps are of minutes. */
double darkness_s(struct instant depart, const struct sail_step *step);

#endif
