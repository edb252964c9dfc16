/* malloc() and its like for the libraries: where memory is out the program
 * ends, as arena_exhausted() says it, and no library goes on without. */
#ifndef BASE_HEAP_H
#define BASE_HEAP_H

#include <stddef.h>

/* Never NULL; given back with free(). */
void *heap_take(size_t bytes);
void *heap_resize(void *place, size_t bytes);
char *heap_copy(const char *text);

#endif
