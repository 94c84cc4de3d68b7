/* Text and pictures into HTML. */
#include "output/html.h"
#include "output/svg.h"

#include "output/folder.h"
#include "output/text_file.h"
#include "physics/near.h"
#include "present/markup.h"

#include <CUnit/CUnit.h>

void suite_html(void);

static const char *escaped(const char *text, char out[TEXT_MOST])
{
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    html_text(stream, text);
    (void)stream_text(stream, out);
    (void)fclose(stream);
    return out;
}

/* HTML Living Standard, 13.1.2.3 and 13.1.4: `<` and `&` in text, the quote in a quoted value. */
static void text_stays_text(void)
{
    static const struct {
        const char *plain, *escaped;
    } table[] = {
        {"plain words", "plain words"},
        {"", ""},
        {"a < b & c > d", "a &lt; b &amp; c &gt; d"},
        {"</title><script>x</script>", "&lt;/title&gt;&lt;script&gt;x&lt;/script&gt;"},
        {"\"so\" 'so'", "&quot;so&quot; &#39;so&#39;"},
        {"&amp;", "&amp;amp;"},
        {"a\tb\nc\x7F", "a b c "},
        {"Sankt P\xC3\xB6lten", "Sankt P\xC3\xB6lten"},
        {"caf\xE9!", "caf\xEF\xBF\xBD!"},
    };
    char text[TEXT_MOST];

    for (size_t i = 0; i < COUNT(table); i++) {
        CU_ASSERT(same_text(escaped(table[i].plain, text), table[i].escaped));
    }
}

/* As gnuplot begins and refers. */
static const char picture[] =
    "<?xml version=\"1.0\" encoding=\"utf-8\"  standalone=\"no\"?>\n<svg \n viewBox=\"0 0 9 "
    "9\"\n>\n"
    "<title>Gnuplot</title>\n<desc>Produced by GNUPLOT</desc>\n<g id=\"canvas\">"
    "<circle id='dot' r='1'/><use xlink:href='#dot'/><path fill='url(#dot)'/>"
    "<text>id=\"stays\" > href='#stays'</text></g></svg>\n";

static bool inlined(const char *content, const char *name, char text[TEXT_MOST])
{
    char folder[FOLDER_MOST], path[FOLDER_MOST];
    struct pd_error error = {.code = PD_DONE};
    FILE *page = tmpfile();

    folder_make(folder);
    FILE *file = fopen(folder_path(folder, "a.svg", path), "w");
    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    CU_ASSERT_PTR_NOT_NULL_FATAL(page);
    (void)fputs(content, file);
    (void)fclose(file);
    bool good = svg_inline(page, path, name, "a < b", "c & d", &error);
    CU_ASSERT_EQUAL(error.code, good ? PD_DONE : PD_OUTPUT_FAILED);
    (void)stream_text(page, text);
    (void)fclose(page);
    folder_remove(folder);
    return good;
}

static void a_picture_becomes_an_image_with_words(void)
{
    char text[TEXT_MOST];

    CU_ASSERT(inlined(picture, "one", text));
    CU_ASSERT(same_text(
        text, "<svg \n viewBox=\"0 0 9 9\"\n role=\"img\" aria-labelledby=\"one-title "
              "one-description\"><title id=\"one-title\">a &lt; b</title>"
              "<desc id=\"one-description\">c &amp; d</desc>\n<g id=\"one-canvas\">"
              "<circle id='one-dot' r='1'/><use xlink:href='#one-dot'/><path "
              "fill='url(#one-dot)'/><text>id=\"stays\" > href='#stays'</text></g></svg>\n"));
}

static void what_is_no_picture_is_refused(void)
{
    static const char *const contents[] = {
        "", "text", "<svg>", "<svg><title>a</title></svg>", "<svg><desc>cut</desc><g>",
    };
    char text[TEXT_MOST];
    struct pd_error error = {.code = PD_DONE};

    for (size_t i = 0; i < COUNT(contents); i++) {
        CU_ASSERT_FALSE(inlined(contents[i], "one", text));
        CU_ASSERT(same_text(text, ""));
    }
    CU_ASSERT_FALSE(svg_inline(stdout, "/nowhere/a.svg", "one", "", "", &error));
    CU_ASSERT_STRING_EQUAL(error.file, "/nowhere/a.svg");
}

/* The checks of the page's own markup must see what is wrong. */
static void the_checks_see_faults(void)
{
    markup_quiet = true;
    CU_ASSERT(markup_is_balanced("<!DOCTYPE html><p class=\"a>b\">x<br>y<i/></p>"));
    CU_ASSERT_FALSE(markup_is_balanced("<p></p>"));
    CU_ASSERT_FALSE(markup_is_balanced("<!DOCTYPE html><p><b></p></b>"));
    CU_ASSERT_FALSE(markup_is_balanced("<!DOCTYPE html><p>"));
    CU_ASSERT_FALSE(markup_is_balanced("<!DOCTYPE html><p>a < b</p>"));
    CU_ASSERT_FALSE(markup_is_balanced("<!DOCTYPE html><p class=a></p>"));
    CU_ASSERT(markup_headings_in_order("<h1></h1><h2></h2><h3></h3><h2></h2>"));
    CU_ASSERT_FALSE(markup_headings_in_order("<h1></h1><h3></h3>"));
    CU_ASSERT_FALSE(markup_headings_in_order("<h1></h1><h1></h1>"));
    CU_ASSERT(markup_ids_are_unique("<a id=\"x\"><a id=\"xy\">"));
    CU_ASSERT_FALSE(markup_ids_are_unique("<a id=\"x\"><b id=\"y\"><a id='x'>"));
    markup_quiet = false;
}

void suite_html(void)
{
    CU_pSuite suite = CU_add_suite("html", NULL, NULL);

    CU_ADD_TEST(suite, text_stays_text);
    CU_ADD_TEST(suite, a_picture_becomes_an_image_with_words);
    CU_ADD_TEST(suite, what_is_no_picture_is_refused);
    CU_ADD_TEST(suite, the_checks_see_faults);
}
