/* One CSV file as rows of cells, each row with the line it stands on.  The only user of libcsv. */
#ifndef PD_SCENARIO_TABLE_H
#define PD_SCENARIO_TABLE_H

#include <pumpday/error.h>

enum { PD_CELL_MOST = 1000 }; /* longest cell read, bytes */

struct pd_table_row {
    int line;
    size_t first, count; /* cells */
};

/* Row 0 holds the column heads.  Comment lines (#) and empty rows are left out. */
struct pd_table {
    char path[PD_PATH_MOST]; /* as told in faults */
    struct pd_table_row *rows;
    size_t row_count, row_room;
    size_t *cells; /* where each cell starts in text */
    size_t cell_count, cell_room;
    char *text; /* the cells, each closed by a zero */
    size_t text_size, text_room;
    bool damaged;    /* rows are missing, faults were told */
    bool comma_told; /* a decimal comma was told already */
    int leaning;     /* of its units, see struct pd_place */
};

/* Reads the file at table->path, at most rows_most rows below the heads.  The rest of *table must
 * be zero.  False if there is nothing to go on with; faults tell why.  To be freed in either case.
 */
bool pd_table_read(struct pd_table *table, size_t rows_most, struct pd_faults *faults);

/* A cell, trimmed, without an apostrophe that keeps a spreadsheet from running it; "" where the row
 * is shorter. */
const char *pd_table_cell(const struct pd_table *table, size_t row, size_t column);

void pd_table_free(struct pd_table *table);

#endif
