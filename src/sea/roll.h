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
    double period_s;       /* natural roll period */
    bool period_estimated; /* from GM or beam, not measured */
    double damping;        /* of the hull, fraction of critical */
    double sail_reach;     /* added to damping by the sails on a reach */
    double sail_run_loose; /* added dead before the wind, headsail loose
                              (negative: feeds the roll) */
    double sail_run_spar;  /* the same with the spar holding it out */
};

/* What the boat is doing while she rolls. */
struct roll_course {
    double heading_deg; /* true */
    double speed_mps;   /* through the water */
    double twa_deg;     /* (-180, 180] */
    double aws_mps;     /* apparent wind speed */
    bool spar_drawing;  /* a spar holds the headsail out */
};

/* RMS roll in degrees, >= 0, finite. */
double roll_rms_deg(const struct roller *roller, const struct sea *sea,
                    const struct roll_course *course);

/* Natural period from the metacentric height: T = 2 C B / sqrt(GM),
 * C = 0.373 + 0.023 B/d - 0.043 L/100 (IMO 2008 IS Code, MSC.267(85), Part A
 * 2.3; made for ships, B/d < 3.5: an estimate for a yacht). */
double roll_period_from_gm_s(double beam_m, double draft_m, double length_m,
                             double gm_m);

/* Natural period from the beam alone: beam(ft)/3.3 * 0.95 for a sailing yacht
 * (Seamanship Secrets, citing Vigor). */
double roll_period_from_beam_s(double beam_m);

#endif
