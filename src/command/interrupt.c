#include "command/interrupt.h"

#include "base/error.h"
#include "forecast/scan.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const int ending[] = {SIGINT, SIGTERM, SIGHUP};

enum { ENDING = sizeof ending / sizeof *ending };

static volatile sig_atomic_t waiting;
static struct sigaction before[ENDING];
static bool ends_by_itself;

static void remember(int number) {
    waiting = number;
}

_Noreturn static void end_with(enum status status, const char *text) {
    ssize_t written = write(STDERR_FILENO, text, strlen(text));
    (void)written; /* there is nobody left to tell */
    _exit((int)status);
}

static void our_mistake(int number) {
    (void)number;
    end_with(STATUS_BUG, "sparwise: this is a mistake of the program; please "
                         "report it with the line above and the files\n");
}

/* A forecast file is mapped: its bytes are read where they are used. Else the
 * system has no memory behind an address that it gave, or the address is one
 * that can't be. Sent by another process it has no address, and ends this one
 * as it would any. */
static void memory_gone(int number, siginfo_t *about, void *context) {
    (void)context;
    if (about->si_code <= 0) {
        signal(number, SIG_DFL);
        raise(number);
        return;
    }
    if (source_holds(about->si_addr))
        end_with(STATUS_INPUT,
                 "sparwise: a forecast file was cut short, or its disk taken "
                 "out, while it was read; try again\n");
    if (about->si_code == BUS_ADRALN)
        our_mistake(number);
    end_with(STATUS_RESOURCE, "sparwise: there is no memory where the system "
                              "had promised some; close other programs\n");
}

/* exit() is called by main() alone, but for libraries that give up: OpenMP's,
 * where it gets no thread or no memory. */
static void library_gave_up(void) {
    if (!ends_by_itself)
        end_with(STATUS_RESOURCE, "sparwise: no memory or no thread left; "
                                  "close other programs, or give --threads "
                                  "1\n");
}

static void on(int number, void (*handler)(int number)) {
    struct sigaction action = {.sa_handler = handler};
    sigemptyset(&action.sa_mask);
    sigaction(number, &action, NULL);
}

void interrupt_begin(void) {
    on(SIGABRT, our_mistake);
    struct sigaction gone = {.sa_sigaction = memory_gone,
                             .sa_flags = SA_SIGINFO};
    sigemptyset(&gone.sa_mask);
    sigaction(SIGBUS, &gone, NULL);
    on(SIGXFSZ, SIG_IGN); /* a file too large is a write that fails */
    atexit(library_gave_up);
}

void interrupt_end(void) {
    ends_by_itself = true;
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
