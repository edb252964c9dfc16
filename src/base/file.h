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
    char temporary[FILE_PATH_SIZE]; /* empty: none is there */
};

/* STATUS_WRITE where the folder can't be written. */
bool draft_open(struct draft *draft, const char *path, struct error *error);

/* All of it on the disk: draft_commit() has only to rename. For files that
 * belong together. */
bool draft_finish(struct draft *draft, struct error *error);

/* Finishes, renames. On failure nothing is left of the draft and an older file
 * of that name is untouched. */
bool draft_commit(struct draft *draft, struct error *error);

/* Drops what was written. Safe on a draft that was never opened or is done. */
void draft_discard(struct draft *draft);

bool file_exists(const char *path);

/* Keeps other runs from writing into the folder until file_unlock(). False:
 * another one does. Where a folder can't be locked nobody is kept from it. */
bool file_lock(const char *folder, int *lock);
void file_unlock(int lock);

/* Makes the folder if it is not there; its parent must exist. */
bool file_make_folder(const char *path, struct error *error);

#endif
