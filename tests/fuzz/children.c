/* Linked with libFuzzer alone. It learns by counters which code an input has
 * reached, and those of a child process go with the child. So a child that ends
 * adds its own to a page that it shares with its parent, and which libFuzzer
 * looks at, too; the linker sends _exit() here (--wrap in the Makefile). */
#define _DEFAULT_SOURCE /* NOLINT(bugprone-reserved-identifier): mmap flags */

#include <stddef.h>
#include <stdint.h>
#include <sys/mman.h>

/* These names are the compiler's, the linker's and libFuzzer's.
 * NOLINTBEGIN(bugprone-reserved-identifier) */
extern const uint8_t __start___sancov_cntrs[], __stop___sancov_cntrs[];
_Noreturn void __real__exit(int status);
_Noreturn void __wrap__exit(int status);

enum { SHARED_BYTES = 1 << 16 };
__attribute__((section("__libfuzzer_extra_counters"),
               aligned(SHARED_BYTES))) static uint8_t reached[SHARED_BYTES];

__attribute__((constructor)) static void share(void) {
    mmap(reached, sizeof reached, PROT_READ | PROT_WRITE,
         MAP_SHARED | MAP_ANONYMOUS | MAP_FIXED, -1, 0);
}

_Noreturn void __wrap__exit(int status) {
    size_t count = (size_t)(__stop___sancov_cntrs - __start___sancov_cntrs);
    for (size_t i = 0; i < count && i < sizeof reached; i++)
        if (__start___sancov_cntrs[i] > reached[i])
            reached[i] = __start___sancov_cntrs[i];
    __real__exit(status);
}
/* NOLINTEND(bugprone-reserved-identifier) */
