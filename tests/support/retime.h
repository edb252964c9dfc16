/* A second integrator, for tests alone: short steps of one length by the
 * midpoint rule, with a geodesy of its own. Of the program it uses the physics
 * (voyage_look, voyage_motion, voyage_roll_deg) and the table of the changes
 * (deck_change_between), not one line of voyage/sail. */
#ifndef TESTS_RETIME_H
#define TESTS_RETIME_H

#include "search/track.h"

struct retime_options {
    double step_s;
    /* Spells with the spar beyond its limits, or the wind on the wrong side, by
     * less than this are overlooked. Whether such a spell is seen may hang on
     * the last millimetre, and a headsail once rolled stays so to the next
     * vertex. */
    double overlooked_deg, overlooked_frac; /* of angles; of wind and gust */
};

/* Ten seconds; nothing is overlooked. */
struct retime_options retime_strictly(void);

/* Ten seconds; 0.05 degrees and a five-hundredth of the wind are overlooked. */
struct retime_options retime_leniently(void);

struct retimed {
    enum obstacle obstacle; /* no track of these tests creeps */
    double t_s, discomfort_s;
    int changes;   /* parts that were done */
    int unplanned; /* of them, what wind or angle asked for */
    struct deck deck;
};

/* Sails the track from `start`, which stands at its first vertex with the wind
 * on the side that suits (track_start). */
struct retimed retime_track(const struct voyage *voyage,
                            const struct track *track,
                            const struct underway *start,
                            const struct retime_options *options);

#endif
