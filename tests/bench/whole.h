/* The program as a user runs it. */
#ifndef BENCH_WHOLE_H
#define BENCH_WHOLE_H

#include "measure.h"

/* `sparwise plan` of one of the inputs, with so many threads (0: one for each
 * core); its files are written. */
struct taken whole_measure(const char *name, int threads);

#endif
