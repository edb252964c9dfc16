/* How the reports say things: one wording for schedule, waypoints and JSON.
 * Never "port" alone: "spar to port", "wind on the port side". */
#ifndef REPORT_WORDS_H
#define REPORT_WORDS_H

#include "base/arena.h"
#include "base/instant.h"
#include "earth/sun.h"
#include "plan/plan.h"
#include "voyage/deck.h"

/* "port" or "starboard", for a sentence that names whose side it is. */
const char *words_side(bool starboard);

/* The words of plan.json: "stowed", "wing", "poled_reach", "rolled"; "set",
 * "gybe", "spar_across", "stow", "mainsail_gybe", "tack", "roll", "unroll";
 * "day", "twilight", "night"; "good", "fair", "guess"; "stowed", "port",
 * "starboard". */
const char *words_mode(enum sail_mode mode);
const char *words_change(enum change_kind kind);
const char *words_light(enum light light);
const char *words_trust(enum trust trust);
const char *words_spar(enum spar_place spar);

/* A deck state as plan.json has it: "port_drawing_wind_starboard"; see
 * report/plan_json.h. */
const char *words_state(struct deck deck);

/* Behind a figure that is known by the weather up to then: " (a guess)" where
 * the forecast is no better by that time, else "". */
const char *words_guess(const struct plan *plan, struct instant until);

/* For a column: "spar starboard, wing" (22 at most), wing for wing-and-wing,
 * reach for the poled reach, rolled for the headsail. */
const char *words_rig_cell(struct deck deck);

/* In short: "spar starboard, wing-and-wing" (29 at most). */
const char *words_rig_short(struct deck deck);

/* "spar to starboard with the headsail drawing, boom to port: wing-and-wing".
 * The boom stands on the lee side. */
char *words_rig(struct arena *arena, struct deck deck);

/* What to do: "set the spar to starboard", "gybe the mainsail, boom to
 * port". */
char *words_order(struct arena *arena, enum change_kind kind, struct deck to);

/* The same, short: "spar to starboard", "boom to port", "headsail away". */
char *words_result(struct arena *arena, enum change_kind kind, struct deck to);

/* "4 deg rms: often 8, at times 12 deg": twice and three times the RMS, which
 * is what people notice; "under 1 deg rms" where it rounds to none. */
char *words_roll(struct arena *arena, double roll_deg);

/* The same without its beginning: "often 8, at times 12 deg"; "hardly any". */
char *words_roll_seen(struct arena *arena, double roll_deg);

/* Where something comes from, as seen from on board: "ahead", "on the port
 * bow", "on the starboard beam", "on the port quarter", "astern" (24 at most);
 * + is on the starboard side. */
const char *words_off_bow(double off_bow_deg);

/* "3 d 10 h" from two days up, "41 h 20 min" below. Never negative. */
char *words_duration(struct arena *arena, double seconds);

/* "gust 22 kn", "gust 22 kn (estimated)", "gust not known". */
const char *words_gust(struct arena *arena, struct figure gust_mps,
                       bool estimated);

/* "18 kn", or "18 kn (12 kn apparent)" where that is known. */
const char *words_true_wind(struct arena *arena, double tws_mps,
                            struct figure aws_mps);

/* A direction as three digits, 000 to 359. */
int words_degrees(double angle_deg);

/* ASCII only: any other character becomes '?', controls are dropped. */
char *words_ascii(struct arena *arena, const char *text);

/* "; 12 nmi clear to leeward" with `before` in front, "" where not known. */
const char *words_lee(struct arena *arena, const char *before,
                      struct figure lee_m);

#endif
