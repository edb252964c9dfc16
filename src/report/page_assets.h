/* What goes into every page as it is: made into C when the program is built,
 * out of src/report/page/ and the drawing library (src/report/page/embed). */
#ifndef REPORT_PAGE_ASSETS_H
#define REPORT_PAGE_ASSETS_H

#include <stddef.h>

struct page_asset {
    const char *bytes; /* UTF-8, no NUL at the end */
    size_t size;
    const char *sha256; /* of those bytes, base64: for the security line */
};

extern const struct page_asset page_style;   /* page.css */
extern const struct page_asset page_library; /* d3.min.js */
extern const struct page_asset page_script;  /* page.js */

#endif
