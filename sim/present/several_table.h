/* Several scenarios compared: one table for people, one set of files. */
#ifndef PUMPDAY_PRESENT_SEVERAL_TABLE_H
#define PUMPDAY_PRESENT_SEVERAL_TABLE_H

#include "output/columns.h"

#include <pumpday/compare.h>

/* A strategy on the day of one scenario, or over all of them. */
struct several_row {
    const char *scenario; /* its name; of the rows over all: "all" */
    int weight;           /* days that it stands for */
    const char *strategy;
    double starts, worst_hour, run_time, energy, cost, water; /* a day, or the sum of all days */
    double shortest_run, lowest_tap, below_tap, highest;
    const char *verdict; /* not owned */
    bool good;
};

/* The row of a strategy, by its place in the comparison of a scenario. */
struct several_row several_row_of(const struct pd_compared *compared, size_t strategy);

/* The same over all; `verdict` is filled with what the row's verdict points to. */
struct several_row several_row_all(const struct pd_compared *list, size_t count, size_t strategy,
                                   char verdict[PD_VERDICT_MOST]);

/* Whether a scenario counts other than once. */
bool several_weighted(const struct pd_compared *list, size_t count);

/* Writes the table, within 100 columns: for each scenario a row a strategy, then the rows over all.
 * colour: mark verdicts with terminal colours. */
void several_table_write(FILE *stream, const struct pd_compared *list, size_t count,
                         enum pd_unit_system units, bool colour);

/* A row's cells as text, for another layout. */
enum { SEVERAL_CELLS = 9, SEVERAL_CELL_MOST = 32 };
struct several_head {
    const char *name[2]; /* in two lines */
    char unit[SEVERAL_CELL_MOST];
};
void several_heads(struct several_head heads[SEVERAL_CELLS], const struct pd_compared *list,
                   size_t count, enum pd_unit_system units);
void several_cells(const struct several_row *row, enum pd_unit_system units,
                   char cells[SEVERAL_CELLS][SEVERAL_CELL_MOST]);

/* Writes scenarios.csv, scenarios-hours.csv and scenarios-cycles.csv into a folder, all or none. */
bool several_files_write(const char *folder, const struct pd_compared *list, size_t count,
                         enum pd_unit_system units, struct pd_error *error);

#endif
