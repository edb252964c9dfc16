/* How much a straight round tube carries along its length before it gives way:
 * bends out, is squashed, or wrinkles. Breaking loads: no safety is in them. */
#ifndef BOAT_TUBE_H
#define BOAT_TUBE_H

#include <stddef.h>

struct material {
    const char *name;
    double modulus_pa; /* of elasticity */
    double yield_pa;
};

/* The material of that name, in whatever letter case, or NULL: only what is the
 * same stuff wherever it is bought. Carbon is as stiff as its lay-up, wood as
 * its tree. */
const struct material *material_named(const char *name);

struct tube {
    double outside_m; /* diameter */
    double wall_m;    /* at most half of it */
};

double tube_area_m2(struct tube tube);

/* Second moment of area about a diameter. */
double tube_inertia_m4(struct tube tube);

/* Euler's load of a straight slender column with pinned ends. */
double euler_load_n(double modulus_pa, double inertia_m4, double length_m);

/* What stress the wall takes before it yields or, where it is thin, wrinkles.
 */
double tube_stress_pa(struct tube tube, const struct material *material);

/* The breaking load of the tube as a pinned column of that length, > 0: Euler's
 * where that is at most half of the squash load; of a shorter tube by Johnson's
 * parabola, which goes on smoothly to the squash load. Falls as the length
 * rises. */
double tube_load_n(struct tube tube, const struct material *material,
                   double length_m);

#endif
