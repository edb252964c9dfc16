/* Output files that appear whole or not at all: written beside their place
 * under another name, renamed when complete. */
#ifndef BASE_FILE_H
#define BASE_FILE_H

#include "base/error.h"
#include <stdbool.h>
#include <stdio.h>

enum { FILE_PATH_SIZE = 4096 };

struct draft {
    FILE *stream; /* write here */
    char path[FILE_PATH_SIZE];
    char temporary[FILE_PATH_SIZE];
};

/* STATUS_WRITE where the folder can't be written. */
bool draft_open(struct draft *draft, const char *path, struct error *error);

/* Flushes, checks, renames. On failure nothing is left of the draft and an
 * older file of that name is untouched. */
bool draft_commit(struct draft *draft, struct error *error);

/* Drops what was written. Safe on a draft that was never opened or is done. */
void draft_discard(struct draft *draft);

bool file_exists(const char *path);

/* Makes the folder if it is not there; its parent must exist. */
bool file_make_folder(const char *path, struct error *error);

#endif
