/* Reads a boat file: entries into the structs by the tables of boat_keys.c,
 * then what no single key can tell. */
#include "boat/boat.h"

#include "base/text.h"
#include "boat/boat_keys.h"
#include "sea/roll_table.h"
#include <assert.h>
#include <math.h>
#include <string.h>

enum {
    KEYS_LIMIT = 96,  /* of the fixed sections; asserted */
    HEADSAIL_KEYS = 4 /* of one headsail or reef; asserted */

};

/* Fuel that is not planned with when the boat file does not say. */
#define RESERVE_FRAC 0.2

struct loading {
    struct boat_reading reading;
    bool seen[KEYS_LIMIT];
    struct headsail headsails[BOAT_HEADSAILS];
    bool headsail_seen[BOAT_HEADSAILS][HEADSAIL_KEYS];
    size_t headsail_count;
    struct reef reefs[BOAT_REEFS];
    bool reef_seen[BOAT_REEFS][HEADSAIL_KEYS];
    size_t reef_count;
    const char *path;
    struct arena *arena;
};

static bool refuse(const char *path, const char *why, struct error *error) {
    return error_set(error, STATUS_INPUT, "%s: %s", path, why);
}

/* --- sections with a name in the head ----------------------------------------
 */

/* What stands after the word `kind` in a section's head, "" if nothing, or
 * NULL if the head is of another kind. */
static const char *name_in_head(const char *section, const char *kind) {
    size_t length = strlen(kind);
    if (strncmp(section, kind, length) != 0)
        return NULL;
    const char *rest = section + length;
    size_t blanks = strspn(rest, " \t");
    return *rest == '\0' || blanks > 0 ? rest + blanks : NULL;
}

static bool find_headsail(struct loading *loading, const char *name, int line,
                          size_t *at, struct error *error) {
    if (*name == '\0')
        return error_set(error, STATUS_INPUT,
                         "a headsail without a name; write [headsail genoa]");
    if (strlen(name) > HEADSAIL_NAME_BYTES)
        return error_set(error, STATUS_INPUT,
                         "the headsail's name is longer than %d bytes; "
                         "shorten it",
                         HEADSAIL_NAME_BYTES);
    for (*at = 0; *at < loading->headsail_count; ++*at)
        if (text_same(loading->headsails[*at].name, name))
            return true;
    if (*at == BOAT_HEADSAILS)
        return error_set(error, STATUS_INPUT,
                         "more than %d headsails; leave some out",
                         BOAT_HEADSAILS);
    struct headsail *sail = &loading->headsails[loading->headsail_count++];
    keys_set_defaults(&headsail_keys, sail, loading->arena);
    sail->name = arena_copy(loading->arena, name);
    sail->line = line;
    return true;
}

static bool find_reef(struct loading *loading, const char *name, size_t *at,
                      struct error *error) {
    int number;
    if (!text_to_int(name, &number) || number < 1 || number > BOAT_REEFS)
        return error_set(error, STATUS_INPUT,
                         "'%s' is not the number of a reef; write [reef 1] to "
                         "[reef %d]",
                         name, BOAT_REEFS);
    for (*at = 0; *at < loading->reef_count; ++*at)
        if (loading->reefs[*at].number == number)
            return true;
    struct reef *reef = &loading->reefs[loading->reef_count++];
    keys_set_defaults(&reef_keys, reef, loading->arena);
    reef->number = number;
    return true;
}

static bool take_entry(void *context, const struct ini_entry *entry,
                       struct error *error) {
    struct loading *loading = context;
    struct ini_entry under = *entry;
    const char *name = name_in_head(entry->section, "headsail");
    size_t at = 0;
    if (name) {
        under.section = HEADSAIL_SECTION;
        return find_headsail(loading, name, entry->line, &at, error) &&
               keys_store(&headsail_keys, &loading->headsails[at],
                          loading->headsail_seen[at], &under, loading->path,
                          loading->arena, error);
    }
    name = name_in_head(entry->section, "reef");
    if (name) {
        under.section = REEF_SECTION;
        return find_reef(loading, name, &at, error) &&
               keys_store(&reef_keys, &loading->reefs[at],
                          loading->reef_seen[at], &under, loading->path,
                          loading->arena, error);
    }
    return keys_store(&boat_keys, &loading->reading, loading->seen, entry,
                      loading->path, loading->arena, error);
}

static bool is_complete(const struct loading *loading, struct error *error) {
    if (!keys_complete(&boat_keys, loading->seen, loading->path, error))
        return false;
    for (size_t i = 0; i < loading->headsail_count; i++)
        if (!keys_complete(&headsail_keys, loading->headsail_seen[i], NULL,
                           error))
            return error_at(error, "%s:%d: headsail '%s'", loading->path,
                            loading->headsails[i].line,
                            loading->headsails[i].name);
    /* a reef has but one key: it is there when its section is */
    return true;
}

/* --- what no single key can tell
 * ---------------------------------------------- */

static bool check_order(const struct boat *boat, struct error *error) {
    const struct spar *spar = &boat->spar;
    const struct work_limits *work = &boat->work;
    const struct {
        double low, high;
        const char *fault;
    } orders[] = {
        {spar->wing_max_wind_mps, spar->wing_max_gust_mps,
         "[spar] wing_max_gust_kn is below wing_max_wind_kn; a gust is more "
         "than the wind"},
        {spar->reach_max_wind_mps, spar->reach_max_gust_mps,
         "[spar] poled_reach_max_gust_kn is below poled_reach_max_wind_kn; a "
         "gust is more than the wind"},
        {work->max_wind_mps, work->max_gust_mps,
         "[work] max_gust_kn is below max_wind_kn; a gust is more than the "
         "wind"},
        {work->stow_max_wind_mps, work->stow_max_gust_mps,
         "[work] stow_max_gust_kn is below stow_max_wind_kn; a gust is more "
         "than the wind"},
        {work->max_wind_mps, work->stow_max_wind_mps,
         "[work] stow_max_wind_kn is below max_wind_kn; a spar could be set "
         "that could not be stowed"},
        {work->max_gust_mps, work->stow_max_gust_mps,
         "[work] stow_max_gust_kn is below max_gust_kn; a spar could be set "
         "that could not be stowed"},
        {boat->comfort.easy_roll_deg + 0.1, boat->comfort.working_roll_deg,
         "[comfort] working_roll_deg is not above easy_roll_deg; give the "
         "easy roll first, and at least 0.1 degree between"},
    };
    for (size_t i = 0; i < sizeof orders / sizeof *orders; i++)
        if (orders[i].high < orders[i].low)
            return refuse(boat->path, orders[i].fault, error);
    return true;
}

/* True if the margin leaves some angle of the range. */
static bool has_room(const struct spar *spar, const double range_deg[2]) {
    double margins = range_deg[1] >= 180.0 ? 1.0 : 2.0;
    return range_deg[1] - range_deg[0] > margins * spar->angle_margin_deg;
}

static bool check_spar(const struct boat *boat, struct error *error) {
    const struct spar *spar = &boat->spar;
    if (!has_room(spar, spar->wing_awa_deg))
        return refuse(boat->path,
                      "[spar] angle_margin_deg leaves nothing of "
                      "wing_awa_deg; widen the range or lessen the margin",
                      error);
    if (!has_room(spar, spar->reach_awa_deg))
        return refuse(boat->path,
                      "[spar] angle_margin_deg leaves nothing of "
                      "poled_reach_awa_deg; widen the range or lessen the "
                      "margin",
                      error);
    if (spar->tube_diameter_mm.known && spar->wall_mm.known &&
        spar->wall_mm.value > 0.5 * spar->tube_diameter_mm.value)
        return refuse(boat->path,
                      "[spar] wall_mm is more than half of tube_diameter_mm; "
                      "correct or exchange them",
                      error);
    return true;
}

static bool settle_motor(struct boat *boat, struct error *error) {
    struct motor *motor = &boat->motor;
    const struct figure given[] = {motor->speed_mps, motor->below_mps,
                                   motor->litres_per_hour, motor->fuel_litres};
    size_t known = 0;
    for (size_t i = 0; i < sizeof given / sizeof *given; i++)
        known += given[i].known;
    if (known == 0 && !motor->reserve_litres.known)
        return true;
    if (known < sizeof given / sizeof *given)
        return refuse(boat->path,
                      "[motor] is not complete; give speed_kn, below_kn, "
                      "litres_per_hour and fuel_litres, or leave the section "
                      "out",
                      error);
    motor->fitted = true;
    if (!motor->reserve_litres.known)
        motor->reserve_litres =
            figure_of(RESERVE_FRAC * motor->fuel_litres.value);
    if (motor->reserve_litres.value > motor->fuel_litres.value)
        return refuse(boat->path,
                      "[motor] reserve_litres is more than fuel_litres; "
                      "exchange them",
                      error);
    return true;
}

static void settle_roller(struct boat *boat) {
    struct roller *roller = &boat->roller;
    roller->length_m = boat->length_waterline_m;
    roller->beam_m = boat->beam_m;
    roller->draft_m = boat->draft_m;
    roller->period_estimated = !boat->roll_period_s.known;
    if (boat->roll_period_s.known)
        roller->period_s = boat->roll_period_s.value;
    else if (boat->metacentric_height_m.known)
        roller->period_s = roll_period_from_gm_s(
            boat->beam_m, boat->draft_m, boat->length_waterline_m,
            boat->metacentric_height_m.value);
    else
        roller->period_s = roll_period_from_beam_s(boat->beam_m);
}

static void settle_headsails(struct boat *boat, const struct loading *loading) {
    boat->headsail_count = loading->headsail_count;
    boat->headsails = arena_alloc(loading->arena, loading->headsail_count,
                                  sizeof *boat->headsails);
    for (size_t i = 0; i < loading->headsail_count; i++)
        boat->headsails[i] = loading->headsails[i];
}

/* In order of their numbers, which must be that of their winds. */
static bool settle_reefs(struct boat *boat, const struct loading *loading,
                         struct error *error) {
    boat->reefs =
        arena_alloc(loading->arena, loading->reef_count, sizeof *boat->reefs);
    for (int number = 1; number <= BOAT_REEFS; number++)
        for (size_t i = 0; i < loading->reef_count; i++)
            if (loading->reefs[i].number == number)
                boat->reefs[boat->reef_count++] = loading->reefs[i];
    for (size_t i = 1; i < boat->reef_count; i++)
        if (boat->reefs[i].above_mps <= boat->reefs[i - 1].above_mps)
            return error_set(error, STATUS_INPUT,
                             "%s: [reef %d] does not go in at more wind than "
                             "[reef %d]; number the reefs by rising wind",
                             boat->path, boat->reefs[i].number,
                             boat->reefs[i - 1].number);
    return true;
}

/* For all speeds that the polars can tell. */
void boat_make_roll_table(struct boat *boat, struct arena *arena) {
    double top_mps =
        fmax(polar_top_speed(&boat->stowed), polar_top_speed(&boat->spar_out));
    boat->roller.table = roll_table_make(&boat->roller,
                                         fmax(top_mps, 1.0) * boat->factor *
                                             fmax(1.0, boat->night_factor),
                                         arena);
}

static bool load_polars(struct boat *boat, struct arena *arena,
                        struct error *error) {
    return polar_load(&boat->stowed, boat->stowed_path, arena, error) &&
           polar_load(&boat->spar_out, boat->spar_path, arena, error);
}

bool boat_read(struct boat *boat, const char *path, struct arena *arena,
               struct error *error) {
    assert(boat_keys.count <= KEYS_LIMIT);
    assert(headsail_keys.count <= HEADSAIL_KEYS);
    assert(reef_keys.count == 1); /* see is_complete() */
    struct loading *loading = arena_alloc(arena, 1, sizeof *loading);
    loading->arena = arena;
    loading->path = arena_copy(arena, path);
    keys_set_defaults(&boat_keys, &loading->reading, arena);
    if (!ini_load(path, take_entry, loading, error) ||
        !is_complete(loading, error))
        return false;
    *boat = loading->reading.boat;
    boat->path = loading->path;
    boat->handling.single_preventer =
        loading->reading.preventer == PREVENTER_SINGLE;
    settle_roller(boat);
    settle_headsails(boat, loading);
    return settle_reefs(boat, loading, error) && check_order(boat, error) &&
           check_spar(boat, error) && settle_motor(boat, error) &&
           load_polars(boat, arena, error);
}

bool boat_load(struct boat *boat, const char *path, struct arena *arena,
               struct error *error) {
    if (!boat_read(boat, path, arena, error))
        return false;
    boat_make_roll_table(boat, arena);
    return true;
}
