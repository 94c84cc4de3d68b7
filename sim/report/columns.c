/* Writes records as lines of CSV.  Hides how values are found, converted and quoted. */
#include "report/columns.h"

#include "base/text.h"

#include <math.h>
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

double pd_column_number(const struct pd_column *column, enum pd_unit_system units,
                        const void *record)
{
    const char *name = pd_column_unit(column, units);
    double value = stored_number(column, record);

    // a unit that the table of units lacks must not pass for SI
    if (name != NULL) {
        const struct pd_unit *unit = pd_unit_find(column->kind, name);
        value = unit == NULL ? (double)NAN : pd_unit_from_si(unit, value);
    }
    return value;
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
        (void)fprintf(stream, "%s%s", guard, text);
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

/* Steps of the last decimal beyond which a number has more digits than are written. */
static const double most_steps = 999999999;

/* A number cut to so many decimals, without zeros at its end: a tenth of the time that the general
 * writer takes, for files of a hundred thousand numbers. */
static void write_decimal(FILE *stream, double value, int decimals)
{
    static const double powers[] = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};
    double steps = round(value * powers[decimals]);
    char text[16], *at = text + sizeof text;

    if (!(fabs(steps) <= most_steps)) {
        write_number(stream, steps / powers[decimals]);
        return;
    }
    unsigned long rest = (unsigned long)fabs(steps);
    bool shown = false; // a decimal that is no zero at the end
    for (int place = 0; place < decimals; place++, rest /= 10) {
        shown = shown || rest % 10 != 0;
        if (shown) {
            *--at = (char)('0' + rest % 10);
        }
    }
    if (shown) {
        *--at = '.';
    }
    do {
        *--at = (char)('0' + rest % 10);
        rest /= 10;
    } while (rest != 0);
    if (steps < 0) {
        *--at = '-';
    }
    (void)fwrite(at, 1, (size_t)(text + sizeof text - at), stream);
}

/* decimals: of each kind; NULL: as many as there are */
static void write_fields(FILE *stream, const struct pd_column *columns, size_t count,
                         enum pd_unit_system units, const void *record, const int *decimals)
{
    for (size_t i = 0; i < count; i++) {
        const char *text = pd_column_text(&columns[i], record);

        if (i > 0) {
            (void)putc(',', stream);
        }
        if (columns[i].store != PD_STORE_TEXT) {
            double value = pd_column_number(&columns[i], units, record);
            if (decimals == NULL) {
                write_number(stream, value);
            } else {
                write_decimal(stream, value, decimals[columns[i].kind]);
            }
        } else if (text != NULL) {
            pd_csv_text(stream, text);
        }
    }
}

void pd_csv_fields(FILE *stream, const struct pd_column *columns, size_t count,
                   enum pd_unit_system units, const void *record)
{
    write_fields(stream, columns, count, units, record, NULL);
}

void pd_csv_row_short(FILE *stream, const struct pd_column *columns, size_t count,
                      enum pd_unit_system units, const void *record, const int *decimals)
{
    write_fields(stream, columns, count, units, record, decimals);
    (void)fputc('\n', stream);
}

void pd_csv_row(FILE *stream, const struct pd_column *columns, size_t count,
                enum pd_unit_system units, const void *record)
{
    pd_csv_fields(stream, columns, count, units, record);
    (void)fputc('\n', stream);
}
