/* A compared day as readers are shown it. */
#ifndef PUMPDAY_STUDIES_REPORT_DAY_H
#define PUMPDAY_STUDIES_REPORT_DAY_H

#include "output/results.h"

#include <pumpday/compare.h>

/* With its cost, currency and verdict; runs, findings and texts stay those of row and scenario. */
struct pd_report_day report_day_of(const struct pd_scenario *scenario,
                                   const struct pd_limits *limits,
                                   const struct pd_comparison_row *row);

#endif
