/* The lines of a check, as a table for people and as CSV. */
#ifndef PUMPDAY_PRESENT_FINDINGS_TABLE_H
#define PUMPDAY_PRESENT_FINDINGS_TABLE_H

#include <pumpday/check.h>

/* "ok", "warn" or "fail". */
const char *pd_level_name(enum pd_level level);

/* Writes the lines under heads of their own, the installation first, within 100 columns; what is
 * to be done stands under a line.  colour: mark levels with terminal colours. */
void pd_findings_write_table(FILE *stream, const struct pd_findings *findings,
                             enum pd_unit_system units, bool colour);

/* Writes a line each: strategy, what, found, unit, sense, limit, source, level, note. */
void pd_findings_write_csv(FILE *stream, const struct pd_findings *findings,
                           enum pd_unit_system units);

#endif
