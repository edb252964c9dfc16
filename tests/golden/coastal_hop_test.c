/* The schedule of one sample, byte for byte as it was last looked at and
 * accepted: tests/golden/coastal-hop/schedule.txt. With SPARWISE_ACCEPT set it
 * is written anew; look at the difference before committing it. */
#include "../support/check.h"
#include "../support/one_screen.h"
#include "../support/planned.h"
#include "../support/unit_words.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

static const char accepted_path[] = "tests/golden/coastal-hop/schedule.txt";

/* Whatever else is installed: Debian's gmt-gshhg-high. */
static const char coast_path[] = "/usr/share/gmt-gshhg/binned_GSHHS_h.nc";

static void accept_anew(const char *text) {
    FILE *stream = fopen(accepted_path, "w");
    assert_non_null(stream);
    assert_true(fputs(text, stream) >= 0);
    assert_int_equal(fclose(stream), 0);
}

static void the_schedule_is_the_one_that_was_accepted(void **state) {
    (void)state;
    if (access(coast_path, R_OK) != 0) {
        print_message("skipped: no %s\n", coast_path);
        skip();
    }
    struct planned plan = planned_well(
        "golden", "plan grib-samples/coastal-hop.ini --coast %s", coast_path);
    check_unit_words(plan.schedule);
    check_one_screen(plan.schedule);
    if (getenv("SPARWISE_ACCEPT"))
        accept_anew(plan.schedule);
    char line[100];
    snprintf(line, sizeof line, "cat %s", accepted_path);
    struct ran accepted = check_shell(line);
    assert_int_equal(accepted.status, 0);
    assert_string_equal(plan.schedule, accepted.out);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_schedule_is_the_one_that_was_accepted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
