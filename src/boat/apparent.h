/* The wind that is felt on deck: true wind over the water plus the boat's own
 * speed. Leeway is not modelled. */
#ifndef BOAT_APPARENT_H
#define BOAT_APPARENT_H

struct apparent {
    double awa_deg; /* (-180, 180], + on the starboard side */
    double aws_mps;
};

struct apparent apparent_wind(double twa_deg, double tws_mps, double boat_mps);

#endif
