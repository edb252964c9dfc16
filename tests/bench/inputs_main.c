/* Makes the bench's inputs: inputs_main FOLDER BOAT.ini, the boat's path as
 * the passage files in there have it. */
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

static void make_passage(const struct ocean *ocean, const char *name,
                         const char *forecast, const char *const arguments[]) {
    char path[INPUTS_PATH_SIZE], beside[INPUTS_PATH_SIZE];
    inputs_passage_path(arguments[1], name, path);
    snprintf(beside, sizeof beside, "%s.grib2", forecast);
    ocean_write_passage(ocean, beside, arguments[2], path);
}

static void make_forecast(const struct ocean *ocean, const char *name,
                          const char *const arguments[]) {
    char path[INPUTS_PATH_SIZE];
    struct stat made;
    inputs_forecast_path(arguments[1], name, path);
    ocean_write_forecast(ocean, path);
    if (stat(path, &made) == 0)
        printf("%-28s %4zu messages of %6zu values, %10.3f MB\n", path,
               ocean_messages(ocean), ocean_points(ocean),
               (double)made.st_size / 1e6);
    fflush(stdout);
}

static void make_both(const struct ocean *ocean, const char *name,
                      const char *const arguments[]) {
    make_forecast(ocean, name, arguments);
    make_passage(ocean, name, name, arguments);
}

static void make_packings(const char *const arguments[]) {
    for (size_t i = 0; i < INPUTS_PACKINGS; i++) {
        struct ocean ocean = ocean_trades();
        ocean.packing = inputs_packings[i].packing;
        if (can_pack(ocean.packing))
            make_both(&ocean, inputs_packings[i].name, arguments);
        else
            printf("%s: not there, the GRIB library can't encode it\n",
                   ocean.packing);
    }
}

static void make_growth(const char *const arguments[]) {
    char name[32];
    for (size_t i = 0; i < INPUTS_FAR; i++) {
        struct ocean far = ocean_far(inputs_far_nmi[i]);
        snprintf(name, sizeof name, "far-%d", inputs_far_nmi[i]);
        if (i == 0)
            make_forecast(&far, "far", arguments);
        make_passage(&far, name, "far", arguments);
    }
    for (size_t i = 0; i < INPUTS_GRIDS; i++) {
        struct ocean grid = ocean_grid(1.0 / inputs_grid_points[i]);
        snprintf(name, sizeof name, "grid-%d", inputs_grid_points[i]);
        make_both(&grid, name, arguments);
    }
}

int main(int count, char **words) {
    const char *const arguments[] = {"", count > 1 ? words[1] : "",
                                     count > 2 ? words[2] : ""};
    if (count != 3) {
        fprintf(stderr, "usage: inputs_main FOLDER BOAT.ini\n");
        return 2;
    }
    mkdir(arguments[1], 0777);
    struct ocean offshore = ocean_offshore(), hard = ocean_hard();
    make_both(&offshore, "offshore", arguments);
    make_both(&hard, "hard", arguments);
    make_growth(arguments);
    make_packings(arguments);
    return 0;
}
