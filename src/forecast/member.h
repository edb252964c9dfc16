/* Members of an ensemble: which are there, and which one each quantity is taken
 * of.
 *
 * The wind decides: the control, else the forecast without members, else the
 * lowest member; or the one that is asked for. All other quantities are of the
 * same member. One that has none of it is taken of the forecast without
 * members; where there is no such either, it is not used beside a member that
 * was asked for, whose weather it is not, and else chosen as the wind is.
 */
#ifndef FORECAST_MEMBER_H
#define FORECAST_MEMBER_H

#include "forecast/decode.h"

struct notes;

/* Members of a quantity, those that come first in the files. */
enum { ROSTER_MEMBERS = 1000 };

/* What the fields of a batch are of, for each quantity: each once, the
 * forecast without members first, then the control, then by number. */
struct roster {
    struct member *members[QUANTITY_COUNT];
    size_t count[QUANTITY_COUNT];
    bool full; /* there are more than ROSTER_MEMBERS */
};

/* For each quantity; `used` is false where nothing of it is used. */
struct choice {
    bool used[QUANTITY_COUNT];
    struct member member[QUANTITY_COUNT];
};

struct roster roster_of(const struct batch *batch, struct arena *arena);

/* The number is that of `--member`; unknown: none is asked for. Tells in notes
 * what is used of several, and what there was no room for. False, STATUS_INPUT,
 * where the wind has no such member, or several of that number; a forecast
 * without any wind is no error here. */
bool choice_make(struct choice *choice, const struct roster *roster,
                 struct figure number, struct notes *notes,
                 struct error *error);

/* That member, which the wind has; nothing is told. */
struct choice choice_of(const struct roster *roster, struct member member);

bool choice_takes(const struct choice *choice, const struct grib_field *field);

/* "20 members (the control, 1 to 19)"; NULL where there are none. In `arena`.
 */
const char *roster_text(const struct roster *roster, enum quantity quantity,
                        struct arena *arena);

#endif
