/* What the program tells its user beside its product: on standard error, lower
 * case, one line each, "sparwise: ..." in front. Control characters, which a
 * file's name may bring, are shown as '?'. */
#ifndef COMMAND_MESSAGES_H
#define COMMAND_MESSAGES_H

#include "base/error.h"

enum message_level {
    MESSAGES_QUIET, /* errors only */
    MESSAGES_NORMAL,
    MESSAGES_VERBOSE
};

/* Holds for the whole program; MESSAGES_NORMAL at first. */
void messages_set_level(enum message_level level);

void message_error(const struct error *error);
void message_warning(const char *text);
void message_note(const char *format, ...)
    __attribute__((format(printf, 1, 2)));

/* Only with MESSAGES_VERBOSE. */
void message_detail(const char *format, ...)
    __attribute__((format(printf, 1, 2)));

#endif
