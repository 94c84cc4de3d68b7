/* Runs the days of a household, batch by batch. */
#include "studies/days_growth.h"
#include "studies/days_ranks.h"
#include "studies/ranks.h"
#include "studies/team.h"

#include <stdlib.h>
#include <string.h>

struct pd_days_options pd_days_default(void)
{
    return (struct pd_days_options){
        .seed = 1, .count = 100, .most_failing = -1, .day = pd_day_default()};
}

static bool wanted(void *context)
{
    return growth_wanted(context);
}

static bool run_batch(struct days_growth *growth, struct pd_error *error)
{
    long end = growth_batch_end(growth, growth->days->count);

    if (!growth_make_room(growth, end, error)) {
        return false;
    }
    struct days_block block = growth_block(growth, growth->days->count, end);
    if (growth_wanted(growth) && days_run_block(&growth->work, &block, wanted, growth, error)) {
        return growth_take(growth, end, error);
    }
    return pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request");
}

static bool run_batches(struct days_growth *growth, struct pd_error *error)
{
    while (!growth_enough(growth)) {
        if (!run_batch(growth, error)) {
            return false;
        }
    }
    return true;
}

static bool settle(struct pd_days *days, const struct pd_scenario *scenario,
                   const struct pd_days_options *options, bool *chained, struct pd_error *error)
{
    bool all = options->strategy_count == 0;

    days->strategy_count = all ? pd_strategy_count : options->strategy_count;
    bool moves = false;
    bool good = days_settle(scenario, all ? pd_strategies : options->strategies,
                            days->strategy_count, days->strategy, &moves, error);
    *chained = options->carry && moves;
    return good;
}

static bool options_fit(const struct pd_scenario *scenario, const struct pd_days_options *options,
                        struct pd_error *error)
{
    if (scenario->use_count == 0) {
        return pd_error_set(error, PD_BAD_INPUT, scenario->folder, 0, "household.csv",
                            "there is none to draw days from: `pumpday new DIR --dwellings 1 "
                            "--people 2` writes one to take over");
    }
    if (options->count < 1 || options->count > PD_DAYS_MOST) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, "count", "expected 1 to %d days",
                            (int)PD_DAYS_MOST);
    }
    return pd_day_options_check(&options->day, error);
}

/* Days that an earlier run left in the database. */
static bool take_stored(struct days_growth *growth, struct pd_error *error)
{
    const struct pd_days_options *options = growth->options;

    if (options->database == NULL) {
        return true;
    }
    growth->store = days_store_open(growth->work.scenario, options, growth->days, error);
    long there = growth->store != NULL ? days_store_count(growth->store, error) : -1;
    return there >= 0 && growth_make_room(growth, there, error) &&
           days_store_load(growth->store, growth->days, there, error);
}

static int jobs_for(int wanted_jobs)
{
    return team_jobs(wanted_jobs > 0 ? wanted_jobs : ranks_jobs());
}

bool pd_days_run(const struct pd_scenario *scenario, const struct pd_days_options *options,
                 struct pd_days *days, struct pd_error *error)
{
    struct days_growth growth = {
        .work = {.scenario = scenario,
                 .strategies = days->strategy,
                 .seed = options->seed,
                 .carry = options->carry,
                 .jobs = jobs_for(options->jobs),
                 .day = options->day},
        .options = options,
        .days = days,
    };

    *days = (struct pd_days){.seed = options->seed,
                             .calendar = pd_scenario_calendar(scenario),
                             .limits = pd_limits_for(scenario)};
    bool good = options_fit(scenario, options, error) &&
                settle(days, scenario, options, &growth.work.chained, error);
    growth.work.strategy_count = days->strategy_count;
    bool by_ranks = !growth.work.chained && days_ranks_serve(options);
    good = good && take_stored(&growth, error) &&
           (by_ranks ? days_ranks_run(&growth, error) : run_batches(&growth, error));
    days_store_close(growth.store);
    if (!good) {
        pd_days_free(days);
    }
    return good;
}

void pd_days_free(struct pd_days *days)
{
    free(days->figure);
    free(days->faults);
    days->figure = NULL;
    days->faults = NULL;
    days->count = 0;
}
