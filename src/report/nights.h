/* The nights of a plan: when it grows dark and light where the boat then is,
 * and what moon there is. By the sun's lowest point, not by a calendar day: a
 * night is the same one on both sides of the date line, and one without a
 * sunset is one too. */
#ifndef REPORT_NIGHTS_H
#define REPORT_NIGHTS_H

#include "base/arena.h"
#include "plan/plan.h"
#include <stdio.h>

/* Less than this of the moon gives no light to work by (common practice, no
 * source). */
#define NIGHTS_NEW_FRAC 0.02

/* Times in seconds since 1970 UTC; unknown where that does not happen within
 * half a day of the middle. */
struct night {
    double middle_s;
    struct figure sunset_s, dusk_s, dawn_s, sunrise_s; /* -6 degrees: dark */
    double sun_deg; /* at the middle: her lowest */
    double lit_frac;
    /* In the dark (in the twilight, where it does not grow dark), and after the
     * departure: */
    bool moon_up_first;
    struct figure moonrise_s, moonset_s;
};

struct nights {
    struct night *items;
    size_t count;
};

/* All that the boat is under way in, in their order; in `arena`. */
struct nights nights_of(const struct plan *plan, struct arena *arena);

/* Section NIGHTS, one row for each; nothing where there are none. */
void nights_write(const struct plan *plan, const struct nights *nights,
                  FILE *stream);

/* What is still to come of the first of them, for the watch at departure: "dark
 * from 18:44 until 05:53, sunrise 06:17 UTC; moon 62 %, sets 01:40". NULL
 * where there is none. */
const char *nights_first(struct arena *arena, const struct plan *plan,
                         const struct nights *nights);

#endif
