/* What --help prints, out of the tables that the options come from. */
#ifndef COMMAND_HELP_H
#define COMMAND_HELP_H

#include "base/keys.h"
#include "command/command.h"
#include <stdio.h>

/* The commands, and how to go on. */
void help_usage(FILE *stream);

/* One command: its operands, and each option with its unit, range and
 * default. Width 80. */
void help_command(const struct command *command, struct arena *arena,
                  FILE *stream);

/* What stands for the value of a key as an option: "KN", "BOAT.ini",
 * "any|daylight"; empty where it takes none. In `arena`, or for good. */
const char *help_value(const struct key *key, struct arena *arena);

/* "most true wind to sail in (1 to 100 kn)", in `arena`. */
const char *help_text(const struct key *key, struct arena *arena);

#endif
