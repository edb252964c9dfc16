#include "plan/darkness.h"

#include "earth/angle.h"
#include "earth/sun.h"

/* Nobody asks for less. */
static const double SHARP_S = 0.5;

/* On the way along a step, which is short: places between its ends are found
 * by proportion. */
static bool is_dark(struct instant depart, const struct sail_step *step,
                    double after_s) {
    double part = step->seconds > 0.0 ? after_s / step->seconds : 0.0;
    double east_deg = angle_turn(step->from.lon_deg, step->to.lon_deg);
    struct position at = {
        step->from.lat_deg + part * (step->to.lat_deg - step->from.lat_deg),
        angle_wrap_longitude(step->from.lon_deg + part * east_deg)};
    double unix_s = (double)depart.unix_s + step->start_s + after_s;
    return sun_light(sun_at(unix_s), at) == LIGHT_NIGHT;
}

double darkness_s(struct instant depart, const struct sail_step *step) {
    bool before = is_dark(depart, step, 0.0);
    double low_s = 0.0, high_s = step->seconds;
    if (is_dark(depart, step, high_s) == before)
        return before ? step->seconds : 0.0;
    while (high_s - low_s > SHARP_S) {
        double middle_s = 0.5 * (low_s + high_s);
        if (is_dark(depart, step, middle_s) == before)
            low_s = middle_s;
        else
            high_s = middle_s;
    }
    double turn_s = 0.5 * (low_s + high_s);
    return before ? turn_s : step->seconds - turn_s;
}
