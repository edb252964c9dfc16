/* Reports without their line breaks. */
#ifndef TESTS_FLAT_H
#define TESTS_FLAT_H

/* Makes every run of blanks and line ends one blank, in place. */
void flatten(char *text);

#endif
