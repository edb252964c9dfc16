#include "flat.h"

#include <ctype.h>

void flatten(char *text) {
    char *end = text;
    for (const char *at = text; *at; at++) {
        char next = isspace((unsigned char)*at) ? ' ' : *at;
        if (next != ' ' || (end > text && end[-1] != ' '))
            *end++ = next;
    }
    *end = '\0';
}
