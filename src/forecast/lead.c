#include "forecast/lead.h"

#include <stddef.h>

static const int64_t LIMIT_S = (int64_t)100 * 366 * 86400;

/* Seconds of one unit, 0 where it has no fixed length. The editions differ
 * from 13 on: quarters of an hour in the first, seconds in the second. */
static int64_t unit_seconds(int edition, long unit) {
    switch (unit) {
    case 0:
        return 60;
    case 1:
        return 3600;
    case 2:
        return 86400;
    case 10:
        return 10800;
    case 11:
        return 21600;
    case 12:
        return 43200;
    case 13:
        return edition == 1 ? 900 : 1;
    case 14:
        return edition == 1 ? 1800 : 0;
    case 254:
        return edition == 1 ? 1 : 0;
    default:
        return 0;
    }
}

bool lead_seconds(int edition, long unit, int64_t count, int64_t *seconds) {
    int64_t each = unit_seconds(edition, unit);
    if (each == 0 || count > LIMIT_S / each || count < -LIMIT_S / each)
        return false;
    *seconds = count * each;
    return true;
}

static struct instant later(struct instant instant, int64_t seconds) {
    return (struct instant){instant.unix_s + seconds};
}

const char *lead_edition_1(struct instant run, long unit, long indicator,
                           long p1, long p2, struct validity *validity) {
    int64_t first_s, second_s;
    if (indicator == 10) {
        p1 = p1 * 256 + p2;
        p2 = 0;
    }
    if (!lead_seconds(1, unit, p1, &first_s) ||
        !lead_seconds(1, unit, p2, &second_s))
        return "a time unit that is not known";
    *validity = (struct validity){.start = later(run, first_s),
                                  .end = later(run, first_s)};
    switch (indicator) {
    case 0:
    case 10:
        return NULL;
    case 1:
        validity->start = validity->end = run;
        return NULL;
    case 2:
        validity->end = later(run, second_s);
        validity->interval = second_s > first_s;
        return second_s < first_s ? "an interval that ends before it starts"
                                  : NULL;
    case 3:
        return "an average";
    case 4:
        return "an accumulation";
    case 5:
        return "a difference";
    default:
        return "an unknown kind of time range";
    }
}
