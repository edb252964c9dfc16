/* What to ask a forecast for, in plain words, for somebody at sea on a slow
 * link: a small request and a fuller one. */
#ifndef REPORT_ASK_REPORT_H
#define REPORT_ASK_REPORT_H

#include "boat/boat.h"
#include "plan/request.h"
#include <stdio.h>

/* At most 80 columns, ASCII. False (STATUS_WRITE) where the stream can't be
 * written. */
bool ask_report_write(const struct boat *boat, const struct request *request,
                      FILE *stream, struct error *error);

#endif
