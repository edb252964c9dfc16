#include "floor.h"

#include "measure.h"

#include <eccodes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>

/* Room for the values of one message. */
struct buffer {
    double *values;
    size_t capacity;
};

static void stop(const char *path, int code) {
    fprintf(stderr, "bench: %s: %s\n", path, codes_get_error_message(code));
    exit(1);
}

static size_t decode_one(codes_handle *handle, struct buffer *buffer,
                         int *code) {
    size_t count = 0;
    *code = codes_get_size(handle, "values", &count);
    if (*code != 0)
        return 0;
    if (count > buffer->capacity) {
        free(buffer->values);
        buffer->values = malloc(count * sizeof *buffer->values);
        buffer->capacity = count;
        if (!buffer->values)
            abort();
    }
    *code = codes_get_double_array(handle, "values", buffer->values, &count);
    return count;
}

static void decode_all(const char *path, struct floor_taken *taken) {
    struct buffer buffer = {0};
    codes_handle *handle;
    int code = 0;
    FILE *stream = fopen(path, "rb");
    if (!stream)
        stop(path, CODES_FILE_NOT_FOUND);
    taken->messages = taken->values = 0;
    while ((handle = codes_handle_new_from_file(NULL, stream, PRODUCT_GRIB,
                                                &code))) {
        taken->values += decode_one(handle, &buffer, &code);
        taken->messages++;
        codes_handle_delete(handle);
        if (code != 0)
            break;
    }
    if (code != 0)
        stop(path, code);
    fclose(stream);
    free(buffer.values);
}

static void measure(const void *path, void *result) {
    struct floor_taken *taken = result;
    double start_s = seconds_now();
    taken->seconds = taken->cpu_s = HUGE_VAL;
    for (int round = 0; measure_again(round, start_s); round++) {
        double round_s = seconds_now(), round_cpu_s = cpu_seconds_now();
        decode_all(path, taken);
        taken->seconds = fmin(taken->seconds, seconds_now() - round_s);
        taken->cpu_s = fmin(taken->cpu_s, cpu_seconds_now() - round_cpu_s);
    }
}

struct floor_taken floor_measure(const char *path) {
    struct floor_taken taken = {0};
    struct stat file;
    measure_apart(measure, path, &taken, sizeof taken);
    if (stat(path, &file) == 0)
        taken.bytes = (size_t)file.st_size;
    return taken;
}
