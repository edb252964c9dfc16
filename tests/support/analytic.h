/* Winds, seas and currents by formula, for voyages without any file. */
#ifndef TESTS_ANALYTIC_H
#define TESTS_ANALYTIC_H

#include "boat/boat.h"
#include "voyage/voyage.h"

/* One piece of weather. The wind turns and rises steadily with time, and
 * differs from north to south; zeros leave that out. */
struct analytic {
    double wind_from_deg, wind_mps;
    double veer_deg_per_day; /* + clockwise */
    double rise_mps_per_day;
    double veer_deg_per_lat_deg; /* by latitude north of `lat_deg` */
    double rise_mps_per_lat_deg; /* likewise */
    double lat_deg;
    struct vector_mps current;
    /* One that differs from place to place, in its stead; nowhere stronger
     * than `max_current_mps`. NULL: none. */
    struct vector_mps (*current_at)(const void *flow, struct position position,
                                    double t_s);
    const void *flow;
    double max_current_mps;
    double wave_m, wave_period_s; /* a wind sea from the wind; 0: none known */
    struct wave_system swell;
    struct figure gust_frac;            /* of the mean wind; unknown: no gust */
    double night_from_s, night_every_s; /* night: from_s to every_s, again;
                                           dusk comes before it */
    double horizon_s;                   /* end of the forecast; 0: none */
    /* An area without wind outside; all zero: everywhere. */
    double south_deg, north_deg, west_deg, east_deg;
};

/* For struct voyage's `conditions`, with a struct analytic as context. */
enum obstacle analytic_conditions(const void *weather, struct position position,
                                  double t_s, struct conditions *conditions);

/* The boat of polars/NAME.ini, read once; ends the test where it can't be.
 * `name`: a literal. */
const struct boat *analytic_boat(const char *name);

/* A copy of it, to change. */
struct boat *analytic_boat_copy(const char *name);

/* A polar by formula, the same in every wind above 0.1 m/s: a row for every
 * degree from `first_deg` to 180. Lives to the end of the program. */
struct polar analytic_polar(double (*speed_mps)(double twa_deg),
                            double first_deg);

/* Makes the speed grow with the wind from nothing up to what it is in the
 * polar's last wind, 100 m/s. */
void analytic_in_proportion(struct polar *polar);

/* Limits of spar and deck work so wide that no weather reaches them. */
void analytic_widen_limits(struct boat *boat);

/* All changes in no time. */
void analytic_free_changes(struct boat *boat);

/* A boat with both polars by that formula, all changes in no time. */
struct boat *analytic_free_boat(double (*speed_mps)(double twa_deg));

/* A voyage with that boat, ease 0, no limits, towards `finish`. */
struct voyage analytic_voyage(const struct boat *boat,
                              const struct analytic *weather,
                              struct position finish);

#endif
