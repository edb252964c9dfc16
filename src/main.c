/* sparwise: picks the command, says what went wrong, ends with its status. */
#include "command/command.h"
#include "command/help.h"
#include "command/interrupt.h"
#include "command/messages.h"
#include "command/options.h"
#include "command/progress.h"
#include "command/stats.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { PROGRAM_PATH_BYTES = 4096 };

static bool run(const struct command_line *line, struct arena *arena,
                struct error *error) {
    messages_set_level(line->flags[FLAG_QUIET]     ? MESSAGES_QUIET
                       : line->flags[FLAG_VERBOSE] ? MESSAGES_VERBOSE
                                                   : MESSAGES_NORMAL);
    progress_begin(!line->flags[FLAG_QUIET]);
    if (line->flags[FLAG_HELP]) {
        help_command(line->command, arena, stdout);
        return true;
    }
    if (line->flags[FLAG_VERSION]) {
        puts("sparwise " SPARWISE_VERSION);
        return true;
    }
    return line->command->run(line, arena, error);
}

/* The product went to standard output: all of it? */
static bool close_output(struct error *error) {
    if (fflush(stdout) == 0 && !ferror(stdout))
        return true;
    return error_set(error, STATUS_WRITE,
                     "standard output can't be written: %s", strerror(errno));
}

static bool command_of(int argc, char **argv, const struct command **command,
                       struct error *error) {
    if (argc < 2) {
        help_usage(stderr);
        return error_set(error, STATUS_USAGE, "no command is given");
    }
    if (strcmp(argv[1], "--help") == 0)
        help_usage(stdout);
    else if (strcmp(argv[1], "--version") == 0)
        puts("sparwise " SPARWISE_VERSION);
    else
        return (*command = command_find(argv[1], error)) != NULL;
    return true;
}

/* A thread that waits for others should sleep: where the machine has other work
 * a spinning one takes the time that they need (a plan of 0.24 s took 2.2 s).
 * OpenMP reads this before main() begins, so the program starts once more;
 * where that fails all goes on as it is. */
static void wait_asleep(char **argv) {
    char path[PROGRAM_PATH_BYTES];
    ssize_t length = readlink("/proc/self/exe", path, sizeof path - 1);
    if (length <= 0 || getenv("OMP_WAIT_POLICY"))
        return;
    path[length] = '\0';
    if (setenv("OMP_WAIT_POLICY", "passive", 1) == 0)
        execv(path, argv);
}

int main(int argc, char **argv) {
    struct arena arena;
    struct error error;
    struct command_line line = {.command = NULL};
    const struct command *command = NULL;
    arena_return_large();
    arena_init(&arena);
    interrupt_begin();
    bool good = command_of(argc, argv, &command, &error);
    if (good && command)
        wait_asleep(argv);
    if (good && command)
        good =
            options_read(&line, command, argc - 1, argv + 1, &arena, &error) &&
            run(&line, &arena, &error);
    good = good && close_output(&error);
    if (!good)
        message_error(&error);
    if (line.flags[FLAG_STATS])
        stats_print(&arena);
    arena_free(&arena);
    interrupt_end();
    return good ? STATUS_DONE : (int)error.status;
}
