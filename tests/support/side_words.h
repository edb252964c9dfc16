/* "port" alone could be the spar, the wind or a harbour. */
#ifndef TESTS_SIDE_WORDS_H
#define TESTS_SIDE_WORDS_H

/* Fails unless every "port" and "starboard" in `text` follows "to", "the" or
 * "spar". */
void check_side_words(const char *text);

#endif
