#include "base/apart.h"

#include "base/arena.h"
#include "base/sanitizer.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

/* --- in the child ----------------------------------------------------------*/

static void set_limits(void) {
    /* processor time counts from here: a child starts with none */
    struct rlimit no_core = {0, 0};
    struct rlimit time = {APART_CPU_S, APART_CPU_S};
    struct rlimit memory = {(rlim_t)APART_MEGABYTES << 20,
                            (rlim_t)APART_MEGABYTES << 20};
    setrlimit(RLIMIT_CORE, &no_core);
    setrlimit(RLIMIT_CPU, &time);
    if (UNDER_SANITIZER)
        return;
    setrlimit(RLIMIT_DATA, &memory);
    int nowhere = open("/dev/null", O_WRONLY);
    if (nowhere >= 0)
        dup2(nowhere, STDERR_FILENO);
}

_Noreturn static void run(void (*work)(void *context, FILE *out), void *context,
                          int pipe_end) {
    static const int signals[] = {SIGINT,  SIGTERM, SIGSEGV, SIGFPE,
                                  SIGABRT, SIGBUS,  SIGXCPU, SIGPIPE};
    /* a handler of the parent's has no business here */
    for (size_t i = 0; i < sizeof signals / sizeof *signals; i++)
        signal(signals[i], SIG_DFL);
    set_limits();
    FILE *out = fdopen(pipe_end, "wb");
    if (!out)
        _exit(EXIT_FAILURE);
    work(context, out);
    _exit(fclose(out) == 0 ? EXIT_SUCCESS : EXIT_FAILURE);
}

/* --- in the parent ---------------------------------------------------------*/

static bool cannot_start(struct error *error) {
    return error_set(error, STATUS_RESOURCE,
                     "can't start a child process: %s; close other programs",
                     strerror(errno));
}

bool apart_begin(struct apart *apart, void (*work)(void *context, FILE *out),
                 void *context, struct error *error) {
    int ends[2];
    if (pipe(ends) != 0)
        return cannot_start(error);
    apart->child = fork();
    if (apart->child == 0) {
        close(ends[0]);
        run(work, context, ends[1]);
    }
    close(ends[1]);
    if (apart->child > 0)
        apart->stream = fdopen(ends[0], "rb");
    if (apart->child < 0 || !apart->stream) {
        cannot_start(error);
        close(ends[0]);
        if (apart->child > 0)
            waitpid(apart->child, NULL, 0);
        return false;
    }
    return true;
}

bool apart_read(struct apart *apart, void *bytes, size_t count) {
    return fread(bytes, 1, count, apart->stream) == count;
}

bool apart_end(struct apart *apart) {
    int status = 0;
    fclose(apart->stream);
    while (waitpid(apart->child, &status, 0) < 0 && errno == EINTR)
        continue;
    if (WIFEXITED(status) && WEXITSTATUS(status) == STATUS_RESOURCE)
        arena_exhausted();
    return WIFEXITED(status) && WEXITSTATUS(status) == EXIT_SUCCESS;
}
