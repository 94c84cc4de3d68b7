/* Takes the svg element out of its file, gives it a title and a description of its own, and makes
 * its ids its own.  Assumes what gnuplot writes: attributes without `>` in them, no CDATA. */
#include "output/svg.h"

#include "base/memory.h"
#include "output/html.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* Larger ones are no charts of a day. */
static const size_t largest = (size_t)32 << 20;

/* After each of these stands an id, or the name of one. */
static const char *const before_ids[] = {"id=\"", "id='", "href=\"#", "href='#", "url(#"};

static bool fail(struct pd_error *error, const char *path, const char *what)
{
    return pd_error_set(error, PD_OUTPUT_FAILED, path, 0, NULL, "the picture %s", what);
}

/* Reads to the end of the stream; NULL if memory runs out, or it is too long. */
static char *read_all(FILE *stream)
{
    size_t room = (size_t)1 << 16;
    size_t length = 0;
    char *text = pd_memory_resize(NULL, room);

    while (text != NULL) {
        length += fread(text + length, 1, room - 1 - length, stream);
        if (length < room - 1) {
            text[length] = '\0';
            return text;
        }
        room *= 2;
        char *larger = room <= largest ? pd_memory_resize(text, room) : NULL;
        if (larger == NULL) {
            free(text);
        }
        text = larger;
    }
    return NULL;
}

static char *read_file(const char *path)
{
    FILE *stream = fopen(path, "r");
    char *text = stream != NULL ? read_all(stream) : NULL;

    if (stream != NULL) {
        (void)fclose(stream);
    }
    return text;
}

/* Length of the key at a place after which an id stands, or 0. */
static size_t key_length(const char *at)
{
    for (size_t i = 0; i < sizeof before_ids / sizeof before_ids[0]; i++) {
        size_t length = strlen(before_ids[i]);
        if (strncmp(at, before_ids[i], length) == 0) {
            return length;
        }
    }
    return 0;
}

/* Copies text up to `end`, with the name put before the ids within tags. */
static void copy_with_ids(FILE *stream, const char *at, const char *end, const char *name)
{
    bool in_tag = false;

    while (at < end) {
        size_t length = in_tag ? key_length(at) : 0;
        if (length > 0) {
            (void)fwrite(at, 1, length, stream);
            (void)fprintf(stream, "%s-", name);
            at += length;
            continue;
        }
        if (*at == '<' || *at == '>') {
            in_tag = *at == '<';
        }
        (void)fputc(*at, stream);
        at++;
    }
}

/* The tag that opens the picture: gnuplot's own attributes and those that make it an image. */
static void open_image(FILE *stream, const char *tag, const char *tag_end, const char *name)
{
    (void)fwrite(tag, 1, (size_t)(tag_end - tag), stream);
    (void)fprintf(stream, " role=\"img\" aria-labelledby=\"%s-title %s-description\">", name, name);
}

static void describe(FILE *stream, const char *name, const char *title, const char *description)
{
    (void)fprintf(stream, "<title id=\"%s-title\">", name);
    html_text(stream, title);
    (void)fprintf(stream, "</title><desc id=\"%s-description\">", name);
    html_text(stream, description);
    (void)fputs("</desc>", stream);
}

bool svg_inline(FILE *stream, const char *path, const char *name, const char *title,
                const char *description, struct pd_error *error)
{
    char *text = read_file(path);
    const char *tag = text != NULL ? strstr(text, "<svg") : NULL;
    const char *tag_end = tag != NULL ? strchr(tag, '>') : NULL;
    const char *own_end = tag_end != NULL ? strstr(tag_end, "</desc>") : NULL;
    const char *end = own_end != NULL ? strstr(own_end, "</svg>") : NULL;

    if (end == NULL) {
        free(text);
        return fail(error, path, "cannot be read, or is no SVG of gnuplot's");
    }
    open_image(stream, tag, tag_end, name);
    describe(stream, name, title, description);
    // what gnuplot says of itself is left out
    copy_with_ids(stream, own_end + strlen("</desc>"), end, name);
    (void)fputs("</svg>\n", stream);
    free(text);
    return true;
}
