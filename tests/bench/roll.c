/* The roll table: what making it costs, how large it is, and what one course
 * costs by it and by the integral. */
#include "measure.h"
#include "table.h"
#include "tables.h"

#include "boat/boat.h"
#include "earth/angle.h"
#include "sea/roll_table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Headings of a fan, every five degrees, with the spar stowed and out. */
enum { COURSES = 144, LOOK_UPS = 2000000, SEAS = 500000, INTEGRALS = 400 };

static const char *const boats[] = {"polars/wanderer-12.ini",
                                    "polars/heron-9.ini"};

/* Wind sea and one swell. */
static const struct sea sea = {
    .system = {{true, 2.0, 7.0, 30.0}, {true, 1.5, 11.0, 340.0}}};

struct fan_of_courses {
    struct roll_course course[COURSES];
    double sine[COURSES], cosine[COURSES];
};

static void make_courses(struct fan_of_courses *fan) {
    for (int i = 0; i < COURSES; i++) {
        double twa_deg = i % 72 * 5.0 - 175.0;
        sincos_deg(twa_deg, &fan->sine[i], &fan->cosine[i]);
        fan->course[i] =
            (struct roll_course){.heading_deg = twa_deg,
                                 .speed_mps = 2.0 + fabs(fan->sine[i]),
                                 .twa_deg = twa_deg,
                                 .aws_mps = 8.0 + 3.0 * fan->cosine[i],
                                 .spar_drawing = i >= 72};
    }
}

/* The sums are kept, so that no work is left out. */
static double kept;

static double make_s(const struct roller *roller, double fastest_mps) {
    double best = HUGE_VAL, start_s = seconds_now();
    for (int round = 0; measure_again(round, start_s); round++) {
        struct arena arena;
        arena_init(&arena);
        double cpu_s = cpu_seconds_now();
        kept += (double)roll_table_bytes(
            roll_table_make(roller, fastest_mps, &arena));
        best = fmin(best, cpu_seconds_now() - cpu_s);
        arena_free(&arena);
    }
    return best;
}

static double look_up_s(const struct roller *roller,
                        const struct fan_of_courses *fan) {
    double best = HUGE_VAL, start_s = seconds_now();
    struct roll_sea waves = roll_sea_of(roller, &sea);
    for (int round = 0; measure_again(round, start_s); round++) {
        double cpu_s = cpu_seconds_now();
        for (int i = 0; i < LOOK_UPS; i++) {
            int j = i % COURSES;
            kept += roll_rms_heading_deg(roller, &waves, &fan->course[j],
                                         fan->sine[j], fan->cosine[j]);
        }
        best = fmin(best, cpu_seconds_now() - cpu_s);
    }
    return best / LOOK_UPS;
}

static double sea_s(const struct roller *roller) {
    double best = HUGE_VAL, start_s = seconds_now();
    struct sea other = sea;
    for (int round = 0; measure_again(round, start_s); round++) {
        double cpu_s = cpu_seconds_now();
        for (int i = 0; i < SEAS; i++) {
            other.system[0].period_s = 4.0 + 0.1 * (i % 64);
            struct roll_sea waves = roll_sea_of(roller, &other);
            kept += waves.wave[0].height2;
        }
        best = fmin(best, cpu_seconds_now() - cpu_s);
    }
    return best / SEAS;
}

static double integral_s(const struct roller *roller,
                         const struct fan_of_courses *fan) {
    double cpu_s = cpu_seconds_now();
    for (int i = 0; i < INTEGRALS; i++)
        kept += roll_rms_deg(roller, &sea, &fan->course[i % COURSES]);
    return (cpu_seconds_now() - cpu_s) / INTEGRALS;
}

static void add_boat(struct table *table, const char *path) {
    struct arena arena;
    struct boat boat;
    struct error error;
    struct fan_of_courses fan;
    arena_init(&arena);
    if (!boat_load(&boat, path, &arena, &error)) {
        fprintf(stderr, "bench: %s\n", error.text);
        exit(1);
    }
    make_courses(&fan);
    double fastest_mps = boat.factor * polar_top_speed(&boat.stowed);
    table_add(table, "%s", boat.name);
    table_add(table, "%.1f", 1e3 * make_s(&boat.roller, fastest_mps));
    table_add(table, "%zu", roll_table_bytes(boat.roller.table));
    table_add(table, "%.0f", 1e9 * look_up_s(&boat.roller, &fan));
    table_add(table, "%.0f", 1e9 * sea_s(&boat.roller));
    table_add(table, "%.0f", 1e6 * integral_s(&boat.roller, &fan));
    arena_free(&arena);
}

void roll_tables(void) {
    struct table table = table_make("boat|to make ms|bytes|a course ns|a sea "
                                    "ns|a course by the integral us");
    for (size_t i = 0; i < sizeof boats / sizeof *boats; i++)
        add_boat(&table, boats[i]);
    table_print(&table, "The roll table, made when a boat is loaded; "
                        "processor time. Courses are those of a\nfan, in a sea "
                        "of two systems.");
    if (!(kept > 0.0))
        printf("Nothing rolled.\n");
}
