/* The World Magnetic Model 2025 of NOAA's National Centers for Environmental
 * Information and the British Geological Survey: public domain. The figures
 * are those of the file wmm-2025.json of the package geomagnetism 0.2.0. */
#ifndef EARTH_WMM2025_H
#define EARTH_WMM2025_H

#define WMM2025_EPOCH 2025.0 /* decimal year; the model holds for five */
#define WMM2025_END 2030.0
#define WMM2025_RADIUS_M 6371200.0 /* to which the terms belong */

enum { WMM2025_DEGREE = 12, WMM2025_TERMS = 90 };

/* One term of the potential, Schmidt semi-normalised: degree and order, nT at
 * the epoch, and their change in nT a year. */
struct wmm_term {
    int degree, order;
    double g_nt, h_nt, g_change_nt, h_change_nt;
};

/* By degree, then by order: 1 0, 1 1, 2 0, ... 12 12. */
extern const struct wmm_term wmm2025_terms[WMM2025_TERMS];

#endif
