/* What the boat meets at one place and moment. */
#ifndef VOYAGE_CONDITIONS_H
#define VOYAGE_CONDITIONS_H

#include "base/figure.h"
#include "earth/angle.h"
#include "earth/sun.h"
#include "sea/roll_table.h"
#include "sea/wave.h"

/* With no gust field the spar's gust limits use this times the mean wind. */
#define CONDITIONS_GUST_FACTOR 1.4

struct conditions {
    struct vector_mps wind;    /* where the air goes, over the ground */
    double tws_mps, twd_deg;   /* over the water: set by voyage_look() */
    double motors_below_mps;   /* the engine runs where she would sail slower:
                                  likewise */
    struct roll_sea roll_sea;  /* the sea as the hull feels it: likewise */
    struct vector_mps current; /* sets towards; null where not known */
    bool current_known;
    struct figure gust_mps; /* as forecast */
    struct sea sea;         /* complete; estimated where no field is */
    enum light light;
    bool beyond_forecast; /* held, or the crew's own expectation */
};

#endif
