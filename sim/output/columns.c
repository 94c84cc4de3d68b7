/* Writes records as lines of CSV.  Hides how values are found, converted and quoted. */
#include "output/columns.h"

#include "base/text.h"

#include <ctype.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

const char *pd_column_unit(const struct pd_column *column, enum pd_unit_system units)
{
    return units == PD_UNITS_US ? column->us_unit : column->si_unit;
}

static double stored_number(const struct pd_column *column, const void *record)
{
    const char *place = (const char *)record + column->offset;

    switch (column->store) {
    case PD_STORE_DOUBLE:
        return *(const double *)(const void *)place;
    case PD_STORE_INT:
        return *(const int *)(const void *)place;
    case PD_STORE_BOOL:
        return *(const bool *)(const void *)place ? 1 : 0;
    case PD_STORE_TEXT:
        break;
    }
    return NAN;
}

/* The unit that a column is shown in.  One that the table of units lacks must not pass for SI: it
 * makes every number unknown. */
static const struct pd_unit *unit_of(const struct pd_column *column, enum pd_unit_system units)
{
    static const struct pd_unit plain = {"", 1.0, 0.0}, unknown = {"", NAN, NAN};
    const char *name = pd_column_unit(column, units);
    const struct pd_unit *unit = name != NULL ? pd_unit_find(column->kind, name) : &plain;

    return unit != NULL ? unit : &unknown;
}

double pd_column_number(const struct pd_column *column, enum pd_unit_system units,
                        const void *record)
{
    return pd_unit_from_si(unit_of(column, units), stored_number(column, record));
}

const char *pd_column_text(const struct pd_column *column, const void *record)
{
    const char *place = (const char *)record + column->offset;

    return column->store == PD_STORE_TEXT ? *(const char *const *)(const void *)place : NULL;
}

void pd_csv_text(FILE *stream, const char *text)
{
    const char *guard = pd_text_runs(text) ? "'" : "";

    if (strpbrk(text, ",\"\r\n") == NULL) {
        (void)fputs(guard, stream);
        (void)fputs(text, stream);
        return;
    }
    // quotes within are doubled
    (void)fprintf(stream, "\"%s", guard);
    for (const char *at = text; *at != '\0'; at++) {
        if (*at == '"') {
            (void)fputc('"', stream);
        }
        (void)fputc(*at, stream);
    }
    (void)fputc('"', stream);
}

static void write_number(FILE *stream, double value)
{
    // what is not known, or not there, is an empty field
    if (!isfinite(value)) {
        return;
    }
    // adding zero turns a negative zero into a plain one
    (void)fprintf(stream, "%.9g", value + 0.0);
}

void pd_csv_head_fields(FILE *stream, const struct pd_column *columns, size_t count,
                        enum pd_unit_system units)
{
    for (size_t i = 0; i < count; i++) {
        const char *unit = pd_column_unit(&columns[i], units);

        (void)fputs(i > 0 ? "," : "", stream);
        pd_csv_text(stream, columns[i].name);
        if (unit != NULL) {
            (void)fprintf(stream, " [%s]", unit);
        }
    }
}

void pd_csv_head(FILE *stream, const struct pd_column *columns, size_t count,
                 enum pd_unit_system units)
{
    pd_csv_head_fields(stream, columns, count, units);
    (void)fputc('\n', stream);
}

void pd_csv_fields(FILE *stream, const struct pd_column *columns, size_t count,
                   enum pd_unit_system units, const void *record)
{
    for (size_t i = 0; i < count; i++) {
        const char *text = pd_column_text(&columns[i], record);

        (void)fputs(i > 0 ? "," : "", stream);
        if (columns[i].store != PD_STORE_TEXT) {
            write_number(stream, pd_column_number(&columns[i], units, record));
        } else if (text != NULL) {
            pd_csv_text(stream, text);
        }
    }
}

void pd_csv_row(FILE *stream, const struct pd_column *columns, size_t count,
                enum pd_unit_system units, const void *record)
{
    pd_csv_fields(stream, columns, count, units, record);
    (void)fputc('\n', stream);
}

struct pd_csv_rows pd_csv_rows_for(const struct pd_column *columns, size_t count,
                                   enum pd_unit_system units, const int *decimals)
{
    struct pd_csv_rows rows = {.columns = columns,
                               .count = count < PD_COLUMNS_MOST ? count : PD_COLUMNS_MOST};

    for (size_t i = 0; i < rows.count; i++) {
        rows.unit[i] = unit_of(&columns[i], units);
        rows.decimals[i] = decimals[columns[i].kind];
    }
    return rows;
}

/* Steps of the last decimal in a number; one of more has digits that only the general writer
 * knows. */
static const double most_steps = 999999999;

enum { FIELD_MOST = 24, LINE_MOST = PD_COLUMNS_MOST * (FIELD_MOST + 1) + 1 };

/* Two digits, and one, from the end of a field backwards. */
static char *put_two(char *at, uint32_t two)
{
    static const char digits[] = "00010203040506070809101112131415161718192021222324"
                                 "25262728293031323334353637383940414243444546474849"
                                 "50515253545556575859606162636465666768697071727374"
                                 "75767778798081828384858687888990919293949596979899";

    at -= 2;
    memcpy(at, &digits[2 * (size_t)two], 2);
    return at;
}

static char *put_whole(char *at, uint32_t whole)
{
    for (; whole >= 100; whole /= 100) {
        at = put_two(at, whole % 100);
    }
    if (whole >= 10) {
        return put_two(at, whole);
    }
    *--at = (char)('0' + whole);
    return at;
}

/* The digits of a number of steps, from the end of the field backwards, without zeros behind the
 * point.  Where they begin. */
static char *put_digits(char *at, uint32_t steps, int decimals)
{
    while (decimals > 0 && steps % 10 == 0) {
        steps /= 10;
        decimals--;
    }
    if (decimals > 0) {
        for (; decimals > 1; decimals -= 2, steps /= 100) {
            at = put_two(at, steps % 100);
        }
        if (decimals > 0) {
            *--at = (char)('0' + steps % 10);
            steps /= 10;
        }
        *--at = '.';
    }
    return put_whole(at, steps);
}

/* Where the line goes on behind the number.  What is not known is an empty field. */
static char *put_number(char *to, double value, int decimals)
{
    static const double powers[] = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};
    double scaled = value * powers[decimals];
    char field[FIELD_MOST], *end = field + sizeof field;

    if (!isfinite(value)) {
        return to;
    }
    if (!(fabs(scaled) < most_steps)) {
        return to + snprintf(to, FIELD_MOST, "%.9g", round(scaled) / powers[decimals]);
    }
    // halves away from zero, as round() has them
    uint32_t steps = (uint32_t)fabs(scaled);
    steps += fabs(scaled) - steps >= 0.5 ? 1 : 0;
    char *at = put_digits(end, steps, decimals);
    if (scaled < 0 && steps > 0) {
        *--at = '-';
    }
    memcpy(to, at, (size_t)(end - at));
    return to + (end - at);
}

/* A text that is short and plain goes into the line; where the line goes on, NULL for another. */
static char *put_plain(char *to, const char *text)
{
    size_t length = 0;

    while (length < FIELD_MOST &&
           (isalnum((unsigned char)text[length]) || text[length] == '-' || text[length] == '_')) {
        length++;
    }
    if (text[length] != '\0' || !isalpha((unsigned char)text[0])) {
        return NULL;
    }
    memcpy(to, text, length);
    return to + length;
}

/* A text behind what the line has so far; where the line goes on. */
static char *put_text(FILE *stream, char *line, char *to, const char *text)
{
    char *behind = put_plain(to, text);

    if (behind != NULL) {
        return behind;
    }
    (void)fwrite(line, 1, (size_t)(to - line), stream);
    pd_csv_text(stream, text);
    return line;
}

void pd_csv_rows_add(FILE *stream, const struct pd_csv_rows *rows, const void *record)
{
    char line[LINE_MOST], *to = line;

    for (size_t i = 0; i < rows->count; i++) {
        const struct pd_column *column = &rows->columns[i];
        const char *text = pd_column_text(column, record);
        if (i > 0) {
            *to++ = ',';
        }
        if (column->store != PD_STORE_TEXT) {
            double value = pd_unit_from_si(rows->unit[i], stored_number(column, record));
            to = put_number(to, value, rows->decimals[i]);
        } else if (text != NULL) {
            to = put_text(stream, line, to, text);
        }
    }
    *to++ = '\n';
    (void)fwrite(line, 1, (size_t)(to - line), stream);
}
