/* One table holds every form of a clause: words, and '#' for a number. */
#include "boat/roll_seen.h"

#include "base/text.h"
#include "base/units.h"
#include "boat/apparent.h"
#include "earth/angle.h"
#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <string.h>

enum { WORDS_LIMIT = 10, NUMBERS_LIMIT = 3 };

/* Where the spar was, as said. */
enum spar_word { STOWED, TO_WINDWARD, TO_LEEWARD, TO_PORT, TO_STARBOARD };

/* A line that is being read: what has been told so far. */
struct reading {
    struct roll_seen *seen;
    bool twa, wind, wind_from, heading, spar;
    enum spar_word spar_word;
    int swells;
    struct arena *arena;
    struct error *error;
};

/* One clause, or what stands behind the colon. */
struct clause {
    const char *text;               /* as it was written */
    const char *words[WORDS_LIMIT]; /* small letters, numbers apart */
    int count;
    double number[NUMBERS_LIMIT]; /* those of the form, in their order */
};

static bool refuse(const struct reading *reading, const struct clause *clause,
                   const char *cause) {
    return error_set(reading->error, STATUS_USAGE, "'%s' %s", clause->text,
                     cause);
}

static bool within(const struct reading *reading, const struct clause *clause,
                   double number, const double range[2], const char *what) {
    if (number >= range[0] && number <= range[1])
        return true;
    return error_set(reading->error, STATUS_USAGE,
                     "'%s': the %s is out of range; give %g to %g",
                     clause->text, what, range[0], range[1]);
}

static const double twa_range[] = {-180.0, 180.0};
static const double wind_range_kn[] = {1.0, 80.0};
static const double direction_range[] = {0.0, 360.0};
static const double height_range_m[] = {0.1, 20.0};
static const double period_range_s[] = {2.0, 30.0};
static const double roll_range[] = {1.0, 60.0};

/* --- what each form tells ------------------------------------------------- */

static bool once(const struct reading *reading, const struct clause *clause,
                 bool *told) {
    if (*told)
        return refuse(reading, clause,
                      "tells again what is told before; leave one out");
    return *told = true;
}

static bool take_twa(struct reading *reading, const struct clause *clause,
                     int side) {
    struct roll_seen *seen = reading->seen;
    double twa_deg = clause->number[0];
    if (!once(reading, clause, &reading->twa) ||
        !within(reading, clause, twa_deg, twa_range, "angle"))
        return false;
    if (twa_deg < 0.0 && side != 0)
        return refuse(reading, clause,
                      "has a minus sign, which means wind on the port side, "
                      "and a side; leave one out");
    seen->side_told = twa_deg < 0.0 || side != 0;
    seen->wind_starboard = twa_deg >= 0.0 && side >= 0;
    seen->twa_deg =
        angle_wrap_180(seen->wind_starboard ? twa_deg : -fabs(twa_deg));
    return true;
}

static bool take_wind(struct reading *reading, const struct clause *clause,
                      int at) {
    double wind_kn = clause->number[at];
    if (!once(reading, clause, &reading->wind) ||
        !within(reading, clause, wind_kn, wind_range_kn, "wind"))
        return false;
    reading->seen->tws_mps = kn_to_mps(wind_kn);
    return true;
}

static bool take_direction(struct reading *reading, const struct clause *clause,
                           int at, double *direction_deg) {
    if (!within(reading, clause, clause->number[at], direction_range,
                "direction"))
        return false;
    *direction_deg = angle_wrap_360(clause->number[at]);
    return true;
}

static bool take_wind_from(struct reading *reading, const struct clause *clause,
                           int at) {
    return once(reading, clause, &reading->wind_from) &&
           take_direction(reading, clause, at, &reading->seen->wind_from_deg);
}

/* Speed and direction; `at`: which number is the direction. */
static bool take_whole_wind(struct reading *reading,
                            const struct clause *clause, int at) {
    return take_wind_from(reading, clause, at) &&
           take_wind(reading, clause, 1 - at);
}

static bool take_heading(struct reading *reading, const struct clause *clause,
                         int unused) {
    (void)unused;
    return once(reading, clause, &reading->heading) &&
           take_direction(reading, clause, 0, &reading->seen->heading_deg);
}

static bool take_waves(struct reading *reading, const struct clause *clause,
                       struct wave_system *system) {
    system->known = true;
    system->height_m = clause->number[0];
    system->period_s = clause->number[1];
    return within(reading, clause, system->height_m, height_range_m,
                  "height") &&
           within(reading, clause, system->period_s, period_range_s, "period");
}

static bool take_sea(struct reading *reading, const struct clause *clause,
                     int has_direction) {
    struct wave_system *system = &reading->seen->sea.system[0];
    reading->seen->sea_with_wind = !has_direction;
    if (!once(reading, clause, &system->known) ||
        !take_waves(reading, clause, system))
        return false;
    return !has_direction ||
           take_direction(reading, clause, 2, &system->from_deg);
}

static bool take_swell(struct reading *reading, const struct clause *clause,
                       int has_direction) {
    if (!has_direction)
        return refuse(reading, clause,
                      "is a swell without a direction; add 'from' and where "
                      "it comes from, degrees true");
    if (reading->swells == SEA_SYSTEMS - 1)
        return refuse(reading, clause,
                      "is one swell too many; give the three highest");
    struct wave_system *system = &reading->seen->sea.system[++reading->swells];
    return take_waves(reading, clause, system) &&
           take_direction(reading, clause, 2, &system->from_deg);
}

/* Waves that are not named: the first are the wind sea. */
static bool take_bare(struct reading *reading, const struct clause *clause,
                      int has_direction) {
    if (reading->seen->sea.system[0].known)
        return take_swell(reading, clause, has_direction);
    return take_sea(reading, clause, has_direction);
}

static bool take_spar(struct reading *reading, const struct clause *clause,
                      int word) {
    reading->spar_word = (enum spar_word)word;
    return once(reading, clause, &reading->spar);
}

static bool take_roll(struct reading *reading, const struct clause *clause,
                      int measure) {
    reading->seen->measure = (enum roll_measure)measure;
    reading->seen->roll_deg = clause->number[0];
    return within(reading, clause, clause->number[0], roll_range, "roll");
}

/* --- forms ---------------------------------------------------------------- */

struct form {
    const char *words;
    bool (*take)(struct reading *reading, const struct clause *clause,
                 int detail);
    int detail;
};

static const struct form condition_forms[] = {
    {"twa #", take_twa, 0},
    {"twa # starboard", take_twa, 1},
    {"twa # port", take_twa, -1},
    {"# kn", take_wind, 0},
    {"wind # kn", take_wind, 0},
    {"wind from #", take_wind_from, 0},
    {"# kn from #", take_whole_wind, 1},
    {"wind # kn from #", take_whole_wind, 1},
    {"wind from # # kn", take_whole_wind, 0},
    {"heading #", take_heading, 0},
    {"# m # s from #", take_bare, 1},
    {"# m # s", take_bare, 0},
    {"sea # m # s from #", take_sea, 1},
    {"sea # m # s", take_sea, 0},
    {"swell # m # s from #", take_swell, 1},
    {"swell # m # s", take_swell, 0},
    {"spar stowed", take_spar, STOWED},
    {"spar to windward", take_spar, TO_WINDWARD},
    {"spar to leeward", take_spar, TO_LEEWARD},
    {"spar to port", take_spar, TO_PORT},
    {"spar to starboard", take_spar, TO_STARBOARD},
    {"spar port", take_spar, TO_PORT}, /* as a schedule has them */
    {"spar starboard", take_spar, TO_STARBOARD},
};

static const struct form roll_forms[] = {
    {"often #", take_roll, ROLL_OFTEN},
    {"often # deg", take_roll, ROLL_OFTEN},
    {"at times #", take_roll, ROLL_AT_TIMES},
    {"at times # deg", take_roll, ROLL_AT_TIMES},
};

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* What may stand on one side of the colon, and what to write where it is not
 * understood. */
struct grammar {
    const struct form *forms;
    size_t count;
    const char *remedy;
};

static const struct grammar conditions = {
    condition_forms, COUNT(condition_forms),
    "numbers need their unit and a decimal point, as in 'TWA 170, 16 kn, 2.5 m "
    "7 s from 065, spar stowed: often 10'"};

static const struct grammar rolls = {
    roll_forms, COUNT(roll_forms),
    "write 'often 10' or 'at times 15', degrees"};

/* The remedy for clauses that begin with that word. */
static const struct {
    const char *word, *remedy;
} remedies[] = {
    {"twa", "write 'TWA 170' or 'TWA 170 port', with a comma behind it"},
    {"wind", "write '16 kn' or 'wind from 065 16 kn'"},
    {"heading", "write 'heading 255'"},
    {"sea", "write 'sea 2 m 7 s from 065'"},
    {"swell", "write 'swell 1.5 m 11 s from 340'"},
    {"spar", "write 'spar stowed', 'spar to windward' or 'spar to leeward'"},
};

static bool not_understood(const struct reading *reading,
                           const struct clause *clause,
                           const struct grammar *grammar) {
    const char *remedy = grammar->remedy;
    for (size_t i = 0; i < COUNT(remedies); i++)
        if (text_same(remedies[i].word, clause->words[0]))
            remedy = remedies[i].remedy;
    return error_set(reading->error, STATUS_USAGE, "'%s' is not understood; %s",
                     clause->text, remedy);
}

/* True if the clause has that form; its numbers are then filled. */
static bool has_form(struct clause *clause, const char *form) {
    int numbers = 0, at = 0;
    for (; *form && at < clause->count; at++) {
        size_t length = strcspn(form, " ");
        const char *word = clause->words[at];
        if (*form == '#') {
            assert(numbers < NUMBERS_LIMIT);
            if (!text_to_double(word, &clause->number[numbers++]))
                return false;
        } else if (strlen(word) != length || strncmp(word, form, length) != 0) {
            return false;
        }
        form += length;
        form += strspn(form, " ");
    }
    return !*form && at == clause->count;
}

/* A blank between a number and its unit: "2m" is two words. Small letters. */
static char *set_apart(struct arena *arena, const char *text) {
    size_t length = strlen(text), at = 0;
    char *apart = arena_alloc(arena, 2 * length + 1, 1);
    for (size_t i = 0; i < length; i++) {
        if (i > 0 && isalpha((unsigned char)text[i]) &&
            isdigit((unsigned char)text[i - 1]))
            apart[at++] = ' ';
        apart[at++] = (char)tolower((unsigned char)text[i]);
    }
    return apart;
}

/* False where there are more words than any form has. */
static bool cut(struct clause *clause, char *rest) {
    while (*rest) {
        if (clause->count == WORDS_LIMIT)
            return false;
        clause->words[clause->count++] = rest;
        rest += strcspn(rest, " \t");
        size_t blanks = strspn(rest, " \t");
        if (blanks > 0)
            *rest = '\0';
        rest += blanks;
    }
    return true;
}

static bool read_clause(struct reading *reading, char *text,
                        const struct grammar *grammar) {
    text = text_trim(text);
    if (!*text)
        return error_set(reading->error, STATUS_USAGE,
                         "nothing stands between two of its commas or beside "
                         "the colon; take the sign out or fill it in");
    struct clause clause = {.text = text};
    if (!cut(&clause, set_apart(reading->arena, text)))
        return not_understood(reading, &clause, grammar);
    for (size_t i = 0; i < grammar->count; i++)
        if (has_form(&clause, grammar->forms[i].words))
            return grammar->forms[i].take(reading, &clause,
                                          grammar->forms[i].detail);
    return not_understood(reading, &clause, grammar);
}

/* --- the whole line ------------------------------------------------------- */

static bool missing(const struct reading *reading, const char *what) {
    return error_set(reading->error, STATUS_USAGE, "%s", what);
}

static bool check_complete(const struct reading *reading) {
    if (!reading->twa)
        return missing(reading, "no angle to the wind; add 'TWA 170'");
    if (!reading->wind)
        return missing(reading, "no wind; add '16 kn'");
    if (!reading->seen->sea.system[0].known && reading->swells == 0)
        return missing(reading, "no sea; add '2 m 7 s from 065'");
    if (!reading->spar)
        return missing(reading, "nothing of the spar; add 'spar stowed', 'spar "
                                "to windward' or 'spar to leeward'");
    if (reading->heading && reading->wind_from)
        return missing(reading,
                       "heading and wind direction are both given, and one "
                       "tells the other by TWA; leave one out");
    return true;
}

/* Where the boat headed and the wind came from. A wind sea may stand for the
 * wind, a swell may not. */
static bool place(const struct reading *reading) {
    struct roll_seen *seen = reading->seen;
    struct wave_system *sea = &seen->sea.system[0];
    bool sea_placed = sea->known && !seen->sea_with_wind;
    if (reading->heading || reading->wind_from)
        seen->bearing = BEARING_TOLD;
    else if (sea_placed)
        seen->bearing = BEARING_OF_SEA;
    else if (reading->swells == 0)
        seen->bearing = BEARING_OF_NONE;
    else
        return missing(reading,
                       "where a swell comes from tells nothing without the "
                       "boat's direction; add 'heading 255' or 'wind from "
                       "065'");
    if (seen->bearing == BEARING_OF_SEA)
        seen->wind_from_deg = sea->from_deg;
    if (reading->heading)
        seen->wind_from_deg = angle_wrap_360(seen->heading_deg + seen->twa_deg);
    else
        seen->heading_deg = angle_wrap_360(seen->wind_from_deg - seen->twa_deg);
    if (sea->known && seen->sea_with_wind)
        sea->from_deg = seen->wind_from_deg;
    return true;
}

static enum spar_seen spar_of(const struct reading *reading) {
    enum spar_word word = reading->spar_word;
    if (word == STOWED)
        return SPAR_SEEN_STOWED;
    bool windward = word == TO_WINDWARD;
    if (word == TO_PORT || word == TO_STARBOARD)
        windward = (word == TO_STARBOARD) == reading->seen->wind_starboard;
    return windward ? SPAR_SEEN_WINDWARD : SPAR_SEEN_LEEWARD;
}

static bool check_bytes(const char *text, struct error *error) {
    size_t length = strlen(text);
    if (length > ROLL_SEEN_BYTES)
        return error_set(error, STATUS_USAGE,
                         "%zu bytes are more than %d; one line for each "
                         "observation",
                         length, ROLL_SEEN_BYTES);
    for (size_t i = 0; i < length; i++)
        if (!isprint((unsigned char)text[i]) && text[i] != '\t')
            return error_set(error, STATUS_USAGE,
                             "byte %zu is no plain letter, digit or sign; "
                             "write degrees without their sign",
                             i + 1);
    return true;
}

bool roll_seen_read(struct roll_seen *seen, const char *text,
                    struct arena *arena, struct error *error) {
    *seen = (struct roll_seen){.text = text};
    struct reading reading = {.seen = seen, .arena = arena, .error = error};
    if (!check_bytes(text, error))
        return false;
    char *rest = arena_copy(arena, text);
    char *colon = strchr(rest, ':');
    if (!colon)
        return missing(&reading, "it does not end in what was seen; add ': "
                                 "often 10' or ': at times 15'");
    *colon = '\0';
    for (char *comma; rest; rest = comma) {
        comma = strchr(rest, ',');
        if (comma)
            *comma++ = '\0';
        if (!read_clause(&reading, rest, &conditions))
            return false;
    }
    if (!read_clause(&reading, colon + 1, &rolls) ||
        !check_complete(&reading) || !place(&reading))
        return false;
    seen->spar = spar_of(&reading);
    sea_complete(&seen->sea);
    return true;
}

/* --- the boat in it ------------------------------------------------------- */

double roll_seen_rms_deg(const struct roll_seen *seen) {
    return seen->roll_deg / (double)seen->measure;
}

bool roll_seen_course(const struct roll_seen *seen, const struct boat *boat,
                      struct roll_course *course, struct error *error) {
    bool drawing = seen->spar != SPAR_SEEN_STOWED;
    const struct polar *polar = drawing ? &boat->spar_out : &boat->stowed;
    double speed_mps =
        boat->factor * polar_speed(polar, seen->twa_deg, seen->tws_mps);
    if (speed_mps <= 0.0)
        return error_set(error, STATUS_USAGE,
                         "with the spar %s the boat's polar has no speed at "
                         "TWA %g in %.4g kn; check the angle and the wind",
                         drawing ? "out" : "stowed", fabs(seen->twa_deg),
                         mps_to_kn(seen->tws_mps));
    *course = (struct roll_course){
        .heading_deg = seen->heading_deg,
        .speed_mps = speed_mps,
        .twa_deg = seen->twa_deg,
        .aws_mps = apparent_speed(seen->twa_deg, seen->tws_mps, speed_mps),
        .spar_drawing = drawing};
    return true;
}
