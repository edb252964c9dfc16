/* What the fuzz targets share. A target is one function that hands its bytes to
 * one parser: libFuzzer calls it with bytes of its own making (`make fuzz`),
 * replay.c with those that are kept in seeds/. What must hold of the answer is
 * asserted, so that a wrong one is found and not only a crash. */
#ifndef TESTS_FUZZ_H
#define TESTS_FUZZ_H

#include "base/arena.h"
#include "base/error.h"
#include <stddef.h>
#include <stdint.h>

/* The target; 0 always. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

enum { FUZZ_FILES = 4 };

/* Writes a file of that name, over an older one; its path, valid to the end.
 * All lie in one folder, which goes at exit; at most FUZZ_FILES names. */
const char *fuzz_file(const char *name, const void *bytes, size_t size);

/* The bytes as a text of just that size. */
char *fuzz_text(const uint8_t *bytes, size_t size, struct arena *arena);

/* A refusal says why, and blames what was given. */
void fuzz_check_refusal(const struct error *error);

#endif
