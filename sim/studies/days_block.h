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
    int jobs;                  /* threads, at least 1 */
    struct pd_day_options day; /* its go_on is not asked */
};

/* Days from `first` to before `end`, counted from 0, and where they go. */
struct days_block {
    long first, end;
    double *figure;   /* [day][strategy][figure] */
    uint32_t *faults; /* [day][strategy] */
};

/* Runs them; go_on is asked in the calling thread, a few times a second and after each day.  False
 * and an error otherwise, without one where going on was denied. */
bool days_run_block(const struct days_work *work, const struct days_block *block,
                    bool (*go_on)(void *context), void *context, struct pd_error *error);

/* The strategies with their settings, which hang on the installation and not on its draws. */
bool days_settle(const struct pd_scenario *scenario, const struct pd_strategy_kind *const *kinds,
                 size_t count, struct pd_strategy *strategies, struct pd_error *error);

/* Puts a day's draws in place of those that stand in a scenario.  The lists change hands. */
bool days_put(struct pd_scenario *scenario, struct pd_draws *draws, uint64_t seed, long day,
              struct pd_error *error);

#endif
