#include "command/options.h"

#include "base/text.h"
#include "plan/request.h"

#include <assert.h>
#include <getopt.h>
#include <stdint.h>
#include <string.h>

#define PLAN (1u << COMMAND_PLAN)
#define ALONG (1u << COMMAND_ALONG)
#define WINDOW (1u << COMMAND_WINDOW)
#define SPREAD (1u << COMMAND_SPREAD)
#define FORECAST (1u << COMMAND_FORECAST)
#define BOAT (1u << COMMAND_BOAT)
#define ALL (PLAN | ALONG | WINDOW | SPREAD | FORECAST | BOAT)

const struct own_option own_options[] = {
    {"choose", "N", FLAG_CHOOSE, PLAN,
     "of several eases: the Nth is written; the middle one where left out"},
    {"as-timed", NULL, FLAG_AS_TIMED, ALONG,
     "depart at the track's own first time"},
    {"against", "OTHER.gpx", FLAG_AGAINST, ALONG,
     "a second track timed as well, and both beside one another"},
    {"roll-seen", "SEEN", FLAG_ROLL_SEEN, BOAT,
     "fit the sails' part of the roll to what was seen, as in \"TWA 170, 16 "
     "kn, "
     "2 m 7 s from 065, spar stowed: often 10\"; may be repeated"},
    {"for", "PASSAGE.ini", FLAG_FOR, FORECAST,
     "what to ask a forecast for, for that passage: area, hours, fields, "
     "spacing, and how large the file will be"},
    {"force", NULL, FLAG_FORCE, PLAN | ALONG,
     "overwrite a plan that is already there"},
    {"json", NULL, FLAG_JSON, PLAN | ALONG,
     "print plan.json and nothing else; files only with --out"},
    {"json", NULL, FLAG_JSON, WINDOW, "print the window as one JSON document"},
    {"jsonl", NULL, FLAG_JSONL, WINDOW,
     "print one line of JSON for each departure, complete in itself"},
    {"csv", NULL, FLAG_CSV, WINDOW, "print the window as a table of figures"},
    {"json", NULL, FLAG_JSON, SPREAD, "print the spread as one JSON document"},
    {"template", NULL, FLAG_TEMPLATE, PLAN | ALONG | WINDOW | SPREAD | BOAT,
     "print a commented file with every key and stop"},
    {"quiet", NULL, FLAG_QUIET, ALL, "no progress, notes or warnings"},
    {"verbose", NULL, FLAG_VERBOSE, ALL,
     "more about what is done, and why she rolls on each leg"},
    {"stats", NULL, FLAG_STATS, ALL, "memory and processor time at the end"},
    {"help", NULL, FLAG_HELP, ALL, "this text"},
    {"version", NULL, FLAG_VERSION, ALL, "of the program"},
};

const size_t own_option_count = sizeof own_options / sizeof *own_options;

bool own_option_fits(const struct own_option *option,
                     const struct command *command) {
    return option->commands & (1u << (command - commands));
}

static bool is_among(const char *name, const char *const *names, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (text_same(name, names[i]))
            return true;
    return false;
}

bool key_fits(const struct key *key, const struct command *command) {
    static const char *const places[] = {"from", "to", "via", "depart"};
    static const char *const windows[] = {"earliest", "latest", "every"};
    if (is_among(key->name, windows, sizeof windows / sizeof *windows))
        return command == &commands[COMMAND_WINDOW];
    bool place = is_among(key->name, places, sizeof places / sizeof *places);
    return command->plans || (place && command == &commands[COMMAND_FORECAST]);
}

bool option_is_switch(const struct key *key) {
    return key->kind == KEY_CHOICE && text_same(key->choices[0], "no") &&
           text_same(key->choices[1], "yes") && !key->choices[2];
}

/* --- the table for getopt ------------------------------------------------- */

/* An option is told by its number: the keys first, then our own. Above all
 * letters, so that none is taken for a short option. */
enum { FIRST_NUMBER = 256 };

struct vocabulary {
    struct option *options; /* closed by an empty one */
    size_t count;
};

static void add(struct vocabulary *words, const char *name, bool has_value,
                size_t number) {
    words->options[words->count++] =
        (struct option){.name = name,
                        .has_arg = has_value ? required_argument : no_argument,
                        .val = FIRST_NUMBER + (int)number};
}

static struct vocabulary vocabulary_of(const struct command *command,
                                       struct arena *arena) {
    struct vocabulary words = {.count = 0};
    words.options =
        arena_alloc(arena, request_keys.count + own_option_count + 1,
                    sizeof *words.options);
    for (size_t i = 0; i < request_keys.count; i++) {
        const struct key *key = &request_keys.keys[i];
        const char *name = request_option_name(key, arena);
        if (name && key_fits(key, command))
            add(&words, name, !option_is_switch(key), i);
    }
    for (size_t i = 0; i < own_option_count; i++)
        if (own_option_fits(&own_options[i], command))
            add(&words, own_options[i].name, own_options[i].word != NULL,
                request_keys.count + i);
    return words;
}

/* --- faults --------------------------------------------------------------- */

/* "dep" out of "--dep=now". */
static char *bare_name(const char *word, struct arena *arena) {
    char *name = arena_copy(arena, word + strspn(word, "-"));
    name[strcspn(name, "=")] = '\0';
    return name;
}

static bool unknown(const struct vocabulary *words,
                    const struct command *command, const char *word,
                    struct arena *arena, struct error *error) {
    const char *name = bare_name(word, arena);
    const char **names = arena_alloc(arena, words->count, sizeof *names);
    const char *near = NULL;
    for (size_t i = 0; i < words->count; i++) {
        names[i] = words->options[i].name;
        if (*name && strncmp(names[i], name, strlen(name)) == 0)
            near = names[i];
    }
    if (!near)
        near = text_nearest(name, names, words->count);
    error_set(error, STATUS_USAGE, "unknown option '%.*s'; ",
              (int)strcspn(word, "="), word);
    size_t length = strlen(error->text);
    char *rest = error->text + length;
    size_t size = sizeof error->text - length;
    if (near)
        snprintf(rest, size, "did you mean '--%s'", near);
    else
        snprintf(rest, size, "'sparwise %s --help' lists them", command->name);
    return false;
}

static const struct option *find(const struct vocabulary *words,
                                 const char *name) {
    for (size_t i = 0; i < words->count; i++)
        if (text_same(words->options[i].name, name))
            return &words->options[i];
    return NULL;
}

static bool bad_option(const struct vocabulary *words,
                       const struct command *command, const char *word,
                       struct arena *arena, struct error *error) {
    const char *name = bare_name(word, arena);
    const struct option *option =
        strncmp(word, "--", 2) == 0 ? find(words, name) : NULL;
    if (!option)
        return unknown(words, command, word, arena, error);
    if (option->has_arg == no_argument)
        return error_set(error, STATUS_USAGE,
                         "option '--%s' takes no value; leave out '%s'", name,
                         strchr(word, '='));
    return error_set(error, STATUS_USAGE,
                     "option '--%s' needs a value after it; 'sparwise %s "
                     "--help' tells which",
                     name, command->name);
}

/* --- reading -------------------------------------------------------------- */

static void take_operand(struct command_line *line, const char *word,
                         struct arena *arena) {
    line->operands =
        arena_room(arena, line->operands, line->operand_count,
                   &line->operand_capacity, sizeof *line->operands);
    line->operands[line->operand_count++] = word;
}

static void take_setting(struct command_line *line, const struct key *key,
                         const char *value, struct arena *arena) {
    line->settings =
        arena_room(arena, line->settings, line->setting_count,
                   &line->setting_capacity, sizeof *line->settings);
    line->settings[line->setting_count++] = (struct setting){
        request_option_name(key, arena), option_is_switch(key) ? "yes" : value};
}

static void take_roll_seen(struct command_line *line, const char *value,
                           struct arena *arena) {
    line->roll_seen =
        arena_room(arena, line->roll_seen, line->roll_seen_count,
                   &line->roll_seen_capacity, sizeof *line->roll_seen);
    line->roll_seen[line->roll_seen_count++] = value;
}

static void take_own(struct command_line *line, const struct own_option *option,
                     const char *value, struct arena *arena) {
    line->flags[option->flag] = true;
    line->values[option->flag] = value;
    if (option->flag == FLAG_ROLL_SEEN)
        take_roll_seen(line, value, arena);
}

static void take_option(struct command_line *line, size_t number,
                        const char *value, struct arena *arena) {
    if (number >= request_keys.count)
        take_own(line, &own_options[number - request_keys.count], value, arena);
    else
        take_setting(line, &request_keys.keys[number], value, arena);
}

/* getopt takes "--dep" for "--depart": a shortened name that works today may
 * mean two tomorrow, so it is refused. */
static bool is_in_full(const struct vocabulary *words, const char *word,
                       struct arena *arena) {
    return find(words, bare_name(word, arena)) != NULL;
}

static bool check_operands(const struct command_line *line,
                           struct error *error) {
    const struct command *command = line->command;
    if (line->flags[FLAG_HELP] || line->flags[FLAG_VERSION] ||
        line->flags[FLAG_TEMPLATE])
        return true;
    bool asks = line->flags[FLAG_FOR]; /* before there is any file */
    if (line->operand_count < command->least && !asks)
        return error_set(error, STATUS_USAGE,
                         "'%s' is told no file; write sparwise %s %s",
                         command->name, command->name, command->operands);
    if (line->operand_count > command->most)
        return error_set(error, STATUS_USAGE,
                         "'%s' is one file too many; write sparwise %s %s",
                         line->operands[command->most], command->name,
                         command->operands);
    return true;
}

bool options_read(struct command_line *line, const struct command *command,
                  int argc, char **argv, struct arena *arena,
                  struct error *error) {
    *line = (struct command_line){.command = command};
    struct vocabulary words = vocabulary_of(command, arena);
    optind = 0; /* from the start, also a second time */
    for (;;) {
        int at = optind > 0 ? optind : 1;
        /* "-": operands in their order; ":": missing values told apart */
        int found = getopt_long(argc, argv, "-:", words.options, NULL);
        if (found == -1)
            break;
        if (found == 1) {
            take_operand(line, optarg, arena);
            continue;
        }
        if (found < FIRST_NUMBER)
            return bad_option(&words, command, argv[at], arena, error);
        if (!is_in_full(&words, argv[at], arena))
            return unknown(&words, command, argv[at], arena, error);
        take_option(line, (size_t)(found - FIRST_NUMBER), optarg, arena);
    }
    for (int i = optind; i < argc; i++)
        take_operand(line, argv[i], arena);
    return check_operands(line, error);
}
