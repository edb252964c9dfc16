/* plan.json: the plan for other programs. Its keys are a contract, listed in
 * docs/files.md; all of them are always there, null where not known. */
#ifndef REPORT_PLAN_JSON_H
#define REPORT_PLAN_JSON_H

#include "plan/plan.h"
#include <stdio.h>

/* A change of the keys' meaning asks for a new number. */
enum { PLAN_JSON_FORMAT = 1 };

/* Deck states are written "stowed", "port_drawing", "port_rolled",
 * "starboard_drawing" or "starboard_rolled", then "_wind_port" or
 * "_wind_starboard". False (STATUS_WRITE) where the stream can't be written. */
bool plan_json_write(const struct plan *plan, FILE *stream,
                     struct error *error);

/* Parts of it that other documents have, too: {"lat", "lon"} under `key`, and
 * "summary". */
struct json;
void plan_json_put_place(struct json *json, const char *key,
                         struct position position);
void plan_json_put_summary(struct json *root, const struct plan *plan);

#endif
