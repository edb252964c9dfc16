#include "mesh.h"

#include "earth/rhumb.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

/* The way to the finish leads so many spacings to one side for one onwards,
 * about: of all slopes the golden section is the furthest from small
 * fractions, next to which there are gaps between edges. */
static const double SLOPE = 0.618;

static int divisor(int a, int b) {
    return b == 0 ? abs(a) : divisor(b, a % b);
}

static void make_edges(struct mesh *mesh, struct arena *arena) {
    int reach = mesh->options.reach;
    size_t side = 2 * (size_t)reach + 1;
    mesh->edges = arena_alloc(arena, side * side, sizeof *mesh->edges);
    for (int up = -reach; up <= reach; up++)
        for (int right = -reach; right <= reach; right++)
            if (divisor(right, up) == 1)
                mesh->edges[mesh->edge_count++] = (struct mesh_edge){right, up};
}

static void put_rough(struct mesh *mesh, struct arena *arena) {
    size_t count = mesh->options.rough_count;
    struct mercator *line = arena_alloc(arena, count + 1, sizeof *line);
    for (size_t i = 0; i < count; i++)
        line[i] = mercator_near(mesh->options.rough[i].at, mesh->origin);
    mesh->rough = line;
}

void mesh_lay(struct mesh *mesh, struct position from, struct position to,
              const struct mesh_options *options, struct arena *arena) {
    *mesh = (struct mesh){.options = *options, .from = from, .to = to};
    double spacings = rhumb_between(from, to).distance_m / options->spacing_m;
    double onwards = spacings / hypot(1.0, SLOPE);
    mesh->finish =
        (struct mesh_edge){(int)lround(onwards), (int)lround(onwards * SLOPE)};
    mesh->origin = mercator_of(from);
    struct mercator end = mercator_near(to, mesh->origin);
    double x = end.x - mesh->origin.x, y = end.y - mesh->origin.y;
    double r = mesh->finish.right, u = mesh->finish.up;
    double square = r * r + u * u;
    mesh->spacing =
        (struct mercator){(x * r + y * u) / square, (y * r - x * u) / square};
    int half = (int)ceil(0.5 * options->longest * sqrt(square)) + 1;
    mesh->width = 2 * half + 1;
    mesh->corner = (struct mesh_edge){mesh->finish.right / 2 - half,
                                      mesh->finish.up / 2 - half};
    mesh->nodes = arena_alloc(arena, mesh_size(mesh), sizeof *mesh->nodes);
    make_edges(mesh, arena);
    put_rough(mesh, arena);
}

size_t mesh_size(const struct mesh *mesh) {
    return (size_t)mesh->width * (size_t)mesh->width;
}

/* --- nodes ----------------------------------------------------------------*/

static struct mercator chart_at(const struct mesh *mesh, struct mesh_edge way) {
    struct mercator spacing = mesh->spacing;
    double r = way.right, u = way.up;
    return (struct mercator){mesh->origin.x + r * spacing.x - u * spacing.y,
                             mesh->origin.y + r * spacing.y + u * spacing.x};
}

/* How far from a line, and in what part of it. */
static double apart_from_line(struct mercator p, struct mercator a,
                              struct mercator b, double *part) {
    double x = b.x - a.x, y = b.y - a.y, square = x * x + y * y;
    *part = square > 0.0 ? ((p.x - a.x) * x + (p.y - a.y) * y) / square : 0.0;
    *part = fmin(1.0, fmax(0.0, *part));
    return hypot(p.x - a.x - *part * x, p.y - a.y - *part * y);
}

/* How far from the rough way, in metres; `*due_s`: when she is there. */
static double apart_from_rough(const struct mesh *mesh, struct mercator p,
                               double *due_s) {
    const struct mesh_moment *rough = mesh->options.rough;
    double least = HUGE_VAL;
    for (size_t i = 0; i + 1 < mesh->options.rough_count; i++) {
        double part;
        double apart =
            apart_from_line(p, mesh->rough[i], mesh->rough[i + 1], &part);
        if (apart >= least)
            continue;
        least = apart;
        *due_s = rough[i].t_s + part * (rough[i + 1].t_s - rough[i].t_s);
    }
    return least * mercator_scale_at_m(p.y);
}

static bool is_far_round(const struct mesh *mesh, struct mesh_edge way) {
    return hypot(way.right, way.up) +
               hypot(way.right - mesh->finish.right, way.up - mesh->finish.up) >
           mesh->options.longest * hypot(mesh->finish.right, mesh->finish.up);
}

static void look_at(const struct mesh *mesh, struct mesh_edge way,
                    struct mesh_node *node) {
    struct mercator chart = chart_at(mesh, way);
    node->at = mercator_position(chart);
    if (way.right == 0 && way.up == 0)
        node->at = mesh->from;
    if (way.right == mesh->finish.right && way.up == mesh->finish.up)
        node->at = mesh->to;
    node->state = MESH_WANTED;
    if (is_far_round(mesh, way) ||
        (mesh->options.rough_count > 0 &&
         apart_from_rough(mesh, chart, &node->due_s) > mesh->options.width_m))
        node->state = MESH_UNWANTED;
}

static int node_at(struct mesh *mesh, struct mesh_edge way) {
    int right = way.right - mesh->corner.right;
    int up = way.up - mesh->corner.up;
    if (right < 0 || right >= mesh->width || up < 0 || up >= mesh->width)
        return MESH_NONE;
    int number = up * mesh->width + right;
    struct mesh_node *node = &mesh->nodes[number];
    if (node->state == MESH_UNSEEN)
        look_at(mesh, way, node);
    return node->state == MESH_WANTED ? number : MESH_NONE;
}

int mesh_start(struct mesh *mesh) {
    return node_at(mesh, (struct mesh_edge){0, 0});
}

int mesh_finish(struct mesh *mesh) {
    return node_at(mesh, mesh->finish);
}

int mesh_along(struct mesh *mesh, int node, struct mesh_edge edge) {
    return node_at(
        mesh,
        (struct mesh_edge){mesh->corner.right + node % mesh->width + edge.right,
                           mesh->corner.up + node / mesh->width + edge.up});
}

const struct mesh_node *mesh_node(const struct mesh *mesh, int node) {
    return &mesh->nodes[node];
}
