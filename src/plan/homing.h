/* Home by homeward_sail(), and on where that has turned as often as it may, the
 * way asked for anew. For what-ifs, which want a time, not the best one. */
#ifndef PLAN_HOMING_H
#define PLAN_HOMING_H

#include "search/homeward.h"

/* Sails for `seconds` at most, or to the goal: `boat` is there, or the time is
 * over, where it returns OBSTACLE_NONE; else what stopped her. */
enum obstacle homing_sail(const struct voyage *voyage, struct underway *boat,
                          const struct homeward *way, double seconds);

#endif
