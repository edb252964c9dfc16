#include "command/interrupt.h"

#include "base/error.h"

#include <signal.h>
#include <stddef.h>
#include <unistd.h>

static const int ending[] = {SIGINT, SIGTERM, SIGHUP};

enum { ENDING = sizeof ending / sizeof *ending };

static volatile sig_atomic_t waiting;
static struct sigaction before[ENDING];

static void remember(int number) {
    waiting = number;
}

static void our_mistake(int number) {
    static const char text[] =
        "sparwise: this is a mistake of the program; please report it with "
        "the line above and the files\n";
    (void)number;
    ssize_t written = write(STDERR_FILENO, text, sizeof text - 1);
    (void)written; /* there is nobody left to tell */
    _exit(STATUS_BUG);
}

void interrupt_begin(void) {
    struct sigaction action = {.sa_handler = our_mistake};
    sigemptyset(&action.sa_mask);
    sigaction(SIGABRT, &action, NULL);
}

void interrupt_hold(void) {
    waiting = 0;
    /* writes that are under way go on */
    struct sigaction action = {.sa_handler = remember, .sa_flags = SA_RESTART};
    sigemptyset(&action.sa_mask);
    for (size_t i = 0; i < ENDING; i++) {
        sigaction(ending[i], NULL, &before[i]);
        if (before[i].sa_handler != SIG_IGN)
            sigaction(ending[i], &action, NULL);
    }
}

bool interrupt_is_waiting(void) {
    return waiting != 0;
}

void interrupt_release(void) {
    for (size_t i = 0; i < ENDING; i++)
        sigaction(ending[i], &before[i], NULL);
    if (waiting)
        raise(waiting);
}
