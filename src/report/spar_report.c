#include "report/spar_report.h"

#include "base/units.h"
#include "boat/gain.h"
#include "boat/strength.h"
#include "report/listing.h"
#include <math.h>

/* --- length
 * ------------------------------------------------------------------ */

struct setting {
    double length_m;
    const char *warning; /* NULL: all is well */
};

static struct setting set_for(const struct boat *boat,
                              const struct headsail *sail,
                              struct arena *arena) {
    struct setting setting;
    setting.length_m =
        spar_length_for(&boat->spar, sail, arena, &setting.warning);
    return setting;
}

static bool is_telescopic(const struct spar *spar) {
    return spar->length_m[1] - spar->length_m[0] >= SPAR_FIXED_M;
}

/* How much of the telescope that length uses. */
static const char *drawn_out(const struct spar *spar, double length_m,
                             struct arena *arena) {
    double range_m = spar->length_m[1] - spar->length_m[0];
    double drawn_m = length_m - spar->length_m[0];
    if (!is_telescopic(spar))
        return "";
    return arena_print(arena, "; %.1f of %.1f m drawn out, %.0f %%", drawn_m,
                       range_m, 100.0 * drawn_m / range_m);
}

static void print_lengths(const struct boat *boat, struct arena *arena,
                          FILE *stream) {
    const struct spar *spar = &boat->spar;
    listing_heading(stream, "Length of the spar");
    fprintf(stream, "The spar is %.1f to %.1f m; set it to %.1f m at most.\n",
            spar->length_m[0], spar->length_m[1], spar_strong_length_m(spar));
    for (size_t i = 0; i < boat->headsail_count; i++) {
        const struct headsail *sail = &boat->headsails[i];
        struct setting setting = set_for(boat, sail, arena);
        listing_item(stream, "%.1f m for the %s, whose foot is %.1f m%s%s",
                     setting.length_m, sail->name, sail->foot_m,
                     setting.warning ? " (see warnings)" : "",
                     drawn_out(spar, setting.length_m, arena));
    }
    if (boat->headsail_count == 0)
        fputs("No headsail is listed in the boat file.\n", stream);
}

static int warn_of_lengths(const struct boat *boat, struct arena *arena,
                           FILE *stream) {
    int count = 0;
    for (size_t i = 0; i < boat->headsail_count; i++) {
        const struct headsail *sail = &boat->headsails[i];
        struct setting setting = set_for(boat, sail, arena);
        if (!setting.warning)
            continue;
        count++;
        listing_item(stream,
                     "%s, line %d: %s; set to %.1f m it still serves (rule of "
                     "thumb: the spar as long as the foot)",
                     sail->name, sail->line, setting.warning, setting.length_m);
    }
    return count;
}

/* --- strength
 * ---------------------------------------------------------------- */

/* One headsail in one mode. */
struct pull {
    struct strength_limits limits;
    double wind_n, gust_n;
    struct figure safe_n;
    struct strength_end end; /* where safe_n is known */
};

/* False where the area is not known or the mode is of no use. */
static bool pull_of(const struct boat *boat, const struct headsail *sail,
                    bool to_windward, double length_m, struct pull *pull) {
    *pull = (struct pull){.limits = strength_limits(boat, sail, to_windward),
                          .safe_n = strength_safe_n(&boat->spar, length_m)};
    if (!sail->area_m2.known || !pull->limits.usable)
        return false;
    double area_m2 = sail->area_m2.value;
    pull->wind_n =
        strength_load_n(pull->limits.wind_aws_mps, area_m2, to_windward);
    pull->gust_n =
        strength_load_n(pull->limits.gust_aws_mps, area_m2, to_windward);
    if (pull->safe_n.known)
        pull->end = strength_end(boat, sail, to_windward, &pull->limits,
                                 pull->safe_n.value);
    return true;
}

/* Rounded to the safe side, as all of them: what is over shows as over. */
static double percent(double load_n, struct figure safe_n) {
    return ceil(100.0 * load_n / safe_n.value);
}

static double whole_kn(double speed_mps) {
    return floor(mps_to_kn(speed_mps));
}

static void print_basis(const struct spar *spar, FILE *stream) {
    switch (strength_basis(spar)) {
    case STRENGTH_MAKER:
        listing_text(stream,
                     "Safe load: %.0f N, the maker's limit, taken to hold at "
                     "any length.",
                     spar->max_compression_n.value);
        break;
    case STRENGTH_TUBE:
        listing_text(stream,
                     "Safe load: of a tube of %g x %g mm, %s, pinned at both "
                     "ends, its breaking load divided by %g.",
                     spar->tube_diameter_mm.value, spar->wall_mm.value,
                     spar->material, STRENGTH_SAFETY);
        break;
    case STRENGTH_NOT_GIVEN:
        listing_text(stream, "Safe load: not known; give max_compression_N, or "
                             "tube_diameter_mm, wall_mm and material.");
        break;
    case STRENGTH_INCOMPLETE:
        listing_text(stream,
                     "Safe load: not known; of tube_diameter_mm, wall_mm and "
                     "material not all are given.");
        break;
    case STRENGTH_MATERIAL:
        listing_text(stream,
                     "Safe load: not known; '%s' is not the same in every "
                     "tube: ask the maker for its limit and give it as "
                     "max_compression_N (only aluminium needs none).",
                     spar->material);
        break;
    }
}

static void print_share(FILE *stream, double speed_mps, double load_n,
                        struct figure safe_n) {
    fprintf(stream, "%7.1f %7.0f", mps_to_kn(speed_mps), load_n);
    if (!safe_n.known)
        fputs("     .", stream);
    else if (percent(load_n, safe_n) > 999.0)
        fputs(" >999%", stream);
    else
        fprintf(stream, " %4.0f%%", percent(load_n, safe_n));
}

static void print_mode(const struct boat *boat, const struct headsail *sail,
                       bool to_windward, double length_m, FILE *stream) {
    struct pull pull;
    fprintf(stream, "  %-14s", to_windward ? "wing-and-wing" : "poled reach");
    if (!pull_of(boat, sail, to_windward, length_m, &pull)) {
        fputs("never: no angle of the polar suits it\n", stream);
        return;
    }
    print_share(stream, pull.limits.wind_mps, pull.wind_n, pull.safe_n);
    print_share(stream, pull.limits.gust_mps, pull.gust_n, pull.safe_n);
    if (pull.safe_n.known)
        fprintf(stream, "%9.0f %11.0f\n", whole_kn(pull.end.wind_mps),
                whole_kn(pull.end.aws_mps));
    else
        fputs("        .           .\n", stream);
}

static void print_sail(const struct boat *boat, const struct headsail *sail,
                       double length_m, FILE *stream) {
    struct figure safe_n = strength_safe_n(&boat->spar, length_m);
    listing_name(stream, sail->name);
    fprintf(stream, ", spar at %.1f m", length_m);
    if (!sail->area_m2.known) {
        fputs(": load not known; give area_m2\n", stream);
        return;
    }
    if (safe_n.known)
        fprintf(stream, ", safe to %.0f N", safe_n.value);
    fputc('\n', stream);
    print_mode(boat, sail, true, length_m, stream);
    print_mode(boat, sail, false, length_m, stream);
}

static void print_notes(FILE *stream) {
    listing_text(stream,
                 "Winds are the limits of the mode, or of the sail where that "
                 "is less; the share is of the safe load. Used up: the gust "
                 "(a steady wind, where that is within the limit), and its "
                 "apparent wind, in which the load is all that is safe. In a "
                 "gust the boat still goes as in the wind.");
    listing_text(stream,
                 "An estimate for steady pulls: 0.6125 x (apparent wind in "
                 "m/s)^2 x area x %g (wing-and-wing) or %g (poled reach) is "
                 "the sail's force in N, and %.2f times that goes along the "
                 "spar, the sheet led through its end. A sail that fills with "
                 "a bang, a boat stopped by a wave, a spar against the shrouds "
                 "or a guy at a narrow angle make it more.",
                 SAIL_FORCE_WING, SAIL_FORCE_REACH, COMPRESSION_FRAC);
    listing_text(stream,
                 "End fittings, the track on the mast and a tip that dips into "
                 "a wave fail sooner than the tube: a low share is no leave to "
                 "carry on.");
}

static void print_strength(const struct boat *boat, struct arena *arena,
                           FILE *stream) {
    listing_heading(stream, "Load along the spar");
    print_basis(&boat->spar, stream);
    if (boat->headsail_count == 0)
        return;
    fputs("                       in the wind          in the gust     margin "
          "used up at\n"
          "                     kn       N share     kn       N share  true kn "
          "apparent kn\n",
          stream);
    for (size_t i = 0; i < boat->headsail_count; i++) {
        const struct headsail *sail = &boat->headsails[i];
        print_sail(boat, sail, set_for(boat, sail, arena).length_m, stream);
    }
    print_notes(stream);
}

/* The key that would have to be lower. */
static const char *limit_key(bool to_windward, bool gust) {
    if (to_windward)
        return gust ? "wing_max_gust_kn" : "wing_max_wind_kn";
    return gust ? "poled_reach_max_gust_kn" : "poled_reach_max_wind_kn";
}

static int warn_of_load(const struct boat *boat, const struct headsail *sail,
                        bool to_windward, double length_m, FILE *stream) {
    struct pull pull;
    if (!pull_of(boat, sail, to_windward, length_m, &pull) ||
        !pull.safe_n.known || pull.gust_n <= pull.safe_n.value)
        return 0;
    bool steady = pull.wind_n > pull.safe_n.value;
    double load_n = steady ? pull.wind_n : pull.gust_n;
    double wind_mps = steady ? pull.limits.wind_mps : pull.limits.gust_mps;
    listing_item(stream,
                 "%s, line %d: in %s of %.1f kn the %s loads the spar, set to "
                 "%.1f m, with %.0f %% of its safe load; the margin is used up "
                 "at %.1f kn: lower %s, or carry a smaller sail",
                 sail->name, sail->line, steady ? "a steady wind" : "gusts",
                 mps_to_kn(wind_mps),
                 to_windward ? "wing-and-wing rig" : "poled reach", length_m,
                 percent(load_n, pull.safe_n),
                 floor(10.0 * mps_to_kn(pull.end.wind_mps)) / 10.0,
                 limit_key(to_windward, !steady));
    return 1;
}

static int warn_of_loads(const struct boat *boat, struct arena *arena,
                         FILE *stream) {
    int count = 0;
    for (size_t i = 0; i < boat->headsail_count; i++) {
        const struct headsail *sail = &boat->headsails[i];
        double length_m = set_for(boat, sail, arena).length_m;
        count += warn_of_load(boat, sail, true, length_m, stream);
        count += warn_of_load(boat, sail, false, length_m, stream);
    }
    return count;
}

void spar_report(const struct boat *boat, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    print_lengths(boat, &arena, stream);
    print_strength(boat, &arena, stream);
    arena_free(&arena);
}

int spar_report_warn(const struct boat *boat, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    int count = warn_of_lengths(boat, &arena, stream);
    count += warn_of_loads(boat, &arena, stream);
    arena_free(&arena);
    return count;
}
