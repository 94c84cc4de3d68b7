/* Why one of the settings is preferred, and what was tried with each. */
#ifndef PUMPDAY_PRESENT_SETTINGS_REASON_H
#define PUMPDAY_PRESENT_SETTINGS_REASON_H

#include <pumpday/settings.h>

#include <stdio.h>

enum { PD_OFF_WORDS_MOST = 128 };

/* What is off in one of the trials, "if the supply is 30 kPa lower". */
void pd_off_words(char text[PD_OFF_WORDS_MOST], enum pd_off off,
                  const struct pd_settings_options *options);

/* Which one is preferred and why, or that no booster is needed and what would make one needed, or
 * why none will do.  The options are those of the search. */
void pd_settings_write_reason(FILE *stream, const struct pd_scenario *scenario,
                              const struct pd_settings *settings,
                              const struct pd_settings_options *options);

#endif
