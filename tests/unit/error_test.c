#include "../support/check.h"

#include "base/error.h"

#include <string.h>

static void setting_returns_false_and_fills_in(void **state) {
    (void)state;
    struct error error;
    assert_false(error_set(&error, STATUS_INPUT, "no '%s' here", "wind"));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_string_equal(error.text, "no 'wind' here");
}

static void a_place_goes_in_front(void **state) {
    (void)state;
    struct error error;
    error_set(&error, STATUS_INPUT, "unknown key");
    assert_false(error_at(&error, "%s:%d", "boat.ini", 7));
    assert_string_equal(error.text, "boat.ini:7: unknown key");
    assert_int_equal(error.status, STATUS_INPUT);
    error_at(&error, "passage");
    assert_string_equal(error.text, "passage: boat.ini:7: unknown key");
}

static void what_is_too_long_is_cut(void **state) {
    (void)state;
    struct error error;
    char longer[3 * ERROR_TEXT_SIZE];
    memset(longer, 'x', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    error_set(&error, STATUS_INPUT, "%s", longer);
    assert_int_equal(strlen(error.text), ERROR_TEXT_SIZE - 1);
    error_at(&error, "place");
    assert_int_equal(strlen(error.text), ERROR_TEXT_SIZE - 1);
    assert_memory_equal(error.text, "place: xxx", 10);
    error_at(&error, "%s", longer);
    assert_int_equal(strlen(error.text), ERROR_TEXT_SIZE - 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(setting_returns_false_and_fills_in),
        cmocka_unit_test(a_place_goes_in_front),
        cmocka_unit_test(what_is_too_long_is_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
