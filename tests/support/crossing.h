/* The crossings on which the search is measured: a forecast, a boat and where
 * to go, with no coast. */
#ifndef TESTS_CROSSING_H
#define TESTS_CROSSING_H

#include "plan/weather.h"
#include "search/search.h"

/* Filled in place, since it points into itself. */
struct crossing {
    const char *name;
    struct arena arena;
    struct world world;
    struct request request;
    struct weather_view weather;
    struct voyage voyage;
    struct search_request asked;
};

/* grib-samples/trade-crossing.ini: 1,300 nmi before trade winds, with waves
 * and a current. */
void crossing_trades(struct crossing *crossing);

/* grib-samples/coastal-hop.ini: 150 nmi along a coast, which is left out. */
void crossing_hop(struct crossing *crossing);

/* 680 nmi to the east of Madagascar on real winds, without waves. False where
 * the file is not there: it is told, then call skip(). */
bool crossing_madagascar(struct crossing *crossing);

/* 1,100 nmi to the east-north-east with a low that overtakes on the direct way:
 * headwinds to the north of its track, a fair wind to the south. Invented:
 * 1 degree, 6-hourly, wind and gust. */
void crossing_low(struct crossing *crossing);

void crossing_free(struct crossing *crossing);

#endif
