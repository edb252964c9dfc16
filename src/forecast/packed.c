#include "forecast/packed.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Section 5, from its first octet. */
enum {
    COUNT_AT = 5,
    TEMPLATE_AT = 9,
    REFERENCE_AT = 11,
    BINARY_AT = 15,
    DECIMAL_AT = 17,
    WIDTH_AT = 19,
    DESCRIPTION_LEAST = 21,
    HEAD = 5 /* octets of a section before its contents */
};
/* Section 6. */
enum { INDICATOR_AT = 5, BITMAP_HERE = 0, BITMAP_NONE = 255 };

/* Scale factors beyond these pack nothing of nature. */
enum { BINARY_LIMIT = 60, DECIMAL_LIMIT = 20 };

/* Bytes read from the place of a value on. */
enum { WINDOW = 8 };

/* --- finding --------------------------------------------------------------*/

static uint64_t number(const uint8_t *bytes, int count) {
    uint64_t value = 0;
    for (int i = 0; i < count; i++)
        value = value << 8 | bytes[i];
    return value;
}

/* Two octets, the first bit a sign. */
static int signed_number(const uint8_t *bytes) {
    int size = (int)number(bytes, 2) & 0x7fff;
    return bytes[0] & 0x80 ? -size : size;
}

static double real_number(const uint8_t *bytes) {
    uint32_t word = (uint32_t)number(bytes, 4);
    float value;
    static_assert(sizeof value == sizeof word, "IEEE 754 single");
    memcpy(&value, &word, sizeof value);
    return (double)value;
}

/* 10^-D as the GRIB library has it, step by step: for the same bytes. */
static double decimal_scale(int decimal) {
    double scale = 1.0;
    for (; decimal > 0; decimal--)
        scale /= 10.0;
    for (; decimal < 0; decimal++)
        scale *= 10.0;
    return scale;
}

static bool find_bitmap(struct packed *packed, const struct cutter *cutter) {
    const uint8_t *section = cutter->section[6];
    size_t length = cutter->section_length[6];
    if (length <= INDICATOR_AT)
        return false;
    if (section[INDICATOR_AT] == BITMAP_HERE) {
        packed->bitmap = section + INDICATOR_AT + 1;
        packed->bitmap_size = length - INDICATOR_AT - 1;
    }
    return packed->bitmap || section[INDICATOR_AT] == BITMAP_NONE;
}

bool packed_find(struct packed *packed, const struct cutter *cutter) {
    const uint8_t *section = cutter->section[5];
    *packed = (struct packed){0};
    if (cutter->section_length[5] < DESCRIPTION_LEAST ||
        number(section + TEMPLATE_AT, 2) != 0 || !find_bitmap(packed, cutter))
        return false;
    int binary = signed_number(section + BINARY_AT);
    int decimal = signed_number(section + DECIMAL_AT);
    packed->width = section[WIDTH_AT];
    packed->count = (size_t)number(section + COUNT_AT, 4);
    packed->bits = cutter->section[7] + HEAD;
    packed->size = cutter->section_length[7] - HEAD;
    if (packed->width < 1 || packed->width > PACKED_WIDTH_LIMIT ||
        packed->count > GRID_POINTS_LIMIT ||
        packed->size < (packed->count * (size_t)packed->width + 7) / 8 ||
        abs(binary) > BINARY_LIMIT || abs(decimal) > DECIMAL_LIMIT)
        return false;
    packed->size = (packed->count * (size_t)packed->width + 7) / 8;
    packed->reference = real_number(section + REFERENCE_AT);
    packed->step = ldexp(1.0, binary);
    packed->scale = decimal_scale(decimal);
    return isfinite(packed->reference);
}

/* --- the grid -------------------------------------------------------------*/

static bool is_set(const uint8_t *bitmap, size_t at) {
    return bitmap[at / 8] >> (7 - at % 8) & 1;
}

/* Bits that are set from `start` up to `end`. */
static size_t count_bits(const uint8_t *bitmap, size_t start, size_t end) {
    size_t count = 0;
    for (; start < end && start % 8 > 0; start++)
        count += is_set(bitmap, start);
    for (; start + 8 <= end; start += 8)
        count += (size_t)__builtin_popcount(bitmap[start / 8]);
    for (; start < end; start++)
        count += is_set(bitmap, start);
    return count;
}

bool packed_lay(struct packed *packed, const struct grid_corners *corners,
                size_t *missing) {
    size_t points = (size_t)corners->ni * (size_t)corners->nj;
    if (corners->by_columns || corners->alternating)
        return false;
    packed->columns = (int)corners->ni;
    packed->rows = (int)corners->nj;
    packed->west_going = corners->west_going;
    packed->north_going = corners->north_going;
    *missing = points - packed->count;
    if (!packed->bitmap)
        return packed->count == points;
    return packed->bitmap_size >= (points + 7) / 8 &&
           count_bits(packed->bitmap, 0, points) == packed->count;
}

/* --- values ---------------------------------------------------------------*/

static size_t bytes_of(const struct packed *packed) {
    size_t rows = packed->bitmap ? (size_t)packed->rows : 0;
    return rows * sizeof(uint32_t) + packed->bitmap_size + packed->size;
}

size_t packed_room(const struct packed *packed) {
    return bytes_of(packed) + WINDOW;
}

void packed_move(struct packed *packed, void *room) {
    uint8_t *to = room;
    memset(to + bytes_of(packed), 0, WINDOW);
    if (packed->bitmap) {
        uint32_t *row_first = room, before = 0;
        size_t columns = (size_t)packed->columns, at = 0;
        for (int row = 0; row < packed->rows; row++, at += columns) {
            row_first[row] = before;
            before += (uint32_t)count_bits(packed->bitmap, at, at + columns);
        }
        to += (size_t)packed->rows * sizeof *row_first;
        packed->row_first = row_first;
        packed->bitmap = memcpy(to, packed->bitmap, packed->bitmap_size);
        to += packed->bitmap_size;
    }
    packed->bits = memcpy(to, packed->bits, packed->size);
}

/* Written out, so that compilers make one load of it. */
static uint64_t window_at(const uint8_t *at) {
    return (uint64_t)at[0] << 56 | (uint64_t)at[1] << 48 |
           (uint64_t)at[2] << 40 | (uint64_t)at[3] << 32 |
           (uint64_t)at[4] << 24 | (uint64_t)at[5] << 16 |
           (uint64_t)at[6] << 8 | (uint64_t)at[7];
}

/* X of value `index`: WINDOW bytes hold it wherever in a byte it starts. */
static uint32_t bits_of(const struct packed *packed, size_t index) {
    size_t bit = index * (size_t)packed->width;
    uint64_t window = window_at(packed->bits + bit / 8);
    return (uint32_t)(window << bit % 8 >> (64 - packed->width));
}

/* The same in the message, behind which there may be nothing to read. */
static uint32_t bits_in_message(const struct packed *packed, size_t index) {
    size_t bit = index * (size_t)packed->width, at = bit / 8;
    if (packed->size - at >= WINDOW)
        return bits_of(packed, index);
    uint8_t rest[WINDOW] = {0};
    memcpy(rest, packed->bits + at, packed->size - at);
    return (uint32_t)(window_at(rest) << bit % 8 >> (64 - packed->width));
}

static float value_of(const struct packed *packed, uint32_t bits) {
    double value =
        ((double)bits * packed->step + packed->reference) * packed->scale;
    return (float)value;
}

/* Not below the least: NaN can't be. */
static float held(const struct packed *packed, float value) {
    return value < packed->least ? packed->least : value;
}

bool packed_within(struct packed *packed, double low, double high,
                   double least) {
    uint32_t lowest = 0, highest = 0;
    packed->least = (float)least;
    highest = (uint32_t)(((uint64_t)1 << packed->width) - 1);
    if ((double)value_of(packed, lowest) >= low &&
        (double)value_of(packed, highest) <= high)
        return true;
    lowest = highest;
    highest = 0;
    for (size_t i = 0; i < packed->count; i++) {
        uint32_t bits = bits_in_message(packed, i);
        lowest = bits < lowest ? bits : lowest;
        highest = bits > highest ? bits : highest;
    }
    return packed->count == 0 || ((double)value_of(packed, lowest) >= low &&
                                  (double)value_of(packed, highest) <= high);
}

/* Where our row starts and runs in the message. */
struct line {
    size_t first, at; /* of the row, and of the first value wanted */
    int step;         /* from one of our columns to the next */
};

static struct line line_of(const struct packed *packed, int row, int column) {
    int line = packed->north_going ? row : packed->rows - 1 - row;
    size_t first = (size_t)line * (size_t)packed->columns;
    int along = packed->west_going ? packed->columns - 1 - column : column;
    return (struct line){.first = first,
                         .at = first + (size_t)along,
                         .step = packed->west_going ? -1 : 1};
}

/* One value after another as the bitmap has them. */
static void masked_row(const struct packed *packed, int row, struct line line,
                       int count, float *values, uint8_t *known) {
    int in_message = packed->north_going ? row : packed->rows - 1 - row;
    size_t start = line.step > 0 ? line.at : line.at - (size_t)(count - 1);
    size_t index = packed->row_first[in_message] +
                   count_bits(packed->bitmap, line.first, start);
    for (int i = 0; i < count; i++) {
        int to = line.step > 0 ? i : count - 1 - i;
        known[to] = is_set(packed->bitmap, start + (size_t)i);
        values[to] = 0.0F;
        if (known[to])
            values[to] =
                held(packed, value_of(packed, bits_of(packed, index++)));
    }
}

/* By value: what is written can't change it, as compilers then know. */
static void whole_row(struct packed packed, struct line line, int count,
                      float *values) {
    for (int i = 0; i < count; i++) {
        values[i] = held(&packed, value_of(&packed, bits_of(&packed, line.at)));
        line.at += (size_t)line.step;
    }
}

void packed_row(const struct packed *packed, int row, int column, int count,
                float *values, uint8_t *known) {
    struct line line = line_of(packed, row, column);
    assert(column >= 0 && column + count <= packed->columns);
    if (packed->bitmap) {
        masked_row(packed, row, line, count, values, known);
        return;
    }
    whole_row(*packed, line, count, values);
    memset(known, 1, (size_t)count);
}

void packed_all(const struct packed *packed, const struct grid *grid,
                float *values, uint8_t *known) {
    size_t at = 0;
    for (int row = 0; row < grid->nj; row++, at += (size_t)grid->ni)
        packed_row(packed, row, 0, grid->ni, values + at, known + at);
}

void packed_take(const struct packed *packed, const struct grid_part *part,
                 const struct grid *grid, float *values) {
    assert(!packed->bitmap);
    for (int j = 0; j < grid->nj; j++) {
        for (int i = 0; i < grid->ni; i++) {
            int column = (part->column + i) % part->whole.ni;
            size_t at = line_of(packed, part->row + j, column).at;
            *values++ =
                held(packed, value_of(packed, bits_in_message(packed, at)));
        }
    }
}

bool packed_same(const struct packed *a, const struct packed *b) {
    return a->width == b->width && a->count == b->count && a->size == b->size &&
           !(fabs(a->reference - b->reference) > 0.0) &&
           !(fabs(a->step - b->step) > 0.0) &&
           !(fabs(a->scale - b->scale) > 0.0) && a->columns == b->columns &&
           a->rows == b->rows && a->west_going == b->west_going &&
           a->north_going == b->north_going &&
           a->bitmap_size == b->bitmap_size &&
           memcmp(a->bits, b->bits, a->size) == 0 &&
           (a->bitmap_size == 0 ||
            memcmp(a->bitmap, b->bitmap, a->bitmap_size) == 0);
}
