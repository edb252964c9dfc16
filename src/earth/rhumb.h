/* Lines of constant course on the WGS84 ellipsoid. A leg is a rhumb line, for
 * distance, course, land test, weather and drawing alike.
 *
 * Formulas: isometric latitude difference for the course, meridian arc for the
 * distance (Bowditch 2019 vol. 1 ch. 12, "Mercator sailing" with ellipsoidal
 * meridional parts); along a parallel the limit of the same. The way round is
 * the shorter one in longitude. Good to a millimetre between 89 S and 89 N.
 */
#ifndef EARTH_RHUMB_H
#define EARTH_RHUMB_H

#include "earth/position.h"

struct rhumb {
    double distance_m;
    double course_deg; /* [0, 360); 0 where the two places are the same */
};

struct rhumb rhumb_between(struct position from, struct position to);

/* Where the rhumb line of that course leads. Past a pole the latitude stops
 * at 89.99 degrees: no boat sails there. */
struct position rhumb_ahead(struct position from, double course_deg,
                            double distance_m);

/* The step of the integrator: rhumb_ahead() by midpoint latitude, without
 * series; wrong by under 1 cm in 50 km below 75 degrees of latitude. */
struct position rhumb_step(struct position from, double course_deg,
                           double distance_m);

#endif
