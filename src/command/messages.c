#include "command/messages.h"

#include "exchange/clean.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static enum message_level level = MESSAGES_NORMAL;

void messages_set_level(enum message_level wanted) {
    level = wanted;
}

static void print_line(const char *kind, const char *text) {
    fprintf(stderr, "sparwise: %s", kind);
    clean_print(stderr, text, strlen(text));
    fputc('\n', stderr);
}

static void print_format(const char *format, va_list values)
    __attribute__((format(printf, 1, 0)));

static void print_format(const char *format, va_list values) {
    char text[ERROR_TEXT_SIZE];
    vsnprintf(text, sizeof text, format, values);
    print_line("", text);
}

void message_error(const struct error *error) {
    print_line("", error->text);
}

void message_warning(const char *text) {
    if (level >= MESSAGES_NORMAL)
        print_line("warning: ", text);
}

void message_note(const char *format, ...) {
    va_list values;
    va_start(values, format);
    if (level >= MESSAGES_NORMAL)
        print_format(format, values);
    va_end(values);
}

void message_detail(const char *format, ...) {
    va_list values;
    va_start(values, format);
    if (level >= MESSAGES_VERBOSE)
        print_format(format, values);
    va_end(values);
}
