#include "base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

enum { NAMES_TRIED = 100 };

static bool cannot_write(const char *path, struct error *error) {
    return error_set(error, error_status_now(STATUS_WRITE),
                     "'%s' can't be written: %s", path, strerror(errno));
}

/* Not mkstemp(): the file shall get the rights that the umask leaves. */
static int create_beside(struct draft *draft) {
    int descriptor = -1;
    for (int i = 0; i < NAMES_TRIED && descriptor < 0; i++) {
        int length = snprintf(draft->temporary, sizeof draft->temporary,
                              "%s.%ld-%d.part", draft->path, (long)getpid(), i);
        if (length < 0 || (size_t)length >= sizeof draft->temporary) {
            errno = ENAMETOOLONG;
            return -1;
        }
        descriptor =
            open(draft->temporary, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC,
                 S_IRUSR | S_IWUSR | S_IRGRP | S_IWGRP | S_IROTH | S_IWOTH);
        if (descriptor < 0 && errno != EEXIST)
            return -1;
    }
    return descriptor;
}

bool draft_open(struct draft *draft, const char *path, struct error *error) {
    draft->stream = NULL;
    draft->temporary[0] = '\0';
    size_t bytes = strlen(path) + 1;
    if (bytes > sizeof draft->path)
        return error_set(error, STATUS_WRITE,
                         "path of an output file is longer than %d bytes; "
                         "write into a folder with a shorter name",
                         FILE_PATH_SIZE - 1);
    memcpy(draft->path, path, bytes);
    struct stat about;
    if (stat(path, &about) == 0 && !S_ISREG(about.st_mode))
        return error_set(error, STATUS_WRITE,
                         "'%s' is there and is not a plain file; give another "
                         "name",
                         path);
    int descriptor = create_beside(draft);
    if (descriptor < 0) {
        draft->temporary[0] = '\0';
        return cannot_write(path, error);
    }
    draft->stream = fdopen(descriptor, "w");
    if (draft->stream)
        return true;
    cannot_write(path, error);
    close(descriptor);
    draft_discard(draft);
    return false;
}

/* Flushed to the disk, so that the new name never stands on an empty file
 * after a power cut. */
static bool close_whole(FILE *stream) {
    bool whole = !ferror(stream) && fflush(stream) == 0 &&
                 (fsync(fileno(stream)) == 0 || errno == EINVAL);
    int cause = errno;
    if (fclose(stream) != 0)
        return false;
    errno = cause;
    return whole;
}

bool draft_finish(struct draft *draft, struct error *error) {
    FILE *stream = draft->stream;
    draft->stream = NULL;
    errno = 0;
    if (!stream || close_whole(stream))
        return true;
    if (errno == 0)
        errno = EIO; /* an earlier write failed; its cause is lost */
    cannot_write(draft->path, error);
    draft_discard(draft);
    return false;
}

bool draft_commit(struct draft *draft, struct error *error) {
    if (!draft_finish(draft, error))
        return false;
    if (rename(draft->temporary, draft->path) == 0) {
        draft->temporary[0] = '\0';
        return true;
    }
    cannot_write(draft->path, error);
    draft_discard(draft);
    return false;
}

void draft_discard(struct draft *draft) {
    if (draft->stream)
        fclose(draft->stream);
    draft->stream = NULL;
    if (draft->temporary[0])
        unlink(draft->temporary);
    draft->temporary[0] = '\0';
}

/* --- folders -------------------------------------------------------------- */

/* A lock of the folder itself: it ends with the process, and no file of it
 * stays behind. */
bool file_lock(const char *folder, int *lock) {
    *lock = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (*lock < 0 || flock(*lock, LOCK_EX | LOCK_NB) == 0 ||
        errno != EWOULDBLOCK)
        return true;
    file_unlock(*lock);
    *lock = -1;
    return false;
}

void file_unlock(int lock) {
    if (lock >= 0)
        close(lock);
}

bool file_exists(const char *path) {
    struct stat about;
    return stat(path, &about) == 0;
}

bool file_make_folder(const char *path, struct error *error) {
    if (mkdir(path, S_IRWXU | S_IRWXG | S_IRWXO) == 0)
        return true;
    int cause = errno;
    struct stat about;
    if (cause == EEXIST && stat(path, &about) == 0 && S_ISDIR(about.st_mode))
        return true;
    return error_set(error, STATUS_WRITE, "folder '%s' can't be made: %s", path,
                     strerror(cause));
}
