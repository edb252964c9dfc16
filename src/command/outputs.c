#include "command/outputs.h"

#include "base/file.h"
#include "base/rendering.h"
#include "base/text.h"
#include "command/interrupt.h"
#include "report/page.h"
#include "report/plan_json.h"
#include "report/route_gpx.h"
#include "report/schedule.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

struct output {
    const char *name;
    bool (*write)(const struct plan *plan, FILE *stream, struct error *error);
};

static const struct output outputs[] = {
    {"schedule.txt", schedule_write},
    {"route.gpx", route_gpx_write},
    {"plan.json", plan_json_write},
    {"report.html", page_write},
};

enum { OUTPUTS = sizeof outputs / sizeof *outputs };

static bool is_plain(char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= '0' && letter <= '9');
}

char *outputs_folder(const char *passage_name, struct arena *arena) {
    char *folder = arena_copy(arena, passage_name);
    size_t length = 0;
    for (const char *place = passage_name; *place; place++) {
        char letter = *place;
        if (letter >= 'A' && letter <= 'Z')
            letter = (char)(letter - 'A' + 'a');
        if (is_plain(letter))
            folder[length++] = letter;
        else if (length > 0 && folder[length - 1] != '-')
            folder[length++] = '-';
    }
    while (length > 0 && folder[length - 1] == '-')
        length--;
    folder[length] = '\0';
    return length > 0 ? folder : arena_copy(arena, "passage");
}

/* --- before --------------------------------------------------------------- */

static bool is_folder(const char *path) {
    struct stat about;
    return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

static bool check_usable(const char *folder, struct error *error) {
    if (!is_folder(folder))
        return error_set(error, STATUS_WRITE,
                         "'%s' is there and is not a folder; give another with "
                         "--out",
                         folder);
    if (access(folder, W_OK | X_OK) == 0)
        return true;
    return error_set(error, STATUS_WRITE,
                     "folder '%s' can't be written: %s; give another with "
                     "--out",
                     folder, strerror(errno));
}

/* "a/b/" has the parent "a", "b" has ".". */
static char *parent_of(const char *folder, struct arena *arena) {
    char *parent = arena_copy(arena, folder);
    size_t length = strlen(parent);
    while (length > 1 && parent[length - 1] == '/')
        parent[--length] = '\0';
    char *slash = strrchr(parent, '/');
    if (!slash)
        return arena_copy(arena, ".");
    slash[slash == parent] = '\0';
    return parent;
}

static bool check_makeable(const char *folder, struct error *error) {
    struct arena arena;
    arena_init(&arena);
    const char *parent = parent_of(folder, &arena);
    bool good = is_folder(parent) && access(parent, W_OK | X_OK) == 0;
    if (!good)
        error_set(error, STATUS_WRITE,
                  "folder '%s' can't be made in '%s': %s; give another with "
                  "--out",
                  folder, parent, strerror(errno ? errno : ENOTDIR));
    arena_free(&arena);
    return good;
}

static void name_outputs(char *paths[OUTPUTS], const char *folder,
                         struct arena *arena) {
    for (size_t i = 0; i < OUTPUTS; i++)
        paths[i] = arena_print(arena, "%s/%s", folder, outputs[i].name);
}

static bool check_free(char *const paths[OUTPUTS], bool force,
                       struct error *error) {
    for (size_t i = 0; i < OUTPUTS && !force; i++)
        if (file_exists(paths[i]))
            return error_set(error, STATUS_WRITE,
                             "a plan is already there: '%s'; give --force to "
                             "replace it, or another folder with --out",
                             paths[i]);
    return true;
}

bool outputs_check(const char *folder, bool force, struct error *error) {
    errno = 0;
    if (!file_exists(folder))
        return check_makeable(folder, error);
    if (!check_usable(folder, error))
        return false;
    struct arena arena;
    char *paths[OUTPUTS];
    arena_init(&arena);
    name_outputs(paths, folder, &arena);
    bool free_to_write = check_free(paths, force, error);
    arena_free(&arena);
    return free_to_write;
}

/* --- writing -------------------------------------------------------------- */

static bool render(const struct plan *plan, const struct output *output,
                   struct rendering *rendering, struct error *error) {
    rendering_open(rendering);
    bool good = output->write(plan, rendering->stream, error);
    rendering_close(rendering);
    return good || error_at(error, "%s", output->name);
}

static bool render_all(const struct plan *plan,
                       struct rendering renderings[OUTPUTS],
                       struct error *error) {
    for (size_t i = 0; i < OUTPUTS; i++)
        if (!render(plan, &outputs[i], &renderings[i], error))
            return false;
    return true;
}

/* What is going to be written. Made before, so that nothing has to be asked for
 * while there are drafts: no memory ends the program at once. */
struct writing {
    const char *folder;
    bool force;
    char *paths[OUTPUTS];
    struct rendering renderings[OUTPUTS];
    struct draft drafts[OUTPUTS];
};

static bool write_draft(struct draft *draft, const char *path,
                        const struct rendering *rendering,
                        struct error *error) {
    if (!draft_open(draft, path, error))
        return false;
    size_t written =
        fwrite(rendering->bytes, 1, rendering->size, draft->stream);
    if (written == rendering->size)
        return draft_finish(draft, error);
    return error_set(error, STATUS_WRITE, "'%s' can't be written: %s", path,
                     strerror(errno));
}

static bool write_drafts(struct writing *writing, struct error *error) {
    for (size_t i = 0; i < OUTPUTS; i++)
        if (!write_draft(&writing->drafts[i], writing->paths[i],
                         &writing->renderings[i], error))
            return false;
    return true;
}

static bool commit_drafts(struct draft drafts[OUTPUTS], struct error *error) {
    for (size_t i = 0; i < OUTPUTS; i++)
        if (!draft_commit(&drafts[i], error))
            return false;
    return true;
}

/* Another run may have come first since outputs_check(). An interrupt that
 * comes before the first is in place finds the folder as it was. */
static bool write_locked(struct writing *writing, struct error *error) {
    return check_free(writing->paths, writing->force, error) &&
           write_drafts(writing, error) && !interrupt_is_waiting() &&
           commit_drafts(writing->drafts, error);
}

static bool lock(const char *folder, int *held, struct error *error) {
    enum { TRIES = 500 }; /* 10 s: a plan is written in a tenth of one */
    const struct timespec pause = {.tv_nsec = 20000000};
    for (int i = 0; i < TRIES && !interrupt_is_waiting(); i++) {
        if (file_lock(folder, held))
            return true;
        nanosleep(&pause, NULL);
    }
    return error_set(error, STATUS_WRITE,
                     "another run writes into folder '%s'; give another with "
                     "--out",
                     folder);
}

static bool write_all(struct writing *writing, struct error *error) {
    const char *folder = writing->folder;
    int held = -1;
    bool is_new = !file_exists(folder);
    bool good = file_make_folder(folder, error) && lock(folder, &held, error) &&
                write_locked(writing, error);
    for (size_t i = 0; i < OUTPUTS; i++)
        draft_discard(&writing->drafts[i]);
    if (!good && is_new)
        rmdir(folder);
    file_unlock(held);
    return good;
}

bool outputs_write(const struct plan *plan, const char *folder, bool force,
                   struct error *error) {
    struct arena arena;
    arena_init(&arena);
    struct writing *writing = arena_alloc(&arena, 1, sizeof *writing);
    writing->folder = folder;
    writing->force = force;
    name_outputs(writing->paths, folder, &arena);
    bool good = render_all(plan, writing->renderings, error);
    if (good) {
        interrupt_hold();
        good = write_all(writing, error);
        interrupt_release();
    }
    for (size_t i = 0; i < OUTPUTS; i++)
        rendering_free(&writing->renderings[i]);
    arena_free(&arena);
    return good;
}
