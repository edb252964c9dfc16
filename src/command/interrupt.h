/* Signals. Between hold and release an interrupt only waits, so that drafts are
 * never left behind; at all other times it ends the program as if nobody
 * listened. The program's threads all share this, hence no signal mask. */
#ifndef COMMAND_INTERRUPT_H
#define COMMAND_INTERRUPT_H

#include <stdbool.h>

/* From here a failed assertion ends with status 70, a library that gives up
 * with 71, a forecast file that is cut short under the program's hands with 3,
 * and a file that may grow no further is an error of its write. */
void interrupt_begin(void);

/* What ends the program now is main(). */
void interrupt_end(void);

void interrupt_hold(void);

/* True if one waits. */
bool interrupt_is_waiting(void);

/* Ends the program by the signal that waits, if any: 128+n to the shell. */
void interrupt_release(void);

#endif
