#include "plan/haste.h"

#include <stddef.h>

/* As fast as she goes; where that is home before dark, less of a hurry. */
static const double FASTEST = 0.0;
static const double HURRIED[] = {0.25, 0.5};

/* Calmer, as long as that pays. */
static const double CALMER[] = {2.0, 4.0, 8.0};

void haste_try_all(haste_try *try, void *context, double ease) {
    struct haste_tried own = try(context, 1.0);
    if (!own.in_dark || ease <= 0.0)
        return;
    if (!try(context, FASTEST).in_dark)
        for (size_t i = 0; i < sizeof HURRIED / sizeof *HURRIED; i++)
            try(context, HURRIED[i]);
    double least_s = own.cost_s;
    for (size_t i = 0; i < sizeof CALMER / sizeof *CALMER; i++) {
        double cost_s = try(context, CALMER[i]).cost_s;
        if (cost_s >= least_s)
            return;
        least_s = cost_s;
    }
}
