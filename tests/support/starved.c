/* Linked into the program in place of the C library's malloc() and its like: of
 * the allocations that the program, its libraries and its child processes ask
 * for after main() began, the one fails whose number $STARVED_AT names; of the
 * files that are opened as streams, and of the texts that are copied, those of
 * $STARVED_OPENING and $STARVED_COPY. Then a line goes into the file
 * $STARVED_FILE. */
#define _GNU_SOURCE /* NOLINT(bugprone-reserved-identifier) */

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

/* Where the C library of GNU has its own (malloc/malloc.c). */
void *__libc_malloc(size_t bytes);
void *__libc_calloc(size_t count, size_t bytes);
void *__libc_realloc(void *place, size_t bytes);

enum kind { ALLOCATION, OPENING, COPY, KINDS };
static const char *const settings[KINDS] = {"STARVED_AT", "STARVED_OPENING",
                                            "STARVED_COPY"};

/* Shared with the children. */
struct count {
    _Atomic long done[KINDS];
    long fails_at[KINDS];
    const char *file;
};
static struct count *count;

/* After those of the libraries, before main(). */
__attribute__((constructor)) static void begin(void) {
    void *shared = mmap(NULL, sizeof *count, PROT_READ | PROT_WRITE,
                        MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (shared == MAP_FAILED)
        abort();
    count = shared;
    count->file = getenv("STARVED_FILE");
    for (int i = 0; i < KINDS; i++) {
        const char *at = getenv(settings[i]);
        count->fails_at[i] = at ? strtol(at, NULL, 10) : 0;
    }
}

static bool fails(enum kind kind) {
    if (!count ||
        atomic_fetch_add(&count->done[kind], 1) + 1 != count->fails_at[kind])
        return false;
    int file = open(count->file, O_WRONLY | O_CREAT | O_APPEND, 0600);
    if (file < 0 || write(file, "failed\n", 7) != 7)
        abort();
    close(file);
    errno = ENOMEM;
    return true;
}

void *malloc(size_t bytes) {
    return fails(ALLOCATION) ? NULL : __libc_malloc(bytes);
}

void *calloc(size_t number, size_t bytes) {
    return fails(ALLOCATION) ? NULL : __libc_calloc(number, bytes);
}

void *realloc(void *place, size_t bytes) {
    return fails(ALLOCATION) ? NULL : __libc_realloc(place, bytes);
}

char *strdup(const char *text) {
    size_t bytes = strlen(text) + 1;
    char *copy = fails(COPY) ? NULL : malloc(bytes);
    return copy ? memcpy(copy, text, bytes) : NULL;
}

FILE *fopen(const char *path, const char *mode) {
    static FILE *(*of_library)(const char *path, const char *mode);
    if (!of_library)
        *(void **)&of_library = dlsym(RTLD_NEXT, "fopen");
    return fails(OPENING) ? NULL : of_library(path, mode);
}
