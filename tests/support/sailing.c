#include "sailing.h"

#include "analytic.h"
#include "check.h"
#include "voyage/cost.h"

#include <math.h>

const struct position start = {20.0, -40.0};
const struct position far_away = {-50.0, 100.0};

static double three_mps(double twa_deg) {
    (void)twa_deg;
    return 3.0;
}

static double five_mps(double twa_deg) {
    (void)twa_deg;
    return 5.0;
}

struct boat *plain_boat(void) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->stowed = analytic_polar(three_mps, 0.0);
    boat->spar_out = analytic_polar(five_mps, 0.0);
    analytic_widen_limits(boat);
    boat->spar.set_s = 1200.0;
    boat->spar.gybe_s = 1800.0;
    boat->spar.stow_s = 900.0;
    boat->spar.roll_s = 180.0;
    boat->spar.work_speed_frac = 0.7;
    boat->spar.rolled_speed_frac = 0.6;
    boat->spar.night_factor = 1.5;
    boat->handling.mainsail_gybe_s = 480.0;
    boat->handling.tack_s = 300.0;
    boat->work.day_hardship_s = 1800.0;
    boat->work.night_hardship_s = 7200.0;
    return boat;
}

static void note_step(void *context, const struct sail_step *step) {
    struct log *log = context;
    const struct comfort *comfort = &log->voyage->boat->comfort;
    log->steps++;
    log->step_s += step->seconds;
    log->step_m += step->distance_m;
    log->longest_s = fmax(log->longest_s, step->seconds);
    log->discomfort_s +=
        step->seconds * cost_discomfort(step->roll_deg, comfort->easy_roll_deg,
                                        comfort->working_roll_deg);
    if (step->motion->spar_unfit)
        log->unfit_s += step->seconds;
}

static void note_change(void *context, const struct sail_change *change) {
    struct log *log = context;
    assert_true(log->count < LOG_SIZE);
    log->awa_deg[log->count] = voyage_awa_deg(change->motion);
    log->gust_mps[log->count] =
        voyage_gust_mps(change->conditions, change->conditions->tws_mps);
    log->light[log->count] = change->conditions->light;
    log->changes[log->count++] = *change;
    log->change_s += change->seconds;
}

struct sail_observer watch(struct log *log, const struct voyage *voyage) {
    *log = (struct log){.voyage = voyage};
    return (struct sail_observer){
        .step = note_step, .change = note_change, .context = log};
}
