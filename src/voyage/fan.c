#include "voyage/fan.h"

#include "boat/apparent.h"

#include <math.h>

static double *sample_polar(const struct fan *fan, const struct polar *polar,
                            struct arena *arena) {
    double *table =
        arena_alloc(arena, (size_t)fan->angles * polar->winds, sizeof *table);
    for (int i = 0; i < fan->angles; i++) {
        double twa_deg = i * fan->step_deg;
        bool sails = twa_deg >= polar->angle_deg[0] + FAN_SHIFT_DEG;
        for (size_t j = 0; j < polar->winds; j++)
            table[(size_t)i * polar->winds + j] =
                sails ? polar_speed(polar, twa_deg, polar->wind_mps[j]) : 0.0;
    }
    return table;
}

/* AWA is never wider than TWA: below this angle no spar may draw. */
static int find_first_fit(const struct fan *fan, const struct boat *boat) {
    double wing_deg, reach_deg, high_deg;
    voyage_spar_range(boat, MODE_WING, &wing_deg, &high_deg);
    voyage_spar_range(boat, MODE_POLED_REACH, &reach_deg, &high_deg);
    double least_deg =
        fmax(fmin(wing_deg, reach_deg), boat->spar_out.angle_deg[0]);
    return (int)ceil(fmin(fmax(least_deg, 0.0), 180.0) / fan->step_deg - 1e-9);
}

void fan_init(struct fan *fan, const struct voyage *voyage, double step_deg,
              struct arena *arena) {
    *fan = (struct fan){.voyage = voyage};
    int steps = (int)lround(180.0 / step_deg);
    fan->angles = 1 + (int)fmin(fmax(steps, 1.0), FAN_ANGLES - 1.0);
    fan->step_deg = 180.0 / (fan->angles - 1);
    fan->first_fit = find_first_fit(fan, voyage->boat);
    fan->stowed = sample_polar(fan, &voyage->boat->stowed, arena);
    fan->spar_out = sample_polar(fan, &voyage->boat->spar_out, arena);
    for (int i = 0; i < fan->angles; i++)
        sincos_deg(i * fan->step_deg, &fan->sine[i], &fan->cosine[i]);
}

/* The wind columns of a polar round a wind, and their weights. */
struct columns {
    size_t at, next;
    double weight, next_weight;
};

static struct columns find_columns(const struct polar *polar, double tws_mps,
                                   double factor) {
    const double *wind = polar->wind_mps;
    size_t last = polar->winds - 1, at = 0;
    if (tws_mps < wind[0])
        return (struct columns){0, 0, factor * tws_mps / wind[0], 0.0};
    while (at < last && wind[at + 1] <= tws_mps)
        at++;
    if (at == last)
        return (struct columns){last, last, factor, 0.0};
    double part = (tws_mps - wind[at]) / (wind[at + 1] - wind[at]);
    return (struct columns){at, at + 1, factor * (1.0 - part), factor * part};
}

static void fill_speeds(const struct fan *fan, const struct polar *polar,
                        const double *table, struct columns columns,
                        double *speed_mps) {
    for (int i = 0; i < fan->angles; i++) {
        const double *row = table + (size_t)i * polar->winds;
        speed_mps[i] = columns.weight * row[columns.at] +
                       columns.next_weight * row[columns.next];
    }
}

/* What she makes where she would sail so fast. */
static double or_engine(const struct fan_here *here, double sailing_mps) {
    return voyage_motors(here->conditions, sailing_mps)
               ? here->fan->voyage->motoring.speed_mps
               : sailing_mps;
}

static void feel_wind(struct fan_here *here) {
    const struct spar *spar = &here->fan->voyage->boat->spar;
    double tws_mps = here->conditions->tws_mps;
    double gust_mps = voyage_gust_mps(here->conditions, tws_mps);
    here->wing_allowed = spar_allows_wind(spar, true, tws_mps) &&
                         gust_mps <= spar->wing_max_gust_mps;
    here->reach_allowed = spar_allows_wind(spar, false, tws_mps) &&
                          gust_mps <= spar->reach_max_gust_mps;
    if (!here->wing_allowed && !here->reach_allowed)
        return;
    for (int i = here->fan->first_fit; i < here->fan->angles; i++)
        here->awa_deg[i] = apparent_wind(i * here->fan->step_deg, tws_mps,
                                         or_engine(here, here->spar_mps[i]))
                               .awa_deg;
}

void fan_look(const struct fan *fan, const struct conditions *conditions,
              struct fan_here *here) {
    const struct voyage *voyage = fan->voyage;
    const struct boat *boat = voyage->boat;
    double factor = boat->factor;
    if (conditions->light == LIGHT_NIGHT)
        factor *= boat->night_factor;
    here->fan = fan;
    here->conditions = conditions;
    here->factor = factor;
    sincos_deg(conditions->twd_deg, &here->wind_sine, &here->wind_cosine);
    fill_speeds(fan, &boat->stowed, fan->stowed,
                find_columns(&boat->stowed, conditions->tws_mps, factor),
                here->stowed_mps);
    here->wing_allowed = here->reach_allowed = false;
    if (!voyage->spar_allowed)
        return;
    fill_speeds(fan, &boat->spar_out, fan->spar_out,
                find_columns(&boat->spar_out, conditions->tws_mps, factor),
                here->spar_mps);
    feel_wind(here);
}

struct fan_heading fan_heading_at(const struct fan_here *here, int angle,
                                  bool wind_starboard) {
    const struct fan *fan = here->fan;
    double sine = wind_starboard ? fan->sine[angle] : -fan->sine[angle];
    double cosine = fan->cosine[angle];
    double twa_deg = angle * fan->step_deg;
    if (!wind_starboard)
        twa_deg = -twa_deg;
    return (struct fan_heading){
        .twa_deg = twa_deg,
        .heading_deg = here->conditions->twd_deg - twa_deg,
        .unit = {here->wind_sine * cosine - here->wind_cosine * sine,
                 here->wind_cosine * cosine + here->wind_sine * sine},
        .angle = angle};
}

struct fan_heading fan_heading_of(const struct fan_here *here,
                                  double heading_deg) {
    const struct fan *fan = here->fan;
    struct fan_heading heading = {
        .heading_deg = heading_deg,
        .twa_deg = angle_turn(heading_deg, here->conditions->twd_deg)};
    sincos_deg(heading_deg, &heading.unit.east, &heading.unit.north);
    double place = fabs(heading.twa_deg) / fan->step_deg;
    heading.angle = (int)fmin(place, fan->angles - 2.0);
    heading.part = place - heading.angle;
    return heading;
}

/* Off the fan's own angles by the polar itself. */
static double polar_of(const struct fan_here *here,
                       const struct fan_heading *heading, bool drawing) {
    const struct boat *boat = here->fan->voyage->boat;
    if (heading->part <= 0.0)
        return drawing ? here->spar_mps[heading->angle]
                       : here->stowed_mps[heading->angle];
    return here->factor * polar_speed(drawing ? &boat->spar_out : &boat->stowed,
                                      heading->twa_deg,
                                      here->conditions->tws_mps);
}

double fan_top_mps(const struct fan_here *here,
                   const struct fan_heading *heading) {
    double stowed_mps = or_engine(here, polar_of(here, heading, false));
    if (!here->fan->voyage->spar_allowed)
        return stowed_mps;
    return fmax(stowed_mps, or_engine(here, polar_of(here, heading, true)));
}

/* |AWA| with the spar drawing. */
static double awa_of(const struct fan_here *here,
                     const struct fan_heading *heading) {
    if (heading->part <= 0.0)
        return here->awa_deg[heading->angle];
    return fabs(apparent_wind(heading->twa_deg, here->conditions->tws_mps,
                              or_engine(here, polar_of(here, heading, true)))
                    .awa_deg);
}

double fan_slack_deg(const struct fan_here *here,
                     const struct fan_heading *heading, struct deck deck) {
    const struct boat *boat = here->fan->voyage->boat;
    double twa_deg = fabs(heading->twa_deg);
    enum sail_mode mode = deck_mode(deck);
    bool allowed = mode == MODE_WING ? here->wing_allowed : here->reach_allowed;
    bool own = heading->part <= 0.0;
    if (!allowed || twa_deg < boat->spar_out.angle_deg[0] ||
        (own && heading->angle < here->fan->first_fit))
        return -180.0;
    double low_deg, high_deg, awa_deg = awa_of(here, heading);
    voyage_spar_range(boat, mode, &low_deg, &high_deg);
    if (high_deg >= 180.0)
        return awa_deg - low_deg;
    return fmin(awa_deg - low_deg, high_deg - awa_deg);
}

static double sailing_mps(const struct fan_here *here,
                          const struct fan_heading *heading, struct deck deck,
                          bool working) {
    const struct spar *spar = &here->fan->voyage->boat->spar;
    if (!working && deck_is_drawing(deck))
        return polar_of(here, heading, true);
    double mps = polar_of(here, heading, false);
    return working || deck.spar == SPAR_STOWED ? mps
                                               : spar->rolled_speed_frac * mps;
}

double fan_speed(const struct fan_here *here, const struct fan_heading *heading,
                 struct deck deck, bool working) {
    double mps = or_engine(here, sailing_mps(here, heading, deck, working));
    return working ? here->fan->voyage->boat->spar.work_speed_frac * mps : mps;
}

bool fan_motors(const struct fan_here *here, const struct fan_heading *heading,
                struct deck deck) {
    return voyage_motors(here->conditions,
                         sailing_mps(here, heading, deck, false));
}

double fan_roll_deg(const struct fan_here *here,
                    const struct fan_heading *heading, struct deck deck,
                    double speed_mps) {
    const struct conditions *conditions = here->conditions;
    double tws_mps = conditions->tws_mps;
    /* the cosine of TWA: heading against where the wind comes from */
    double ahead_mps = tws_mps * (heading->unit.east * here->wind_sine +
                                  heading->unit.north * here->wind_cosine);
    double aws2 = tws_mps * tws_mps + speed_mps * (speed_mps + 2.0 * ahead_mps);
    struct roll_course course = {.speed_mps = speed_mps,
                                 .twa_deg = heading->twa_deg,
                                 .aws_mps = sqrt(fmax(aws2, 0.0)),
                                 .spar_drawing = deck_is_drawing(deck)};
    return roll_rms_heading_deg(&here->fan->voyage->boat->roller,
                                &conditions->roll_sea, &course,
                                heading->unit.east, heading->unit.north);
}
