#include "command/progress.h"

#include <stdio.h>
#include <unistd.h>

static bool shown;
static int last_percent = -1;

static void report(void *context, const char *stage, double done_frac) {
    (void)context;
    int percent = (int)(done_frac * 100.0);
    if (percent == last_percent)
        return;
    last_percent = percent;
    fprintf(stderr, "\rsparwise: %s, %d %%\033[K", stage, percent);
    fflush(stderr);
}

void progress_begin(bool wanted) {
    shown = wanted && isatty(STDERR_FILENO);
}

const struct plan_progress *progress_of_plan(void) {
    static const struct plan_progress progress = {.report = report};
    return shown ? &progress : NULL;
}

void progress_stage(const char *stage) {
    if (!shown)
        return;
    fprintf(stderr, "\rsparwise: %s\033[K", stage);
    fflush(stderr);
    last_percent = -1;
}

void progress_end(void) {
    if (!shown)
        return;
    fputs("\r\033[K", stderr);
    fflush(stderr);
}
