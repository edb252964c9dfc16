#include "crossing.h"

#include "check.h"
#include "earth/angle.h"
#include "earth/geodesic.h"
#include "grib_maker.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A voyage as a plan has it, over open water. */
static void fill(struct crossing *crossing) {
    const struct request *request = &crossing->request;
    crossing->weather = weather_view(&crossing->world, request);
    crossing->voyage = (struct voyage){
        .boat = &crossing->world.boat,
        .ease = request->ease,
        .spar_allowed = true,
        .max_wind_mps = request->max_wind_mps,
        .max_gust_mps = request->max_gust_mps,
        .max_wave_m = request->max_wave_m,
        .finish = request->to,
        .step_s = VOYAGE_STEP_S,
        .max_current_mps = crossing->world.max_current_mps,
        .grain = crossing->world.grain,
        .conditions = weather_conditions,
        .weather = &crossing->weather,
    };
    crossing->asked = (struct search_request){
        .from = request->from, .to = request->to, .start = request->start};
}

/* What an option of the command line says. */
struct said {
    const char *option, *value;
};

/* `path`: a passage file, or NULL. */
static void open_crossing(struct crossing *crossing, const char *path,
                          const struct said *said, size_t count) {
    struct request *request = &crossing->request;
    struct error error;
    arena_init(&crossing->arena);
    if (!request_load(request, path, &crossing->arena, &error))
        fail_msg("%s", error.text);
    for (size_t i = 0; i < count; i++)
        if (!request_option(request, said[i].option, said[i].value,
                            &crossing->arena, &error))
            fail_msg("%s", error.text);
    if (!request_resolve(request, false, &crossing->arena, &error) ||
        !world_load(&crossing->world, request, &crossing->arena, &error))
        fail_msg("%s", error.text);
    fill(crossing);
}

void crossing_trades(struct crossing *crossing) {
    static const struct said said[] = {{"coast", "none"}};
    *crossing = (struct crossing){.name = "trades"};
    open_crossing(crossing, "grib-samples/trade-crossing.ini", said, 1);
}

void crossing_hop(struct crossing *crossing) {
    static const struct said said[] = {{"coast", "none"}};
    *crossing = (struct crossing){.name = "hop"};
    open_crossing(crossing, "grib-samples/coastal-hop.ini", said, 1);
}

bool crossing_madagascar(struct crossing *crossing) {
    const char *path =
        check_real_file("1-wind-series/madagascar-wind-7days.grb");
    *crossing = (struct crossing){.name = "madagascar"};
    if (!path)
        return false;
    const struct said said[] = {{"coast", "none"},
                                {"name", "madagascar"},
                                {"boat", "polars/wanderer-12.ini"},
                                {"forecast", path},
                                {"from", "19 30.0 S 58 00.0 E"},
                                {"to", "27 30.0 S 49 00.0 E"},
                                {"depart", "2016-03-01T18:00Z"}};
    open_crossing(crossing, NULL, said, sizeof said / sizeof *said);
    return true;
}

/* --- the low --------------------------------------------------------------*/

/* All of it invented. */
enum { LOW_HOURS = 240, LOW_EVERY = 6, LOW_NI = 51, LOW_NJ = 31 };
static const double LOW_NORTH = 50.0, LOW_WEST = -60.0;

/* Round the middle the wind blows as in a vortex whose speed is greatest at
 * LOW_CORE_DEG from it, anticlockwise and a little inwards. */
static const double LOW_CORE_DEG = 4.0, LOW_TOP_MPS = 13.0;
static const double LOW_INWARDS_DEG = 20.0;

static struct vector_mps low_wind(double lat_deg, double lon_deg, double hour) {
    double middle_lat = 30.5 + 0.020 * hour, middle_lon = -55.0 + 0.20 * hour;
    double north = lat_deg - middle_lat;
    double east = (lon_deg - middle_lon) * 0.8;
    double part = hypot(north, east) / LOW_CORE_DEG;
    double speed = LOW_TOP_MPS * part * exp(0.5 * (1.0 - part * part));
    double outwards_deg =
        vector_direction_towards((struct vector_mps){east, north});
    struct vector_mps turning =
        vector_towards(outwards_deg - 90.0 - LOW_INWARDS_DEG, speed);
    struct vector_mps steady = vector_from(250.0, 5.0);
    return vector_plus(turning, steady);
}

static void add_low(struct grib_bytes *bytes, int hour) {
    static double values[3][LOW_NI * LOW_NJ];
    static const int numbers[3] = {2, 3, 22}; /* WMO code table 4.2-0-2 */
    for (int k = 0; k < LOW_NI * LOW_NJ; k++) {
        int row = k / LOW_NI, column = k % LOW_NI;
        struct vector_mps wind =
            low_wind(LOW_NORTH - row, LOW_WEST + column, (double)hour);
        values[0][k] = wind.east;
        values[1][k] = wind.north;
        values[2][k] = 1.3 * vector_length(wind);
    }
    for (int i = 0; i < 3; i++) {
        struct grib_spec spec = {.category = 2,
                                 .number = numbers[i],
                                 .run = {2026, 6, 1, 0, 0, 0},
                                 .lead = hour,
                                 .ni = LOW_NI,
                                 .nj = LOW_NJ,
                                 .first_lat = LOW_NORTH,
                                 .first_lon = LOW_WEST,
                                 .last_lat = LOW_NORTH - (LOW_NJ - 1),
                                 .last_lon = LOW_WEST + (LOW_NI - 1),
                                 .values = values[i]};
        grib_add(bytes, &spec);
    }
}

void crossing_low(struct crossing *crossing) {
    struct grib_bytes bytes = {0};
    const char *path = check_write("low.grib2", "");
    for (int hour = 0; hour <= LOW_HOURS; hour += LOW_EVERY)
        add_low(&bytes, hour);
    grib_save(&bytes, path);
    grib_free(&bytes);
    const struct said said[] = {{"coast", "none"},
                                {"name", "low"},
                                {"boat", "polars/wanderer-12.ini"},
                                {"forecast", path},
                                {"from", "32 00.0 N 48 00.0 W"},
                                {"to", "38 00.0 N 27 00.0 W"},
                                {"depart", "2026-06-01T00:00Z"}};
    *crossing = (struct crossing){.name = "low"};
    open_crossing(crossing, NULL, said, sizeof said / sizeof *said);
}

void crossing_free(struct crossing *crossing) {
    arena_free(&crossing->arena);
}
