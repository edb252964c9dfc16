#include "report/plan_json.h"

#include "base/units.h"
#include "earth/angle.h"
#include "exchange/json.h"
#include "report/marked.h"
#include "report/words.h"
#include <math.h>

/* Decimals of each kind of figure: finer than anybody needs, coarser than the
 * last bit. */
enum { PLACE = 7, NMI = 3, HOURS = 4, KNOTS = 2, DEGREES = 1, METRES = 2 };

static void put_hours(struct json *json, const char *key, double seconds) {
    json_put_number(json, key, s_to_hours(seconds), HOURS);
}

static void put_nmi(struct json *json, const char *key, double distance_m) {
    json_put_number(json, key, m_to_nmi(distance_m), NMI);
}

static void put_nmi_figure(struct json *json, const char *key,
                           struct figure distance_m) {
    if (distance_m.known)
        put_nmi(json, key, distance_m.value);
    else
        json_put_null(json, key);
}

static void put_knots(struct json *json, const char *key, double speed_mps) {
    json_put_number(json, key, mps_to_kn(speed_mps), KNOTS);
}

static void put_knots_figure(struct json *json, const char *key,
                             struct figure speed_mps) {
    if (speed_mps.known)
        put_knots(json, key, speed_mps.value);
    else
        json_put_null(json, key);
}

static void put_hours_figure(struct json *json, const char *key,
                             struct figure seconds) {
    if (seconds.known)
        put_hours(json, key, seconds.value);
    else
        json_put_null(json, key);
}

static double tenth(double angle_deg) {
    return round(angle_deg * 10.0) / 10.0;
}

/* Rounded before it is wrapped: 359.96 is 0, not 360. */
static void put_direction(struct json *json, const char *key,
                          double angle_deg) {
    json_put_number(json, key, angle_wrap_360(tenth(angle_deg)), DEGREES);
}

static void put_angle(struct json *json, const char *key, double angle_deg) {
    json_put_number(json, key, angle_wrap_180(tenth(angle_deg)), DEGREES);
}

void plan_json_put_place(struct json *json, const char *key,
                         struct position position) {
    struct position rounded = position_rounded(position, PLACE);
    struct json *object = json_put_object(json, key);
    json_put_number(object, "lat", rounded.lat_deg, PLACE);
    json_put_number(object, "lon", rounded.lon_deg, PLACE);
}

static void put_instant_if(struct json *json, const char *key, bool known,
                           struct instant instant) {
    if (known)
        json_put_instant(json, key, instant);
    else
        json_put_null(json, key);
}

static void put_passage(struct json *root, const struct plan *plan) {
    struct json *passage = json_put_object(root, "passage");
    json_put_text(passage, "name", plan->name);
    plan_json_put_place(passage, "from", plan->from);
    plan_json_put_place(passage, "to", plan->to);
    json_put_instant(passage, "depart", plan->depart);
    json_put_instant(passage, "forecast_start", plan->forecast_start);
    json_put_instant(passage, "forecast_end", plan->forecast_end);
}

void plan_json_put_summary(struct json *root, const struct plan *plan) {
    const struct plan_summary *summary = &plan->summary;
    const struct plan_engine *engine = &plan->engine;
    struct json *json = json_put_object(root, "summary");
    put_instant_if(json, "arrive", summary->reached, summary->arrive);
    put_hours(json, "elapsed_h", summary->elapsed_s);
    put_nmi(json, "distance_nmi", summary->distance_m);
    put_nmi(json, "great_circle_nmi", summary->great_circle_m);
    put_hours(json, "cost_h", summary->cost_s);
    put_hours(json, "discomfort_h", summary->discomfort_s);
    put_hours(json, "spar_h", summary->spar_s);
    put_hours(json, "wing_h", summary->wing_s);
    put_hours(json, "poled_reach_h", summary->poled_reach_s);
    put_hours_figure(json, "motor_h", summary->motor_s);
    json_put_figure(json, "motor_litres",
                    (struct figure){summary->motor_s.known, engine->litres}, 1);
    put_hours(json, "upwind_h", summary->upwind_s);
    json_put_count(json, "night_deck_work", summary->night_deck_work);
    json_put_number(json, "roll_mean_deg", summary->roll_mean_deg, METRES);
    put_hours(json, "roll_over_limit_h", summary->roll_over_limit_s);
    put_knots(json, "max_tws_kn", summary->max_tws_mps);
    put_knots_figure(json, "max_gust_kn", summary->max_gust_mps);
    json_put_figure(json, "max_wave_m", summary->max_wave_m, METRES);
    put_hours(json, "beyond_forecast_h", summary->beyond_forecast_s);
    put_hours_figure(json, "elapsed_without_spar_h",
                     summary->elapsed_without_spar_s);
    put_hours_figure(json, "kept_gybes_cost_h", summary->kept_gybes_s);
}

static void put_leg_place(struct json *json, const struct plan_leg *leg) {
    json_put_instant(json, "start", leg->start);
    json_put_instant(json, "end", leg->end);
    plan_json_put_place(json, "from", leg->from);
    plan_json_put_place(json, "to", leg->to);
    put_direction(json, "course_deg", leg->course_deg);
    put_nmi(json, "distance_nmi", leg->distance_m);
    json_put_text(json, "spar", words_spar(leg->deck.spar));
    json_put_flag(json, "rolled", leg->deck.rolled);
    json_put_text(json, "mode", words_mode(leg->mode));
}

static void put_sky(struct json *json, const struct plan_sky *sky) {
    json_put_number(json, "sun_altitude_deg", sky->sun_deg, DEGREES);
    json_put_number(json, "moon_altitude_deg", sky->moon_deg, DEGREES);
    json_put_number(json, "moon_lit_frac", sky->moon_lit_frac, 2);
}

static void put_leg_figures(struct json *json, const struct plan_leg *leg,
                            bool fitted) {
    put_knots(json, "tws_kn", leg->tws_mps);
    put_direction(json, "twd_deg", leg->twd_deg);
    put_angle(json, "twa_deg", leg->twa_deg);
    put_knots(json, "aws_kn", leg->aws_mps);
    put_angle(json, "awa_deg", leg->awa_deg);
    put_knots(json, "stw_kn", leg->stw_mps);
    put_knots(json, "sog_kn", leg->sog_mps);
    put_knots_figure(json, "gust_kn", leg->gust_mps);
    json_put_figure(json, "wave_m", leg->wave_m, METRES);
    json_put_figure(json, "wave_period_s", leg->wave_period_s, 1);
    if (leg->wave_from_deg.known)
        put_direction(json, "wave_from_deg", leg->wave_from_deg.value);
    else
        json_put_null(json, "wave_from_deg");
    json_put_number(json, "roll_deg", leg->roll_deg, 2);
    put_hours(json, "night_h", leg->night_s);
    put_hours_figure(json, "motor_h", (struct figure){fitted, leg->motored_s});
    json_put_flag(json, "beyond_forecast", leg->beyond_forecast);
    put_sky(json, &leg->sky);
    json_put_number(json, "pace_part",
                    leg->pace_frac > 0 ? leg->pace_frac : 1.0, 4);
    put_hours(json, "wait_h", leg->wait_s);
}

static void put_room(struct json *json, const struct plan_change *change) {
    const struct plan_surety *sure = &change->sure;
    const struct plan_skip *skip = &change->skip;
    bool costs = skip->kind == SKIP_COSTS;
    put_instant_if(json, "sure_earliest", sure->any, sure->earliest);
    put_instant_if(json, "sure_latest", sure->any, sure->latest);
    put_hours_figure(json, "skip_cost_h", (struct figure){costs, skip->cost_s});
    put_hours_figure(json, "skip_later_h",
                     (struct figure){costs, skip->later_s});
    json_put_figure(json, "skip_roll_deg",
                    (struct figure){costs, skip->roll_deg}, 2);
}

static void put_change(struct json *list, const struct plan_change *change) {
    struct json *json = json_put_object(list, NULL);
    json_put_text(json, "change", words_change(change->kind));
    json_put_flag(json, "deck_work", change->deck_work);
    json_put_instant(json, "at", change->at);
    plan_json_put_place(json, "position", change->position);
    json_put_text(json, "from_state", words_state(change->from));
    json_put_text(json, "to_state", words_state(change->to));
    json_put_number(json, "minutes", change->seconds / SECONDS_PER_MINUTE, 1);
    put_instant_if(json, "earliest", change->earliest_known, change->earliest);
    put_instant_if(json, "latest", change->latest_known, change->latest);
    json_put_text(json, "light", words_light(change->light));
    json_put_text(json, "trust", words_trust(change->trust));
    put_knots_figure(json, "gust_kn", change->gust_mps);
    json_put_number(json, "roll_deg", change->roll_deg, 2);
    json_put_figure(json, "pole_length_m", change->pole_length_m, METRES);
    json_put_text(json, "headsail", change->headsail);
    json_put_text(json, "why", change->why);
    put_nmi_figure(json, "lee_nmi", change->lee_m);
    put_room(json, change);
    put_sky(json, &change->sky);
}

static void put_isochrones(struct json *root, const struct plan *plan) {
    if (!plan->isochrones) {
        json_put_null(root, "isochrones");
        return;
    }
    struct json *list = json_put_array(root, "isochrones");
    for (size_t i = 0; i < plan->isochrone_count; i++) {
        const struct plan_isochrone *isochrone = &plan->isochrones[i];
        struct json *json = json_put_object(list, NULL);
        json_put_instant(json, "at", isochrone->at);
        struct json *points = json_put_array(json, "points");
        for (size_t j = 0; j < isochrone->count; j++) {
            struct json *pair = json_put_array(points, NULL);
            json_put_number(pair, NULL, isochrone->points[j].lon_deg, 4);
            json_put_number(pair, NULL, isochrone->points[j].lat_deg, 4);
        }
    }
}

static void put_land(struct json *root, const struct plan *plan) {
    const struct plan_coast *coast = &plan->coast;
    struct json *json = json_put_object(root, "land");
    json_put_text(json, "coast", coast->name);
    put_nmi(json, "clearance_nmi", coast->clearance_m);
    put_nmi(json, "approach_nmi", coast->approach_m);
    put_nmi(json, "start_moved_nmi", coast->start_moved_m);
    put_nmi(json, "finish_moved_nmi", coast->finish_moved_m);
}

static void put_zones(struct json *root, const struct plan *plan) {
    struct json *list = json_put_array(root, "zones");
    for (size_t i = 0; i < plan->zone_count; i++) {
        const struct plan_zone *zone = &plan->zones[i];
        struct json *json = json_put_object(list, NULL);
        json_put_text(json, "name", zone->name);
        put_nmi(json, "distance_nmi", zone->distance_m);
        json_put_flag(json, "in_straight_way", zone->in_straight_way);
        put_instant_if(json, "from", zone->from_known, zone->from);
        put_instant_if(json, "until", zone->until_known, zone->until);
    }
}

/* What the earlier plan has next, null where it has nothing more. */
static void put_old_work(struct json *parent, const struct plan *plan) {
    const struct previous_work *work =
        previous_next(plan->keeping->previous, plan->depart);
    if (!work) {
        json_put_null(parent, "next_work");
        return;
    }
    struct json *json = json_put_object(parent, "next_work");
    json_put_text(json, "change", words_change(work->kind));
    json_put_instant(json, "at", work->at);
    json_put_text(json, "to_state", words_state(work->to));
}

static void put_previous(struct json *root, const struct plan *plan) {
    const struct plan_keeping *keeping = plan->keeping;
    if (!keeping) {
        json_put_null(root, "previous");
        return;
    }
    struct json *json = json_put_object(root, "previous");
    const struct previous *previous = keeping->previous;
    const struct plan_summary *old = &keeping->summary, *new = &plan->summary;
    bool told = keeping->known && new->reached;
    json_put_text(json, "name", previous->name);
    json_put_instant(json, "depart", previous->depart);
    put_instant_if(json, "arrive", previous->reached, previous->arrive);
    put_old_work(json, plan);
    put_nmi(json, "off_track_nmi", keeping->off_m);
    plan_json_put_place(json, "joined", keeping->joined);
    put_instant_if(json, "keep_arrive", told, old->arrive);
    put_hours_figure(json, "keep_later_h",
                     (struct figure){told, old->elapsed_s - new->elapsed_s});
    put_hours_figure(json, "keep_cost_h",
                     (struct figure){told, old->cost_s - new->cost_s});
}

static void put_warnings(struct json *root, const struct plan *plan) {
    struct arena arena;
    arena_init(&arena);
    struct json *warnings = json_put_array(root, "warnings");
    for (size_t i = 0; i < plan->warning_count; i++)
        json_put_text(warnings, NULL,
                      marked_in_utc(&arena, plan, plan->warnings[i]));
    arena_free(&arena);
}

bool plan_json_write(const struct plan *plan, FILE *stream,
                     struct error *error) {
    struct json *root = json_make_object();
    json_put_text(root, "sparwise", plan->version);
    json_put_count(root, "format", PLAN_JSON_FORMAT);
    put_passage(root, plan);
    plan_json_put_summary(root, plan);
    struct json *legs = json_put_array(root, "legs");
    for (size_t i = 0; i < plan->leg_count; i++) {
        struct json *json = json_put_object(legs, NULL);
        put_leg_place(json, &plan->legs[i]);
        put_leg_figures(json, &plan->legs[i], plan->summary.motor_s.known);
    }
    struct json *changes = json_put_array(root, "changes");
    for (size_t i = 0; i < plan->change_count; i++)
        put_change(changes, &plan->changes[i]);
    put_isochrones(root, plan);
    put_warnings(root, plan);
    put_land(root, plan);
    put_zones(root, plan);
    put_previous(root, plan);
    bool written = json_write(root, stream, error);
    json_free(root);
    return written;
}
