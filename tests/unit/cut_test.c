#include "../support/check.h"

#include "../support/grib_maker.h"
#include "forecast/cut.h"
#include <stdlib.h>
#include <string.h>

static const struct grib_spec U = {
    .edition = 2, .category = 2, .number = 2, .fill = 1.0};
static const struct grib_spec V = {
    .edition = 2, .category = 2, .number = 3, .fill = 11.0};

static void a_single_field_comes_out_as_it_went_in(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct cutter cutter;
    grib_add(&bytes, &U);
    cutter_init(&cutter, bytes.bytes, bytes.size);
    assert_int_equal(cutter_next(&cutter), CUT_FIELD);
    assert_int_equal(cutter_size(&cutter), bytes.size);
    uint8_t *copy = malloc(bytes.size);
    cutter_write(&cutter, copy);
    assert_memory_equal(copy, bytes.bytes, bytes.size);
    assert_int_equal(cutter_next(&cutter), CUT_END);
    free(copy);
    grib_free(&bytes);
}

static void joined_fields_come_out_as_they_were_alone(void **state) {
    (void)state;
    struct grib_bytes joined = {0}, alone[2] = {{0}, {0}};
    struct cutter cutter;
    grib_add_joined(&joined, &U, &V, false);
    grib_add(&alone[0], &U);
    grib_add(&alone[1], &V);
    cutter_init(&cutter, joined.bytes, joined.size);
    for (int i = 0; i < 2; i++) {
        assert_int_equal(cutter_next(&cutter), CUT_FIELD);
        assert_int_equal(cutter_size(&cutter), alone[i].size);
        uint8_t *copy = malloc(alone[i].size);
        cutter_write(&cutter, copy);
        assert_memory_equal(copy, alone[i].bytes, alone[i].size);
        free(copy);
        grib_free(&alone[i]);
    }
    assert_int_equal(cutter_next(&cutter), CUT_END);
    grib_free(&joined);
}

/* Every cut and every flipped bit of the section heads: no read goes past the
 * message (the sanitizers see to that), and the cutter ends. */
static void damaged_sections_end_the_cutting(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    grib_add_joined(&bytes, &U, &V, true); /* no bitmap to reuse */
    for (size_t at = 16; at < bytes.size; at++) {
        for (int bit = 0; bit < 8; bit++) {
            uint8_t *copy = malloc(bytes.size);
            struct cutter cutter;
            int fields = 0;
            memcpy(copy, bytes.bytes, bytes.size);
            copy[at] ^= (uint8_t)(1 << bit);
            cutter_init(&cutter, copy, bytes.size);
            while (cutter_next(&cutter) == CUT_FIELD)
                fields++;
            /* no section is shorter than its head */
            assert_true((size_t)fields * 5 <= bytes.size);
            free(copy);
        }
    }
    grib_free(&bytes);
}

static void a_bitmap_as_before_without_one_before_is_damage(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct cutter cutter;
    grib_add_joined(&bytes, &U, &V, true);
    cutter_init(&cutter, bytes.bytes, bytes.size);
    assert_int_equal(cutter_next(&cutter), CUT_FIELD);
    assert_int_equal(cutter_next(&cutter), CUT_DAMAGED);
    grib_free(&bytes);
}

static void a_message_without_sections_is_damaged(void **state) {
    (void)state;
    uint8_t message[20] = "GRIB";
    struct cutter cutter;
    message[7] = 2;
    message[15] = 20;
    memcpy(message + 16, "7777", 4);
    cutter_init(&cutter, message, sizeof message);
    assert_int_equal(cutter_next(&cutter), CUT_DAMAGED);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_single_field_comes_out_as_it_went_in),
        cmocka_unit_test(joined_fields_come_out_as_they_were_alone),
        cmocka_unit_test(damaged_sections_end_the_cutting),
        cmocka_unit_test(a_bitmap_as_before_without_one_before_is_damage),
        cmocka_unit_test(a_message_without_sections_is_damaged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
