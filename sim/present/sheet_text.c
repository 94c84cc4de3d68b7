/* The commissioning sheet as plain text, within 100 columns. */
#include "present/sheet_content.h"

#include "base/text.h"

#include <string.h>

enum { WIDTH = 92, LABEL_WIDTH = 47, CELL_WIDTH = 15, OUTCOME_WIDTH = 18, SHEET_LINE_MOST = 256 };

static const char line_of_box[] =
    "!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!";

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

/* Words that begin at a column; further lines begin with as wide an indent. */
static void write_under(FILE *stream, const char *text, const char *indent)
{
    int column = (int)strlen(indent), at = column;

    while (*text != '\0') {
        int length = (int)strcspn(text, " ");
        if (at > column && at + 1 + length > WIDTH) {
            (void)fprintf(stream, "\n%s", indent);
            at = column;
        }
        at += fprintf(stream, "%s%.*s", at > column ? " " : "", length, text);
        text += length;
        text += strspn(text, " ");
    }
    (void)fputc('\n', stream);
}

static void write_words(FILE *stream, const char *text, int column)
{
    char indent[WIDTH];

    (void)snprintf(indent, sizeof indent, "%*s", column, "");
    write_under(stream, text, indent);
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

static void write_box(FILE *stream, const struct sheet_content *content)
{
    if (content->reason_count > 0) {
        (void)fprintf(stream, "\n%.*s\n!! " SHEET_BOX "\n", WIDTH, line_of_box);
    }
    for (size_t i = 0; i < content->reason_count; i++) {
        (void)fputs("!! - ", stream);
        write_under(stream, content->reason[i], "!!   ");
    }
    if (content->reason_count > 0) {
        (void)fprintf(stream, "%.*s\n", WIDTH, line_of_box);
    }
    if (content->judged[0] != '\0') {
        (void)fputc('\n', stream);
        write_words(stream, content->judged, 0);
    }
}

static void write_settings(FILE *stream, const struct sheet_content *content)
{
    (void)fprintf(stream, "\nSettings, %s\n", content->strategy);
    for (size_t i = 0; i < content->setting_count; i++) {
        (void)fputs("  ", stream);
        write_left(stream, content->setting[i].label, LABEL_WIDTH - 2);
        write_right(stream, content->setting[i].value, CELL_WIDTH);
        (void)fputc('\n', stream);
    }
}

static void write_steps(FILE *stream, const struct sheet_content *content, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++) {
        (void)fprintf(stream, "[ ] %2zu  ", i + 1);
        write_words(stream, content->step[i], 8);
    }
}

static void write_leak_test(FILE *stream, const struct sheet_content *content)
{
    (void)fputs("\n" SHEET_LEAK_TEST "\n", stream);
    for (size_t i = 0; i < content->test_count; i++) {
        (void)fprintf(stream, "[ ]  %c  ", (char)('a' + (int)i));
        write_words(stream, content->test[i], 8);
    }
    if (content->outcome_count == 0) {
        return;
    }
    (void)fputs("  ", stream);
    write_words(stream, content->why, 2);
    (void)fputs("\n  ", stream);
    write_left(stream, "house valve open", OUTCOME_WIDTH);
    write_left(stream, "shut", OUTCOME_WIDTH);
    (void)fputs("what it means\n", stream);
    for (size_t i = 0; i < content->outcome_count; i++) {
        (void)fputs("  ", stream);
        write_left(stream, content->outcome[i].open, OUTCOME_WIDTH);
        write_left(stream, content->outcome[i].shut, OUTCOME_WIDTH);
        write_words(stream, content->outcome[i].means, 2 + 2 * OUTCOME_WIDTH);
    }
}

void sheet_write_text(FILE *stream, const struct sheet_content *content)
{
    char shown[SHEET_LINE_MOST];

    pd_text_show(shown, sizeof shown, content->title);
    (void)fprintf(stream, "Commissioning sheet: %s\n", shown);
    write_box(stream, content);
    (void)fprintf(stream, "\nplace ____________________  date ____________  name "
                          "____________________\n");
    write_settings(stream, content);
    (void)fputs("\n" SHEET_POWER_OFF "\n", stream);
    write_steps(stream, content, 0, content->power_on);
    (void)fprintf(stream, "\n%s%s\n", SHEET_POWER_ON,
                  content->reason_count > 0 ? SHEET_NOT_YET : "");
    write_steps(stream, content, content->power_on, content->step_count);
    write_readings(stream, content);
    write_leak_test(stream, content);
    (void)fputs("\nA simulation replaces neither measurement nor judgement.\n"
                "\nremarks ______________________________  signed ____________________\n",
                stream);
}
