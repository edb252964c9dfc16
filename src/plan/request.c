#include "plan/request.h"

#include "base/text.h"
#include "base/units.h"
#include "plan/ask.h"
#include "plan/plan.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Section of all keys that are options too. */
static const char options_section[] = "passage";

/* Nearer than this, some 11 m, nobody sails anywhere. */
static const double SAME_PLACE_DEG = 1e-4;

enum { EASE_MOST = 100, WIND_MOST_KN = 100 };

/* --- texts that mean something -------------------------------------------- */

/* A text of [passage] or [crew], where it stands. */
struct saying {
    const struct key *key;
    const char *value;
    struct arena *arena;
};

/* "'noon' for 'depart' in [passage]: ...". */
static bool refuse(const struct saying *saying, const char *cause,
                   struct error *error) {
    return error_set(error, STATUS_INPUT, "'%s' for '%s' in [%s]: %s",
                     saying->value, saying->key->name, saying->key->section,
                     cause);
}

static bool read_place(const struct saying *saying, struct position *place,
                       struct error *error) {
    const char *fault = position_parse(saying->value, place);
    return !fault || refuse(saying, fault, error);
}

static bool read_from(struct request *request, const struct saying *saying,
                      struct error *error) {
    return read_place(saying, &request->from, error);
}

static bool read_to(struct request *request, const struct saying *saying,
                    struct error *error) {
    return read_place(saying, &request->to, error);
}

static bool read_via(struct request *request, const struct saying *saying,
                     struct error *error) {
    if (!request->via)
        request->via =
            arena_alloc(saying->arena, REQUEST_VIA, sizeof *request->via);
    if (!read_place(saying, &request->via[request->via_count], error))
        return false;
    request->via_count++;
    return true;
}

static bool read_time(const struct saying *saying, struct instant *time,
                      bool *zone_given, struct error *error) {
    if (text_same(saying->value, "now")) {
        *time = instant_now();
        *zone_given = true;
        return true;
    }
    if (instant_parse(saying->value, time, zone_given))
        return true;
    return refuse(saying,
                  "not a time; write it as 2026-03-10T06:00Z, or now; another "
                  "zone than UTC as +02:00",
                  error);
}

static bool read_depart(struct request *request, const struct saying *saying,
                        struct error *error) {
    request->depart_by_clock = text_same(saying->value, "now");
    return read_time(saying, &request->depart, &request->depart_zone_given,
                     error);
}

static bool read_earliest(struct request *request, const struct saying *saying,
                          struct error *error) {
    return read_time(saying, &request->earliest, &request->earliest_zone_given,
                     error);
}

static bool read_latest(struct request *request, const struct saying *saying,
                        struct error *error) {
    return read_time(saying, &request->latest, &request->latest_zone_given,
                     error);
}

static bool is_ease(const char *text, double *ease) {
    double said;
    if (!text_to_double(text, &said) || said < 0.0 || said > EASE_MOST)
        return false;
    *ease = fabs(said); /* -0 is 0 */
    return true;
}

/* "1", or several: "0,1,3". */
static bool read_ease(struct request *request, const struct saying *saying,
                      struct error *error) {
    char *rest = arena_copy(saying->arena, saying->value);
    request->ease_count = 0;
    while (rest) {
        char *comma = strchr(rest, ',');
        if (comma)
            *comma = '\0';
        if (request->ease_count == REQUEST_EASES)
            return refuse(saying, "more than four; leave some out", error);
        if (!is_ease(text_trim(rest), &request->eases[request->ease_count++]))
            return refuse(saying,
                          "not a number from 0 to 100; 1 is the default, and "
                          "several stand with commas between",
                          error);
        rest = comma ? comma + 1 : NULL;
    }
    request->ease = request->eases[0];
    return true;
}

/* "wind:075,18": from where, and how strong. */
static bool read_wind(struct request *request, const char *text,
                      struct arena *arena) {
    char *from = arena_copy(arena, text);
    char *comma = strchr(from, ',');
    if (!comma)
        return false;
    *comma = '\0';
    double from_deg, speed_kn;
    if (!text_to_double(text_trim(from), &from_deg) ||
        !text_to_double(text_trim(comma + 1), &speed_kn) || from_deg < 0.0 ||
        from_deg > 360.0 || speed_kn < 0.0 || speed_kn > WIND_MOST_KN)
        return false;
    request->after_wind_from_deg = from_deg < 360.0 ? from_deg : 0.0;
    request->after_wind_mps = kn_to_mps(speed_kn);
    return true;
}

static bool read_after(struct request *request, const struct saying *saying,
                       struct error *error) {
    static const char wind[] = "wind:";
    size_t length = strlen(wind);
    if (text_same(saying->value, "hold"))
        request->after = AFTER_HOLD;
    else if (text_same(saying->value, "stop"))
        request->after = AFTER_STOP;
    else if (strncmp(saying->value, wind, length) == 0 &&
             read_wind(request, saying->value + length, saying->arena))
        request->after = AFTER_WIND;
    else
        return refuse(saying,
                      "not known; give hold, stop, or wind:FROM,KN with "
                      "degrees 0 to 360 and 0 to 100 kn",
                      error);
    return true;
}

static void add_port(struct request *request, const struct saying *saying,
                     const char *position, struct position at) {
    if (!request->ports)
        request->ports =
            arena_alloc(saying->arena, REQUEST_VIA, sizeof *request->ports);
    char *name = arena_print(saying->arena, "%.*s",
                             (int)(position - saying->value), saying->value);
    request->ports[request->port_count++] =
        (struct request_port){.name = text_trim(name), .at = at};
}

static bool has_short_name(const struct saying *saying, size_t length,
                           struct error *error) {
    if (length <= REQUEST_NAME_BYTES)
        return true;
    return error_set(error, STATUS_INPUT,
                     "a name of %zu bytes for '%s' in [%s]; give one of %d at "
                     "most",
                     length, saying->key->name, saying->key->section,
                     REQUEST_NAME_BYTES);
}

static bool read_name(struct request *request, const struct saying *saying,
                      struct error *error) {
    (void)request;
    return has_short_name(saying, strlen(saying->value), error);
}

/* The name may hold blanks: the position is what can be read as one. */
static bool read_fallback(struct request *request, const struct saying *saying,
                          struct error *error) {
    const char *fault = "give a name, a blank, and its position";
    bool figures = false; /* the first that looks like one is the one meant */
    const char *rest = saying->value;
    while ((rest = strchr(rest, ' '))) {
        rest++;
        struct position place;
        const char *cause = position_parse(rest, &place);
        if (!cause &&
            !has_short_name(saying, (size_t)(rest - 1 - saying->value), error))
            return false;
        if (!cause) {
            add_port(request, saying, rest, place);
            return true;
        }
        if (!figures && strchr("+-0123456789", *rest)) {
            figures = true;
            fault = cause;
        }
    }
    return refuse(saying, fault, error);
}

static bool read_names(struct request *request, const struct saying *saying,
                       struct error *error) {
    const char *fault = crew_read_names(saying->value, saying->arena,
                                        request->crew, &request->crew_count);
    return !fault || refuse(saying, fault, error);
}

/* A time of day is read as one of any day. */
static bool read_watch_start(struct request *request,
                             const struct saying *saying, struct error *error) {
    static const char any_day[] = "2000-01-01T";
    struct instant midnight, start;
    bool zone_given;
    const char *whole =
        arena_print(saying->arena, "%s%s", any_day, saying->value);
    if (strlen(saying->value) != strlen("20:00") ||
        !instant_parse(whole, &start, &zone_given) ||
        !instant_parse("2000-01-01", &midnight, &zone_given))
        return refuse(saying, "not a time of day; write it as 20:00", error);
    request->watch_start_s = instant_minus(start, midnight);
    return true;
}

static bool read_name_length(struct request *request,
                             const struct saying *saying, struct error *error) {
    if (request->name_length == 0 || request->name_length >= PLAN_NAME_LENGTH)
        return true;
    return refuse(saying,
                  "too short for names that differ; give 5 or more, or 0 for "
                  "as long as they are",
                  error);
}

/* A number, not a quantity. */
static bool read_member(struct request *request, const struct saying *saying,
                        struct error *error) {
    double number = request->member.value;
    return floor(number) >= number ||
           refuse(saying, "a member has a whole number", error);
}

struct reader {
    const char *name;
    bool (*read)(struct request *request, const struct saying *saying,
                 struct error *error);
};

static const struct reader readers[] = {
    {"from", read_from},         {"to", read_to},
    {"via", read_via},           {"depart", read_depart},
    {"ease", read_ease},         {"after_forecast", read_after},
    {"fallback", read_fallback}, {"name_length", read_name_length},
    {"names", read_names},       {"watch_start", read_watch_start},
    {"member", read_member},     {"name", read_name},
    {"earliest", read_earliest}, {"latest", read_latest},
};

static bool read_text(struct request *request, const struct saying *saying,
                      struct error *error) {
    for (size_t i = 0; i < sizeof readers / sizeof *readers; i++)
        if (text_same(readers[i].name, saying->key->name))
            return readers[i].read(request, saying, error);
    return true;
}

/* --- keys one by one ------------------------------------------------------ */

static const struct key *find_key(const char *section, const char *name) {
    for (size_t i = 0; i < request_keys.count; i++)
        if (text_same(request_keys.keys[i].section, section) &&
            text_same(request_keys.keys[i].name, name))
            return &request_keys.keys[i];
    return NULL;
}

static struct key_list *list_of(struct request *request,
                                const struct key *key) {
    return (struct key_list *)(void *)((char *)request + key->offset);
}

static bool is_named(const struct key *key, const char *name) {
    return key && text_same(key->name, name);
}

static bool is_file_list(const struct key *key) {
    return is_named(key, "forecast") || is_named(key, "zones");
}

static bool has_room(struct request *request, const struct key *key,
                     struct error *error) {
    size_t limit = is_file_list(key) ? REQUEST_FILES : REQUEST_VIA;
    if (list_of(request, key)->count < limit)
        return true;
    return error_set(error, STATUS_INPUT,
                     "'%s' in [%s] is given more than %zu times; leave some "
                     "out",
                     key->name, key->section, limit);
}

static bool store(struct request *request, bool *seen,
                  const struct ini_entry *entry, const char *path,
                  struct arena *arena, struct error *error) {
    const struct key *key = find_key(entry->section, entry->name);
    bool list = key && key->kind == KEY_LIST;
    if (list && !has_room(request, key, error))
        return false;
    if (!keys_store(&request_keys, request, seen, entry, path, arena, error))
        return false;
    assert(key && "keys_store() knows it");
    if (!*entry->value)
        return true; /* unset */
    if (list && is_file_list(key)) {
        struct key_list *files = list_of(request, key);
        files->texts[files->count - 1] = text_beside(arena, path, entry->value);
    }
    if (is_named(key, "coast") && !text_same(entry->value, "auto") &&
        !text_same(entry->value, "none"))
        request->coast_text = text_beside(arena, path, entry->value);
    struct saying saying = {key, entry->value, arena};
    return read_text(request, &saying, error);
}

struct loading {
    struct request *request;
    struct arena *arena;
};

static bool store_entry(void *context, const struct ini_entry *entry,
                        struct error *error) {
    struct loading *loading = context;
    return store(loading->request, loading->request->seen_in_file, entry,
                 loading->request->path, loading->arena, error);
}

bool request_load(struct request *request, const char *path,
                  struct arena *arena, struct error *error) {
    *request = (struct request){.path = path, .ease = 1.0};
    keys_set_defaults(&request_keys, request, arena);
    if (!path)
        return true;
    struct loading loading = {request, arena};
    return ini_load(path, store_entry, &loading, error);
}

/* --- options -------------------------------------------------------------- */

const char *request_option_name(const struct key *key, struct arena *arena) {
    if (!text_same(key->section, options_section))
        return NULL;
    char *name = arena_copy(arena, key->name);
    for (char *place = name; (place = strchr(place, '_'));)
        *place = '-';
    return name;
}

/* A key as the settings file calls it, and as the command line does. */
static bool replace(struct error *error, const char *old, const char *new) {
    const char *place = strstr(error->text, old);
    if (!place)
        return false;
    char text[ERROR_TEXT_SIZE];
    snprintf(text, sizeof text, "%.*s%s%s", (int)(place - error->text),
             error->text, new, place + strlen(old));
    memcpy(error->text, text, sizeof text);
    return true;
}

/* Puts an error that speaks of a key into the words of the command line. */
static bool as_usage(struct error *error, const char *key_name,
                     const char *name, struct arena *arena) {
    const char *in_file =
        arena_print(arena, "'%s' in [%s]", key_name, options_section);
    const char *on_line = arena_print(arena, "'--%s'", name);
    if (!replace(error, arena_print(arena, "key %s", in_file), on_line))
        replace(error, in_file, on_line);
    error->status = STATUS_USAGE;
    return false;
}

static char *key_name_of(const char *option, struct arena *arena) {
    char *name = arena_copy(arena, option);
    for (char *place = name; (place = strchr(place, '-'));)
        *place = '_';
    return name;
}

/* What the file said of a list does not count beside options. */
static void start_anew(struct request *request, const struct key *key) {
    *list_of(request, key) = (struct key_list){.count = 0};
    if (is_named(key, "via"))
        request->via_count = 0;
    if (is_named(key, "fallback"))
        request->port_count = 0;
}

bool request_option(struct request *request, const char *name,
                    const char *value, struct arena *arena,
                    struct error *error) {
    const char *key_name = key_name_of(name, arena);
    const struct key *key = find_key(options_section, key_name);
    assert(key && "options come out of the table of keys");
    size_t index = (size_t)(key - request_keys.keys);
    if (!*value && !(key->fallback && !*key->fallback))
        return error_set(error, STATUS_USAGE,
                         "'--%s' is given without a value; give %s", name,
                         key->help);
    if (key->kind == KEY_LIST && !request->seen_option[index])
        start_anew(request, key);
    struct ini_entry entry = {
        .section = options_section, .name = key_name, .value = value};
    return store(request, request->seen_option, &entry, NULL, arena, error) ||
           as_usage(error, key_name, name, arena);
}

/* --- the whole ------------------------------------------------------------ */

static const char *option_of(const char *key_name, struct arena *arena) {
    return request_option_name(find_key(options_section, key_name), arena);
}

/* "plan.ini: 'from' is missing from [passage]; add it (the start: ...)". */
bool request_missing(const struct request *request, const char *name,
                     struct arena *arena, struct error *error) {
    const struct key *key = find_key(options_section, name);
    const char *option = option_of(name, arena);
    if (!request->path)
        return error_set(error, STATUS_USAGE,
                         "'--%s' is missing, and no passage file is given; "
                         "add it: %s",
                         option, key->help);
    error_set(error, STATUS_INPUT,
              "key '%s' is missing from [%s]; add it, or give --%s: %s", name,
              key->section, option, key->help);
    return error_at(error, "%s", request->path);
}

/* What a request is for: a plan, a track that is given, what to ask for. */
enum purpose { FOR_PLAN = 1, FOR_TRACK = 2, FOR_ASK = 4 };

static bool check_complete(const struct request *request, enum purpose purpose,
                           struct arena *arena, struct error *error) {
    const struct {
        bool there;
        int needed; /* for these purposes */
        const char *name;
    } keys[] = {
        {request->boat_path != NULL, FOR_PLAN | FOR_TRACK | FOR_ASK, "boat"},
        {request->forecast_paths.count > 0, FOR_PLAN | FOR_TRACK, "forecast"},
        {request->from_text != NULL, FOR_PLAN | FOR_ASK, "from"},
        {request->to_text != NULL, FOR_PLAN | FOR_ASK, "to"},
        {request->depart_text != NULL, FOR_PLAN, "depart"},
    };
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (!keys[i].there && ((int)purpose & keys[i].needed))
            return request_missing(request, keys[i].name, arena, error);
    return true;
}

/* Watches are those of somebody, and of some length. */
static bool check_crew(const struct request *request, struct error *error) {
    const char *lack = NULL;
    if (request->crew_count == 0 &&
        (request->watch_s.known || request->watch_start_text))
        lack = "names";
    if (request->crew_count > 1 && !request->watch_s.known)
        lack = "watch_hours";
    if (!lack)
        return true;
    error_set(error, STATUS_INPUT,
              "key '%s' is missing from [crew]; add it, or leave the section "
              "out",
              lack);
    return error_at(error, "%s", request->path);
}

static bool is_same_place(struct position a, struct position b) {
    double east_deg = fabs(a.lon_deg - b.lon_deg);
    return fabs(a.lat_deg - b.lat_deg) < SAME_PLACE_DEG &&
           (east_deg < SAME_PLACE_DEG || 360.0 - east_deg < SAME_PLACE_DEG);
}

bool request_check_way(double way_m, struct error *error) {
    if (way_m <= nmi_to_m(REQUEST_WAY_NMI))
        return true;
    return error_set(error, STATUS_INPUT,
                     "the way is %.0f nmi, and more than %d nmi are not "
                     "planned; look at the letters N, S, E and W of its places",
                     m_to_nmi(way_m), REQUEST_WAY_NMI);
}

/* From each place to the next there must be a way to go. */
static bool check_places(const struct request *request, struct error *error) {
    struct position last = request->from;
    for (size_t i = 0; i <= request->via_count; i++) {
        bool finish = i == request->via_count;
        struct position next = finish ? request->to : request->via[i];
        if (request->via_count > 0 && is_same_place(last, next))
            return error_set(error, STATUS_INPUT,
                             "'%s' is the same place as the one before it; "
                             "give another, or leave it out",
                             finish ? "to" : "via");
        last = next;
    }
    return request_check_way(ask_way_m(request), error);
}

/* A gust is more than the wind. */
static bool check_order(const struct request *request, struct error *error) {
    struct figure wind = request->max_wind_mps, gust = request->max_gust_mps;
    if (!wind.known || !gust.known || gust.value >= wind.value)
        return true;
    return error_set(error, STATUS_INPUT,
                     "max_gust, %.4g kn, is below max_wind, %.4g kn; a gust is "
                     "more than the wind: exchange them, or raise max_gust",
                     mps_to_kn(gust.value), mps_to_kn(wind.value));
}

/* "plans/home run.ini" is the passage "home run". */
static const char *name_of_file(const char *path, struct arena *arena) {
    if (!path)
        return "passage";
    const char *slash = strrchr(path, '/');
    char *name = arena_copy(arena, slash ? slash + 1 : path);
    char *point = strrchr(name, '.');
    if (point && point > name)
        *point = '\0';
    return name;
}

bool request_resolve(struct request *request, bool track_given,
                     struct arena *arena, struct error *error) {
    if (!check_complete(request, track_given ? FOR_TRACK : FOR_PLAN, arena,
                        error) ||
        !check_crew(request, error) || !check_order(request, error) ||
        (!track_given && !check_places(request, error)))
        return false;
    /* the choices stand in the order of enum spar_place */
    request->start =
        (struct deck){.spar = (enum spar_place)request->spar_choice};
    if (!request->name && !track_given)
        request->name = name_of_file(request->path, arena);
    return true;
}

bool request_resolve_ask(struct request *request, struct arena *arena,
                         struct error *error) {
    if (!check_complete(request, FOR_ASK, arena, error) ||
        !check_places(request, error))
        return false;
    if (!request->name)
        request->name = name_of_file(request->path, arena);
    return true;
}

void request_template(FILE *stream) {
    fputs("# A passage. Lines that start with # are remarks; a key without one "
          "must be\n"
          "# given. Paths are relative to this file. An option of the command "
          "line wins.\n",
          stream);
    keys_template(&request_keys, stream);
}
