/* The engine: a part of the fuel may be burnt, and what there is to motor is
 * held to that. */
#ifndef PLAN_ENGINE_H
#define PLAN_ENGINE_H

#include "search/track.h"

/* As the boat file's [motor] has it; zeroed, no motoring, where there is none.
 */
struct motoring engine_of(const struct boat *boat);

/* The same for a search that has to be sparing: a second of it costs `price`
 * seconds beside itself, and she motors only where that pays, on the course
 * that she is on: v(sail) < v(motor) / (1 + price). */
struct motoring engine_priced(const struct voyage *voyage, double price);

/* What the engine burns in all, litres: under way and, beside that, charging.
 */
double engine_litres(const struct boat *boat, double motored_s,
                     double elapsed_s);

/* Fuel less reserve, litres. */
double engine_usable_litres(const struct boat *boat);

/* So long may she motor within the fuel where the whole takes `elapsed_s`;
 * below 0: charging alone takes more. She has an engine. */
double engine_usable_s(const struct boat *boat, double elapsed_s);

/* The boat at the end of a course; false where it can't be sailed, or not
 * without creeping (search/track.h). */
bool engine_sail(const struct voyage *voyage, const struct track *course,
                 const struct underway *start, struct underway *boat);

/* Is a course sailed within the fuel? True, too, without an engine. */
bool engine_is_within(const struct voyage *voyage, const struct track *course,
                      const struct underway *start);

/* Lowers the speed below which she motors until the course is within the fuel,
 * no more than that asks for; all the way up to a moment, then a little more.
 * The course's cost by that; HUGE_VAL where it can't be sailed so. */
double engine_fit(struct voyage *voyage, const struct track *course,
                  const struct underway *start, double *elapsed_s);

#endif
