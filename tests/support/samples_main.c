/* Makes grib-samples/: three invented forecasts and the passages that use
 * them. The weather is made of smooth formulas, with no random number in it:
 * the same bytes each time. */
#include "earth/angle.h"
#include "grib_maker.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { POINTS_LIMIT = 2000, PATH_SIZE = 4096 };

/* The weather at one place and hour. */
struct weather_at {
    double wind_mps, wind_from_deg, gust_mps, pressure_pa;
    struct waves {
        double height_m, period_s, from_deg;
    } wind_sea, swell[2];
    double current_mps, current_towards_deg;
    bool land; /* no waves there */
};

struct scenario {
    const char *name;
    struct civil run;
    double north_deg, west_deg, step_deg; /* west as it is written */
    int ni, nj;
    int hours, every;
    struct weather_at (*weather)(double lat_deg, double lon_deg, double hour);
    bool waves_apart; /* wind sea and two swells; else the combined sea */
    bool current;
    bool gust_over_interval;
};

static double sine(double degrees) {
    double s, c;
    sincos_deg(degrees, &s, &c);
    return s;
}

/* 1 at the middle, falling smoothly to 0 within a few widths. */
static double bump(double distance, double width) {
    double x = distance / width;
    return 1.0 / ((1.0 + x * x) * (1.0 + x * x));
}

/* --- the three scenarios --------------------------------------------------*/

/* A sea that has had a day or so to grow: about 0.85 of the fully developed
 * height 0.0246 U^2 (Pierson and Moskowitz 1964, from memory). */
static struct waves wind_sea(double wind_mps, double from_deg) {
    return (struct waves){.height_m = 0.021 * wind_mps * wind_mps,
                          .period_s = 1.2 + 0.58 * wind_mps,
                          .from_deg = from_deg};
}

static double add_heights(const struct weather_at *weather) {
    double sum = weather->wind_sea.height_m * weather->wind_sea.height_m;
    for (int i = 0; i < 2; i++)
        sum += weather->swell[i].height_m * weather->swell[i].height_m;
    return sqrt(sum);
}

/* North-east trades that swing from north-east to east and back; a trough
 * passes to the north from day two to day six and backs them; a northerly
 * swell rises in the middle of the crossing. */
static struct weather_at trades(double lat_deg, double lon_deg, double hour) {
    double trough_lon = -52.0 + hour * 0.22;
    double away = hypot(lat_deg - 31.0, (lon_deg - trough_lon) * 0.88);
    double trough = bump(away, 9.0);
    double swing = 22.0 * sine(hour * 360.0 / 156.0 - 70.0) +
                   7.0 * sine((lon_deg + 30.0) * 14.0 + hour * 3.2);
    double speed = 8.3 + 1.3 * sine(hour * 360.0 / 132.0 + 20.0) +
                   0.7 * sine((lat_deg - 18.0) * 20.0 + hour * 2.1) -
                   2.4 * trough;
    struct weather_at weather = {
        .wind_mps = speed,
        .wind_from_deg = angle_wrap_360(69.0 + swing - 22.0 * trough),
        .gust_mps = 1.3 * speed,
        .pressure_pa = 101500.0 + 55.0 * (lat_deg - 20.0) - 1400.0 * trough +
                       80.0 * sine(hour * 30.0)};
    weather.wind_sea = wind_sea(speed, weather.wind_from_deg);
    weather.swell[0] = (struct waves){
        .height_m =
            1.1 + 0.7 * bump(hour - 120.0, 60.0) + 0.02 * (lat_deg - 20.0),
        .period_s = 10.5 + 2.5 * bump(hour - 105.0, 50.0),
        .from_deg = angle_wrap_360(345.0 + 18.0 * sine(hour * 1.5))};
    weather.swell[1] =
        (struct waves){.height_m = 0.9 + 0.2 * sine(hour * 2.0 + lat_deg * 9.0),
                       .period_s = 8.2 + 0.5 * sine(hour * 1.7),
                       .from_deg = 78.0 + 8.0 * sine(hour * 2.4)};
    weather.current_mps =
        0.18 + 0.10 * sine((lat_deg - 12.0) * 12.0) + 0.03 * sine(hour);
    weather.current_towards_deg = 250.0 + 15.0 * sine(lon_deg * 11.0);
    return weather;
}

/* A summer northerly along a coast in the east: strongest in the afternoon and
 * near the shore. */
static struct weather_at northerly(double lat_deg, double lon_deg,
                                   double hour) {
    double afternoon = sine((hour - 9.0) * 15.0);
    double inshore = bump(lon_deg + 9.2, 1.8);
    double speed = 6.4 + 2.0 * inshore + 1.6 * afternoon * inshore +
                   0.5 * sine(lat_deg * 70.0 + hour * 4.0);
    struct weather_at weather = {
        .wind_mps = speed,
        .wind_from_deg =
            angle_wrap_360(352.0 + 16.0 * sine(hour * 7.0 + lat_deg * 40.0)),
        .gust_mps = 1.28 * speed,
        .pressure_pa = 101850.0 - 90.0 * (lon_deg + 10.0) - 60.0 * inshore,
        .land = lon_deg > -8.8};
    weather.wind_sea = wind_sea(0.9 * speed, weather.wind_from_deg);
    weather.swell[0] = (struct waves){.height_m = 1.4 + 0.2 * sine(hour * 3.0),
                                      .period_s = 11.0,
                                      .from_deg = 312.0};
    weather.swell[1] = weather.swell[0];
    weather.swell[1].height_m = 0.0;
    return weather;
}

/* South-east trades with an old south-westerly swell. */
static struct weather_at southern_trades(double lat_deg, double lon_deg,
                                         double hour) {
    double speed = 8.0 + 1.4 * sine(hour * 4.5 + lat_deg * 15.0) +
                   0.6 * sine(lon_deg * 25.0);
    struct weather_at weather = {
        .wind_mps = speed,
        .wind_from_deg =
            112.0 + 22.0 * sine(hour * 3.4 - 40.0) + 5.0 * sine(lon_deg * 20.0),
        .gust_mps = 1.3 * speed,
        .pressure_pa =
            101600.0 - 70.0 * (lat_deg + 25.0) + 60.0 * sine(hour * 30.0)};
    weather.wind_sea = wind_sea(speed, weather.wind_from_deg);
    weather.swell[0] =
        (struct waves){.height_m = 1.6 + 0.3 * sine(hour * 2.5),
                       .period_s = 12.5,
                       .from_deg = 210.0 + 10.0 * sine(hour * 2.0)};
    weather.swell[1] = weather.swell[0];
    weather.swell[1].height_m = 0.0;
    return weather;
}

/* --- fields ---------------------------------------------------------------*/

enum quantity_kind {
    WIND_EAST,
    WIND_NORTH,
    GUST,
    PRESSURE,
    HEIGHT_ALL,
    WIND_SEA, /* height, period, direction */
    SWELL_1 = WIND_SEA + 3,
    SWELL_2 = SWELL_1 + 3,
    CURRENT_EAST = SWELL_2 + 3,
    CURRENT_NORTH,
    KINDS
};

/* How each is written: discipline, category, number, level type and level. */
static const int codes[KINDS][5] = {
    [WIND_EAST] = {0, 2, 2, 103, 10},   [WIND_NORTH] = {0, 2, 3, 103, 10},
    [GUST] = {0, 2, 22, 103, 10},       [PRESSURE] = {0, 3, 1, 101, 0},
    [HEIGHT_ALL] = {10, 0, 3, 1, 0},    [WIND_SEA] = {10, 0, 5, 1, 0},
    [WIND_SEA + 1] = {10, 0, 6, 1, 0},  [WIND_SEA + 2] = {10, 0, 4, 1, 0},
    [SWELL_1] = {10, 0, 8, 241, 1},     [SWELL_1 + 1] = {10, 0, 9, 241, 1},
    [SWELL_1 + 2] = {10, 0, 7, 241, 1}, [SWELL_2] = {10, 0, 8, 241, 2},
    [SWELL_2 + 1] = {10, 0, 9, 241, 2}, [SWELL_2 + 2] = {10, 0, 7, 241, 2},
    [CURRENT_EAST] = {10, 1, 2, 1, 0},  [CURRENT_NORTH] = {10, 1, 3, 1, 0}};

static double wave_value(const struct waves *waves, int part) {
    return part == 0   ? waves->height_m
           : part == 1 ? waves->period_s
                       : angle_wrap_360(waves->from_deg);
}

static double value_of(const struct weather_at *weather, int kind) {
    struct vector_mps wind =
        vector_from(weather->wind_from_deg, weather->wind_mps);
    struct vector_mps current =
        vector_towards(weather->current_towards_deg, weather->current_mps);
    switch (kind) {
    case WIND_EAST:
        return wind.east;
    case WIND_NORTH:
        return wind.north;
    case GUST:
        return weather->gust_mps;
    case PRESSURE:
        return weather->pressure_pa;
    case HEIGHT_ALL:
        return add_heights(weather);
    case CURRENT_EAST:
        return current.east;
    case CURRENT_NORTH:
        return current.north;
    default:
        break;
    }
    if (kind >= SWELL_2)
        return wave_value(&weather->swell[1], kind - SWELL_2);
    if (kind >= SWELL_1)
        return wave_value(&weather->swell[0], kind - SWELL_1);
    return wave_value(&weather->wind_sea, kind - WIND_SEA);
}

static const double HOLE = 9999.0;

static void fill_values(const struct scenario *scenario, int kind, int hour,
                        double *values) {
    for (int k = 0; k < scenario->ni * scenario->nj; k++) {
        double lat =
            scenario->north_deg - scenario->step_deg * (k / scenario->ni);
        double lon =
            scenario->west_deg + scenario->step_deg * (k % scenario->ni);
        struct weather_at weather = scenario->weather(lat, lon, hour);
        bool wave = kind >= HEIGHT_ALL && kind < CURRENT_EAST;
        values[k] = wave && weather.land ? HOLE : value_of(&weather, kind);
    }
}

/* A maximum over the hours before: the end is written, and the length. */
static void make_interval(struct grib_spec *spec,
                          const struct scenario *scenario, int hour) {
    struct instant run;
    instant_from_civil(spec->run, &run);
    struct civil end = instant_to_civil(instant_plus(run, hour * 3600.0));
    spec->product = 8;
    spec->lead = hour - scenario->every;
    const struct grib_setting settings[] = {
        {"yearOfEndOfOverallTimeInterval", end.year},
        {"monthOfEndOfOverallTimeInterval", end.month},
        {"dayOfEndOfOverallTimeInterval", end.day},
        {"hourOfEndOfOverallTimeInterval", end.hour},
        {"minuteOfEndOfOverallTimeInterval", 0},
        {"secondOfEndOfOverallTimeInterval", 0},
        {"typeOfStatisticalProcessing", 2},
        {"indicatorOfUnitForTimeRange", 1},
        {"lengthOfTimeRange", scenario->every}};
    memcpy(spec->early, settings, sizeof settings);
}

static void add_field(struct grib_bytes *bytes, const struct scenario *scenario,
                      int kind, int hour) {
    double values[POINTS_LIMIT];
    struct grib_spec spec = {
        .edition = 2,
        .discipline = codes[kind][0],
        .category = codes[kind][1],
        .number = codes[kind][2],
        .level_type = codes[kind][3],
        .level = codes[kind][4],
        .run = scenario->run,
        .lead = hour,
        .ni = scenario->ni,
        .nj = scenario->nj,
        .first_lat = scenario->north_deg,
        .first_lon = scenario->west_deg,
        .last_lat =
            scenario->north_deg - scenario->step_deg * (scenario->nj - 1),
        .last_lon =
            scenario->west_deg + scenario->step_deg * (scenario->ni - 1),
        .values = values,
        .bits = 12};
    fill_values(scenario, kind, hour, values);
    for (int i = 0; i < scenario->ni * scenario->nj; i++)
        spec.masked |= values[i] > HOLE - 1.0;
    spec.hole = HOLE;
    if (kind == GUST && scenario->gust_over_interval) {
        if (hour == 0)
            return;
        make_interval(&spec, scenario, hour);
    }
    grib_add(bytes, &spec);
}

static bool has_kind(const struct scenario *scenario, int kind) {
    if (kind >= CURRENT_EAST)
        return scenario->current;
    return kind < SWELL_2 || scenario->waves_apart;
}

static void make_file(const struct scenario *scenario, const char *folder) {
    struct grib_bytes bytes = {0};
    char path[PATH_SIZE];
    for (int hour = 0; hour <= scenario->hours; hour += scenario->every) {
        for (int kind = 0; kind < KINDS; kind++) {
            if (has_kind(scenario, kind))
                add_field(&bytes, scenario, kind, hour);
        }
    }
    snprintf(path, sizeof path, "%s/%s.grib2", folder, scenario->name);
    grib_save(&bytes, path);
    printf("%s: %zu bytes\n", path, bytes.size);
    grib_free(&bytes);
}

/* --- texts ----------------------------------------------------------------*/

static void write_text(const char *folder, const char *name, const char *text) {
    char path[PATH_SIZE];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *stream = fopen(path, "w");
    if (!stream || fputs(text, stream) < 0 || fclose(stream) != 0) {
        fprintf(stderr, "can't write %s\n", path);
        exit(1);
    }
}

static const char trade_passage[] =
    "# An invented crossing in invented weather: see README.md here.\n"
    "[passage]\n"
    "name = Trade crossing (invented)\n"
    "boat = ../polars/wanderer-12.ini\n"
    "forecast = trade-crossing.grib2\n"
    "from = 24 30.0 N 18 30.0 W\n"
    "to = 16 00.0 N 40 00.0 W\n"
    "depart = 2026-03-10T06:00Z\n"
    "\n"
    "[crew]\n"
    "names = Ann, Bo\n"
    "watch_hours = 4\n"
    "watch_start = 20:00\n";

static const char coastal_passage[] =
    "# An invented hop in invented weather: see README.md here.\n"
    "[passage]\n"
    "name = Coastal hop (invented)\n"
    "boat = ../polars/heron-9.ini\n"
    "forecast = coastal-hop.grib2\n"
    "from = 39 18.0 N 9 48.0 W\n"
    "to = 36 51.0 N 9 24.0 W\n"
    "depart = 2026-06-21T04:00Z\n";

static const char dateline_passage[] =
    "# An invented hop across 180 degrees: see README.md here.\n"
    "[passage]\n"
    "name = Across 180 (invented)\n"
    "boat = ../polars/wanderer-12.ini\n"
    "forecast = dateline-hop.grib2\n"
    "from = 26 12.0 S 175 48.0 W\n"
    "to = 25 24.0 S 177 36.0 E\n"
    "depart = 2026-07-02T03:00Z\n";

static const char readme[] =
    "# Sample forecasts\n"
    "\n"
    "Invented data: no weather centre made them, nothing in them ever blew. "
    "They are\n"
    "there to try the program without a download. `make samples` makes them "
    "anew from\n"
    "formulas (tests/support/samples_main.c), the same bytes each time.\n"
    "Never sail by them.\n"
    "\n"
    "| file | what it tells |\n"
    "|---|---|\n"
    "| `trade-crossing.grib2` | ten days of north-east trades, 10 to 20 kn, "
    "that swing between north-east and east-south-east; a trough passes to "
    "the north; wind sea, two swells, current; 1 degree, 6 h |\n"
    "| `coastal-hop.grib2` | two days of northerly along a coast, fresher in "
    "the afternoon; land is masked in the waves; 0.25 degree, 3 h |\n"
    "| `dateline-hop.grib2` | four days of south-east trades on both sides "
    "of 180 degrees; 0.5 degree, 6 h |\n"
    "\n"
    "Each has a passage file of the same name, ready for `sparwise plan`:\n"
    "\n"
    "    sparwise plan grib-samples/trade-crossing.ini\n"
    "\n"
    "Waves come from where their direction says. Gusts of the crossing are "
    "maxima over\n"
    "the six hours before; those of the other two hold at an instant.\n";

int main(int count, char **arguments) {
    static const struct scenario scenarios[] = {{.name = "trade-crossing",
                                                 .run = {2026, 3, 10, 0, 0, 0},
                                                 .north_deg = 30.0,
                                                 .west_deg = -46.0,
                                                 .step_deg = 1.0,
                                                 .ni = 33,
                                                 .nj = 21,
                                                 .hours = 240,
                                                 .every = 6,
                                                 .weather = trades,
                                                 .waves_apart = true,
                                                 .current = true,
                                                 .gust_over_interval = true},
                                                {.name = "coastal-hop",
                                                 .run = {2026, 6, 21, 0, 0, 0},
                                                 .north_deg = 40.0,
                                                 .west_deg = -12.0,
                                                 .step_deg = 0.25,
                                                 .ni = 17,
                                                 .nj = 17,
                                                 .hours = 48,
                                                 .every = 3,
                                                 .weather = northerly},
                                                {.name = "dateline-hop",
                                                 .run = {2026, 7, 2, 0, 0, 0},
                                                 .north_deg = -22.0,
                                                 .west_deg = 174.0,
                                                 .step_deg = 0.5,
                                                 .ni = 29,
                                                 .nj = 15,
                                                 .hours = 96,
                                                 .every = 6,
                                                 .weather = southern_trades}};
    if (count != 2) {
        fprintf(stderr, "usage: samples_main FOLDER\n");
        return 2;
    }
    mkdir(arguments[1], 0777);
    for (size_t i = 0; i < sizeof scenarios / sizeof *scenarios; i++)
        make_file(&scenarios[i], arguments[1]);
    write_text(arguments[1], "trade-crossing.ini", trade_passage);
    write_text(arguments[1], "coastal-hop.ini", coastal_passage);
    write_text(arguments[1], "dateline-hop.ini", dateline_passage);
    write_text(arguments[1], "README.md", readme);
    return 0;
}
