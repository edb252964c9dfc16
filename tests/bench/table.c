#include "table.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

struct table table_make(const char *heads) {
    struct table table = {.columns = 1};
    for (const char *c = heads; *c; c++)
        table.columns += *c == '|';
    assert(table.columns <= TABLE_COLUMNS);
    for (size_t i = 0; i < table.columns; i++) {
        size_t length = strcspn(heads, "|");
        table_add(&table, "%.*s", (int)length, heads);
        heads += length + (heads[length] == '|');
    }
    return table;
}

void table_add(struct table *table, const char *format, ...) {
    assert(table->rows < TABLE_ROWS);
    va_list list;
    va_start(list, format);
    vsnprintf(table->cells[table->rows][table->filled], TABLE_CELL, format,
              list);
    va_end(list);
    if (++table->filled == table->columns) {
        table->filled = 0;
        table->rows++;
    }
}

void table_skip(struct table *table) {
    while (table->filled > 0)
        table_add(table, "%s", "");
}

static int width_of(const struct table *table, size_t column) {
    size_t width = 3;
    for (size_t row = 0; row < table->rows; row++) {
        size_t length = strlen(table->cells[row][column]);
        width = length > width ? length : width;
    }
    return (int)width;
}

static void print_row(const struct table *table, size_t row) {
    for (size_t i = 0; i < table->columns; i++)
        printf(i == 0 ? "| %-*s " : "| %*s ", width_of(table, i),
               table->cells[row][i]);
    printf("|\n");
}

static void print_rule(const struct table *table) {
    for (size_t i = 0; i < table->columns; i++) {
        printf(i == 0 ? "|-" : "| ");
        for (int dash = 0; dash < width_of(table, i); dash++)
            putchar('-');
        printf(i == 0 ? "-" : ":");
    }
    printf("|\n");
}

void table_print(const struct table *table, const char *title) {
    printf("\n%s\n\n", title);
    print_row(table, 0);
    print_rule(table);
    for (size_t row = 1; row < table->rows; row++)
        print_row(table, row);
    fflush(stdout);
}
