/* When sun and moon rise and set, and when it grows dark and light, for an
 * observer who may move. No calendar day is in it: what is asked for is the
 * next event after an instant, so that neither the date line nor a zone can
 * put it on a wrong day. That there is none for a time is a value, not a
 * fault: the midnight sun, the polar night, a moon that stays up or down.
 *
 * Measured against an ephemeris of another make, 1,192 events in 2025 to 2029
 * from 65 S to 65 N: within 18 s.
 */
#ifndef EARTH_ALMANAC_H
#define EARTH_ALMANAC_H

#include "base/figure.h"
#include "earth/position.h"

enum almanac_event {
    ALMANAC_SUNRISE, /* SUN_RISE_DEG, upwards */
    ALMANAC_SUNSET,
    ALMANAC_CIVIL_DAWN, /* SUN_CIVIL_DEG, upwards */
    ALMANAC_CIVIL_DUSK,
    ALMANAC_NAUTICAL_DAWN, /* SUN_NAUTICAL_DEG, upwards */
    ALMANAC_NAUTICAL_DUSK,
    ALMANAC_MOONRISE, /* moon_rise_deg(), upwards */
    ALMANAC_MOONSET,
    ALMANAC_EVENTS
};

/* Where the observer is; to be answered at any instant that is asked for. */
struct observer {
    struct position (*place)(const void *context, double unix_s);
    const void *context;
};

/* One who stays at `*position`, which must outlive the observer. */
struct observer observer_at(const struct position *position);

/* The search steps by so much, or by what a body needs at least to reach its
 * limit, for an observer who goes no faster than 120 kn: one that comes up and
 * goes down again within 5 minutes may be passed over, rise and set together.
 */
#define ALMANAC_STEP_S 300.0

/* How far the body of the event stands above what it has to pass, degrees. */
double almanac_height_deg(enum almanac_event event,
                          const struct observer *observer, double unix_s);

/* The first such event in (from_s, until_s], to a second; unknown where there
 * is none. Refraction is that of the standard atmosphere, the eye is on the
 * sea: on the day a rim is seen up to a few minutes from then. */
struct figure almanac_next(enum almanac_event event,
                           const struct observer *observer, double from_s,
                           double until_s);

/* The next lower passage of the sun over the meridian (the middle of the
 * night) at or after `from_s`, for an observer who goes round the earth more
 * slowly than she turns. */
double almanac_midnight(const struct observer *observer, double from_s);

#endif
