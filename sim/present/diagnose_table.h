/* A diagnosis for people on site. */
#ifndef PUMPDAY_PRESENT_DIAGNOSE_TABLE_H
#define PUMPDAY_PRESENT_DIAGNOSE_TABLE_H

#include <pumpday/diagnose.h>

/* The suspects with sizes and misfits, the readings of the likeliest beside what was seen, what to
 * look at first, and what would tell the first two apart; within 100 columns. */
void pd_diagnosis_write(FILE *stream, const struct pd_diagnosis *diagnosis,
                        const struct pd_seen *seen, enum pd_unit_system units);

/* Fitted settings and traits of a log. */
void pd_log_fit_write(FILE *stream, const struct pd_log_fit *fit, enum pd_unit_system units);

#endif
