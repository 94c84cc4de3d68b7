/* Escapes text, a character of UTF-8 at a time. */
#include "output/html.h"

#include "base/text.h"

#include <stdarg.h>

enum { FORMAT_MOST = 1024 };

/* The reference for a byte that means something to HTML; NULL for others. */
static const char *reference(char byte)
{
    switch (byte) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return (unsigned char)byte < 0x20 || byte == 0x7F ? " " : NULL;
    }
}

void html_text(FILE *stream, const char *text)
{
    while (*text != '\0') {
        const char *instead = reference(*text);
        size_t length = pd_text_character(text);

        if (instead == NULL && length == 0) {
            instead = PD_TEXT_UNKNOWN;
        }
        if (instead != NULL) {
            (void)fputs(instead, stream);
            text++;
        } else {
            (void)fwrite(text, 1, length, stream);
            text += length;
        }
    }
}

void html_format(FILE *stream, const char *format, ...)
{
    char text[FORMAT_MOST];
    va_list values;

    va_start(values, format);
    (void)vsnprintf(text, sizeof text, format, values);
    va_end(values);
    html_text(stream, text);
}
