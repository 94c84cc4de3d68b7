/* The columns of a file: heads with their units in brackets, and the cells below them. */
#ifndef PD_SCENARIO_COLUMNS_H
#define PD_SCENARIO_COLUMNS_H

#include "scenario/quantity.h"
#include "scenario/table.h"

enum { PD_COLUMNS_MOST = 16 };

/* One column a file may have.  A column of times takes HH:MM[:SS] without a unit in its head and
 * plain numbers with one. */
struct pd_column {
    const char *name;
    struct pd_bounds bounds;
    bool clock; /* a time of day */
    bool required;
};

/* Where the columns stand in one file. */
struct pd_heads {
    const struct pd_column *columns;
    size_t count;
    bool malformed; /* a head could not be taken apart */
    bool found[PD_COLUMNS_MOST];
    size_t place[PD_COLUMNS_MOST];
    const struct pd_unit *unit[PD_COLUMNS_MOST];
};

/* Finds the columns by the heads in row 0.  False and faults for unknown, doubled and missing ones
 * and for their units. */
bool pd_heads_read(struct pd_heads *heads, const struct pd_column *columns, size_t count,
                   struct pd_table *table, struct pd_faults *faults);

/* Tells cells that stand beside the columns.  False and a fault if there are any. */
bool pd_heads_row_fits(const struct pd_table *table, size_t row, struct pd_faults *faults);

/* A cell as text, "" where the file has no such column. */
const char *pd_heads_text(const struct pd_heads *heads, const struct pd_table *table, size_t row,
                          size_t column);

/* A cell as an SI number within the column's limits.  False and a fault otherwise. */
bool pd_heads_number(const struct pd_heads *heads, struct pd_table *table, size_t row,
                     size_t column, double *si, struct pd_faults *faults);

/* The place of a cell, for a fault about it. */
struct pd_place pd_heads_place(const struct pd_heads *heads, struct pd_table *table, size_t row,
                               size_t column, struct pd_faults *faults);

/* A row while it is read. */
struct pd_row {
    const struct pd_heads *heads;
    struct pd_table *table;
    size_t number;
    struct pd_faults *faults;
};

/* A cell of it as text, "" where the file has no such column. */
const char *pd_row_text(const struct pd_row *row, size_t column);

/* Adds a fault of a cell: what is wrong (NULL: what it holds says it), what it holds, what was
 * expected.  Returns false. */
bool pd_row_wrong(const struct pd_row *row, size_t column, const char *what, const char *expected);

#endif
