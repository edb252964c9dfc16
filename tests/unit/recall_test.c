#include "../support/check.h"

#include "../support/grib_maker.h"
#include "forecast/recall.h"
#include <stdlib.h>
#include <string.h>

static void cut_first(const struct grib_bytes *bytes, struct cutter *cutter) {
    cutter_init(cutter, bytes->bytes, bytes->size);
    assert_int_equal(cutter_next(cutter), CUT_FIELD);
}

/* What the library says of a message; kept in `recall` where it is not NULL. */
static struct grib_field ask(struct recall *recall,
                             const struct grib_spec *spec) {
    struct grib_reader reader = {0};
    struct grib_bytes bytes = {0};
    struct grib_field field;
    struct cutter cutter;
    grib_add(&bytes, spec);
    cut_first(&bytes, &cutter);
    grib_read(&reader, bytes.bytes, bytes.size, &field);
    if (recall)
        recall_keep(recall, &cutter, &field);
    grib_reader_free(&reader);
    grib_free(&bytes);
    return field;
}

static bool find(const struct recall *recall, const struct grib_spec *spec,
                 struct grib_field *field) {
    struct grib_bytes bytes = {0};
    struct cutter cutter;
    grib_add(&bytes, spec);
    cut_first(&bytes, &cutter);
    bool found = recall_header(recall, &cutter, field);
    grib_free(&bytes);
    return found;
}

static void assert_same(const struct grib_field *a,
                        const struct grib_field *b) {
    assert_int_equal(a->fate, b->fate);
    assert_string_equal(a->cause, b->cause);
    assert_string_equal(a->code, b->code);
    assert_int_equal(a->edition, b->edition);
    assert_int_equal(a->level.kind, b->level.kind);
    assert_int_equal(a->parameter.quantity, b->parameter.quantity);
    assert_int_equal(a->parameter.part, b->parameter.part);
    assert_int_equal(a->run.unix_s, b->run.unix_s);
    assert_int_equal(a->validity.start.unix_s, b->validity.start.unix_s);
    assert_int_equal(a->validity.end.unix_s, b->validity.end.unix_s);
    assert_int_equal(a->validity.interval, b->validity.interval);
    assert_int_equal(a->member.kind, b->member.kind);
    assert_int_equal(a->member.number, b->member.number);
    if (a->fate == FATE_USED)
        assert_true(grid_same(&a->grid, &b->grid));
}

static struct grib_spec spec_of(int number, int lead) {
    return (struct grib_spec){
        .edition = 2, .category = 2, .number = number, .lead = lead};
}

static void another_lead_time_is_answered_as_the_library_does(void **state) {
    (void)state;
    static struct recall recall;
    static const int numbers[] = {2, 3, 22, 9}; /* the last one is not used */
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        struct grib_spec spec = spec_of(numbers[i], 0);
        ask(&recall, &spec);
    }
    for (int lead = 0; lead < 400; lead += 7) {
        for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
            struct grib_spec spec = spec_of(numbers[i], lead);
            struct grib_field told = ask(NULL, &spec), recalled;
            assert_true(find(&recall, &spec, &recalled));
            if (told.fate == FATE_USED)
                assert_same(&told, &recalled);
            assert_int_equal(told.fate, recalled.fate);
            assert_null(recalled.values);
        }
    }
}

/* A section 4 that is cut short, which the library reads all the same. */
static void a_lead_time_beyond_its_section_is_not_kept(void **state) {
    (void)state;
    static struct recall recall;
    struct grib_spec spec = spec_of(2, 6);
    struct grib_bytes bytes = {0};
    struct cutter cutter;
    struct grib_field field = ask(NULL, &spec);
    grib_add(&bytes, &spec);
    cut_first(&bytes, &cutter);
    field.lead_at = cutter.section_length[4] - 3;
    recall_keep(&recall, &cutter, &field);
    assert_int_equal(recall.count, 0);
    field.lead_at--;
    recall_keep(&recall, &cutter, &field);
    assert_int_equal(recall.count, 1);
    grib_free(&bytes);
}

static void minutes_are_minutes(void **state) {
    (void)state;
    static struct recall recall;
    struct grib_spec spec = spec_of(2, 0);
    struct grib_field field;
    spec.unit_is_minutes = true;
    struct grib_field first = ask(&recall, &spec);
    spec.lead = 90;
    assert_true(find(&recall, &spec, &field));
    assert_int_equal(field.validity.end.unix_s,
                     first.validity.end.unix_s + 90 * 60);
}

/* Any other difference: run, level, unit, grid, member, producer. */
static void a_header_that_differs_elsewhere_is_new(void **state) {
    (void)state;
    static struct recall recall;
    struct grib_spec spec = spec_of(2, 6), other;
    struct grib_field field;
    ask(&recall, &spec);
    assert_true(find(&recall, &spec, &field));
    other = spec;
    other.number = 3;
    assert_false(find(&recall, &other, &field));
    other = spec;
    other.run = (struct civil){2024, 2, 29, 0, 0, 0};
    assert_false(find(&recall, &other, &field));
    other = spec;
    other.level_type = 103;
    other.level = 80;
    assert_false(find(&recall, &other, &field));
    other = spec;
    other.unit_is_minutes = true;
    assert_false(find(&recall, &other, &field));
    other = spec;
    other.ni = 3;
    assert_false(find(&recall, &other, &field));
    other = spec;
    other.product = 1;
    assert_false(find(&recall, &other, &field));
    other = spec;
    other.discipline = 10;
    assert_false(find(&recall, &other, &field));
}

static void a_time_before_the_run_is_left_to_the_library(void **state) {
    (void)state;
    static struct recall recall;
    struct grib_spec spec = spec_of(2, 6);
    struct grib_field field;
    ask(&recall, &spec);
    spec.late[0] = (struct grib_setting){"forecastTime", -3};
    assert_false(find(&recall, &spec, &field));
}

static void intervals_are_left_to_the_library(void **state) {
    (void)state;
    static struct recall recall;
    struct grib_spec spec = spec_of(22, 6);
    struct grib_field field;
    spec.product = 8;
    ask(&recall, &spec);
    assert_false(find(&recall, &spec, &field));
}

/* More kinds than there is room for: the oldest goes, none is mixed up. */
static void the_oldest_headers_make_room(void **state) {
    (void)state;
    static struct recall recall;
    struct grib_field field;
    enum { KINDS = RECALL_HEADERS + 9 };
    for (int i = 0; i < KINDS; i++) {
        struct grib_spec spec = spec_of(2, 0);
        spec.run = (struct civil){2024, 2, 1 + i / 24, i % 24, 0, 0};
        ask(&recall, &spec);
    }
    for (int i = 0; i < KINDS; i++) {
        struct grib_spec spec = spec_of(2, 12);
        spec.run = (struct civil){2024, 2, 1 + i / 24, i % 24, 0, 0};
        bool found = find(&recall, &spec, &field);
        assert_true(found == (i >= KINDS - RECALL_HEADERS));
        if (found) {
            struct grib_field told = ask(NULL, &spec);
            assert_same(&told, &field);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(another_lead_time_is_answered_as_the_library_does),
        cmocka_unit_test(a_lead_time_beyond_its_section_is_not_kept),
        cmocka_unit_test(minutes_are_minutes),
        cmocka_unit_test(a_header_that_differs_elsewhere_is_new),
        cmocka_unit_test(a_time_before_the_run_is_left_to_the_library),
        cmocka_unit_test(intervals_are_left_to_the_library),
        cmocka_unit_test(the_oldest_headers_make_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
