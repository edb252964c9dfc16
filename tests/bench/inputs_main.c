/* Makes the bench's inputs: inputs_main FOLDER BOAT.ini, the boat's path from
 * that folder. */
#include "inputs.h"

#include <eccodes.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

/* Was the library built with an encoder for it? */
static bool can_pack(const char *packing) {
    double values[4] = {1.0, 2.0, 3.0, 4.0};
    size_t length = strlen(packing);
    codes_handle *handle =
        codes_grib_handle_new_from_samples(NULL, "regular_ll_sfc_grib2");
    if (!handle)
        return false;
    bool can = codes_set_long(handle, "Ni", 2) == 0 &&
               codes_set_long(handle, "Nj", 2) == 0 &&
               codes_set_string(handle, "packingType", packing, &length) == 0 &&
               codes_set_long(handle, "bitsPerValue", 12) == 0 &&
               codes_set_double_array(handle, "values", values, 4) == 0;
    codes_handle_delete(handle);
    return can;
}

/* Where to, and the boat of all passages. */
struct place {
    const char *folder, *boat;
};

static void make_passage(const struct place *place, const struct ocean *ocean,
                         const char *name, const char *forecast) {
    char path[INPUTS_PATH_SIZE], beside[INPUTS_PATH_SIZE];
    inputs_passage_path(place->folder, name, path);
    snprintf(beside, sizeof beside, "%s.grib2", forecast);
    ocean_write_passage(ocean, beside, place->boat, path);
}

static void make_forecast(const struct place *place, const struct ocean *ocean,
                          const char *name) {
    char path[INPUTS_PATH_SIZE];
    struct stat made;
    inputs_forecast_path(place->folder, name, path);
    ocean_write_forecast(ocean, path);
    if (stat(path, &made) != 0)
        return;
    fprintf(stderr, "%-28s %4zu messages of %6zu values, %7.3f MB\n", path,
            ocean_messages(ocean), ocean_points(ocean),
            (double)made.st_size / 1e6);
}

static void make_both(const struct place *place, const struct ocean *ocean,
                      const char *name) {
    make_forecast(place, ocean, name);
    make_passage(place, ocean, name, name);
}

static void make_packings(const struct place *place) {
    for (size_t i = 0; i < INPUTS_PACKINGS; i++) {
        struct ocean ocean = ocean_trades();
        ocean.packing = inputs_packings[i].packing;
        if (can_pack(ocean.packing))
            make_both(place, &ocean, inputs_packings[i].name);
        else
            fprintf(stderr, "%s: the GRIB library can't encode it\n",
                    ocean.packing);
    }
}

static void make_growth(const struct place *place) {
    char name[32];
    for (size_t i = 0; i < INPUTS_FAR; i++) {
        struct ocean far = ocean_far(inputs_far_nmi[i]);
        snprintf(name, sizeof name, "far-%d", inputs_far_nmi[i]);
        if (i == 0)
            make_forecast(place, &far, "far");
        make_passage(place, &far, name, "far");
    }
    for (size_t i = 0; i < INPUTS_GRIDS; i++) {
        struct ocean grid = ocean_grid(1.0 / inputs_grid_points[i]);
        snprintf(name, sizeof name, "grid-%d", inputs_grid_points[i]);
        make_both(place, &grid, name);
    }
}

int main(int count, char **words) {
    if (count != 3) {
        fprintf(stderr, "usage: inputs_main FOLDER BOAT.ini\n");
        return 2;
    }
    struct place place = {.folder = words[1], .boat = words[2]};
    struct ocean offshore = ocean_offshore(), hard = ocean_hard();
    mkdir(place.folder, 0777);
    make_both(&place, &offshore, "offshore");
    make_both(&place, &hard, "hard");
    make_growth(&place);
    make_packings(&place);
    return 0;
}
