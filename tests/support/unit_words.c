#include "unit_words.h"

#include "check.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WORD_SIZE = 64 };

struct word {
    char text[WORD_SIZE]; /* without brackets and stops */
    bool stops;           /* a comma, a full stop or the like is behind it */
};

struct words {
    struct word *items;
    size_t count;
};

static bool is_one_of(const char *text, const char *const list[]) {
    for (size_t i = 0; list[i]; i++)
        if (strcmp(text, list[i]) == 0)
            return true;
    return false;
}

static bool is_number(const char *text) {
    size_t length = strspn(text, "0123456789.");
    const char *dot = strchr(text, '.');
    return length > 0 && !text[length] && isdigit((unsigned char)text[0]) &&
           !(dot && strchr(dot + 1, '.'));
}

/* --- words of the sentences ----------------------------------------------- */

/* "W001   15 05:00 ...", "cockpit 17 18h ...", "Thu 14 Mar 19:50 ...". */
static bool is_row(const char *line) {
    char first[WORD_SIZE], second[WORD_SIZE], third[WORD_SIZE];
    if (!isalpha((unsigned char)line[0]) ||
        sscanf(line, "%63s %63s %63s", first, second, third) != 3)
        return false;
    bool named = strlen(second) == 2 && is_number(second);
    bool dated = isdigit((unsigned char)third[0]) &&
                 (strchr(third, ':') || strchr(third, 'h') ||
                  strchr(third, '-') || strlen(third) == 3);
    bool night = strlen(first) == 3 && isalpha((unsigned char)third[0]) &&
                 strstr(line, "moon");
    bool lit = strlen(first) == 3 && strchr(line, '%');
    return named && (dated || night || lit);
}

static bool is_name(const char *line, size_t index) {
    return index == 0 || strncmp(line, "  Boat ", 7) == 0;
}

static void add_word(struct words *words, const char *text) {
    struct word *word = &words->items[words->count++];
    text += strspn(text, "(\"'");
    snprintf(word->text, sizeof word->text, "%s", text);
    size_t length = strlen(word->text);
    while (length > 0 && strchr(",;:.)\"'", word->text[length - 1])) {
        word->text[--length] = '\0';
        word->stops = true;
    }
}

static void add_line(struct words *words, char *line) {
    char *rest = NULL;
    char *text = strtok_r(line, " ", &rest);
    bool step = line[0] == ' ' && text && is_number(text) && text[0] != '0' &&
                isupper((unsigned char)rest[strspn(rest, " ")]);
    for (; text; text = strtok_r(NULL, " ", &rest)) {
        if (!step)
            add_word(words, text);
        step = false;
    }
}

static struct words words_of(const char *schedule) {
    size_t length = strlen(schedule), index = 0;
    struct words words = {calloc(length + 3, sizeof *words.items), 1};
    char *text = strdup(schedule), *rest = NULL;
    assert_non_null(words.items);
    assert_non_null(text);
    for (char *line = strtok_r(text, "\n", &rest); line;
         line = strtok_r(NULL, "\n", &rest))
        if (!is_name(line, index++) && !is_row(line))
            add_line(&words, line);
    free(text);
    return words;
}

/* --- what makes a number clear -------------------------------------------- */

static bool has_unit(const struct word *word) {
    static const char *const units[] = {
        "deg", "kn",  "m",  "s", "h",  "min", "nmi", "d",  "%", "litres",
        "l",   "l/h", "kN", "N", "mm", "x",   "ft",  "m2", NULL};
    return is_number(word[0].text) && !word[0].stops &&
           is_one_of(word[1].text, units);
}

static bool is_in_range(const struct word *word) {
    static const char *const joins[] = {"to", "and", "or", NULL};
    bool range = !word[0].stops && is_one_of(word[1].text, joins);
    bool often =
        strcmp(word[-1].text, "often") == 0 && strcmp(word[1].text, "at") == 0;
    return (range && has_unit(word + 2)) || (often && has_unit(word + 3));
}

static bool is_in_date(const struct word *word) {
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr", "May",
                                         "Jun", "Jul", "Aug", "Sep", "Oct",
                                         "Nov", "Dec", NULL};
    return is_one_of(word[1].text, months) || is_one_of(word[-1].text, months);
}

static bool is_in_position(const struct word *word) {
    static const char *const sides[] = {"N", "S", "E", "W", NULL};
    bool minutes = strchr(word[0].text, '.') != NULL;
    return is_one_of(word[minutes ? 1 : 2].text, sides);
}

static bool is_counted(const struct word *word) {
    static const char *const before[] = {"reef",    "reefs", "ease", "swell",
                                         "forward", "night", NULL};
    static const char *const after[] = {"of",   "reef", "reefs", "times",
                                        "more", "none", "legs",  NULL};
    return is_one_of(word[-1].text, before) || is_one_of(word[1].text, after);
}

void check_unit_words(const char *schedule) {
    struct words words = words_of(schedule);
    for (size_t i = 1; i < words.count; i++) {
        const struct word *word = &words.items[i];
        if (!is_number(word->text) || has_unit(word) || is_in_range(word) ||
            is_in_date(word) || is_in_position(word) || is_counted(word))
            continue;
        fail_msg("no unit: '%s %s%s %s'", word[-1].text, word->text,
                 word->stops ? "," : "", word[1].text);
    }
    free(words.items);
}
