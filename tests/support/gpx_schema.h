/* GPX 1.1 against its published schema (Topografix), by xmllint. The schema
 * comes from Debian's package pytrainer, fetched and unpacked, not installed.
 */
#ifndef TESTS_GPX_SCHEMA_H
#define TESTS_GPX_SCHEMA_H

#include "check.h"

/* Path of the schema, or NULL, saying "skipped:", where it can't be had. */
const char *gpx_schema(void);

/* Status 0: valid; 3: not (xmllint(1)). */
struct ran gpx_schema_validate(const char *path);

#endif
