/* Work on benches side by side: each thread has a bench of its own. */
#ifndef PUMPDAY_STUDIES_BENCH_TEAM_H
#define PUMPDAY_STUDIES_BENCH_TEAM_H

#include "studies/diagnose_parts.h"

struct bench_work {
    const struct pd_scenario *scenario;
    const struct pd_strategy_kind *kind;
    const struct pd_seen *seen;
    const struct pd_day_options *day;
    size_t count; /* pieces, numbered from 0 */
    void *context;
    /* in each thread: one piece, which keeps its result where no other piece writes */
    bool (*make)(void *context, struct bench *bench, size_t number, struct pd_error *error);
};

/* Does all pieces, a thread a processor.  False and the error if one fails or going on was denied.
 */
bool bench_team_run(const struct bench_work *work, struct pd_error *error);

#endif
