/* Whoever asked for it is told of each run of the pump that ended, and may end the day there. */
#ifndef PUMPDAY_AFTER_RUN_H
#define PUMPDAY_AFTER_RUN_H

#include "run/run.h"

struct after_run {
    const struct pd_day_result *result;
    bool ended; /* a run, since the last event */
};

/* To be told after the ledger, which counts the run. */
struct observer after_run_observer(struct after_run *after, const struct pd_day_result *result);

#endif
