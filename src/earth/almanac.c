#include "earth/almanac.h"

#include "earth/angle.h"
#include "earth/moon.h"
#include "earth/sun.h"

#include <assert.h>
#include <math.h>

struct kind {
    bool moon, rises;
    double limit_deg; /* of the sun */
};

static const struct kind kinds[ALMANAC_EVENTS] = {
    [ALMANAC_SUNRISE] = {false, true, SUN_RISE_DEG},
    [ALMANAC_SUNSET] = {false, false, SUN_RISE_DEG},
    [ALMANAC_CIVIL_DAWN] = {false, true, SUN_CIVIL_DEG},
    [ALMANAC_CIVIL_DUSK] = {false, false, SUN_CIVIL_DEG},
    [ALMANAC_NAUTICAL_DAWN] = {false, true, SUN_NAUTICAL_DEG},
    [ALMANAC_NAUTICAL_DUSK] = {false, false, SUN_NAUTICAL_DEG},
    [ALMANAC_MOONRISE] = {true, true, 0.0},
    [ALMANAC_MOONSET] = {true, false, 0.0},
};

static struct position stays(const void *context, double unix_s) {
    (void)unix_s;
    return *(const struct position *)context;
}

struct observer observer_at(const struct position *position) {
    return (struct observer){stays, position};
}

double almanac_height_deg(enum almanac_event event,
                          const struct observer *observer, double unix_s) {
    assert(event < ALMANAC_EVENTS);
    struct position place = observer->place(observer->context, unix_s);
    if (!kinds[event].moon)
        return sun_altitude_deg(sun_at(unix_s), place) - kinds[event].limit_deg;
    struct moon moon = moon_at(unix_s);
    return moon_altitude_deg(moon, place) - moon_rise_deg(moon);
}

static bool is_past(enum almanac_event event, double height_deg) {
    return (height_deg > 0.0) == kinds[event].rises;
}

/* Between `before_s`, when it has not come, and `after_s`, when it has. */
static double halved(enum almanac_event event, const struct observer *observer,
                     double before_s, double after_s) {
    while (after_s - before_s > 1.0) {
        double middle_s = 0.5 * (before_s + after_s);
        if (is_past(event, almanac_height_deg(event, observer, middle_s)))
            after_s = middle_s;
        else
            before_s = middle_s;
    }
    return after_s;
}

/* No body climbs or sinks faster: the earth turns by 15 degrees in an hour, an
 * observer who goes 120 nmi against that adds 2. Far from the limit the search
 * may take long steps. */
static const double FASTEST_DEG_PER_S = 17.0 / 3600.0;

struct figure almanac_next(enum almanac_event event,
                           const struct observer *observer, double from_s,
                           double until_s) {
    double height_deg = almanac_height_deg(event, observer, from_s);
    double last_s = from_s;
    while (last_s < until_s) {
        bool past = is_past(event, height_deg);
        double step_s =
            fmax(ALMANAC_STEP_S, fabs(height_deg) / FASTEST_DEG_PER_S);
        double next_s = fmin(last_s + step_s, until_s);
        height_deg = almanac_height_deg(event, observer, next_s);
        if (is_past(event, height_deg) && !past)
            return figure_of(halved(event, observer, last_s, next_s));
        last_s = next_s;
    }
    return figure_unknown();
}

/* The sun goes round by so much. */
static const double DEGREES_PER_S = 360.0 / 86400.0;

static double hour_angle_deg(const struct observer *observer, double unix_s) {
    struct position place = observer->place(observer->context, unix_s);
    return sun_at(unix_s).greenwich_hour_angle_deg + place.lon_deg;
}

double almanac_midnight(const struct observer *observer, double from_s) {
    double to_go_deg = angle_wrap_360(180.0 - hour_angle_deg(observer, from_s));
    double at_s = from_s + to_go_deg / DEGREES_PER_S;
    for (int i = 0; i < 4; i++) {
        double off_deg = angle_wrap_180(180.0 - hour_angle_deg(observer, at_s));
        at_s += off_deg / DEGREES_PER_S;
    }
    return fmax(at_s, from_s);
}
