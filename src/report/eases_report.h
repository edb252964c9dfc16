/* Plans of several eases beside one another. */
#ifndef REPORT_EASES_REPORT_H
#define REPORT_EASES_REPORT_H

#include "plan/eases.h"
#include <stdio.h>

/* A column for each ease, and what the chosen one has that the others have not.
 * The chosen one is planned. ASCII, at most 80 columns. */
bool eases_write(const struct eases *eases, FILE *stream, struct error *error);

/* "balanced": where an ease stands among the others, by what it asks for; ""
 * for one in between. */
const char *eases_word(const struct eases *eases, size_t index);

#endif
