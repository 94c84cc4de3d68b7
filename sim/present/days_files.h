/* Many days as CSV: days.csv, a row a day and strategy; days-summary.csv, a row a strategy. */
#ifndef PUMPDAY_PRESENT_DAYS_FILES_H
#define PUMPDAY_PRESENT_DAYS_FILES_H

#include <pumpday/days.h>

/* Writes both into a folder, or none.  False and the error otherwise. */
bool pd_days_write_files(const char *folder, const struct pd_scenario *scenario,
                         const struct pd_days *days, enum pd_unit_system units,
                         struct pd_error *error);

#endif
