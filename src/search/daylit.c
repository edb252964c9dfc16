#include "search/daylit.h"

#include "base/units.h"

#include <math.h>

/* Work is not put off, or brought forward, by more than a night. */
static const double NIGHT_S = 14.0 * SECONDS_PER_HOUR;

/* The boat where a step begins. */
struct spell {
    struct position at;
    double t_s;
    bool dark;
    size_t leg; /* the vertex where that starts */
};

/* Work in the dark, ordered at a vertex. */
struct dark_work {
    size_t vertex;
    double t_s;
};

/* What is told of a track while it is sailed. */
struct sailed {
    const struct voyage *voyage;
    struct arena *arena;
    struct spell *spells;
    size_t spell_count, spell_capacity;
    struct dark_work *works;
    size_t work_count, work_capacity;
    size_t leg;
};

static void note_step(void *context, const struct sail_step *step) {
    struct sailed *sailed = context;
    sailed->spells =
        arena_room(sailed->arena, sailed->spells, sailed->spell_count,
                   &sailed->spell_capacity, sizeof *sailed->spells);
    sailed->spells[sailed->spell_count++] =
        (struct spell){.at = step->from,
                       .t_s = step->start_s,
                       .dark = step->conditions->light == LIGHT_NIGHT,
                       .leg = sailed->leg};
}

static void note_change(void *context, const struct sail_change *change) {
    struct sailed *sailed = context;
    bool ordered = !change->unplanned && sailed->leg > 0;
    if (!ordered || change->conditions->light != LIGHT_NIGHT ||
        !change_is_deck_work(sailed->voyage->boat, change->kind))
        return;
    sailed->works = arena_room(sailed->arena, sailed->works, sailed->work_count,
                               &sailed->work_capacity, sizeof *sailed->works);
    sailed->works[sailed->work_count++] =
        (struct dark_work){.vertex = sailed->leg, .t_s = change->t_s};
}

static bool sail(const struct voyage *voyage, const struct track *track,
                 const struct underway *start, struct sailed *sailed) {
    struct underway boat = track_start(voyage, track, start);
    struct sail_observer observer = {
        .step = note_step, .change = note_change, .context = sailed};
    for (; sailed->leg + 1 < track->count; sailed->leg++)
        if (track_sail_stretch(voyage, track, sailed->leg, &boat, &observer) !=
            OBSTACLE_NONE)
            return false;
    return true;
}

/* Is the deck left alone between the two? */
static bool is_quiet(const struct track *track, size_t from, size_t to) {
    for (size_t i = from + 1; i < to; i++)
        if (!deck_same_rig(track->vertices[i].order,
                           track->vertices[i - 1].order))
            return false;
    return true;
}

/* The work of a vertex done where the spell begins. */
static bool move_work(const struct track *track, const struct dark_work *work,
                      const struct spell *spell, struct arena *arena,
                      struct track *moved) {
    const struct vertex *v = track->vertices;
    size_t at = work->vertex, leg = spell->leg;
    bool sooner = leg < at;
    if (sooner ? !is_quiet(track, leg, at) : !is_quiet(track, at, leg + 1))
        return false;
    struct deck old = v[at - 1].order, new = v[at].order;
    *moved = (struct track){.count = track->count + 1};
    moved->vertices = arena_alloc(arena, moved->count, sizeof *moved->vertices);
    for (size_t i = 0; i < track->count; i++) {
        struct vertex *to = &moved->vertices[i > leg ? i + 1 : i];
        *to = v[i];
        if (sooner && i > leg && i < at)
            to->order = new;
        if (!sooner && i >= at && i <= leg)
            to->order = old;
    }
    moved->vertices[leg + 1] = (struct vertex){.at = spell->at, .order = new};
    return true;
}

/* Is that work done in the light, as the track is sailed? */
static bool is_lit(const struct sailed *sailed, const struct track *track,
                   const struct underway *start, size_t vertex) {
    struct sailed again = {.voyage = sailed->voyage, .arena = sailed->arena};
    if (!sail(sailed->voyage, track, start, &again))
        return false;
    for (size_t i = 0; i < again.work_count; i++)
        if (again.works[i].vertex == vertex)
            return false;
    return true;
}

/* The work done where the spell with that index begins, if it is light then. */
static bool is_moved(const struct sailed *sailed, const struct track *track,
                     const struct underway *start, const struct dark_work *work,
                     size_t index, struct track *moved) {
    const struct spell *spell = &sailed->spells[index];
    return !spell->dark && fabs(spell->t_s - work->t_s) < NIGHT_S &&
           move_work(track, work, spell, sailed->arena, moved) &&
           is_lit(sailed, moved, start, spell->leg + 1);
}

/* From the work on to where there is light, sooner or later; the places between
 * are sailed with the other rig, so the clock is another there. */
static bool find_light(const struct sailed *sailed, const struct track *track,
                       const struct underway *start,
                       const struct dark_work *work, bool sooner,
                       struct track *moved) {
    size_t first = 0;
    while (first < sailed->spell_count && sailed->spells[first].t_s < work->t_s)
        first++;
    if (sooner) {
        while (first-- > 0)
            if (is_moved(sailed, track, start, work, first, moved))
                return true;
        return false;
    }
    for (; first < sailed->spell_count; first++)
        if (is_moved(sailed, track, start, work, first, moved))
            return true;
    return false;
}

size_t daylit_ways(const struct voyage *voyage, const struct track *track,
                   const struct underway *start, struct track *ways,
                   size_t most, struct arena *arena) {
    struct sailed sailed = {.voyage = voyage, .arena = arena};
    size_t count = 0;
    if (voyage->work_rule == WORK_ANY || voyage->ease <= 0.0 ||
        !sail(voyage, track, start, &sailed))
        return 0;
    for (size_t i = 0; i < sailed.work_count; i++) {
        for (int sooner = 0; sooner < 2 && count < most; sooner++)
            if (find_light(&sailed, track, start, &sailed.works[i], sooner == 1,
                           &ways[count]))
                count++;
    }
    return count;
}
