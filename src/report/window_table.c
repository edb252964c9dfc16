#include "base/units.h"
#include "report/clock.h"
#include "report/daylight.h"
#include "report/differences.h"
#include "report/sheet.h"
#include "report/window_report.h"
#include "report/words.h"

#include <string.h>

enum { ISO_LENGTH = sizeof "2026-06-03T00:00:00Z" - 1 };

enum { CELL_SIZE = SHARP_TEXT_SIZE };

/* --- cells ---------------------------------------------------------------- */

static void depart(const struct many_row *row, char *cell) {
    clock_print_dated(&row->plan, row->plan.depart, cell);
}

static void arrive(const struct many_row *row, char *cell) {
    clock_print_short(&row->plan, row->plan.summary.arrive, cell);
}

static void light(const struct many_row *row, char *cell) {
    snprintf(cell, CELL_SIZE, "%s", daylight_word(&row->plan));
}

static void hours_of(double seconds, char *cell) {
    differences_hours(seconds, cell);
}

static void elapsed(const struct many_row *row, char *cell) {
    snprintf(cell, CELL_SIZE, "%.1f", s_to_hours(row->plan.summary.elapsed_s));
}

static void easy(const struct many_row *row, char *cell) {
    hours_of(row->plan.summary.roll_easy_s, cell);
}

static void roll(const struct many_row *row, char *cell) {
    snprintf(cell, CELL_SIZE, "%.1f", row->plan.summary.roll_mean_deg);
}

static void over(const struct many_row *row, char *cell) {
    hours_of(row->plan.summary.roll_over_limit_s, cell);
}

static void work(const struct many_row *row, char *cell) {
    const struct plan_summary *summary = &row->plan.summary;
    int night = summary->night_deck_work;
    snprintf(cell, CELL_SIZE, "%d/%d", summary->deck_work - night, night);
}

static void spar(const struct many_row *row, char *cell) {
    hours_of(row->plan.summary.spar_s, cell);
}

static void motor(const struct many_row *row, char *cell) {
    if (row->plan.summary.motor_s.known)
        hours_of(row->plan.summary.motor_s.value, cell);
    else
        snprintf(cell, CELL_SIZE, "-");
}

static void upwind(const struct many_row *row, char *cell) {
    hours_of(row->plan.summary.upwind_s, cell);
}

static void guess(const struct many_row *row, char *cell) {
    hours_of(row->plan.summary.beyond_forecast_s, cell);
}

static void wind(const struct many_row *row, char *cell) {
    snprintf(cell, CELL_SIZE, "%.0f", mps_to_kn(row->plan.summary.max_tws_mps));
}

static void figure_cell(struct figure figure, int decimals, char *cell) {
    if (figure.known)
        snprintf(cell, CELL_SIZE, "%.*f", decimals, figure.value);
    else
        snprintf(cell, CELL_SIZE, "-");
}

static void gust(const struct many_row *row, char *cell) {
    struct figure gust_mps = row->plan.summary.max_gust_mps;
    figure_cell((struct figure){gust_mps.known, mps_to_kn(gust_mps.value)}, 0,
                cell);
}

static void sea(const struct many_row *row, char *cell) {
    figure_cell(row->plan.summary.max_wave_m, 1, cell);
}

/* From the tenth to the ninetieth of a hundred; of few members from the first
 * to the last. */
static void spread(const struct many_row *row, char *cell) {
    struct figure spread_s = quantiles_spread_s(&row->members);
    figure_cell((struct figure){spread_s.known, s_to_hours(spread_s.value)}, 1,
                cell);
}

/* --- the columns ---------------------------------------------------------- */

/* Two lines of heading over each; the second is the unit. A group's name stands
 * over its first column. */
struct column {
    const char *group, *name, *unit;
    int width; /* below 0: flush left */
    void (*put)(const struct many_row *row, char *cell);
};

static const struct column columns[] = {
    {"passage", "depart", NULL, -12, depart},
    {NULL, "arrive", NULL, -8, arrive},
    {NULL, "light", "", -5, light},
    {NULL, "time", "h", 5, elapsed},
    {"crew", "rest", "h", 4, easy},
    {NULL, "roll", "deg", 4, roll},
    {NULL, "over", "h", 4, over},
    {"deck", "work", "d/n", 4, work},
    {NULL, "spar", "h", 4, spar},
    {NULL, "motor", "h", 5, motor},
    {NULL, "beat", "h", 4, upwind},
    {"doubt", "guess", "h", 5, guess},
    {NULL, "span", "h", 4, spread},
    {NULL, "wind", "kn", 4, wind},
    {NULL, "gust", "kn", 4, gust},
    {NULL, "sea", "m", 4, sea},
};

enum { COLUMNS = sizeof columns / sizeof *columns, GROUP_GAP = 2 };

static bool has_engine(const struct window *window) {
    for (size_t i = 0; i < window->count; i++)
        if (window->rows[i].planned &&
            window->rows[i].plan.summary.motor_s.known)
            return true;
    return false;
}

static bool has_members(const struct window *window) {
    for (size_t i = 0; i < window->count; i++)
        if (window->rows[i].members.count > 0)
            return true;
    return false;
}

static bool is_shown(const struct window *window, size_t index) {
    if (columns[index].put == spread)
        return has_members(window);
    return columns[index].put != motor || has_engine(window);
}

/* Blanks at the end of a line are dropped: they are kept back until more
 * comes. */
struct liner {
    FILE *stream;
    int blanks;
};

static void line_put(struct liner *liner, const char *text, int width) {
    int length = (int)strlen(text);
    int size = width < 0 ? -width : width;
    int fill = size > length ? size - length : 0;
    if (width > 0)
        liner->blanks += fill;
    if (length > 0) {
        fprintf(liner->stream, "%*s%s", liner->blanks, "", text);
        liner->blanks = 0;
    }
    if (width < 0)
        liner->blanks += fill;
}

static void line_end(struct liner *liner) {
    fputc('\n', liner->stream);
    liner->blanks = 0;
}

static void gap(struct liner *liner, size_t index) {
    liner->blanks += columns[index].group && index > 0 ? GROUP_GAP : 1;
}

static void write_groups(const struct window *window, FILE *stream) {
    struct liner liner = {stream, 1};
    int over_by = 0; /* what a name is wider than its column */
    for (size_t i = 0; i < COLUMNS; i++) {
        const char *name = columns[i].group ? columns[i].group : "";
        int width = columns[i].width < 0 ? -columns[i].width : columns[i].width;
        if (!is_shown(window, i))
            continue;
        gap(&liner, i);
        liner.blanks -= over_by;
        over_by = (int)strlen(name) > width ? (int)strlen(name) - width : 0;
        line_put(&liner, name, -width);
    }
    line_end(&liner);
}

static void write_names(const struct window *window, FILE *stream) {
    struct liner liner = {stream, 1};
    for (size_t i = 0; i < COLUMNS; i++)
        if (is_shown(window, i)) {
            gap(&liner, i);
            line_put(&liner, columns[i].name, columns[i].width);
        }
    line_end(&liner);
}

static void write_units(const struct window *window, FILE *stream) {
    struct liner liner = {stream, 1};
    for (size_t i = 0; i < COLUMNS; i++)
        if (is_shown(window, i)) {
            const char *unit = columns[i].unit;
            gap(&liner, i);
            line_put(&liner, unit ? unit : clock_heading(&window->rows[0].plan),
                     columns[i].width);
        }
    line_end(&liner);
}

/* --- rows ----------------------------------------------------------------- */

/* Start and finish are one place: no departure is better than another. */
static bool is_still(const struct window *window) {
    return window->ranked_count > 0 &&
           window->rows[window->ranked[0]].plan.summary.elapsed_s <= 0.0;
}

static void write_figures(const struct window *window, size_t index,
                          FILE *stream) {
    struct liner liner = {stream, 0};
    bool best = window->ranked_count > 0 && window->ranked[0] == index &&
                !is_still(window);
    line_put(&liner, best ? "*" : "", -1);
    for (size_t i = 0; i < COLUMNS; i++) {
        char cell[CELL_SIZE];
        if (!is_shown(window, i))
            continue;
        columns[i].put(&window->rows[index], cell);
        gap(&liner, i);
        line_put(&liner, cell, columns[i].width);
    }
    line_end(&liner);
}

/* Times of a message are ISO 8601 in UTC; here they are as in the columns, but
 * to the minute. */
static const char *by_the_clock(struct arena *arena, const struct plan *plan,
                                const char *words) {
    static const char digits[] = "0123456789";
    const char *text = "";
    while (*words) {
        char cell[CELL_SIZE];
        struct plan then = *plan;
        bool zone_given;
        int plain = (int)strcspn(words, digits);
        const char *number = words + plain;
        snprintf(cell, sizeof cell, "%.*s", ISO_LENGTH, number);
        size_t length = strspn(number, digits);
        if (strlen(cell) == ISO_LENGTH && cell[ISO_LENGTH - 1] == 'Z' &&
            instant_parse(cell, &then.depart, &zone_given)) {
            clock_print_dated(&then, then.depart, cell);
            length = ISO_LENGTH;
        } else {
            cell[length] = '\0';
        }
        text = arena_print(arena, "%s%.*s%s", text, plain, words, cell);
        words = number + length;
    }
    return text;
}

/* The cause alone: what to do is told with the whole message elsewhere. */
static void write_words(const struct many_row *row, const char *words,
                        FILE *stream) {
    struct arena arena;
    char cell[CELL_SIZE];
    arena_init(&arena);
    depart(row, cell);
    const char *cause =
        arena_print(&arena, "%.*s", (int)strcspn(words, ";"), words);
    sheet_paragraph(stream, 2, 13,
                    arena_print(&arena, "%s %s", cell,
                                by_the_clock(&arena, &row->plan, cause)));
    arena_free(&arena);
}

static void write_row(const struct window *window, size_t index, FILE *stream) {
    const struct many_row *row = &window->rows[index];
    if (!row->planned)
        write_words(row, row->error.text, stream);
    else if (!row->plan.summary.reached)
        write_words(row, "not reached: the forecast ends on the way", stream);
    else
        write_figures(window, index, stream);
}

/* --- above and below ------------------------------------------------------ */

static const struct plan *first_planned(const struct window *window) {
    size_t i = 0;
    while (!window->rows[i].planned)
        i++;
    return &window->rows[i].plan;
}

static void write_span(const struct window *window, FILE *stream) {
    char early[SHARP_TEXT_SIZE], late[SHARP_TEXT_SIZE], step[HOURS_TEXT_SIZE];
    const struct plan *first = &window->rows[0].plan;
    const struct plan *last = &window->rows[window->count - 1].plan;
    clock_print_exact(first, first->depart, early);
    clock_print_exact(last, last->depart, late);
    snprintf(step, sizeof step, "%.4g", s_to_hours(window->request->every_s));
    if (window->count == 1)
        sheet_entry(stream, "Departure", "%s alone", early);
    else
        sheet_entry(stream, "Departures", "%zu, from %s to %s, every %s h",
                    window->count, early, late, step);
}

static void write_forecast(const struct plan *plan, FILE *stream) {
    char run[SHARP_TEXT_SIZE], ends[SHARP_TEXT_SIZE];
    clock_print_exact(plan, plan->forecast_run, run);
    clock_print_exact(plan, plan->forecast_end, ends);
    sheet_entry(stream, "Forecast", "run of %s; its wind ends %s", run, ends);
}

static void write_coast(const struct plan *plan, FILE *stream) {
    if (plan->coast.name)
        sheet_entry(stream, "Coast", "%s", plan->coast.name);
    else
        sheet_entry(stream, "Coast", "NO LAND CHECK: no shorelines are used");
}

static void write_head(const struct window *window, FILE *stream) {
    const struct plan *plan = first_planned(window);
    struct arena arena;
    arena_init(&arena);
    sheet_paragraph(stream, 0, 2,
                    arena_print(&arena, "%s: when to depart", plan->name));
    sheet_entry(stream, "Boat", "%s", plan->boat_name);
    write_span(window, stream);
    write_forecast(plan, stream);
    write_coast(plan, stream);
    fputc('\n', stream);
    arena_free(&arena);
}

/* "Beside the next best, Wed 11 Mar 18:00 UTC, which costs 0.4 h more (time
 * +0.5 h, roll -0.1 h): ...". */
static void write_beside(const struct window *window, const char *which,
                         size_t rank, FILE *stream) {
    struct arena arena;
    char at[SHARP_TEXT_SIZE], more[HOURS_TEXT_SIZE];
    const struct plan *best = &window->rows[window->ranked[0]].plan;
    const struct plan *other = &window->rows[window->ranked[rank]].plan;
    arena_init(&arena);
    clock_print(other, other->depart, at);
    differences_hours(other->summary.cost_s - best->summary.cost_s, more);
    sheet_paragraph(
        stream, 0, 2,
        arena_print(&arena, "Beside the %s, %s, which costs %s h more%s: %s.",
                    which, at, more,
                    differences_weighed(&arena, best->ease, &best->summary,
                                        &other->summary),
                    differences_tell(&arena, &best->summary, &other->summary)));
    arena_free(&arena);
}

static void write_best(const struct window *window, FILE *stream) {
    struct arena arena;
    char at[SHARP_TEXT_SIZE];
    if (window->ranked_count == 0) {
        sheet_paragraph(stream, 0, 2, "None of them reaches the finish.");
        return;
    }
    if (is_still(window)) {
        sheet_paragraph(stream, 0, 2,
                        "The start and the finish are one place: nothing is "
                        "sailed, and no departure is better than another; the "
                        "figures are those of a boat that lies there then.");
        return;
    }
    const struct plan *best = &window->rows[window->ranked[0]].plan;
    arena_init(&arena);
    clock_print(best, best->depart, at);
    const char *weighed =
        best->ease > 0.0
            ? arena_print(&arena,
                          "time, roll and deck work as ease %g weighs them",
                          best->ease)
            : "time alone, as ease 0 asks";
    sheet_paragraph(stream, 0, 2,
                    arena_print(&arena,
                                "* Best by cost (%s): depart %s, cost %.1f h.",
                                weighed, at, s_to_hours(best->summary.cost_s)));
    arena_free(&arena);
    if (window->ranked_count > 1)
        write_beside(window, "next best", 1, stream);
    if (window->ranked_count > 3)
        write_beside(window, "middle one of all", window->ranked_count / 2,
                     stream);
}

static void write_legend(const struct window *window, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    fputc('\n', stream);
    sheet_paragraph(
        stream, 0, 2,
        arena_print(
            &arena,
            "arrive: to the quarter; 09h to the hour, 08-12 within that watch; "
            "light: then, part: dark for a part of that time. rest: hours not "
            "above the easy roll; roll: the mean, rms; over: hours above the "
            "roll limit. work: pieces of deck work, in daylight or twilight / "
            "at night; spar: hours with it out; %sbeat: hours of beating. "
            "guess: hours beyond the forecast; %swind, gust, sea: the "
            "greatest; -: not known.",
            has_engine(window) ? "motor: hours under engine; " : "",
            has_members(window) ? "span: of the arrivals of the track in the "
                                  "members' weather, from 10 to 90 % or, of "
                                  "fewer than nine, of all; "
                                : ""));
    sheet_paragraph(stream, 0, 2,
                    "A line tells nothing of what a plan warns of, of ports to "
                    "run to or of margins: before you go, make the plan of the "
                    "departure that you choose.");
    arena_free(&arena);
}

bool window_write(const struct window *window, FILE *stream,
                  struct error *error) {
    write_head(window, stream);
    write_groups(window, stream);
    write_names(window, stream);
    write_units(window, stream);
    for (size_t i = 0; i < window->count; i++)
        write_row(window, i, stream);
    fputc('\n', stream);
    write_best(window, stream);
    write_legend(window, stream);
    return !ferror(stream) ||
           error_set(error, STATUS_WRITE, "can't write the table");
}
