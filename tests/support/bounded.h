/* Runs the program within limits that the system holds it to. */
#ifndef TESTS_BOUNDED_H
#define TESTS_BOUNDED_H

#include <stdbool.h>
#include <stddef.h>

/* 0: no limit. They hold for each process of the program. */
struct bounds {
    size_t cpu_s;
    unsigned clock_s; /* then it is ended with SIGALRM: it hangs */
    size_t address_bytes;
    size_t file_bytes;      /* of any file that it writes */
    const char *setting;    /* an environment variable, or NULL */
    const char *setting_to; /* its value */
    const char *output;     /* where standard output goes, or NULL */
};

struct bounded {
    int status; /* exit status; -1 where a signal ended it */
    int signal;
    double cpu_s;      /* of it and its children */
    size_t peak_bytes; /* of the largest of them */
    char *out, *err;   /* NUL-terminated, never NULL */
};

/* `$SPARWISE` with these arguments, up to a NULL. Call bounded_free(). */
struct bounded bounded_run(const char *const *arguments,
                           const struct bounds *bounds);
void bounded_free(struct bounded *bounded);

/* Ends the test unless it ended by itself in time, and either with status 0 or
 * with one of `statuses` (up to a 0), nothing on standard output, and one line
 * on stderr that is no warning, the last. True: status 0. */
bool bounded_ended_well(const struct bounded *bounded, const int *statuses,
                        const char *what);

#endif
