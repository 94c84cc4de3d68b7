/* Many days as a table for people. */
#ifndef PUMPDAY_PRESENT_DAYS_TABLE_H
#define PUMPDAY_PRESENT_DAYS_TABLE_H

#include <pumpday/life_cost.h>

#include <stdio.h>

/* How many days fail and by what, what a day brings in the middle and on nine days of ten, and how
 * the strategies differ day by day, and where prices are told the cost over the years; strategies
 * as columns, within 100 columns.  False and the error if memory runs out. */
bool pd_days_write_table(FILE *stream, const struct pd_scenario *scenario,
                         const struct pd_days *days, enum pd_unit_system units,
                         struct pd_error *error);

/* A line for each strategy: "pressure-start fails on 6 of 100 days (3 to 12 %)". */
void pd_days_write_verdicts(FILE *stream, const struct pd_days *days);

/* "3 to 12 %": where the share of all days lies of which so many were seen, 95 % sure. */
void pd_days_interval_text(char *text, size_t size, long count, long of);

/* "31 (22 to 44)": a figure on a day in the middle, and on nine of ten; its unit stands beside it.
 * False and the error if memory runs out. */
bool pd_days_cell_text(char *text, size_t size, const struct pd_days *days, size_t strategy,
                       enum pd_figure figure, enum pd_unit_system units, struct pd_error *error);
const char *pd_days_unit(enum pd_figure figure, enum pd_unit_system units);

#endif
