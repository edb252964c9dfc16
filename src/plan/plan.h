/* A finished plan: everything that a report needs and nothing else. SI inside;
 * all texts and lists live in the arena of the plan.
 *
 * `plan_passage()` makes it (plan/passage.h); report/ turns it into a schedule,
 * waypoints and JSON and never looks at the forecast or the search.
 */
#ifndef PLAN_PLAN_H
#define PLAN_PLAN_H

#include "base/figure.h"
#include "base/instant.h"
#include "base/units.h"
#include "boat/boat.h"
#include "earth/position.h"
#include "earth/sun.h"
#include "plan/crew.h"
#include "plan/plan_chart.h"
#include "plan/previous.h"
#include "sea/guidance.h"
#include "voyage/deck.h"
#include "voyage/voyage.h"
#include <stdbool.h>
#include <stddef.h>

/* How far the forecast can be believed at that hour. */
enum trust { TRUST_GOOD, TRUST_FAIR, TRUST_GUESS };

/* What makes the boat roll on a leg, one part for each wave system and one for
 * what the sails drive: their squares add up to that of the leg's roll. Means
 * over the leg's time; of the waves over the time in which they are known. */
struct plan_roll_part {
    bool known; /* the waves, somewhere on the leg */
    double roll2_deg2;
    double height_m, period_s;
    double off_bow_deg;    /* where from, + on the starboard side */
    struct figure meets_s; /* encounter period; unknown where she keeps up */
};

struct plan_roll {
    struct plan_roll_part system[SEA_SYSTEMS];
    enum wave_origin origin[SEA_SYSTEMS]; /* the latest on the leg */
    double sails_deg2;
    double damping; /* fraction of critical, hull and sails */
};

/* What the crew has to beware of on a leg: plan/cautions.h. */
struct plan_remarks {
    bool steep, against_current, slatting;
    bool unjudged; /* how steep: its height is forecast, its period guessed */
    double steep_s, against_s, slatting_s, unjudged_s; /* where it is told */
    struct wave_system steepest;                       /* known where `steep` */
};

/* What gives light: plan/sky_seen.h. */
struct plan_sky {
    double sun_deg, moon_deg; /* altitude of the centre seen from the sea,
                                 without refraction, [-90, 90] */
    double moon_lit_frac;     /* of her disk, 0 new to 1 full */
    bool moon_up;             /* her upper limb is, refracted */
};

/* Where the rest of the track can't be laid without the spar: plan/broken.h. */
struct plan_heading {
    bool headed; /* she can't lay the track: she beats, or `why` stops her */
    size_t leg;  /* on this leg first, where `headed` or stopped */
    enum obstacle why; /* where `broken_s` is unknown: what stops her there;
                          OBSTACLE_NONE: not worked out */
};

/* A stretch on one course with one deck state. Wind, boat and roll figures are
 * means over the leg's time (vector means for directions, root mean square for
 * roll); gust and wave are the greatest. Wind is over the water. The apparent
 * wind leaves the minutes of work out, where there are others. */
struct plan_leg {
    struct instant start, end;
    struct position from, to; /* a rhumb line */
    double course_deg;        /* over the ground */
    double heading_deg;       /* through the water: the course plus set */
    double distance_m;
    struct deck deck;
    enum sail_mode mode;
    bool beating; /* |TWA| under 60: upwind */
    double tws_mps, twd_deg, twa_deg, aws_mps, awa_deg, stw_mps, sog_mps;
    struct figure gust_mps;
    bool gust_estimated; /* 1.4 x the mean wind: no gust field */
    struct figure wave_m, wave_period_s, wave_from_deg;
    bool wave_estimated; /* from the wind, by a growth law */
    bool wave_split;     /* what of it is wind sea: so estimated */
    double roll_deg;     /* RMS */
    struct plan_roll roll;
    struct plan_remarks remarks;
    double motored_s;
    double
        pace_frac;  /* of her speed, held back to arrive by daylight; 0: all */
    double wait_s;  /* where it starts, to arrive by daylight: not in the
                       means, and how she drifts is not known */
    double night_s; /* with the sun below -6 degrees */
    struct plan_sky sky;                     /* where it starts */
    double current_mps, current_towards_deg; /* 0, 0 where unknown */
    bool current_known;
    bool beyond_forecast; /* in part or whole */
    bool polar_beyond;    /* wind above the polar's last column in part */
    bool unchecked;       /* a limit could not be checked: field missing */
    enum trust trust;     /* at its start */
    int reefs;            /* at its mean wind; 0 if no [reef] is given */
    struct figure most_aws_mps; /* apparent wind on that course in the strongest
                                   true wind that the mode may be sailed in;
                                   unknown with the spar in */
    struct figure broken_s;     /* the passage in all, from departure on, if the
                                   spar breaks where the leg starts:
                                   plan/broken.h */
    struct plan_heading broken;
};

/* A shorter wait is no news. */
#define PLAN_WAIT_TOLD_S 60.0

/* The same, whatever the forecast's timing error: what the weather bounds is
 * less by that error, what sun and course bound is not. */
struct plan_surety {
    /* any: something remains, and the planned moment is in it */
    bool known, any;
    struct instant earliest, latest;
    struct figure error_s; /* of the forecast there; unknown beyond its end */
};

/* What it costs to leave a change undone. */
struct plan_skip {
    enum {
        SKIP_UNKNOWN,   /* not worked out: wind or course ask for it */
        SKIP_COSTS,     /* what stands below */
        SKIP_NEVER,     /* the spar has to be in before the finish */
        SKIP_CLOSED,    /* the rest of the track can't be sailed so */
        SKIP_FORBIDDEN, /* it asks for work later that nobody may do */
    } kind;
    const char *why; /* closed by what; may be NULL */
    double cost_s;   /* all weighed; may be below 0 by a rounding */
    double later_s;  /* arrival */
    double roll_deg; /* RMS more, while it is undone */
};

/* The last stow, done in the dark against the crew's rule, in the last light
 * before: begun by then, and what it costs more, all weighed. */
struct plan_lit {
    bool known;
    struct instant at;
    double cost_s;  /* may be below 0 */
    double later_s; /* arrival */
};

/* What of the reason of a change the wind shows: that it has turned, that it
 * blows harder; or nightfall; else place or crew ask for it. */
enum plan_cause { CAUSE_OTHER, CAUSE_ANGLE, CAUSE_WIND, CAUSE_DARK };

/* What tells on board that it is time, whatever the clock: plan/signs.h. */
struct plan_sign {
    enum {
        SIGN_NONE,    /* the wind does not tell, but the place */
        SIGN_AFT,     /* the wind comes aft to these angles */
        SIGN_FORWARD, /* forward to them */
        SIGN_STERN,   /* it passes the stern, to or past it */
        SIGN_WIND,    /* it rises above that */
        SIGN_LIGHT    /* nor the wind: it waits for light, or for the dark */
    } kind;
    double twa_deg, awa_deg; /* on the course before, rigged as before */
    double tws_mps;          /* SIGN_WIND: the limit */
    bool after; /* no course before: at departure, or for the second part of a
                   change; the angles are those on the course from there on */
};

struct plan_change {
    enum change_kind kind;
    bool deck_work;
    /* From when to when it can be done for little: plan/margins.h. Unknown
     * where the passage is not reached. */
    bool earliest_known, latest_known;
    struct instant earliest, latest;
    struct instant at;
    struct position position;
    struct deck from, to;
    double seconds; /* as it will take, night included */
    struct plan_surety sure;
    struct plan_skip skip;
    struct plan_lit lit; /* unknown of all but a last stow */
    enum light light;
    enum trust trust;
    struct plan_sky sky;
    double tws_mps, twd_deg;
    /* On the course that is sailed from there on, rigged as before. */
    double twa_deg, awa_deg;
    /* The apparent wind until then, on the course before: as it is, and with
     * the strongest true wind in which the work may be done. Unknown at
     * departure, and for the second part of a change. */
    struct figure aws_mps, most_aws_mps;
    struct figure gust_mps;
    bool gust_estimated; /* as for a leg */
    struct figure wave_m;
    double roll_deg;
    struct figure pole_length_m; /* to set for `headsail`; unknown if none */
    const char *headsail;        /* NULL if none listed */
    struct figure lee_m; /* clear distance to leeward, at most PLAN_LEE_M;
                            unknown without a coast */
    bool outside_limits; /* forced, or the last stow: beyond the work limits */
    bool barred;         /* beyond them with no such excuse */
    enum plan_cause cause;
    const char *why; /* a short clause: "the wind veers to 095" */
    struct plan_sign sign;
    size_t leg;      /* index of the leg on which it is done */
    bool starts_leg; /* where that leg starts; else on the way along it */
};

/* Clear water to leeward beyond this is not measured. */
#define PLAN_LEE_M (50.0 * METRES_PER_NMI)

/* What the land was checked with. */
struct plan_coast {
    const char *name;  /* of the set of shorelines; NULL: NO LAND CHECK */
    bool switched_off; /* no set was wanted; else none is installed */
    bool coarse;       /* small islands are missing in it */
    double clearance_m, approach_m;
    /* From a start or finish on land to where the plan begins or ends, in the
     * sea; 0 where it is in the sea. */
    double start_moved_m, finish_moved_m;
};

/* A zone that lies in the straight way from stop to stop, or within
 * PLAN_ZONE_M of a leg. */
struct plan_zone {
    const char *name;
    double distance_m; /* from the nearest leg, at most PLAN_ZONE_M */
    bool in_straight_way;
    bool from_known, until_known;
    struct instant from, until; /* closed from, until; as in the file */
};

#define PLAN_ZONE_M (5.0 * METRES_PER_NMI)

/* One place of the track: legs sampled, for the <trk> and the chart. */
struct plan_point {
    struct position position;
    struct instant at;
};

struct plan_isochrone {
    struct instant at;
    struct position *points;
    size_t count;
};

/* A stretch of a given track with the spar out: plan/paying.h. */
struct plan_stretch {
    size_t first, last; /* legs */
    double seconds, distance_m;
    double saved_s; /* against the same stretch without it; below 0: lost */
};

struct plan_summary {
    bool reached;          /* false: the forecast ends on the way */
    struct instant arrive; /* or the end of the plan where not reached */
    double elapsed_s, distance_m;
    double great_circle_m; /* by way of the places to pass */
    double cost_s, discomfort_s, hardship_s;
    double spar_s, wing_s, poled_reach_s, upwind_s;
    struct figure motor_s; /* unknown where the boat has no engine */
    int deck_work, night_deck_work;
    double roll_mean_deg;     /* RMS over the passage */
    double roll_easy_s;       /* not above the easy roll */
    double roll_over_limit_s; /* above the working limit */
    double max_tws_mps;
    struct figure max_gust_mps; /* as forecast; the legs have estimates too */
    struct figure max_wave_m;
    double beyond_forecast_s;
    /* A plan's: of the best way without it. `along`: the same track. */
    struct figure elapsed_without_spar_s, cost_without_spar_s;
    /* What it costs more that no mainsail gybe is beyond the work limits, than
     * the way with one that was given up; unknown: none was. */
    struct figure kept_gybes_s;
};

/* A time under engine; breaks of less than an hour are not told. */
struct plan_engine_run {
    struct plan_point start, end;
    double motored_s;
};

/* The engine and its fuel: plan/engine.h. */
struct plan_engine {
    struct motoring motoring; /* when it runs */
    double litres;            /* burnt in all, those to charge among them */
    double charging_litres;
    struct plan_engine_run *runs; /* in order of time */
    size_t run_count;
};

/* What the search did for the way that was taken. Costs in seconds: of the best
 * track that the fronts found, of the same refined, before it is cut into legs.
 */
struct plan_search {
    size_t labels, runs;
    double front_cost_s, refined_cost_s;
};

/* What keeping to the most points that the route may have has taken, in the
 * cost and in the time (which may be less), against the course of `points`
 * points that would have been sailed without. No points: nothing. */
struct plan_fewer {
    size_t points;
    double cost_s, time_s;
};

/* Where guidance made for ships applies to the boat on her way. */
struct plan_guidance {
    double seconds; /* in all; 0: nowhere */
    /* As it is first met: */
    struct instant at;
    size_t leg;
    struct wave_system wave;
    double speed_mps, off_bow_deg, meets_s;
};

/* When the boat may be early or late, and the dark that comes nearest to the
 * arrival within that: plan/arrival.h. */
struct plan_arrival {
    bool known;
    struct instant early, late;
    bool dark;        /* at the arrival itself; it gets light at: */
    bool light_known; /* within a day */
    struct instant light_from;
    bool dark_before, dark_after; /* the arrival, within the band */
    struct instant dark_until, dark_from;
};

/* The way to a port from a place on the track: plan/fallback.h. */
struct plan_refuge {
    bool known; /* it can be sailed, after departure sooner than the finish */
    double distance_m, seconds;
    double off_bow_deg; /* the wind on its first course, + to starboard */
    enum obstacle why;  /* not known: what stopped her on the way looked for;
                           OBSTACLE_NONE: it takes too long */
    bool guess;         /* the trust when she is there */
};

struct plan_port {
    const char *name;
    struct position position; /* in the sea */
    double moved_m;           /* from the place given, on land; else 0 */
    bool outside; /* no wind in the forecast there: nothing was looked for */
    struct plan_refuge *from_leg; /* one for each leg, where it starts */
    bool turn_off_known;          /* false: at no time is it worth it */
    enum obstacle turn_off_why; /* not known, and not all looks came to an end:
                                   what stopped one */
    struct plan_point turn_off;
    struct plan_refuge from_turn_off;
    double left_s; /* to the finish, from there */
};

/* An earlier plan, and what it costs to keep to its track: plan/keeping.h. */
struct plan_keeping {
    const struct previous *previous;
    double off_m; /* from the start to the nearest place of its track */
    struct position joined; /* an end of one of its legs, sailed to first */
    double to_join_m;       /* straight */
    bool known;             /* the rest of it can be sailed */
    enum obstacle why;      /* not known: what stops her */
    bool barred;            /* it asks for deck work that the rule forbids */
    struct plan_summary summary; /* of keeping to it; known */
    /* What it has more than the plan, for each kind of deck work: in daylight
     * and twilight, and at night; below 0: less. */
    int more_work[CHANGE_KINDS][2];
};

/* How the crew wants it shown. Zeroed: UTC, everything as it is. */
struct plan_display {
    double zone_s;      /* ship's time less UTC */
    bool magnetic;      /* courses by the compass too */
    bool points_only;   /* route.gpx without its track */
    bool ascii;         /* only ASCII in route.gpx */
    size_t name_length; /* longest name in route.gpx, at least
                           PLAN_NAME_LENGTH; 0: as long as they are */
};

enum { PLAN_NAME_LENGTH = 5 };

struct sailed; /* plan/retime.h */

struct plan {
    const char *version; /* of sparwise */
    const char *name;
    const char *boat_name;
    struct position from, to; /* as asked for, be it a berth */
    struct instant depart;
    struct deck start; /* how she is rigged then; its wind side is not known */
    struct instant forecast_run;                 /* reference time */
    struct instant forecast_start, forecast_end; /* of the wind */
    struct instant good_until, fair_until; /* trust; forecast_end at most */
    double ease;
    struct figure max_wind_mps, max_gust_mps; /* the crew's limits */
    bool arrive_by_day;                       /* wanted; plan/pacing.h */
    bool daylight_only; /* nobody may go forward in the dark, but for the last
                           stow and one that the spar's limits force */
    bool timed_only;    /* made by `along`: a given track, not a search */
    struct plan_coast coast;
    struct plan_zone *zones; /* in the order of the files */
    size_t zone_count;
    size_t all_zone_count; /* of the files */
    const char *unrigged;  /* why a given track is timed with the spar stowed,
                              whatever may pay; NULL: it is not */
    struct plan_stretch *stretches; /* where `along` has the spar out */
    size_t stretch_count;
    const struct boat *boat;
    struct plan_summary summary;
    struct plan_guidance guidance[GUIDANCE_KINDS];
    struct plan_search search;
    struct plan_fewer fewer;
    struct plan_engine engine;
    struct plan_arrival arrival;
    const struct plan_keeping *keeping; /* NULL: no earlier plan is given */
    struct crew crew;
    struct plan_port *ports; /* to run to, in the order of the file */
    size_t port_count;
    struct plan_leg *legs;
    size_t leg_count; /* at least 1 */
    struct plan_change *changes;
    size_t change_count; /* in order of time */
    double margin_s;     /* of cost, within which a change may move; 0 where
                            margins are not known */
    struct plan_point *track;
    size_t track_count;
    struct plan_isochrone *isochrones;
    size_t isochrone_count;
    struct plan_chart chart;
    struct plan_display display;
    const struct sailed *sailed; /* for plan/ alone; NULL: not kept */
    const char **warnings;       /* with marks: plan/marks.h */
    size_t warning_count;
};

#endif
