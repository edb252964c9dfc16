/* MAP_ANONYMOUS is not in POSIX 2008, but everywhere */
#define _DEFAULT_SOURCE /* NOLINT(bugprone-reserved-identifier) */

#include "forecast/decode.h"

#include "base/sanitizer.h"
#include "forecast/recall.h"
#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum {
    WORKERS_LIMIT = 64,
    IDLE_DEATHS_LIMIT = 3,
    MESSAGE_CPU_S = 20, /* a field of 20 million points takes about 4 s */
    ALIGNMENT = 16
};
/* Two children by default; one for fewer bytes than that: another one would
 * read the library's definitions, which takes as long as to decode them in
 * simple packing. */
enum { USUAL_WORKERS = 2 };
static const size_t SHARED_BYTES = (size_t)128 << 10;
/* Private memory of a child: several copies of the greatest field. */
static const size_t CHILD_BYTES_LIMIT = (size_t)2 << 30;
/* Smallest shared region that is worth a try. */
static const size_t REGION_BYTES_LEAST = (size_t)64 << 20;
static const size_t NO_MESSAGE = (size_t)-1;

enum ending {
    ENDING_DONE = 0,
    ENDING_FULL = 4,
    ENDING_NO_MEMORY = GRIB_NO_MEMORY,
    ENDING_NO_LIBRARY = 6,
    ENDING_NO_ROOM = 7
};

/* A decoded field in shared memory; its values follow. */
struct entry {
    struct decoded decoded;
    struct entry *next;
};

/* Shared memory of one child and of those that take its place. Mapped before
 * the first fork, so pointers into it hold in every process. */
struct region {
    uint8_t *bytes;
    size_t size, used;
    struct entry *first, *last; /* fields of messages that are done */
    _Atomic size_t at;          /* the message in work, or NO_MESSAGE */
};

/* What all children share. */
struct board {
    _Atomic size_t next;  /* message to take next */
    _Atomic size_t used;  /* bytes of all regions */
    struct error library; /* why it can't be used, with ENDING_NO_LIBRARY */
    struct region region[WORKERS_LIMIT];
};

/* What a child needs to know; made before the fork. */
struct work {
    const struct source *sources;
    size_t source_count;
    size_t *first; /* running number of the first message of each source */
    size_t total;
    const struct forecast_options *options;
    struct board *board;
};

/* --- in the child -------------------------------------------------------- */

/* A child at work. */
struct child {
    const struct work *work;
    struct region *region;
    struct grib_reader reader;
    struct recall recall;
    uint8_t *buffer; /* the last field that was cut out */
};

/* What a field takes decoded counts, whether it is or not: the load is refused
 * where all together take too much, and this child ends. */
static void account(const struct work *work, size_t bytes) {
    size_t before = atomic_fetch_add(&work->board->used, bytes);
    if (before + bytes > DECODE_BYTES_LIMIT)
        _exit(ENDING_FULL);
}

/* Room in the region. What makes values of unlike sizes fit one another, and
 * which of them are known, is in no account: one of full size may be used up
 * before. */
static void *take(struct region *region, size_t bytes) {
    bytes = (bytes + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
    if (bytes > region->size - region->used)
        _exit(region->size < DECODE_BYTES_LIMIT ? ENDING_NO_ROOM : ENDING_FULL);
    void *place = region->bytes + region->used;
    region->used += bytes;
    return place;
}

static void keep_values(struct region *region, struct grib_field *field) {
    size_t points = grid_points(&field->grid);
    float *values = take(region, points * sizeof *values);
    memcpy(values, field->values, points * sizeof *values);
    field->values = values;
    uint8_t *known = NULL;
    if (field->missing + field->wild > 0) {
        known = take(region, points);
        memcpy(known, field->known, points);
    }
    field->known = known;
}

static struct entry *keep(struct child *child, const struct decoded *decoded) {
    struct region *region = child->region;
    struct entry *entry = take(region, sizeof *entry);
    *entry = (struct entry){.decoded = *decoded};
    struct grib_field *field = &entry->decoded.field;
    account(child->work, sizeof *entry);
    if (field->fate != FATE_USED)
        return entry;
    size_t bytes = grid_points(&field->grid) * sizeof *field->values;
    /* what has to be turned is there twice: forecast/pair.h */
    account(child->work,
            field->origin.turn.kind == TURN_NONE ? bytes : 2 * bytes);
    if (field->values)
        keep_values(region, field);
    else
        packed_move(&field->packed, take(region, packed_room(&field->packed)));
    return entry;
}

/* A field of GRIB2 in its own memory where its message holds several. */
static const uint8_t *isolate(const struct cutter *cutter, uint8_t **buffer,
                              size_t *size) {
    *size = cutter_size(cutter);
    free(*buffer);
    *buffer = malloc(*size);
    if (!*buffer)
        _exit(ENDING_NO_MEMORY);
    cutter_write(cutter, *buffer);
    return *buffer;
}

/* Fields of the message in work, not yet handed over. */
struct catch {
    struct entry *first, *last;
};

static void catch_field(struct child *child, struct catch *catch,
                        const struct decoded *decoded) {
    struct entry *entry = keep(child, decoded);
    if (catch->last)
        catch->last->next = entry;
    else
        catch->first = entry;
    catch->last = entry;
}

/* Can the values be left as they are packed, or read where they lie? */
static bool stays_packed(struct child *child, struct grib_field *field,
                         const struct packed *packed) {
    struct grib_limits limits = grib_limits_of(&field->parameter);
    struct packed laid = *packed;
    size_t missing;
    bool cut = grib_field_is_cut(field);
    if (field->origin.words || (cut && packed->bitmap) ||
        !packed_lay(&laid, &field->corners, &missing) ||
        !packed_within(&laid, limits.low - limits.slack,
                       limits.high + limits.slack, limits.low))
        return false;
    field->packed = laid;
    field->missing = missing;
    field->values = NULL;
    field->known = NULL;
    if (cut)
        grib_take_packed(&child->reader, field);
    return true;
}

/* The field that the cutter stands at; its values live until the next one. */
static void read_2(struct child *child, const struct cutter *cutter,
                   struct grib_field *field) {
    struct packed packed;
    size_t size;
    bool simple = packed_find(&packed, cutter);
    bool old = recall_header(&child->recall, cutter, field);
    if (old && field->fate != FATE_USED)
        return;
    if (old && simple && stays_packed(child, field, &packed))
        return;
    const uint8_t *bytes = isolate(cutter, &child->buffer, &size);
    if (old) {
        grib_read_values(&child->reader, bytes, size, field);
        return;
    }
    child->reader.leaves_values = simple;
    grib_read(&child->reader, bytes, size, field);
    child->reader.leaves_values = false;
    recall_keep(&child->recall, cutter, field);
    if (simple && field->fate == FATE_USED &&
        !stays_packed(child, field, &packed))
        grib_read_values(&child->reader, bytes, size, field);
}

static void decode_2(struct child *child, struct catch *catch,
                     struct decoded decoded, const uint8_t *message,
                     size_t length) {
    struct cutter cutter;
    enum cut cut;
    cutter_init(&cutter, message, length);
    while ((cut = cutter_next(&cutter)) == CUT_FIELD) {
        decoded.number = cutter.fields;
        read_2(child, &cutter, &decoded.field);
        catch_field(child, catch, &decoded);
    }
    if (cut == CUT_DAMAGED) {
        decoded.number = cutter.fields + 1;
        decoded.field = (struct grib_field){
            .fate = FATE_DAMAGED, .cause = "sections that don't add up"};
        catch_field(child, catch, &decoded);
    }
}

static void decode_1(struct child *child, struct catch *catch,
                     struct decoded decoded, const uint8_t *message,
                     size_t length) {
    decoded.number = 1;
    grib_read(&child->reader, message, length, &decoded.field);
    catch_field(child, catch, &decoded);
}

/* Which source a running number belongs to. */
static size_t source_of(const struct work *work, size_t index) {
    size_t source = 0;
    while (source + 1 < work->source_count && index >= work->first[source + 1])
        source++;
    return source;
}

static void decode_message(struct child *child, size_t index) {
    const struct work *work = child->work;
    struct region *region = child->region;
    size_t source = source_of(work, index);
    struct decoded decoded = {.source = source,
                              .message = index - work->first[source]};
    const struct source *file = &work->sources[source];
    const struct message_span *span = &file->scan.messages[decoded.message];
    const uint8_t *message = file->bytes + span->offset;
    struct catch catch = {0};
    if (span->edition == 2)
        decode_2(child, &catch, decoded, message, span->length);
    else
        decode_1(child, &catch, decoded, message, span->length);
    if (!catch.first)
        return;
    if (region->last)
        region->last->next = catch.first;
    else
        region->first = catch.first;
    region->last = catch.last;
}

/* The processor time that this message may use from now on. */
static void limit_time(void) {
    rlim_t used = (rlim_t)(clock() / CLOCKS_PER_SEC);
    struct rlimit limit = {.rlim_cur = used + 1 + MESSAGE_CPU_S,
                           .rlim_max = RLIM_INFINITY};
    setrlimit(RLIMIT_CPU, &limit);
}

static void limit_child(void) {
    struct rlimit no_core = {0, 0};
    struct rlimit memory = {CHILD_BYTES_LIMIT, CHILD_BYTES_LIMIT};
    setrlimit(RLIMIT_CORE, &no_core);
    if (UNDER_SANITIZER)
        return;
    setrlimit(RLIMIT_DATA, &memory);
    /* codecs below the library print on their own */
    int nowhere = open("/dev/null", O_WRONLY);
    if (nowhere >= 0)
        dup2(nowhere, STDERR_FILENO);
}

_Noreturn static void run_child(const struct work *work,
                                struct region *region) {
    static struct child child;
    static const int signals[] = {SIGINT,  SIGTERM, SIGSEGV, SIGFPE,
                                  SIGABRT, SIGBUS,  SIGXCPU};
    /* a handler of the parent's has no business here */
    for (size_t i = 0; i < sizeof signals / sizeof *signals; i++)
        signal(signals[i], SIG_DFL);
    limit_child();
    if (!grib_library_check(&work->board->library))
        _exit(ENDING_NO_LIBRARY);
    grib_library_quiet();
    child.work = work;
    child.region = region;
    child.reader.spared = work->options->spared;
    child.reader.placings.wanted = work->options->wanted;
    for (;;) {
        size_t index = atomic_fetch_add(&work->board->next, 1);
        if (index >= work->total)
            _exit(ENDING_DONE);
        limit_time();
        atomic_store(&region->at, index);
        decode_message(&child, index);
        atomic_store(&region->at, NO_MESSAGE);
    }
}

/* --- in the parent ------------------------------------------------------- */

static void *map_shared(size_t size) {
    void *bytes = mmap(NULL, size, PROT_READ | PROT_WRITE,
                       MAP_SHARED | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
    return bytes == MAP_FAILED ? NULL : bytes;
}

/* Address space is asked for, memory only as fields come in. Where there is
 * little of it, the greatest piece to be had would leave nothing for the rest
 * of the plan: a quarter of that is kept. */
static bool map_region(struct region *region) {
    size_t size = DECODE_BYTES_LIMIT;
    region->bytes = map_shared(size);
    while (!region->bytes && size / 2 >= REGION_BYTES_LEAST) {
        size /= 2;
        region->bytes = map_shared(size);
    }
    region->size = size;
    if (region->bytes && size < DECODE_BYTES_LIMIT) {
        region->size = size / 4;
        munmap(region->bytes + region->size, size - region->size);
    }
    atomic_init(&region->at, NO_MESSAGE);
    return region->bytes != NULL;
}

static bool out_of_resource(struct error *error, const char *what) {
    return error_set(error, STATUS_RESOURCE,
                     "%s to decode the forecast: %s; close other programs",
                     what, strerror(errno));
}

static bool start(const struct work *work, struct region *region, pid_t *child,
                  struct error *error) {
    *child = fork();
    if (*child < 0)
        return out_of_resource(error, "can't start a child process");
    if (*child == 0)
        run_child(work, region);
    return true;
}

static int wait_for(pid_t child) {
    int status = 0;
    while (waitpid(child, &status, 0) < 0 && errno == EINTR)
        continue;
    return status;
}

/* How exactly the library broke down depends on what lay in memory, so it is
 * not told. */
static const char *cause_of_death(int status, const struct source *source,
                                  struct arena *arena) {
    if (WIFSIGNALED(status) && WTERMSIG(status) == SIGBUS &&
        source_is_shorter(source))
        return "its file was cut short, or its disk taken out, while it was "
               "read; try again";
    if (WIFSIGNALED(status) && WTERMSIG(status) == SIGXCPU)
        return arena_print(arena, "decoding took more than %d s",
                           MESSAGE_CPU_S);
    /* the library's reader of definitions ends the process without memory:
     * command/interrupt.c gives that its status */
    if (WIFEXITED(status) && (WEXITSTATUS(status) == ENDING_NO_MEMORY ||
                              WEXITSTATUS(status) == STATUS_RESOURCE))
        return "decoding it takes more memory than there is, or more than 2 GB";
    return "it is damaged, and the GRIB library broke down on it";
}

/* The message in work when a child ended like this. */
static void add_loss(struct batch *batch, const struct work *work, size_t index,
                     int status, struct arena *arena) {
    size_t source = source_of(work, index);
    batch->losses = arena_room(arena, batch->losses, batch->loss_count,
                               &batch->loss_capacity, sizeof *batch->losses);
    batch->losses[batch->loss_count++] = (struct lost){
        .source = source,
        .message = index - work->first[source],
        .cause = cause_of_death(status, &work->sources[source], arena)};
}

/* What became of a child that has ended; `idle_deaths` counts those without a
 * message in work: they are no fault of a message's. */
static bool take_account(struct batch *batch, const struct work *work,
                         struct region *region, int status, int *idle_deaths,
                         struct arena *arena, struct error *error) {
    size_t at = atomic_load(&region->at);
    if (WIFEXITED(status) && WEXITSTATUS(status) == ENDING_FULL)
        return error_set(error, STATUS_INPUT,
                         "the fields take more than 4 GB decoded; ask for "
                         "a smaller area, fewer fields or a coarser grid");
    if (WIFEXITED(status) && WEXITSTATUS(status) == ENDING_NO_ROOM)
        return error_set(error, STATUS_RESOURCE,
                         "no memory for all fields of the forecast; close "
                         "other programs, or ask for a smaller area");
    if (WIFEXITED(status) && WEXITSTATUS(status) == ENDING_NO_LIBRARY) {
        *error = work->board->library;
        return false;
    }
    if (at != NO_MESSAGE)
        add_loss(batch, work, at, status, arena);
    else if (++*idle_deaths > IDLE_DEATHS_LIMIT)
        return error_set(error, STATUS_RESOURCE,
                         "the processes that decode the forecast are ended "
                         "as soon as they start; free some memory");
    atomic_store(&region->at, NO_MESSAGE);
    return true;
}

static bool is_done(int status) {
    return WIFEXITED(status) && WEXITSTATUS(status) == ENDING_DONE;
}

/* Waits for one child; where it died, another goes on as long as there is
 * work. */
static bool see_through(struct batch *batch, const struct work *work,
                        struct region *region, pid_t child, struct arena *arena,
                        struct error *error) {
    int idle_deaths = 0;
    for (;;) {
        int status = wait_for(child);
        if (is_done(status))
            return true;
        if (!take_account(batch, work, region, status, &idle_deaths, arena,
                          error) ||
            !start(work, region, &child, error))
            return false;
    }
}

static bool run_children(struct batch *batch, const struct work *work,
                         int workers, struct arena *arena,
                         struct error *error) {
    const struct forecast_options *options = work->options;
    pid_t children[WORKERS_LIMIT];
    int started = 0;
    bool good = true;
    while (good && started < workers) {
        good = start(work, &work->board->region[started], &children[started],
                     error);
        started += good;
    }
    /* children that can't help any more stop at their next message */
    if (!good)
        atomic_store(&work->board->next, work->total);
    if (good && options->meanwhile)
        options->meanwhile(options->context);
    for (int i = 0; i < started; i++) {
        struct error later;
        if (!see_through(batch, work, &work->board->region[i], children[i],
                         arena, good ? error : &later)) {
            good = false;
            atomic_store(&work->board->next, work->total);
        }
    }
    return good;
}

static int by_place(const void *left, const void *right) {
    const struct decoded *a = left, *b = right;
    if (a->source != b->source)
        return a->source < b->source ? -1 : 1;
    if (a->message != b->message)
        return a->message < b->message ? -1 : 1;
    return (a->number > b->number) - (a->number < b->number);
}

static int by_loss(const void *left, const void *right) {
    const struct lost *a = left, *b = right;
    if (a->source != b->source)
        return a->source < b->source ? -1 : 1;
    return (a->message > b->message) - (a->message < b->message);
}

static void collect(struct batch *batch, const struct board *board, int workers,
                    struct arena *arena) {
    for (int i = 0; i < workers; i++) {
        for (const struct entry *entry = board->region[i].first; entry;
             entry = entry->next) {
            batch->fields = arena_room(arena, batch->fields, batch->count,
                                       &batch->capacity, sizeof *batch->fields);
            batch->fields[batch->count++] = entry->decoded;
        }
    }
    if (batch->count > 0)
        qsort(batch->fields, batch->count, sizeof *batch->fields, by_place);
    if (batch->loss_count > 0)
        qsort(batch->losses, batch->loss_count, sizeof *batch->losses, by_loss);
}

static void number_messages(struct work *work, struct arena *arena) {
    work->first = arena_alloc(arena, work->source_count + 1, sizeof(size_t));
    for (size_t i = 0; i < work->source_count; i++)
        work->first[i + 1] = work->first[i] + work->sources[i].scan.count;
    work->total = work->first[work->source_count];
}

static int workers_for(const struct work *work) {
    size_t bytes = 0;
    if (work->options->workers > 0)
        return work->options->workers;
    for (size_t i = 0; i < work->source_count; i++)
        bytes += work->sources[i].size;
    return bytes < SHARED_BYTES ? 1 : USUAL_WORKERS;
}

bool batch_decode(struct batch *batch, const struct source *sources,
                  size_t count, const struct forecast_options *options,
                  struct arena *arena, struct error *error) {
    *batch = (struct batch){0};
    struct work work = {
        .sources = sources, .source_count = count, .options = options};
    int workers = workers_for(&work);
    assert(workers >= 1 && workers <= WORKERS_LIMIT);
    number_messages(&work, arena);
    work.board = map_shared(sizeof *work.board);
    if (!work.board)
        return out_of_resource(error, "no memory");
    batch->board = work.board;
    for (int i = 0; i < workers; i++) {
        if (!map_region(&work.board->region[i])) {
            out_of_resource(error, "no memory");
            batch_free(batch);
            return false;
        }
    }
    bool good = run_children(batch, &work, workers, arena, error);
    if (good)
        collect(batch, work.board, workers, arena);
    else
        batch_free(batch);
    return good;
}

void batch_free(struct batch *batch) {
    if (!batch->board)
        return;
    for (int i = 0; i < WORKERS_LIMIT; i++) {
        const struct region *region = &batch->board->region[i];
        if (region->bytes)
            munmap(region->bytes, region->size);
    }
    munmap(batch->board, sizeof *batch->board);
    batch->board = NULL;
}
