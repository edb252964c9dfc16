/* Work done apart, in a child process: for a library that may crash, hang or
 * take all memory on damaged input. The child writes what it finds into a
 * pipe; whoever reads it must trust nothing in it.
 */
#ifndef BASE_APART_H
#define BASE_APART_H

#include "base/error.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <sys/types.h>

/* Processor time and memory that the child may take. */
enum { APART_CPU_S = 60, APART_MEGABYTES = 1024 };

struct apart {
    pid_t child;
    FILE *stream; /* what the child has written */
};

/* Starts work(context, out) in a child, which ends when it returns. Its
 * messages on stderr go nowhere. STATUS_RESOURCE where no child can be
 * started. */
bool apart_begin(struct apart *apart, void (*work)(void *context, FILE *out),
                 void *context, struct error *error);

/* Exactly that many bytes; false where fewer came. */
bool apart_read(struct apart *apart, void *bytes, size_t count);

/* Waits for the child, which is stopped at its next word if it has more to
 * say. True if it came to the end of its work. Where the child had no memory
 * left the program ends for that. Call it once. */
bool apart_end(struct apart *apart);

#endif
