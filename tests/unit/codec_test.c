/* A GRIB library that was built without a packing: its function that decodes
 * is ours here, and says so. Plain packing does without it (forecast/packed.h).
 */
#include "../support/check.h"

#include "../support/load.h"

#include <eccodes.h>
#include <stdlib.h>
#include <string.h>

int codes_get_double_array(const codes_handle *handle, const char *key,
                           double *values, size_t *length) {
    (void)handle, (void)key, (void)values, (void)length;
    return CODES_FUNCTIONALITY_NOT_ENABLED;
}

/* 20 x 20 points, which no packing leaves out. */
static void add_wind(struct grib_bytes *bytes, int lead, const char *packing) {
    enum { SIDE = 20 };
    static double values[SIDE * SIDE];
    for (int i = 0; i < SIDE * SIDE; i++)
        values[i] = 5.0 + 0.01 * i;
    struct grib_spec spec = {.edition = 2,
                             .category = 2,
                             .lead = lead,
                             .ni = SIDE,
                             .nj = SIDE,
                             .values = values,
                             .packing = packing};
    for (int part = 0; part < 2; part++) {
        spec.number = 2 + part;
        grib_add(bytes, &spec);
    }
}

static void a_packing_that_is_missing_is_named_with_a_remedy(void **state) {
    (void)state;
    static const char *const packings[] = {"grid_jpeg", "grid_png",
                                           "grid_ccsds"};
    for (size_t i = 0; i < sizeof packings / sizeof *packings; i++) {
        struct grib_bytes bytes = {0};
        add_wind(&bytes, 0, packings[i]);
        struct loaded loaded = load_bytes(&bytes, NULL);
        assert_false(loaded.good);
        assert_int_equal(loaded.error.status, STATUS_INPUT);
        assert_contains(loaded.error.text, packings[i]);
        assert_contains(loaded.error.text,
                        "is not built into the GRIB library; ask for simple "
                        "packing");
        assert_null(strstr(loaded.error.text, "download"));
        loaded_free(&loaded);
    }
}

/* What can be read is, and the rest is no wind of 0. */
static void other_steps_are_read_all_the_same(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_wind(&bytes, 0, "grid_simple");
    add_wind(&bytes, 6, "grid_simple");
    add_wind(&bytes, 12, "grid_jpeg");
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_true(loaded.good);
    assert_int_equal(coverage_at(&loaded, 49.5, -9.5, 6.0), COVERAGE_INSIDE);
    assert_int_equal(coverage_at(&loaded, 49.5, -9.5, 9.0), COVERAGE_AFTER);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "packing grid_jpeg is not built into");
    free(warnings);
    loaded_free(&loaded);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_packing_that_is_missing_is_named_with_a_remedy),
        cmocka_unit_test(other_steps_are_read_all_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
