/* Most starts in any 60 minutes of a day that comes after one like it, and the rate of its last
 * starts. */
#ifndef PUMPDAY_WORST_HOUR_H
#define PUMPDAY_WORST_HOUR_H

#include "run/run.h"

enum { LATEST_MOST = 101 };

struct worst_hour {
    struct pd_day_result *result; /* with the runs of the day */
    size_t evening_count;
    double evening[PD_RUNS_MOST]; /* s, under 0: starts in the last hour before midnight */
    double latest[LATEST_MOST];   /* s, the last starts, round and round */
    size_t latest_count;
};

/* To be told of the end after the ledger has counted the runs. */
struct observer worst_hour_observer(struct worst_hour *worst, struct pd_day_result *result);

#endif
