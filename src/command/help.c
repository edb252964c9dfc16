#include "command/help.h"

#include "base/text.h"
#include "command/options.h"
#include "plan/request.h"

#include <string.h>

enum { WIDTH = 80, INDENT = 2, HELP_COLUMN = 26 };

/* What stands for the value of an option where its kind or unit does not tell
 * it. */
static const char *const words[][2] = {
    {"boat", "BOAT.ini"},
    {"from", "POS"},
    {"to", "POS"},
    {"via", "POS"},
    {"fallback", "'NAME POS'"},
    {"depart", "TIME"},
    {"earliest", "TIME"},
    {"latest", "TIME"},
    {"forecast", "FILE"},
    {"zones", "FILE.geojson"},
    {"ease", "N|A,B,C"},
    {"coast", "auto|none|FILE"},
    {"after_forecast", "hold|stop|wind:FROM,KN"},
    {"previous", "PLAN.json"},
    {"out", "DIR"},
    {"leg_loss", "FRAC"},
};

static const char *const unit_words[][2] = {
    {"kn", "KN"}, {"nmi", "NMI"}, {"m", "M"}, {"h", "H"}, {"min", "MIN"}};

static const char *word_in(const char *const (*table)[2], size_t count,
                           const char *name) {
    for (size_t i = 0; i < count; i++)
        if (text_same(table[i][0], name))
            return table[i][1];
    return NULL;
}

static const char *choices_of(const struct key *key, struct arena *arena) {
    const char *text = key->choices[0];
    for (size_t i = 1; key->choices[i]; i++)
        text = arena_print(arena, "%s|%s", text, key->choices[i]);
    return text;
}

const char *help_value(const struct key *key, struct arena *arena) {
    const char *word = word_in(words, sizeof words / sizeof *words, key->name);
    if (!word)
        word = word_in(unit_words, sizeof unit_words / sizeof *unit_words,
                       key->unit);
    if (word)
        return word;
    if (option_is_switch(key))
        return "";
    if (key->kind == KEY_CHOICE)
        return choices_of(key, arena);
    if (key->kind == KEY_PATH)
        return "FILE";
    return key->kind == KEY_TEXT ? "TEXT" : "N";
}

/* "(1 to 100 kn, default 5)"; empty where there is nothing to tell. */
static const char *bounds_of(const struct key *key, struct arena *arena) {
    const char *text = "";
    if (key->high > key->low)
        text = arena_print(arena, "%g to %g%s%s", key->low, key->high,
                           *key->unit ? " " : "", key->unit);
    const char *more = !key->fallback           ? "required"
                       : key->kind == KEY_LIST  ? "may be repeated"
                       : option_is_switch(key)  ? ""
                       : *key->fallback == '\0' ? ""
                                                : "default ";
    const char *value = text_same(more, "default ") ? key->fallback : "";
    if (!*text && !*more)
        return "";
    return arena_print(arena, "(%s%s%s%s)", text, *text && *more ? ", " : "",
                       more, value);
}

/* Words from the help column on, broken at blanks. */
static void print_help(FILE *stream, int column, const char *text) {
    if (column + 2 > HELP_COLUMN) {
        fputc('\n', stream);
        column = 0;
    }
    fprintf(stream, "%*s", HELP_COLUMN - column, "");
    column = HELP_COLUMN;
    while (*text) {
        int length = (int)strcspn(text, " ");
        if (column > HELP_COLUMN && column + 1 + length > WIDTH) {
            fprintf(stream, "\n%*s", HELP_COLUMN, "");
            column = HELP_COLUMN;
        }
        const char *blank = column > HELP_COLUMN ? " " : "";
        column += fprintf(stream, "%s%.*s", blank, length, text);
        text += length;
        text += strspn(text, " ");
    }
    fputc('\n', stream);
}

const char *help_text(const struct key *key, struct arena *arena) {
    const char *bounds = bounds_of(key, arena);
    return arena_print(arena, "%s%s%s", key->help, *bounds ? " " : "", bounds);
}

static void print_key(FILE *stream, const struct key *key,
                      struct arena *arena) {
    const char *name = request_option_name(key, arena);
    if (!name)
        return;
    const char *value = help_value(key, arena);
    int column = fprintf(stream, "%*s--%s%s%s", INDENT, "", name,
                         *value ? " " : "", value);
    print_help(stream, column, help_text(key, arena));
}

static void print_own(FILE *stream, const struct own_option *option) {
    int column =
        fprintf(stream, "%*s--%s%s%s", INDENT, "", option->name,
                option->word ? " " : "", option->word ? option->word : "");
    print_help(stream, column, option->help);
}

void help_usage(FILE *stream) {
    fputs("sparwise plans a sailing passage from a forecast file, for a crew "
          "whose\ndownwind gear is one headsail pole, the spar.\n\n"
          "usage: sparwise COMMAND [options]\n\n",
          stream);
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        const struct command *command = &commands[i];
        int column = fprintf(stream, "%*s%s", INDENT, "", command->name);
        fprintf(stream, "%*s%s\n", 12 - column, "", command->summary);
    }
    fputs("\n'sparwise COMMAND --help' lists the options of one; 'sparwise "
          "plan --template'\nprints a passage file to fill in, 'sparwise boat "
          "--template' a boat file.\n",
          stream);
}

void help_command(const struct command *command, struct arena *arena,
                  FILE *stream) {
    fprintf(stream, "usage: sparwise %s %s [options]\n\n%s\n\n", command->name,
            command->operands, command->summary);
    for (size_t i = 0; i < request_keys.count; i++)
        if (key_fits(&request_keys.keys[i], command))
            print_key(stream, &request_keys.keys[i], arena);
    if (command->plans)
        fputs("\nEach of these is also a key of the passage file, under "
              "[passage], with _ for -\nand yes for an option without a value; "
              "the option wins.\n\n",
              stream);
    else if (command == &commands[COMMAND_FORECAST])
        fputs(
            "\nThese go with --for, and before what the passage file has.\n\n",
            stream);
    for (size_t i = 0; i < own_option_count; i++)
        if (own_option_fits(&own_options[i], command))
            print_own(stream, &own_options[i]);
}
