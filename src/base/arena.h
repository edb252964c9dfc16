/* Memory by lifetime: allocate freely, free all at once.
 *
 * "The result lives in the arena that you pass." Memory comes zeroed and
 * aligned for any type. Running out of memory, or beyond a limit of it, ends
 * the program here, with exit status 71, and nowhere else. Under the address
 * sanitizer every allocation is a block of its own, so that overruns are seen.
 */
#ifndef BASE_ARENA_H
#define BASE_ARENA_H

#include <stddef.h>

struct arena_block;
struct arena_ending;

struct arena {
    struct arena_block *last;
    size_t used_bytes; /* handed out since arena_init() */
    struct arena_ending *endings;
};

void arena_init(struct arena *arena);

/* `count` items of `size` bytes; zeroed; never NULL. */
void *arena_alloc(struct arena *arena, size_t count, size_t size);

/* Gives back what arena_alloc() returned, before its time, where it is large;
 * what is small stays until the arena is freed. */
void arena_drop(struct arena *arena, void *items);

/* Room for one more item in a growing list: returns `items`, moved when
 * `count` has reached `*capacity`, which then doubles. The old place stays
 * readable until the arena is freed. */
void *arena_room(struct arena *arena, void *items, size_t count,
                 size_t *capacity, size_t size);

/* The same, but the old place is dropped. */
void *arena_regrow(struct arena *arena, void *items, size_t count,
                   size_t *capacity, size_t size);

char *arena_copy(struct arena *arena, const char *text);
char *arena_print(struct arena *arena, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Calls `end(what)` when the arena is freed, before its memory goes; the last
 * one asked for comes first. For what is no memory of the arena's own but has
 * to live as long. */
void arena_at_end(struct arena *arena, void (*end)(void *what), void *what);

/* Gives all memory back; the arena may be used again. */
void arena_free(struct arena *arena);

/* Once, when the program begins: what is large goes back to the system as soon
 * as it is freed, and takes only as much memory as is touched of it. */
void arena_return_large(void);

/* Says that memory is out and ends the program with STATUS_RESOURCE. */
_Noreturn void arena_exhausted(void);

/* The same where something takes more than its named limit: `cause` says what,
 * and what to do. */
_Noreturn void arena_beyond(const char *cause);

#endif
