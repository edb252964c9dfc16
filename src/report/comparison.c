#include "report/comparison.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/sheet.h"
#include "report/words.h"

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
    arena_free(&arena);
    return !ferror(stream) ||
           error_set(error, STATUS_WRITE, "can't write the comparison");
}
