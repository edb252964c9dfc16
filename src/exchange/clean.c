#include "exchange/clean.h"

#include "base/text.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

static const char replacement[] = "\xEF\xBF\xBD"; /* U+FFFD */

static bool is_continuation(unsigned char byte) {
    return (byte & 0xC0) == 0x80;
}

/* Bytes that the lead byte promises, its own bits in `*code`; 0 where it can't
 * lead. */
static size_t lead_length(unsigned char lead, uint32_t *code) {
    if (lead < 0x80) {
        *code = lead;
        return 1;
    }
    if (lead >= 0xC2 && lead <= 0xDF) {
        *code = lead & 0x1Fu;
        return 2;
    }
    if ((lead & 0xF0) == 0xE0) {
        *code = lead & 0x0Fu;
        return 3;
    }
    if (lead >= 0xF0 && lead <= 0xF4) {
        *code = lead & 0x07u;
        return 4;
    }
    return 0;
}

/* One character by RFC 3629: its length in bytes, or 0 where the bytes are cut,
 * overlong, a surrogate or above U+10FFFF. */
static size_t decode(const unsigned char *bytes, uint32_t *code) {
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    size_t length = lead_length(bytes[0], code);
    for (size_t i = 1; i < length; i++) {
        if (!is_continuation(bytes[i]))
            return 0;
        *code = *code << 6 | (bytes[i] & 0x3Fu);
    }
    if (length == 0 || *code < least[length] || *code > 0x10FFFF ||
        (*code >= 0xD800 && *code <= 0xDFFF))
        return 0;
    return length;
}

/* Of the terminal's own, C1 and DEL among them. */
static bool is_control(uint32_t code) {
    return code < 0x20 || (code >= 0x7F && code <= 0x9F);
}

/* Embeddings, overrides and isolates turn the order of all that follows:
 * figures of ours would be read backwards. */
static bool turns_order(uint32_t code) {
    return (code >= 0x202A && code <= 0x202E) ||
           (code >= 0x2066 && code <= 0x2069);
}

static bool is_dropped(uint32_t code) {
    if (code == '\t' || code == '\n')
        return false;
    return is_control(code) || turns_order(code) || code == 0xFFFE ||
           code == 0xFFFF;
}

char *clean_text(struct arena *arena, const char *text) {
    const size_t grown = sizeof replacement - 1; /* at worst, each byte */
    char *clean = arena_alloc(arena, strlen(text) + 1, grown);
    char *end = clean;
    const char *at = text;
    while (*at) {
        uint32_t code;
        size_t length = decode((const unsigned char *)at, &code);
        if (length == 0) {
            memcpy(end, replacement, grown);
            end += grown;
        } else if (!is_dropped(code)) {
            memcpy(end, at, length);
            end += length;
        }
        at += length ? length : 1;
    }
    *end = '\0';
    return clean;
}

void clean_print(FILE *stream, const char *text, size_t bytes) {
    for (const char *end = text + bytes; text < end;) {
        uint32_t code;
        size_t length = decode((const unsigned char *)text, &code);
        bool shown = length > 0 && !is_control(code) && !turns_order(code);
        if (shown)
            fwrite(text, 1, length, stream);
        else
            fputc('?', stream);
        text += length ? length : 1;
    }
}

char *clean_name(struct arena *arena, const char *text) {
    static const char more[] = "...";
    char *name = clean_text(arena, text);
    for (char *at = name; *at; at++)
        if (*at == '\n' || *at == '\t')
            *at = ' ';
    name = text_trim(name);
    if (strlen(name) <= CLEAN_NAME_BYTES)
        return name;
    size_t length = CLEAN_NAME_BYTES - strlen(more);
    while (length > 0 && is_continuation((unsigned char)name[length]))
        length--;
    memcpy(name + length, more, sizeof more);
    return name;
}
