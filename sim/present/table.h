/* The table of a comparison for people: quantities as rows, strategies as columns. */
#ifndef PUMPDAY_PRESENT_TABLE_H
#define PUMPDAY_PRESENT_TABLE_H

#include "output/results.h"

/* Writes settings, figures and verdicts of 1 to pd_strategy_count days, within 100 columns.
 * colour: mark verdicts with terminal colours. */
void pd_table_write(FILE *stream, const struct pd_report_day *days, size_t count,
                    enum pd_unit_system units, bool colour);

enum { PD_TABLE_CELL_MOST = 64, PD_TABLE_ROWS_MOST = 24 };

/* A row as text, for another layout: its label with the unit, a cell a day. */
struct pd_table_row {
    char label[PD_TABLE_CELL_MOST];
    char cell[PD_STRATEGIES_MOST][PD_TABLE_CELL_MOST];
};

/* The rows of the same table but for the verdicts and what tells of the arithmetic alone: *settings
 * of them are settings, the rest figures of the day.  Returns how many there are. */
size_t pd_table_rows(const struct pd_report_day *days, size_t count, enum pd_unit_system units,
                     struct pd_table_row rows[PD_TABLE_ROWS_MOST], size_t *settings);

#endif
