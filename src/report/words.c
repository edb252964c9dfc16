#include "report/words.h"

#include "base/units.h"
#include "earth/angle.h"
#include "exchange/clean.h"
#include "plan/trust.h"
#include <assert.h>
#include <math.h>

const char *words_side(bool starboard) {
    return starboard ? "starboard" : "port";
}

const char *words_mode(enum sail_mode mode) {
    static const char *const words[] = {"stowed", "wing", "poled_reach",
                                        "rolled"};
    return words[mode];
}

const char *words_change(enum change_kind kind) {
    static const char *const words[CHANGE_KINDS] = {
        "set",           "gybe", "spar_across", "stow",
        "mainsail_gybe", "tack", "roll",        "unroll"};
    assert(kind < CHANGE_KINDS);
    return words[kind];
}

const char *words_light(enum light light) {
    static const char *const words[] = {"day", "twilight", "night"};
    return words[light];
}

const char *words_trust(enum trust trust) {
    static const char *const words[] = {"good", "fair", "guess"};
    return words[trust];
}

const char *words_guess(const struct plan *plan, struct instant until) {
    return trust_at(plan, until) == TRUST_GUESS ? " (a guess)" : "";
}

const char *words_spar(enum spar_place spar) {
    static const char *const words[] = {"stowed", "port", "starboard"};
    return words[spar];
}

const char *words_state(struct deck deck) {
    static const char *const words[DECK_STATES] = {
        "stowed_wind_port",
        "stowed_wind_starboard",
        "port_drawing_wind_port",
        "port_drawing_wind_starboard",
        "port_rolled_wind_port",
        "port_rolled_wind_starboard",
        "starboard_drawing_wind_port",
        "starboard_drawing_wind_starboard",
        "starboard_rolled_wind_port",
        "starboard_rolled_wind_starboard"};
    return words[deck_index(deck)];
}

const char *words_rig_cell(struct deck deck) {
    static const char *const words[][2] = {
        [MODE_STOWED] = {"spar stowed", "spar stowed"},
        [MODE_WING] = {"spar port, wing", "spar starboard, wing"},
        [MODE_POLED_REACH] = {"spar port, reach", "spar starboard, reach"},
        [MODE_ROLLED] = {"spar port, rolled", "spar starboard, rolled"},
    };
    return words[deck_mode(deck)][deck.spar == SPAR_STARBOARD];
}

const char *words_rig_short(struct deck deck) {
    static const char *const words[][2] = {
        [MODE_STOWED] = {"spar stowed", "spar stowed"},
        [MODE_WING] = {"spar port, wing-and-wing",
                       "spar starboard, wing-and-wing"},
        [MODE_POLED_REACH] = {"spar port, poled reach",
                              "spar starboard, poled reach"},
        [MODE_ROLLED] = {"spar port, sail rolled",
                         "spar starboard, sail rolled"},
    };
    return words[deck_mode(deck)][deck.spar == SPAR_STARBOARD];
}

char *words_rig(struct arena *arena, struct deck deck) {
    const char *boom = words_side(!deck.wind_starboard);
    const char *spar = words_spar(deck.spar);
    switch (deck_mode(deck)) {
    case MODE_WING:
        return arena_print(arena,
                           "spar to %s with the headsail drawing, boom to "
                           "%s: wing-and-wing",
                           spar, boom);
    case MODE_POLED_REACH:
        return arena_print(arena,
                           "spar to %s with the headsail drawing, boom to "
                           "%s: poled reach",
                           spar, boom);
    case MODE_ROLLED:
        return arena_print(arena,
                           "spar to %s with the headsail rolled away, boom "
                           "to %s",
                           spar, boom);
    case MODE_STOWED:
        break;
    }
    return arena_print(arena, "spar stowed, boom to %s", boom);
}

char *words_order(struct arena *arena, enum change_kind kind, struct deck to) {
    const char *boom = words_side(!to.wind_starboard);
    const char *spar = words_spar(to.spar);
    switch (kind) {
    case CHANGE_SET:
        return arena_print(arena, "set the spar to %s", spar);
    case CHANGE_GYBE:
        return arena_print(arena, "gybe: spar to %s, boom to %s", spar, boom);
    case CHANGE_ACROSS:
        return arena_print(arena, "spar across to %s, the boom stays to %s",
                           spar, boom);
    case CHANGE_STOW:
        return arena_copy(arena, "stow the spar");
    case CHANGE_MAINSAIL_GYBE:
        return arena_print(arena, "gybe the mainsail, boom to %s", boom);
    case CHANGE_TACK:
        return arena_print(arena, "tack, wind to the %s side",
                           words_side(to.wind_starboard));
    case CHANGE_ROLL:
        return arena_copy(arena, "roll the headsail away");
    case CHANGE_UNROLL:
        return arena_copy(arena, "unroll the headsail");
    case CHANGE_KINDS:
        break;
    }
    assert(kind < CHANGE_KINDS);
    return NULL;
}

char *words_result(struct arena *arena, enum change_kind kind, struct deck to) {
    const char *boom = words_side(!to.wind_starboard);
    switch (kind) {
    case CHANGE_SET:
    case CHANGE_GYBE:
        return arena_print(arena, "%s: spar to %s", words_change(kind),
                           words_spar(to.spar));
    case CHANGE_ACROSS:
        return arena_print(arena, "spar across to %s", words_spar(to.spar));
    case CHANGE_STOW:
        return arena_copy(arena, "stow the spar");
    case CHANGE_MAINSAIL_GYBE:
        return arena_print(arena, "mainsail: boom to %s", boom);
    case CHANGE_TACK:
        return arena_print(arena, "tack: boom to %s", boom);
    case CHANGE_ROLL:
    case CHANGE_UNROLL:
    case CHANGE_KINDS:
        break;
    }
    return words_order(arena, kind, to);
}

/* Below this the RMS is printed as 0. */
static const double NO_ROLL_DEG = 0.5;

char *words_roll_seen(struct arena *arena, double roll_deg) {
    if (roll_deg < NO_ROLL_DEG)
        return arena_copy(arena, "hardly any");
    return arena_print(arena, "often %.0f, at times %.0f deg", 2.0 * roll_deg,
                       3.0 * roll_deg);
}

char *words_roll(struct arena *arena, double roll_deg) {
    if (roll_deg < NO_ROLL_DEG)
        return arena_copy(arena, "under 1 deg rms");
    return arena_print(arena, "%.0f deg rms: %s", roll_deg,
                       words_roll_seen(arena, roll_deg));
}

/* Eight winds round the boat, two of them ahead and astern. */
const char *words_off_bow(double off_bow_deg) {
    static const char *const words[][2] = {
        {"ahead", "ahead"},
        {"on the port bow", "on the starboard bow"},
        {"on the port beam", "on the starboard beam"},
        {"on the port quarter", "on the starboard quarter"},
        {"astern", "astern"},
    };
    long eighth = lround(fabs(angle_wrap_180(off_bow_deg)) / 45.0);
    return words[eighth][angle_wrap_180(off_bow_deg) >= 0.0];
}

char *words_duration(struct arena *arena, double seconds) {
    assert(seconds >= 0.0);
    long minutes = lround(seconds / SECONDS_PER_MINUTE);
    if (minutes < 48L * 60)
        return arena_print(arena, "%ld h %02ld min", minutes / 60,
                           minutes % 60);
    long hours = lround(s_to_hours(seconds));
    return arena_print(arena, "%ld d %ld h", hours / 24, hours % 24);
}

const char *words_gust(struct arena *arena, struct figure gust_mps,
                       bool estimated) {
    if (!gust_mps.known)
        return "gust not known";
    return arena_print(arena, "gust %.0f kn%s", mps_to_kn(gust_mps.value),
                       estimated ? " (estimated)" : "");
}

const char *words_true_wind(struct arena *arena, double tws_mps,
                            struct figure aws_mps) {
    const char *apparent = "";
    if (aws_mps.known)
        apparent =
            arena_print(arena, " (%.0f kn apparent)", mps_to_kn(aws_mps.value));
    return arena_print(arena, "%.0f kn%s", mps_to_kn(tws_mps), apparent);
}

int words_degrees(double angle_deg) {
    long degrees = lround(angle_deg) % 360;
    return (int)(degrees < 0 ? degrees + 360 : degrees);
}

char *words_ascii(struct arena *arena, const char *text) {
    char *clean = clean_text(arena, text);
    char *end = clean;
    for (const char *at = clean; *at; at++) {
        unsigned char byte = (unsigned char)*at;
        if (byte < 0x80)
            *end++ = byte < ' ' ? ' ' : *at;
        else if (byte >= 0xC0) /* the lead of a longer one */
            *end++ = '?';
    }
    *end = '\0';
    return clean;
}

/* Nearer than this in tenths. */
static const double TENTHS_NMI = 10.0;

const char *words_lee(struct arena *arena, const char *before,
                      struct figure lee_m) {
    double lee_nmi = m_to_nmi(lee_m.value);
    if (!lee_m.known)
        return "";
    return arena_print(arena, "%s%s%.*f nmi clear to leeward", before,
                       lee_m.value >= PLAN_LEE_M ? "over " : "",
                       lee_nmi < TENTHS_NMI ? 1 : 0, lee_nmi);
}
