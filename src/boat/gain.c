#include "boat/gain.h"

#include "boat/apparent.h"
#include "earth/angle.h"
#include <math.h>

struct gain gain_at(const struct boat *boat, double twa_deg, double tws_mps) {
    const struct spar *spar = &boat->spar;
    struct gain gain = {
        .stowed_mps =
            boat->factor * polar_speed(&boat->stowed, twa_deg, tws_mps),
        .spar_mps =
            boat->factor * polar_speed(&boat->spar_out, twa_deg, tws_mps)};
    if (gain.spar_mps <= 0.0)
        return gain;
    struct apparent felt = apparent_wind(twa_deg, tws_mps, gain.spar_mps);
    gain.usable_wing = spar_allows_angle(spar, true, felt.awa_deg) &&
                       spar_allows_wind(spar, true, tws_mps);
    gain.usable_reach = spar_allows_angle(spar, false, felt.awa_deg) &&
                        spar_allows_wind(spar, false, tws_mps);
    return gain;
}

struct downwind gain_downwind(const struct boat *boat, double tws_mps) {
    struct downwind best = {.spar_twa_deg = 180.0};
    best.stowed_mps = boat->factor * polar_best_downwind(&boat->stowed, tws_mps,
                                                         &best.stowed_twa_deg);
    for (int tenth = 1800; tenth >= 900; tenth--) {
        double twa_deg = tenth / 10.0, sine, cosine;
        struct gain gain = gain_at(boat, twa_deg, tws_mps);
        if (!gain.usable_wing && !gain.usable_reach)
            continue;
        best.spar_usable = true;
        sincos_deg(twa_deg, &sine, &cosine);
        if (-cosine * gain.spar_mps > best.spar_mps) {
            best.spar_mps = -cosine * gain.spar_mps;
            best.spar_twa_deg = twa_deg;
        }
    }
    return best;
}

/* With t the minutes of set and stow, in which the boat makes w of her stowed
 * speed on the course itself: D / without = t + (D - t w V180) / with. */
struct figure gain_break_even_m(const struct boat *boat, double tws_mps) {
    struct downwind best = gain_downwind(boat, tws_mps);
    if (!best.spar_usable || best.stowed_mps <= 0.0 ||
        best.spar_mps <= best.stowed_mps)
        return figure_unknown();
    double at_work_mps =
        boat->spar.work_speed_frac * gain_at(boat, 180.0, tws_mps).stowed_mps;
    double work_s = boat->spar.set_s + boat->spar.stow_s;
    double lost_s = work_s * (1.0 - at_work_mps / best.spar_mps);
    return figure_of(fmax(lost_s, 0.0) /
                     (1.0 / best.stowed_mps - 1.0 / best.spar_mps));
}

double spar_length_for(const struct spar *spar, const struct headsail *sail,
                       struct arena *arena, const char **warning) {
    double shortest_m = spar->length_m[0], full_m = spar->length_m[1];
    double strong_m = spar_strong_length_m(spar);
    *warning = NULL;
    if (sail->foot_m > full_m)
        *warning = arena_print(
            arena, "the foot of %.1f m is longer than the spar of %.1f m",
            sail->foot_m, full_m);
    else if (sail->foot_m < shortest_m)
        *warning = arena_print(
            arena, "the foot of %.1f m is shorter than the spar of %.1f m",
            sail->foot_m, shortest_m);
    else if (sail->foot_m > strong_m)
        *warning = arena_print(
            arena,
            "the foot of %.1f m asks for more than %.1f m, and the spar "
            "weakens towards its full length of %.1f m",
            sail->foot_m, strong_m, full_m);
    return fmax(fmin(sail->foot_m, strong_m), shortest_m);
}

double spar_strong_length_m(const struct spar *spar) {
    double shortest_m = spar->length_m[0], full_m = spar->length_m[1];
    if (full_m - shortest_m < SPAR_FIXED_M)
        return full_m;
    return fmax(SPAR_STRONG_FRAC * full_m, shortest_m);
}
