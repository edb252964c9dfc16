#include "check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { PATH_SIZE = 4096, OUTPUT_LIMIT = 64 << 20 };

void check_near(double actual, double expected, double tolerance,
                const char *file, int line) {
    if (fabs(actual - expected) <= tolerance)
        return;
    print_error("%.12g is not within %g of %.12g\n", actual, tolerance,
                expected);
    _fail(file, line);
}

void check_angle_near(double actual, double expected, double tolerance,
                      const char *file, int line) {
    double turn = remainder(actual - expected, 360.0);
    if (fabs(turn) <= tolerance)
        return;
    print_error("%.12g degrees is not within %g of %.12g\n", actual, tolerance,
                expected);
    _fail(file, line);
}

void check_contains(const char *text, const char *part, const char *file,
                    int line) {
    if (text && strstr(text, part))
        return;
    print_error("'%s' does not stand in:\n%s\n", part, text ? text : "(null)");
    _fail(file, line);
}

bool check_is_long(void) {
    return getenv("SPARWISE_LONG") != NULL;
}

const char *check_real_file(const char *name) {
    static char path[PATH_SIZE];
    const char *folder = getenv("SPARWISE_GRIBS");
    snprintf(path, sizeof path, "%s/%s", folder ? folder : "../shared/gribs",
             name);
    if (access(path, R_OK) == 0)
        return path;
    print_message("skipped: no file %s\n", path);
    return NULL;
}

/* Texts live to the end of the program: held here, so that the leak check
 * sees their owner. */
static void *held(void *memory) {
    static void **all;
    static size_t count;
    void **wider = realloc(all, (count + 1) * sizeof *wider);
    if (!wider || !memory)
        abort();
    all = wider;
    all[count++] = memory;
    return memory;
}

static char folder_path[] = "/tmp/sparwise-test-XXXXXX";
static bool folder_made;

static void remove_folder(void) {
    char line[64];
    snprintf(line, sizeof line, "rm -rf '%s'", folder_path);
    if (system(line) != 0)
        fprintf(stderr, "could not remove %s\n", folder_path);
}

const char *check_folder(void) {
    if (!folder_made) {
        if (!mkdtemp(folder_path))
            abort();
        folder_made = true;
        atexit(remove_folder);
    }
    return folder_path;
}

const char *check_write(const char *name, const char *text) {
    size_t size = strlen(check_folder()) + strlen(name) + 2;
    char *path = held(malloc(size));
    snprintf(path, size, "%s/%s", folder_path, name);
    FILE *stream = fopen(path, "wb");
    if (!stream || fputs(text, stream) < 0 || fclose(stream) != 0)
        abort();
    return path;
}

static char *read_all(const char *path) {
    FILE *stream = fopen(path, "rb");
    struct stat status;
    if (!stream || fstat(fileno(stream), &status) != 0 ||
        status.st_size > OUTPUT_LIMIT)
        abort();
    char *text = held(calloc((size_t)status.st_size + 1, 1));
    if (fread(text, 1, (size_t)status.st_size, stream) !=
        (size_t)status.st_size)
        abort();
    fclose(stream);
    return text;
}

struct ran check_shell(const char *line) {
    static int runs;
    char out[PATH_SIZE], err[PATH_SIZE];
    snprintf(out, sizeof out, "%s/out-%d", check_folder(), ++runs);
    snprintf(err, sizeof err, "%s/err-%d", check_folder(), runs);
    size_t size = strlen(line) + 2 * PATH_SIZE;
    char *whole = malloc(size);
    if (!whole)
        abort();
    snprintf(whole, size, "{ %s ; } >'%s' 2>'%s' </dev/null", line, out, err);
    int code = system(whole);
    free(whole);
    return (struct ran){.status = WIFEXITED(code) ? WEXITSTATUS(code) : -1,
                        .out = read_all(out),
                        .err = read_all(err)};
}

struct ran check_run(const char *arguments) {
    const char *program = getenv("SPARWISE");
    size_t size = strlen(arguments) + PATH_SIZE;
    char *line = malloc(size);
    if (!line)
        abort();
    snprintf(line, size, "%s %s", program ? program : "build/release/sparwise",
             arguments);
    struct ran ran = check_shell(line);
    free(line);
    return ran;
}

double seed_between(struct seed *seed, double low, double high) {
    /* splitmix64 (Steele, Lea, Flood 2014) */
    uint64_t z = seed->state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    z ^= z >> 31;
    return low + (high - low) * ((double)(z >> 11) * 0x1.0p-53);
}
