/* Linked into the program in place of the C library's malloc() and its like:
 * the one allocation whose number $STARVED_AT names fails, of those that the
 * program, its libraries and its child processes ask for after main() began.
 * Then a line goes into the file $STARVED_FILE. */
#define _DEFAULT_SOURCE /* NOLINT(bugprone-reserved-identifier) */

#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <unistd.h>

/* Where the C library of GNU has its own (malloc/malloc.c). */
void *__libc_malloc(size_t bytes);
void *__libc_calloc(size_t count, size_t bytes);
void *__libc_realloc(void *place, size_t bytes);

/* Shared with the children. */
struct count {
    _Atomic long done;
    long fails_at;
    const char *file;
};
static struct count *count;

/* After those of the libraries, before main(). */
__attribute__((constructor)) static void begin(void) {
    const char *at = getenv("STARVED_AT");
    if (!at)
        return;
    void *shared = mmap(NULL, sizeof *count, PROT_READ | PROT_WRITE,
                        MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (shared == MAP_FAILED)
        abort();
    count = shared;
    count->fails_at = strtol(at, NULL, 10);
    count->file = getenv("STARVED_FILE");
}

static bool fails(void) {
    if (!count || atomic_fetch_add(&count->done, 1) + 1 != count->fails_at)
        return false;
    int file = open(count->file, O_WRONLY | O_CREAT | O_APPEND, 0600);
    if (file < 0 || write(file, "failed\n", 7) != 7)
        abort();
    close(file);
    errno = ENOMEM;
    return true;
}

void *malloc(size_t bytes) {
    return fails() ? NULL : __libc_malloc(bytes);
}

void *calloc(size_t number, size_t bytes) {
    return fails() ? NULL : __libc_calloc(number, bytes);
}

void *realloc(void *place, size_t bytes) {
    return fails() ? NULL : __libc_realloc(place, bytes);
}
