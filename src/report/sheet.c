#include "report/sheet.h"

#include "base/arena.h"
#include "report/html.h"
#include "report/words.h"
#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

enum { TEXT_SIZE = 2048 };

static const FILE *html_stream;

void sheet_as_html(FILE *stream) {
    html_stream = stream;
}

static bool is_html(const FILE *stream) {
    return stream == html_stream;
}

/* `before` and `after` are markup. */
static void put_html(FILE *stream, const char *before, const char *text,
                     const char *after) {
    fputs(before, stream);
    html_text(stream, text);
    fputs(after, stream);
}

/* How much of `text` goes into `room` columns: up to a blank if there is one,
 * else as much as fits. */
static size_t line_length(const char *text, size_t room) {
    size_t length = strlen(text);
    if (length <= room)
        return length;
    for (size_t at = room; at > 0; at--)
        if (text[at] == ' ')
            return at;
    return room;
}

/* Prints `text` from column `column` on; the lines that follow start at
 * `indent`. */
static void print_wrapped(FILE *stream, int column, int indent,
                          const char *text) {
    text += strspn(text, " ");
    do {
        size_t length = line_length(text, (size_t)(SHEET_WIDTH - column));
        fprintf(stream, "%.*s\n", (int)length, text);
        text += length;
        text += strspn(text, " ");
        if (*text)
            fprintf(stream, "%*s", indent, "");
        column = indent;
    } while (*text);
}

static void print_ascii(FILE *stream, int column, int indent,
                        const char *text) {
    struct arena arena;
    arena_init(&arena);
    print_wrapped(stream, column, indent, words_ascii(&arena, text));
    arena_free(&arena);
}

void sheet_heading(FILE *stream, const char *format, ...) {
    char text[TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    if (is_html(stream)) {
        put_html(stream, "<h3>", text, "</h3>\n");
        return;
    }
    fputc('\n', stream);
    print_ascii(stream, 0, SHEET_LABEL, text);
}

void sheet_entry(FILE *stream, const char *label, const char *format, ...) {
    char text[TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    if (is_html(stream)) {
        put_html(stream, "<p class=\"entry\"><b>", label, "</b> ");
        put_html(stream, "<span>", text, "</span></p>\n");
        return;
    }
    fprintf(stream, "  %-*s", SHEET_LABEL - 2, label);
    print_ascii(stream, SHEET_LABEL, SHEET_LABEL, text);
}

void sheet_paragraph(FILE *stream, int indent, int hang, const char *text) {
    if (is_html(stream)) {
        put_html(stream, "<p>", text, "</p>\n");
        return;
    }
    fprintf(stream, "%*s", indent, "");
    print_ascii(stream, indent, indent + hang, text);
}

void sheet_item(FILE *stream, const char *mark, const char *text) {
    if (is_html(stream)) {
        put_html(stream, "<p class=\"item\"><b>", mark, "</b> ");
        put_html(stream, "<span>", text, "</span></p>\n");
        return;
    }
    int column = fprintf(stream, "  %s  ", mark);
    print_ascii(stream, column, column, text);
}
