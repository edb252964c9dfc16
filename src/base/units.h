/* Units at the edges. Inside the program all is SI and degrees; knots and
 * nautical miles live only in polar files, boat files, commands and reports. */
#ifndef BASE_UNITS_H
#define BASE_UNITS_H

#define METRES_PER_NMI 1852.0 /* exact, by definition of the nautical mile */
#define SECONDS_PER_HOUR 3600.0
#define SECONDS_PER_MINUTE 60.0

static inline double kn_to_mps(double speed_kn) {
    return speed_kn * (METRES_PER_NMI / SECONDS_PER_HOUR);
}

static inline double mps_to_kn(double speed_mps) {
    return speed_mps * (SECONDS_PER_HOUR / METRES_PER_NMI);
}

static inline double nmi_to_m(double distance_nmi) {
    return distance_nmi * METRES_PER_NMI;
}

static inline double m_to_nmi(double distance_m) {
    return distance_m / METRES_PER_NMI;
}

static inline double hours_to_s(double hours) {
    return hours * SECONDS_PER_HOUR;
}

static inline double s_to_hours(double seconds) {
    return seconds / SECONDS_PER_HOUR;
}

static inline double minutes_to_s(double minutes) {
    return minutes * SECONDS_PER_MINUTE;
}

#endif
