/* Tables that are aligned for the eye and rows of Markdown at once. */
#ifndef BENCH_TABLE_H
#define BENCH_TABLE_H

#include <stddef.h>

enum { TABLE_COLUMNS = 12, TABLE_ROWS = 24, TABLE_CELL = 64 };

/* The first row holds the heads. */
struct table {
    char cells[TABLE_ROWS][TABLE_COLUMNS][TABLE_CELL];
    size_t columns, rows, filled; /* cells in the row being filled */
};

/* Heads parted by '|'. */
struct table table_make(const char *heads);

/* The next cell; a row ends by itself. */
void table_add(struct table *table, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* The rest of the row stays empty. */
void table_skip(struct table *table);

/* The first column to the left, the others to the right. */
void table_print(const struct table *table, const char *title);

#endif
