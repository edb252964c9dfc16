#define _DEFAULT_SOURCE /* wait4(); NOLINT(bugprone-reserved-identifier) */

#include "bounded.h"

#include "check.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { ARGUMENTS = 40, PATH_SIZE = 4096 };

/* --- in the child ----------------------------------------------------------*/

/* The soft limit alone: the program sets its own for its children. */
static void limit(int what, size_t most) {
    struct rlimit limits;
    if (most == 0)
        return;
    if (getrlimit(what, &limits) != 0)
        _exit(EXIT_FAILURE);
    limits.rlim_cur = most;
    if (setrlimit(what, &limits) != 0)
        _exit(EXIT_FAILURE);
}

static void set_bounds(const struct bounds *bounds) {
    limit(RLIMIT_CORE, 1);
    limit(RLIMIT_CPU, bounds->cpu_s);
    limit(RLIMIT_AS, bounds->address_bytes);
    limit(RLIMIT_FSIZE, bounds->file_bytes);
    alarm(bounds->clock_s);
    if (bounds->setting && setenv(bounds->setting, bounds->setting_to, 1) != 0)
        _exit(EXIT_FAILURE);
}

static void send_to(int stream, const char *path) {
    int file = open(path, O_WRONLY | O_CREAT | O_TRUNC, S_IRUSR | S_IWUSR);
    if (file < 0 || dup2(file, stream) < 0)
        _exit(EXIT_FAILURE);
    close(file);
}

_Noreturn static void start(const char *const *arguments,
                            const struct bounds *bounds, const char *out,
                            const char *err) {
    const char *program = getenv("SPARWISE");
    char *words[ARGUMENTS + 2] = {NULL};
    words[0] =
        (char *)(uintptr_t)(program ? program : "build/release/sparwise");
    for (int i = 0; i < ARGUMENTS && arguments[i]; i++)
        words[i + 1] = (char *)(uintptr_t)arguments[i];
    send_to(STDOUT_FILENO, bounds->output ? bounds->output : out);
    send_to(STDERR_FILENO, err);
    set_bounds(bounds);
    execv(words[0], words);
    _exit(EXIT_FAILURE);
}

/* --- in the parent ---------------------------------------------------------*/

static char *read_whole(const char *path) {
    struct stat about;
    FILE *stream = fopen(path, "rb");
    if (!stream || fstat(fileno(stream), &about) != 0)
        abort();
    char *text = calloc((size_t)about.st_size + 1, 1);
    if (!text ||
        fread(text, 1, (size_t)about.st_size, stream) != (size_t)about.st_size)
        abort();
    fclose(stream);
    return text;
}

static double seconds(struct timeval time) {
    return (double)time.tv_sec + 1e-6 * (double)time.tv_usec;
}

struct bounded bounded_run(const char *const *arguments,
                           const struct bounds *bounds) {
    char out[PATH_SIZE], err[PATH_SIZE];
    int status;
    struct rusage used;
    snprintf(out, sizeof out, "%s/bounded-out", check_folder());
    snprintf(err, sizeof err, "%s/bounded-err", check_folder());
    FILE *made = fopen(out, "wb"); /* where output goes elsewhere */
    if (!made || fclose(made) != 0)
        abort();
    fflush(NULL);
    pid_t child = fork();
    if (child == 0)
        start(arguments, bounds, out, err);
    while (wait4(child, &status, 0, &used) != child)
        if (errno != EINTR)
            abort();
    return (struct bounded){
        .status = WIFEXITED(status) ? WEXITSTATUS(status) : -1,
        .signal = WIFSIGNALED(status) ? WTERMSIG(status) : 0,
        .cpu_s = seconds(used.ru_utime) + seconds(used.ru_stime),
        .peak_bytes = (size_t)used.ru_maxrss << 10,
        .out = read_whole(out),
        .err = read_whole(err)};
}

void bounded_free(struct bounded *bounded) {
    free(bounded->out);
    free(bounded->err);
}

/* What OpenMP's library says of its own before it gives up, and the empty line
 * in front; what counts lines for `make coverage`, where no file may grow. */
static bool is_of_others(const char *line) {
    return *line == '\n' || strncmp(line, "libgomp: ", 9) == 0 ||
           strncmp(line, "profiling:", 10) == 0;
}

/* Lines that are no warnings, of those that begin as the program's do; -1 where
 * another stands among them. */
static int errors_in(const char *text) {
    static const char ours[] = "sparwise: ", warning[] = "sparwise: warning: ";
    int count = 0;
    for (; *text; text += strcspn(text, "\n") + 1) {
        if (is_of_others(text))
            continue;
        if (strncmp(text, ours, sizeof ours - 1) != 0 ||
            text[strcspn(text, "\n")] != '\n')
            return -1;
        count += strncmp(text, warning, sizeof warning - 1) != 0;
    }
    return count;
}

static bool stands_in(int status, const int *statuses) {
    while (*statuses && *statuses != status)
        statuses++;
    return *statuses != 0;
}

bool bounded_ended_well(const struct bounded *bounded, const int *statuses,
                        const char *what) {
    if (bounded->status == 0)
        return true;
    if (bounded->signal || !stands_in(bounded->status, statuses))
        fail_msg("%s: status %d, signal %d\n%s", what, bounded->status,
                 bounded->signal, bounded->err);
    if (errors_in(bounded->err) != 1 || *bounded->out)
        fail_msg("%s: not one message:\n%s%s", what, bounded->err,
                 bounded->out);
    return false;
}
