#include "plan/crew.h"

#include "base/arena.h"
#include "base/text.h"
#include "base/units.h"
#include "plan/plan.h"
#include "search/track.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double DAY_S = 24.0 * SECONDS_PER_HOUR;

/* --- names ---------------------------------------------------------------- */

static bool is_named(const char *name, const char *const *names, int count) {
    for (int i = 0; i < count; i++)
        if (text_same(names[i], name))
            return true;
    return false;
}

const char *crew_read_names(const char *text, struct arena *arena,
                            const char *names[CREW_PEOPLE], int *count) {
    char *rest = arena_copy(arena, text);
    *count = 0;
    while (rest) {
        char *comma = strchr(rest, ',');
        if (comma)
            *comma = '\0';
        const char *name = text_trim(rest);
        rest = comma ? comma + 1 : NULL;
        if (!*name)
            return "a name is missing; write them as Ann, Bo";
        if (strlen(name) > CREW_NAME_BYTES)
            return "a name is longer than 24 bytes; shorten it";
        if (*count == CREW_PEOPLE)
            return "more than 12 names; leave some out";
        if (is_named(name, names, *count))
            return "one name stands there twice; make them differ";
        names[(*count)++] = name;
    }
    return NULL;
}

/* --- watches -------------------------------------------------------------- */

struct instant crew_first_watch(struct instant depart, double zone_s,
                                double start_s) {
    double local_s = (double)depart.unix_s + zone_s - start_s;
    return instant_plus(depart, floor(local_s / DAY_S) * DAY_S - local_s);
}

/* Watches since the first began; none is ever asked for before. */
static double watches_until(const struct crew *crew, struct instant at) {
    return floor(instant_minus(at, crew->first) / crew->watch_s);
}

int crew_on_watch(const struct crew *crew, struct instant at) {
    if (crew->count < 2)
        return crew->count - 1; /* the one, or CREW_NOBODY */
    double turn = fmod(watches_until(crew, at), crew->count);
    return (int)(turn < 0.0 ? turn + crew->count : turn);
}

struct instant crew_watch_end(const struct crew *crew, struct instant at) {
    double next = watches_until(crew, at) + 1.0;
    return instant_plus(crew->first, next * crew->watch_s);
}

/* The one before has gone off `since_s` ago, the next comes on later. */
int crew_called(const struct crew *crew, struct instant at) {
    if (crew->count < 2)
        return CREW_NOBODY;
    int watch = crew_on_watch(crew, at);
    double left_s = instant_minus(crew_watch_end(crew, at), at);
    bool just_off = crew->watch_s - left_s < left_s;
    int step = just_off ? crew->count - 1 : 1;
    return (watch + step) % crew->count;
}

bool crew_is_daily(const struct crew *crew) {
    double rounds = DAY_S / (crew->watch_s * crew->count);
    return crew->count > 1 && fabs(rounds - round(rounds)) < 1e-9;
}

/* --- rest ----------------------------------------------------------------- */

static int by_start(const void *a, const void *b) {
    const struct crew_span *first = a, *second = b;
    return (first->start_s > second->start_s) -
           (first->start_s < second->start_s);
}

/* All that keeps one of them from resting: the own watches, and the work on
 * deck that they are called for or that goes on beyond them. */
static struct crew_spans busy_spans(const struct crew *crew, int person,
                                    const struct crew_time *time,
                                    struct arena *arena) {
    const struct crew_spans *works = &time->works;
    double first_s = instant_minus(crew->first, time->depart);
    double round_s = crew->count * crew->watch_s;
    bool alone = crew->count == 1;
    size_t watches =
        alone ? 0 : (size_t)((time->end_s - first_s) / round_s) + 1;
    struct crew_spans busy = {.count = 0};
    busy.items =
        arena_alloc(arena, watches + works->count + 1, sizeof *busy.items);
    for (size_t i = 0; i < watches; i++) {
        double start_s = first_s + person * crew->watch_s + (double)i * round_s;
        busy.items[busy.count++] =
            (struct crew_span){start_s, start_s + crew->watch_s};
    }
    for (size_t i = 0; i < works->count; i++) {
        struct instant at = instant_plus(time->depart, works->items[i].start_s);
        if (crew_on_watch(crew, at) == person ||
            crew_called(crew, at) == person)
            busy.items[busy.count++] = works->items[i];
    }
    qsort(busy.items, busy.count, sizeof *busy.items, by_start);
    return busy;
}

static double shared_s(struct crew_span span, const struct crew_spans *spans) {
    double sum_s = 0.0;
    for (size_t i = 0; i < spans->count; i++) {
        double start_s = fmax(span.start_s, spans->items[i].start_s);
        double end_s = fmin(span.end_s, spans->items[i].end_s);
        sum_s += fmax(end_s - start_s, 0.0);
    }
    return sum_s;
}

static void add_gap(struct crew_rest *rest, struct crew_span gap,
                    const struct crew_spans *easy) {
    if (gap.end_s <= gap.start_s)
        return;
    rest->rest_s += gap.end_s - gap.start_s;
    rest->longest_s = fmax(rest->longest_s, gap.end_s - gap.start_s);
    rest->easy_s += shared_s(gap, easy);
}

/* Called: the work begins while they are off watch. */
static int count_called(const struct crew *crew, int person,
                        const struct crew_time *time) {
    int called = 0;
    for (size_t i = 0; i < time->works.count; i++) {
        double start_s = time->works.items[i].start_s;
        struct instant at = instant_plus(time->depart, start_s);
        called += crew_called(crew, at) == person;
    }
    return called;
}

struct crew_rest crew_rest_of(const struct crew *crew, int person,
                              const struct crew_time *time) {
    struct arena arena;
    arena_init(&arena);
    struct crew_spans busy = busy_spans(crew, person, time, &arena);
    struct crew_rest rest = {.called = count_called(crew, person, time)};
    double free_s = 0.0; /* from when on they rest */
    for (size_t i = 0; i < busy.count; i++) {
        struct crew_span gap = {free_s,
                                fmin(busy.items[i].start_s, time->end_s)};
        add_gap(&rest, gap, &time->easy);
        free_s = fmax(free_s, busy.items[i].end_s);
    }
    add_gap(&rest, (struct crew_span){free_s, time->end_s}, &time->easy);
    arena_free(&arena);
    return rest;
}

/* --- of a plan ------------------------------------------------------------ */

/* Spans that come in order; one that goes on where the last ended, or within
 * it, lengthens that. */
struct joined {
    struct arena *arena;
    struct crew_spans spans;
    size_t capacity;
    double gap_s; /* that is bridged */
    double easy_roll_deg;
};

static void join(struct joined *joined, struct crew_span span) {
    struct crew_spans *spans = &joined->spans;
    struct crew_span *last =
        spans->count > 0 ? &spans->items[spans->count - 1] : NULL;
    if (last && span.start_s <= last->end_s + joined->gap_s) {
        last->end_s = fmax(last->end_s, span.end_s);
        return;
    }
    spans->items = arena_room(joined->arena, spans->items, spans->count,
                              &joined->capacity, sizeof *spans->items);
    spans->items[spans->count++] = span;
}

static void note_step(void *context, const struct sail_step *step) {
    struct joined *easy = context;
    if (step->roll_deg <= easy->easy_roll_deg)
        join(easy,
             (struct crew_span){step->start_s, step->start_s + step->seconds});
}

/* Parts of one piece of work follow each other at once, but for the rounding
 * of their times. */
static const double SAME_WORK_S = 60.0;

static struct crew_spans works_of(const struct plan *plan,
                                  struct arena *arena) {
    struct joined works = {.arena = arena, .gap_s = SAME_WORK_S};
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        double at_s = instant_minus(change->at, plan->depart);
        if (change->deck_work)
            join(&works, (struct crew_span){at_s, at_s + change->seconds});
    }
    return works.spans;
}

void crew_give_rest(struct plan *plan, const struct voyage *voyage,
                    const struct track *course, struct underway *boat) {
    struct crew *crew = &plan->crew;
    if (crew->count == 0)
        return;
    struct arena arena;
    arena_init(&arena);
    struct joined easy = {.arena = &arena,
                          .easy_roll_deg = plan->boat->comfort.easy_roll_deg};
    struct sail_observer observer = {.step = note_step, .context = &easy};
    track_sail(voyage, course, boat, &observer);
    struct crew_time time = {.depart = plan->depart,
                             .end_s = plan->summary.elapsed_s,
                             .works = works_of(plan, &arena),
                             .easy = easy.spans};
    for (int i = 0; i < crew->count; i++)
        crew->rest[i] = crew_rest_of(crew, i, &time);
    arena_free(&arena);
}
