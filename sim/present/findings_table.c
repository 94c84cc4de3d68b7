/* Lays out the lines of a check. */
#include "present/findings_table.h"

#include "output/amount.h"
#include "output/columns.h"

#include <math.h>
#include <string.h>

/* Widths in characters; they add up to 100. */
enum { LEVEL_WIDTH = 6, WHAT_WIDTH = 38, FOUND_WIDTH = 12, LIMIT_WIDTH = 15, SOURCE_WIDTH = 29 };
enum { LEFT_WIDTH = LEVEL_WIDTH + WHAT_WIDTH + FOUND_WIDTH + LIMIT_WIDTH, NOTE_WIDTH = 90 };

const char *pd_level_name(enum pd_level level)
{
    static const char *const names[] = {"ok", "warn", "fail"};

    return names[level];
}

/* Length of what fits into a width, up to a space if it does not fit whole. */
static size_t fitting(const char *text, size_t width)
{
    size_t length = strlen(text);

    if (length <= width) {
        return length;
    }
    for (length = width; length > 0 && text[length] != ' '; length--) {
    }
    return length > 0 ? length : width;
}

/* Ends the line with a text, going on under itself at a column. */
static void write_wrapped(FILE *stream, const char *text, int column, size_t width)
{
    size_t length = fitting(text, width);

    (void)fprintf(stream, "%.*s\n", (int)length, text);
    for (text += length; *text != '\0'; text += length) {
        text += strspn(text, " ");
        length = fitting(text, width);
        (void)fprintf(stream, "%*s%.*s\n", column, "", (int)length, text);
    }
}

static void write_level(FILE *stream, enum pd_level level, bool colour)
{
    static const char *const colours[] = {"\x1b[32m", "\x1b[33m", "\x1b[31m"};
    const char *name = pd_level_name(level);

    if (colour) {
        (void)fprintf(stream, "%s%s\x1b[0m%*s", colours[level], name,
                      LEVEL_WIDTH - (int)strlen(name), "");
    } else {
        (void)fprintf(stream, "%-*s", LEVEL_WIDTH, name);
    }
}

/* "<= 5.52 bar", or nothing where there is no limit. */
static void limit_text(char text[PD_AMOUNT_MOST + 4], const struct pd_finding *line,
                       enum pd_unit_system units)
{
    char amount[PD_AMOUNT_MOST];

    text[0] = '\0';
    if (line->sense == PD_SENSE_TELLS) {
        return;
    }
    pd_amount_text(amount, line->kind, units, line->limit);
    (void)snprintf(text, PD_AMOUNT_MOST + 4, "%s %s",
                   line->sense == PD_SENSE_AT_MOST ? "<=" : ">=", amount);
}

/* A cell keeps a space behind it, however long its text. */
static void write_cell(FILE *stream, int width, const char *text)
{
    (void)fprintf(stream, "%-*s ", width - 1, text);
}

static void write_line(FILE *stream, const struct pd_finding *line, enum pd_unit_system units,
                       bool colour)
{
    char found[PD_AMOUNT_MOST];
    char limit[PD_AMOUNT_MOST + 4];

    limit_text(limit, line, units);
    write_level(stream, line->level, colour);
    write_cell(stream, WHAT_WIDTH, line->what);
    if (line->words != NULL) {
        int width = limit[0] != '\0' ? FOUND_WIDTH : FOUND_WIDTH + LIMIT_WIDTH;
        write_cell(stream, width, line->words);
    } else {
        pd_amount_text(found, line->kind, units, line->found);
        write_cell(stream, FOUND_WIDTH, found);
    }
    if (line->words == NULL || limit[0] != '\0') {
        write_cell(stream, LIMIT_WIDTH, limit);
    }
    write_wrapped(stream, line->source, LEFT_WIDTH, SOURCE_WIDTH);
    if (line->note != NULL) {
        (void)fprintf(stream, "%*s", LEVEL_WIDTH + 2, "");
        write_wrapped(stream, line->note, LEVEL_WIDTH + 2, NOTE_WIDTH);
    }
}

static bool same_group(const char *a, const char *b)
{
    return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

void pd_findings_write_table(FILE *stream, const struct pd_findings *findings,
                             enum pd_unit_system units, bool colour)
{
    for (size_t i = 0; i < findings->count; i++) {
        const struct pd_finding *line = &findings->list[i];
        if (i == 0 || !same_group(line->strategy, findings->list[i - 1].strategy)) {
            (void)fprintf(stream, "%s%s\n", i > 0 ? "\n" : "",
                          line->strategy != NULL ? line->strategy : "the installation");
        }
        write_line(stream, line, units, colour);
    }
}

static void write_number(FILE *stream, const struct pd_finding *line, enum pd_unit_system units,
                         double si)
{
    if (isfinite(si)) {
        (void)fprintf(stream, "%.6g", pd_amount_number(line->kind, units, si) + 0.0);
    }
}

static void write_csv_line(FILE *stream, const struct pd_finding *line, enum pd_unit_system units)
{
    static const char *const senses[] = {"", "at most", "at least"};

    pd_csv_text(stream, line->strategy != NULL ? line->strategy : "");
    (void)fputc(',', stream);
    pd_csv_text(stream, line->what);
    (void)fputc(',', stream);
    if (line->words != NULL) {
        pd_csv_text(stream, line->words);
    } else {
        write_number(stream, line, units, line->found);
    }
    (void)fprintf(stream, ",%s,%s,", pd_amount_unit(line->kind, units), senses[line->sense]);
    if (line->sense != PD_SENSE_TELLS) {
        write_number(stream, line, units, line->limit);
    }
    (void)fputc(',', stream);
    pd_csv_text(stream, line->source);
    (void)fprintf(stream, ",%s,", pd_level_name(line->level));
    pd_csv_text(stream, line->note != NULL ? line->note : "");
    (void)fputc('\n', stream);
}

void pd_findings_write_csv(FILE *stream, const struct pd_findings *findings,
                           enum pd_unit_system units)
{
    (void)fputs("strategy,what,found,unit,sense,limit,source,level,note\n", stream);
    for (size_t i = 0; i < findings->count; i++) {
        write_csv_line(stream, &findings->list[i], units);
    }
}
