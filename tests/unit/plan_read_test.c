/* plan.json written by one part of the program and read by another. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "report/plan_json.h"
#include "report/plan_read.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct plan_example example;
static struct error error;
static char *text;

static int begin(void **state) {
    size_t size = 0;
    scratch_begin(state);
    plan_example_make(&example);
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_true(plan_json_write(&example.plan, stream, &error));
    fclose(stream);
    return 0;
}

static int finish(void **state) {
    free(text);
    return scratch_end(state);
}

static struct previous read_back(const char *json) {
    struct previous previous;
    if (!plan_read(&previous, check_write("plan.json", json), &arena, &error))
        fail_msg("%s", error.text);
    return previous;
}

static void refused(const char *json, const char *part) {
    struct previous previous;
    assert_false(
        plan_read(&previous, check_write("bad.json", json), &arena, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "bad.json:");
    assert_contains(error.text, part);
}

/* The text with the first `old` after `from` replaced. */
static const char *with(const char *from, const char *old, const char *new) {
    const char *at = strstr(strstr(text, from), old);
    assert_non_null(at);
    return arena_print(&arena, "%.*s%s%s", (int)(at - text), text, new,
                       at + strlen(old));
}

static void what_was_written_comes_back(void **state) {
    (void)state;
    struct previous previous = read_back(text);
    const struct plan *plan = &example.plan;
    assert_int_equal(previous.depart.unix_s, plan->depart.unix_s);
    assert_true(previous.reached);
    assert_int_equal(previous.arrive.unix_s, plan->summary.arrive.unix_s);
    assert_near(previous.to.lat_deg, plan->to.lat_deg, 1e-7);
    assert_int_equal(previous.leg_count, plan->leg_count);
    size_t works = 0;
    for (size_t i = 0; i < plan->leg_count; i++) {
        const struct previous_leg *leg = &previous.legs[i];
        assert_int_equal(leg->start.unix_s, plan->legs[i].start.unix_s);
        assert_int_equal(leg->end.unix_s, plan->legs[i].end.unix_s);
        assert_near(leg->from.lon_deg, plan->legs[i].from.lon_deg, 1e-7);
        assert_near(leg->to.lat_deg, plan->legs[i].to.lat_deg, 1e-7);
        assert_int_equal(leg->spar, plan->legs[i].deck.spar);
    }
    for (size_t i = 0; i < plan->change_count; i++) {
        if (!plan->changes[i].deck_work)
            continue;
        const struct previous_work *work = &previous.works[works++];
        assert_int_equal(work->kind, plan->changes[i].kind);
        assert_int_equal(work->at.unix_s, plan->changes[i].at.unix_s);
        assert_int_equal(deck_index(work->to), deck_index(plan->changes[i].to));
    }
    assert_true(works > 0);
    assert_int_equal(previous.work_count, works);
}

static void a_plan_that_ends_on_the_way_has_no_arrival(void **state) {
    (void)state;
    const char *at = strstr(text, "\"arrive\": ");
    struct previous previous =
        read_back(arena_print(&arena, "%.*s\"arrive\": null%s",
                              (int)(at - text), text, strchr(at, ',')));
    assert_false(previous.reached);
}

static void what_is_no_plan_of_ours_is_refused(void **state) {
    (void)state;
    refused("", "not JSON");
    refused("[]", "not a plan of ours: it has no 'sparwise' and 'format'");
    refused("{\"format\": 1}", "not a plan of ours");
    refused("{\"type\": \"FeatureCollection\", \"features\": []}",
            "give a plan.json");
    refused(with("\"format\"", ": 1", ": 2"),
            "a plan of format 2, by sparwise ");
    refused(with("\"format\"", ": 1", ": 2"), "this one reads format 1");
}

/* Cut anywhere it is no JSON, and says what to do. */
static void a_file_that_was_cut_is_refused(void **state) {
    (void)state;
    size_t length = strlen(text);
    for (size_t at = 1; at + 2 < length; at += length / 23) {
        char *cut = arena_print(&arena, "%.*s", (int)at, text);
        refused(cut, "it may be cut short: copy it again");
    }
}

static void damage_is_named_with_its_place(void **state) {
    (void)state;
    refused(with("\"legs\"", "\"lat\": ", "\"lat\": 9"),
            "of leg 1 is missing or no such value");
    refused(with("\"legs\"", "\"spar\": \"stowed\"", "\"spar\": \"aloft\""),
            "'spar' of leg ");
    refused(with("\"legs\"", "\"start\": \"2", "\"start\": \"x"),
            "'start' of leg 1 ");
    refused(with("\"changes\"", "\"change\": \"set\"", "\"change\": \"sit\""),
            "'change' of change ");
    refused(with("\"changes\"", "\"to_state\": \"", "\"to_state\": \"in"),
            "'to_state' of change ");
    refused(with("\"changes\"", "\"deck_work\": ", "\"deck_wark\": "),
            "'deck_work' of change 1 ");
    refused(with("\"passage\"", "\"depart\"", "\"left\""),
            "'depart' of the passage ");
    refused(with("\"legs\"", "\"legs\"", "\"lags\""), "there is no leg in it");
}

static void more_legs_than_any_plan_has_are_refused(void **state) {
    (void)state;
    char *many = arena_alloc(&arena, PLAN_READ_LEGS + 1, 3);
    for (int i = 0; i <= PLAN_READ_LEGS; i++)
        strcat(many + 2 * i, i < PLAN_READ_LEGS ? "1," : "1");
    refused(with("\"legs\"", "\"legs\": [",
                 arena_print(&arena, "\"legs\": [%s], \"rest\": [", many + 2)),
            ""); /* a number is no leg, but there may be as many */
    assert_null(strstr(error.text, "are more than"));
    refused(with("\"legs\"", "\"legs\": [",
                 arena_print(&arena, "\"legs\": [%s], \"rest\": [", many)),
            "4097 legs are more than 4096");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_written_comes_back),
        cmocka_unit_test(a_plan_that_ends_on_the_way_has_no_arrival),
        cmocka_unit_test(what_is_no_plan_of_ours_is_refused),
        cmocka_unit_test(a_file_that_was_cut_is_refused),
        cmocka_unit_test(damage_is_named_with_its_place),
        cmocka_unit_test(more_legs_than_any_plan_has_are_refused),
    };
    return cmocka_run_group_tests(tests, begin, finish);
}
