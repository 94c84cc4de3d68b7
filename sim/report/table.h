/* The table of a comparison for people: quantities as rows, strategies as columns. */
#ifndef PUMPDAY_REPORT_TABLE_H
#define PUMPDAY_REPORT_TABLE_H

#include "report/results.h"

/* Writes settings, figures and verdicts of 1 to PD_STRATEGY_COUNT days, within 100 columns.
 * colour: mark verdicts with terminal colours. */
void pd_table_write(FILE *stream, const struct pd_report_day *days, size_t count,
                    enum pd_unit_system units, bool colour);

#endif
