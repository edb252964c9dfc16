/* The weather of the invented oceans. All of it is made up; only its sizes are
 * those of the trade. */
#include "ocean_maker.h"

#include <math.h>

/* One sea: height, period, direction it comes from. */
struct waves {
    double height_m, period_s, from_deg;
};

/* Plain libm: a file has millions of these. */
static double sine(double degrees) {
    return sin(degrees * RADIANS_PER_DEGREE);
}

/* 1 at the middle, falling smoothly to 0 within a few widths. */
static double bump(double distance, double width) {
    double x = distance / width;
    return 1.0 / ((1.0 + x * x) * (1.0 + x * x));
}

/* From 0 well below `middle` to 1 well above it. */
static double ramp(double x, double middle, double width) {
    return 0.5 + 0.5 * tanh((x - middle) / width);
}

/* What a model shows at the size of its grid, -1 to 1: patches of a degree or
 * two that drift, and a grain without which the packings that foretell a value
 * from its neighbours would find it too easy. */
static double texture(struct position at, double hour, double phase_deg) {
    double patches = sine(at.lat_deg * 263.0 + hour * 3.1 + phase_deg) +
                     sine(at.lon_deg * 187.0 - hour * 4.3 - phase_deg);
    double grain = sine(at.lat_deg * 40591.0 + at.lon_deg * 73003.0 +
                        hour * 9011.0 + phase_deg);
    return 0.4 * patches + 0.2 * grain;
}

/* A sea that has had a day or so to grow: about 0.85 of the fully developed
 * height 0.0246 U^2 (Pierson and Moskowitz 1964, from memory). */
static struct waves wind_sea(struct vector_mps wind) {
    double speed = vector_length(wind);
    return (struct waves){.height_m = 0.021 * speed * speed,
                          .period_s = 1.2 + 0.58 * speed,
                          .from_deg = vector_direction_from(wind)};
}

/* Energies add; period and direction are the means that energy weighs. */
static struct waves combined(struct waves a, struct waves b) {
    double share_a = a.height_m * a.height_m, share_b = b.height_m * b.height_m;
    double sum = share_a + share_b;
    struct vector_mps mean = vector_plus(vector_from(a.from_deg, share_a),
                                         vector_from(b.from_deg, share_b));
    return (struct waves){
        .height_m = sqrt(sum),
        .period_s = (share_a * a.period_s + share_b * b.period_s) / sum,
        .from_deg = vector_direction_from(mean)};
}

/* All seven, from the wind, the swell and the pressure. */
static struct ocean_weather weather_of(struct vector_mps wind,
                                       struct waves swell, double pressure_pa,
                                       double grain) {
    wind.east += 0.35 * grain;
    wind.north -= 0.25 * grain;
    struct waves sea = combined(wind_sea(wind), swell);
    double gust = vector_length(wind) * (1.3 + 0.04 * grain);
    return (struct ocean_weather){
        .values = {[OCEAN_WIND_EAST] = wind.east,
                   [OCEAN_WIND_NORTH] = wind.north,
                   [OCEAN_GUST] = gust,
                   [OCEAN_PRESSURE] = pressure_pa + 8.0 * grain,
                   [OCEAN_WAVE_HEIGHT] = sea.height_m * (1.0 + 0.02 * grain),
                   [OCEAN_WAVE_PERIOD] = sea.period_s,
                   [OCEAN_WAVE_FROM] = sea.from_deg}};
}

/* North-east trades that swing to the east and back, strongest about 17 N; a
 * trough passes to the north from day two to day seven and backs and weakens
 * them; a northerly swell rises behind it. */
struct ocean_weather ocean_weather_trades(struct position at, double hour) {
    double grain = texture(at, hour, 40.0);
    double trough_lon_deg = -58.0 + hour * 0.2;
    double away = hypot(at.lat_deg - 31.0, (at.lon_deg - trough_lon_deg) * 0.9);
    double trough = bump(away, 9.0);
    double swing_deg = 20.0 * sine(hour * 2.4 - 60.0) +
                       9.0 * sine((at.lon_deg + 30.0) * 14.0 + hour * 3.2) +
                       5.0 * sine((at.lat_deg - 17.0) * 22.0 - hour * 2.0);
    double belt = bump(at.lat_deg - 17.0, 22.0);
    double speed = 3.2 + 5.6 * belt + 1.3 * sine(hour * 2.7 + 20.0) +
                   0.9 * sine((at.lat_deg - 18.0) * 20.0 + hour * 2.1) +
                   0.6 * sine(at.lon_deg * 25.0 - hour * 3.0) - 2.6 * trough;
    double from_deg = 68.0 + swing_deg - 26.0 * trough;
    struct waves swell = {.height_m = 1.0 + 0.8 * bump(hour - 130.0, 60.0) +
                                      0.01 * (at.lat_deg - 20.0),
                          .period_s = 10.5 + 2.0 * bump(hour - 110.0, 50.0),
                          .from_deg = 345.0 + 18.0 * sine(hour * 1.5)};
    double pressure_pa = 101300.0 + 45.0 * (at.lat_deg - 20.0) -
                         1400.0 * trough + 80.0 * sine(hour * 30.0);
    return weather_of(vector_from(from_deg, fmax(speed, 1.5)), swell,
                      pressure_pa, grain);
}

/* North-westerlies behind a front, which veer and ease while a ridge comes in,
 * over an old westerly swell. */
struct ocean_weather ocean_weather_offshore(struct position at, double hour) {
    double grain = texture(at, hour, 90.0);
    double ridge = ramp(hour - 3.0 * (at.lon_deg + 8.0), 60.0, 24.0);
    double from_deg = 295.0 + 60.0 * ridge + 8.0 * sine(at.lat_deg * 60.0) +
                      10.0 * sine(hour * 6.0);
    double speed = 9.5 - 3.5 * ridge + 1.2 * sine(hour * 9.0 + 50.0) +
                   0.8 * sine(at.lat_deg * 45.0 + hour * 4.0);
    struct waves swell = {.height_m = 2.2 - 0.006 * hour,
                          .period_s = 11.5,
                          .from_deg = 290.0 + 5.0 * sine(hour * 2.0)};
    return weather_of(vector_from(from_deg, speed), swell,
                      101200.0 + 900.0 * ridge - 60.0 * (at.lat_deg - 45.0),
                      grain);
}

/* A low that moves up north-west of the direct way and against it: head winds
 * all along that side, fair ones round its back. */
struct low {
    double lat_deg, lon_deg, radius_deg, most_mps;
};

static struct low low_at(double hour) {
    return (struct low){.lat_deg = 36.0 + 0.055 * hour,
                        .lon_deg = -27.0 + 0.050 * hour,
                        .radius_deg = 4.0,
                        .most_mps = 14.0 - 8.0 * ramp(hour, 150.0, 30.0)};
}

/* Round the centre against the clock, 20 degrees inwards; the strength rises
 * with the distance to its radius and dies away beyond. */
static struct vector_mps wind_round(const struct low *low, struct position at,
                                    double *depth) {
    double north = at.lat_deg - low->lat_deg;
    double east =
        (at.lon_deg - low->lon_deg) * cos(at.lat_deg * RADIANS_PER_DEGREE);
    double part = hypot(east, north) / low->radius_deg;
    *depth = exp(0.5 * (1.0 - part * part));
    double from_deg =
        vector_direction_towards((struct vector_mps){east, north}) + 70.0;
    return vector_from(from_deg, low->most_mps * part * *depth);
}

/* North-easterlies, fresher and more easterly in the south; westerlies in the
 * far north. */
static struct vector_mps wind_about(struct position at, double hour) {
    double south = ramp(33.0 - at.lat_deg, 0.0, 3.0);
    double north = ramp(at.lat_deg, 48.0, 3.0);
    double swing_deg = 10.0 * sine(hour * 2.2 + at.lon_deg * 10.0);
    struct vector_mps trade =
        vector_from(20.0 + 35.0 * south + swing_deg,
                    4.5 + 2.5 * south + 0.8 * sine(hour * 4.0));
    struct vector_mps westerly =
        vector_from(280.0 + swing_deg, 6.0 + sine(at.lon_deg * 18.0));
    return (struct vector_mps){
        trade.east * (1.0 - north) + westerly.east * north,
        trade.north * (1.0 - north) + westerly.north * north};
}

struct ocean_weather ocean_weather_hard(struct position at, double hour) {
    double grain = texture(at, hour, 10.0), depth;
    struct low low = low_at(hour);
    struct vector_mps around = wind_round(&low, at, &depth);
    struct vector_mps wind = vector_plus(wind_about(at, hour), around);
    struct waves swell = {.height_m = 1.4 + 0.02 * (at.lat_deg - 35.0),
                          .period_s = 11.0,
                          .from_deg = 320.0 + 10.0 * sine(hour * 2.0)};
    return weather_of(wind, swell, 101900.0 - 1500.0 * depth, grain);
}
