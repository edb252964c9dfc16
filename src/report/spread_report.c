#include "report/spread_report.h"

#include "base/arena.h"
#include "base/units.h"
#include "report/clock.h"
#include "report/sheet.h"
#include "report/words.h"

#include <string.h>

/* Most members that are named in a line; the rest is counted. */
enum { NAMED_MOST = 12, CELL_SIZE = SHARP_TEXT_SIZE + 2 };

static const char *member_name(struct arena *arena,
                               struct spread_member member) {
    if (member.kind == SPREAD_PLAIN)
        return "the forecast without members";
    if (member.kind == SPREAD_CONTROL)
        return "the control";
    return arena_print(arena, "member %d", member.number);
}

/* --- head ----------------------------------------------------------------- */

/* "the control, 1 to 19". */
static const char *all_members(struct arena *arena,
                               const struct spread *spread) {
    const char *text = "";
    for (size_t i = 0; i < spread->count;) {
        const struct spread_row *rows = spread->rows;
        const char *comma = i > 0 ? ", " : "";
        size_t last = i;
        if (rows[i].member.kind == SPREAD_CONTROL) {
            text = arena_print(arena, "%s%sthe control", text, comma);
            i++;
            continue;
        }
        while (last + 1 < spread->count &&
               rows[last + 1].member.number <= rows[last].member.number + 1)
            last++;
        text = arena_print(arena, "%s%s%d", text, comma, rows[i].member.number);
        if (last > i)
            text =
                arena_print(arena, "%s to %d", text, rows[last].member.number);
        i = last + 1;
    }
    return text;
}

static void write_head(struct arena *arena, const struct spread *spread,
                       FILE *stream) {
    const struct plan *plan = spread->plan;
    char depart[SHARP_TEXT_SIZE], arrive[SHARP_TEXT_SIZE];
    clock_print(plan, plan->depart, depart);
    clock_print(plan, plan->summary.arrive, arrive);
    sheet_paragraph(stream, 0, 2,
                    arena_print(arena, "Spread over %zu members: %s",
                                spread->count, words_ascii(arena, plan->name)));
    sheet_entry(stream, "Members", "%s", all_members(arena, spread));
    sheet_entry(stream, "The plan", "made with %s; departs %s, arrives %s",
                member_name(arena, spread->used), depart, arrive);
}

/* --- times ---------------------------------------------------------------- */

/* A column of times; marked where an end stands in for a part that so few
 * members don't tell. */
static void print_cell(const struct plan *plan, struct figure part_s,
                       double end_s, bool *marked, char text[CELL_SIZE]) {
    char time[SHARP_TEXT_SIZE];
    double t_s = part_s.known ? part_s.value : end_s;
    clock_print_short(plan, instant_plus(plan->depart, t_s), time);
    snprintf(text, CELL_SIZE, "%s%s", time, part_s.known ? "" : "*");
    *marked = *marked || !part_s.known;
}

/* Three columns of nine: 10, 50 and 90 %. */
static void print_cells(const struct plan *plan,
                        const struct quantiles *quantiles, bool *marked,
                        FILE *stream) {
    char tenth[CELL_SIZE] = "-", middle[CELL_SIZE] = "-",
         ninetieth[CELL_SIZE] = "-";
    if (quantiles->count > 0) {
        print_cell(plan, quantiles->tenth_s, quantiles->earliest_s, marked,
                   tenth);
        print_cell(plan, quantiles->middle_s, quantiles->earliest_s, marked,
                   middle);
        print_cell(plan, quantiles->ninetieth_s, quantiles->latest_s, marked,
                   ninetieth);
    }
    fprintf(stream, " %-9s %-9s %-9s", tenth, middle, ninetieth);
}

static void write_arrival(const struct spread *spread, const char *name,
                          const struct spread_sum *sum, bool *marked,
                          FILE *stream) {
    const struct quantiles *arrive = &sum->arrive;
    const struct plan *plan = spread->plan;
    char earliest[SHARP_TEXT_SIZE] = "-", latest[SHARP_TEXT_SIZE] = "-";
    if (arrive->count > 0) {
        clock_print_short(plan, instant_plus(plan->depart, arrive->earliest_s),
                          earliest);
        clock_print_short(plan, instant_plus(plan->depart, arrive->latest_s),
                          latest);
    }
    fprintf(stream, "  %-18s %-9s", name, earliest);
    print_cells(plan, arrive, marked, stream);
    fprintf(stream, " %-9s %2zu of %zu\n", latest, arrive->count,
            spread->count);
}

static void write_arrivals(const struct spread *spread, bool *marked,
                           FILE *stream) {
    char zone[CLOCK_ZONE_SIZE];
    clock_zone(spread->plan, zone);
    sheet_heading(stream, "ARRIVAL, day and time %s", zone);
    fprintf(stream, "  %-18s %-9s %-9s %-9s %-9s %-9s %s\n", "", "earliest",
            "10 %", "50 %", "90 %", "latest", "members");
    write_arrival(spread, "this plan's track", &spread->track, marked, stream);
    write_arrival(spread, "each its own best", &spread->own, marked, stream);
}

/* --- deck work ------------------------------------------------------------ */

static const char *side_of_spar(enum spar_place spar) {
    return spar == SPAR_STARBOARD ? "spar starboard" : "spar to port";
}

/* At most 22 columns: "across, spar starboard". */
static const char *work_cell(struct arena *arena,
                             const struct plan_change *change) {
    switch (change->kind) {
    case CHANGE_SET:
        return arena_print(arena, "set, %s", side_of_spar(change->to.spar));
    case CHANGE_GYBE:
        return arena_print(arena, "gybe, %s", side_of_spar(change->to.spar));
    case CHANGE_ACROSS:
        return arena_print(arena, "across, %s", side_of_spar(change->to.spar));
    case CHANGE_STOW:
        return "stow the spar";
    case CHANGE_MAINSAIL_GYBE:
        return change->to.wind_starboard ? "main, boom to port"
                                         : "main, boom starboard";
    case CHANGE_TACK:
        return "tack";
    case CHANGE_ROLL:
        return "roll the headsail";
    case CHANGE_UNROLL:
    case CHANGE_KINDS:
        break;
    }
    return "unroll the headsail";
}

static void write_work(struct arena *arena, const struct spread *spread,
                       const struct spread_work *work, bool *marked,
                       FILE *stream) {
    char at[SHARP_TEXT_SIZE], margin[16] = "-";
    clock_print_change_short(spread->plan, work->change, at);
    if (work->margin_known)
        snprintf(margin, sizeof margin, "%zu", work->inside_margin);
    fprintf(stream, "  %-8s %-22s", at, work_cell(arena, work->change));
    print_cells(spread->plan, &work->own, marked, stream);
    fprintf(stream, "%3zu %6s %6zu\n", work->own.count, margin,
            work->inside_limits);
}

static void write_works(struct arena *arena, const struct spread *spread,
                        bool *marked, FILE *stream) {
    char zone[CLOCK_ZONE_SIZE];
    clock_zone(spread->plan, zone);
    sheet_heading(stream, "DECK WORK, day and time %s", zone);
    if (spread->work_count == 0) {
        sheet_paragraph(stream, 2, 0, "none in the plan");
        return;
    }
    fprintf(stream, "  %-31s %-31s %s\n", "this plan", "each its own best",
            "on this track");
    fprintf(stream, "  %-8s %-22s %-9s %-9s %-9s%3s %6s %6s\n", "at", "",
            "10 %", "50 %", "90 %", "in", "margin", "limits");
    for (size_t i = 0; i < spread->work_count; i++)
        write_work(arena, spread, &spread->works[i], marked, stream);
    sheet_paragraph(
        stream, 2, 0,
        arena_print(arena,
                    "in: of %zu members, those whose own best has that work at "
                    "all. margin, limits: those in which, done where this plan "
                    "has it, it stays inside its margin of time, and inside "
                    "the work limits.",
                    spread->count));
}

/* --- what is beside the times --------------------------------------------- */

static const char *gust_text(struct arena *arena,
                             const struct spread_sum *sum) {
    if (!sum->gust_mps.known)
        return "not known";
    return arena_print(arena, "%.0f kn%s, %s", mps_to_kn(sum->gust_mps.value),
                       sum->gust_estimated ? " (estimated)" : "",
                       member_name(arena, sum->gust_of));
}

/* Which rows to name. */
typedef bool told(const struct spread_way *way);

static bool is_broken(const struct spread_way *way) {
    return way->broken != OBSTACLE_NONE;
}

static bool is_beyond(const struct spread_way *way) {
    return way->beyond_s > 0.0;
}

static const struct spread_way *way_in(const struct spread_row *row, bool own) {
    return own ? &row->own : &row->track;
}

/* "the control, 3, 7": those of which that is so. */
static const char *names(struct arena *arena, const struct spread *spread,
                         bool own, told *is_so) {
    const char *text = "";
    size_t count = 0;
    for (size_t i = 0; i < spread->count; i++) {
        struct spread_member member = spread->rows[i].member;
        if (!is_so(way_in(&spread->rows[i], own)) || ++count > NAMED_MOST)
            continue;
        const char *comma = count > 1 ? ", " : "";
        if (member.kind == SPREAD_CONTROL)
            text = arena_print(arena, "%s%sthe control", text, comma);
        else
            text = arena_print(arena, "%s%s%d", text, comma, member.number);
    }
    if (count > NAMED_MOST)
        text = arena_print(arena, "%s and %zu more", text, count - NAMED_MOST);
    return text;
}

/* Is this the first that does not arrive for that reason? */
static bool is_first(const struct spread *spread, size_t row, bool own) {
    const char *why = way_in(&spread->rows[row], own)->why;
    for (size_t i = 0; i < row; i++) {
        const struct spread_way *way = way_in(&spread->rows[i], own);
        if (!way->arrives && strcmp(way->why, why) == 0)
            return false;
    }
    return true;
}

/* Each reason once, with the members that it holds for. */
static void write_not_arrived(struct arena *arena, const struct spread *spread,
                              bool own, FILE *stream) {
    for (size_t i = 0; i < spread->count; i++) {
        const struct spread_way *first = way_in(&spread->rows[i], own);
        const char *list = "";
        size_t count = 0;
        if (first->arrives || !is_first(spread, i, own))
            continue;
        for (size_t k = i; k < spread->count; k++) {
            const struct spread_way *way = way_in(&spread->rows[k], own);
            if (way->arrives || strcmp(way->why, first->why) != 0)
                continue;
            struct spread_member member = spread->rows[k].member;
            const char *comma = count++ > 0 ? ", " : "";
            list = arena_print(arena, "%s%s%s", list, comma,
                               member.kind == SPREAD_CONTROL
                                   ? "the control"
                                   : arena_print(arena, "%d", member.number));
        }
        sheet_entry(stream, own ? "No route" : "Not sailed",
                    own ? "in %zu of %zu members (%s): %s"
                        : "this plan's track, in %zu of %zu members (%s): "
                          "stopped by %s",
                    count, spread->count, list, words_ascii(arena, first->why));
    }
}

static void write_rest(struct arena *arena, const struct spread *spread,
                       FILE *stream) {
    const struct spread_sum *track = &spread->track, *own = &spread->own;
    sheet_heading(stream, "BEWARE");
    sheet_entry(stream, "Worst gust",
                "on this plan's track %s; on the own "
                "bests %s",
                gust_text(arena, track), gust_text(arena, own));
    if (track->broken > 0)
        sheet_entry(stream, "Limits",
                    "this plan's track breaks a limit of yours in %zu of %zu "
                    "members (%s); it is timed as if sailed on",
                    track->broken, spread->count,
                    names(arena, spread, false, is_broken));
    write_not_arrived(arena, spread, false, stream);
    write_not_arrived(arena, spread, true, stream);
    if (track->beyond > 0)
        sheet_entry(stream, "A guess",
                    "in %zu of %zu members (%s) this plan's track goes on "
                    "beyond the forecast",
                    track->beyond, spread->count,
                    names(arena, spread, false, is_beyond));
    sheet_entry(stream, "The doubt",
                "is that of one forecast about itself; the weather can be "
                "outside of all its members");
}

/* --- the whole ------------------------------------------------------------ */

bool spread_write(const struct spread *spread, FILE *stream,
                  struct error *error) {
    struct arena arena;
    bool marked = false;
    arena_init(&arena);
    write_head(&arena, spread, stream);
    write_arrivals(spread, &marked, stream);
    write_works(&arena, spread, &marked, stream);
    if (marked)
        sheet_paragraph(stream, 2, 0,
                        "*: fewer than 9 members tell no 10 and 90 %; the "
                        "earliest and the latest stand there.");
    write_rest(&arena, spread, stream);
    arena_free(&arena);
    return !ferror(stream) ||
           error_set(error, STATUS_WRITE, "can't write the spread");
}
