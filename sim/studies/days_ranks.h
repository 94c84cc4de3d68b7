/* Rank 0: hands out blocks of days to all ranks, itself among them, and gathers them. */
#ifndef PUMPDAY_STUDIES_DAYS_RANKS_H
#define PUMPDAY_STUDIES_DAYS_RANKS_H

#include "studies/days_growth.h"

/* Whether there are other ranks, and they can make such days: not where each is to be watched, nor
 * where few are needed before it is looked at whether to go on. */
bool days_ranks_serve(const struct pd_days_options *options);

/* Makes days until there are enough, the same as without other ranks. */
bool days_ranks_run(struct days_growth *growth, struct pd_error *error);

#endif
