/* Single faults of a day, for others than the verdict. */
#ifndef PUMPDAY_VERDICT_H
#define PUMPDAY_VERDICT_H

#include <pumpday/compare.h>

/* The taps were under their limit for more than a moment. */
bool verdict_low_taps(const struct pd_day_result *day);

bool verdict_never_ran(const struct pd_day_result *day);

/* It ran all day but for half an hour and no controller stopped it. */
bool verdict_never_stops(const struct pd_day_result *day);

/* A run of the day moved no water at all. */
bool verdict_moves_no_water(const struct pd_day_result *day);

/* What the starts and runs so far already break, whatever is still to come: too many starts in an
 * hour or in the day, or too short a run.  False where that is not yet sure. */
bool verdict_is_lost(const struct pd_day_result *so_far, const struct pd_limits *limits);

#endif
