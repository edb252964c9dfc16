#include "report/eases_report.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/daylight.h"
#include "report/differences.h"
#include "report/sheet.h"

#include <math.h>

enum { NAME_WIDTH = 15, UNIT_WIDTH = 8, CELL_WIDTH = 12 };
enum { CELL_SIZE = SHARP_TEXT_SIZE };

/* --- cells ---------------------------------------------------------------- */

static void arrive(const struct plan *plan, char *cell) {
    clock_print_dated(plan, plan->summary.arrive, cell);
}

static void light(const struct plan *plan, char *cell) {
    snprintf(cell, CELL_SIZE, "%s", daylight_word(plan));
}

static void number(double value, int decimals, char *cell) {
    snprintf(cell, CELL_SIZE, "%.*f", decimals, value);
}

static void elapsed(const struct plan *plan, char *cell) {
    number(s_to_hours(plan->summary.elapsed_s), 1, cell);
}

static void distance(const struct plan *plan, char *cell) {
    number(m_to_nmi(plan->summary.distance_m), 0, cell);
}

static void roll(const struct plan *plan, char *cell) {
    number(plan->summary.roll_mean_deg, 1, cell);
}

static void easy(const struct plan *plan, char *cell) {
    differences_hours(plan->summary.roll_easy_s, cell);
}

static void over(const struct plan *plan, char *cell) {
    differences_hours(plan->summary.roll_over_limit_s, cell);
}

static void discomfort(const struct plan *plan, char *cell) {
    differences_hours(plan->summary.discomfort_s, cell);
}

static void deck_work(const struct plan *plan, char *cell) {
    number(plan->summary.deck_work, 0, cell);
}

static void night_work(const struct plan *plan, char *cell) {
    number(plan->summary.night_deck_work, 0, cell);
}

static void spar(const struct plan *plan, char *cell) {
    differences_hours(plan->summary.spar_s, cell);
}

static const struct line {
    const char *name, *unit;
    void (*put)(const struct plan *plan, char *cell);
} lines[] = {
    {"arrive", NULL, arrive},
    {"light then", "", light},
    {"under way", "h", elapsed},
    {"distance", "nmi", distance},
    {"roll, mean", "deg rms", roll},
    {"below easy roll", "h", easy},
    {"over the limit", "h", over},
    {"discomfort", "h", discomfort},
    {"work on deck", "times", deck_work},
    {"of it at night", "times", night_work},
    {"spar out", "h", spar},
};

/* --- the table ------------------------------------------------------------ */

static bool is_known(const struct many_row *row) {
    return row->planned && row->plan.summary.reached;
}

static void write_line(const struct eases *eases, const struct line *line,
                       FILE *stream) {
    const char *unit =
        line->unit ? line->unit : clock_heading(&eases->rows[0].plan);
    fprintf(stream, "  %-*s %-*s", NAME_WIDTH, line->name, UNIT_WIDTH, unit);
    for (size_t i = 0; i < eases->count; i++) {
        char cell[CELL_SIZE] = "-";
        if (is_known(&eases->rows[i]))
            line->put(&eases->rows[i].plan, cell);
        fprintf(stream, " %*s", CELL_WIDTH, cell);
    }
    fputc('\n', stream);
}

const char *eases_word(const struct eases *eases, size_t index) {
    double ease = eases->rows[index].plan.ease;
    size_t lower = 0, higher = 0;
    for (size_t i = 0; i < eases->count; i++) {
        lower += eases->rows[i].plan.ease < ease;
        higher += eases->rows[i].plan.ease > ease;
    }
    if (lower == 0)
        return higher > 0 ? "for speed" : "";
    if (higher == 0)
        return "for ease";
    return lower == higher ? "balanced" : "";
}

static void write_heads(const struct eases *eases, FILE *stream) {
    char cell[CELL_SIZE];
    fprintf(stream, "\n  %*s", NAME_WIDTH + 1 + UNIT_WIDTH, "");
    for (size_t i = 0; i < eases->count; i++) {
        snprintf(cell, sizeof cell, "%zu: ease %g", i + 1,
                 eases->rows[i].plan.ease);
        fprintf(stream, " %*s", CELL_WIDTH, cell);
    }
    fprintf(stream, "\n  %*s", NAME_WIDTH + 1 + UNIT_WIDTH, "");
    for (size_t i = 0; i < eases->count; i++)
        fprintf(stream, " %*s", CELL_WIDTH, eases_word(eases, i));
    fputc('\n', stream);
}

/* --- below ---------------------------------------------------------------- */

static void write_chosen(const struct eases *eases, FILE *stream) {
    const char *word = eases_word(eases, eases->chosen);
    struct arena arena;
    arena_init(&arena);
    sheet_paragraph(
        stream, 0, 2,
        arena_print(
            &arena, "Taken: %zu, ease %g%s%s%s; its schedule follows.",
            eases->chosen + 1, eases->rows[eases->chosen].plan.ease,
            *word ? ", " : "", word,
            eases->by_choice
                ? ""
                : ", the one in the middle (--choose N takes another)"));
    arena_free(&arena);
}

static void write_beside(const struct eases *eases, size_t index,
                         FILE *stream) {
    const struct many_row *row = &eases->rows[index];
    const struct plan *chosen = &eases->rows[eases->chosen].plan;
    struct arena arena;
    arena_init(&arena);
    const char *text = "not reached: the forecast ends on the way";
    if (!row->planned)
        text = row->error.text;
    else if (is_known(row) && is_known(&eases->rows[eases->chosen]))
        text = differences_tell(&arena, &chosen->summary, &row->plan.summary);
    sheet_paragraph(stream, 0, 2,
                    arena_print(&arena, "%s %zu, ease %g: %s.",
                                is_known(row) ? "Beside" : "Number", index + 1,
                                row->plan.ease, text));
    arena_free(&arena);
}

/* As the table shows it. */
static double roll_told_deg(const struct many_row *row) {
    return 0.1 * round(10.0 * row->plan.summary.roll_mean_deg);
}

/* Does the higher ease roll more, for the sake of less work on deck? Both are
 * told apart by the table, and what the work is less is more than what the
 * discomfort is more. */
static bool work_rules(const struct many_row *low,
                       const struct many_row *high) {
    const struct plan_summary *a = &low->plan.summary, *b = &high->plan.summary;
    return is_known(low) && is_known(high) &&
           low->plan.ease < high->plan.ease &&
           roll_told_deg(high) > roll_told_deg(low) + 0.05 &&
           b->discomfort_s > a->discomfort_s &&
           a->hardship_s - b->hardship_s > b->discomfort_s - a->discomfort_s;
}

static void write_pair(const struct many_row *low, const struct many_row *high,
                       FILE *stream) {
    const struct plan_summary *a = &low->plan.summary, *b = &high->plan.summary;
    char work[HOURS_TEXT_SIZE], discomfort[HOURS_TEXT_SIZE];
    struct arena arena;
    arena_init(&arena);
    differences_hours(a->hardship_s - b->hardship_s, work);
    differences_hours(b->discomfort_s - a->discomfort_s, discomfort);
    sheet_paragraph(
        stream, 0, 2,
        arena_print(&arena,
                    "Ease %g rolls more than ease %g, %.1f deg against %.1f, "
                    "to save deck work: an ease weighs that, too, and %s h "
                    "less of it are more than %s h more of discomfort.",
                    high->plan.ease, low->plan.ease, roll_told_deg(high),
                    roll_told_deg(low), work, discomfort));
    arena_free(&arena);
}

/* Of all such pairs the one that lies furthest apart in roll. */
static void write_work_rules(const struct eases *eases, FILE *stream) {
    const struct many_row *rows = eases->rows, *low = NULL, *high = NULL;
    double most_deg = 0.0;
    for (size_t i = 0; i < eases->count; i++)
        for (size_t k = 0; k < eases->count; k++) {
            double apart_deg =
                roll_told_deg(&rows[k]) - roll_told_deg(&rows[i]);
            if (!work_rules(&rows[i], &rows[k]) || apart_deg <= most_deg)
                continue;
            most_deg = apart_deg;
            low = &rows[i];
            high = &rows[k];
        }
    if (low)
        write_pair(low, high, stream);
}

bool eases_write(const struct eases *eases, FILE *stream, struct error *error) {
    fputs("EASES SIDE BY SIDE\n", stream);
    write_heads(eases, stream);
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        write_line(eases, &lines[i], stream);
    fputc('\n', stream);
    write_chosen(eases, stream);
    for (size_t i = 0; i < eases->count; i++)
        if (i != eases->chosen)
            write_beside(eases, i, stream);
    write_work_rules(eases, stream);
    fputc('\n', stream);
    return !ferror(stream) ||
           error_set(error, STATUS_WRITE, "can't write the comparison");
}
