/* Nights of a plan: at one place, under way, where there are none. */
#include "../support/check.h"
#include "../support/schedule_text.h"

#include "report/nights.h"
#include <math.h>
#include <stdio.h>

#define HOUR_S 3600.0

static struct instant instant(const char *at) {
    struct instant instant;
    bool zone;
    assert_true(instant_parse(at, &instant, &zone));
    return instant;
}

/* One leg along a parallel. */
static struct nights sail(struct position from, double to_lon_deg,
                          const char *depart, double hours) {
    struct plan_leg *leg = &example.legs[0];
    leg->from = from;
    leg->to = (struct position){from.lat_deg, to_lon_deg};
    double east_deg = remainder(to_lon_deg - from.lon_deg, 360.0);
    leg->course_deg = east_deg >= 0.0 ? 90.0 : 270.0;
    leg->distance_m =
        fabs(east_deg) * 111319.5 * cos(from.lat_deg * acos(-1.0) / 180.0);
    leg->start = example.plan.depart = instant(depart);
    leg->end = example.plan.summary.arrive =
        instant_plus(leg->start, hours * HOUR_S);
    example.plan.leg_count = 1;
    return nights_of(&example.plan, &arena);
}

static struct nights stay(double lat_deg, double lon_deg, const char *depart,
                          double hours) {
    return sail((struct position){lat_deg, lon_deg}, lon_deg, depart, hours);
}

static const char *table(const struct nights *nights) {
    FILE *stream = text_begin();
    nights_write(&example.plan, nights, stream);
    return text_close();
}

/* The equator at the equinox, worked out by hand as in the test of daylight:
 * 18:11, 18:31, 05:43, 06:04, and 18 s earlier from day to day (equation of
 * time). The moon of 2024-03-20 to 22 (first quarter on 17 March 04:11 UTC,
 * full on 25 March 07:00 UTC: almanacs, from memory) sets after midnight. */
static void every_night_under_way_has_its_row(void **state) {
    (void)state;
    struct nights nights = stay(0.0, 0.0, "2024-03-20T10:00Z", 46.0);
    assert_int_equal(nights.count, 2);
    table(&nights);
    assert_contains(text, "\nNIGHTS\n                   dark\n"
                          "UTC        sunset  from  until sunrise  moon\n"
                          "Wed 20 Mar 18:11   18:31 05:43 06:04    8");
    assert_contains(text, "\nThu 21 Mar 18:10   18:31 05:43 06:0");
    for (size_t i = 0; i < 2; i++) {
        const struct night *night = &nights.items[i];
        assert_true(night->moon_up_first && !night->moonrise_s.known);
        assert_true(night->moonset_s.known);
        /* from first quarter at 0.5 to full at 1 in 8.1 days, by the sine */
        double days = 3.83 + (double)i;
        assert_near(night->lit_frac,
                    0.5 + 0.5 * sin(acos(-1.0) / 2.0 * days / 8.1), 0.04);
    }
    example.plan.display.zone_s = -3.0 * HOUR_S;
    assert_contains(table(&nights), "\nship's     sunset  from ");
    assert_contains(text, "\nWed 20 Mar 15:11   15:31 02:43 03:04");
}

/* A boat that is in by sunset needs none. */
static void a_passage_by_day_has_no_nights(void **state) {
    (void)state;
    struct nights nights = stay(0.0, 0.0, "2024-03-20T07:00Z", 11.0);
    assert_int_equal(nights.count, 0);
    assert_string_equal(table(&nights), "");
    assert_null(nights_first(&arena, &example.plan, &nights));
    nights = stay(0.0, 0.0, "2024-03-20T07:00Z", 11.3);
    assert_int_equal(nights.count, 1);
    nights = stay(0.0, 0.0, "2024-03-20T05:00Z", 12.0);
    assert_int_equal(nights.count, 1);
    assert_contains(table(&nights), "\nTue 19 Mar 18:11");
}

/* 30 degrees further west in two days, the sun sets half an hour later for each
 * half day of it: at 19:11 after 8 h, 5.0 degrees; 20:11 after 33 h at 20.5. */
static void under_way_the_place_goes_along(void **state) {
    (void)state;
    struct nights nights =
        sail((struct position){0.0, 0.0}, -30.0, "2024-03-20T10:00Z", 48.0);
    assert_int_equal(nights.count, 2);
    for (size_t i = 0; i < 2; i++) {
        double set_s = nights.items[i].sunset_s.value;
        double west_deg = 30.0 * (set_s - (double)example.plan.depart.unix_s) /
                          (48.0 * HOUR_S);
        double there_s = set_s - west_deg * 240.0; /* 4 minutes a degree */
        double at_0_s = (double)instant("2024-03-20T18:11Z").unix_s;
        assert_near(there_s, at_0_s + (double)i * 86400.0 - 18.0 * (double)i,
                    40.0);
    }
}

/* Sailed over 180 degrees in the middle of the night: one night, its dawn the
 * next after its dusk. Sunset and sunrise at 17 S on 2024-06-01, worked out
 * with another plain formula: 05:33 and 18:23 UTC on the line. */
static void the_date_line_is_no_border(void **state) {
    (void)state;
    struct nights nights = sail((struct position){-17.0, 179.0}, -179.0,
                                "2024-06-01T03:00Z", 18.0);
    assert_int_equal(nights.count, 1);
    const struct night *night = &nights.items[0];
    assert_near(night->sunset_s.value,
                (double)instant("2024-06-01T05:36Z").unix_s, 120.0);
    assert_near(night->sunrise_s.value,
                (double)instant("2024-06-01T18:20Z").unix_s, 120.0);
    assert_true(night->dusk_s.value > night->sunset_s.value);
    assert_true(night->dawn_s.value > night->middle_s);
    assert_true(night->sunrise_s.value > night->dawn_s.value);
}

/* Bug log 42: at midnight on midsummer the sun stands at latitude + 23.44 - 90
 * degrees: 3.4 at 70 N, -3.6 at 63 N, -8.6 at 58 N. At 63 N it sets when its
 * hour angle is acos((sin -0.83 - sin 63 sin 23.44) / (cos 63 cos 23.44)) =
 * 152.3 degrees, 10 h 9 min after noon at 12:02. */
static void high_latitudes_have_light_nights_or_long_ones(void **state) {
    (void)state;
    struct nights nights = stay(70.0, 20.0, "2024-06-20T12:00Z", 24.0);
    assert_int_equal(nights.count, 1);
    assert_near(nights.items[0].sun_deg, 3.44, 0.02);
    assert_contains(table(&nights), "\nThu 20 Jun -       -     -     -        "
                                    "the sun does not set\n");
    assert_string_equal(nights_first(&arena, &example.plan, &nights),
                        "the sun does not set");
    nights = stay(63.0, 0.0, "2024-06-20T12:00Z", 24.0);
    table(&nights);
    assert_contains(text, "\nThu 20 Jun 22:11   -     -     01:5");
    assert_contains(text, "; twilight all");
    nights = stay(58.0, 0.0, "2024-06-20T12:00Z", 24.0);
    assert_contains(table(&nights), "; not fully dark");
    nights = stay(70.0, 20.0, "2024-12-20T12:00Z", 24.0);
    assert_int_equal(nights.count, 2);
    table(&nights);
    /* with another plain formula, good to two minutes */
    assert_near(nights.items[1].dusk_s.value,
                (double)instant("2024-12-21T12:41Z").unix_s, 120.0);
    assert_near(nights.items[0].dawn_s.value,
                (double)instant("2024-12-21T08:34Z").unix_s, 120.0);
    assert_contains(text, "\nFri 20 Dec -       12:4");
    assert_contains(text, "the sun does not rise");
    nights = stay(85.0, 0.0, "2024-12-20T18:00Z", 3.0);
    assert_contains(table(&nights), "\nFri 20 Dec -       -     -     -    ");
}

/* 2026-03-03 11:34 UTC: the moon is eclipsed by the earth; 2026-02-17 12:12 UTC
 * she covers the sun (eclipses; from memory). In the Pacific, where it is then
 * the middle of the night. Sunrise by hand: noon at 23:32 (12 minutes of the
 * equation of time), the rim 6 h 3 min before it, -6 degrees 6 h 24 min. */
static void full_and_new_are_where_eclipses_are(void **state) {
    (void)state;
    struct nights nights = stay(0.0, -170.0, "2026-03-03T08:00Z", 6.0);
    assert_int_equal(nights.count, 1);
    assert_near(nights.items[0].lit_frac, 1.0, 0.001);
    assert_string_equal(nights_first(&arena, &example.plan, &nights),
                        "dark until 17:08, sunrise 17:29 UTC; moon 100 %, "
                        "stays up");
    nights = stay(0.0, -170.0, "2026-02-17T08:00Z", 6.0);
    assert_near(nights.items[0].lit_frac, 0.0, 0.001);
    assert_contains(table(&nights), "no moon\n");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(every_night_under_way_has_its_row),
        TEST(a_passage_by_day_has_no_nights),
        TEST(under_way_the_place_goes_along),
        TEST(the_date_line_is_no_border),
        TEST(high_latitudes_have_light_nights_or_long_ones),
        TEST(full_and_new_are_where_eclipses_are),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
