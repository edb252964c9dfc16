#include "report/listing.h"

#include "exchange/clean.h"

#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

enum { LINE_SIZE = 1024 };

void listing_name(FILE *stream, const char *name) {
    clean_print(stream, name, strlen(name));
}

void listing_heading(FILE *stream, const char *text) {
    fprintf(stream, "\n%s\n", text);
    for (size_t i = 0; i < strlen(text); i++)
        fputc('-', stream);
    fputc('\n', stream);
}

/* `first` stands before the first word, `later` before each later line. */
static void wrap(FILE *stream, const char *first, const char *later,
                 const char *text) {
    size_t column = strlen(first);
    fputs(first, stream);
    for (const char *word = text; *word;) {
        size_t length = strcspn(word, " ");
        bool begun = word != text;
        if (begun && column + 1 + length > LISTING_WIDTH) {
            fprintf(stream, "\n%s", later);
            column = strlen(later);
            begun = false;
        }
        if (begun)
            fputc(' ', stream);
        clean_print(stream, word, length);
        column += begun + length;
        word += length + strspn(word + length, " ");
    }
    fputc('\n', stream);
}

void listing_item(FILE *stream, const char *format, ...) {
    char line[LINE_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(line, sizeof line, format, arguments);
    va_end(arguments);
    wrap(stream, "* ", "  ", line);
}

void listing_text(FILE *stream, const char *format, ...) {
    char line[LINE_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(line, sizeof line, format, arguments);
    va_end(arguments);
    wrap(stream, "", "", line);
}
