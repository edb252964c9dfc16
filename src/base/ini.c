#include "base/ini.h"

#include "base/arena.h"
#include "base/text.h"

#include <ini.h>
#include <string.h>

enum {
    FILE_LIMIT_BYTES = 1 << 20,
    LINE_LIMIT_BYTES = 200,  /* of inih, its NUL counted */
    SECTION_LIMIT_BYTES = 50 /* of inih, its NUL counted */
};

/* inih takes " ;" inside a value for a comment. It gets this byte instead,
 * which no line may hold, and it is put back afterwards. */
#define SEMICOLON_STAND_IN '\x01'

struct ini_reading {
    const char *path;
    char *rest; /* lines not yet read */
    int line;
    bool (*entry)(void *context, const struct ini_entry *entry,
                  struct error *error);
    void *context;
    struct error *error;
    bool failed;
};

static const char *fault_of_section(const char *line) {
    size_t length = strlen(line);
    if (line[length - 1] != ']')
        return "a section must end with ']' and nothing after it; put "
               "comments on lines of their own";
    if (length - 2 >= SECTION_LIMIT_BYTES)
        return "section name is too long; shorten it to 49 bytes";
    return NULL;
}

/* What is wrong with a line, with blanks at its end already gone. */
static const char *fault_of_line(const char *line) {
    size_t length = strlen(line);
    if (length >= LINE_LIMIT_BYTES)
        return "line is 200 bytes or longer; shorten it";
    if (strchr("#;", line[0])) /* an empty line, too */
        return NULL;
    if (strchr(" \t", line[0]))
        return "line starts with a blank; start it in the first column";
    for (size_t i = 0; i < length; i++)
        if ((unsigned char)line[i] < ' ' && line[i] != '\t')
            return "line holds a control character; save the file as plain "
                   "text";
    if (line[0] == '[')
        return fault_of_section(line);
    size_t name_length = strcspn(line, "=:");
    if (line[name_length] == '\0')
        return "line is neither '[section]' nor 'key = value'; start comments "
               "with '#'";
    if (name_length == 0)
        return "no key stands before '='; write 'key = value'";
    return NULL;
}

static void trim_end(char *line) {
    size_t length = strlen(line);
    while (length > 0 && strchr(" \t\r", line[length - 1]))
        line[--length] = '\0';
}

static void exchange(char *text, char from, char to) {
    for (char *place = text; (place = strchr(place, from));)
        *place = to;
}

/* Hands inih the next line, as fgets() would; NULL ends the reading. */
static char *next_line(char *buffer, int size, void *stream) {
    struct ini_reading *reading = stream;
    char *line = reading->failed ? NULL : text_next_line(&reading->rest);
    if (!line)
        return NULL;
    reading->line++;
    trim_end(line);
    size_t bytes = strlen(line) + 1;
    const char *fault = fault_of_line(line);
    if (!fault && bytes > (size_t)size)
        fault = "line is longer than the reader takes; shorten it";
    if (fault) {
        error_set(reading->error, STATUS_INPUT, "%s", fault);
        reading->failed = true;
        return NULL;
    }
    if (line[0] != ';')
        exchange(line, ';', SEMICOLON_STAND_IN);
    return memcpy(buffer, line, bytes);
}

static int take_entry(void *user, const char *section, const char *name,
                      const char *value) {
    struct ini_reading *reading = user;
    char texts[3][LINE_LIMIT_BYTES];
    const char *parts[3] = {section, name, value};
    for (int i = 0; i < 3; i++) {
        strncpy(texts[i], parts[i], LINE_LIMIT_BYTES - 1);
        texts[i][LINE_LIMIT_BYTES - 1] = '\0';
        exchange(texts[i], SEMICOLON_STAND_IN, ';');
    }
    struct ini_entry entry = {.section = texts[0],
                              .name = texts[1],
                              .value = texts[2],
                              .line = reading->line};
    reading->failed = !reading->entry(reading->context, &entry, reading->error);
    return !reading->failed;
}

bool ini_load(const char *path,
              bool (*entry)(void *context, const struct ini_entry *entry,
                            struct error *error),
              void *context, struct error *error) {
    struct arena arena;
    arena_init(&arena);
    struct ini_reading reading = {
        .path = path, .entry = entry, .context = context, .error = error};
    reading.rest = text_load(&arena, path, FILE_LIMIT_BYTES, error);
    bool good = reading.rest != NULL;
    if (good) {
        int line = ini_parse_stream(next_line, &reading, take_entry, &reading);
        if (line != 0 && !reading.failed) {
            error_set(error, STATUS_INPUT, "line can't be read as INI");
            reading.line = line;
            reading.failed = true;
        }
        good = !reading.failed;
        if (!good)
            error_at(error, "%s:%d", path, reading.line);
    }
    arena_free(&arena);
    return good;
}
