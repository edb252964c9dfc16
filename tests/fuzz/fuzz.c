#include "fuzz.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { PATH_BYTES = 256 };

static char folder[PATH_BYTES];
static char paths[FUZZ_FILES][PATH_BYTES];

static void remove_all(void) {
    for (int i = 0; i < FUZZ_FILES; i++)
        unlink(paths[i]);
    rmdir(folder);
}

static void make_folder(void) {
    const char *parent = getenv("TMPDIR");
    snprintf(folder, sizeof folder, "%s/fuzz-XXXXXX", parent ? parent : "/tmp");
    if (!mkdtemp(folder)) {
        perror(folder);
        exit(EXIT_FAILURE);
    }
    atexit(remove_all);
}

/* The path of that name among those that were used, or the next free one. */
static const char *path_of(const char *name) {
    char path[PATH_BYTES];
    int length = snprintf(path, sizeof path, "%s/%s", folder, name);
    assert(length > 0 && length < PATH_BYTES);
    int i = 0;
    while (i < FUZZ_FILES - 1 && *paths[i] && strcmp(paths[i], path) != 0)
        i++;
    return memcpy(paths[i], path, sizeof path);
}

const char *fuzz_file(const char *name, const void *bytes, size_t size) {
    if (!*folder)
        make_folder();
    const char *path = path_of(name);
    FILE *stream = fopen(path, "wb");
    if (!stream || fwrite(bytes, 1, size, stream) != size ||
        fclose(stream) != 0) {
        perror(path);
        exit(EXIT_FAILURE);
    }
    return path;
}

char *fuzz_text(const uint8_t *bytes, size_t size, struct arena *arena) {
    char *text = arena_alloc(arena, size + 1, 1);
    return size > 0 ? memcpy(text, bytes, size) : text;
}

void fuzz_check_refusal(const struct error *error) {
    assert(*error->text && memchr(error->text, '\0', sizeof error->text));
    assert(error->status == STATUS_INPUT || error->status == STATUS_USAGE);
}
