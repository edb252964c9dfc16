#include "comma_locale.h"

#include "check.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool comma_locale_begin(void) {
    char line[4096];
    snprintf(line, sizeof line, "localedef -i de_DE -f UTF-8 %s/de_DE.UTF-8",
             check_folder());
    struct ran ran = check_shell(line);
    setenv("LOCPATH", check_folder(), 1);
    if (ran.status == 0 && setlocale(LC_ALL, "de_DE.UTF-8") &&
        strcmp(localeconv()->decimal_point, ",") == 0)
        return true;
    print_message("skipped: no locale with a decimal comma: %s\n", ran.err);
    comma_locale_end();
    return false;
}

void comma_locale_end(void) {
    setlocale(LC_ALL, "C");
    unsetenv("LOCPATH");
}
