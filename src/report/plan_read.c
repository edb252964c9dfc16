#include "report/plan_read.h"

#include "base/text.h"
#include "exchange/json.h"
#include "report/plan_json.h"
#include "report/words.h"

#include <math.h>

/* A value of the file: the object it stands in, as messages name it. */
struct place {
    const struct json *object;
    const char *name;
    struct error *error;
};

static bool refuse(const struct place *place, const char *key) {
    return error_set(place->error, STATUS_INPUT,
                     "'%s' of %s is missing or no such value; the file is "
                     "damaged: give it as it was written",
                     key, place->name);
}

static bool take_instant(const struct place *place, const char *key,
                         struct instant *at) {
    return json_instant(json_get(place->object, key), at) || refuse(place, key);
}

static bool take_position(const struct place *place, const char *key,
                          struct position *at) {
    const struct json *json = json_get(place->object, key);
    return (json_number(json_get(json, "lat"), &at->lat_deg) &&
            json_number(json_get(json, "lon"), &at->lon_deg) &&
            fabs(at->lat_deg) <= 90.0 && fabs(at->lon_deg) <= 180.0) ||
           refuse(place, key);
}

static bool take_text(const struct place *place, const char *key,
                      const char **text) {
    return json_text(json_get(place->object, key), text) || refuse(place, key);
}

static bool take_spar(const struct place *place, const char *key,
                      enum spar_place *spar) {
    const char *word;
    if (!take_text(place, key, &word))
        return false;
    for (int i = SPAR_STOWED; i <= SPAR_STARBOARD; i++) {
        *spar = (enum spar_place)i;
        if (text_same(word, words_spar(*spar)))
            return true;
    }
    return refuse(place, key);
}

static bool take_kind(const struct place *place, const char *key,
                      enum change_kind *kind) {
    const char *word;
    if (!take_text(place, key, &word))
        return false;
    for (int i = 0; i < CHANGE_KINDS; i++) {
        *kind = (enum change_kind)i;
        if (text_same(word, words_change(*kind)))
            return true;
    }
    return refuse(place, key);
}

static bool take_state(const struct place *place, const char *key,
                       struct deck *deck) {
    const char *word;
    if (!take_text(place, key, &word))
        return false;
    for (int i = 0; i < DECK_STATES; i++) {
        *deck = deck_at(i);
        if (text_same(word, words_state(*deck)))
            return true;
    }
    return refuse(place, key);
}

static bool read_leg(const struct place *place, struct previous_leg *leg) {
    return take_instant(place, "start", &leg->start) &&
           take_instant(place, "end", &leg->end) &&
           take_position(place, "from", &leg->from) &&
           take_position(place, "to", &leg->to) &&
           take_spar(place, "spar", &leg->spar);
}

static bool read_legs(struct previous *previous, const struct json *legs,
                      struct arena *arena, struct error *error) {
    size_t count = json_count(legs);
    if (count == 0)
        return error_set(error, STATUS_INPUT,
                         "there is no leg in it; give the plan as it was "
                         "written");
    if (count > PLAN_READ_LEGS)
        return error_set(error, STATUS_INPUT,
                         "%zu legs are more than %d; no plan of ours has so "
                         "many",
                         count, PLAN_READ_LEGS);
    previous->legs = arena_alloc(arena, count, sizeof *previous->legs);
    for (; previous->leg_count < count; previous->leg_count++) {
        struct place place = {
            json_item(legs, previous->leg_count),
            arena_print(arena, "leg %zu", previous->leg_count + 1), error};
        if (!read_leg(&place, &previous->legs[previous->leg_count]))
            return false;
    }
    return true;
}

static bool read_work(const struct place *place, struct previous_work *work) {
    return take_kind(place, "change", &work->kind) &&
           take_instant(place, "at", &work->at) &&
           take_state(place, "to_state", &work->to);
}

/* Of all changes those that send someone forward. */
static bool read_works(struct previous *previous, const struct json *changes,
                       struct arena *arena, struct error *error) {
    size_t count = json_count(changes);
    previous->works = arena_alloc(arena, count + 1, sizeof *previous->works);
    for (size_t i = 0; i < count; i++) {
        struct place place = {json_item(changes, i),
                              arena_print(arena, "change %zu", i + 1), error};
        bool forward;
        if (!json_flag(json_get(place.object, "deck_work"), &forward))
            return refuse(&place, "deck_work");
        if (forward &&
            !read_work(&place, &previous->works[previous->work_count++]))
            return false;
    }
    return true;
}

static bool check_ours(const struct json *root, struct error *error) {
    const char *version;
    double format;
    if (!json_text(json_get(root, "sparwise"), &version) ||
        !json_number(json_get(root, "format"), &format))
        return error_set(error, STATUS_INPUT,
                         "not a plan of ours: it has no 'sparwise' and "
                         "'format'; give a plan.json");
    if (fabs(format - PLAN_JSON_FORMAT) <= 0.0)
        return true;
    return error_set(error, STATUS_INPUT,
                     "a plan of format %g, by sparwise %s; this one reads "
                     "format %d: plan once without it",
                     format, version, PLAN_JSON_FORMAT);
}

static bool read_root(struct previous *previous, const struct json *root,
                      struct arena *arena, struct error *error) {
    struct place passage = {json_get(root, "passage"), "the passage", error};
    const char *name;
    if (!check_ours(root, error) || !take_text(&passage, "name", &name) ||
        !take_position(&passage, "to", &previous->to) ||
        !take_instant(&passage, "depart", &previous->depart) ||
        !read_legs(previous, json_get(root, "legs"), arena, error) ||
        !read_works(previous, json_get(root, "changes"), arena, error))
        return false;
    previous->name = arena_copy(arena, name);
    struct place summary = {json_get(root, "summary"), "the summary", error};
    previous->reached = json_get(summary.object, "arrive") != NULL;
    return !previous->reached ||
           take_instant(&summary, "arrive", &previous->arrive);
}

bool plan_read(struct previous *previous, const char *path, struct arena *arena,
               struct error *error) {
    struct json *root;
    *previous = (struct previous){.path = path};
    if (!json_load(&root, path, PLAN_READ_LIMIT, error))
        return false;
    bool good =
        read_root(previous, root, arena, error) || error_at(error, "%s", path);
    json_free(root);
    return good;
}
