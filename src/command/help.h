/* What --help prints, out of the tables that the options come from. */
#ifndef COMMAND_HELP_H
#define COMMAND_HELP_H

#include "command/command.h"
#include <stdio.h>

/* The commands, and how to go on. */
void help_usage(FILE *stream);

/* One command: its operands, and each option with its unit, range and
 * default. Width 80. */
void help_command(const struct command *command, struct arena *arena,
                  FILE *stream);

#endif
