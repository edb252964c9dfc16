#include "boat/apparent.h"

#include "earth/angle.h"
#include <math.h>

struct apparent apparent_wind(double twa_deg, double tws_mps, double boat_mps) {
    double sine, cosine;
    sincos_deg(twa_deg, &sine, &cosine);
    double ahead = tws_mps * cosine + boat_mps;
    double abeam = tws_mps * sine;
    double awa_deg = atan2(abeam, ahead) / RADIANS_PER_DEGREE;
    if (awa_deg <= -180.0)
        awa_deg = 180.0; /* from exactly astern, abeam is minus zero */
    return (struct apparent){.awa_deg = awa_deg,
                             .aws_mps = sqrt(ahead * ahead + abeam * abeam)};
}

double apparent_speed(double twa_deg, double tws_mps, double boat_mps) {
    double sine, cosine;
    sincos_deg(twa_deg, &sine, &cosine);
    double ahead = tws_mps * cosine + boat_mps;
    double abeam = tws_mps * sine;
    return sqrt(ahead * ahead + abeam * abeam);
}
