#include "one_screen.h"

#include "check.h"

#include <string.h>

void check_one_screen(const char *schedule) {
    const char *start = strstr(schedule, "\nAT DEPARTURE ");
    assert_non_null(start);
    const char *end = strstr(start, "\nLEGS\n");
    const char *news = strstr(start, "\nSINCE THE OLD PLAN ");
    assert_non_null(end);
    if (news && news < end)
        end = news;
    int lines = 0;
    for (const char *at = start; at < end; at++)
        lines += *at == '\n';
    if (lines - 1 > SCREEN_LINES)
        fail_msg("%d lines, %d fit:%.*s", lines - 1, SCREEN_LINES,
                 (int)(end - start), start);
}
