/* A target without libFuzzer: runs files, and all files of folders, through it.
 * What is wrong with one ends the program. */
#include "fuzz.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>

enum { PATH_BYTES = 4096 };

static size_t count;

static void run_file(const char *path) {
    FILE *stream = fopen(path, "rb");
    uint8_t *bytes = NULL;
    long size = -1;
    if (stream && fseek(stream, 0, SEEK_END) == 0)
        size = ftell(stream);
    if (size >= 0)
        bytes = malloc((size_t)size + 1);
    if (!bytes || fseek(stream, 0, SEEK_SET) != 0 ||
        fread(bytes, 1, (size_t)size, stream) != (size_t)size) {
        perror(path);
        exit(EXIT_FAILURE);
    }
    fclose(stream);
    LLVMFuzzerTestOneInput(bytes, (size_t)size);
    free(bytes);
    count++;
}

static void run_folder(const char *path, DIR *folder) {
    char inside[PATH_BYTES];
    for (struct dirent *entry; (entry = readdir(folder));) {
        if (*entry->d_name == '.')
            continue;
        snprintf(inside, sizeof inside, "%s/%s", path, entry->d_name);
        run_file(inside);
    }
}

int main(int argc, char **argv) {
    for (int i = 1; i < argc; i++) {
        DIR *folder = opendir(argv[i]);
        if (!folder) {
            run_file(argv[i]);
            continue;
        }
        run_folder(argv[i], folder);
        closedir(folder);
    }
    printf("%zu inputs\n", count);
    return count > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
