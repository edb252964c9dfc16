/* GPX in, through libxml2's SAX2 interface: every error has its exact line, and
 * nothing of a document type is ever built or expanded. */
#include "exchange/gpx.h"

#include "base/heap.h"
#include "base/text.h"
#include "earth/angle.h"
#include <errno.h>
#include <libxml/SAX2.h>
#include <libxml/parser.h>
#include <libxml/parserInternals.h>
#include <libxml/xmlmemory.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* --- where the reader stands ------------------------------------------ */

enum place {
    PLACE_ROOT,
    PLACE_METADATA,
    PLACE_WAYPOINT, /* a loose one: counted only */
    PLACE_ROUTE,
    PLACE_TRACK,
    PLACE_SEGMENT,
    PLACE_POINT,
    PLACE_TEXT, /* a text of its parent */
    PLACE_TIME,
    PLACE_TOP /* outside the root element */
};

struct rule {
    enum place parent, place;
    const char *element;
    size_t offset; /* PLACE_TEXT: of the text in the parent's struct */
};

/* Anything else is passed over with all that stands in it. GPX 1.0 has the
 * metadata in the root itself. */
static const struct rule rules[] = {
    {PLACE_TOP, PLACE_ROOT, "gpx", 0},
    {PLACE_ROOT, PLACE_METADATA, "metadata", 0},
    {PLACE_ROOT, PLACE_WAYPOINT, "wpt", 0},
    {PLACE_ROOT, PLACE_ROUTE, "rte", 0},
    {PLACE_ROOT, PLACE_TRACK, "trk", 0},
    {PLACE_ROOT, PLACE_TEXT, "name", offsetof(struct gpx, name)},
    {PLACE_ROOT, PLACE_TEXT, "desc", offsetof(struct gpx, description)},
    {PLACE_ROOT, PLACE_TIME, "time", 0},
    {PLACE_METADATA, PLACE_TEXT, "name", offsetof(struct gpx, name)},
    {PLACE_METADATA, PLACE_TEXT, "desc", offsetof(struct gpx, description)},
    {PLACE_METADATA, PLACE_TIME, "time", 0},
    {PLACE_ROUTE, PLACE_POINT, "rtept", 0},
    {PLACE_ROUTE, PLACE_TEXT, "name", offsetof(struct gpx_line, name)},
    {PLACE_ROUTE, PLACE_TEXT, "desc", offsetof(struct gpx_line, description)},
    {PLACE_TRACK, PLACE_SEGMENT, "trkseg", 0},
    {PLACE_TRACK, PLACE_TEXT, "name", offsetof(struct gpx_line, name)},
    {PLACE_TRACK, PLACE_TEXT, "desc", offsetof(struct gpx_line, description)},
    {PLACE_SEGMENT, PLACE_POINT, "trkpt", 0},
    {PLACE_POINT, PLACE_TEXT, "name", offsetof(struct gpx_point, name)},
    {PLACE_POINT, PLACE_TEXT, "desc", offsetof(struct gpx_point, description)},
    {PLACE_POINT, PLACE_TEXT, "sym", offsetof(struct gpx_point, symbol)},
    {PLACE_POINT, PLACE_TEXT, "type", offsetof(struct gpx_point, type)},
    {PLACE_POINT, PLACE_TIME, "time", 0},
};

enum { RULE_COUNT = sizeof rules / sizeof rules[0], DEPTH_LIMIT = 8 };

struct reader {
    xmlParserCtxtPtr parser;
    const char *path;
    struct arena *arena;
    struct gpx *gpx;
    struct error *error;
    bool failed;

    const char *name_space;                 /* of the root; NULL: none */
    const struct rule *inside[DEPTH_LIMIT]; /* from the root inwards */
    int depth;
    int passed_over; /* open elements that no rule knows */

    struct gpx_line line; /* the one being read */
    struct gpx_point point;
    char *text;
    size_t text_length;
    size_t route_capacity, track_capacity, point_capacity, text_capacity;
};

static void refuse_at(struct reader *reader, int line, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* The first error is kept, with its place, and the parser stops. */
static void refuse_at(struct reader *reader, int line, const char *format,
                      ...) {
    if (reader->failed)
        return;
    char text[ERROR_TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    error_set(reader->error, STATUS_INPUT, "%s", text);
    error_at(reader->error, "%s:%d", reader->path, line);
    reader->failed = true;
    xmlStopParser(reader->parser);
}

static int line_now(const struct reader *reader) {
    return xmlSAX2GetLineNumber(reader->parser);
}

static enum place place_now(const struct reader *reader) {
    return reader->depth ? reader->inside[reader->depth - 1]->place : PLACE_TOP;
}

static const struct rule *rule_for(const struct reader *reader,
                                   const char *element,
                                   const char *name_space) {
    if (name_space != reader->name_space &&
        (!name_space || !reader->name_space ||
         !text_same(name_space, reader->name_space)))
        return NULL;
    for (int i = 0; i < RULE_COUNT; i++)
        if (rules[i].parent == place_now(reader) &&
            text_same(rules[i].element, element))
            return &rules[i];
    return NULL;
}

/* --- attributes and texts --------------------------------------------- */

struct attributes {
    const xmlChar **fields; /* five each: name, prefix, URI, value, its end */
    size_t count;
};

/* libxml2 hands over an ampersand as "&#38;" where entities stay as they are.
 */
static void plain_ampersands(char *text) {
    char *end = text;
    for (const char *at = text; *at; at++) {
        *end++ = *at;
        if (strncmp(at, "&#38;", 5) == 0)
            at += 4;
    }
    *end = '\0';
}

/* NULL where absent. */
static char *attribute(struct reader *reader, struct attributes attributes,
                       const char *name) {
    for (size_t i = 0; i < attributes.count; i++) {
        const char **field = (const char **)&attributes.fields[(size_t)5 * i];
        if (field[1] || !text_same(field[0], name))
            continue;
        char *text = arena_print(reader->arena, "%.*s",
                                 (int)(field[4] - field[3]), field[3]);
        plain_ampersands(text);
        return text_trim(text);
    }
    return NULL;
}

static bool read_degrees(struct reader *reader, struct attributes attributes,
                         const char *name, double limit_deg, double *value) {
    const char *text = attribute(reader, attributes, name);
    if (!text)
        refuse_at(reader, line_now(reader),
                  "point without '%s'; every point needs 'lat' and 'lon'",
                  name);
    else if (!text_to_double(text, value))
        refuse_at(reader, line_now(reader),
                  "'%s' is no number but '%s'; write decimal degrees", name,
                  text);
    else if (fabs(*value) > limit_deg)
        refuse_at(reader, line_now(reader),
                  "'%s' %s is beyond %.0f degrees; write decimal degrees", name,
                  text, limit_deg);
    return !reader->failed;
}

static void start_point(struct reader *reader, struct attributes attributes) {
    struct position position = {0.0, 0.0};
    reader->point = (struct gpx_point){0};
    if (!read_degrees(reader, attributes, "lat", 90.0, &position.lat_deg) ||
        !read_degrees(reader, attributes, "lon", 360.0, &position.lon_deg))
        return;
    position.lon_deg = angle_wrap_longitude(position.lon_deg);
    reader->point.position = position;
}

/* The struct that a text or a time of `place` belongs to. */
static void *owner_of(struct reader *reader, enum place place) {
    if (place == PLACE_POINT)
        return &reader->point;
    if (place == PLACE_ROUTE || place == PLACE_TRACK)
        return &reader->line;
    return reader->gpx;
}

static char *text_taken(struct reader *reader) {
    reader->text = arena_room(reader->arena, reader->text, reader->text_length,
                              &reader->text_capacity, 1);
    reader->text[reader->text_length] = '\0';
    reader->text_length = 0;
    return text_trim(reader->text);
}

static void end_text(struct reader *reader, const struct rule *rule) {
    const char *text = text_taken(reader);
    char *owner = owner_of(reader, rule->parent);
    const char **slot = (const char **)(void *)(owner + rule->offset);
    if (*text && !*slot)
        *slot = arena_copy(reader->arena, text);
}

static void end_time(struct reader *reader, enum place parent) {
    const char *text = text_taken(reader);
    struct instant time;
    bool zone_given = true;
    if (!*text)
        return;
    if (!instant_parse(text, &time, &zone_given)) {
        refuse_at(reader, line_now(reader),
                  "time '%.40s' can't be read; write 2024-02-28T18:00:00Z",
                  text);
        return;
    }
    reader->gpx->zone_missing |= !zone_given;
    if (parent == PLACE_POINT) {
        reader->point.timed = true;
        reader->point.time = time;
    } else {
        reader->gpx->timed = true;
        reader->gpx->time = time;
    }
}

static void end_point(struct reader *reader) {
    struct gpx_line *line = &reader->line;
    line->points = arena_room(reader->arena, line->points, line->count,
                              &reader->point_capacity, sizeof *line->points);
    line->points[line->count++] = reader->point;
}

static void start_line(struct reader *reader) {
    reader->line = (struct gpx_line){0};
    reader->point_capacity = 0;
}

static struct gpx_line *with_line(struct reader *reader, struct gpx_line *lines,
                                  size_t *count, size_t *capacity) {
    if (reader->line.count == 0)
        return lines;
    lines = arena_room(reader->arena, lines, *count, capacity, sizeof *lines);
    lines[(*count)++] = reader->line;
    return lines;
}

/* --- what libxml2 calls ------------------------------------------------
 */

static void start_root(struct reader *reader, const char *element,
                       const char *name_space, struct attributes attributes) {
    if (!text_same(element, "gpx")) {
        refuse_at(reader, line_now(reader),
                  "not GPX, the first element is '%.40s'; export the route as "
                  "GPX",
                  element);
        return;
    }
    if (name_space)
        reader->name_space = arena_copy(reader->arena, name_space);
    reader->gpx->creator = attribute(reader, attributes, "creator");
}

static void enter(struct reader *reader, const struct rule *rule,
                  struct attributes attributes) {
    if (rule->place == PLACE_ROUTE || rule->place == PLACE_TRACK)
        start_line(reader);
    if (rule->place == PLACE_POINT)
        start_point(reader, attributes);
    if (rule->place == PLACE_WAYPOINT)
        reader->gpx->waypoint_count++;
    reader->inside[reader->depth++] = rule;
}

/* NOLINTNEXTLINE(readability-function-size): the signature is libxml2's */
static void start_element(void *context, const xmlChar *element,
                          const xmlChar *prefix, const xmlChar *uri,
                          int namespace_count, const xmlChar **namespaces,
                          int attribute_count, int default_count,
                          const xmlChar **fields) {
    struct reader *reader = context;
    struct attributes attributes = {fields, (size_t)attribute_count};
    (void)prefix, (void)namespace_count, (void)namespaces, (void)default_count;
    if (reader->failed)
        return;
    if (reader->depth == 0)
        start_root(reader, (const char *)element, (const char *)uri,
                   attributes);
    const struct rule *rule = NULL;
    if (reader->passed_over == 0)
        rule = rule_for(reader, (const char *)element, (const char *)uri);
    if (rule)
        enter(reader, rule, attributes);
    else
        reader->passed_over++;
}

static void leave(struct reader *reader, const struct rule *rule) {
    struct gpx *gpx = reader->gpx;
    switch (rule->place) {
    case PLACE_TEXT:
        end_text(reader, rule);
        break;
    case PLACE_TIME:
        end_time(reader, rule->parent);
        break;
    case PLACE_POINT:
        end_point(reader);
        break;
    case PLACE_ROUTE:
        gpx->routes = with_line(reader, gpx->routes, &gpx->route_count,
                                &reader->route_capacity);
        break;
    case PLACE_TRACK:
        gpx->tracks = with_line(reader, gpx->tracks, &gpx->track_count,
                                &reader->track_capacity);
        break;
    case PLACE_ROOT:
    case PLACE_METADATA:
    case PLACE_WAYPOINT:
    case PLACE_SEGMENT:
    case PLACE_TOP:
        break;
    }
}

static void end_element(void *context, const xmlChar *element,
                        const xmlChar *prefix, const xmlChar *uri) {
    struct reader *reader = context;
    (void)element, (void)prefix, (void)uri;
    if (reader->failed)
        return;
    if (reader->passed_over)
        reader->passed_over--;
    else
        leave(reader, reader->inside[--reader->depth]);
}

static void add_text(void *context, const xmlChar *bytes, int count) {
    struct reader *reader = context;
    enum place place = place_now(reader);
    if (reader->failed || reader->passed_over ||
        (place != PLACE_TEXT && place != PLACE_TIME))
        return;
    for (int i = 0; i < count; i++) {
        reader->text =
            arena_room(reader->arena, reader->text, reader->text_length,
                       &reader->text_capacity, 1);
        reader->text[reader->text_length++] = (char)bytes[i];
    }
}

/* Before anything can be expanded: there are no entities for us. */
static void refuse_declaration(void *context, const xmlChar *name, int type,
                               const xmlChar *public_id,
                               const xmlChar *system_id, xmlChar *content) {
    struct reader *reader = context;
    (void)type, (void)public_id, (void)system_id, (void)content;
    refuse_at(reader, line_now(reader),
              "entity '%.40s' is declared, and entities are not read; write "
              "the characters themselves",
              (const char *)name);
}

static void refuse_reference(void *context, const xmlChar *name) {
    struct reader *reader = context;
    refuse_at(reader, line_now(reader),
              "entity '%.40s' is not known; write the characters themselves",
              (const char *)name);
}

static void hear_fault(void *context, xmlErrorPtr fault) {
    struct reader *reader = context;
    if (fault->level != XML_ERR_FATAL)
        return;
    const char *text = fault->message ? fault->message : "unknown fault";
    refuse_at(reader, fault->line,
              "not well-formed XML: %.*s; export the file anew",
              (int)strcspn(text, "\n"), text);
}

/* Faults of a character encoding have no parser to go to: libxml2 would print
 * them. What they spoil is not well-formed, and refused for that. */
static void hush(void *context, const char *format, ...) {
    (void)context, (void)format;
}

static void read_document(struct reader *reader, const char *bytes,
                          size_t size) {
    xmlMemSetup(free, heap_take, heap_resize, heap_copy);
    xmlSetGenericErrorFunc(NULL, hush);
    xmlParserCtxtPtr parser = xmlCreateMemoryParserCtxt(bytes, (int)size);
    *parser->sax = (xmlSAXHandler){
        .initialized = XML_SAX2_MAGIC,
        .startElementNs = start_element,
        .endElementNs = end_element,
        .characters = add_text,
        .cdataBlock = add_text,
        .entityDecl = refuse_declaration,
        .reference = refuse_reference,
        .serror = hear_fault,
    };
    parser->userData = reader;
    reader->parser = parser;
    xmlCtxtUseOptions(parser, XML_PARSE_NONET);
    xmlParseDocument(parser);
    bool whole = parser->wellFormed;
    xmlFreeDoc(parser->myDoc); /* made where an entity was declared */
    xmlFreeParserCtxt(parser);
    if (!whole && !reader->failed) { /* libxml2 stopped without a word */
        error_set(reader->error, STATUS_INPUT,
                  "not well-formed XML; export the file anew");
        error_at(reader->error, "%s", reader->path);
        reader->failed = true;
    }
}

/* --- the file -----------------------------------------------------------
 */

static bool read_bytes(FILE *stream, struct arena *arena, char **bytes,
                       size_t *size, struct error *error) {
    size_t capacity = 1 << 16;
    *bytes = arena_alloc(arena, capacity, 1);
    *size = 0;
    while (!feof(stream) && !ferror(stream)) {
        if (*size == capacity) {
            char *wider = arena_alloc(arena, 2 * capacity, 1);
            memcpy(wider, *bytes, *size);
            *bytes = wider;
            capacity *= 2;
        }
        *size += fread(*bytes + *size, 1, capacity - *size, stream);
        if (*size > GPX_SIZE_LIMIT)
            return error_set(error, STATUS_INPUT,
                             "larger than the limit of %d MiB; split the file",
                             GPX_SIZE_LIMIT >> 20);
    }
    if (ferror(stream))
        return error_set(error, error_status_now(STATUS_INPUT),
                         "can't be read: %s", strerror(errno));
    if (*size == 0)
        return error_set(error, STATUS_INPUT,
                         "the file is empty; export the route again");
    return true;
}

static bool load_bytes(const char *path, struct arena *arena, char **bytes,
                       size_t *size, struct error *error) {
    FILE *stream = text_open(path, error);
    if (!stream)
        return false;
    bool read = read_bytes(stream, arena, bytes, size, error);
    fclose(stream);
    return read || error_at(error, "%s", path);
}

bool gpx_load(struct gpx *gpx, const char *path, struct arena *arena,
              struct error *error) {
    struct arena scratch;
    char *bytes = NULL;
    size_t size = 0;
    *gpx = (struct gpx){0};
    struct reader reader = {
        .path = path, .arena = arena, .gpx = gpx, .error = error};
    arena_init(&scratch);
    bool loaded = load_bytes(path, &scratch, &bytes, &size, error);
    if (loaded)
        read_document(&reader, bytes, size);
    arena_free(&scratch);
    if (!loaded || reader.failed)
        return false;
    if (gpx->route_count + gpx->track_count > 0)
        return true;
    error_set(error, STATUS_INPUT,
              "no route and no track with a point in it%s; export the route "
              "itself",
              gpx->waypoint_count ? ", only loose waypoints" : "");
    return error_at(error, "%s", path);
}
