/* What to set, as a table for people and as rows of site.csv. */
#ifndef PUMPDAY_PRESENT_SETTINGS_TABLE_H
#define PUMPDAY_PRESENT_SETTINGS_TABLE_H

#include <pumpday/settings.h>

#include <stdio.h>

/* Settings, the day with them, and the day when things are off; strategies as columns, within 100
 * columns.  The options are those of the search. */
void pd_settings_write_table(FILE *stream, const struct pd_scenario *scenario,
                             const struct pd_settings *settings,
                             const struct pd_settings_options *options);

/* A line for each strategy that draws a main below the pressure of the air. */
void pd_settings_write_cautions(FILE *stream, const struct pd_settings *settings,
                                enum pd_unit_system units);

/* Rows of site.csv for a setting, with their head and a remark. */
void pd_setting_write_rows(FILE *stream, const struct pd_scenario *scenario,
                           const struct pd_setting *setting, enum pd_unit_system units);

/* The same rows as options `--set "ITEM=VALUE UNIT"`, a line each. */
void pd_setting_write_sets(FILE *stream, const struct pd_scenario *scenario,
                           const struct pd_setting *setting, enum pd_unit_system units);

#endif
