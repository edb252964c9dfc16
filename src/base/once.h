/* Things that are made when they are first asked for, by whichever thread asks.
 * What they hold must not depend on who makes them, nor when.
 *
 *     if (once_begin(&state)) {
 *         ... make it ...
 *         once_end(&state, ONCE_MADE);
 *     }
 */
#ifndef BASE_ONCE_H
#define BASE_ONCE_H

#include <stdbool.h>
#include <stdint.h>

/* A state begins as 0, as memory of an arena does; ONCE_MADE and above: made.
 */
enum { ONCE_EMPTY, ONCE_BUSY, ONCE_MADE };

/* True: the caller has to make it, and to end it. False: it is made; where
 * another thread was at it, after waiting for that. */
bool once_begin(_Atomic uint8_t *state);

/* `made` is ONCE_MADE or above; once_made() gives it back. */
void once_end(_Atomic uint8_t *state, uint8_t made);
uint8_t once_made(_Atomic uint8_t *state);

#endif
