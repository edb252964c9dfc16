/* Invented passages over open water with forecasts by formula, as large as
 * wanted: for the bench, and for tests that need a whole file. The same
 * weather at every grid, within what the grid shows of it.
 *
 *   ocean      2,000 nmi of trades that swing, a trough passes north of them
 *   offshore   400 nmi across a bay, in a file as an e-mail carries it
 *   hard       1,200 nmi with a low that works up against the direct way
 *   far        any distance westward in the trades of one ocean
 *   grid       1,000 nmi of the first one's weather, the grid as asked
 */
#ifndef TESTS_OCEAN_MAKER_H
#define TESTS_OCEAN_MAKER_H

#include "base/instant.h"
#include "earth/angle.h"
#include "earth/position.h"

#include <stddef.h>

/* What the files hold of one place and hour, seven parameters in this order;
 * directions are those that it comes from. */
enum ocean_field {
    OCEAN_WIND_EAST,
    OCEAN_WIND_NORTH,
    OCEAN_GUST,
    OCEAN_PRESSURE,
    OCEAN_WAVE_HEIGHT,
    OCEAN_WAVE_PERIOD,
    OCEAN_WAVE_FROM,
    OCEAN_FIELDS
};

struct ocean_weather {
    double values[OCEAN_FIELDS]; /* m/s, Pa, m, s, degrees */
};

struct ocean {
    const char *name;
    struct ocean_weather (*weather)(struct position at, double hour);
    double north_deg, west_deg, step_deg; /* west may be below -180 */
    int ni, nj;
    int hours, every;
    struct position from, to;
    int depart_h;        /* after the run */
    const char *packing; /* NULL: grid_simple */
    int bits;
    /* An ensemble: the control, then member k with the same weather so many
     * hours later and its wind, gust and waves by that part stronger, each k
     * times. 0 members: none. */
    int members;
    double later_h, stronger_frac;
};

/* The run of all of them. */
extern const struct civil ocean_run;

struct ocean ocean_trades(void);
struct ocean ocean_offshore(void);
struct ocean ocean_hard(void);
struct ocean ocean_far(double nmi);
struct ocean ocean_grid(double step_deg);

/* The passage of `ocean` with an ensemble of so many, the control among them:
 * each half an hour later and 2 % stronger than the one before. */
struct ocean ocean_ensemble(struct ocean ocean, int members);

/* Messages in the file, and values in each. */
size_t ocean_messages(const struct ocean *ocean);
size_t ocean_points(const struct ocean *ocean);

/* Writes the forecast; aborts where it can't. */
void ocean_write_forecast(const struct ocean *ocean, const char *path);

/* Writes a passage file; `forecast` and `boat` are paths as it has them. No
 * coast. */
void ocean_write_passage(const struct ocean *ocean, const char *forecast,
                         const char *boat, const char *path);

/* The weather of the first three. */
struct ocean_weather ocean_weather_trades(struct position at, double hour);
struct ocean_weather ocean_weather_offshore(struct position at, double hour);
struct ocean_weather ocean_weather_hard(struct position at, double hour);

#endif
