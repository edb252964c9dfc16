/* A command line, one word a line, its first the command; what it asks for is
 * resolved without a passage file. */
#include "fuzz.h"

#include "base/text.h"
#include "command/options.h"
#include "command/session.h"
#include <assert.h>

enum { WORDS = 64 };

static int split(char *text, char **words) {
    int count = 0;
    char *word;
    while (count < WORDS && (word = text_next_line(&text)))
        words[count++] = word;
    words[count] = NULL;
    return count;
}

static bool take(int count, char **words, struct arena *arena,
                 struct error *error) {
    struct command_line line;
    struct request request;
    size_t departures = 0;
    const struct command *command = command_find(words[0], error);
    if (!command || !options_read(&line, command, count, words, arena, error))
        return false;
    if (command == &commands[COMMAND_WINDOW])
        return session_window(&request, NULL, &line, &departures, arena, error);
    return !command->plans ||
           session_request(&request, NULL, &line, arena, error);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct error error = {.text = ""};
    char *words[WORDS + 1];
    arena_init(&arena);
    int count = split(fuzz_text(bytes, size, &arena), words);
    if (count > 0 && !take(count, words, &arena, &error))
        fuzz_check_refusal(&error);
    arena_free(&arena);
    return 0;
}
