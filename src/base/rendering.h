/* A text made in memory: it is whole before any of it goes out, so what fails
 * while it is made fails before anything is written. Without memory the program
 * ends with STATUS_RESOURCE. */
#ifndef BASE_RENDERING_H
#define BASE_RENDERING_H

#include <stdio.h>

struct rendering {
    FILE *stream; /* to write it to */
    char *bytes;  /* hold once it is closed */
    size_t size;
};

void rendering_open(struct rendering *rendering);
void rendering_close(struct rendering *rendering);

/* Of one that is closed, or zeroed. */
void rendering_free(struct rendering *rendering);

#endif
