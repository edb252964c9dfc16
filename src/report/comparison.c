#include "report/comparison.h"

#include "base/units.h"
#include "report/abreast.h"
#include "report/clock.h"
#include "report/sheet.h"
#include "report/waypoint.h"
#include "report/words.h"
#include <math.h>

enum { NAME_WIDTH = 17 };

/* A figure of a plan, in the unit it is printed in. */
struct row {
    const char *name, *unit;
    double (*of)(const struct plan_summary *summary);
    int decimals;
};

static double elapsed(const struct plan_summary *summary) {
    return s_to_hours(summary->elapsed_s);
}

static double distance(const struct plan_summary *summary) {
    return m_to_nmi(summary->distance_m);
}

static double cost(const struct plan_summary *summary) {
    return s_to_hours(summary->cost_s);
}

static double spar(const struct plan_summary *summary) {
    return s_to_hours(summary->spar_s);
}

static double deck_work(const struct plan_summary *summary) {
    return summary->deck_work;
}

static double night_work(const struct plan_summary *summary) {
    return summary->night_deck_work;
}

static double roll(const struct plan_summary *summary) {
    return summary->roll_mean_deg;
}

static double easy(const struct plan_summary *summary) {
    return s_to_hours(summary->roll_easy_s);
}

static double wind(const struct plan_summary *summary) {
    return mps_to_kn(summary->max_tws_mps);
}

static const struct row rows[] = {
    {"time", "h", elapsed, 1},
    {"distance", "nmi", distance, 0},
    {"cost", "h", cost, 1},
    {"spar out", "h", spar, 1},
    {"work on deck", "times", deck_work, 0},
    {"of it at night", "times", night_work, 0},
    {"roll, mean", "deg rms", roll, 1},
    {"below easy roll", "h", easy, 1},
    {"wind at most", "kn", wind, 0},
};

static void write_arrivals(const struct plan *first, const struct plan *second,
                           FILE *stream) {
    char text[SHARP_TEXT_SIZE];
    clock_print(first, first->summary.arrive, text);
    sheet_entry(stream, "Arrives", "the first %s", text);
    clock_print(first, second->summary.arrive, text);
    sheet_entry(stream, "", "the second %s", text);
}

/* --- leg by leg ----------------------------------------------------------- */

static const char *mode_cell(enum sail_mode mode) {
    static const char *const words[] = {"stowed", "wing", "reach", "rolled"};
    return words[mode];
}

/* The point at which a leg ends: where the next starts, or the finish. */
static const char *end_of(const struct plan *plan,
                          const struct waypoints *waypoints, size_t leg) {
    for (size_t i = 0; leg + 1 < plan->leg_count && i < waypoints->count; i++)
        if (waypoints->items[i].starts_leg &&
            waypoints->items[i].leg == plan->legs + leg + 1)
            return waypoints->items[i].name;
    return "finish";
}

/* Tenths of an hour, and no minus before nothing. */
static double tenths_h(double seconds) {
    return round(s_to_hours(seconds) * 10.0) / 10.0 + 0.0;
}

static void write_row(const struct plan *first,
                      const struct waypoints *waypoints,
                      const struct abreast_row *row, FILE *stream) {
    const struct abreast_side *a = &row->side[0], *b = &row->side[1];
    fprintf(stream,
            "  %-8s %7.0f   %6.1f %-6s %4.0f   %6.1f %-6s %4.0f   %+6.1f "
            "%+7.1f\n",
            end_of(first, waypoints, row->leg), m_to_nmi(row->left_m),
            s_to_hours(a->seconds), mode_cell(a->mode), a->roll_deg,
            s_to_hours(b->seconds), mode_cell(b->mode), b->roll_deg,
            tenths_h(b->seconds - a->seconds), tenths_h(row->so_far_s));
}

static const char legs_key[] =
    "to: the point of the first where its leg ends. left: straight to the "
    "finish; the second counts from when it has no more left for good. spar: "
    "as it is longest; wing: wing-and-wing; reach: poled reach; rolled: the "
    "headsail, the spar out. roll: rms. differs: how much longer the second "
    "takes, on that leg and so far.";

static void write_legs(const struct plan *first, const struct plan *second,
                       struct arena *arena, FILE *stream) {
    size_t count;
    struct abreast_row *lines = abreast_rows(first, second, arena, &count);
    struct waypoints waypoints = waypoints_of(first, arena);
    sheet_heading(stream, "LEG BY LEG");
    if (count == 0) {
        sheet_paragraph(stream, 2, 0,
                        "not set beside one another: the two don't start and "
                        "finish within 2 nmi of one another, or don't reach "
                        "the finish");
        return;
    }
    fprintf(stream, "  %-8s %7s   %-18s   %-18s   %s\n", "", "left", "first",
            "second", "differs");
    fprintf(stream, "  %-8s %7s   %6s %-6s %4s   %6s %-6s %4s   %6s %7s\n",
            "to", "nmi", "h", "spar", "roll", "h", "spar", "roll", "h",
            "so far");
    for (size_t i = 0; i < count; i++)
        write_row(first, &waypoints, &lines[i], stream);
    sheet_paragraph(stream, 0, 2, legs_key);
}

bool comparison_write(struct compared first, struct compared second,
                      FILE *stream, struct error *error) {
    struct arena arena;
    arena_init(&arena);
    sheet_heading(stream, "AGAINST ANOTHER TRACK");
    sheet_entry(stream, "The first", "%s", words_ascii(&arena, first.label));
    sheet_entry(stream, "The second", "%s", words_ascii(&arena, second.label));
    write_arrivals(first.plan, second.plan, stream);
    fprintf(stream, "\n  %-*s %-8s %9s %9s %11s\n", NAME_WIDTH, "", "", "first",
            "second", "difference");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct row *row = &rows[i];
        double a = row->of(&first.plan->summary);
        double b = row->of(&second.plan->summary);
        fprintf(stream, "  %-*s %-8s %9.*f %9.*f %+11.*f\n", NAME_WIDTH,
                row->name, row->unit, row->decimals, a, row->decimals, b,
                row->decimals, b - a);
    }
    write_legs(first.plan, second.plan, &arena, stream);
    arena_free(&arena);
    return !ferror(stream) ||
           error_set(error, STATUS_WRITE, "can't write the comparison");
}
