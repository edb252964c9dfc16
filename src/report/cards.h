/* The order of steps on deck, short enough to be said aloud (common practice,
 * no source): with two preventers the mainsail is gybed from the cockpit; a
 * single one sends someone forward, before and after. */
#ifndef REPORT_CARDS_H
#define REPORT_CARDS_H

#include "boat/boat.h"
#include <stdio.h>

void cards_write(const struct boat *boat, FILE *stream);

#endif
