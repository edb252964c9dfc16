#include "plan_example.h"

#include "base/units.h"
#include "plan/sky_seen.h"

#include <string.h>

/* Friday 15 March 2024 05:00 UTC, `date -u -d @1710478800` */
#define DEPART_S 1710478800

static struct instant after_h(double hours) {
    return (struct instant){DEPART_S + (int64_t)(hours * 3600.0)};
}

static struct boat boat_made(void) {
    static struct reef reefs[] = {{1, 9.0}, {2, 12.0}};
    struct boat boat = {.name = "Bram & Ling", .reef_count = 2};
    boat.reefs = reefs;
    boat.spar = (struct spar){.wing_max_wind_mps = kn_to_mps(22.0),
                              .wing_awa_deg = {140.0, 180.0},
                              .reach_awa_deg = {100.0, 145.0},
                              .angle_margin_deg = 5.0,
                              .wing_max_gust_mps = kn_to_mps(28.0),
                              .reach_max_wind_mps = kn_to_mps(20.0),
                              .reach_max_gust_mps = kn_to_mps(25.0)};
    boat.work = (struct work_limits){.max_wind_mps = kn_to_mps(18.0),
                                     .max_gust_mps = kn_to_mps(22.0),
                                     .max_wave_m = 2.5,
                                     .max_roll_deg = 4.0,
                                     .stow_max_wind_mps = kn_to_mps(22.0),
                                     .stow_max_gust_mps = kn_to_mps(28.0)};
    boat.comfort = (struct comfort){2.5, 6.0};
    return boat;
}

struct leg_seed {
    double start_h, end_h;
    struct position from, to;
    double course_deg, heading_deg, distance_nmi;
    struct deck deck;
    double tws_kn, twd_deg, twa_deg, awa_deg, roll_deg;
    enum trust trust;
};

/* Times with odd minutes, to be seen rounded. */
static const struct leg_seed seeds[PLAN_EXAMPLE_LEGS] = {
    {0.0,
     4.12,
     {16.89, -25.01},
     {16.6, -25.35},
     228.1,
     231.4,
     26.1,
     {SPAR_STOWED, false, true},
     14.2,
     21.0,
     149.6,
     121.0,
     2.4,
     TRUST_GOOD},
    {4.12,
     30.07,
     {16.6, -25.35},
     {16.2, -28.2},
     261.6,
     262.3,
     165.9,
     {SPAR_STARBOARD, false, true},
     16.8,
     66.2,
     163.9,
     155.2,
     3.96,
     TRUST_GOOD},
    {30.07,
     61.4,
     {16.2, -28.2},
     {15.4, -31.6},
     256.4,
     256.0,
     202.0,
     {SPAR_PORT, false, false},
     15.9,
     95.0,
     -161.0,
     -151.7,
     3.1,
     TRUST_GOOD},
    {61.4,
     64.5,
     {15.4, -31.6},
     {15.3, -31.9},
     251.0,
     251.0,
     18.3,
     {SPAR_PORT, true, false},
     23.4,
     97.0,
     -154.0,
     -140.2,
     5.2,
     TRUST_FAIR},
    {64.5,
     104.0,
     {15.3, -31.9},
     {13.4, -36.2},
     245.6,
     245.5,
     275.2,
     {SPAR_PORT, false, true},
     12.3,
     10.0,
     124.5,
     101.4,
     2.0,
     TRUST_FAIR},
    {104.0,
     105.5,
     {13.4, -36.2},
     {13.3333333, -36.35},
     245.4,
     359.7,
     9.6,
     {SPAR_STOWED, false, true},
     11.6,
     8.0,
     122.6,
     98.0,
     1.2,
     TRUST_GUESS},
};

static struct plan_leg leg_made(const struct leg_seed *seed) {
    return (struct plan_leg){
        .start = after_h(seed->start_h),
        .end = after_h(seed->end_h),
        .from = seed->from,
        .to = seed->to,
        .course_deg = seed->course_deg,
        .heading_deg = seed->heading_deg,
        .distance_m = nmi_to_m(seed->distance_nmi),
        .deck = seed->deck,
        .mode = deck_mode(seed->deck),
        .tws_mps = kn_to_mps(seed->tws_kn),
        .twd_deg = seed->twd_deg,
        .twa_deg = seed->twa_deg,
        .aws_mps = kn_to_mps(11.04),
        .awa_deg = seed->awa_deg,
        .stw_mps = kn_to_mps(6.4),
        .sog_mps = kn_to_mps(6.6),
        .gust_mps = figure_of(kn_to_mps(21.4)),
        .wave_m = figure_of(2.04),
        .wave_period_s = figure_of(8.2),
        .wave_from_deg = figure_of(359.97),
        .roll_deg = seed->roll_deg,
        .night_s = 3.2 * 3600.0,
        .sky = sky_seen(after_h(seed->start_h), seed->from),
        .trust = seed->trust,
    };
}

static void make_legs(struct plan_example *example) {
    struct plan_leg *legs = example->legs;
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        legs[i] = leg_made(&seeds[i]);
    legs[0].current_known = true;
    legs[0].current_mps = kn_to_mps(0.4);
    legs[0].current_towards_deg = 270.0;
    legs[4].most_aws_mps = figure_of(kn_to_mps(16.6));
    legs[2].most_aws_mps = figure_of(kn_to_mps(16.2));
    legs[1].most_aws_mps = figure_of(kn_to_mps(14.4));
    legs[1].reefs = 1;
    legs[2].reefs = 2;
    legs[2].gust_mps = figure_unknown();
    legs[3].gust_mps = figure_of(kn_to_mps(32.8));
    legs[3].gust_estimated = true;
    legs[3].polar_beyond = true;
    legs[4].wave_m = legs[4].wave_period_s = legs[4].wave_from_deg =
        figure_unknown();
    legs[5].wave_m = figure_of(11.3);
    legs[5].wave_estimated = true;
    legs[5].beyond_forecast = legs[5].unchecked = true;
    legs[5].awa_deg = -179.97;
}

static struct plan_change change_made(const struct plan_example *example,
                                      size_t leg, enum change_kind kind,
                                      double minutes) {
    const struct plan_leg *next = &example->legs[leg];
    return (struct plan_change){
        .kind = kind,
        .deck_work =
            kind == CHANGE_SET || kind == CHANGE_GYBE || kind == CHANGE_STOW,
        .at = next->start,
        .position = next->from,
        .from = leg > 0 ? example->legs[leg - 1].deck : next->deck,
        .to = next->deck,
        .seconds = minutes * 60.0,
        .light = LIGHT_DAY,
        .sky = next->sky,
        .trust = next->trust,
        .tws_mps = next->tws_mps,
        .twd_deg = next->twd_deg,
        .twa_deg = next->twa_deg,
        .awa_deg = next->awa_deg,
        .sign = {.twa_deg = next->twa_deg, .awa_deg = next->awa_deg},
        .gust_mps = next->gust_mps,
        .gust_estimated = next->gust_estimated,
        .wave_m = next->wave_m,
        .roll_deg = next->roll_deg,
        .leg = leg,
        .starts_leg = true,
    };
}

static void make_changes(struct plan_example *example) {
    struct plan_change *changes = example->changes;
    changes[0] = change_made(example, 1, CHANGE_SET, 20.0);
    changes[0].why = "the course bears away";
    changes[0].earliest_known = changes[0].latest_known = true;
    changes[0].earliest = after_h(3.0);
    changes[0].latest = after_h(9.6);
    changes[0].sure = (struct plan_surety){.known = true,
                                           .any = true,
                                           .earliest = after_h(3.75),
                                           .latest = after_h(8.85),
                                           .error_s = figure_of(2700.0)};
    changes[0].skip = (struct plan_skip){.kind = SKIP_COSTS,
                                         .cost_s = 7800.0,
                                         .later_s = 9000.0,
                                         .roll_deg = 0.9};
    changes[0].pole_length_m = figure_of(5.8);
    changes[0].headsail = "genoa";
    changes[1] = change_made(example, 2, CHANGE_GYBE, 45.0);
    changes[1].why = "the wind veers to 095 deg";
    changes[1].light = LIGHT_NIGHT;
    changes[1].sky = (struct plan_sky){-9.0, -40.0, 0.43, false};
    changes[2] = change_made(example, 3, CHANGE_ROLL, 3.0);
    changes[2].why = "wind above the spar's limit";
    changes[3] = change_made(example, 4, CHANGE_UNROLL, 3.0);
    changes[3].to.wind_starboard = false;
    changes[4] = change_made(example, 4, CHANGE_MAINSAIL_GYBE, 8.0);
    changes[4].from = changes[3].to;
    changes[5] = change_made(example, 5, CHANGE_STOW, 15.0);
    changes[5].light = LIGHT_TWILIGHT;
    changes[5].sky = (struct plan_sky){-3.0, 21.0, 0.74, true};
    changes[5].outside_limits = true;
    changes[4].earliest_known = changes[4].latest_known = true;
    changes[4].earliest = changes[4].latest = changes[4].at;
    changes[5].earliest_known = changes[5].latest_known = true;
    changes[5].earliest = instant_plus(changes[5].at, -hours_to_s(9.0));
    changes[5].latest = changes[5].at;
    changes[5].sure = (struct plan_surety){
        .known = true, .error_s = figure_of(hours_to_s(5.5))};
    changes[5].skip.kind = SKIP_NEVER;
    changes[0].aws_mps = figure_of(kn_to_mps(12.6));
    changes[0].most_aws_mps = figure_of(kn_to_mps(13.4));
    changes[0].lee_m = figure_of(PLAN_LEE_M);
    changes[1].lee_m = figure_of(nmi_to_m(12.4));
    changes[5].lee_m = figure_of(nmi_to_m(3.46));
}

static void make_zones(struct plan_example *example) {
    example->zones[0] = (struct plan_zone){
        .name = "Long <Shoal>", .distance_m = 1500.0, .in_straight_way = true};
    example->zones[1] = (struct plan_zone){.name = "Range",
                                           .distance_m = PLAN_ZONE_M,
                                           .in_straight_way = true,
                                           .from_known = true,
                                           .from = after_h(1.0),
                                           .until_known = true,
                                           .until = after_h(30.0)};
}

/* Two who change every four hours; Ann's watch has an hour on already. */
static struct crew crew_made(void) {
    return (struct crew){
        .count = 2,
        .names = {"Ann", "Bo"},
        .watch_s = hours_to_s(4.0),
        .first = after_h(-1.0),
        .rest = {{hours_to_s(52.1), hours_to_s(30.2), hours_to_s(4.0), 1},
                 {hours_to_s(52.6), hours_to_s(28.0), hours_to_s(3.7), 2}}};
}

/* Sunset and dusk at the finish: see daylight_test.c for how they are found. */
static struct plan_arrival arrival_made(void) {
    return (struct plan_arrival){.known = true,
                                 .early = after_h(94.3),
                                 .late = after_h(116.7),
                                 .dark_before = true,
                                 .dark_until = after_h(99.15),
                                 .dark_after = true,
                                 .dark_from = after_h(111.95)};
}

static void make_ports(struct plan_example *example) {
    static const double left_h[PLAN_EXAMPLE_LEGS] = {22.3, 18.0, 40.0};
    for (int i = 0; i < 3; i++)
        example->refuges[i] =
            (struct plan_refuge){.known = true,
                                 .distance_m = nmi_to_m(6.2 * left_h[i]),
                                 .seconds = hours_to_s(left_h[i]),
                                 .off_bow_deg = 60.0 * i - 50.4};
    example->port = (struct plan_port){
        .name = "Cala Bruna",
        .position = {15.5, -26.75},
        .from_leg = example->refuges,
        .turn_off_known = true,
        .turn_off = {{16.3, -27.9}, after_h(27.0)},
        .from_turn_off = {true, nmi_to_m(111.6), hours_to_s(18.0), 64.4,
                          OBSTACLE_NONE, false},
        .left_s = hours_to_s(78.2)};
    example->plan.ports = &example->port;
    example->plan.port_count = 1;
}

/* Later by so much, if it breaks there. */
static void make_broken(struct plan_example *example) {
    static const double later_h[PLAN_EXAMPLE_LEGS] = {12.0, 12.0, 7.25,
                                                      0.0,  4.5,  -0.05};
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        if (i != 3)
            example->legs[i].broken_s = figure_of(
                example->plan.summary.elapsed_s + hours_to_s(later_h[i]));
}

static void make_track(struct plan_example *example) {
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        example->track[i] =
            (struct plan_point){example->legs[i].from, example->legs[i].start};
    for (int i = PLAN_EXAMPLE_LEGS; i < PLAN_EXAMPLE_POINTS; i++)
        example->track[i] =
            (struct plan_point){{13.4 - 0.02 * (i - 5), -36.2 - 0.05 * (i - 5)},
                                after_h(104.0 + 0.5 * (i - 5))};
}

static struct plan_summary summary_made(void) {
    return (struct plan_summary){
        .reached = true,
        .arrive = after_h(105.5),
        .elapsed_s = hours_to_s(105.5),
        .distance_m = nmi_to_m(697.1),
        .great_circle_m = nmi_to_m(690.26),
        .cost_s = hours_to_s(110.25),
        .discomfort_s = hours_to_s(2.5),
        .hardship_s = hours_to_s(2.25),
        .spar_s = hours_to_s(99.88),
        .wing_s = hours_to_s(57.28),
        .poled_reach_s = hours_to_s(39.5),
        .deck_work = 3,
        .night_deck_work = 1,
        .roll_mean_deg = 3.02,
        .roll_easy_s = hours_to_s(40.6),
        .roll_over_limit_s = hours_to_s(1.5),
        .max_tws_mps = kn_to_mps(23.9),
        .max_gust_mps = figure_of(kn_to_mps(31.2)),
        .max_wave_m = figure_unknown(),
        .beyond_forecast_s = hours_to_s(1.5),
        .elapsed_without_spar_s = figure_of(hours_to_s(112.0)),
    };
}

void plan_example_make(struct plan_example *example) {
    memset(example, 0, sizeof *example);
    example->boat = boat_made();
    make_legs(example);
    make_changes(example);
    make_track(example);
    make_zones(example);
    example->front[0] = (struct position){16.0, -26.0};
    example->front[1] = (struct position){15.25, -26.12347};
    example->isochrone =
        (struct plan_isochrone){after_h(12.0), example->front, 2};
    example->warnings[0] = "no field of the height of swell: the combined sea "
                           "is taken for all of it, and its period with it";
    example->warnings[1] = "the boat's roll period is estimated from her beam";
    example->plan = (struct plan){
        .version = "0.1.0",
        .name = "Out & back <1> \xC3\xA0 Or\xC3\xA9",
        .boat_name = example->boat.name,
        .from = seeds[0].from,
        .to = seeds[PLAN_EXAMPLE_LEGS - 1].to,
        .depart = after_h(0.0),
        .forecast_run = after_h(-29.0),
        .forecast_start = after_h(-29.0),
        .forecast_end = after_h(104.0),
        .good_until = after_h(43.0),
        .fair_until = after_h(91.0),
        .ease = 1.0,
        .boat = &example->boat,
        .coast = {.name = "GSHHG 2.3.7, high resolution",
                  .clearance_m = nmi_to_m(2.0),
                  .approach_m = nmi_to_m(5.0),
                  .start_moved_m = nmi_to_m(0.32)},
        .zones = example->zones,
        .zone_count = 2,
        .all_zone_count = 5,
        .summary = summary_made(),
        .arrival = arrival_made(),
        .crew = crew_made(),
        .legs = example->legs,
        .leg_count = PLAN_EXAMPLE_LEGS,
        .changes = example->changes,
        .margin_s = 1800.0,
        .change_count = PLAN_EXAMPLE_CHANGES,
        .track = example->track,
        .track_count = PLAN_EXAMPLE_POINTS,
        .isochrones = &example->isochrone,
        .isochrone_count = 1,
        .warnings = example->warnings,
        .warning_count = 2,
    };
    make_broken(example);
    make_ports(example);
}

static void later(struct instant *at, int days) {
    at->unix_s += 86400 * (int64_t)days;
}

void plan_example_later(struct plan_example *example, int days) {
    struct plan *plan = &example->plan;
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++) {
        later(&example->legs[i].start, days);
        later(&example->legs[i].end, days);
        example->legs[i].sky =
            sky_seen(example->legs[i].start, example->legs[i].from);
    }
    for (int i = 0; i < PLAN_EXAMPLE_CHANGES; i++) {
        later(&example->changes[i].at, days);
        later(&example->changes[i].earliest, days);
        later(&example->changes[i].latest, days);
    }
    for (int i = 0; i < PLAN_EXAMPLE_POINTS; i++)
        later(&example->track[i].at, days);
    for (int i = 0; i < 2; i++) {
        later(&example->zones[i].from, days);
        later(&example->zones[i].until, days);
    }
    later(&example->isochrone.at, days);
    later(&plan->depart, days);
    later(&plan->forecast_run, days);
    later(&plan->forecast_start, days);
    later(&plan->forecast_end, days);
    later(&plan->good_until, days);
    later(&plan->fair_until, days);
    later(&plan->summary.arrive, days);
}
