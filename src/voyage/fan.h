/* Every heading at once: what the boat does at one place on a fan of headings,
 * evenly spaced from the wind, with every rig. For the search's fronts, which
 * ask for all of them; figures are those of voyage_motion(). No course is held
 * here: the boat is steered by a heading, and a current carries her.
 */
#ifndef VOYAGE_FAN_H
#define VOYAGE_FAN_H

#include "base/arena.h"
#include "voyage/voyage.h"

/* Angles from the wind, 0 and 180 among them. */
enum { FAN_ANGLES = 91 };

/* A course held for hours sees the wind shift: the fan's own angles keep so far
 * off the end of a polar. */
#define FAN_SHIFT_DEG 2.0

/* Polars at the fan's angles; made once. */
struct fan {
    const struct voyage *voyage;
    int angles;       /* 2..FAN_ANGLES */
    double step_deg;  /* between them */
    int first_fit;    /* the first at which a spar may draw */
    double *stowed;   /* [angles * winds of the stowed polar] */
    double *spar_out; /* the same of the other */
    double sine[FAN_ANGLES], cosine[FAN_ANGLES]; /* of TWA */
};

/* `step_deg` about what is wanted: 2 to 90. */
void fan_init(struct fan *fan, const struct voyage *voyage, double step_deg,
              struct arena *arena);

/* The fan at one place: speeds through the water under sail by |TWA|. */
struct fan_here {
    const struct fan *fan;
    const struct conditions *conditions; /* looked at */
    double factor;                       /* times both polars */
    double wind_sine, wind_cosine;       /* of TWD */
    double stowed_mps[FAN_ANGLES];
    double spar_mps[FAN_ANGLES];      /* 0 where the polar has none */
    double awa_deg[FAN_ANGLES];       /* drawing, from first_fit on */
    bool wing_allowed, reach_allowed; /* by wind and gust */
};

void fan_look(const struct fan *fan, const struct conditions *conditions,
              struct fan_here *here);

/* One heading of the fan, or any other. */
struct fan_heading {
    double twa_deg, heading_deg;
    struct vector_mps unit; /* east and north of it */
    int angle;              /* of the fan, at or below |TWA| */
    double part;            /* of the way to the next angle */
};

struct fan_heading fan_heading_at(const struct fan_here *here, int angle,
                                  bool wind_starboard);
struct fan_heading fan_heading_of(const struct fan_here *here,
                                  double heading_deg);

/* How far the apparent wind is inside the range in which the spar of `deck` may
 * draw, degrees; below 0 where it may not. */
double fan_slack_deg(const struct fan_here *here,
                     const struct fan_heading *heading, struct deck deck);

/* Speed through the water, m/s, be the spar fit or not. `working`: hands are
 * busy. */
double fan_speed(const struct fan_here *here, const struct fan_heading *heading,
                 struct deck deck, bool working);

/* Is that speed the engine's? */
bool fan_motors(const struct fan_here *here, const struct fan_heading *heading,
                struct deck deck);

/* No faster on that heading with any rig. */
double fan_top_mps(const struct fan_here *here,
                   const struct fan_heading *heading);

/* RMS roll in degrees at that speed. */
double fan_roll_deg(const struct fan_here *here,
                    const struct fan_heading *heading, struct deck deck,
                    double speed_mps);

#endif
