#include "boat/doubts.h"

#include "base/units.h"
#include "boat/gain.h"

#include <math.h>

struct telling {
    void (*tell)(void *context, const char *text);
    void *context;
    struct arena *arena;
};

static void say(const struct telling *telling, const char *text) {
    telling->tell(telling->context, text);
}

/* --- the two polars beside each other ------------------------------------- */

enum { ANGLE_FIRST = 90, ANGLE_LAST = 180, ANGLE_STEP = 5, WIND_LAST = 60 };

/* Nearer than this two speeds are the same: polars are not that sharp. */
static const double SAME_KN = 0.05;

struct compared {
    bool usable; /* the spar, anywhere */
    double most_kn, least_kn;
};

/* What the spar gains, wherever it may be out: the most and the least of it. */
static struct compared compare(const struct boat *boat) {
    struct compared compared = {.usable = false};
    for (int twa = ANGLE_FIRST; twa <= ANGLE_LAST; twa += ANGLE_STEP)
        for (int wind_kn = 1; wind_kn <= WIND_LAST; wind_kn++) {
            struct gain gain = gain_at(boat, twa, kn_to_mps(wind_kn));
            if (!gain.usable_wing && !gain.usable_reach)
                continue;
            double gain_kn = mps_to_kn(gain.spar_mps - gain.stowed_mps);
            bool first = !compared.usable;
            compared.usable = true;
            compared.most_kn =
                first ? gain_kn : fmax(compared.most_kn, gain_kn);
            compared.least_kn =
                first ? gain_kn : fmin(compared.least_kn, gain_kn);
        }
    return compared;
}

static void about_spar(const struct telling *telling, const struct boat *boat) {
    struct compared compared = compare(boat);
    if (!compared.usable)
        say(telling, "the spar can be used nowhere, at no angle and in no "
                     "wind; check its angles and limits and the rows of its "
                     "polar");
    else if (compared.most_kn < SAME_KN && compared.least_kn <= -SAME_KN)
        say(telling, "the boat is slower with the spar out wherever it can be "
                     "used, or as fast at most; are the two polars exchanged?");
    else if (compared.most_kn < SAME_KN)
        say(telling, "the boat is as fast with the spar out as without, "
                     "wherever it can be used; is one polar given twice?");
}

/* --- m/s where knots are asked for ---------------------------------------- */

/* The speed of a wave as long as the waterline: sqrt(g / (2 pi)) m/s for 1 m,
 * which is 1.34 kn times the root of feet. */
static const double HULL_MPS = 1.249;

/* Of that: less is slow for any boat, in a wind that is no light one; and more
 * is one that leaves her wave behind, and may outrun a light wind. Common
 * practice, no source. */
static const double SLOW_FRAC = 0.65, SLOW_WIND_KN = 10.0, FAST_FRAC = 1.3;

/* Faster than the wind by so much, in a light one. */
static const double OUTRUN = 1.15, OUTRUN_FROM_KN = 3.0, OUTRUN_TO_KN = 10.0;

/* A cell where she outruns the wind; false: none. */
static bool find_outrun(const struct polar *polar, size_t *row,
                        size_t *column) {
    for (*column = 0; *column < polar->winds; ++*column) {
        double wind_mps = polar->wind_mps[*column];
        if (wind_mps < kn_to_mps(OUTRUN_FROM_KN) ||
            wind_mps > kn_to_mps(OUTRUN_TO_KN))
            continue;
        for (*row = 0; *row < polar->angles; ++*row)
            if (polar->speed_mps[*row * polar->winds + *column] >
                OUTRUN * wind_mps)
                return true;
    }
    return false;
}

static void about_polar(const struct telling *telling, const struct boat *boat,
                        const struct polar *polar, const char *which) {
    double hull_mps = HULL_MPS * sqrt(boat->length_waterline_m);
    double top_mps = polar_top_speed(polar);
    size_t row, column;
    if (top_mps < SLOW_FRAC * hull_mps &&
        polar->wind_mps[polar->winds - 1] >= kn_to_mps(SLOW_WIND_KN))
        say(telling,
            arena_print(telling->arena,
                        "the greatest speed of the polar with the spar %s is "
                        "%.1f kn, where a hull of that length comes to %.1f "
                        "kn; are its speeds in m/s? they are read as knots",
                        which, mps_to_kn(top_mps), mps_to_kn(hull_mps)));
    if (top_mps < FAST_FRAC * hull_mps && find_outrun(polar, &row, &column))
        say(telling,
            arena_print(
                telling->arena,
                "the polar with the spar %s has %.1f kn at %g deg in %.4g kn "
                "of wind, more than the wind; are its winds in m/s? they are "
                "read as knots",
                which, mps_to_kn(polar->speed_mps[row * polar->winds + column]),
                polar->angle_deg[row], mps_to_kn(polar->wind_mps[column])));
}

static void about_limits(const struct telling *telling,
                         const struct boat *boat) {
    const struct {
        const char *name;
        double limit_mps, odd_kn;
    } limits[] = {
        {"[spar] wing_max_wind_kn", boat->spar.wing_max_wind_mps,
         DOUBTS_SPAR_WIND_KN},
        {"[spar] poled_reach_max_wind_kn", boat->spar.reach_max_wind_mps,
         DOUBTS_SPAR_WIND_KN},
        {"[work] max_wind_kn", boat->work.max_wind_mps, DOUBTS_WORK_WIND_KN},
    };
    for (size_t i = 0; i < sizeof limits / sizeof *limits; i++) {
        double limit_kn = mps_to_kn(limits[i].limit_mps);
        if (limit_kn < limits[i].odd_kn)
            say(telling,
                arena_print(telling->arena,
                            "%s is %.4g kn, and the spar stays in above it; is "
                            "it in m/s? it would be %.0f kn",
                            limits[i].name, limit_kn, mps_to_kn(limit_kn)));
    }
}

/* --- the roll period ------------------------------------------------------ */

static void about_period(const struct telling *telling,
                         const struct boat *boat) {
    if (!boat->roll_period_s.known)
        return;
    double given_s = boat->roll_period_s.value;
    double beam_s = roll_period_from_beam_s(boat->beam_m);
    const char *likely = NULL;
    if (given_s < DOUBTS_PERIOD_SHORT_FRAC * beam_s)
        likely = "was it timed from one side to the other only? it is there "
                 "and back";
    else if (given_s > DOUBTS_PERIOD_LONG_FRAC * beam_s)
        likely = "was it timed over several rolls? divide by their number";
    if (likely)
        say(telling, arena_print(telling->arena,
                                 "[boat] roll_period_s is %.3g s, where the "
                                 "beam lets expect %.1f s; %s",
                                 given_s, beam_s, likely));
}

void doubts_tell(const struct boat *boat,
                 void (*tell)(void *context, const char *text), void *context,
                 struct arena *arena) {
    const struct telling telling = {tell, context, arena};
    about_spar(&telling, boat);
    about_polar(&telling, boat, &boat->stowed, "stowed");
    about_polar(&telling, boat, &boat->spar_out, "out");
    about_limits(&telling, boat);
    about_period(&telling, boat);
}
