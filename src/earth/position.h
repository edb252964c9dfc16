/* A place on the earth, WGS84. */
#ifndef EARTH_POSITION_H
#define EARTH_POSITION_H

#include <stdbool.h>

struct position {
    double lat_deg; /* [-90, 90], north positive */
    double lon_deg; /* [-180, 180), east positive */
};

enum { POSITION_TEXT_SIZE = 40 };

/* Reads the forms of docs/files.md: "16.89N 25.01W", "16°53.4'N 025°00.6'W",
 * "16 53 24 N 25 0 36 W", "N 16 53.4, W 25 0.6", "16.89,-25.01" (latitude
 * first), ISO 6709 "+16.89-025.01/". Returns NULL, or what is wrong with the
 * text: "minutes are 60 or more", "latitude is beyond 90 degrees". */
const char *position_parse(const char *text, struct position *position);

/* "16 53.40 N 025 00.60 W": degrees and minutes, rounded to the last printed
 * unit first and then split, so that 60 minutes and minus zero never show. */
void position_print(struct position position, char text[POSITION_TEXT_SIZE]);

/* To `decimals` places of a degree, and never minus zero: what is written to a
 * file and read back is then the same double. */
struct position position_rounded(struct position position, int decimals);

#endif
