/* The one integrator: sails a course in short steps and adds up time and cost.
 * Refinement, timing of a track and reports all use it, so every figure that is
 * printed can be reproduced by timing the same track again.
 *
 * Each step samples the conditions at both of its ends (Heun's method). It is
 * cut shorter where speed changes much, where the deck state stops being usable
 * on the way, or where the forecast ends. Where the wind at either end is near
 * a limit, its middle is looked at, too: a search finds every gap between two
 * looks. Then the crew does from the cockpit what they would do: bring the
 * mainsail over when the wind has changed sides, roll the headsail while the
 * spar may not draw, and unroll it once that is over; each costs its minutes.
 * A headsail rolled to motor is unrolled to sail, not sooner than an hour
 * later. So a track never breaks, it costs.
 */
#ifndef VOYAGE_SAIL_H
#define VOYAGE_SAIL_H

#include "earth/rhumb.h"
#include "voyage/voyage.h"

/* The boat under way. Copy it to try something and come back. */
struct underway {
    struct position at;
    double t_s;    /* since departure */
    double cost_s; /* elapsed + ease * (discomfort + hardship), and what a
                      search lays on the fuel */
    double discomfort_s, hardship_s; /* without ease */
    struct deck deck;
    double sailed_m;       /* over the ground, since the start */
    double work_left_s;    /* of changes still being done */
    double motored_s;      /* with the engine running */
    double crept_s;        /* moved on although it can't be sailed: track.h */
    bool stowing;          /* the spar is not yet in */
    bool rolled_for_now;   /* until the spar may draw again */
    double rolled_until_s; /* at least, where it was rolled to motor */
    double heading_deg;    /* last one sailed */
    double twa_deg;        /* that she is trimmed for; 180 before the start */
    bool here_known;       /* `here` holds for (at, t_s); after a step, for its
                              first guess of them, off by a twentieth of the
                              step at most where that was not cut shortest */
    bool motion_known;     /* `motion` and `roll_deg` hold there, too, on
                              `course_deg` with this deck, no work left */
    double course_deg, roll_deg;
    struct motion motion;
    struct conditions here;
};

/* One step as it was sailed, for reports. Conditions and motion are those of
 * its start. */
struct sail_step {
    struct position from, to;
    double start_s, seconds, distance_m, course_deg;
    double motored_s; /* of the seconds, with the engine running */
    struct deck deck;
    bool working;
    double roll_deg;
    const struct conditions *conditions;
    const struct motion *motion;
};

/* One part of a change, as it was done. Place, conditions and motion are those
 * of its own moment, which for a second part lies ahead; the light among the
 * conditions is the darkest until it is done (voyage_work_light). */
struct sail_change {
    enum change_kind kind;
    struct position at;
    double t_s, seconds;
    struct deck from, to;
    bool outside_limits; /* beyond the work limits */
    bool barred;         /* and not excused: nobody may do it */
    bool unplanned;      /* the integrator's own, from the cockpit */
    double roll_deg;
    const struct conditions *conditions;
    const struct motion *motion;
};

/* Who is told of them; each function may be NULL. */
struct sail_observer {
    void (*step)(void *context, const struct sail_step *step);
    void (*change)(void *context, const struct sail_change *change);
    void *context;
};

/* At the start of a passage: time and cost 0. */
struct underway sail_start(struct position at, struct deck deck);

/* Makes `here` hold. OBSTACLE_NONE, _AREA or _HORIZON. */
enum obstacle sail_look(const struct voyage *voyage, struct underway *boat);

/* Changes the deck for the given course. `to.wind_starboard` does not count:
 * the wind side follows from the course. Nothing happens where the state is
 * that already. Forbidden work (limits, a tack with the spar drawing) is done
 * all the same but costs COST_FORBIDDEN_WORK_S. Excused: a stow that the
 * spar's own limits force, and the last one, close to the finish. A mainsail
 * gybe is the course's affair, and costs the same whoever asks for it: with a
 * single preventer it is deck work, too, but its being forbidden costs nothing.
 * In the dark the rule bars it; beyond the other limits it is excused. With
 * `gybes_kept` it is OBSTACLE_GYBE, and the boat is as she was. */
enum obstacle sail_change_deck(const struct voyage *voyage,
                               struct underway *boat, double course_deg,
                               struct deck to,
                               const struct sail_observer *observer);

/* Brings the mainsail over now, with the wind from dead aft: sooner than the
 * course asks for it. False, and nothing is done, where the wind would be too
 * far by the lee, the spar may not draw on that side, the place can't be looked
 * at or `gybes_kept` forbids it. */
bool sail_bring_over(const struct voyage *voyage, struct underway *boat,
                     double course_deg, const struct sail_observer *observer);

/* One step on a course: at most `max_s` seconds (> 0) and `max_m` metres
 * (> 0), whichever comes first. On an obstacle the boat is where it was,
 * though what she had to do there first may be done; on OBSTACLE_HORIZON that
 * is less than half a minute (a thirtieth of the longest step) from the end of
 * the forecast. */
enum obstacle sail_step(const struct voyage *voyage, struct underway *boat,
                        double course_deg, double max_s, double max_m,
                        const struct sail_observer *observer);

/* Steps until `seconds` have passed. */
enum obstacle sail_for(const struct voyage *voyage, struct underway *boat,
                       double course_deg, double seconds,
                       const struct sail_observer *observer);

/* Steps along the rhumb line to `to`; ends exactly there. */
enum obstacle sail_to(const struct voyage *voyage, struct underway *boat,
                      struct position to, const struct sail_observer *observer);

/* The same along a line that is known: the one to `to`. */
enum obstacle sail_along(const struct voyage *voyage, struct underway *boat,
                         struct rhumb line, struct position to,
                         const struct sail_observer *observer);

#endif
