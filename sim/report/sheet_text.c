/* The commissioning sheet as plain text, within 100 columns. */
#include "report/sheet_content.h"

#include "base/text.h"

#include <string.h>

enum { WIDTH = 92, LABEL_WIDTH = 47, CELL_WIDTH = 15 };

/* Letters shown, not bytes: a sign of degrees takes two. */
static int shown_length(const char *text)
{
    int length = 0;

    for (; *text != '\0'; text++) {
        length += ((unsigned char)*text & 0xC0) != 0x80;
    }
    return length;
}

static void write_right(FILE *stream, const char *text, int width)
{
    (void)fprintf(stream, "%*s%s", width > shown_length(text) ? width - shown_length(text) : 0, "",
                  text);
}

static void write_left(FILE *stream, const char *text, int width)
{
    (void)fprintf(stream, "%s%*s", text,
                  width > shown_length(text) ? width - shown_length(text) : 0, "");
}

/* Words, going on under the first at a column. */
static void write_words(FILE *stream, const char *text, int column)
{
    int at = column;

    while (*text != '\0') {
        int length = (int)strcspn(text, " ");
        if (at > column && at + 1 + length > WIDTH) {
            (void)fprintf(stream, "\n%*s", column, "");
            at = column;
        }
        at += fprintf(stream, "%s%.*s", at > column ? " " : "", length, text);
        text += length;
        text += strspn(text, " ");
    }
    (void)fputc('\n', stream);
}

static void write_readings(FILE *stream, const struct sheet_content *content)
{
    (void)fputs("\nReadings\n  ", stream);
    write_words(stream, content->taps, 2);
    (void)fputc('\n', stream);
    write_left(stream, "", LABEL_WIDTH);
    for (size_t i = 0; i < content->column_count; i++) {
        write_right(stream, content->head[i], CELL_WIDTH);
    }
    (void)fputs("  found\n", stream);
    for (size_t i = 0; i < content->reading_count; i++) {
        write_left(stream, content->reading[i].label, LABEL_WIDTH);
        for (size_t j = 0; j < content->column_count; j++) {
            write_right(stream, content->reading[i].value[j], CELL_WIDTH);
        }
        (void)fputs("  ______\n", stream);
    }
}

void sheet_write_text(FILE *stream, const struct sheet_content *content)
{
    char shown[SHEET_STEP_MOST];

    pd_text_show(shown, sizeof shown, content->title);
    (void)fprintf(stream, "Commissioning sheet: %s\n", shown);
    (void)fprintf(stream, "\nplace ____________________  date ____________  name "
                          "____________________\n");
    (void)fprintf(stream, "\nSettings, %s\n", content->strategy);
    for (size_t i = 0; i < content->setting_count; i++) {
        (void)fputs("  ", stream);
        write_left(stream, content->setting[i].label, LABEL_WIDTH - 2);
        write_right(stream, content->setting[i].value, CELL_WIDTH);
        (void)fputc('\n', stream);
    }
    (void)fputs("\nOrder of work\n", stream);
    for (size_t i = 0; i < content->step_count; i++) {
        (void)fprintf(stream, "[ ] %2zu  ", i + 1);
        write_words(stream, content->step[i], 8);
    }
    write_readings(stream, content);
    (void)fputs("\nA simulation replaces neither measurement nor judgement.\n"
                "\nremarks ______________________________  signed ____________________\n",
                stream);
}
