/* What the crew asks for: the passage file, then the command line, which wins.
 *
 * One table of keys (request_keys) serves both, and the template and the help
 * text too: an option is the name of a key of [passage] with '-' for '_'.
 * Order of calls: request_load(), request_option() for every option,
 * request_resolve().
 *
 * A text is read where it stands, so that the error names its line. */
#ifndef PLAN_REQUEST_H
#define PLAN_REQUEST_H

#include "base/figure.h"
#include "base/instant.h"
#include "base/keys.h"
#include "earth/position.h"
#include "plan/crew.h"
#include "plan/previous.h"
#include "voyage/deck.h"
#include <stdbool.h>

enum after_forecast {
    AFTER_HOLD, /* the last fields are held, marked a guess */
    AFTER_WIND, /* the crew's own wind, after 24 h of holding */
    AFTER_STOP  /* the plan ends there */
};

/* As the choices of `arrive` are numbered. */
enum arrive { ARRIVE_ANY, ARRIVE_DAYLIGHT };

/* Limits, checked before memory is asked for: places to pass (and ports to run
 * to), files of a kind, keys in the table, bytes of the passage's and of a
 * port's name, miles from stop to stop: once round the world and a half. */
enum {
    REQUEST_VIA = 50,
    REQUEST_FILES = 200,
    REQUEST_KEYS = 64,
    REQUEST_NAME_BYTES = 120,
    REQUEST_WAY_NMI = 32000
};

/* Eases that are planned side by side, at most. */
enum { REQUEST_EASES = 4 };

/* A port to run to. */
struct request_port {
    const char *name;
    struct position at;
};

struct request {
    const char *path; /* the passage file, NULL if none */

    /* as written */
    const char *boat_path;
    struct key_list forecast_paths, from_via;
    const char *from_text, *to_text, *depart_text;
    const char *earliest_text, *latest_text;
    double every_s;
    const char *ease_text, *after_text;
    struct key_list zones;
    const char *coast_text; /* "auto", "none" or the path of a file */
    const char *previous_path;
    int deck_work; /* choice: any, daylight-first, daylight-only */
    int arrive;    /* enum arrive */
    double clearance_m;
    struct figure member; /* a whole number */
    struct figure max_wind_mps, max_gust_mps, max_wave_m;
    int spar_choice; /* enum spar_place */
    int threads;     /* 0: as many as the machine has */
    const char *out, *name;
    double leg_loss_frac;
    double zone_hours; /* ship's time less UTC: for display */
    int wave_towards;  /* choice: from, towards */
    int magnetic;      /* choice: no, yes */
    double approach_m;
    struct figure margin_s;
    double forecast_gap_s;
    struct key_list fallbacks;
    int points_only, ascii; /* choice: no, yes */
    int name_length;        /* 0: as long as they are */
    int route_points;

    /* [crew] */
    struct figure watch_s;
    const char *crew_names, *watch_start_text;

    /* what `previous_path` holds, read by the command; NULL: nothing */
    const struct previous *previous;

    /* worked out of the texts */
    struct position from, to;
    struct position *via;
    size_t via_count;
    struct request_port *ports;
    size_t port_count;
    const char *crew[CREW_PEOPLE]; /* in the order of their watches */
    int crew_count;                /* 0: not given */
    enum after_forecast after;
    const struct position *track; /* `along`: its places; NULL for a plan */
    size_t track_count;
    struct instant depart, earliest, latest;
    struct deck start; /* its wind side is not known yet */
    double ease;       /* of several the first */
    double eases[REQUEST_EASES];
    size_t ease_count;                          /* 0: `ease` alone */
    double after_wind_from_deg, after_wind_mps; /* AFTER_WIND */
    double watch_start_s; /* after midnight, ship's time; 0 if unset */

    /* false: UTC was taken */
    bool depart_zone_given, earliest_zone_given, latest_zone_given;
    bool depart_by_clock; /* now */

    /* bookkeeping */
    bool seen_in_file[REQUEST_KEYS], seen_option[REQUEST_KEYS];
};

/* Sections [passage] and [crew]. */
extern const struct key_table request_keys;

/* The option of a key, without its dashes, or NULL: [crew] has none. In
 * `arena`. */
const char *request_option_name(const struct key *key, struct arena *arena);

/* Defaults, then the file; `path` NULL: defaults alone. STATUS_INPUT, with file
 * and line. */
bool request_load(struct request *request, const char *path,
                  struct arena *arena, struct error *error);

/* One option of the command line, by its name without the dashes; paths are
 * relative to the working folder. A list starts anew with its first option.
 * STATUS_USAGE. */
bool request_option(struct request *request, const char *name,
                    const char *value, struct arena *arena,
                    struct error *error);

/* Checks that nothing is missing (STATUS_INPUT, or STATUS_USAGE without a
 * passage file), that no place is given twice in a row, that the way is not too
 * long and no gust limit below its wind limit, and fills what was left out: a
 * passage without a name has that of its file. A [crew] of more than one needs
 * names and watch_hours. `track_given`: places, time and name may be missing
 * (`along`). */
bool request_resolve(struct request *request, bool track_given,
                     struct arena *arena, struct error *error);

/* The same for a passage that has no forecast yet: boat and places alone have
 * to be there, and a departure may be. */
bool request_resolve_ask(struct request *request, struct arena *arena,
                         struct error *error);

/* Not longer than REQUEST_WAY_NMI, STATUS_INPUT. Plans and tracks. */
bool request_check_way(double way_m, struct error *error);

/* Says that a key is missing, as request_resolve() does. Returns false. */
bool request_missing(const struct request *request, const char *name,
                     struct arena *arena, struct error *error);

/* The commented passage file with every key. */
void request_template(FILE *stream);

#endif
