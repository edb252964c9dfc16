/* What the watch on deck reads stands on one screen. */
#ifndef TESTS_ONE_SCREEN_H
#define TESTS_ONE_SCREEN_H

enum { SCREEN_LINES = 40 };

/* Fails where the departure and the next work on deck of a schedule take more.
 */
void check_one_screen(const char *schedule);

#endif
