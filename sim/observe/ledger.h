/* What is counted of a day: totals, hours and runs. */
#ifndef PUMPDAY_LEDGER_H
#define PUMPDAY_LEDGER_H

#include "run/run.h"

struct ledger {
    struct pd_day_result *result;
    struct pd_run *runs;          /* PD_RUNS_MOST of them */
    double accounted;             /* s, up to which open taps are accounted for */
    double midnight[STATE_COUNT]; /* the state then */
    double stored_at_midnight;    /* m3 */
    double hour_began[STATE_COUNT];
    int hours_done;
    double stopped;                /* s, the last stop; -INFINITY before the first */
    double run_volume, run_energy; /* of the state at the start of the run */
};

struct observer ledger_observer(struct ledger *ledger, struct pd_day_result *result,
                                struct pd_run *runs);

/* Of the day's hours, the one that a time is in; the first or last for a time outside. */
int hour_of(double time);

#endif
