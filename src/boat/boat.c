#include "boat/boat.h"

#include "base/rendering.h"
#include "base/text.h"
#include "boat/boat_keys.h"
#include <math.h>
#include <string.h>

bool spar_allows_angle(const struct spar *spar, bool to_windward,
                       double awa_deg) {
    const double *range =
        to_windward ? spar->wing_awa_deg : spar->reach_awa_deg;
    double angle_deg = fabs(awa_deg);
    if (angle_deg < range[0] + spar->angle_margin_deg)
        return false;
    return range[1] >= 180.0 || angle_deg <= range[1] - spar->angle_margin_deg;
}

bool spar_allows_wind(const struct spar *spar, bool to_windward,
                      double tws_mps) {
    return tws_mps <=
           (to_windward ? spar->wing_max_wind_mps : spar->reach_max_wind_mps);
}

int boat_reefs(const struct boat *boat, double tws_mps) {
    int number = 0;
    for (size_t i = 0; i < boat->reef_count; i++)
        if (tws_mps >= boat->reefs[i].above_mps)
            number = boat->reefs[i].number;
    return number;
}

/* A section that need not be there: every line of it a comment. */
static void template_of_optional(const struct key_table *table, FILE *stream) {
    struct rendering text;
    rendering_open(&text);
    keys_template(table, text.stream);
    rendering_close(&text);
    for (char *rest = text.bytes, *line; (line = text_next_line(&rest));)
        fprintf(stream, "%s%s\n", *line && *line != '#' ? "#" : "", line);
    rendering_free(&text);
}

void boat_template(FILE *stream) {
    fputs(
        "# A boat for sparwise. Keys without a value here must be given; the\n"
        "# others stand with their default behind '#'. Paths are relative to\n"
        "# this file.\n\n",
        stream);
    keys_template(&boat_keys, stream);
    fputs(
        "\n# One such section for each headsail, its name in the head, as in\n"
        "# [headsail genoa]:\n",
        stream);
    template_of_optional(&headsail_keys, stream);
    fputs("\n# One such section for each reef, numbered from 1, as in "
          "[reef 1]:\n",
          stream);
    template_of_optional(&reef_keys, stream);
}
