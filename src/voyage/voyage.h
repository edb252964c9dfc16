/* The one physics: how this boat moves here and now, and what stops her.
 *
 * A voyage is the boat, the crew's limits and two questions to the world, asked
 * through functions: the conditions at a place and moment, and whether
 * something bars a stretch of water. So the search knows neither forecast files
 * nor coasts, and tests give it winds and islands of their own.
 *
 * Time is a double here: seconds since departure. Wind, TWA, TWS and AWA are
 * relative to the water (the forecast wind less the current); a leg holds its
 * course over the ground.
 */
#ifndef VOYAGE_VOYAGE_H
#define VOYAGE_VOYAGE_H

#include "base/units.h"
#include "boat/boat.h"
#include "earth/position.h"
#include "voyage/conditions.h"
#include "voyage/deck.h"
#include <math.h>

/* Why a stretch can't be sailed. */
enum obstacle {
    OBSTACLE_NONE,
    OBSTACLE_LAND,
    OBSTACLE_ZONE,
    OBSTACLE_WIND, /* above the crew's limit */
    OBSTACLE_GUST,
    OBSTACLE_WAVE,
    OBSTACLE_AREA,     /* no wind in the forecast there */
    OBSTACLE_HORIZON,  /* after the forecast, and the plan is to stop there */
    OBSTACLE_NO_SPEED, /* too near the wind, or becalmed */
    OBSTACLE_CURRENT,  /* the current is stronger than the boat */
    OBSTACLE_LANDFALL, /* spar out, nearer to the finish than allowed */
    OBSTACLE_FUEL,     /* becalmed for longer than there is fuel to motor */
    OBSTACLE_GYBE,     /* one that may not be made: gybes_kept */
    OBSTACLE_COUNT
};

/* "closed by land", "the wind limit": for messages. */
const char *obstacle_name(enum obstacle obstacle);

/* What the dark means to deck work: harder (the rule where nothing else is
 * said), all the same, or forbidden but for what is excused. */
enum work_rule { WORK_DAYLIGHT_FIRST, WORK_ANY, WORK_DAYLIGHT_ONLY };

/* When the engine runs. Zeroed: never. */
struct motoring {
    double below_mps; /* where she would sail slower than this */
    /* Later than that moment, where she would sail slower than this; 0: no
     * such moment. */
    double until_s, later_below_mps;
    double speed_mps; /* through the water, then */
    double max_wind_mps;
    /* What a second of it costs beside itself, seconds: while a search has to
     * be sparing with fuel, else 0. */
    double price;
};

/* The weather tells nothing finer: its values are so far apart. 0: not known,
 * infinite: it does not change. */
struct grain {
    double metres, seconds;
};

struct voyage {
    const struct boat *boat;
    struct motoring motoring;
    enum work_rule work_rule;
    double ease;       /* >= 0 */
    bool spar_allowed; /* false: the search without the spar */
    bool gybes_kept;   /* a mainsail gybe that sends someone forward beyond the
                          work limits is an obstacle */
    struct figure max_wind_mps, max_gust_mps, max_wave_m; /* hard limits */
    struct position finish;  /* where the spar must be in before */
    bool starts_near_finish; /* within landfall: the rule can't hold */
    double step_s;           /* longest step of the integrator */
    double pace_frac;        /* part of her speed that she is sailed at, held
                                back on purpose; 0: all of it */
    double max_current_mps;  /* the strongest that she can meet */
    struct grain grain;      /* of the conditions; for a search */

    /* OBSTACLE_NONE, _AREA or _HORIZON. `position` anywhere, t_s >= 0. */
    enum obstacle (*conditions)(const void *weather, struct position position,
                                double t_s, struct conditions *conditions);
    /* The light alone, there and then, forecast or not: cheaper. NULL: that of
     * the conditions. */
    enum light (*light)(const void *weather, struct position position,
                        double t_s);
    const void *weather;

    /* What bars the way: land, its clearance, zones. All three NULL: open
     * water everywhere.
     *
     * OBSTACLE_NONE, _LAND, _ZONE or, where the water is not known, _AREA: for
     * the rhumb line between two places, sailed between two moments. Both of
     * them VOYAGE_FOR_GOOD: only what never opens again. */
    enum obstacle (*blocked)(const void *water, struct position from,
                             struct position to, double start_s, double end_s);
    /* How far the nearest edge of the open water is, in any direction and for
     * good: above 0 in it, below 0 where the boat may not be. Never more than
     * the truth in open water; no more than VOYAGE_ROOM_M either way. */
    double (*room_m)(const void *water, struct position at);
    /* How far it is to the first shore or zone in that direction, clearance
     * not counted; at most `most_m`. */
    double (*clear_m)(const void *water, struct position at,
                      double direction_deg, double most_m);
    const void *water;

    /* How long the boat has to stay off the finish, arriving at that moment,
     * seconds, >= 0; NULL: she may arrive at any time. A search does not ask:
     * plan/haste.h. */
    double (*arrival_wait_s)(const void *arrival, double t_s);
    const void *arrival;
};

/* The wait of an arrival at `t_s`. */
double voyage_arrival_wait_s(const struct voyage *voyage, double t_s);

/* A moment after the last opening and closing of any zone. */
#define VOYAGE_FOR_GOOD HUGE_VAL

/* Room beyond this is as good as any. */
#define VOYAGE_ROOM_M (60.0 * METRES_PER_NMI)

/* Longest step of the integrator by default: half an hour. Ten
 * tracks through smooth and real forecasts were off by 0.014 % of the time at
 * most against steps of 10 s (tests/property/integrator_test.c); limits inside
 * a step are looked for (voyage/sail.h). */
#define VOYAGE_STEP_S 1800.0

/* A boat runs up to this far by the lee before the mainsail has to come over:
 * about what a helm yaws (common practice, no source). */
#define VOYAGE_BY_THE_LEE_DEG 3.0

/* Asks for the conditions and works out the wind over the water, which all
 * others below rely on. OBSTACLE_NONE, _AREA or _HORIZON. */
enum obstacle voyage_look(const struct voyage *voyage, struct position position,
                          double t_s, struct conditions *conditions);

/* The boat on one course, with one deck state, in these conditions. */
struct motion {
    double heading_deg;      /* through the water, current allowed for */
    double twa_deg, tws_mps; /* over the water */
    double stw_mps, sog_mps; /* sog along the course */
    double aws_mps;
    bool motoring;     /* the engine runs */
    bool wrong_side;   /* the wind is not on the side of `deck` */
    bool spar_unfit;   /* the spar may not draw at this angle/wind */
    bool polar_beyond; /* wind above the polar's last column */
    double slack_deg;  /* how far the wind may still turn before something has
                          to be done; a limit in wind or gust counts a degree
                          for every VOYAGE_SLACK_FRAC that is left; below 0
                          where it has to be done now */
};

#define VOYAGE_SLACK_FRAC 0.02

/* `working`: hands are busy with a change, the boat is held back for it.
 * OBSTACLE_NONE, _NO_SPEED or _CURRENT. */
enum obstacle voyage_motion(const struct voyage *voyage,
                            const struct conditions *conditions,
                            double course_deg, struct deck deck, bool working,
                            struct motion *motion);

/* Does she motor where she would sail so fast? */
static inline bool voyage_motors(const struct conditions *conditions,
                                 double sailing_mps) {
    return sailing_mps < conditions->motors_below_mps;
}

/* Apparent wind angle of a motion, (-180, 180]. */
double voyage_awa_deg(const struct motion *motion);

/* The crew's hard limits. A limit whose field is not known there does not
 * stop the boat; voyage_unchecked() tells. */
enum obstacle voyage_limit(const struct voyage *voyage,
                           const struct conditions *conditions);
bool voyage_unchecked(const struct voyage *voyage,
                      const struct conditions *conditions);

/* RMS roll in degrees. */
double voyage_roll_deg(const struct voyage *voyage,
                       const struct conditions *conditions,
                       const struct motion *motion, struct deck deck);

/* Discomfort of that roll to this crew, seconds per second. */
double voyage_discomfort(const struct voyage *voyage, double roll_deg);

/* From one TWA to another, does the wind pass the bow? Where that is the
 * shorter way round. */
static inline bool voyage_passes_bow(double before_deg, double after_deg) {
    return fabs(before_deg) + fabs(after_deg) < 180.0;
}

/* The TWA that she is trimmed for after some time on a new one, sailed before
 * on another: boom and preventer are rigged for it after a while only. That is
 * what `before_deg` is to be: nobody who runs before the wind comes up for some
 * minutes to tack instead of gybing; and who did would have the same to do. */
double voyage_trimmed_deg(double before_deg, double twa_deg, double seconds);

/* Does the mainsail come over by a tack, which is done from the cockpit? By the
 * bow; but a single preventer that is on has to be brought forward to the other
 * side whichever way she turns: then it counts as a gybe. */
bool voyage_tacks(const struct voyage *voyage, double before_deg,
                  double after_deg);

/* How far the wind may still turn before the mainsail has to come over,
 * degrees; below 0 where it is on the wrong side. */
double voyage_side_slack_deg(double twa_deg, bool wind_starboard);

/* May someone go forward for this? The limits of the boat file's [work]:
 * wind, gust and wave height, which are the same on all courses, and roll; the
 * light, where the rule forbids work in the dark. Cockpit changes always may.
 */
bool voyage_work_weather(const struct voyage *voyage,
                         const struct conditions *conditions,
                         enum change_kind kind);
bool voyage_work_allowed(const struct voyage *voyage,
                         const struct conditions *conditions,
                         const struct motion *motion, struct deck deck,
                         enum change_kind kind);

/* The darkest light of a piece of work that takes so long by day, from its
 * beginning, in the light `first`, to its end, at `to`: what is finished in the
 * dark is work in the dark. Twenty minutes that begin by day count as day: it
 * is not dark so soon. */
enum light voyage_work_light(const struct voyage *voyage, struct position to,
                             double start_s, double day_seconds,
                             enum light first);

/* Hardship of one part of a change, seconds: by light, roll, gust and the room
 * to leeward. */
double voyage_hardship_s(const struct voyage *voyage, struct position at,
                         const struct conditions *conditions,
                         enum change_kind kind, double roll_deg);

/* Clear distance to leeward: downwind, to the first shore or zone; at most
 * `most_m`, and that on open water everywhere. */
double voyage_lee_m(const struct voyage *voyage, struct position at,
                    const struct conditions *conditions, double most_m);

/* Gust for the limits of spar and work: as forecast, else estimated. */
double voyage_gust_mps(const struct conditions *conditions, double tws_mps);

/* True if the spar can't draw on that course in this wind, whatever the boat's
 * speed: AWA is never wider than TWA. Cheap; false decides nothing. */
bool voyage_spar_hopeless(const struct voyage *voyage,
                          const struct conditions *conditions,
                          double course_deg, enum spar_place spar);

/* |AWA| between which the spar may draw in that mode, margin taken off. A range
 * that reaches 180 has no end there: dead aft is its middle. */
void voyage_spar_range(const struct boat *boat, enum sail_mode mode,
                       double *low_deg, double *high_deg);

/* The fastest that this boat can go over the water, for bounds. */
double voyage_top_speed(const struct voyage *voyage);

#endif
