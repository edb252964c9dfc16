/* What the numbers in a message's header mean to a passage.
 *
 * Parameters are known by discipline, category, number and level (edition 2)
 * or by table, number and level (edition 1), never by a name: names differ
 * between releases of the GRIB library, numbers don't. Sources: WMO Manual on
 * Codes, code tables 4.2 and 4.5 (edition 2), 2 and 3 (edition 1); ECMWF
 * tables 128, 140, 228; NCEP table 2.
 */
#ifndef FORECAST_PARAMETER_H
#define FORECAST_PARAMETER_H

#include "forecast/forecast.h"

/* What one field of a quantity holds. Speeds in m/s, directions in degrees
 * (wind and waves from, current towards), pressure in Pa. */
enum part {
    PART_VALUE, /* gust, pressure */
    PART_EAST,
    PART_NORTH,
    PART_SPEED,
    PART_DIRECTION,
    PART_HEIGHT,
    PART_PERIOD
};

struct parameter {
    enum quantity quantity;
    enum part part;
    int rank; /* among several forms of the same thing the lowest is used */
    bool since_previous; /* a maximum since the step before */
};

enum level_kind {
    LEVEL_NONE, /* not given */
    LEVEL_SURFACE,
    LEVEL_MEAN_SEA,
    LEVEL_HEIGHT,   /* metres above the ground or the sea */
    LEVEL_DEPTH,    /* metres below the surface of the sea */
    LEVEL_PRESSURE, /* hPa */
    LEVEL_ORDER,    /* the 1st, 2nd, ... of a sequence */
    LEVEL_OTHER     /* `value` is the number of the level type */
};

struct level {
    enum level_kind kind;
    double value;
};

struct parameter_code {
    int edition;
    int discipline, category; /* edition 2 */
    int centre, table;        /* edition 1 */
    int number;
    struct level level;
};

enum recognition {
    RECOGNITION_USED,
    RECOGNITION_LEVEL,  /* ours, but at a level that is not used */
    RECOGNITION_UNKNOWN /* nothing that a plan needs */
};

/* Fills `parameter` unless it is unknown. */
enum recognition parameter_find(const struct parameter_code *code,
                                struct parameter *parameter);

/* Level of edition 1 (code table 3) and of edition 2 (code table 4.5; the
 * value as scaled value and factor, `there` false where it is missing). */
struct level level_edition_1(int type, int value);
struct level level_edition_2(int type, bool there, long factor, long scaled);

enum { PARAMETER_TEXT_SIZE = 72, LEVEL_TEXT_SIZE = 32 };

/* "10 m", "850 hPa", "surface", "level type 109". */
void level_print(struct level level, char text[LEVEL_TEXT_SIZE]);

/* "discipline 10, category 0, number 192"; the level is left out. */
void parameter_print(const struct parameter_code *code,
                     char text[PARAMETER_TEXT_SIZE]);

#endif
