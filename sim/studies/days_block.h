/* A block of days of a household, run side by side by threads. */
#ifndef PUMPDAY_STUDIES_DAYS_BLOCK_H
#define PUMPDAY_STUDIES_DAYS_BLOCK_H

#include <pumpday/days.h>

/* What the days of a run have in common. */
struct days_work {
    const struct pd_scenario *scenario;
    const struct pd_strategy *strategies; /* settled */
    size_t strategy_count;
    uint64_t seed;
    bool carry;                /* see pd_days_options */
    bool chained;              /* each day needs the level that the one before left */
    int jobs;                  /* threads, at least 1 */
    struct pd_day_options day; /* its go_on is not asked */
};

/* Days from `first` to before `end`, counted from 0, and where they go. */
struct days_block {
    long first, end;
    double *figure;   /* [day][strategy][figure] */
    uint32_t *faults; /* [day][strategy] */
    const double
        *before; /* figures of the day before the first, where days are chained; else NULL */
};

/* Runs them; go_on is asked in the calling thread, a few times a second and after each day.  False
 * and an error otherwise, without one where going on was denied. */
bool days_run_block(const struct days_work *work, const struct days_block *block,
                    bool (*go_on)(void *context), void *context, struct pd_error *error);

/* The strategies with their settings, which hang on the installation and not on its draws; *moves
 * tells whether a level moves.  May be NULL. */
bool days_settle(const struct pd_scenario *scenario, const struct pd_strategy_kind *const *kinds,
                 size_t count, struct pd_strategy *strategies, bool *moves, struct pd_error *error);

#endif
