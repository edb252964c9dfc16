/* The library as a whole: its definitions, its memory, its messages. */
#include "forecast/grib.h"

#include "forecast/grib_key.h"
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

bool grib_library_check(struct error *error) {
    char *list = codes_definition_path(NULL);
    const char *folder = list ? list : "";
    while (*folder) {
        char path[4096];
        int length = (int)strcspn(folder, ":");
        snprintf(path, sizeof path, "%.*s/boot.def", length, folder);
        if (access(path, R_OK) == 0)
            return true;
        folder += length;
        folder += *folder == ':';
    }
    return error_set(error, STATUS_RESOURCE,
                     "the GRIB library's definitions are not in '%s'; install "
                     "libeccodes-data, or set ECCODES_DEFINITION_PATH to "
                     "where they are",
                     list ? list : "");
}

void grib_memory_check(int code) {
    if (code == CODES_OUT_OF_MEMORY || errno == ENOMEM)
        _exit(GRIB_NO_MEMORY);
}

/* It tells of a file that it could not open, and forgets the cause. */
static void say_nothing(const codes_context *context, int level,
                        const char *message) {
    (void)context, (void)level, (void)message;
    grib_memory_check(0);
}

_Noreturn static void give_up(const char *message) {
    (void)message;
    _exit(GRIB_ABORTED);
}

/* The library itself goes on without, and calls the message damaged. What it
 * has asked the C library for just before may have failed, too. */
static void *there(void *place, size_t bytes) {
    grib_memory_check(place || bytes == 0 ? 0 : CODES_OUT_OF_MEMORY);
    return place;
}

static void *take(const codes_context *context, size_t bytes) {
    (void)context;
    return there(malloc(bytes), bytes);
}

static void *resize(const codes_context *context, void *place, size_t bytes) {
    (void)context;
    return there(realloc(place, bytes), bytes);
}

static void give_back(const codes_context *context, void *place) {
    (void)context;
    free(place);
}

void grib_library_quiet(void) {
    codes_context *context = codes_context_get_default();
    errno = 0;
    codes_context_set_memory_proc(context, take, give_back, resize);
    codes_context_set_persistent_memory_proc(context, take, give_back);
    codes_context_set_buffer_memory_proc(context, take, give_back, resize);
    codes_context_set_logging_proc(context, say_nothing);
    codes_set_codes_assertion_failed_proc(give_up);
}
