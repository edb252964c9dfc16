#include "report/differences.h"

#include "base/units.h"
#include <math.h>
#include <stdio.h>

static const double TENTH_H = 0.05, WHOLE_H = 9.95; /* as they round */

void differences_hours(double seconds, char text[HOURS_TEXT_SIZE]) {
    double hours = s_to_hours(seconds);
    if (hours <= 0.0)
        snprintf(text, HOURS_TEXT_SIZE, "0");
    else if (hours < TENTH_H)
        snprintf(text, HOURS_TEXT_SIZE, "<0.1");
    else
        snprintf(text, HOURS_TEXT_SIZE, "%.*f", hours < WHOLE_H, hours);
}

/* --- the figures ---------------------------------------------------------- */

static struct figure elapsed(const struct plan_summary *summary) {
    return figure_of(summary->elapsed_s);
}

static struct figure spar(const struct plan_summary *summary) {
    return figure_of(summary->spar_s);
}

static struct figure night_work(const struct plan_summary *summary) {
    return figure_of(summary->night_deck_work);
}

static struct figure day_work(const struct plan_summary *summary) {
    return figure_of(summary->deck_work - summary->night_deck_work);
}

static struct figure roll(const struct plan_summary *summary) {
    return figure_of(summary->roll_mean_deg);
}

static struct figure easy(const struct plan_summary *summary) {
    return figure_of(summary->roll_easy_s);
}

static struct figure over(const struct plan_summary *summary) {
    return figure_of(summary->roll_over_limit_s);
}

static struct figure upwind(const struct plan_summary *summary) {
    return figure_of(summary->upwind_s);
}

static struct figure motor(const struct plan_summary *summary) {
    return summary->motor_s;
}

static struct figure guess(const struct plan_summary *summary) {
    return figure_of(summary->beyond_forecast_s);
}

static struct figure wind(const struct plan_summary *summary) {
    return figure_of(mps_to_kn(summary->max_tws_mps));
}

static struct figure gust(const struct plan_summary *summary) {
    struct figure gust_mps = summary->max_gust_mps;
    return (struct figure){gust_mps.known, mps_to_kn(gust_mps.value)};
}

static struct figure sea(const struct plan_summary *summary) {
    return summary->max_wave_m;
}

/* The unit: hours have one of their own, times are counted. */
enum measure { HOURS, TIMES, OTHER };

/* A figure, and how it is said that the first plan has more or less of it. */
struct feature {
    struct figure (*of)(const struct plan_summary *summary);
    enum measure measure;
    bool more_is_better;
    double least;            /* in its unit, seconds for hours: no news below */
    const char *more, *less; /* what follows the number */
    const char *word;        /* OTHER: the unit; TIMES: the first has none */
    int decimals;            /* OTHER */
};

static const struct feature features[] = {
    {elapsed, HOURS, false, 900.0, "longer under way", "less under way", NULL,
     0},
    {spar, HOURS, true, 3600.0, "more under spar", "less under spar", NULL, 0},
    {night_work, TIMES, false, 0.5, "more at night", "less at night",
     "no deck work at night", 0},
    {day_work, TIMES, false, 0.5, "more by day", "less by day",
     "no deck work by day", 0},
    {roll, OTHER, false, 0.1, "more roll", "less roll", "deg", 1},
    {over, HOURS, false, 1800.0, "more over the roll limit",
     "less over the roll limit", NULL, 0},
    {easy, HOURS, true, 3600.0, "more below the easy roll",
     "less below the easy roll", NULL, 0},
    {upwind, HOURS, false, 3600.0, "more upwind", "less upwind", NULL, 0},
    {motor, HOURS, false, 1800.0, "more under engine", "less under engine",
     NULL, 0},
    {guess, HOURS, false, 3600.0, "more beyond the forecast",
     "less beyond the forecast", NULL, 0},
    {wind, OTHER, false, 1.5, "more in the greatest wind",
     "less in the greatest wind", "kn", 0},
    {gust, OTHER, false, 1.5, "more in the greatest gust",
     "less in the greatest gust", "kn", 0},
    {sea, OTHER, false, 0.25, "more in the greatest wave",
     "less in the greatest wave", "m", 1},
};

/* --- words ---------------------------------------------------------------- */

static const char *times_clause(struct arena *arena,
                                const struct feature *feature, double first,
                                double second) {
    if (first < 0.5)
        return arena_print(arena, "%s (%.0f there)", feature->word, second);
    double apart = fabs(first - second);
    return arena_print(arena, "%.0f piece%s of deck work %s", apart,
                       apart > 1.5 ? "s" : "",
                       first > second ? feature->more : feature->less);
}

static const char *clause(struct arena *arena, const struct feature *feature,
                          double first, double second) {
    const char *words = first > second ? feature->more : feature->less;
    double apart = fabs(first - second);
    if (feature->measure == TIMES)
        return times_clause(arena, feature, first, second);
    if (feature->measure == HOURS) {
        char number[HOURS_TEXT_SIZE];
        differences_hours(apart, number);
        return arena_print(arena, "%s h %s", number, words);
    }
    return arena_print(arena, "%.*f %s %s", feature->decimals, apart,
                       feature->word, words);
}

const char *differences_tell(struct arena *arena,
                             const struct plan_summary *first,
                             const struct plan_summary *second) {
    const char *better = "", *worse = "";
    for (size_t i = 0; i < sizeof features / sizeof *features; i++) {
        const struct feature *feature = &features[i];
        struct figure a = feature->of(first), b = feature->of(second);
        if (!a.known || !b.known || fabs(a.value - b.value) < feature->least)
            continue;
        bool good = (a.value > b.value) == feature->more_is_better;
        const char **list = good ? &better : &worse;
        *list = arena_print(arena, "%s%s%s", *list, **list ? ", " : "",
                            clause(arena, feature, a.value, b.value));
    }
    if (!*better && !*worse)
        return "no difference worth telling";
    return arena_print(arena, "%s%s%s", better,
                       !*worse   ? ""
                       : *better ? "; but "
                                 : "nothing better, but ",
                       worse);
}

/* --- the parts of a cost -------------------------------------------------- */

/* ", roll -0.1 h". */
static const char *part(struct arena *arena, const char *before,
                        const char *word, double seconds) {
    if (fabs(s_to_hours(seconds)) < TENTH_H)
        return before;
    return arena_print(arena, "%s%s%s %+.1f h", before, *before ? ", " : "",
                       word, s_to_hours(seconds));
}

const char *differences_weighed(struct arena *arena, double ease,
                                const struct plan_summary *first,
                                const struct plan_summary *second) {
    double time_s = second->elapsed_s - first->elapsed_s;
    double roll_s = ease * (second->discomfort_s - first->discomfort_s);
    double work_s = ease * (second->hardship_s - first->hardship_s);
    double rest_s = second->cost_s - first->cost_s - time_s - roll_s - work_s;
    const char *weighed = part(arena, "", "roll", roll_s);
    weighed = part(arena, weighed, "deck work", work_s);
    weighed = part(arena, weighed, "work outside its limits", rest_s);
    if (!*weighed)
        return "";
    const char *time = part(arena, "", "time", time_s);
    return arena_print(arena, " (%s%s%s)", time, *time ? ", " : "", weighed);
}
