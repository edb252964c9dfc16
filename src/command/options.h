/* The command line, taken apart. The only file that knows getopt. Options are
 * the keys of the passage file, for commands that plan, and the program's own;
 * they stand anywhere among the operands, in full, as --name VALUE or
 * --name=VALUE; what follows -- is no option. */
#ifndef COMMAND_OPTIONS_H
#define COMMAND_OPTIONS_H

#include "base/keys.h"
#include "command/command.h"

enum flag {
    FLAG_FORCE,
    FLAG_TEMPLATE,
    FLAG_AS_TIMED,
    FLAG_AGAINST,
    FLAG_FOR,
    FLAG_ROLL_SEEN,
    FLAG_JSON,
    FLAG_JSONL,
    FLAG_CSV,
    FLAG_CHOOSE,
    FLAG_QUIET,
    FLAG_VERBOSE,
    FLAG_STATS,
    FLAG_HELP,
    FLAG_VERSION,
    FLAG_COUNT
};

/* An option of the program's own: not a key of the passage file. */
struct own_option {
    const char *name, *word; /* `word` for its value; NULL: takes none */
    enum flag flag;
    unsigned commands; /* 1 << enum command_id of those that take it */
    const char *help;
};

extern const struct own_option own_options[];
extern const size_t own_option_count;

bool own_option_fits(const struct own_option *option,
                     const struct command *command);

/* A key of the passage file that is an option of that command, too: of those
 * that plan all but those of a window, of `forecast` the places and the
 * departure. */
bool key_fits(const struct key *key, const struct command *command);

/* A yes-or-no key: as an option it takes no value. */
bool option_is_switch(const struct key *key);

/* One for request_option(). */
struct setting {
    const char *name, *value;
};

struct command_line {
    const struct command *command;
    const char **operands;
    size_t operand_count, operand_capacity;
    struct setting *settings; /* as they stand on the line */
    size_t setting_count, setting_capacity;
    bool flags[FLAG_COUNT];
    const char *values[FLAG_COUNT]; /* of those that take one: the last */
    const char **roll_seen;         /* all of --roll-seen, in their order */
    size_t roll_seen_count, roll_seen_capacity;
};

/* Reads `argv`, whose first word is the command's own name. STATUS_USAGE: an
 * unknown option (with the nearest), one without its value or with one too
 * many, operands too few or too many (not counted with --help, --version or
 * --template). Texts live in argv and `arena`. */
bool options_read(struct command_line *line, const struct command *command,
                  int argc, char **argv, struct arena *arena,
                  struct error *error);

#endif
