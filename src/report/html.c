#include "report/html.h"

#include "base/arena.h"
#include "exchange/clean.h"
#include <stdarg.h>

enum { TEXT_SIZE = 2048 };

static const char *escaped(char sign) {
    switch (sign) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    case '`':
        return "&#96;";
    default:
        return NULL;
    }
}

void html_text(FILE *stream, const char *text) {
    struct arena arena;
    arena_init(&arena);
    for (const char *at = clean_text(&arena, text); *at; at++) {
        const char *name = escaped(*at);
        if (name)
            fputs(name, stream);
        else
            fputc(*at, stream);
    }
    arena_free(&arena);
}

void html_print(FILE *stream, const char *format, ...) {
    char text[TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    html_text(stream, text);
}
