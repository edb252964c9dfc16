#include "plan/sky_seen.h"

#include "earth/moon.h"

struct plan_sky sky_seen(struct instant at, struct position position) {
    struct sun sun = sun_at((double)at.unix_s);
    struct moon moon = moon_at((double)at.unix_s);
    double moon_deg = moon_altitude_deg(moon, position);
    return (struct plan_sky){.sun_deg = sun_altitude_deg(sun, position),
                             .moon_deg = moon_deg,
                             .moon_lit_frac = moon_lit_frac(moon, sun),
                             .moon_up = moon_deg > moon_rise_deg(moon)};
}
