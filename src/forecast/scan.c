#include "forecast/scan.h"

#include <ctype.h>
#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

enum {
    INDICATOR_1 = 8,  /* bytes of section 0 */
    INDICATOR_2 = 16, /* bytes of section 0 */
    END_MARK = 4,
    LARGE_FLAG = 0x800000, /* edition 1: the length is coded */
    LARGE_UNIT = 120,
    WEB_PAGE_BYTES = 1024 /* a page says what it is in its first bytes */
};

/* The file as it is looked at: no read goes past its end. */
struct view {
    const uint8_t *bytes;
    size_t size;
};

static uint64_t big_endian(const uint8_t *bytes, int count) {
    uint64_t value = 0;
    for (int i = 0; i < count; i++)
        value = value << 8 | bytes[i];
    return value;
}

static bool is_marker(const struct view *view, size_t at) {
    return at + INDICATOR_1 <= view->size &&
           memcmp(view->bytes + at, "GRIB", 4) == 0 &&
           (view->bytes[at + 7] == 1 || view->bytes[at + 7] == 2);
}

/* The next marker at or after `at`, or the size where there is none. */
static size_t next_marker(const struct view *view, size_t at) {
    while (at < view->size) {
        const uint8_t *hit = memchr(view->bytes + at, 'G', view->size - at);
        if (!hit)
            break;
        at = (size_t)(hit - view->bytes);
        if (is_marker(view, at))
            return at;
        at++;
    }
    return view->size;
}

/* Length of the edition 1 section at `at`, 0 where it can't be one. */
static size_t section_length(const struct view *view, size_t at) {
    if (at + 3 > view->size)
        return 0;
    return (size_t)big_endian(view->bytes + at, 3);
}

/* Edition 1 beyond 8 MB, as ECMWF writes it: the length counts units of 120
 * bytes, and section 4 holds how much of the last unit is not used. */
static size_t large_length(const struct view *view, size_t at, size_t coded) {
    size_t section = at + INDICATOR_1;
    size_t length = section_length(view, section);
    if (length < 28 || section + length > view->size)
        return 0;
    unsigned flags = view->bytes[section + 7];
    section += length;
    for (unsigned flag = 0x80; flag >= 0x40; flag >>= 1) {
        if (flags & flag)
            section += section_length(view, section);
    }
    size_t rest = section_length(view, section);
    size_t whole = (coded & (LARGE_FLAG - 1)) * LARGE_UNIT;
    if (rest >= LARGE_UNIT || whole < rest)
        return 0;
    return whole - rest + 4;
}

/* The length that the message at `at` claims, 0 where it makes no sense. */
static size_t claimed_length(const struct view *view, size_t at) {
    const uint8_t *message = view->bytes + at;
    if (message[7] == 1) {
        size_t length = (size_t)big_endian(message + 4, 3);
        if (length & LARGE_FLAG)
            length = large_length(view, at, length);
        return length;
    }
    if (at + INDICATOR_2 > view->size)
        return 0;
    return (size_t)big_endian(message + 8, 8);
}

static bool is_whole(const struct view *view, size_t at, size_t length) {
    if (length < INDICATOR_1 + END_MARK || length > view->size - at ||
        length > SCAN_LENGTH_BYTES)
        return false;
    return memcmp(view->bytes + at + length - END_MARK, "7777", END_MARK) == 0;
}

static void add_loss(struct scan *scan, const struct view *view, size_t at,
                     size_t length, struct arena *arena) {
    if (scan->loss_count >= SCAN_LOSS_LIMIT)
        return;
    scan->losses = arena_room(arena, scan->losses, scan->loss_count,
                              &scan->loss_capacity, sizeof *scan->losses);
    scan->losses[scan->loss_count++] =
        (struct scan_loss){.offset = at,
                           .cut_short = length > view->size - at,
                           .there_bytes = view->size - at,
                           .length = length};
}

static void add_message(struct scan *scan, const struct view *view, size_t at,
                        size_t length, struct arena *arena) {
    scan->messages = arena_room(arena, scan->messages, scan->count,
                                &scan->capacity, sizeof *scan->messages);
    scan->messages[scan->count++] = (struct message_span){
        .offset = at, .length = length, .edition = view->bytes[at + 7]};
}

/* Stray bytes between two places. Zeros alone are padding, as archives write
 * it: they are none. */
static size_t count_stray(const struct view *view, size_t from, size_t to) {
    for (size_t at = from; at < to; at++) {
        if (view->bytes[at] != 0)
            return to - from;
    }
    return 0;
}

struct scan scan_bytes(const uint8_t *bytes, size_t size, struct arena *arena) {
    struct view view = {bytes, size};
    struct scan scan = {0};
    size_t done = 0;       /* everything before is accounted for */
    size_t lost_at = size; /* the first damaged message since then */
    size_t at = next_marker(&view, 0);
    while (at < size && scan.count < SCAN_MESSAGE_LIMIT) {
        size_t length = claimed_length(&view, at);
        if (is_whole(&view, at, length)) {
            scan.stray_bytes +=
                count_stray(&view, done, lost_at < at ? lost_at : at);
            add_message(&scan, &view, at, length, arena);
            done = at + length;
            lost_at = size;
            at = next_marker(&view, done);
        } else {
            add_loss(&scan, &view, at, length, arena);
            if (lost_at == size)
                lost_at = at;
            at = next_marker(&view, at + 4);
        }
    }
    scan.full = at < size;
    if (!scan.full)
        scan.stray_bytes += count_stray(&view, done, lost_at);
    return scan;
}

/* --- files that are no forecast -------------------------------------------*/

static bool starts_with(const struct view *view, const char *magic,
                        size_t length) {
    return view->size >= length && memcmp(view->bytes, magic, length) == 0;
}

static bool is_compressed(const struct view *view) {
    return starts_with(view, "\x1f\x8b", 2) || /* gzip */
           starts_with(view, "\x1f\x9d", 2) || /* compress */
           starts_with(view, "BZh", 3) ||      /* bzip2 */
           starts_with(view,
                       "\xfd"
                       "7zXZ",
                       5) ||                           /* xz */
           starts_with(view, "7z\xbc\xaf", 4) ||       /* 7-zip */
           starts_with(view, "\x28\xb5\x2f\xfd", 4) || /* zstd */
           starts_with(view, "PK\x03\x04", 4);         /* zip */
}

static bool is_netcdf(const struct view *view) {
    return starts_with(view, "CDF", 3) || starts_with(view, "\x89HDF", 4);
}

/* A tag that only web pages and their relatives have, in any case. */
static bool is_web_page(const struct view *view) {
    static const char *const tags[] = {"<html", "<!doctype", "<head", "<body",
                                       "<?xml"};
    size_t size = view->size < WEB_PAGE_BYTES ? view->size : WEB_PAGE_BYTES;
    for (size_t at = 0; at < size; at++) {
        for (size_t tag = 0; tag < sizeof tags / sizeof *tags; tag++) {
            size_t length = strlen(tags[tag]), same = 0;
            while (same < length && at + same < size &&
                   tolower(view->bytes[at + same]) == tags[tag][same])
                same++;
            if (same == length)
                return true;
        }
    }
    return false;
}

static bool refuse(const struct source *source, struct error *error) {
    struct view view = {source->bytes, source->size};
    const char *path = source->path;
    if (is_compressed(&view))
        return error_set(error, STATUS_INPUT,
                         "'%s' is compressed; unpack it first", path);
    if (is_web_page(&view))
        return error_set(error, STATUS_INPUT,
                         "'%s' looks like a web page, not a forecast; "
                         "download it again",
                         path);
    if (is_netcdf(&view))
        return error_set(error, STATUS_INPUT,
                         "'%s' is a netCDF or HDF5 file; ask for GRIB", path);
    if (source->scan.loss_count > 0)
        return error_set(error, STATUS_INPUT,
                         "'%s' is cut short or damaged: the message at byte "
                         "%zu is not whole, and there is no other; download "
                         "it again",
                         path, source->scan.losses[0].offset);
    return error_set(error, STATUS_INPUT,
                     "'%s' holds no GRIB message; give a GRIB file", path);
}

/* --- opening ---------------------------------------------------------------*/

static bool cannot_open(const char *path, struct error *error) {
    if (errno == ENOENT)
        return error_set(error, STATUS_INPUT, "no file '%s'; check the name",
                         path);
    return error_set(error, error_status_now(STATUS_INPUT),
                     "can't read '%s': %s", path, strerror(errno));
}

static bool check_kind(const struct stat *status, const char *path,
                       struct error *error) {
    if (S_ISDIR(status->st_mode))
        return error_set(error, STATUS_INPUT,
                         "'%s' is a directory; name the files in it", path);
    if (!S_ISREG(status->st_mode))
        return error_set(error, STATUS_INPUT,
                         "'%s' is not a file; save the forecast first", path);
    if (status->st_size == 0)
        return error_set(error, STATUS_INPUT,
                         "'%s' is an empty file; download it again", path);
    if ((uintmax_t)status->st_size > SCAN_FILE_BYTES)
        return error_set(error, STATUS_INPUT,
                         "'%s' is larger than %zu GiB; ask for a smaller area, "
                         "fewer fields or fewer steps",
                         path, SCAN_FILE_BYTES >> 30);
    return true;
}

/* What is mapped, for a handler of signals: a file that gets shorter raises one
 * where its bytes are read. More than these are not known of. */
enum { MAPPINGS = 256 };
static struct mapping {
    const uint8_t *_Atomic bytes; /* NULL: none */
    size_t size;
} mappings[MAPPINGS];

static void note_mapping(const uint8_t *bytes, size_t size) {
    for (int i = 0; i < MAPPINGS; i++) {
        if (mappings[i].bytes)
            continue;
        mappings[i].size = size;
        mappings[i].bytes = bytes;
        return;
    }
}

static void forget_mapping(const uint8_t *bytes) {
    for (int i = 0; i < MAPPINGS; i++)
        if (mappings[i].bytes == bytes)
            mappings[i].bytes = NULL;
}

bool source_holds(const void *address) {
    uintptr_t at = (uintptr_t)address;
    for (int i = 0; i < MAPPINGS; i++) {
        uintptr_t start = (uintptr_t)mappings[i].bytes;
        if (start && at >= start && at - start < mappings[i].size)
            return true;
    }
    return false;
}

bool source_is_shorter(const struct source *source) {
    struct stat status;
    return stat(source->path, &status) != 0 ||
           (uintmax_t)status.st_size < source->size;
}

static bool map_file(struct source *source, int file, struct error *error) {
    struct stat status;
    if (fstat(file, &status) != 0)
        return cannot_open(source->path, error);
    if (!check_kind(&status, source->path, error))
        return false;
    void *bytes =
        mmap(NULL, (size_t)status.st_size, PROT_READ, MAP_PRIVATE, file, 0);
    if (bytes == MAP_FAILED)
        return cannot_open(source->path, error);
    source->bytes = bytes;
    source->size = (size_t)status.st_size;
    note_mapping(source->bytes, source->size);
    return true;
}

bool source_open(struct source *source, const char *path, struct arena *arena,
                 struct error *error) {
    *source = (struct source){.path = path};
    int file = open(path, O_RDONLY | O_NONBLOCK);
    if (file < 0)
        return cannot_open(path, error);
    bool mapped = map_file(source, file, error);
    close(file);
    if (!mapped)
        return false;
    source->scan = scan_bytes(source->bytes, source->size, arena);
    if (source->scan.count > 0)
        return true;
    refuse(source, error);
    source_close(source);
    return false;
}

void source_close(struct source *source) {
    if (source->bytes) {
        forget_mapping(source->bytes);
        munmap((void *)(uintptr_t)source->bytes, source->size);
    }
    source->bytes = NULL;
}
