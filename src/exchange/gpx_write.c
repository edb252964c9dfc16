/* GPX out, through libxml2's text writer. */
#include "exchange/gpx.h"

#include "base/heap.h"
#include "base/text.h"
#include "earth/angle.h"
#include "exchange/clean.h"
#include <assert.h>
#include <libxml/xmlmemory.h>
#include <libxml/xmlwriter.h>
#include <math.h>
#include <stdlib.h>

struct writer {
    xmlTextWriterPtr xml;
    struct arena arena;
};

static const xmlChar *xml(const char *text) {
    return (const xmlChar *)text;
}

/* Memory is all that it can run out of, and that ends the program. */
static void note(int written) {
    assert(written >= 0);
    (void)written;
}

static void start(struct writer *writer, const char *element) {
    note(xmlTextWriterStartElement(writer->xml, xml(element)));
}

static void end(struct writer *writer) {
    note(xmlTextWriterEndElement(writer->xml));
}

static void write_attribute(struct writer *writer, const char *name,
                            const char *value) {
    note(xmlTextWriterWriteAttribute(writer->xml, xml(name), xml(value)));
}

static void write_text(struct writer *writer, const char *element,
                       const char *text) {
    const char *clean = text ? clean_text(&writer->arena, text) : "";
    if (*clean)
        note(xmlTextWriterWriteElement(writer->xml, xml(element), xml(clean)));
}

static void write_time(struct writer *writer, bool timed, struct instant time) {
    char text[INSTANT_TEXT_SIZE];
    if (!timed)
        return;
    instant_print(time, text);
    write_text(writer, "time", text);
}

/* Through whole numbers: no exponent, no minus zero, no comma, and 180 only
 * after rounding is seen to be 180. */
static void write_degrees(struct writer *writer, const char *name,
                          double angle_deg) {
    long long scale = 10000000;
    long long units = llround(angle_deg * (double)scale);
    if (text_same(name, "lon") && units == 180 * scale)
        units = -units;
    char text[32];
    snprintf(text, sizeof text, "%s%lld.%07lld", units < 0 ? "-" : "",
             llabs(units) / scale, llabs(units) % scale);
    write_attribute(writer, name, text);
}

/* 0 <= degrees < 360, also after rounding. */
static void write_variation(struct writer *writer,
                            struct figure variation_deg) {
    char text[32];
    if (!variation_deg.known)
        return;
    long tenths = lround(10.0 * angle_wrap_360(variation_deg.value)) % 3600;
    snprintf(text, sizeof text, "%ld.%ld", tenths / 10, tenths % 10);
    write_text(writer, "magvar", text);
}

static void write_point(struct writer *writer, const char *element,
                        const struct gpx_point *point) {
    start(writer, element);
    write_degrees(writer, "lat", point->position.lat_deg);
    write_degrees(writer, "lon", point->position.lon_deg);
    write_time(writer, point->timed, point->time);
    write_variation(writer, point->variation_deg);
    write_text(writer, "name", point->name);
    write_text(writer, "desc", point->description);
    write_text(writer, "sym", point->symbol);
    write_text(writer, "type", point->type);
    end(writer);
}

static void write_points(struct writer *writer, const struct gpx_line *line,
                         const char *element) {
    for (size_t i = 0; i < line->count; i++)
        write_point(writer, element, &line->points[i]);
}

static void write_route(struct writer *writer, const struct gpx_line *route) {
    start(writer, "rte");
    write_text(writer, "name", route->name);
    write_text(writer, "desc", route->description);
    write_points(writer, route, "rtept");
    end(writer);
}

static void write_track(struct writer *writer, const struct gpx_line *track) {
    start(writer, "trk");
    write_text(writer, "name", track->name);
    write_text(writer, "desc", track->description);
    start(writer, "trkseg");
    write_points(writer, track, "trkpt");
    end(writer);
    end(writer);
}

static void write_root(struct writer *writer, const struct gpx *gpx) {
    const char *creator =
        gpx->creator ? clean_text(&writer->arena, gpx->creator) : "";
    start(writer, "gpx");
    write_attribute(writer, "version", "1.1");
    write_attribute(writer, "creator", *creator ? creator : "sparwise");
    write_attribute(writer, "xmlns", "http://www.topografix.com/GPX/1/1");
    write_attribute(writer, "xmlns:xsi",
                    "http://www.w3.org/2001/XMLSchema-instance");
    write_attribute(writer, "xsi:schemaLocation",
                    "http://www.topografix.com/GPX/1/1 "
                    "http://www.topografix.com/GPX/1/1/gpx.xsd");
    start(writer, "metadata");
    write_text(writer, "name", gpx->name);
    write_text(writer, "desc", gpx->description);
    write_time(writer, gpx->timed, gpx->time);
    end(writer);
    for (size_t i = 0; i < gpx->route_count; i++)
        write_route(writer, &gpx->routes[i]);
    for (size_t i = 0; i < gpx->track_count; i++)
        write_track(writer, &gpx->tracks[i]);
    end(writer);
}

static void write_document(struct writer *writer, const struct gpx *gpx) {
    note(xmlTextWriterSetIndent(writer->xml, 1));
    note(xmlTextWriterSetIndentString(writer->xml, xml("  ")));
    note(xmlTextWriterStartDocument(writer->xml, NULL, "UTF-8", NULL));
    write_root(writer, gpx);
    note(xmlTextWriterEndDocument(writer->xml));
}

/* Into memory first: libxml2 would print a full disk on standard error. */
bool gpx_write(const struct gpx *gpx, FILE *stream, struct error *error) {
    struct writer writer = {0};
    xmlMemSetup(free, heap_take, heap_resize, heap_copy);
    xmlBufferPtr buffer = xmlBufferCreate();
    writer.xml = xmlNewTextWriterMemory(buffer, 0);
    arena_init(&writer.arena);
    write_document(&writer, gpx);
    arena_free(&writer.arena);
    xmlFreeTextWriter(writer.xml);
    size_t size = (size_t)xmlBufferLength(buffer);
    bool written = fwrite(xmlBufferContent(buffer), 1, size, stream) == size &&
                   fflush(stream) == 0;
    xmlBufferFree(buffer);
    if (!written)
        return error_set(error, STATUS_WRITE,
                         "GPX can't be written; is the disk full?");
    return true;
}
