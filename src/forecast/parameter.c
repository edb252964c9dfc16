#include "forecast/parameter.h"

#include <math.h>
#include <stdio.h>

/* At which levels a parameter is what we want. */
enum level_rule {
    AT_10_M, /* at the surface where there is no 10 m */
    IS_10_M, /* the parameter itself says so */
    AT_GUST, /* 10 m or surface */
    AT_SEA_LEVEL,
    IS_SEA_LEVEL,
    AT_WAVES,  /* surface, mean sea, or first of a sequence */
    AT_SWELLS, /* the same; which of a sequence is which swell */
    AT_CURRENT /* surface, or not deeper than a metre */
};

/* Where the number of edition 1 comes from. */
enum table_rule {
    TABLE_WMO = 2,  /* any table below 128, 0 too, numbers below 128 */
    TABLE_NCEP = 1, /* numbers from 128 in table 2 of centre 7 */
    TABLE_ECMWF_128 = 128,
    TABLE_ECMWF_140 = 140,
    TABLE_ECMWF_228 = 228
};

struct row_1 {
    enum table_rule table;
    int number;
    enum quantity quantity;
    enum part part;
    enum level_rule level;
    int rank;
};

struct row_2 {
    int discipline, category, number;
    enum quantity quantity;
    enum part part;
    enum level_rule level;
    int rank;
};

/* For the combined sea the period and direction of the peak go before those of
 * the primary system, and these before the means: one system has to stand for
 * the whole, and the highest one is felt. */
static const struct row_2 ROWS_2[] = {
    {0, 2, 0, QUANTITY_WIND, PART_DIRECTION, AT_10_M, 0},
    {0, 2, 1, QUANTITY_WIND, PART_SPEED, AT_10_M, 0},
    {0, 2, 2, QUANTITY_WIND, PART_EAST, AT_10_M, 0},
    {0, 2, 3, QUANTITY_WIND, PART_NORTH, AT_10_M, 0},
    {0, 2, 22, QUANTITY_GUST, PART_VALUE, AT_GUST, 0},
    {0, 3, 1, QUANTITY_PRESSURE, PART_VALUE, IS_SEA_LEVEL, 0},
    {0, 3, 0, QUANTITY_PRESSURE, PART_VALUE, AT_SEA_LEVEL, 1},
    {10, 0, 3, QUANTITY_SEA, PART_HEIGHT, AT_WAVES, 0},
    {10, 0, 46, QUANTITY_SEA, PART_DIRECTION, AT_WAVES, 0},
    {10, 0, 10, QUANTITY_SEA, PART_DIRECTION, AT_WAVES, 1},
    {10, 0, 14, QUANTITY_SEA, PART_DIRECTION, AT_WAVES, 2},
    {10, 0, 34, QUANTITY_SEA, PART_PERIOD, AT_WAVES, 0},
    {10, 0, 11, QUANTITY_SEA, PART_PERIOD, AT_WAVES, 1},
    {10, 0, 15, QUANTITY_SEA, PART_PERIOD, AT_WAVES, 2},
    {10, 0, 28, QUANTITY_SEA, PART_PERIOD, AT_WAVES, 3},
    {10, 0, 4, QUANTITY_WIND_SEA, PART_DIRECTION, AT_WAVES, 0},
    {10, 0, 5, QUANTITY_WIND_SEA, PART_HEIGHT, AT_WAVES, 0},
    {10, 0, 6, QUANTITY_WIND_SEA, PART_PERIOD, AT_WAVES, 1},
    {10, 0, 35, QUANTITY_WIND_SEA, PART_PERIOD, AT_WAVES, 0},
    {10, 0, 71, QUANTITY_WIND_SEA, PART_DIRECTION, AT_WAVES, 1},
    {10, 0, 7, QUANTITY_SWELL_1, PART_DIRECTION, AT_SWELLS, 0},
    {10, 0, 8, QUANTITY_SWELL_1, PART_HEIGHT, AT_SWELLS, 0},
    {10, 0, 9, QUANTITY_SWELL_1, PART_PERIOD, AT_SWELLS, 0},
    {10, 0, 47, QUANTITY_SWELL_1, PART_HEIGHT, AT_WAVES, 1},
    {10, 0, 48, QUANTITY_SWELL_2, PART_HEIGHT, AT_WAVES, 1},
    {10, 0, 49, QUANTITY_SWELL_3, PART_HEIGHT, AT_WAVES, 1},
    {10, 0, 50, QUANTITY_SWELL_1, PART_PERIOD, AT_WAVES, 1},
    {10, 0, 51, QUANTITY_SWELL_2, PART_PERIOD, AT_WAVES, 1},
    {10, 0, 52, QUANTITY_SWELL_3, PART_PERIOD, AT_WAVES, 1},
    {10, 0, 53, QUANTITY_SWELL_1, PART_DIRECTION, AT_WAVES, 1},
    {10, 0, 54, QUANTITY_SWELL_2, PART_DIRECTION, AT_WAVES, 1},
    {10, 0, 55, QUANTITY_SWELL_3, PART_DIRECTION, AT_WAVES, 1},
    {10, 1, 0, QUANTITY_CURRENT, PART_DIRECTION, AT_CURRENT, 0},
    {10, 1, 1, QUANTITY_CURRENT, PART_SPEED, AT_CURRENT, 0},
    {10, 1, 2, QUANTITY_CURRENT, PART_EAST, AT_CURRENT, 0},
    {10, 1, 3, QUANTITY_CURRENT, PART_NORTH, AT_CURRENT, 0},
};

static const struct row_1 ROWS_1[] = {
    {TABLE_WMO, 1, QUANTITY_PRESSURE, PART_VALUE, AT_SEA_LEVEL, 1},
    {TABLE_WMO, 2, QUANTITY_PRESSURE, PART_VALUE, IS_SEA_LEVEL, 0},
    {TABLE_WMO, 31, QUANTITY_WIND, PART_DIRECTION, AT_10_M, 0},
    {TABLE_WMO, 32, QUANTITY_WIND, PART_SPEED, AT_10_M, 0},
    {TABLE_WMO, 33, QUANTITY_WIND, PART_EAST, AT_10_M, 0},
    {TABLE_WMO, 34, QUANTITY_WIND, PART_NORTH, AT_10_M, 0},
    {TABLE_WMO, 47, QUANTITY_CURRENT, PART_DIRECTION, AT_CURRENT, 0},
    {TABLE_WMO, 48, QUANTITY_CURRENT, PART_SPEED, AT_CURRENT, 0},
    {TABLE_WMO, 49, QUANTITY_CURRENT, PART_EAST, AT_CURRENT, 0},
    {TABLE_WMO, 50, QUANTITY_CURRENT, PART_NORTH, AT_CURRENT, 0},
    {TABLE_WMO, 100, QUANTITY_SEA, PART_HEIGHT, AT_WAVES, 0},
    {TABLE_WMO, 101, QUANTITY_WIND_SEA, PART_DIRECTION, AT_WAVES, 0},
    {TABLE_WMO, 102, QUANTITY_WIND_SEA, PART_HEIGHT, AT_WAVES, 0},
    {TABLE_WMO, 103, QUANTITY_WIND_SEA, PART_PERIOD, AT_WAVES, 0},
    {TABLE_WMO, 104, QUANTITY_SWELL_1, PART_DIRECTION, AT_SWELLS, 0},
    {TABLE_WMO, 105, QUANTITY_SWELL_1, PART_HEIGHT, AT_SWELLS, 0},
    {TABLE_WMO, 106, QUANTITY_SWELL_1, PART_PERIOD, AT_SWELLS, 0},
    {TABLE_WMO, 107, QUANTITY_SEA, PART_DIRECTION, AT_WAVES, 1},
    {TABLE_WMO, 108, QUANTITY_SEA, PART_PERIOD, AT_WAVES, 1},
    {TABLE_NCEP, 180, QUANTITY_GUST, PART_VALUE, AT_GUST, 0},
    {TABLE_ECMWF_128, 49, QUANTITY_GUST, PART_VALUE, IS_10_M, 0},
    {TABLE_ECMWF_128, 123, QUANTITY_GUST, PART_VALUE, IS_10_M, 0},
    {TABLE_ECMWF_128, 131, QUANTITY_WIND, PART_EAST, AT_10_M, 0},
    {TABLE_ECMWF_128, 132, QUANTITY_WIND, PART_NORTH, AT_10_M, 0},
    {TABLE_ECMWF_128, 151, QUANTITY_PRESSURE, PART_VALUE, IS_SEA_LEVEL, 0},
    {TABLE_ECMWF_128, 165, QUANTITY_WIND, PART_EAST, IS_10_M, 0},
    {TABLE_ECMWF_128, 166, QUANTITY_WIND, PART_NORTH, IS_10_M, 0},
    {TABLE_ECMWF_128, 207, QUANTITY_WIND, PART_SPEED, IS_10_M, 0},
    {TABLE_ECMWF_228, 28, QUANTITY_GUST, PART_VALUE, IS_10_M, 0},
    {TABLE_ECMWF_228, 29, QUANTITY_GUST, PART_VALUE, IS_10_M, 0},
    {TABLE_ECMWF_140, 121, QUANTITY_SWELL_1, PART_HEIGHT, AT_WAVES, 1},
    {TABLE_ECMWF_140, 122, QUANTITY_SWELL_1, PART_DIRECTION, AT_WAVES, 1},
    {TABLE_ECMWF_140, 123, QUANTITY_SWELL_1, PART_PERIOD, AT_WAVES, 1},
    {TABLE_ECMWF_140, 124, QUANTITY_SWELL_2, PART_HEIGHT, AT_WAVES, 1},
    {TABLE_ECMWF_140, 125, QUANTITY_SWELL_2, PART_DIRECTION, AT_WAVES, 1},
    {TABLE_ECMWF_140, 126, QUANTITY_SWELL_2, PART_PERIOD, AT_WAVES, 1},
    {TABLE_ECMWF_140, 127, QUANTITY_SWELL_3, PART_HEIGHT, AT_WAVES, 1},
    {TABLE_ECMWF_140, 128, QUANTITY_SWELL_3, PART_DIRECTION, AT_WAVES, 1},
    {TABLE_ECMWF_140, 129, QUANTITY_SWELL_3, PART_PERIOD, AT_WAVES, 1},
    {TABLE_ECMWF_140, 229, QUANTITY_SEA, PART_HEIGHT, AT_WAVES, 0},
    {TABLE_ECMWF_140, 230, QUANTITY_SEA, PART_DIRECTION, AT_WAVES, 2},
    {TABLE_ECMWF_140, 231, QUANTITY_SEA, PART_PERIOD, AT_WAVES, 0},
    {TABLE_ECMWF_140, 232, QUANTITY_SEA, PART_PERIOD, AT_WAVES, 2},
    {TABLE_ECMWF_140, 234, QUANTITY_WIND_SEA, PART_HEIGHT, AT_WAVES, 0},
    {TABLE_ECMWF_140, 235, QUANTITY_WIND_SEA, PART_DIRECTION, AT_WAVES, 0},
    {TABLE_ECMWF_140, 236, QUANTITY_WIND_SEA, PART_PERIOD, AT_WAVES, 0},
    {TABLE_ECMWF_140, 237, QUANTITY_SWELL_1, PART_HEIGHT, AT_SWELLS, 0},
    {TABLE_ECMWF_140, 238, QUANTITY_SWELL_1, PART_DIRECTION, AT_SWELLS, 0},
    {TABLE_ECMWF_140, 239, QUANTITY_SWELL_1, PART_PERIOD, AT_SWELLS, 0},
};

enum {
    CENTRE_NCEP = 7,
    CENTRE_ECMWF = 98,
    ECMWF_GUST_SINCE_PREVIOUS = 49,
    LOCAL = 128, /* numbers and tables from here on are a centre's own */
    RANK_TOTAL_SWELL = 2
};

static bool is_surface(struct level level) {
    return level.kind == LEVEL_SURFACE || level.kind == LEVEL_NONE ||
           level.kind == LEVEL_MEAN_SEA;
}

static bool is_10_m(struct level level) {
    return level.kind == LEVEL_HEIGHT && fabs(level.value - 10.0) < 0.01;
}

/* Adds the level's rank; false where the level is not the one wanted. */
static bool rank_level(enum level_rule rule, struct level level, int *rank) {
    switch (rule) {
    case IS_10_M:
    case IS_SEA_LEVEL:
        return true;
    case AT_10_M:
        *rank += is_surface(level) ? 1 : 0;
        return is_10_m(level) || is_surface(level);
    case AT_GUST:
        return is_10_m(level) || is_surface(level);
    case AT_SEA_LEVEL:
        return level.kind == LEVEL_MEAN_SEA;
    case AT_WAVES:
        return is_surface(level) ||
               (level.kind == LEVEL_ORDER && level.value < 1.5);
    case AT_SWELLS:
        return is_surface(level) || level.kind == LEVEL_ORDER;
    case AT_CURRENT:
        *rank += is_surface(level) ? 0 : 1;
        return is_surface(level) ||
               (level.kind == LEVEL_DEPTH && level.value <= 1.0);
    }
    return false;
}

/* Which swell of a sequence this is; the total of all swells stands in as the
 * first where there is no sequence. */
static bool place_swell(struct level level, struct parameter *parameter) {
    if (level.kind != LEVEL_ORDER) {
        parameter->rank = RANK_TOTAL_SWELL;
        return true;
    }
    int order = (int)(level.value + 0.5);
    if (order < 1 || order > 3)
        return false;
    parameter->quantity = (enum quantity)((int)QUANTITY_SWELL_1 + order - 1);
    return true;
}

static enum recognition settle(enum level_rule rule, struct level level,
                               struct parameter *parameter) {
    if (!rank_level(rule, level, &parameter->rank))
        return RECOGNITION_LEVEL;
    if (rule == AT_SWELLS && !place_swell(level, parameter))
        return RECOGNITION_LEVEL;
    bool polar = parameter->part == PART_SPEED ||
                 (parameter->part == PART_DIRECTION &&
                  parameter->quantity <= QUANTITY_CURRENT);
    /* u and v of a level go before its speed and direction */
    if (parameter->quantity == QUANTITY_WIND ||
        parameter->quantity == QUANTITY_CURRENT)
        parameter->rank = 2 * parameter->rank + (polar ? 1 : 0);
    return RECOGNITION_USED;
}

static enum recognition find_2(const struct parameter_code *code,
                               struct parameter *parameter) {
    for (size_t i = 0; i < sizeof ROWS_2 / sizeof *ROWS_2; i++) {
        const struct row_2 *row = &ROWS_2[i];
        if (row->discipline != code->discipline ||
            row->category != code->category || row->number != code->number)
            continue;
        *parameter = (struct parameter){
            .quantity = row->quantity, .part = row->part, .rank = row->rank};
        return settle(row->level, code->level, parameter);
    }
    return RECOGNITION_UNKNOWN;
}

static bool is_in_table(const struct row_1 *row,
                        const struct parameter_code *code) {
    if (row->number != code->number)
        return false;
    switch (row->table) {
    case TABLE_WMO:
        return code->table < LOCAL;
    case TABLE_NCEP:
        return code->table < LOCAL && code->centre == CENTRE_NCEP;
    case TABLE_ECMWF_128:
    case TABLE_ECMWF_140:
    case TABLE_ECMWF_228:
        return code->table == (int)row->table && code->centre == CENTRE_ECMWF;
    }
    return false;
}

static enum recognition find_1(const struct parameter_code *code,
                               struct parameter *parameter) {
    for (size_t i = 0; i < sizeof ROWS_1 / sizeof *ROWS_1; i++) {
        const struct row_1 *row = &ROWS_1[i];
        if (!is_in_table(row, code))
            continue;
        *parameter = (struct parameter){
            .quantity = row->quantity,
            .part = row->part,
            .rank = row->rank,
            .since_previous = row->table == TABLE_ECMWF_128 &&
                              row->number == ECMWF_GUST_SINCE_PREVIOUS};
        return settle(row->level, code->level, parameter);
    }
    return RECOGNITION_UNKNOWN;
}

enum recognition parameter_find(const struct parameter_code *code,
                                struct parameter *parameter) {
    return code->edition == 1 ? find_1(code, parameter)
                              : find_2(code, parameter);
}

struct level level_edition_1(int type, int value) {
    switch (type) {
    case 0:
        return (struct level){LEVEL_NONE, 0.0};
    case 1:
        return (struct level){LEVEL_SURFACE, 0.0};
    case 100:
        return (struct level){LEVEL_PRESSURE, value};
    case 102:
        return (struct level){LEVEL_MEAN_SEA, 0.0};
    case 103:
    case 105:
        return (struct level){LEVEL_HEIGHT, value};
    case 125:
        return (struct level){LEVEL_HEIGHT, value / 100.0};
    case 160:
        return (struct level){LEVEL_DEPTH, value};
    case 241:
        return (struct level){LEVEL_ORDER, value};
    default:
        return (struct level){LEVEL_OTHER, type};
    }
}

struct level level_edition_2(int type, bool there, long factor, long scaled) {
    double value = there && factor >= -20 && factor <= 20
                       ? (double)scaled * pow(10.0, -(double)factor)
                       : 0.0;
    switch (type) {
    case 1:
        return (struct level){LEVEL_SURFACE, 0.0};
    case 100:
        return (struct level){LEVEL_PRESSURE, value / 100.0};
    case 101:
        return (struct level){LEVEL_MEAN_SEA, 0.0};
    case 102:
    case 103:
        return (struct level){LEVEL_HEIGHT, value};
    case 160:
        return (struct level){LEVEL_DEPTH, value};
    case 241:
        return (struct level){LEVEL_ORDER, value};
    case 255:
        return (struct level){LEVEL_NONE, 0.0};
    default:
        return (struct level){LEVEL_OTHER, type};
    }
}

void level_print(struct level level, char text[LEVEL_TEXT_SIZE]) {
    switch (level.kind) {
    case LEVEL_NONE:
        snprintf(text, LEVEL_TEXT_SIZE, "no level");
        return;
    case LEVEL_SURFACE:
        snprintf(text, LEVEL_TEXT_SIZE, "surface");
        return;
    case LEVEL_MEAN_SEA:
        snprintf(text, LEVEL_TEXT_SIZE, "mean sea level");
        return;
    case LEVEL_HEIGHT:
        snprintf(text, LEVEL_TEXT_SIZE, "%g m", level.value);
        return;
    case LEVEL_DEPTH:
        snprintf(text, LEVEL_TEXT_SIZE, "%g m deep", level.value);
        return;
    case LEVEL_PRESSURE:
        snprintf(text, LEVEL_TEXT_SIZE, "%g hPa", level.value);
        return;
    case LEVEL_ORDER:
        snprintf(text, LEVEL_TEXT_SIZE, "no. %g of a sequence", level.value);
        return;
    case LEVEL_OTHER:
        snprintf(text, LEVEL_TEXT_SIZE, "level type %g", level.value);
        return;
    }
}

void parameter_print(const struct parameter_code *code,
                     char text[PARAMETER_TEXT_SIZE]) {
    if (code->edition == 1)
        snprintf(text, PARAMETER_TEXT_SIZE, "table %d, number %d", code->table,
                 code->number);
    else
        snprintf(text, PARAMETER_TEXT_SIZE,
                 "discipline %d, category %d, number %d", code->discipline,
                 code->category, code->number);
}
