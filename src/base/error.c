#include "base/error.h"

#include <assert.h>
#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

bool error_set(struct error *error, enum status status, const char *format,
               ...) {
    assert(error);
    va_list values;
    va_start(values, format);
    vsnprintf(error->text, sizeof error->text, format, values);
    va_end(values);
    error->status = status;
    return false;
}

enum status error_status_now(enum status status) {
    bool out = errno == ENOMEM || errno == EMFILE || errno == ENFILE;
    return out ? STATUS_RESOURCE : status;
}

bool error_at(struct error *error, const char *format, ...) {
    assert(error);
    char old[ERROR_TEXT_SIZE];
    memcpy(old, error->text, sizeof old);
    va_list values;
    va_start(values, format);
    vsnprintf(error->text, sizeof error->text, format, values);
    va_end(values);
    size_t length = strlen(error->text);
    snprintf(error->text + length, sizeof error->text - length, ": %s", old);
    return false;
}
