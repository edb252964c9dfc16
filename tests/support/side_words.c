#include "side_words.h"

#include "check.h"

#include <ctype.h>
#include <string.h>

/* The word in front of `at` is `word`, blanks of any number between. */
static bool follows(const char *text, const char *at, const char *word) {
    size_t length = strlen(word);
    while (at > text && isspace((unsigned char)at[-1]))
        at--;
    return (size_t)(at - text) >= length &&
           strncmp(at - length, word, length) == 0;
}

static void check_word(const char *text, const char *word) {
    for (const char *at = strstr(text, word); at; at = strstr(at + 1, word)) {
        if (at > text && isalpha((unsigned char)at[-1]))
            continue;
        if (!follows(text, at, "to") && !follows(text, at, "the") &&
            !follows(text, at, "spar"))
            fail_msg("'%s' alone at '%.60s'", word, at);
    }
}

void check_side_words(const char *text) {
    check_word(text, "port");
    check_word(text, "starboard");
}
