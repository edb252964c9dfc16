#include "report/boat_report.h"

#include "base/units.h"
#include "boat/doubts.h"
#include "boat/gain.h"
#include "report/listing.h"
#include "report/spar_report.h"
#include <math.h>
#include <string.h>

enum { ANGLE_FIRST = 90, ANGLE_LAST = 180, ANGLE_STEP = 10 };

/* Winds of the tables, knots. */
static const double winds_kn[] = {6, 8, 10, 12, 14, 16, 18, 20, 22, 25};

enum { WINDS = sizeof winds_kn / sizeof *winds_kn };

/* Slower by less than this is no matter: polars are not that sharp. */
#define SLOWER_KN 0.05

/* Where the cell that the report echoes is looked for. */
#define ECHO_STOWED_DEG 90.0
#define ECHO_SPAR_DEG 150.0
#define ECHO_WIND_KN 10.0

static const char *file_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* --- how the files were read
 * ----------------------------------------------------- */

static size_t nearest(const double *axis, size_t count, double wanted) {
    size_t best = 0;
    for (size_t i = 1; i < count; i++)
        if (fabs(axis[i] - wanted) < fabs(axis[best] - wanted))
            best = i;
    return best;
}

/* One cell as it was read, so that a table read in the wrong columns or units
 * is seen at once. */
static void print_polar(FILE *stream, const char *label, const char *path,
                        const struct polar *polar, double angle_deg) {
    size_t row = nearest(polar->angle_deg, polar->angles, angle_deg);
    size_t column =
        nearest(polar->wind_mps, polar->winds, kn_to_mps(ECHO_WIND_KN));
    fprintf(stream, "%s", label);
    listing_name(stream, file_name(path));
    fprintf(stream,
            ":\n              %zu angles %g to %g deg, %zu winds %.4g to "
            "%.4g kn\n              %g deg / %.4g kn = %.4g kn\n",
            polar->angles, polar->angle_deg[0],
            polar->angle_deg[polar->angles - 1], polar->winds,
            mps_to_kn(polar->wind_mps[0]),
            mps_to_kn(polar->wind_mps[polar->winds - 1]), polar->angle_deg[row],
            mps_to_kn(polar->wind_mps[column]),
            mps_to_kn(polar->speed_mps[row * polar->winds + column]));
}

static void print_period(FILE *stream, const struct boat *boat) {
    const char *how = "measured";
    if (boat->roller.period_estimated)
        how = boat->metacentric_height_m.known
                  ? "estimated from the metacentric height"
                  : "estimated from the beam";
    fprintf(stream, "Roll period   %.1f s, %s\n", boat->roller.period_s, how);
}

static void print_range(FILE *stream, const char *label,
                        const double range_deg[2], double margin_deg,
                        double wind_mps, double gust_mps) {
    double last_deg =
        range_deg[1] >= 180.0 ? range_deg[1] : range_deg[1] - margin_deg;
    fprintf(stream, "%sAWA %g to %g deg, wind to %.4g kn, gusts to %.4g kn\n",
            label, range_deg[0] + margin_deg, last_deg, mps_to_kn(wind_mps),
            mps_to_kn(gust_mps));
}

static void print_files(FILE *stream, const struct boat *boat) {
    const struct spar *spar = &boat->spar;
    print_polar(stream, "Spar stowed   ", boat->stowed_path, &boat->stowed,
                ECHO_STOWED_DEG);
    print_polar(stream, "Spar out      ", boat->spar_path, &boat->spar_out,
                ECHO_SPAR_DEG);
    fprintf(stream, "Factor        %g by day, %g at night\n", boat->factor,
            boat->factor * boat->night_factor);
    print_period(stream, boat);
    print_range(stream, "Wing-and-wing ", spar->wing_awa_deg,
                spar->angle_margin_deg, spar->wing_max_wind_mps,
                spar->wing_max_gust_mps);
    print_range(stream, "Poled reach   ", spar->reach_awa_deg,
                spar->angle_margin_deg, spar->reach_max_wind_mps,
                spar->reach_max_gust_mps);
}

/* --- where the spar gains
 * ---------------------------------------------------------- */

static bool is_usable(const struct gain *gain) {
    return gain->usable_wing || gain->usable_reach;
}

static double gain_kn(const struct gain *gain) {
    return mps_to_kn(gain->spar_mps - gain->stowed_mps);
}

static char mode_letter(const struct gain *gain) {
    if (gain->usable_wing)
        return gain->usable_reach ? 'e' : 'w';
    return 'r';
}

static void print_gain_row(FILE *stream, const struct boat *boat, int twa_deg) {
    fprintf(stream, "%5d  ", twa_deg);
    for (size_t i = 0; i < WINDS; i++) {
        struct gain gain = gain_at(boat, twa_deg, kn_to_mps(winds_kn[i]));
        if (is_usable(&gain))
            /* + 0.0 after rounding: no "-0.0" */
            fprintf(stream, "  %+4.1f%c",
                    round(gain_kn(&gain) * 10.0) / 10.0 + 0.0,
                    mode_letter(&gain));
        else
            fprintf(stream, "      .");
    }
    fputc('\n', stream);
}

static void print_gains(FILE *stream, const struct boat *boat) {
    listing_heading(stream, "What the spar gains, in knots through the water");
    fputs("TWA deg\n  TWS kn", stream);
    for (size_t i = 0; i < WINDS; i++)
        fprintf(stream, i == 0 ? "%5g" : "%7g", winds_kn[i]);
    fputc('\n', stream);
    for (int twa = ANGLE_FIRST; twa <= ANGLE_LAST; twa += ANGLE_STEP)
        print_gain_row(stream, boat, twa);
    fputs(
        "w wing-and-wing (spar to windward), r poled reach (spar to leeward), "
        "e either,\n. outside the spar's angles or winds; gusts are not "
        "counted\n",
        stream);
}

static void print_downwind_row(FILE *stream, const struct boat *boat,
                               double wind_kn) {
    double tws_mps = kn_to_mps(wind_kn);
    struct downwind best = gain_downwind(boat, tws_mps);
    fprintf(stream, "%6g %10.2f %8.0f", wind_kn, mps_to_kn(best.stowed_mps),
            best.stowed_twa_deg);
    if (!best.spar_usable) {
        fputs("          .        .        .          .\n", stream);
        return;
    }
    fprintf(stream, " %10.2f %8.0f %+8.2f", mps_to_kn(best.spar_mps),
            best.spar_twa_deg, mps_to_kn(best.spar_mps - best.stowed_mps));
    struct figure distance_m = gain_break_even_m(boat, tws_mps);
    if (distance_m.known)
        fprintf(stream, " %10.1f\n", m_to_nmi(distance_m.value));
    else
        fputs("      never\n", stream);
}

static void print_downwind(FILE *stream, const struct boat *boat) {
    listing_heading(stream, "Dead downwind: best speed made good");
    fputs(
        "   TWS     stowed   at TWA   spar out   at TWA     gain  pays from\n"
        "    kn         kn      deg         kn      deg       kn        nmi\n",
        stream);
    for (size_t i = 0; i < WINDS; i++)
        print_downwind_row(stream, boat, winds_kn[i]);
    fprintf(stream,
            "\"pays from\": a leg of that length makes good the time lost by "
            "one set\n(%.4g min) and one stow (%.4g min), by day\n",
            boat->spar.set_s / SECONDS_PER_MINUTE,
            boat->spar.stow_s / SECONDS_PER_MINUTE);
}

/* --- warnings
 * ---------------------------------------------------------- */

/* Headsails that come off before the spar's own limit. */
static int warn_of_sails(FILE *stream, const struct boat *boat) {
    int count = 0;
    double limit_mps =
        fmax(boat->spar.wing_max_wind_mps, boat->spar.reach_max_wind_mps);
    double strongest_mps = 0.0;
    for (size_t i = 0; i < boat->headsail_count; i++) {
        struct figure own = boat->headsails[i].max_wind_mps;
        strongest_mps = fmax(strongest_mps, own.known ? own.value : limit_mps);
    }
    if (boat->headsail_count > 0 && strongest_mps < limit_mps) {
        count++;
        listing_item(
            stream,
            "the spar may be out to %.4g kn, and no headsail listed is for "
            "more than %.4g kn",
            mps_to_kn(limit_mps), mps_to_kn(strongest_mps));
    }
    return count;
}

struct slow {
    int usable, slower;
    double worst_kn; /* how much slower, > 0 */
    int twa_deg;
    double wind_kn;
};

static struct slow find_slow(const struct boat *boat) {
    struct slow slow = {0};
    for (int twa = ANGLE_FIRST; twa <= ANGLE_LAST; twa += ANGLE_STEP)
        for (size_t i = 0; i < WINDS; i++) {
            struct gain gain = gain_at(boat, twa, kn_to_mps(winds_kn[i]));
            if (!is_usable(&gain))
                continue;
            slow.usable++;
            double lost_kn = -gain_kn(&gain);
            slow.slower += lost_kn > SLOWER_KN;
            if (lost_kn > slow.worst_kn) {
                slow.worst_kn = lost_kn;
                slow.twa_deg = twa;
                slow.wind_kn = winds_kn[i];
            }
        }
    return slow;
}

static int warn_of_speeds(FILE *stream, const struct boat *boat) {
    struct slow slow = find_slow(boat);
    /* slower everywhere is told among the doubts */
    if (slow.slower == 0 || slow.slower == slow.usable)
        return 0;
    listing_item(stream,
                 "inside its ranges the spar makes the boat slower at %d of %d "
                 "places of the table, most at %d deg / %g kn: by %.1f kn",
                 slow.slower, slow.usable, slow.twa_deg, slow.wind_kn,
                 slow.worst_kn);
    return 1;
}

static int warn_of_edges(FILE *stream, const char *which,
                         const struct polar *polar, double limit_mps) {
    int count = 0;
    double last_deg = polar->angle_deg[polar->angles - 1];
    if (last_deg < 180.0) {
        count++;
        listing_item(
            stream,
            "the polar with the spar %s ends at %g degrees; that row is taken "
            "for all wider angles",
            which, last_deg);
    }
    if (polar_is_beyond(polar, limit_mps)) {
        count++;
        listing_item(
            stream,
            "the polar with the spar %s ends at %.4g kn of wind; in more wind "
            "that column's speeds are held",
            which, mps_to_kn(polar->wind_mps[polar->winds - 1]));
    }
    return count;
}

/* Why the formula of the metacentric height may be further off than that. */
static const char *outside_formula(const struct boat *boat) {
    if (!boat->metacentric_height_m.known ||
        roll_period_in_code(boat->beam_m, boat->draft_m,
                            boat->length_waterline_m, boat->roller.period_s))
        return "";
    return boat->beam_m > ROLL_CODE_BEAM_TO_DRAFT * boat->draft_m
               ? " and more, the hull being beamier than the formula is made "
                 "for"
               : " and more, the formula being made for ships";
}

static int warn_of_period(FILE *stream, const struct boat *boat) {
    if (!boat->roller.period_estimated)
        return 0;
    listing_item(stream,
                 "the roll period is estimated, which may be off by a fifth%s; "
                 "measure it: rock the boat in flat water, time ten rolls",
                 outside_formula(boat));
    return 1;
}

struct doubting {
    FILE *stream;
    int count;
};

static void print_doubt(void *context, const char *text) {
    struct doubting *doubting = context;
    doubting->count++;
    listing_item(doubting->stream, "%s", text);
}

/* What looks like a mistake comes first. */
static int warn_of_doubts(FILE *stream, const struct boat *boat) {
    struct doubting doubting = {stream, 0};
    struct arena arena;
    arena_init(&arena);
    doubts_tell(boat, print_doubt, &doubting, &arena);
    arena_free(&arena);
    return doubting.count;
}

static void print_warnings(FILE *stream, const struct boat *boat) {
    double limit_mps =
        fmax(boat->spar.wing_max_wind_mps, boat->spar.reach_max_wind_mps);
    listing_heading(stream, "Warnings");
    int count = warn_of_doubts(stream, boat);
    count += warn_of_speeds(stream, boat);
    count += warn_of_edges(stream, "stowed", &boat->stowed, limit_mps);
    count += warn_of_edges(stream, "out", &boat->spar_out, limit_mps);
    count += spar_report_warn(boat, stream);
    count += warn_of_sails(stream, boat);
    count += warn_of_period(stream, boat);
    if (count == 0)
        fputs("None.\n", stream);
}

void boat_report(const struct boat *boat, FILE *stream) {
    listing_name(stream, boat->name);
    fprintf(stream, ", the boat of %s\n\n", file_name(boat->path));
    print_files(stream, boat);
    print_gains(stream, boat);
    print_downwind(stream, boat);
    spar_report(boat, stream);
    print_warnings(stream, boat);
}
