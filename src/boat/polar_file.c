/* Reads a polar from a delimited table.
 *
 * The separator is fixed once, by the first row: a tab, else a semicolon, else
 * a comma, else blanks. The decimal mark is fixed by the first number that has
 * one. Nothing is guessed from the numbers: a table that could be read in two
 * ways is refused, with line and column. */
#include "boat/polar.h"

#include "base/text.h"
#include "base/units.h"
#include <ctype.h>
#include <string.h>

#define WIND_LIMIT_KN 100.0
#define SPEED_LIMIT_KN 60.0
#define ANGLE_LIMIT_DEG 180.0

enum { CELLS = POLAR_WINDS + 2, UNIT_WORD = 16 };

struct table {
    const char *path;
    int line;
    char separator; /* '\t', ';', ',', or ' ' for any run of blanks */
    char decimal;   /* '.' or ',', 0 while no number has shown it */
    size_t columns; /* of the first row, the corner counted */
    char *cells[CELLS];
    bool falling; /* angles, once there are two */
    struct arena *arena;
    struct error *error;
};

/* --- cells ------------------------------------------------------------------
 */

/* `column` counts from 1. Prefixes file and line. */
static bool refuse_cell(struct table *table, size_t column, const char *why) {
    error_set(table->error, STATUS_INPUT, "column %zu: %s", column, why);
    return error_at(table->error, "%s:%d", table->path, table->line);
}

static bool refuse_row(struct table *table, const char *why) {
    error_set(table->error, STATUS_INPUT, "%s", why);
    return error_at(table->error, "%s:%d", table->path, table->line);
}

/* Blanks and one pair of double quotes off a cell. */
static char *bare(char *cell) {
    cell = text_trim(cell);
    size_t length = strlen(cell);
    if (length < 2 || cell[0] != '"' || cell[length - 1] != '"')
        return cell;
    cell[length - 1] = '\0';
    return text_trim(cell + 1);
}

static char *next_cell(char **rest, char separator) {
    char *cell = *rest;
    if (!cell)
        return NULL;
    size_t length = separator == ' ' ? strcspn(cell, " \t")
                                     : strcspn(cell, (char[]){separator, '\0'});
    *rest = cell[length] ? cell + length + 1 : NULL;
    cell[length] = '\0';
    return cell;
}

/* Splits `line` in place; the number of cells, CELLS + 1 where there are
 * more. One separator too many at the end makes no cell. */
static size_t split(struct table *table, char *line) {
    size_t count = 0;
    char *rest = line, *cell;
    while ((cell = next_cell(&rest, table->separator))) {
        if (table->separator == ' ' && *cell == '\0')
            continue;
        if (count == CELLS)
            return CELLS + 1;
        table->cells[count++] = bare(cell);
    }
    if (count > 1 && *table->cells[count - 1] == '\0')
        count--;
    return count;
}

/* With its decimal mark made a point, in place. */
static bool settle_decimal(struct table *table, char *cell, size_t column) {
    char *comma = strchr(cell, ','), *point = strchr(cell, '.');
    if (comma && point)
        return refuse_cell(
            table, column,
            arena_print(table->arena,
                        "'%.40s' holds a comma and a point; write 1234.5 or "
                        "1234,5",
                        cell));
    char mark = '.';
    if (comma)
        mark = ',';
    else if (!point)
        return true;
    if (table->decimal && table->decimal != mark)
        return refuse_cell(
            table, column,
            arena_print(table->arena,
                        "'%.40s' has another decimal mark than the numbers "
                        "before; use one for the whole table",
                        cell));
    table->decimal = mark;
    if (comma)
        *comma = '.';
    return true;
}

static bool number(struct table *table, size_t column, double *value) {
    char *cell = table->cells[column - 1];
    if (*cell == '\0')
        return refuse_cell(table, column,
                           "no value; a polar may have no gap, write 0 where "
                           "the boat makes no speed");
    if (!settle_decimal(table, cell, column))
        return false;
    if (text_to_double(cell, value))
        return true;
    return refuse_cell(table, column,
                       arena_print(table->arena,
                                   "'%.40s' is not a number; cells hold plain "
                                   "numbers in knots and degrees",
                                   cell));
}

/* --- the first row -----------------------------------------------------------
 */

static bool is_foreign_unit(const char *word) {
    static const char *const units[] = {"m/s", "mps", "ms",  "km/h",     "kmh",
                                        "kph", "mph", "bft", "beaufort", "ft/s",
                                        "fps", "rad", "gon", "radians"};
    for (size_t i = 0; i < sizeof units / sizeof *units; i++) {
        size_t length = strlen(word), unit = strlen(units[i]);
        if (length < unit || !text_same(word + length - unit, units[i]))
            continue;
        if (length == unit || word[length - unit - 1] == '/')
            return true;
    }
    return false;
}

/* The first word of the row that names a unit other than ours, or NULL. */
static const char *foreign_unit(const char *row, char word[UNIT_WORD]) {
    while (*row) {
        size_t length = 0;
        while (isalpha((unsigned char)row[length]) || row[length] == '/')
            length++;
        if (length > 0 && length < UNIT_WORD) {
            for (size_t i = 0; i < length; i++)
                word[i] = (char)tolower((unsigned char)row[i]);
            word[length] = '\0';
            if (is_foreign_unit(word))
                return word;
        }
        row += length ? length : 1;
    }
    return NULL;
}

/* True if a part between two commas, the corner aside, is two words: then the
 * commas are decimal marks and blanks separate. */
static bool comma_is_decimal(const char *row) {
    const char *cell = strchr(row, ',');
    while (cell) {
        cell++;
        cell += strspn(cell, " \t");
        size_t word = strcspn(cell, ", \t");
        size_t blanks = strspn(cell + word, " \t");
        if (blanks > 0 && cell[word + blanks] != ',' &&
            cell[word + blanks] != '\0')
            return true;
        cell = strchr(cell, ',');
    }
    return false;
}

static char separator_of(const char *row) {
    if (strchr(row, '\t'))
        return '\t';
    if (strchr(row, ';'))
        return ';';
    if (strchr(row, ',') && !comma_is_decimal(row))
        return ',';
    return ' ';
}

/* Where blanks separate, the free text of the corner may be several words:
 * those that are no numbers go together. */
static size_t join_corner(struct table *table, size_t count) {
    double value;
    size_t words = 1;
    while (words < count && !text_to_double(table->cells[words], &value) &&
           !strchr(table->cells[words], ','))
        words++;
    size_t left = count - (words - 1);
    memmove(table->cells + 1, table->cells + words,
            (left - 1) * sizeof *table->cells);
    return left;
}

static bool read_winds(struct table *table, struct polar *polar) {
    polar->winds = table->columns - 1;
    polar->wind_mps =
        arena_alloc(table->arena, polar->winds, sizeof *polar->wind_mps);
    double before_kn = -1.0;
    for (size_t i = 0; i < polar->winds; i++) {
        double wind_kn = 0.0;
        if (!number(table, i + 2, &wind_kn))
            return false;
        if (wind_kn < 0.0 || wind_kn > WIND_LIMIT_KN)
            return refuse_cell(table, i + 2,
                               "the wind is outside 0 to 100 kn; the first "
                               "row holds wind speeds in knots");
        if (wind_kn <= before_kn)
            return refuse_cell(table, i + 2,
                               "the wind does not rise from column to column; "
                               "put the columns in order, each wind once");
        before_kn = wind_kn;
        polar->wind_mps[i] = kn_to_mps(wind_kn);
    }
    return true;
}

static bool read_first_row(struct table *table, struct polar *polar,
                           char *row) {
    char word[UNIT_WORD];
    const char *unit = foreign_unit(row, word);
    if (unit)
        return refuse_row(
            table, arena_print(table->arena,
                               "the first row names the unit '%s'; a polar "
                               "holds knots and degrees, convert the table",
                               unit));
    table->separator = separator_of(row);
    size_t count = split(table, row);
    if (count > CELLS)
        return refuse_row(table, "more than 200 wind columns");
    if (table->separator == ' ')
        count = join_corner(table, count);
    if (count < 3)
        return refuse_row(table,
                          "fewer than two wind columns; the first row "
                          "is a free text and then wind speeds in knots, "
                          "separated by tab, semicolon, comma or blanks");
    if (count > POLAR_WINDS + 1)
        return refuse_row(table, "more than 200 wind columns");
    table->columns = count;
    return read_winds(table, polar);
}

/* --- the other rows
 * ----------------------------------------------------------- */

static bool read_angle(struct table *table, struct polar *polar) {
    double angle_deg = 0.0;
    if (!number(table, 1, &angle_deg))
        return false;
    if (angle_deg < 0.0 || angle_deg > ANGLE_LIMIT_DEG)
        return refuse_cell(table, 1, "the angle is outside 0 to 180 degrees");
    size_t row = polar->angles;
    polar->angle_deg[row] = angle_deg;
    if (row == 0)
        return true;
    double before_deg = polar->angle_deg[row - 1];
    if (row == 1)
        table->falling = angle_deg < before_deg;
    if (table->falling ? angle_deg < before_deg : angle_deg > before_deg)
        return true;
    return refuse_cell(
        table, 1,
        arena_print(table->arena,
                    "the angle %g does not %s from %g; put the rows in order, "
                    "each angle once",
                    angle_deg, table->falling ? "fall" : "rise", before_deg));
}

static bool read_speeds(struct table *table, struct polar *polar) {
    double *row = polar->speed_mps + polar->angles * polar->winds;
    for (size_t i = 0; i < polar->winds; i++) {
        double speed_kn = 0.0;
        if (!number(table, i + 2, &speed_kn))
            return false;
        if (speed_kn < 0.0 || speed_kn > SPEED_LIMIT_KN)
            return refuse_cell(table, i + 2, "the speed is outside 0 to 60 kn");
        row[i] = kn_to_mps(speed_kn);
    }
    return true;
}

static bool read_row(struct table *table, struct polar *polar, char *line) {
    size_t count = split(table, line);
    if (count != table->columns)
        return refuse_row(
            table, arena_print(table->arena,
                               "%zu cells where the first row has %zu; a "
                               "polar may have no gap, and one separator",
                               count, table->columns));
    if (polar->angles == POLAR_ANGLES)
        return refuse_row(table, "more than 361 rows of angles");
    if (!read_angle(table, polar) || !read_speeds(table, polar))
        return false;
    polar->angles++;
    return true;
}

/* --- the whole
 * ----------------------------------------------------------------- */

static void turn_round(struct polar *polar) {
    for (size_t i = 0, k = polar->angles - 1; i < k; i++, k--) {
        double angle_deg = polar->angle_deg[i];
        polar->angle_deg[i] = polar->angle_deg[k];
        polar->angle_deg[k] = angle_deg;
        for (size_t j = 0; j < polar->winds; j++) {
            double *a = &polar->speed_mps[i * polar->winds + j];
            double *b = &polar->speed_mps[k * polar->winds + j];
            double speed_mps = *a;
            *a = *b;
            *b = speed_mps;
        }
    }
}

/* A first column of no wind says what is so anyway: no speed. */
static bool drop_calm(struct polar *polar, const char *path,
                      struct error *error) {
    size_t winds = polar->winds;
    if (polar->wind_mps[0] > 0.0)
        return true;
    for (size_t i = 0; i < polar->angles; i++)
        if (polar->speed_mps[i * winds] > 0.0)
            return error_set(error, STATUS_INPUT,
                             "%s: makes speed in no wind at %g degrees; leave "
                             "the column of 0 kn out",
                             path, polar->angle_deg[i]);
    if (winds < 3)
        return error_set(error, STATUS_INPUT,
                         "%s: has fewer than two columns with wind", path);
    for (size_t i = 0; i < polar->angles; i++)
        memmove(polar->speed_mps + i * (winds - 1),
                polar->speed_mps + i * winds + 1, (winds - 1) * sizeof(double));
    polar->wind_mps++;
    polar->winds--;
    return true;
}

static bool is_remark(const char *line) {
    line += strspn(line, " \t");
    return *line == '\0' || *line == '#';
}

static bool read_rows(struct table *table, struct polar *polar, char *rest) {
    char *line;
    while ((line = text_next_line(&rest))) {
        table->line++;
        if (is_remark(line))
            continue;
        if (table->columns > 0) {
            if (!read_row(table, polar, line))
                return false;
            continue;
        }
        if (!read_first_row(table, polar, line))
            return false;
        polar->angle_deg =
            arena_alloc(table->arena, POLAR_ANGLES, sizeof *polar->angle_deg);
        polar->speed_mps =
            arena_alloc(table->arena, POLAR_ANGLES * polar->winds,
                        sizeof *polar->speed_mps);
    }
    return true;
}

bool polar_load(struct polar *polar, const char *path, struct arena *arena,
                struct error *error) {
    *polar = (struct polar){0};
    struct table table = {.path = path, .arena = arena, .error = error};
    char *text = text_load(arena, path, POLAR_FILE_BYTES, error);
    if (!text || !read_rows(&table, polar, text))
        return false;
    if (polar->angles < 2)
        return error_set(error, STATUS_INPUT,
                         "%s: has fewer than two rows of angles; the first "
                         "row is wind speeds, each other row an angle and "
                         "its speeds",
                         path);
    if (table.falling)
        turn_round(polar);
    if (!drop_calm(polar, path, error))
        return false;
    polar_make_index(polar);
    return true;
}
