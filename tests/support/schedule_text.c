#include "schedule_text.h"

#include "check.h"
#include "flat.h"
#include "side_words.h"

#include "report/schedule.h"
#include <stdlib.h>
#include <string.h>

struct plan_example example;
char *text;

static FILE *stream;

FILE *text_begin(void) {
    static size_t size;
    free(text);
    text = NULL;
    stream = open_memstream(&text, &size);
    assert_non_null(stream);
    return stream;
}

const char *text_close(void) {
    fclose(stream);
    check_side_words(text);
    return text;
}

const char *schedule(void) {
    struct error error;
    assert_true(schedule_write(&example.plan, text_begin(), &error));
    return text_close();
}

int begin(void **state) {
    plan_example_make(&example);
    return scratch_begin(state);
}

int finish(void **state) {
    free(text);
    text = NULL;
    return scratch_end(state);
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
