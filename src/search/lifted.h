/* A voyage without one of its limits: does that one close the way? */
#ifndef SEARCH_LIFTED_H
#define SEARCH_LIFTED_H

#include "voyage/voyage.h"

/* The same voyage without the limit of wind, gust or wave that `cause` names,
 * or without the zones that open again; false where it has none of that kind.
 * `*lifted` points to `voyage`. */
bool lifted_voyage(const struct voyage *voyage, enum obstacle cause,
                   struct voyage *lifted);

#endif
