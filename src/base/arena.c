#include "base/arena.h"

#include "base/error.h"

#include <assert.h>
#include <stdalign.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifdef __GLIBC__
#include <malloc.h>
#endif

#if defined(__SANITIZE_ADDRESS__)
#define EVERY_ALLOCATION_ALONE true
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define EVERY_ALLOCATION_ALONE true
#endif
#endif
#ifndef EVERY_ALLOCATION_ALONE
#define EVERY_ALLOCATION_ALONE false
#endif

enum {
    /* Blocks double from this to LARGE_BYTES, then come usual ones: many an
     * arena holds a line of text, and to clear a block for it took longer than
     * the line. */
    FIRST_BLOCK_BYTES = 1 << 10,
    BLOCK_BYTES = 64 << 10,
    /* What is larger than this gets a block of its own, so that little of the
     * current block is ever left unused. */
    LARGE_BYTES = BLOCK_BYTES / 4,
    FIRST_CAPACITY = 16
};

struct arena_ending {
    struct arena_ending *before;
    void (*end)(void *what);
    void *what;
};

struct arena_block {
    struct arena_block *before;
    size_t capacity, used; /* bytes of `data` */
    alignas(max_align_t) unsigned char data[];
};

_Noreturn void arena_beyond(const char *cause) {
    fprintf(stderr, "sparwise: %s\n", cause);
    /* Not exit(): this may be a child process, whose parent's handlers and
     * buffers are not ours to run. */
    _Exit(STATUS_RESOURCE);
}

_Noreturn void arena_exhausted(void) {
    arena_beyond("out of memory; close other programs, or plan with fewer "
                 "forecast files");
}

/* The C library of GNU raises its own bound, from 128 kB, to the largest block
 * that was ever freed: searches by turns then keep what each of them needed
 * most. A plan of 24 h took 55 MB so, and 41 MB with a bound of 256 kB; many by
 * turns on two threads 130 MB and 62 MB. */
void arena_return_large(void) {
#ifdef __GLIBC__
    mallopt(M_MMAP_THRESHOLD, 256 << 10);
#endif
}

static struct arena_block *block_new(size_t capacity) {
    if (capacity > SIZE_MAX - sizeof(struct arena_block))
        arena_exhausted();
    struct arena_block *block =
        calloc(1, sizeof(struct arena_block) + capacity);
    if (!block)
        arena_exhausted();
    block->capacity = capacity;
    return block;
}

void arena_init(struct arena *arena) {
    *arena = (struct arena){.last = NULL, .used_bytes = 0};
}

static void *alloc_alone(struct arena *arena, size_t bytes) {
    struct arena_block *block = block_new(bytes);
    block->used = bytes;
    /* Behind the current block, which goes on being filled. */
    struct arena_block *last = arena->last;
    block->before = last ? last->before : NULL;
    if (last)
        last->before = block;
    else
        arena->last = block;
    return block->data;
}

static size_t aligned_up(size_t bytes) {
    size_t unit = alignof(max_align_t);
    if (bytes > SIZE_MAX - unit)
        arena_exhausted();
    return (bytes + unit - 1) / unit * unit;
}

/* None between the two: a block of such a size is one large piece. */
static size_t next_capacity(const struct arena_block *last, size_t bytes) {
    if (last && last->capacity >= LARGE_BYTES)
        return BLOCK_BYTES;
    size_t capacity = last ? 2 * last->capacity : FIRST_BLOCK_BYTES;
    if (capacity > LARGE_BYTES)
        return LARGE_BYTES;
    return capacity < bytes ? bytes : capacity;
}

static void *alloc_from_block(struct arena *arena, size_t bytes) {
    struct arena_block *last = arena->last;
    bytes = aligned_up(bytes);
    if (!last || last->capacity - last->used < bytes) {
        last = block_new(next_capacity(last, bytes));
        last->before = arena->last;
        arena->last = last;
    }
    void *place = last->data + last->used;
    last->used += bytes;
    return place;
}

void *arena_alloc(struct arena *arena, size_t count, size_t size) {
    assert(arena && size > 0);
    if (count > SIZE_MAX / size)
        arena_exhausted();
    size_t bytes = count * size;
    arena->used_bytes += bytes;
    if (EVERY_ALLOCATION_ALONE || bytes > LARGE_BYTES)
        return alloc_alone(arena, bytes);
    return alloc_from_block(arena, bytes);
}

void *arena_room(struct arena *arena, void *items, size_t count,
                 size_t *capacity, size_t size) {
    assert(count <= *capacity);
    if (count < *capacity)
        return items;
    if (*capacity > SIZE_MAX / 2)
        arena_exhausted();
    size_t wider = *capacity ? *capacity * 2 : FIRST_CAPACITY;
    void *moved = arena_alloc(arena, wider, size);
    if (count > 0)
        memcpy(moved, items, count * size);
    *capacity = wider;
    return moved;
}

/* The block that is `items` alone; NULL: they stand among others. */
static struct arena_block *block_of(const struct arena *arena,
                                    const void *items) {
    struct arena_block *block = arena->last;
    while (block && (const void *)block->data != items)
        block = block->before;
    bool alone = block && block->capacity > LARGE_BYTES &&
                 block->capacity != BLOCK_BYTES;
    return alone ? block : NULL;
}

static void block_drop(struct arena *arena, struct arena_block *block) {
    struct arena_block **place = &arena->last;
    while (*place && *place != block)
        place = &(*place)->before;
    assert(*place && "the block is one of the arena's");
    *place = block->before;
    free(block);
}

void arena_drop(struct arena *arena, void *items) {
    struct arena_block *block = block_of(arena, items);
    if (block)
        block_drop(arena, block);
}

void *arena_regrow(struct arena *arena, void *items, size_t count,
                   size_t *capacity, size_t size) {
    bool moves = count == *capacity && count > 0;
    struct arena_block *old = moves ? block_of(arena, items) : NULL;
    void *moved = arena_room(arena, items, count, capacity, size);
    if (old)
        block_drop(arena, old);
    return moved;
}

char *arena_copy(struct arena *arena, const char *text) {
    size_t bytes = strlen(text) + 1;
    return memcpy(arena_alloc(arena, bytes, 1), text, bytes);
}

char *arena_print(struct arena *arena, const char *format, ...) {
    va_list values, again;
    va_start(values, format);
    va_copy(again, values);
    int length = vsnprintf(NULL, 0, format, values);
    va_end(values);
    assert(length >= 0);
    size_t bytes = (size_t)length + 1;
    char *text = arena_alloc(arena, bytes, 1);
    vsnprintf(text, bytes, format, again);
    va_end(again);
    return text;
}

void arena_at_end(struct arena *arena, void (*end)(void *what), void *what) {
    struct arena_ending *ending = arena_alloc(arena, 1, sizeof *ending);
    *ending = (struct arena_ending){arena->endings, end, what};
    arena->endings = ending;
}

void arena_free(struct arena *arena) {
    for (const struct arena_ending *ending = arena->endings; ending;
         ending = ending->before)
        ending->end(ending->what);
    struct arena_block *block = arena->last;
    while (block) {
        struct arena_block *before = block->before;
        free(block);
        block = before;
    }
    arena_init(arena);
}
