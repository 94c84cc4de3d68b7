/* The parts of a commissioning sheet beside its bench test. */
#ifndef PUMPDAY_STUDIES_SHEET_PARTS_H
#define PUMPDAY_STUDIES_SHEET_PARTS_H

#include <pumpday/sheet.h>

/* Fills the findings: the installation and the strategy's day.  False and the error if that day
 * cannot be simulated. */
bool sheet_judge(const struct pd_scenario *scenario, const struct pd_day_options *day,
                 struct pd_sheet *sheet, struct pd_error *error);

/* Fills what follows from the plant, and the leak test from the readings, which must be there. */
void sheet_survey(const struct pd_plant *plant, double gauge_step, struct pd_sheet *sheet);

#endif
