/* A locale that writes 1,5 where C writes 1.5, made on the spot, since a bare
 * machine has none. */
#ifndef TESTS_COMMA_LOCALE_H
#define TESTS_COMMA_LOCALE_H

#include <stdbool.h>

/* Puts the whole process under German numbers; false, saying "skipped:", where
 * such a locale can't be made. */
bool comma_locale_begin(void);

/* Back to C. */
void comma_locale_end(void);

#endif
