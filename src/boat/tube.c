/* Textbook strength of columns: Euler, and J. B. Johnson's parabola for those
 * that are too short for him (from memory). */
#include "boat/tube.h"

#include "earth/angle.h"
#include <math.h>
#include <strings.h>

/* 6061-T6: E 68.9 GPa, yield 276 MPa (MMPDS as quoted in data sheets). */
static const struct material materials[] = {
    {"aluminium", 68.9e9, 276e6},
    {"aluminum", 68.9e9, 276e6},
    {"6061-T6", 68.9e9, 276e6},
};

/* The wall of a perfect thin cylinder wrinkles at 0.605 E t/r; real ones do at
 * a fifth of it upwards (Timoshenko and Gere, from memory). */
#define WRINKLE_FRAC (0.2 * 0.605)

const struct material *material_named(const char *name) {
    for (size_t i = 0; i < sizeof materials / sizeof *materials; i++)
        if (strcasecmp(materials[i].name, name) == 0)
            return &materials[i];
    return NULL;
}

static double inside_m(struct tube tube) {
    return tube.outside_m - 2.0 * tube.wall_m;
}

double tube_area_m2(struct tube tube) {
    return PI / 4.0 * (pow(tube.outside_m, 2.0) - pow(inside_m(tube), 2.0));
}

double tube_inertia_m4(struct tube tube) {
    return PI / 64.0 * (pow(tube.outside_m, 4.0) - pow(inside_m(tube), 4.0));
}

double euler_load_n(double modulus_pa, double inertia_m4, double length_m) {
    return PI * PI * modulus_pa * inertia_m4 / (length_m * length_m);
}

double tube_stress_pa(struct tube tube, const struct material *material) {
    double radius_m = 0.5 * (tube.outside_m - tube.wall_m);
    return fmin(material->yield_pa,
                WRINKLE_FRAC * material->modulus_pa * tube.wall_m / radius_m);
}

/* Johnson: P = S (1 - S / 4 Euler), with S the squash load; it touches Euler's
 * hyperbola where that is S / 2. */
double tube_load_n(struct tube tube, const struct material *material,
                   double length_m) {
    double squash_n = tube_stress_pa(tube, material) * tube_area_m2(tube);
    double euler_n =
        euler_load_n(material->modulus_pa, tube_inertia_m4(tube), length_m);
    if (euler_n <= 0.5 * squash_n)
        return euler_n;
    return squash_n * (1.0 - squash_n / (4.0 * euler_n));
}
