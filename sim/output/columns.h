/* Columns of the files written: one table a file drives heads, conversion and values. */
#ifndef PUMPDAY_OUTPUT_COLUMNS_H
#define PUMPDAY_OUTPUT_COLUMNS_H

#include <pumpday/units.h>

#include <stdio.h>

/* How a value is kept in its record. */
enum pd_store {
    PD_STORE_DOUBLE,
    PD_STORE_INT,
    PD_STORE_BOOL, /* written 1 or 0 */
    PD_STORE_TEXT  /* const char * */
};

/* One column: the value stands at `offset` of a record, SI; it is shown in one of two units. */
struct pd_column {
    const char *name;
    enum pd_kind kind;
    const char *si_unit, *us_unit; /* NULL: no unit */
    enum pd_store store;
    size_t offset;
};

/* Name of the column's unit, NULL if it has none. */
const char *pd_column_unit(const struct pd_column *column, enum pd_unit_system units);

/* The number of a record in the column's unit; not for text. */
double pd_column_number(const struct pd_column *column, enum pd_unit_system units,
                        const void *record);

/* The text of a record; only for text. */
const char *pd_column_text(const struct pd_column *column, const void *record);

/* Writes the line of heads, `name [unit],...`. */
void pd_csv_head(FILE *stream, const struct pd_column *columns, size_t count,
                 enum pd_unit_system units);

/* Writes a record as a line: numbers to nine digits, an empty field for what is not known, text
 * quoted as RFC 4180 has it. Errors stay in the stream. */
void pd_csv_row(FILE *stream, const struct pd_column *columns, size_t count,
                enum pd_unit_system units, const void *record);

enum { PD_COLUMNS_MOST = 16 };

/* How the rows of a long file are written: units found once, and a limit to the decimals of each
 * kind of quantity, where the last digits would be noise. */
struct pd_csv_rows {
    const struct pd_column *columns;
    size_t count; /* PD_COLUMNS_MOST at most */
    const struct pd_unit *unit[PD_COLUMNS_MOST];
    int decimals[PD_COLUMNS_MOST]; /* 0 to 6 */
};

/* decimals: PD_KIND_COUNT numbers, one for each kind */
struct pd_csv_rows pd_csv_rows_for(const struct pd_column *columns, size_t count,
                                   enum pd_unit_system units, const int *decimals);

/* Writes a record as pd_csv_row does, but for the decimals, in a tenth of the time. */
void pd_csv_rows_add(FILE *stream, const struct pd_csv_rows *rows, const void *record);

/* Head and row without the end of the line, for a file with more fields beside them. */
void pd_csv_head_fields(FILE *stream, const struct pd_column *columns, size_t count,
                        enum pd_unit_system units);
void pd_csv_fields(FILE *stream, const struct pd_column *columns, size_t count,
                   enum pd_unit_system units, const void *record);

/* Writes one text field, quoted where it must be, and so that no spreadsheet runs it: see
 * pd_text_runs.  Every text that a file is given goes through here. */
void pd_csv_text(FILE *stream, const char *text);

#endif
