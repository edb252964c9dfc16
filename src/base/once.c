#include "base/once.h"

#include <sched.h>
#include <stdatomic.h>

bool once_begin(_Atomic uint8_t *state) {
    uint8_t now = atomic_load_explicit(state, memory_order_acquire);
    if (now >= ONCE_MADE)
        return false;
    now = ONCE_EMPTY;
    if (atomic_compare_exchange_strong(state, &now, ONCE_BUSY))
        return true;
    while (now == ONCE_BUSY) {
        sched_yield();
        now = atomic_load_explicit(state, memory_order_acquire);
    }
    return false;
}

void once_end(_Atomic uint8_t *state, uint8_t made) {
    atomic_store_explicit(state, made, memory_order_release);
}

uint8_t once_made(_Atomic uint8_t *state) {
    return atomic_load_explicit(state, memory_order_acquire);
}
