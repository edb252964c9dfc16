/* Signals. Between hold and release an interrupt only waits, so that drafts are
 * never left behind; at all other times it ends the program as if nobody
 * listened. The program's threads all share this, hence no signal mask. */
#ifndef COMMAND_INTERRUPT_H
#define COMMAND_INTERRUPT_H

#include <stdbool.h>

/* A failed assertion is a mistake of ours: exit status 70. */
void interrupt_begin(void);

void interrupt_hold(void);

/* True if one waits. */
bool interrupt_is_waiting(void);

/* Ends the program by the signal that waits, if any: 128+n to the shell. */
void interrupt_release(void);

#endif
