#include "schedule_text.h"

#include "check.h"
#include "flat.h"

#include "report/schedule.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct plan_example example;
char *text;

const char *schedule(void) {
    size_t size = 0;
    struct error error;
    free(text);
    text = NULL;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_true(schedule_write(&example.plan, stream, &error));
    fclose(stream);
    return text;
}

int begin(void **state) {
    (void)state;
    plan_example_make(&example);
    return 0;
}

int finish(void **state) {
    (void)state;
    free(text);
    text = NULL;
    return 0;
}

/* Wherever its lines break. */
void tells(const char *part) {
    char *whole = strdup(text), *sought = strdup(part);
    assert_non_null(whole);
    assert_non_null(sought);
    flatten(whole);
    flatten(sought);
    assert_contains(whole, sought);
    free(sought);
    free(whole);
}

void lacks(const char *part) {
    if (strstr(text, part))
        fail_msg("'%s' stands in:\n%s", part, text);
}
