/* The boat file: hull, polars, spar, limits of deck work, headsails, reefs,
 * engine, comfort. DESIGN of the file: docs/files.md. SI inside. */
#ifndef BOAT_BOAT_H
#define BOAT_BOAT_H

#include "base/arena.h"
#include "base/error.h"
#include "base/figure.h"
#include "boat/polar.h"
#include "sea/roll.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* The headsail pole: its limits and what each handling of it takes. */
struct spar {
    double length_m[2];      /* shortest, longest */
    double wing_awa_deg[2];  /* spar to windward, wing-and-wing */
    double reach_awa_deg[2]; /* spar to leeward, poled reach */
    double angle_margin_deg; /* narrows both: yaw and surfing */
    double wing_max_wind_mps, wing_max_gust_mps;
    double reach_max_wind_mps, reach_max_gust_mps;
    double set_s, gybe_s, stow_s, roll_s; /* by day */
    double work_speed_frac;   /* of the stowed polar, while at work */
    double rolled_speed_frac; /* of it, headsail rolled, spar standing */
    double night_factor;      /* times the minutes, at night */
    double landfall_m;        /* stowed at least so far off the finish */
    struct figure max_compression_n, tube_diameter_mm, wall_mm;
    const char *material; /* NULL where not given */
};

/* True if the spar may be out and drawing at that apparent wind angle (either
 * side): on the wind side (wing-and-wing) or on the lee side (poled reach).
 * Both ranges are narrowed by angle_margin_deg at either end, but for an end
 * at 180: yaw carries the wind to the other quarter there, not out of the
 * range, and a dead run is what wing-and-wing is for. */
bool spar_allows_angle(const struct spar *spar, bool to_windward,
                       double awa_deg);

/* The wind limits, gust not: TWS up to the mode's greatest wind. */
bool spar_allows_wind(const struct spar *spar, bool to_windward,
                      double tws_mps);

/* When someone may go forward. */
struct work_limits {
    double max_wind_mps, max_gust_mps, max_wave_m, max_roll_deg;
    double stow_max_wind_mps, stow_max_gust_mps;
    double day_hardship_s, night_hardship_s;
};

struct handling {
    double mainsail_gybe_s, tack_s;
    bool single_preventer; /* then a mainsail gybe is deck work */
};

struct headsail {
    const char *name;
    double foot_m;
    struct figure area_m2, max_wind_mps;
    int line; /* in the boat file */
};

struct reef {
    int number;
    double above_mps; /* true wind over the water at which it goes in */
};

struct motor {
    bool fitted;
    struct figure speed_mps, below_mps; /* all known where it is fitted */
    struct figure litres_per_hour, fuel_litres, reserve_litres;
    double max_wind_mps;     /* true wind: in more she sails */
    double charge_s_per_day; /* run for the batteries, beside the motoring */
};

struct comfort {
    double easy_roll_deg;    /* no discomfort up to here */
    double working_roll_deg; /* discomfort 1 here */
};

struct boat {
    const char *path, *name;
    double length_waterline_m, beam_m, draft_m, displacement_kg;
    struct figure roll_period_s, metacentric_height_m;
    struct roller roller; /* complete: period given or estimated,
                             and its table */
    const char *stowed_path, *spar_path;
    struct polar stowed, spar_out; /* without factor and night_factor */
    double factor, night_factor;   /* times both polars */
    struct spar spar;
    struct work_limits work;
    struct handling handling;
    struct headsail *headsails;
    size_t headsail_count;
    struct reef *reefs;
    size_t reef_count; /* by rising wind */
    struct motor motor;
    struct comfort comfort;
};

/* Limits on a boat file. */
enum { BOAT_HEADSAILS = 16, BOAT_REEFS = 9, HEADSAIL_NAME_BYTES = 32 };

/* Reads the boat file and both polars; fills the roller, its period estimated
 * from the metacentric height or the beam where none was measured. Refuses,
 * with file and line where there is one: what keys_store() refuses, a missing
 * required key, limits upside down, a range of the spar that its margin leaves
 * nothing of, an engine section that is not complete, reefs that do not go in
 * by rising wind, and what polar_load() refuses. All lives in `arena`. */
bool boat_load(struct boat *boat, const char *path, struct arena *arena,
               struct error *error);

/* The same in two parts: all but the table that her roll is looked up in, and
 * that table, which takes nearly all the time. */
bool boat_read(struct boat *boat, const char *path, struct arena *arena,
               struct error *error);
void boat_make_roll_table(struct boat *boat, struct arena *arena);

/* The commented boat file with every key. */
void boat_template(FILE *stream);

/* The number of the deepest reef that is in at that wind; 0 where none is. */
int boat_reefs(const struct boat *boat, double tws_mps);

#endif
