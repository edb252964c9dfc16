/* A small forecast file made for one test: weather by formula (analytic.h) on
 * a grid, and the request that goes with it. The run is 2026-06-01T00:00Z. */
#ifndef TESTS_SCENE_H
#define TESTS_SCENE_H

#include "analytic.h"
#include "plan/request.h"
#include "plan/world.h"

/* What the file holds of the sea. */
enum scene_sea {
    SCENE_NO_SEA,
    SCENE_HEIGHT, /* height of the combined sea alone */
    SCENE_COMBINED,
    SCENE_APART,    /* wind sea and a swell, and the height of the whole */
    SCENE_WIND_SEA, /* combined sea and wind sea, but no swell */
    SCENE_SWELL     /* the swell alone */
};

struct scene {
    const char *name; /* of its files, in the folder of the test */
    struct analytic weather;
    double south_deg, north_deg, west_deg, east_deg, step_deg;
    int hours, every;
    enum scene_sea sea;
    bool no_gust;
    bool no_sea_north; /* the sea is masked north of `sea_north_deg` */
    double sea_north_deg;
    int skip_from_h, skip_to_h; /* steps left out, both ends too; 0: none */
};

/* Writes the file; the path is valid to the end of the program. */
const char *scene_write(const struct scene *scene);

/* Its world, with the boat of polars/NAME.ini. Ends the test on an error. */
struct world scene_world(const struct scene *scene, const char *boat,
                         struct arena *arena);

/* A request with the defaults of the program, but without a coast: a scene may
 * lie anywhere. */
struct request scene_request(const char *from, const char *to,
                             const char *depart, struct arena *arena);

#endif
