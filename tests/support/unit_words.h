/* "145" alone could be degrees, knots or metres. */
#ifndef TESTS_UNIT_WORDS_H
#define TESTS_UNIT_WORDS_H

/* Fails unless every number in the sentences of a schedule has a unit behind
 * it, or is one of a range that has, part of a date or a position, or counted
 * in words ("reef 2", "3 more"). Not looked at: rows of tables, whose units
 * stand in their heading, numbers of steps, and the names of passage and
 * boat. */
void check_unit_words(const char *schedule);

#endif
