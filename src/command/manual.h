/* The pages of the manual and the completion for bash, written at build time:
 * texts by hand (docs/pages/) into which the commands, options and keys are put
 * out of the same tables as --help, so that none can be forgotten. */
#ifndef COMMAND_MANUAL_H
#define COMMAND_MANUAL_H

#include "base/error.h"
#include <stdio.h>

/* Prints `page` (cut in place), each line of the form @NAME@ or @NAME WORD@
 * replaced:
 *   @synopsis@         every command with its operands, mdoc
 *   @commands@         what each is for, mdoc
 *   @options COMMAND@  its options out of the passage file's keys, mdoc
 *   @own@              the program's own options, mdoc
 *   @keys SECTION@     the keys of a section of the passage file or the boat
 *                      file, mdoc
 *   @completion@       shell functions that tell commands, operands, options
 * STATUS_INPUT: another mark, or a command or section that there is not. */
bool manual_print(char *page, FILE *stream, struct error *error);

#endif
