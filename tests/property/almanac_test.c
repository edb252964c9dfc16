/* What must hold of rising and setting anywhere, at any time. */
#include "../support/check.h"

#include "earth/almanac.h"
#include "earth/angle.h"

#include <math.h>
#include <stdio.h>

#define SECONDS_2025_01_01 1735689600.0 /* date -u -d 2025-01-01 +%s */
#define DAY_S 86400.0
#define YEAR_S (365.0 * DAY_S)

static struct position any_place(struct seed *seed, double most_lat_deg) {
    return (struct position){seed_between(seed, -most_lat_deg, most_lat_deg),
                             seed_between(seed, -180.0, 180.0)};
}

static double any_time(struct seed *seed) {
    return SECONDS_2025_01_01 + seed_between(seed, 0.0, 5.0 * YEAR_S);
}

/* A boat on a steady course by longitude and latitude, over the date line. */
struct mover {
    struct position start;
    double start_s, north_deg_s, east_deg_s;
};

static struct position moved(const void *context, double unix_s) {
    const struct mover *mover = context;
    double t_s = unix_s - mover->start_s;
    return (struct position){
        mover->start.lat_deg + t_s * mover->north_deg_s,
        angle_wrap_longitude(mover->start.lon_deg + t_s * mover->east_deg_s)};
}

static const enum almanac_event pairs[][2] = {
    {ALMANAC_SUNRISE, ALMANAC_SUNSET},
    {ALMANAC_CIVIL_DAWN, ALMANAC_CIVIL_DUSK},
    {ALMANAC_NAUTICAL_DAWN, ALMANAC_NAUTICAL_DUSK},
    {ALMANAC_MOONRISE, ALMANAC_MOONSET},
};

/* Both kinds of a pair in their order over ten days; after each rise the body
 * is up until the next set. */
static size_t follow(const enum almanac_event pair[2],
                     const struct observer *observer, double from_s) {
    double until_s = from_s + 10.0 * DAY_S, at_s = from_s;
    bool up = almanac_height_deg(pair[0], observer, from_s) > 0.0;
    for (size_t count = 0;; count++) {
        struct figure rise = almanac_next(pair[0], observer, at_s, until_s);
        struct figure set = almanac_next(pair[1], observer, at_s, until_s);
        struct figure next = up ? set : rise, other = up ? rise : set;
        if (other.known)
            assert_true(next.known && next.value < other.value);
        if (!next.known)
            return count;
        double before = almanac_height_deg(pair[0], observer, next.value - 2.0);
        double after = almanac_height_deg(pair[0], observer, next.value + 2.0);
        assert_true((before > 0.0) == up && (after > 0.0) != up);
        at_s = next.value;
        up = !up;
    }
}

static void rise_and_set_take_turns(void **state) {
    (void)state;
    struct seed seed = {61};
    size_t count = 0;
    int most = check_is_long() ? 400 : 40;
    for (int i = 0; i < most; i++) {
        struct position place = any_place(&seed, 89.0);
        struct observer fixed = observer_at(&place);
        double at_s = any_time(&seed);
        for (size_t k = 0; k < sizeof pairs / sizeof *pairs; k++)
            count += follow(pairs[k], &fixed, at_s);
    }
    assert_true(count > 50 * (size_t)most);
}

/* At up to 12 degrees a day, some 30 knots at the equator. */
static void a_boat_under_way_sees_them_in_turns_too(void **state) {
    (void)state;
    struct seed seed = {62};
    size_t count = 0;
    for (int i = 0; i < 40; i++) {
        struct mover mover = {any_place(&seed, 55.0), any_time(&seed),
                              seed_between(&seed, -2.0, 2.0) / DAY_S,
                              seed_between(&seed, -12.0, 12.0) / DAY_S};
        struct observer observer = {moved, &mover};
        for (size_t k = 0; k < sizeof pairs / sizeof *pairs; k++)
            count += follow(pairs[k], &observer, mover.start_s);
    }
    assert_true(count > 2500);
}

/* A place a little further east sees all of it a little earlier, on both sides
 * of the date line and across it. 0.002 degree is half a second of the sun's
 * way; both times are found to a second. */
static void the_date_line_is_no_border(void **state) {
    (void)state;
    struct seed seed = {63};
    for (int i = 0; i < 60; i++) {
        double lat_deg = seed_between(&seed, -55.0, 55.0);
        double from_s = any_time(&seed);
        struct position west = {lat_deg, 179.999}, east = {lat_deg, -179.999};
        struct observer one = observer_at(&west), other = observer_at(&east);
        for (enum almanac_event event = 0; event < ALMANAC_EVENTS; event++) {
            /* one just before the start would count for one place alone */
            double h = almanac_height_deg(event, &one, from_s);
            if (fabs(h) < 0.1)
                continue;
            struct figure a =
                almanac_next(event, &one, from_s, from_s + 2.0 * DAY_S);
            struct figure b =
                almanac_next(event, &other, from_s, from_s + 2.0 * DAY_S);
            assert_int_equal(a.known, b.known);
            assert_near(a.value, b.value, 4.0);
        }
    }
}

/* 2026-03-20T14:46Z, the equinox (almanacs; from memory): date -u -d
 * 2026-03-20T14:46 +%s */
#define EQUINOX_S 1774017960.0

/* How far north and south are apart in the day round the equinox. */
static struct figure apart_s(enum almanac_event event, struct position north) {
    struct position south = {-north.lat_deg, north.lon_deg};
    struct observer up = observer_at(&north), down = observer_at(&south);
    double from_s = EQUINOX_S - 0.5 * DAY_S, until_s = from_s + DAY_S;
    struct figure a = almanac_next(event, &up, from_s, until_s);
    struct figure b = almanac_next(event, &down, from_s, until_s);
    if (!a.known || !b.known)
        return figure_unknown();
    return figure_of(fabs(a.value - b.value));
}

/* With the sun over the equator, north and south see her alike. Within half a
 * day of the equinox she stands within 0.2 degree of it; at latitude 50 she
 * rises earlier by tan(50) 0.2 degree, a minute, on one side and later on the
 * other: 2 minutes, and a little more for the twilights. */
static void hemispheres_are_alike_at_the_equinox(void **state) {
    (void)state;
    struct seed seed = {65};
    int compared = 0;
    for (int i = 0; i < 600; i++) {
        struct position place = any_place(&seed, 50.0);
        enum almanac_event event = (enum almanac_event)(i % 6);
        struct figure apart = apart_s(event, place);
        /* one at the very edge of the day may be the next day's in the other */
        if (!apart.known || apart.value > 0.5 * DAY_S)
            continue;
        assert_near(apart.value, 0.0, 150.0);
        compared++;
    }
    assert_true(compared > 580);
}

/* The middle of the night is when the sun is lowest, but for what her
 * declination does meanwhile. */
static void the_middle_of_the_night_is_the_darkest(void **state) {
    (void)state;
    struct seed seed = {64};
    for (int i = 0; i < 200; i++) {
        struct position place = any_place(&seed, 80.0);
        struct observer observer = observer_at(&place);
        double from_s = any_time(&seed);
        double at_s = almanac_midnight(&observer, from_s);
        assert_true(at_s >= from_s && at_s < from_s + DAY_S + 60.0);
        double least =
            almanac_height_deg(ALMANAC_SUNRISE, &observer, at_s) - 0.02;
        for (double off_s = -36000.0; off_s <= 36000.0; off_s += 1200.0)
            assert_true(almanac_height_deg(ALMANAC_SUNRISE, &observer,
                                           at_s + off_s) >= least);
    }
}

/* The same event found by steps of 5 minutes alone; unknown where there is
 * none. */
static struct figure plainly(enum almanac_event event,
                             const struct observer *observer, double from_s,
                             double until_s) {
    bool rises = event == ALMANAC_SUNRISE || event == ALMANAC_CIVIL_DAWN ||
                 event == ALMANAC_NAUTICAL_DAWN || event == ALMANAC_MOONRISE;
    bool up = almanac_height_deg(event, observer, from_s) > 0.0;
    for (double at_s = from_s; at_s < until_s; at_s += ALMANAC_STEP_S) {
        double next_s = fmin(at_s + ALMANAC_STEP_S, until_s);
        bool then = almanac_height_deg(event, observer, next_s) > 0.0;
        if (then != up && then == rises)
            return figure_of(next_s);
        up = then;
    }
    return figure_unknown();
}

/* Nor does it matter that she sails, up to 25 kn. */
static void long_steps_pass_nothing_over(void **state) {
    (void)state;
    struct seed seed = {66};
    for (int i = 0; i < 2000; i++) {
        struct mover mover = {.start = any_place(&seed, 80.0),
                              .start_s = any_time(&seed)};
        double most_deg_s = 25.0 / 60.0 / 3600.0;
        double narrowing = cos(mover.start.lat_deg * RADIANS_PER_DEGREE);
        mover.north_deg_s = seed_between(&seed, -most_deg_s, most_deg_s);
        mover.east_deg_s =
            seed_between(&seed, -most_deg_s, most_deg_s) / narrowing;
        struct observer observer = {moved, &mover};
        enum almanac_event event = (enum almanac_event)(i % ALMANAC_EVENTS);
        double until_s = mover.start_s + 1.1 * DAY_S;
        struct figure plain = plainly(event, &observer, mover.start_s, until_s);
        struct figure found =
            almanac_next(event, &observer, mover.start_s, until_s);
        assert_int_equal(found.known, plain.known);
        if (found.known)
            assert_true(found.value <= plain.value + 1.0 &&
                        found.value >= plain.value - ALMANAC_STEP_S - 1.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rise_and_set_take_turns),
        cmocka_unit_test(a_boat_under_way_sees_them_in_turns_too),
        cmocka_unit_test(the_date_line_is_no_border),
        cmocka_unit_test(hemispheres_are_alike_at_the_equinox),
        cmocka_unit_test(the_middle_of_the_night_is_the_darkest),
        cmocka_unit_test(long_steps_pass_nothing_over),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
