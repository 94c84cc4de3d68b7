/* A choice of pump, tank and strategy as a table for people and as CSV. */
#ifndef PUMPDAY_PRESENT_CHOOSE_TABLE_H
#define PUMPDAY_PRESENT_CHOOSE_TABLE_H

#include <pumpday/choose.h>

#include <stdio.h>

/* All by rank, within 100 columns, and a line that names the first or says that none will do. */
void pd_choices_write_table(FILE *stream, const struct pd_scenario *scenario,
                            const struct pd_catalogue *catalogue, const struct pd_choices *choices,
                            const struct pd_choose_options *options, enum pd_unit_system units);

/* A row each: rank, pump, tank, strategy, days, failing, passes, purchase, cost, its range, faults.
 */
void pd_choices_write_csv(FILE *stream, const struct pd_catalogue *catalogue,
                          const struct pd_choices *choices, enum pd_unit_system units);

#endif
