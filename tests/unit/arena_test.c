#include "../support/check.h"

#include "base/arena.h"
#include "base/error.h"

#include <math.h>
#include <stdalign.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static bool all_zero(const unsigned char *bytes, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (bytes[i])
            return false;
    return true;
}

static void memory_is_zeroed_aligned_and_apart(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    enum { COUNT = 400 };
    unsigned char *blocks[COUNT];
    for (size_t i = 0; i < COUNT; i++) {
        size_t bytes = 1 + i * 37 % 3000;
        blocks[i] = arena_alloc(&arena, bytes, 1);
        assert_int_equal((uintptr_t)blocks[i] % alignof(max_align_t), 0);
        assert_true(all_zero(blocks[i], bytes));
        memset(blocks[i], (int)(i % 255) + 1, bytes);
    }
    for (size_t i = 0; i < COUNT; i++)
        for (size_t j = 0; j < 1 + i * 37 % 3000; j++)
            assert_int_equal(blocks[i][j], i % 255 + 1);
    arena_free(&arena);
}

static void large_and_small_mix(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    char *small = arena_copy(&arena, "small");
    unsigned char *large = arena_alloc(&arena, 5 << 20, 1);
    assert_true(all_zero(large, 5 << 20));
    memset(large, 0xff, 5 << 20);
    char *after = arena_copy(&arena, "after");
    assert_string_equal(small, "small");
    assert_string_equal(after, "after");
    assert_int_equal(arena.used_bytes, 6 + (5 << 20) + 6);
    arena_free(&arena);
    assert_int_equal(arena.used_bytes, 0);
    assert_string_equal(arena_copy(&arena, "again"), "again");
    arena_free(&arena);
}

static void no_items_is_still_a_place(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    assert_non_null(arena_alloc(&arena, 0, 8));
    arena_free(&arena);
}

static void a_growing_list_keeps_its_items(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    int *items = NULL;
    size_t count = 0, capacity = 0;
    const int *first_place = NULL;
    for (int i = 0; i < 5000; i++) {
        items = arena_room(&arena, items, count, &capacity, sizeof *items);
        items[count++] = i;
        if (i == 0)
            first_place = items;
    }
    for (int i = 0; i < 5000; i++)
        assert_int_equal(items[i], i);
    assert_true(capacity >= count && capacity < 4 * count);
    assert_int_equal(first_place[0], 0); /* the old place stays readable */
    arena_free(&arena);
}

static void texts_are_printed_whole(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    char *text = arena_print(&arena, "%s|%05d|%s", "a", 42, "");
    assert_string_equal(text, "a|00042|");
    char *wide = arena_print(&arena, "%100000d", 1);
    assert_int_equal(strlen(wide), 100000);
    arena_free(&arena);
}

static char ended[8];

static void note_end(void *what) {
    strcat(ended, what);
}

static void what_was_asked_for_happens_at_the_end(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    arena_at_end(&arena, note_end, arena_copy(&arena, "a"));
    arena_at_end(&arena, note_end, arena_copy(&arena, "b"));
    assert_string_equal(ended, "");
    arena_free(&arena);
    assert_string_equal(ended, "ba");
    arena_free(&arena);
    assert_string_equal(ended, "ba");
}

static int status_of_child(void (*act)(void)) {
    fflush(stdout);
    pid_t child = fork();
    if (child == 0) {
        fclose(stderr);
        act();
        _exit(0);
    }
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static void ask_for_more_than_there_is(void) {
    struct arena arena;
    arena_init(&arena);
    arena_alloc(&arena, SIZE_MAX / 4, 8);
}

static void ask_for_nearly_all(void) {
    struct arena arena;
    arena_init(&arena);
    arena_alloc(&arena, SIZE_MAX - 8, 1);
}

static void running_out_ends_with_its_status(void **state) {
    (void)state;
    assert_int_equal(status_of_child(ask_for_more_than_there_is),
                     STATUS_RESOURCE);
    assert_int_equal(status_of_child(ask_for_nearly_all), STATUS_RESOURCE);
}

/* What is large goes, what stands beside it stays as it is. */
static void a_large_piece_can_be_given_back_before_the_end(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    char *small = arena_copy(&arena, "small");
    char *before = arena_alloc(&arena, 100000, 1);
    char *large = arena_alloc(&arena, 200000, 1);
    char *after = arena_alloc(&arena, 300000, 1);
    memset(before, 'b', 100000);
    memset(after, 'a', 300000);
    arena_drop(&arena, large);
    arena_drop(&arena, small); /* stays */
    assert_string_equal(small, "small");
    assert_int_equal(before[99999], 'b');
    assert_int_equal(after[299999], 'a');
    assert_string_equal(arena_copy(&arena, "more"), "more");
    arena_drop(&arena, after);
    arena_drop(&arena, before);
    assert_string_equal(small, "small");
    arena_free(&arena);
}

/* Wherever in a block they stand, and however large that one is. */
static void small_pieces_stay_to_the_end(void **state) {
    (void)state;
    enum { PIECES = 400, MOST = 16 << 10 };
    struct seed seed = {71};
    for (int round = 0; round < 40; round++) {
        struct arena arena;
        unsigned char *pieces[PIECES];
        size_t sizes[PIECES];
        arena_init(&arena);
        for (int i = 0; i < PIECES; i++) {
            double octave = seed_between(&seed, 0.0, log2(MOST));
            sizes[i] = (size_t)exp2(octave);
            pieces[i] = arena_alloc(&arena, sizes[i], 1);
            memset(pieces[i], i % 256, sizes[i]);
            arena_drop(&arena, pieces[i]);
        }
        for (int i = 0; i < PIECES; i++)
            for (size_t k = 0; k < sizes[i]; k++)
                assert_int_equal(pieces[i][k], i % 256);
        arena_free(&arena);
    }
}

static void a_list_that_regrows_keeps_its_items(void **state) {
    (void)state;
    struct arena arena;
    size_t capacity = 0;
    uint32_t *items = NULL;
    arena_init(&arena);
    for (uint32_t i = 0; i < 100000; i++) {
        items = arena_regrow(&arena, items, i, &capacity, sizeof *items);
        items[i] = i * 7;
    }
    for (uint32_t i = 0; i < 100000; i++)
        assert_int_equal(items[i], i * 7);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_large_piece_can_be_given_back_before_the_end),
        cmocka_unit_test(small_pieces_stay_to_the_end),
        cmocka_unit_test(a_list_that_regrows_keeps_its_items),
        cmocka_unit_test(memory_is_zeroed_aligned_and_apart),
        cmocka_unit_test(large_and_small_mix),
        cmocka_unit_test(no_items_is_still_a_place),
        cmocka_unit_test(a_growing_list_keeps_its_items),
        cmocka_unit_test(texts_are_printed_whole),
        cmocka_unit_test(what_was_asked_for_happens_at_the_end),
        cmocka_unit_test(running_out_ends_with_its_status),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
