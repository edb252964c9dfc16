/* Model of the load, ours, calculated. The sail is strips from luff to leech,
 * each a parabola of 15 % depth under even pressure: a strip pulls its ends
 * together with 1 / (8 x 0.15) of its load, and half of the load crosses the
 * wind at either end. Strips shorten evenly upwards, so 2/3 of what the leech
 * gathers comes to the clew, the rest to the head: along the spar 2/3 / 1.2 =
 * 5/9 of the sail's force. The sheet that runs through the spar's end pulls as
 * hard as the clew, and as the end takes load along the spar only, it does so
 * at the same angle: twice 5/9. */
#include "boat/strength.h"

#include "boat/apparent.h"
#include "boat/tube.h"
#include "earth/angle.h"
#include <assert.h>
#include <math.h>

#define AIR_DENSITY_KG_M3 1.225 /* standard atmosphere, sea level, 15 C */

#define M_PER_MM 1e-3

/* No mode reaches further forward: ranges start at 60 degrees of apparent wind,
 * and the true wind is further aft. */
enum { TWA_FIRST = 60, TWA_LAST = 180 };

/* How closely the steady wind is found in which the margin ends: 0.1 kn. */
#define WIND_STEP_MPS 0.05

enum strength_basis strength_basis(const struct spar *spar) {
    if (spar->max_compression_n.known)
        return STRENGTH_MAKER;
    bool material = spar->material && *spar->material;
    if (!spar->tube_diameter_mm.known && !spar->wall_mm.known && !material)
        return STRENGTH_NOT_GIVEN;
    if (material && !material_named(spar->material))
        return STRENGTH_MATERIAL;
    if (!spar->tube_diameter_mm.known || !spar->wall_mm.known || !material)
        return STRENGTH_INCOMPLETE;
    return STRENGTH_TUBE;
}

struct figure strength_safe_n(const struct spar *spar, double length_m) {
    enum strength_basis basis = strength_basis(spar);
    if (basis == STRENGTH_MAKER)
        return spar->max_compression_n;
    if (basis != STRENGTH_TUBE)
        return figure_unknown();
    struct tube tube = {M_PER_MM * spar->tube_diameter_mm.value,
                        M_PER_MM * spar->wall_mm.value};
    return figure_of(
        tube_load_n(tube, material_named(spar->material), length_m) /
        STRENGTH_SAFETY);
}

double wind_pressure_pa(double wind_mps) {
    return 0.5 * AIR_DENSITY_KG_M3 * wind_mps * wind_mps;
}

double strength_load_n(double aws_mps, double area_m2, bool to_windward) {
    double force = to_windward ? SAIL_FORCE_WING : SAIL_FORCE_REACH;
    return COMPRESSION_FRAC * force * area_m2 * wind_pressure_pa(aws_mps);
}

/* The boat's speed with the spar in that mode; false where she can't. */
static bool goes(const struct boat *boat, bool to_windward, double twa_deg,
                 double tws_mps, double *boat_mps) {
    *boat_mps = boat->factor * polar_speed(&boat->spar_out, twa_deg, tws_mps);
    return *boat_mps > 0.0 &&
           spar_allows_angle(
               &boat->spar, to_windward,
               apparent_wind(twa_deg, tws_mps, *boat_mps).awa_deg);
}

/* A sail that comes off in less wind than the mode allows has its gusts, too,
 * so much earlier: the boat file gives none for it. */
static void put_winds(struct strength_limits *limits, const struct boat *boat,
                      const struct headsail *sail, bool to_windward) {
    const struct spar *spar = &boat->spar;
    double wind =
        to_windward ? spar->wing_max_wind_mps : spar->reach_max_wind_mps;
    double gust =
        to_windward ? spar->wing_max_gust_mps : spar->reach_max_gust_mps;
    limits->wind_mps = wind;
    if (sail->max_wind_mps.known)
        limits->wind_mps = fmin(wind, sail->max_wind_mps.value);
    limits->gust_mps = gust * limits->wind_mps / wind;
}

/* The most apparent wind at any angle of the mode with the boat going as in
 * `wind_mps` while it blows `gust_mps`; unknown where no angle serves. */
static struct figure most_aws(const struct boat *boat, bool to_windward,
                              double wind_mps, double gust_mps) {
    struct figure most = figure_unknown();
    for (int twa = TWA_FIRST; twa <= TWA_LAST; twa++) {
        double boat_mps;
        if (goes(boat, to_windward, twa, wind_mps, &boat_mps))
            most = figure_max(
                most, figure_of(apparent_speed(twa, gust_mps, boat_mps)));
    }
    return most;
}

struct strength_limits strength_limits(const struct boat *boat,
                                       const struct headsail *sail,
                                       bool to_windward) {
    struct strength_limits limits = {.usable = false};
    put_winds(&limits, boat, sail, to_windward);
    struct figure wind =
        most_aws(boat, to_windward, limits.wind_mps, limits.wind_mps);
    struct figure gust =
        most_aws(boat, to_windward, limits.wind_mps, limits.gust_mps);
    limits.usable = wind.known;
    limits.wind_aws_mps = wind.value;
    limits.gust_aws_mps = gust.value;
    return limits;
}

/* At each angle the triangle turned round: G^2 + 2 G V cos + V^2 = AWS^2. The
 * least gust of all angles; where her own way alone makes more than that
 * apparent wind, the gust at which it is least. */
static double gust_with(const struct boat *boat, bool to_windward,
                        double wind_mps, double aws_mps) {
    double least_mps = HUGE_VAL;
    for (int twa = TWA_FIRST; twa <= TWA_LAST; twa++) {
        double boat_mps, sine, cosine;
        if (!goes(boat, to_windward, twa, wind_mps, &boat_mps))
            continue;
        sincos_deg(twa, &sine, &cosine);
        double across = boat_mps * sine;
        double room = aws_mps * aws_mps - across * across;
        least_mps = fmin(least_mps, sqrt(fmax(room, 0.0)) - boat_mps * cosine);
    }
    return fmax(least_mps, 0.0);
}

/* The steady wind up to which no angle has more apparent wind; at `most_mps`
 * one has. */
static double wind_with(const struct boat *boat, bool to_windward,
                        double most_mps, double aws_mps) {
    double wind_mps = 0.0;
    for (int step = 1; step * WIND_STEP_MPS < most_mps; step++) {
        double next_mps = step * WIND_STEP_MPS;
        struct figure felt = most_aws(boat, to_windward, next_mps, next_mps);
        if (felt.known && felt.value > aws_mps)
            break;
        wind_mps = next_mps;
    }
    return wind_mps;
}

struct strength_end strength_end(const struct boat *boat,
                                 const struct headsail *sail, bool to_windward,
                                 const struct strength_limits *limits,
                                 double safe_n) {
    assert(limits->usable && sail->area_m2.known && safe_n > 0.0);
    double unit_n = strength_load_n(1.0, sail->area_m2.value, to_windward);
    struct strength_end end = {.aws_mps = sqrt(safe_n / unit_n)};
    end.steady = limits->wind_aws_mps > end.aws_mps;
    end.wind_mps =
        end.steady
            ? wind_with(boat, to_windward, limits->wind_mps, end.aws_mps)
            : gust_with(boat, to_windward, limits->wind_mps, end.aws_mps);
    return end;
}
