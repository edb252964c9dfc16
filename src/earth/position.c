#include "earth/position.h"

#include "base/text.h"
#include "earth/angle.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    TOKEN_LIMIT = 16,
    DIGITS_LIMIT = 20,
    PARTS = 3, /* degrees, minutes, seconds */
    NO_MARK = -1
};

enum token_kind { TOKEN_NUMBER, TOKEN_HEMISPHERE, TOKEN_COMMA, TOKEN_END };

struct token {
    double value; /* of a number, without its sign */
    enum token_kind kind;
    int mark; /* the part that a mark names: 0 for the degree sign */
    bool signed_, negative, fraction;
    char hemisphere; /* N, S, E or W */
};

/* Latitude or longitude as it stood there. */
struct half {
    double angle_deg; /* 0 or more */
    bool negative;
    char hemisphere; /* '\0' where none stood there */
};

static const char no_position[] =
    "not a position; write it as 16 53.4 N 025 00.6 W or 16.89,-25.01";

/* --- marks, signs and letters to tokens ------------------------------------*/

struct mark {
    const char *text;
    int part;
};

/* Longer ones before those that they start with. UTF-8: degree sign, ordinal
 * indicator and ring above, all three on keyboards; prime and right quote;
 * double prime and right double quote. */
static const struct mark marks[] = {
    {"\xC2\xB0", 0},     {"\xC2\xBA", 0}, {"\xCB\x9A", 0},
    {"''", 2},           {"'", 1},        {"\xE2\x80\xB2", 1},
    {"\xE2\x80\x99", 1}, {"\"", 2},       {"\xE2\x80\xB3", 2},
    {"\xE2\x80\x9D", 2},
};

static int take_mark(const char **text) {
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
        size_t length = strlen(marks[i].text);
        if (strncmp(*text, marks[i].text, length) == 0) {
            *text += length;
            return marks[i].part;
        }
    }
    return NO_MARK;
}

/* The number in `length` bytes at `text`. */
static bool number_in(const char *text, size_t length, double *value) {
    char digits[DIGITS_LIMIT + 1];
    if (length > DIGITS_LIMIT)
        return false;
    memcpy(digits, text, length);
    digits[length] = '\0';
    return text_to_double(digits, value);
}

/* Digits, a point, digits. */
static bool take_number(const char **text, struct token *token) {
    size_t length = strspn(*text, "0123456789.");
    token->kind = TOKEN_NUMBER;
    token->fraction = memchr(*text, '.', length) != NULL;
    if (!number_in(*text, length, &token->value))
        return false;
    *text += length;
    return true;
}

static bool take_token(const char **text, struct token *token) {
    *token = (struct token){.kind = TOKEN_END, .mark = NO_MARK};
    if (!**text)
        return true;
    char letter = (char)toupper((unsigned char)**text);
    if (strchr("NSEW", letter)) {
        token->kind = TOKEN_HEMISPHERE;
        token->hemisphere = letter;
        (*text)++;
        return true;
    }
    if (**text == ',' || **text == ';') {
        token->kind = TOKEN_COMMA;
        (*text)++;
        return true;
    }
    token->negative = **text == '-';
    token->signed_ = token->negative || **text == '+';
    if (token->signed_)
        (*text)++;
    if (!take_number(text, token))
        return false;
    *text += strspn(*text, " \t");
    token->mark = take_mark(text);
    return true;
}

static bool take_tokens(const char *text, struct token tokens[TOKEN_LIMIT]) {
    for (int i = 0; i < TOKEN_LIMIT; i++) {
        text += strspn(text, " \t");
        if (!take_token(&text, &tokens[i]))
            return false;
        if (tokens[i].kind == TOKEN_END)
            return true;
    }
    return false;
}

/* --- tokens to degrees -----------------------------------------------------*/

static const char *add_parts(const double parts[PARTS], double *angle_deg) {
    if (parts[1] >= 60.0)
        return "minutes are 60 or more; give 0 to 59.99, or decimals of a "
               "degree without minutes";
    if (parts[2] >= 60.0)
        return "seconds are 60 or more; give 0 to 59.9, or decimals of a "
               "minute without seconds";
    *angle_deg = parts[0] + (parts[1] + parts[2] / 60.0) / 60.0;
    return NULL;
}

/* One to three numbers, the last of which may have a fraction. */
static const char *read_angle(const struct token **token, struct half *half) {
    double parts[PARTS] = {0.0, 0.0, 0.0};
    const struct token *first = *token;
    int count = 0;
    for (; (*token)->kind == TOKEN_NUMBER; (*token)++, count++) {
        if (count == PARTS)
            return no_position;
        if (count > 0 && (*token)->signed_)
            return "minutes have a sign; put a comma between latitude and "
                   "longitude";
        if (count > 0 && (*token)[-1].fraction)
            return "a number with a fraction is followed by another; put a "
                   "comma "
                   "between latitude and longitude";
        if ((*token)->mark != NO_MARK && (*token)->mark != count)
            return "degree, minute and second marks are out of order";
        parts[count] = (*token)->value;
    }
    if (count == 0)
        return no_position;
    half->negative = first->negative;
    if (half->hemisphere && first->signed_)
        return "both a sign and a hemisphere letter are given; keep one";
    return add_parts(parts, &half->angle_deg);
}

static const char *read_half(const struct token **token, struct half *half) {
    *half = (struct half){.hemisphere = '\0'};
    if ((*token)->kind == TOKEN_HEMISPHERE)
        half->hemisphere = (*token)++->hemisphere;
    const struct token *first = *token;
    const char *fault = read_angle(token, half);
    if (fault || half->hemisphere || (*token)->kind != TOKEN_HEMISPHERE)
        return fault;
    if (first->signed_)
        return "both a sign and a hemisphere letter are given; keep one";
    half->hemisphere = (*token)++->hemisphere;
    return NULL;
}

static double with_sign(struct half half) {
    bool below =
        half.negative || half.hemisphere == 'S' || half.hemisphere == 'W';
    return below ? 0.0 - half.angle_deg : half.angle_deg;
}

static const char *check_and_set(double lat_deg, double lon_deg,
                                 struct position *position) {
    if (fabs(lat_deg) > 90.0 && fabs(lat_deg) <= 180.0 && fabs(lon_deg) <= 90.0)
        return "latitude is beyond 90 degrees; does longitude stand first? put "
               "latitude first";
    if (fabs(lat_deg) > 90.0)
        return "latitude is beyond 90 degrees; look at its figures";
    if (fabs(lon_deg) > 180.0)
        return "longitude is beyond 180 degrees; count it from 0 to 180, east "
               "or west of Greenwich";
    position->lat_deg = lat_deg;
    position->lon_deg = angle_wrap_longitude(lon_deg);
    return NULL;
}

static bool is_latitude_letter(char hemisphere) {
    return hemisphere == 'N' || hemisphere == 'S';
}

static const char *join(struct half a, struct half b,
                        struct position *position) {
    if (!a.hemisphere != !b.hemisphere)
        return "only one hemisphere letter is given; write both or none";
    if (!a.hemisphere)
        return check_and_set(with_sign(a), with_sign(b), position);
    if (is_latitude_letter(a.hemisphere) == is_latitude_letter(b.hemisphere))
        return "one of N or S and one of E or W must be given";
    if (is_latitude_letter(a.hemisphere))
        return check_and_set(with_sign(a), with_sign(b), position);
    return check_and_set(with_sign(b), with_sign(a), position);
}

static int count_commas(const struct token *token) {
    int count = 0;
    for (; token->kind != TOKEN_END; token++)
        count += token->kind == TOKEN_COMMA ? 1 : 0;
    return count;
}

static const char *parse_halves(const char *text, struct position *position) {
    struct token tokens[TOKEN_LIMIT];
    struct half halves[2];
    if (!take_tokens(text, tokens))
        return no_position;
    if (count_commas(tokens) > 1)
        return "more than one comma; write decimals with a point";
    const struct token *token = tokens;
    const char *fault = read_half(&token, &halves[0]);
    if (fault)
        return fault;
    if (token->kind == TOKEN_COMMA)
        token++;
    else if (!halves[0].hemisphere)
        return "no comma or hemisphere letter stands between latitude and "
               "longitude";
    fault = read_half(&token, &halves[1]);
    if (fault)
        return fault;
    if (token->kind != TOKEN_END)
        return "something stands after the position";
    return join(halves[0], halves[1], position);
}

/* --- ISO 6709
 * ---------------------------------------------------------------*/

static const char not_iso[] =
    "not ISO 6709: it needs two digits for degrees of latitude and three for "
    "longitude";

/* +DD.D, +DDMM.M or +DDMMSS.S; longitude has one digit more. */
static const char *take_iso_half(const char **text, size_t degree_digits,
                                 double *angle_deg) {
    if (**text != '+' && **text != '-')
        return not_iso;
    bool negative = **text == '-';
    const char *digits = *text + 1;
    size_t whole = strspn(digits, "0123456789");
    size_t length = strspn(digits, "0123456789.");
    if (whole != degree_digits && whole != degree_digits + 2 &&
        whole != degree_digits + 4)
        return not_iso;
    double parts[PARTS] = {0.0, 0.0, 0.0};
    size_t part = 0, at = 0, next = degree_digits;
    for (; next < whole; part++, at = next, next += 2)
        if (!number_in(digits + at, next - at, &parts[part]))
            return not_iso;
    if (!number_in(digits + at, length - at, &parts[part]))
        return not_iso;
    *text = digits + length;
    const char *fault = add_parts(parts, angle_deg);
    if (negative)
        *angle_deg = 0.0 - *angle_deg;
    return fault;
}

static const char *parse_iso(const char *text, struct position *position) {
    double lat_deg = 0.0, lon_deg = 0.0;
    const char *fault = take_iso_half(&text, 2, &lat_deg);
    if (!fault)
        fault = take_iso_half(&text, 3, &lon_deg);
    if (fault)
        return fault;
    if (*text == '/')
        text++;
    if (text[strspn(text, " \t")])
        return "something stands after the position";
    return check_and_set(lat_deg, lon_deg, position);
}

/* Sign, digits and at once the next sign: no other form looks so. */
static bool is_iso(const char *text) {
    if (*text != '+' && *text != '-')
        return false;
    text += 1 + strspn(text + 1, "0123456789.");
    return *text == '+' || *text == '-';
}

const char *position_parse(const char *text, struct position *position) {
    text += strspn(text, " \t");
    return is_iso(text) ? parse_iso(text, position)
                        : parse_halves(text, position);
}

/* --- printing
 * ---------------------------------------------------------------*/

void position_print(struct position position, char text[POSITION_TEXT_SIZE]) {
    /* hundredths of a minute: first rounded, then split, then signed */
    long lat = lround(position.lat_deg * 6000.0);
    long lon = lround(position.lon_deg * 6000.0);
    unsigned north = (unsigned)labs(lat) % 540001;
    unsigned east = (unsigned)labs(lon) % 1080001;
    snprintf(text, POSITION_TEXT_SIZE, "%02u %02u.%02u %c %03u %02u.%02u %c",
             north / 6000, north / 100 % 60, north % 100, lat < 0 ? 'S' : 'N',
             east / 6000, east / 100 % 60, east % 100, lon < 0 ? 'W' : 'E');
}

static double rounded(double value, double unit) {
    return round(value * unit) / unit + 0.0;
}

struct position position_rounded(struct position position, int decimals) {
    double unit = 1.0;
    for (int i = 0; i < decimals; i++)
        unit *= 10.0;
    return (struct position){
        .lat_deg = rounded(position.lat_deg, unit),
        .lon_deg = angle_wrap_longitude(rounded(position.lon_deg, unit))};
}
