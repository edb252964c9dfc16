#include "../support/check.h"

#include "report/html.h"
#include <stdlib.h>

/* What stands in a page for a text; freed by the caller. */
static char *shown(const char *text) {
    char *page = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&page, &size);
    assert_non_null(stream);
    html_text(stream, text);
    fclose(stream);
    return page;
}

static void signs_of_markup_are_named(void **state) {
    (void)state;
    static const struct {
        const char *text, *shown;
    } cases[] = {
        {"plain 12.5", "plain 12.5"},
        {"", ""},
        {"a & b", "a &amp; b"},
        {"&amp;", "&amp;amp;"},
        {"<img src=x onerror=alert(1)>", "&lt;img src=x onerror=alert(1)&gt;"},
        {"\"'`", "&quot;&#39;&#96;"},
        {"</script>", "&lt;/script&gt;"},
        {"S\xC3\xA3o", "S\xC3\xA3o"},
        {"bad \xFF byte", "bad \xEF\xBF\xBD byte"},
        {"bell \x07 \x1B[31m", "bell  [31m"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char *page = shown(cases[i].text);
        assert_string_equal(page, cases[i].shown);
        free(page);
    }
}

static void a_format_is_escaped_whole(void **state) {
    (void)state;
    char *page = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&page, &size);
    assert_non_null(stream);
    html_print(stream, "<%s> %d", "b&c", 7);
    fclose(stream);
    assert_string_equal(page, "&lt;b&amp;c&gt; 7");
    free(page);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(signs_of_markup_are_named),
        cmocka_unit_test(a_format_is_escaped_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
