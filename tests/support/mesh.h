/* A square lattice of places on the Mercator chart, where lines between them
 * are rhumb lines; start and finish are two of them. It lies so that the way to
 * the finish leads where edges are close together. Places that lead too far
 * round, or are too far from a way that is known, are left out. */
#ifndef TESTS_MESH_H
#define TESTS_MESH_H

#include "base/arena.h"
#include "earth/mercator.h"
#include <stddef.h>

enum { MESH_NONE = -1 };

/* Where she is at what time. */
struct mesh_moment {
    struct position at;
    double t_s;
};

struct mesh_options {
    double spacing_m; /* more or less */
    int reach;        /* of edges either way, in spacings */
    double longest;   /* way through a place, in parts of the direct one */
    const struct mesh_moment *rough; /* a way that is known */
    size_t rough_count;              /* 0: none */
    double width_m;                  /* how far off it places may be */
};

/* So many spacings to the right and up. */
struct mesh_edge {
    int right, up;
};

struct mesh_node {
    enum { MESH_UNSEEN, MESH_WANTED, MESH_UNWANTED } state;
    struct position at;
    double due_s; /* when the rough way is there */
};

struct mesh {
    struct mesh_options options;
    struct position from, to;
    struct mercator origin, spacing; /* on the chart, to the right */
    struct mesh_edge finish, corner; /* from the start; the first node */
    int width;                       /* nodes in a row, and rows */
    struct mesh_node *nodes;
    /* to all nodes within reach that no shorter one of the same direction leads
     * to: 80 for a reach of 5, 96 for 6, 176 for 8 */
    struct mesh_edge *edges;
    size_t edge_count;
    const struct mercator *rough;
};

void mesh_lay(struct mesh *mesh, struct position from, struct position to,
              const struct mesh_options *options, struct arena *arena);

/* How many numbers of nodes there are. */
size_t mesh_size(const struct mesh *mesh);

int mesh_start(struct mesh *mesh);
int mesh_finish(struct mesh *mesh);

/* The node at the far end of an edge; MESH_NONE where it is left out. */
int mesh_along(struct mesh *mesh, int node, struct mesh_edge edge);

/* Of a node that one of these has named. */
const struct mesh_node *mesh_node(const struct mesh *mesh, int node);

#endif
