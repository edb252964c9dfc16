#include "retime.h"

#include "earth/angle.h"
#include "earth/ellipsoid.h"
#include "voyage/cost.h"

#include <math.h>

/* So far inside the spar's limits the headsail is unrolled again. */
static const double UNROLL_DEG = 2.0;

/* Nearer than this to its end a stretch is done. */
static const double AT_THE_END_M = 0.001;

/* The boat, and what hands are still busy with. */
struct retimer {
    const struct voyage *voyage;
    const struct retime_options *options;
    struct position at;
    double twa_deg; /* that boom and preventer are rigged for */
    double course_deg;
    double left_s;       /* of the part in hand */
    double next_s;       /* of the part after it, by day; below 0: none */
    bool rolled_for_now; /* until the spar may draw again */
    struct conditions here;
    struct motion motion;
    struct retimed so_far;
};

/* --- geodesy --------------------------------------------------------------*/

static double radians(double degrees) {
    return degrees * (3.14159265358979323846 / 180.0);
}

/* Metres to a degree, to the north and to the east (Snyder 1987, equations
 * 4-18 to 4-21: radii of curvature of the ellipsoid). */
static void degree_m(double lat_deg, double *north_m, double *east_m) {
    double sine = sin(radians(lat_deg));
    double flat = 1.0 - WGS84_ECCENTRICITY2 * sine * sine;
    *east_m = radians(WGS84_EQUATOR_M / sqrt(flat)) * cos(radians(lat_deg));
    *north_m = radians(WGS84_EQUATOR_M * (1.0 - WGS84_ECCENTRICITY2)) /
               (flat * sqrt(flat));
}

/* Isometric latitude (Snyder 1987, equation 3-7, in its logarithmic form). */
static double isometric(double lat_deg) {
    double e = sqrt(WGS84_ECCENTRICITY2), sine = sin(radians(lat_deg));
    return 0.5 * log((1.0 + sine) / (1.0 - sine)) -
           0.5 * e * log((1.0 + e * sine) / (1.0 - e * sine));
}

static double course_between(struct position from, struct position to) {
    double east = radians(angle_wrap_180(to.lon_deg - from.lon_deg));
    double north = isometric(to.lat_deg) - isometric(from.lat_deg);
    double course_deg = atan2(east, north) / radians(1.0);
    return course_deg < 0.0 ? course_deg + 360.0 : course_deg;
}

/* A short way; its length by the latitude half-way. */
static struct position moved(struct position from, double course_deg,
                             double way_m) {
    double north_m, east_m;
    degree_m(from.lat_deg, &north_m, &east_m);
    double north = way_m * cos(radians(course_deg));
    degree_m(from.lat_deg + 0.5 * north / north_m, &north_m, &east_m);
    double lon_deg = from.lon_deg + way_m * sin(radians(course_deg)) / east_m;
    return (struct position){from.lat_deg + north / north_m,
                             angle_wrap_longitude(lon_deg)};
}

/* Of a short way; more or less right for a long one. */
static double short_distance_m(struct position from, struct position to) {
    double north_m, east_m;
    degree_m(0.5 * (from.lat_deg + to.lat_deg), &north_m, &east_m);
    return hypot(north_m * (to.lat_deg - from.lat_deg),
                 east_m * angle_wrap_180(to.lon_deg - from.lon_deg));
}

/* --- changes --------------------------------------------------------------*/

static enum obstacle look(struct retimer *boat, struct position at, double t_s,
                          struct conditions *there, struct motion *motion) {
    enum obstacle obstacle = voyage_look(boat->voyage, at, t_s, there);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    return voyage_motion(boat->voyage, there, boat->course_deg,
                         boat->so_far.deck, boat->left_s > 0.0, motion);
}

static enum obstacle look_here(struct retimer *boat) {
    return look(boat, boat->at, boat->so_far.t_s, &boat->here, &boat->motion);
}

/* Is any of that time dark? Where the look ahead fails, as it is now. */
static bool gets_dark(const struct retimer *boat, double day_s) {
    struct conditions there;
    bool night = boat->here.light == LIGHT_NIGHT;
    for (int half = 1; half <= 2 && !night; half++) {
        double seconds = 0.5 * half * day_s;
        struct position at =
            moved(boat->at, boat->course_deg, seconds * boat->motion.sog_mps);
        night = voyage_look(boat->voyage, at, boat->so_far.t_s + seconds,
                            &there) == OBSTACLE_NONE &&
                there.light == LIGHT_NIGHT;
    }
    return night;
}

/* A part that begins now takes as long as its darkest light says. */
static double lasts(const struct retimer *boat, double day_s) {
    bool night = gets_dark(boat, day_s);
    return day_s * (night ? boat->voyage->boat->spar.night_factor : 1.0);
}

/* Hands that are busy finish first: what comes now is added behind, by day or
 * night as it is now. */
static void begin_change(struct retimer *boat, struct deck to, bool tacks) {
    struct deck_change change =
        deck_change_between(boat->voyage->boat, boat->so_far.deck, to, tacks);
    boat->so_far.deck = to;
    if (change.count <= 0)
        return;
    boat->so_far.changes += change.count;
    bool busy = boat->left_s > 0.0;
    boat->left_s += lasts(boat, change.seconds[0]);
    if (change.count < 2)
        return;
    if (busy)
        boat->left_s += lasts(boat, change.seconds[1]);
    else
        boat->next_s = change.seconds[1];
}

static bool by_the_bow(const struct retimer *boat) {
    return fabs(boat->twa_deg) + fabs(boat->motion.twa_deg) < 180.0;
}

/* An order: the side of the wind follows from the course. */
static enum obstacle order(struct retimer *boat, struct deck to) {
    struct deck from = boat->so_far.deck;
    to.wind_starboard = from.wind_starboard;
    boat->so_far.deck = to;
    enum obstacle obstacle = look_here(boat);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    if (boat->motion.wrong_side)
        to.wind_starboard = !to.wind_starboard;
    boat->so_far.deck = to;
    obstacle = look_here(boat);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    /* rolled for the wind's sake, it stays so until that is over; rolled by an
     * order, until the next */
    boat->rolled_for_now = boat->rolled_for_now && !to.rolled;
    bool waits =
        boat->rolled_for_now && from.spar == to.spar && boat->motion.spar_unfit;
    to.rolled = to.rolled || waits;
    boat->rolled_for_now = boat->rolled_for_now && to.rolled;
    boat->so_far.deck = from;
    if (deck_index(from) != deck_index(to))
        begin_change(boat, to, by_the_bow(boat));
    return look_here(boat);
}

static bool is_on_wrong_side(const struct retimer *boat) {
    double kept_deg = 180.0 - VOYAGE_BY_THE_LEE_DEG;
    return boat->motion.wrong_side &&
           fabs(boat->motion.twa_deg) <
               kept_deg - boat->options->overlooked_deg;
}

/* By how much a value is beyond a limit, in parts of it. */
static double beyond(double value, double limit) {
    return value / limit - 1.0;
}

/* Beyond the spar's limits by more than is overlooked. Strictly, it is for the
 * physics to say; leniently, by course and speed as when hands are free. */
static bool may_not_draw(const struct retimer *boat) {
    if (boat->options->overlooked_deg <= 0.0)
        return boat->motion.spar_unfit;
    const struct spar *spar = &boat->voyage->boat->spar;
    struct deck deck = boat->so_far.deck;
    struct motion motion;
    if (!deck_is_drawing(deck) || !boat->motion.spar_unfit ||
        voyage_motion(boat->voyage, &boat->here, boat->course_deg, deck, false,
                      &motion) != OBSTACLE_NONE)
        return false;
    double low_deg, high_deg, awa_deg = fabs(voyage_awa_deg(&motion));
    bool wing = deck_mode(deck) == MODE_WING;
    voyage_spar_range(boat->voyage->boat, deck_mode(deck), &low_deg, &high_deg);
    double off_deg = fmax(low_deg - awa_deg, awa_deg - high_deg);
    double wind = beyond(motion.tws_mps, wing ? spar->wing_max_wind_mps
                                              : spar->reach_max_wind_mps);
    double gust =
        beyond(voyage_gust_mps(&boat->here, motion.tws_mps),
               wing ? spar->wing_max_gust_mps : spar->reach_max_gust_mps);
    return off_deg > boat->options->overlooked_deg ||
           fmax(wind, gust) > boat->options->overlooked_frac;
}

/* Once the wind is back and hands are free. */
static bool unrolls(struct retimer *boat) {
    if (!boat->rolled_for_now || boat->left_s > 0.0 || boat->next_s >= 0.0)
        return false;
    struct deck drawing = boat->so_far.deck;
    drawing.rolled = false;
    struct motion motion;
    if (voyage_motion(boat->voyage, &boat->here, boat->course_deg, drawing,
                      false, &motion) != OBSTACLE_NONE ||
        motion.slack_deg < UNROLL_DEG)
        return false;
    boat->rolled_for_now = false;
    boat->so_far.unplanned++;
    begin_change(boat, drawing, false);
    return true;
}

/* What wind and angle ask for: the headsail rolled where the spar may not
 * draw, the mainsail to the other side. */
static enum obstacle adapt(struct retimer *boat) {
    for (int round = 0; round < 3; round++) {
        enum obstacle obstacle = look_here(boat);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
        bool wrong = is_on_wrong_side(boat), unfit = may_not_draw(boat);
        if (!wrong && !unfit && !unrolls(boat))
            return OBSTACLE_NONE;
        if (!wrong && !unfit)
            continue;
        struct deck to = boat->so_far.deck;
        bool tacks = wrong && by_the_bow(boat);
        bool rolls = deck_is_drawing(to) && (unfit || tacks);
        bool first_roll = rolls && tacks;
        to.rolled = to.rolled || rolls;
        if (wrong && !first_roll)
            to.wind_starboard = !to.wind_starboard;
        boat->so_far.unplanned++;
        boat->rolled_for_now = to.rolled;
        begin_change(boat, to, tacks && !first_roll);
    }
    return OBSTACLE_NONE;
}

/* --- under way ------------------------------------------------------------*/

static void work_on(struct retimer *boat, double seconds) {
    if (boat->left_s <= 0.0)
        return;
    boat->left_s -= seconds;
    if (boat->left_s > 1e-6)
        return;
    boat->left_s = 0.0;
    if (boat->next_s >= 0.0)
        boat->left_s = lasts(boat, boat->next_s);
    boat->next_s = -1.0;
}

static double discomfort_rate(const struct retimer *boat,
                              const struct conditions *there,
                              const struct motion *motion) {
    const struct comfort *comfort = &boat->voyage->boat->comfort;
    double roll_deg =
        voyage_roll_deg(boat->voyage, there, motion, boat->so_far.deck);
    return cost_discomfort(roll_deg, comfort->easy_roll_deg,
                           comfort->working_roll_deg);
}

/* 0.03 degrees a second from a run to a beat and back, as voyage/sail.h has it:
 * who comes up for some minutes gybes all the same. */
static double rigged_for(double before_deg, double twa_deg, double seconds) {
    double from = fabs(before_deg), to = fabs(twa_deg);
    double now = from < to ? fmin(from + 0.03 * seconds, to)
                           : fmax(from - 0.03 * seconds, to);
    return twa_deg < 0.0 ? -now : now;
}

/* One step, with the speed half-way through it. */
static enum obstacle step(struct retimer *boat, double left_m) {
    enum obstacle obstacle = adapt(boat);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    double seconds = fmin(boat->options->step_s, left_m / boat->motion.sog_mps);
    if (boat->left_s > 0.0)
        seconds = fmin(seconds, boat->left_s);
    struct conditions middle;
    struct motion motion;
    obstacle = look(
        boat,
        moved(boat->at, boat->course_deg, 0.5 * seconds * boat->motion.sog_mps),
        boat->so_far.t_s + 0.5 * seconds, &middle, &motion);
    if (obstacle == OBSTACLE_NONE)
        obstacle = voyage_limit(boat->voyage, &middle);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    seconds = fmin(seconds, left_m / motion.sog_mps);
    boat->at = moved(boat->at, boat->course_deg, seconds * motion.sog_mps);
    boat->so_far.t_s += seconds;
    boat->so_far.discomfort_s +=
        seconds * discomfort_rate(boat, &middle, &motion);
    boat->twa_deg = rigged_for(boat->twa_deg, motion.twa_deg, seconds);
    boat->here = middle;
    work_on(boat, seconds);
    return OBSTACLE_NONE;
}

static enum obstacle stretch(struct retimer *boat, const struct vertex *from,
                             struct position to) {
    if (short_distance_m(boat->at, to) <= 0.01)
        return OBSTACLE_NONE;
    boat->course_deg = course_between(boat->at, to);
    enum obstacle obstacle = order(boat, from->order);
    for (;;) {
        double left_m = short_distance_m(boat->at, to);
        if (obstacle != OBSTACLE_NONE || left_m <= AT_THE_END_M)
            break;
        obstacle = step(boat, left_m);
    }
    boat->at = to;
    return obstacle;
}

struct retime_options retime_strictly(void) {
    return (struct retime_options){.step_s = 10.0};
}

struct retime_options retime_leniently(void) {
    return (struct retime_options){
        .step_s = 10.0, .overlooked_deg = 0.05, .overlooked_frac = 0.002};
}

struct retimed retime_track(const struct voyage *voyage,
                            const struct track *track,
                            const struct underway *start,
                            const struct retime_options *options) {
    struct retimer boat = {.voyage = voyage,
                           .options = options,
                           .at = start->at,
                           .twa_deg = start->twa_deg,
                           .next_s = -1.0,
                           .so_far = {.t_s = start->t_s, .deck = start->deck}};
    for (size_t i = 0; i + 1 < track->count; i++) {
        enum obstacle obstacle =
            stretch(&boat, &track->vertices[i], track->vertices[i + 1].at);
        boat.so_far.obstacle = obstacle;
        if (obstacle != OBSTACLE_NONE)
            break;
    }
    return boat.so_far;
}
