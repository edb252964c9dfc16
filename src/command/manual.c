#include "command/manual.h"

#include "base/text.h"
#include "boat/boat_keys.h"
#include "command/help.h"
#include "command/options.h"
#include "plan/request.h"

#include <string.h>

enum { WIDTH = 80 };

/* --- mdoc ----------------------------------------------------------------- */

/* One word; mdoc reads \ as an escape, and . or ' at the start of a line as a
 * request. */
static int print_word(FILE *stream, const char *word, int length, bool first) {
    int column =
        first && (*word == '.' || *word == '\'') ? fprintf(stream, "\\&") : 0;
    for (int i = 0; i < length; i++)
        column += word[i] == '\\' ? fprintf(stream, "\\e")
                                  : fprintf(stream, "%c", word[i]);
    return column;
}

/* A sentence, in lines that fit the width. */
static void print_text(FILE *stream, const char *text) {
    int column = 0;
    while (*text) {
        int length = (int)strcspn(text, " ");
        if (column > 0 && column + 1 + length > WIDTH) {
            fputc('\n', stream);
            column = 0;
        }
        if (column > 0)
            column += fprintf(stream, " ");
        column += print_word(stream, text, length, column == 0);
        text += length;
        text += strspn(text, " ");
    }
    fputc('\n', stream);
}

/* ".Ar TRACK.gpx", ".Op Ar PASSAGE.ini", ".Ar FILE ...". */
static void print_operands(FILE *stream, const char *operands) {
    while (*operands) {
        int length = (int)strcspn(operands, " ");
        bool may_lack = *operands == '[';
        int bare = (int)strcspn(operands + may_lack, " ].");
        if (strncmp(operands + may_lack + bare, "...", 3) == 0)
            fprintf(stream, ".Ar %.*s ...\n", bare, operands);
        else
            fprintf(stream, ".%sAr %.*s\n", may_lack ? "Op " : "",
                    length - 2 * may_lack, operands + may_lack);
        operands += length;
        operands += strspn(operands, " ");
    }
}

static void print_synopsis(FILE *stream) {
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        fprintf(stream, ".Nm sparwise\n.Cm %s\n", commands[i].name);
        print_operands(stream, commands[i].operands);
        fputs(".Op Ar options\n", stream);
    }
}

static void print_commands(FILE *stream) {
    fputs(".Bl -tag -width forecast\n", stream);
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        fprintf(stream, ".It Cm %s\n", commands[i].name);
        print_text(stream, commands[i].summary);
    }
    fputs(".El\n", stream);
}

static void print_option(FILE *stream, const char *name, const char *value) {
    fprintf(stream, ".It Fl Fl %s", name);
    if (value && *value)
        fprintf(stream, " Ar \"%s\"", value);
    fputc('\n', stream);
}

static const struct command *command_of(const char *name) {
    for (size_t i = 0; i < COMMAND_COUNT; i++)
        if (text_same(commands[i].name, name))
            return &commands[i];
    return NULL;
}

static bool print_options(FILE *stream, const char *name, struct arena *arena) {
    const struct command *command = command_of(name);
    if (!command)
        return false;
    fputs(".Bl -tag -width Ds\n", stream);
    for (size_t i = 0; i < request_keys.count; i++) {
        const struct key *key = &request_keys.keys[i];
        const char *option = request_option_name(key, arena);
        if (!option || !key_fits(key, command))
            continue;
        print_option(stream, option, help_value(key, arena));
        print_text(stream, help_text(key, arena));
    }
    fputs(".El\n", stream);
    return true;
}

/* "of plan, along"; empty where all take it. */
static const char *takers(const struct own_option *option,
                          struct arena *arena) {
    const char *text = "";
    bool all = true;
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        bool fits = own_option_fits(option, &commands[i]);
        all &= fits;
        if (fits)
            text = arena_print(arena, "%s%s%s", text, *text ? ", " : " (of ",
                               commands[i].name);
    }
    return all ? "" : arena_print(arena, "%s)", text);
}

static void print_own(FILE *stream, struct arena *arena) {
    fputs(".Bl -tag -width Ds\n", stream);
    for (size_t i = 0; i < own_option_count; i++) {
        const struct own_option *option = &own_options[i];
        print_option(stream, option->name, option->word);
        print_text(stream, arena_print(arena, "%s%s", option->help,
                                       takers(option, arena)));
    }
    fputs(".El\n", stream);
}

enum { TABLES = 4 };

static const struct key_table *const tables[TABLES] = {
    &request_keys, &boat_keys, &headsail_keys, &reef_keys};

static bool print_keys(FILE *stream, const char *section, struct arena *arena) {
    size_t found = 0;
    for (size_t i = 0; i < TABLES; i++)
        for (size_t k = 0; k < tables[i]->count; k++) {
            const struct key *key = &tables[i]->keys[k];
            if (!text_same(key->section, section))
                continue;
            if (found++ == 0)
                fputs(".Bl -tag -width Ds\n", stream);
            fprintf(stream, ".It Cm %s\n", key->name);
            print_text(stream, keys_describe(key, arena));
        }
    fputs(found > 0 ? ".El\n" : "", stream);
    return found > 0;
}

/* --- shell ---------------------------------------------------------------- */

/* Without the quotes of "'NAME POS'": it stands in quotes itself. */
static void print_completed(FILE *stream, const char *name, const char *value) {
    fprintf(stream, "\n--%s ", name);
    for (; value && *value; value++)
        if (*value != '\'')
            fputc(*value, stream);
}

static void print_options_of(FILE *stream, const struct command *command,
                             struct arena *arena) {
    fprintf(stream, "    %s) echo '", command->name);
    for (size_t i = 0; i < request_keys.count; i++) {
        const struct key *key = &request_keys.keys[i];
        const char *name = request_option_name(key, arena);
        if (name && key_fits(key, command))
            print_completed(stream, name, help_value(key, arena));
    }
    for (size_t i = 0; i < own_option_count; i++)
        if (own_option_fits(&own_options[i], command))
            print_completed(stream, own_options[i].name, own_options[i].word);
    fputs("' ;;\n", stream);
}

static void print_completion(FILE *stream, struct arena *arena) {
    fputs("_sparwise_commands() {\n    echo '", stream);
    for (size_t i = 0; i < COMMAND_COUNT; i++)
        fprintf(stream, "%s ", commands[i].name);
    fputs("'\n}\n\n_sparwise_operands() {\n    case $1 in\n", stream);
    for (size_t i = 0; i < COMMAND_COUNT; i++)
        fprintf(stream, "    %s) echo '%s' ;;\n", commands[i].name,
                commands[i].operands);
    fputs("    esac\n}\n\n_sparwise_options() {\n    case $1 in\n", stream);
    for (size_t i = 0; i < COMMAND_COUNT; i++)
        print_options_of(stream, &commands[i], arena);
    fputs("    esac\n}\n", stream);
}

/* --- pages ---------------------------------------------------------------- */

static bool fill(const char *mark, FILE *stream, struct arena *arena) {
    char name[20], word[40];
    int words = sscanf(mark, "@%19[a-z] %39[^@]@", name, word);
    if (words == 2 && text_same(name, "options"))
        return print_options(stream, word, arena);
    if (words == 2 && text_same(name, "keys"))
        return print_keys(stream, word, arena);
    if (text_same(mark, "@synopsis@"))
        print_synopsis(stream);
    else if (text_same(mark, "@commands@"))
        print_commands(stream);
    else if (text_same(mark, "@own@"))
        print_own(stream, arena);
    else if (text_same(mark, "@completion@"))
        print_completion(stream, arena);
    else
        return false;
    return true;
}

bool manual_print(char *page, FILE *stream, struct error *error) {
    struct arena arena;
    arena_init(&arena);
    const char *unknown = NULL;
    for (char *line; !unknown && (line = text_next_line(&page));) {
        if (*line != '@')
            fprintf(stream, "%s\n", line);
        else if (!fill(line, stream, &arena))
            unknown = line;
    }
    if (unknown)
        error_set(error, STATUS_INPUT,
                  "'%s' stands for nothing; manual.h lists the marks", unknown);
    arena_free(&arena);
    return !unknown;
}
