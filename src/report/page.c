#include "report/page.h"

#include "report/html.h"
#include "report/page_assets.h"
#include "report/page_chart.h"
#include "report/page_data.h"
#include "report/page_log.h"
#include "report/page_strips.h"
#include "report/page_tables.h"

/* The licence of the library asks for its notice beside every copy. */
static const char library_notice[] =
    "<!-- The drawing library D3: Copyright 2010-2022 Mike Bostock.\n"
    "Redistribution and use in source and binary forms, with or without\n"
    "modification, are permitted provided that the following conditions are\n"
    "met: 1. Redistributions of source code must retain the above copyright\n"
    "notice, this list of conditions and the following disclaimer.\n"
    "2. Redistributions in binary form must reproduce the above copyright\n"
    "notice, this list of conditions and the following disclaimer in the\n"
    "documentation and/or other materials provided with the distribution.\n"
    "3. Neither the name of the author nor the names of contributors may be\n"
    "used to endorse or promote products derived from this software without\n"
    "specific prior written permission. THIS SOFTWARE IS PROVIDED BY THE\n"
    "COPYRIGHT HOLDERS AND CONTRIBUTORS \"AS IS\" AND ANY EXPRESS OR IMPLIED\n"
    "WARRANTIES, INCLUDING, BUT NOT LIMITED TO, THE IMPLIED WARRANTIES OF\n"
    "MERCHANTABILITY AND FITNESS FOR A PARTICULAR PURPOSE ARE DISCLAIMED. IN\n"
    "NO EVENT SHALL THE COPYRIGHT OWNER OR CONTRIBUTORS BE LIABLE FOR ANY\n"
    "DIRECT, INDIRECT, INCIDENTAL, SPECIAL, EXEMPLARY, OR CONSEQUENTIAL\n"
    "DAMAGES (INCLUDING, BUT NOT LIMITED TO, PROCUREMENT OF SUBSTITUTE GOODS\n"
    "OR SERVICES; LOSS OF USE, DATA, OR PROFITS; OR BUSINESS INTERRUPTION)\n"
    "HOWEVER CAUSED AND ON ANY THEORY OF LIABILITY, WHETHER IN CONTRACT,\n"
    "STRICT LIABILITY, OR TORT (INCLUDING NEGLIGENCE OR OTHERWISE) ARISING IN\n"
    "ANY WAY OUT OF THE USE OF THIS SOFTWARE, EVEN IF ADVISED OF THE\n"
    "POSSIBILITY OF SUCH DAMAGE. -->\n";

static void write_asset(const struct page_asset *asset, const char *element,
                        FILE *stream) {
    fprintf(stream, "<%s>", element);
    fwrite(asset->bytes, 1, asset->size, stream);
    fprintf(stream, "</%s>\n", element);
}

static void write_head(const struct plan *plan, FILE *stream) {
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n"
          "<meta charset=\"utf-8\">\n",
          stream);
    fprintf(stream,
            "<meta http-equiv=\"Content-Security-Policy\" "
            "content=\"default-src 'none'; base-uri 'none'; form-action "
            "'none'; style-src 'sha256-%s'; script-src 'sha256-%s' "
            "'sha256-%s'\">\n",
            page_style.sha256, page_library.sha256, page_script.sha256);
    fputs("<meta name=\"viewport\" content=\"width=device-width, "
          "initial-scale=1\">\n<title>",
          stream);
    html_text(stream, plan->name);
    fputs(": plan of a passage</title>\n", stream);
    write_asset(&page_style, "style", stream);
    fputs("</head>\n", stream);
}

/* Before all that they colour: a style sheet looks only forward. */
static void write_looks(FILE *stream) {
    static const char *const looks[][2] = {
        {"device", "colours as the device has them"},
        {"day", "colours for the day"},
        {"dark", "dark colours"},
        {"red", "red light"}};
    for (int i = 0; i < 4; i++)
        fprintf(stream,
                "<input type=\"radio\" class=\"look\" name=\"look\" "
                "id=\"look-%s\" aria-label=\"%s\"%s>\n",
                looks[i][0], looks[i][1], i == 0 ? " checked" : "");
}

void page_body_write(const struct plan *plan, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    struct waypoints waypoints = waypoints_of(plan, &arena);
    write_looks(stream);
    fputs("<div class=\"page\">\n", stream);
    page_log_head(plan, stream);
    fputs("<main>\n<div class=\"top\">\n", stream);
    page_chart_write(plan, &waypoints, stream);
    page_log_write(plan, &waypoints, stream);
    fputs("</div>\n", stream);
    page_strips_write(plan, stream);
    page_log_works(plan, &waypoints, stream);
    page_tables_write(plan, &waypoints, stream);
    fputs("</main>\n</div>\n", stream);
    page_data_write(plan, &waypoints, stream);
    arena_free(&arena);
}

bool page_write(const struct plan *plan, FILE *stream, struct error *error) {
    write_head(plan, stream);
    fputs("<body>\n", stream);
    page_body_write(plan, stream);
    if (plan->chart.sample_count >= 2) {
        fputs(library_notice, stream);
        write_asset(&page_library, "script", stream);
        write_asset(&page_script, "script", stream);
    }
    fputs("</body>\n</html>\n", stream);
    if (fflush(stream) != 0 || ferror(stream))
        return error_set(error, STATUS_WRITE,
                         "the page can't be written; is the disk full?");
    return true;
}
