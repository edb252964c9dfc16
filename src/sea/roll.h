/* How much the hull rolls: RMS roll angle from the wave systems and from the
 * sails. Each system is a spectrum over frequency and direction; every wave of
 * it tilts the water under the hull, at the frequency at which she meets it,
 * and the hull answers as a damped oscillator:
 *
 *   variance = integral S(w) D(a) k^2 h(k)^2 sin^2(b) |H(we)|^2 dw da
 *   we = w - w^2 U cos(b) / g,   k = w^2 / g
 *   |H|^2 = 1 / ((1 - r^2)^2 + (2 damping r)^2),   r = we / (2 pi / period)
 *
 * with b between the heading and where that wave travels to (0: it follows),
 * so that a sea from astern, whose waves are met anywhere between fast and not
 * at all, is no special case. h(k): what of a wave's slope the hull feels. The
 * systems and the sails' own part add in variance. docs/method.md derives it
 * and says where it does not hold: it is linear, knows no yaw and no broaching.
 *
 * The sails: on a reach they damp. Dead before the wind they stop damping and
 * feed the roll, most with the headsail blanketed and loose, less with the
 * spar holding it out (common practice, no source). Without that part wave
 * slope alone would make the dead run the gentlest course. */
#ifndef SEA_ROLL_H
#define SEA_ROLL_H

#include "sea/spectrum.h"
#include "sea/wave.h"

struct roll_table; /* sea/roll_table.h */

struct roller {
    double length_m, beam_m, draft_m;
    double period_s;       /* natural roll period, > 0 */
    bool period_estimated; /* from GM or beam, not measured */
    double damping;        /* of the hull, fraction of critical */
    double sail_reach;     /* added to damping by the sails on a reach, in an
                              apparent wind of ROLL_FULL_WIND_MPS */
    double sail_run_loose; /* the same dead before the wind, headsail loose
                              (negative: feeds the roll) */
    double sail_run_spar;  /* the same with the spar holding it out */
    const struct roll_table *table; /* made of the above, for many courses; NULL
                                       where there is none */
};

/* Apparent wind at which the sails have their full effect on the roll; it
 * grows in proportion up to there, and not beyond, since the crew reefs. */
#define ROLL_FULL_WIND_MPS 10.0

/* Hull and sails together never damp less than this: below it the swing would
 * no longer be small, which is all that a linear model knows. */
#define ROLL_DAMPING_FLOOR 0.03

/* No figure of ours reaches this: a hull damps more the more it rolls, and a
 * linear oscillator does not know it. Below 6 degrees it takes 1 % off. */
#define ROLL_CEILING_DEG 45.0

/* Sails' part of damping when the boat file does not give it: the reach adds
 * three times the damping of a bare hull; a loose headsail on the run takes
 * more than half of the bare hull's away; held out by the spar, with the
 * mainsail on the other side, it damps a little. Together with the sails' drive
 * (in roll.c) chosen so that
 *   - a 12 m boat on a dead run in 20 kn, in the wind's own sea, rolls 5 to 6
 *     degrees RMS with the spar stowed and about 3 with it out,
 *   - at every wind she rolls more on a dead run with the spar stowed than with
 *     it out, and more than on a poled reach at 140; in 10 kn and more also
 *     more than on any reach without the spar
 * (common practice, no source). */
#define ROLL_SAIL_REACH 0.25
#define ROLL_SAIL_RUN_LOOSE (-0.05)
#define ROLL_SAIL_RUN_SPAR 0.03

/* What the boat is doing while she rolls. */
struct roll_course {
    double heading_deg; /* true */
    double speed_mps;   /* through the water */
    double twa_deg;     /* (-180, 180] */
    double aws_mps;     /* apparent wind speed */
    bool spar_drawing;  /* a spar holds the headsail out */
};

/* RMS roll in degrees by the integral, >= 0, finite, below ROLL_CEILING_DEG;
 * some 0.2 ms for each system. The first system is a wind sea, the others are
 * swell. No known system and no wind: 0; whether that may be believed is the
 * caller's affair. For many courses: sea/roll_table.h. */
double roll_rms_deg(const struct roller *roller, const struct sea *sea,
                    const struct roll_course *course);

/* --- parts of the model ------------------------------------------------------
 */

/* Waves shorter than ROLL_NO_WAVE_S do not reach down the keel of any yacht and
 * are left out; from there to ROLL_SHORTEST_S they count as of ROLL_SHORTEST_S,
 * which errs towards more roll. */
#define ROLL_NO_WAVE_S 1.0
#define ROLL_SHORTEST_S 2.0

/* How the hull meets a system. */
struct roll_meeting {
    double speed_mps; /* through the water, >= 0 */
    double cosine;    /* of the angle between the heading and where the system
                         travels to: 1 following, -1 head sea */
    double damping;   /* roll_damping() */
};

/* Variance of the roll by one system, rad^2, the integral above. */
double roll_variance_rad2(const struct roller *roller,
                          const struct spectrum *spectrum,
                          const struct roll_meeting *meeting);

/* The spectrum of a system as the hull meets it: in a period no shorter than
 * ROLL_SHORTEST_S, no higher than a sea can stand. The height that it is given
 * for, or 0 where the system does not roll her: unknown, without height or
 * period, or shorter than ROLL_NO_WAVE_S. */
double roll_height_m(const struct wave_system *system);
double roll_period_s(const struct wave_system *system);

/* h(k)^2: orbital motion dies away with depth, and waves not much longer than
 * the beam even out across it. */
double roll_hull_factor2(const struct roller *roller, double wave_number);

/* The sails' own drive, rad^2. */
double roll_drive_rad2(const struct roll_course *course, double damping);

/* RMS degrees of a variance, held below ROLL_CEILING_DEG. */
double roll_limited_deg(double variance_rad2);

/* Hull and sails together, fraction of critical, >= ROLL_DAMPING_FLOOR. */
double roll_damping(const struct roller *roller,
                    const struct roll_course *course);

/* Natural period from the metacentric height: T = 2 C B / sqrt(GM),
 * C = 0.373 + 0.023 B/d - 0.043 L/100 (IMO 2008 IS Code, MSC.267(85), Part A
 * 2.3). All > 0. */
double roll_period_from_gm_s(double beam_m, double draft_m, double length_m,
                             double gm_m);

/* The Code's formula is for ships of 24 m and over (from memory), with
 * B/d < 3.5 and T < 20 s: most yachts are outside, and the period is an
 * estimate. */
#define ROLL_CODE_BEAM_TO_DRAFT 3.5
bool roll_period_in_code(double beam_m, double draft_m, double length_m,
                         double period_s);

/* Natural period from the beam alone: beam(ft)/3.3 * 0.95 for a sailing yacht
 * (Seamanship Secrets, citing Vigor). */
double roll_period_from_beam_s(double beam_m);

#endif
