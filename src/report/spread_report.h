/* What `sparwise spread` prints: on one screen, and as a document. */
#ifndef REPORT_SPREAD_REPORT_H
#define REPORT_SPREAD_REPORT_H

#include "base/error.h"
#include "plan/spread.h"
#include <stdio.h>

/* A table of at most 80 columns, ASCII. */
bool spread_write(const struct spread *spread, FILE *stream,
                  struct error *error);

/* docs/files.md has its keys. */
enum { SPREAD_JSON_FORMAT = 1 };
bool spread_json_write(const struct spread *spread, FILE *stream,
                       struct error *error);

#endif
