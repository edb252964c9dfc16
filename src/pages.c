/* Writes a page of the manual, or the completion for bash, to standard output:
 * pages docs/pages/NAME.in. Needed at build time only. */
#include "base/text.h"
#include "command/manual.h"

enum { MOST_BYTES = 1 << 20 };

int main(int argc, char **argv) {
    struct arena arena;
    struct error error;
    arena_init(&arena);
    const char *path = argc == 2 ? argv[1] : "";
    char *page = text_load(&arena, path, MOST_BYTES, &error);
    bool good = page && manual_print(page, stdout, &error);
    if (good && fflush(stdout) != 0)
        good = error_set(&error, STATUS_WRITE, "the page can't be written");
    if (!good)
        fprintf(stderr, "pages: %s: %s\n", path, error.text);
    arena_free(&arena);
    return good ? STATUS_DONE : (int)error.status;
}
