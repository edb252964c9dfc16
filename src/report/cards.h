/* The order of steps on deck, short enough to be said aloud (common practice,
 * no source). */
#ifndef REPORT_CARDS_H
#define REPORT_CARDS_H

#include <stdio.h>

void cards_write(FILE *stream);

#endif
