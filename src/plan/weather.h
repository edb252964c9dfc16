/* The forecast as a voyage asks for it: conditions at (place, seconds since
 * departure). Where the files hold no waves, or not all that is needed, the sea
 * is estimated from the wind, its past and the fetch; what lies beyond the last
 * step is held, expected or refused. */
#ifndef PLAN_WEATHER_H
#define PLAN_WEATHER_H

#include "base/units.h"
#include "plan/request.h"
#include "plan/world.h"
#include "voyage/voyage.h"

/* The crew's own wind counts only after the last fields were held so long. */
#define WEATHER_HOLD_S (24.0 * SECONDS_PER_HOUR)

/* The sun is worked out once per interval, for so many of them: 40 days. */
enum { WEATHER_SUNS = 160 };
#define WEATHER_SUN_S 21600.0

struct weather_view {
    const struct forecast *forecast;
    const struct seaway *seaway;      /* NULL: no past of the wind is known */
    const struct fetch *fetch;        /* NULL: all is open water */
    bool has_wind_sea, has_swell;     /* the files, somewhere */
    double depart_unix_s, end_unix_s; /* of the wind's last step */
    enum after_forecast after;
    double expected_from_deg, expected_mps; /* AFTER_WIND */
    struct sun suns[WEATHER_SUNS + 1];      /* from departure on */
};

struct weather_view weather_view(const struct world *world,
                                 const struct request *request);

/* For struct voyage's `light`. */
enum light weather_light(const void *view, struct position position,
                         double t_s);

/* For struct voyage's `conditions`; `view` is a struct weather_view. */
enum obstacle weather_conditions(const void *view, struct position position,
                                 double t_s, struct conditions *conditions);

#endif
