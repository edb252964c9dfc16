/* The wind that is felt on deck: true wind over the water plus the boat's own
 * speed. Leeway is not modelled. */
#ifndef BOAT_APPARENT_H
#define BOAT_APPARENT_H

struct apparent {
    double awa_deg; /* (-180, 180], + on the starboard side; 0 in no wind */
    double aws_mps;
};

/* `twa_deg` and `tws_mps` over the water, `boat_mps` through it. */
struct apparent apparent_wind(double twa_deg, double tws_mps, double boat_mps);

/* Its speed alone, without the cost of the angle. */
double apparent_speed(double twa_deg, double tws_mps, double boat_mps);

#endif
