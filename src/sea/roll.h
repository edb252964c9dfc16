/* How much the hull rolls: RMS roll angle from the wave systems and from the
 * sails. One damped oscillator per wave system at its encounter frequency,
 * driven by the effective wave slope abeam of the boat (short-crested seas:
 * part of it is abeam on every course); the systems and the sails' own part
 * add in squares.
 *
 * The sails: on a reach they damp. Dead before the wind they stop damping and
 * feed the roll, most with the headsail blanketed and loose, less with the
 * spar holding it out (common practice, no source). Without that part wave
 * slope alone would make the dead run the gentlest course. */
#ifndef SEA_ROLL_H
#define SEA_ROLL_H

#include "sea/wave.h"

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
};

/* Apparent wind at which the sails have their full effect on the roll; it
 * grows in proportion up to there, and not beyond, since the crew reefs. */
#define ROLL_FULL_WIND_MPS 10.0

/* Hull and sails together never damp less than this. */
#define ROLL_DAMPING_FLOOR 0.02

/* No figure of ours reaches this: a hull damps more the more it rolls, and a
 * linear oscillator does not know it. Below 6 degrees it takes 1 % off. */
#define ROLL_CEILING_DEG 45.0

/* Sails' part of damping when the boat file does not give it: the reach about
 * doubles the damping of a bare hull; a loose headsail on the run takes half
 * of the bare hull's away; held out by the spar it hardly does either. Chosen
 * so that a 12 m boat on a dead run in 20 kn, in the wind's own sea, rolls 5 to
 * 6 degrees RMS with the spar stowed and 3 to 4 with it out (common practice,
 * no source). */
#define ROLL_SAIL_REACH 0.12
#define ROLL_SAIL_RUN_LOOSE (-0.04)
#define ROLL_SAIL_RUN_SPAR 0.01

/* What the boat is doing while she rolls. */
struct roll_course {
    double heading_deg; /* true */
    double speed_mps;   /* through the water */
    double twa_deg;     /* (-180, 180] */
    double aws_mps;     /* apparent wind speed */
    bool spar_drawing;  /* a spar holds the headsail out */
};

/* RMS roll in degrees, >= 0, finite, below ROLL_CEILING_DEG. No known system
 * and no wind: 0; whether that may be believed is the caller's affair. */
double roll_rms_deg(const struct roller *roller, const struct sea *sea,
                    const struct roll_course *course);

/* The same in two halves, for many courses in one sea: what does not depend on
 * the course is worked out once. roll_rms_deg() is one after the other. */
struct roll_sea {
    int count;
    struct roll_wave {
        double frequency_rad_s, number_rad_m;
        double slope_rad2; /* RMS slope that the hull feels, squared */
        double spread;
        double towards_sine, towards_cosine;
    } wave[SEA_SYSTEMS];
};

struct roll_sea roll_sea_of(const struct roller *roller, const struct sea *sea);
double roll_rms_in_sea_deg(const struct roller *roller,
                           const struct roll_sea *sea,
                           const struct roll_course *course);
/* For a heading whose sine and cosine are known; course->heading_deg does not
 * count. */
double roll_rms_heading_deg(const struct roller *roller,
                            const struct roll_sea *sea,
                            const struct roll_course *course, double sine,
                            double cosine);

/* Hull and sails together, fraction of critical, >= ROLL_DAMPING_FLOOR. */
double roll_damping(const struct roller *roller,
                    const struct roll_course *course);

/* Natural period from the metacentric height: T = 2 C B / sqrt(GM),
 * C = 0.373 + 0.023 B/d - 0.043 L/100 (IMO 2008 IS Code, MSC.267(85), Part A
 * 2.3; made for ships, B/d < 3.5: an estimate for a yacht). All > 0. */
double roll_period_from_gm_s(double beam_m, double draft_m, double length_m,
                             double gm_m);

/* Natural period from the beam alone: beam(ft)/3.3 * 0.95 for a sailing yacht
 * (Seamanship Secrets, citing Vigor). */
double roll_period_from_beam_s(double beam_m);

#endif
