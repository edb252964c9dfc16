#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum {
    CHUNK_BYTES = 4096,
    WORD_LIMIT = 64 /* no longer word is searched for a near one */
};

static bool cannot_read(const char *path, struct error *error) {
    return error_set(error, error_status_now(STATUS_INPUT),
                     "'%s' can't be read: %s", path, strerror(errno));
}

/* Not opened to wait, a pipe of a name gives nothing where no program has it
 * open for writing, while one that is about to write is known of already. What
 * it gives goes back into the stream. */
static bool is_written(FILE *stream) {
    char letter;
    ssize_t got = read(fileno(stream), &letter, 1);
    return got < 0 ? errno == EAGAIN
                   : got > 0 && ungetc((unsigned char)letter, stream) != EOF;
}

static bool check_kind(FILE *stream, const char *path, struct error *error) {
    struct stat about;
    if (fstat(fileno(stream), &about) != 0)
        return cannot_read(path, error);
    if (S_ISDIR(about.st_mode))
        return error_set(error, STATUS_INPUT,
                         "'%s' is a folder; name a file in it", path);
    if (S_ISFIFO(about.st_mode) && !is_written(stream))
        return error_set(error, STATUS_INPUT,
                         "'%s' is a pipe that no program writes into; start "
                         "that first, or name a file",
                         path);
    return fcntl(fileno(stream), F_SETFL, 0) == 0 || cannot_read(path, error);
}

FILE *text_open(const char *path, struct error *error) {
    int file = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    FILE *stream = file < 0 ? NULL : fdopen(file, "rb");
    if (!stream) {
        cannot_read(path, error);
        if (file >= 0)
            close(file);
        return NULL;
    }
    if (check_kind(stream, path, error))
        return stream;
    fclose(stream);
    return NULL;
}

/* Reads to the end, or to one byte over the limit. */
static bool read_stream(struct arena *arena, FILE *stream, size_t limit_bytes,
                        char **text, size_t *length) {
    size_t capacity = CHUNK_BYTES;
    *text = arena_alloc(arena, capacity, 1);
    *length = 0;
    while (*length <= limit_bytes) {
        /* the last byte of the capacity is kept for the NUL */
        size_t space = capacity - 1 - *length;
        size_t got = fread(*text + *length, 1, space, stream);
        *length += got;
        if (got < space)
            return !ferror(stream);
        char *wider = arena_alloc(arena, capacity * 2, 1);
        memcpy(wider, *text, *length);
        *text = wider;
        capacity *= 2;
    }
    return true;
}

static bool load_stream(struct arena *arena, FILE *stream, const char *path,
                        size_t limit_bytes, char **text, struct error *error) {
    size_t length;
    if (!read_stream(arena, stream, limit_bytes, text, &length))
        return cannot_read(path, error);
    if (length > limit_bytes)
        return error_set(error, STATUS_INPUT,
                         "'%s' is larger than %zu bytes; is it the right file?",
                         path, limit_bytes);
    if (strlen(*text) != length)
        return error_set(error, STATUS_INPUT,
                         "'%s' is not a text file; save it as UTF-8 text",
                         path);
    return true;
}

char *text_load(struct arena *arena, const char *path, size_t limit_bytes,
                struct error *error) {
    FILE *stream = text_open(path, error);
    if (!stream)
        return NULL;
    char *text = NULL;
    bool good = load_stream(arena, stream, path, limit_bytes, &text, error);
    fclose(stream);
    if (!good || !text)
        return NULL;
    bool marked = strncmp(text, "\xEF\xBB\xBF", 3) == 0;
    return marked ? text + 3 : text;
}

char *text_next_line(char **rest) {
    char *line = *rest;
    if (!line || !*line)
        return NULL;
    char *end = strchr(line, '\n');
    *rest = end ? end + 1 : line + strlen(line);
    if (!end)
        end = *rest;
    *end = '\0';
    if (end > line && end[-1] == '\r')
        end[-1] = '\0';
    return line;
}

char *text_trim(char *text) {
    text += strspn(text, " \t");
    size_t length = strlen(text);
    while (length > 0 && strchr(" \t", text[length - 1]))
        length--;
    text[length] = '\0';
    return text;
}

bool text_to_double(const char *text, double *value) {
    /* Only these bytes: so strtod() sees no blank, inf, nan or hexadecimal. */
    if (!*text || text[strspn(text, "+-.0123456789eE")])
        return false;
    char *end;
    double number = strtod(text, &end);
    if (end == text || *end || !isfinite(number))
        return false;
    *value = number;
    return true;
}

bool text_to_int(const char *text, int *value) {
    if (!*text || text[strspn(text, "+-0123456789")])
        return false;
    char *end;
    errno = 0;
    long number = strtol(text, &end, 10);
    if (end == text || *end || errno || number < INT_MIN || number > INT_MAX)
        return false;
    *value = (int)number;
    return true;
}

bool text_same(const char *a, const char *b) {
    return strcmp(a, b) == 0;
}

static size_t least(size_t a, size_t b) {
    return a < b ? a : b;
}

/* How many letters must be put in, taken out or exchanged (Levenshtein 1966);
 * both words are at most WORD_LIMIT long. */
static size_t edit_distance(const char *a, const char *b) {
    size_t row[WORD_LIMIT + 1];
    size_t width = strlen(b);
    for (size_t j = 0; j <= width; j++)
        row[j] = j;
    for (size_t i = 0; a[i]; i++) {
        size_t diagonal = row[0];
        row[0] = i + 1;
        for (size_t j = 0; j < width; j++) {
            size_t exchanged = diagonal + (a[i] == b[j] ? 0 : 1);
            diagonal = row[j + 1];
            row[j + 1] = least(exchanged, least(row[j], diagonal) + 1);
        }
    }
    return row[width];
}

const char *text_nearest(const char *word, const char *const *words,
                         size_t count) {
    const char *nearest = NULL;
    size_t shortest = SIZE_MAX;
    size_t length = strlen(word);
    for (size_t i = 0; i < count && length <= WORD_LIMIT; i++) {
        size_t other = strlen(words[i]);
        if (other > WORD_LIMIT)
            continue;
        size_t distance = edit_distance(word, words[i]);
        size_t longer = length > other ? length : other;
        if (distance * 3 <= longer && distance < shortest) {
            shortest = distance;
            nearest = words[i];
        }
    }
    return nearest;
}

char *text_beside(struct arena *arena, const char *base_path,
                  const char *name) {
    const char *slash = base_path ? strrchr(base_path, '/') : NULL;
    if (!slash || name[0] == '/')
        return arena_copy(arena, name);
    return arena_print(arena, "%.*s/%s", (int)(slash - base_path), base_path,
                       name);
}
