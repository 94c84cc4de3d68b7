/* Runs the days of a household side by side.  Each thread has a scenario and a plant of its own,
 * into which the draws of one day after another are put. */
#include "base/memory.h"
#include "studies/days_draw.h"
#include "studies/days_store.h"
#include "studies/team.h"

#include <pumpday/days.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

// days between two looks at the precision reached
static const long batch_days = 100;

// between two looks at whether it is worth going on
static const long hopeless_days = 10;

/* The days while they are made. */
struct job {
    const struct pd_scenario *scenario;
    const struct pd_days_options *options;
    struct pd_days *days;
    struct days_store *store; /* NULL: none */
    bool chained;             /* a day needs the level that the one before left */
    long first, end;          /* the days that are run now, from 0 */
};

/* What a thread works with. */
struct desk {
    const struct job *job;
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct pd_day *day;
    struct days_draws draws;
};

struct pd_days_options pd_days_default(void)
{
    return (struct pd_days_options){
        .seed = 1, .count = 100, .most_failing = -1, .day = pd_day_default()};
}

static void close_desk(void *workspace)
{
    struct desk *desk = workspace;

    if (desk != NULL) {
        pd_day_free(desk->day);
        pd_plant_free(&desk->plant);
        pd_scenario_free(&desk->scenario);
        days_draws_free(&desk->draws);
        free(desk);
    }
}

static bool no_memory(struct pd_error *error)
{
    return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "not enough memory");
}

static bool furnish(struct desk *desk, const struct pd_scenario *scenario, struct pd_error *error)
{
    if (!pd_scenario_copy(scenario, &desk->scenario)) {
        return no_memory(error);
    }
    desk->day = pd_day_create(error);
    return desk->day != NULL && pd_plant_build(&desk->scenario, &desk->plant, error);
}

static void *open_desk(void *context, struct pd_error *error)
{
    const struct job *job = context;
    struct desk *desk = pd_memory_resize(NULL, sizeof *desk);

    if (desk == NULL) {
        (void)no_memory(error);
        return NULL;
    }
    memset(desk, 0, sizeof *desk);
    desk->job = job;
    if (!furnish(desk, job->scenario, error)) {
        close_desk(desk);
        return NULL;
    }
    return desk;
}

static uint32_t faults_of(const struct pd_findings *findings)
{
    uint32_t faults = 0;

    for (size_t i = 0; i < findings->count; i++) {
        if (findings->list[i].level == PD_LEVEL_FAIL) {
            faults |= UINT32_C(1) << findings->list[i].fault;
        }
    }
    return faults;
}

_Static_assert((int)PD_FAULT_COUNT <= 32, "a bit for each fault");

static void keep(double *figure, const struct pd_scenario *scenario, bool level_moves,
                 const struct pd_day_result *result)
{
    figure[PD_FIGURE_STARTS] = result->starts;
    figure[PD_FIGURE_WORST_HOUR] = result->starts_in_worst_hour;
    figure[PD_FIGURE_RUN_TIME] = result->run_time;
    figure[PD_FIGURE_SHORTEST_RUN] = result->shortest_run;
    figure[PD_FIGURE_SHORTEST_REST] = result->shortest_rest;
    figure[PD_FIGURE_ENERGY] = result->energy;
    figure[PD_FIGURE_COST] = pd_day_cost(scenario, result);
    figure[PD_FIGURE_WATER] = result->delivered;
    figure[PD_FIGURE_LOWEST_TAP] = result->lowest_tap_pressure;
    figure[PD_FIGURE_HIGHEST] = result->highest_header_pressure;
    figure[PD_FIGURE_LEVEL] = level_moves ? result->last_level : (double)NAN;
}

static bool run_strategy(struct desk *desk, size_t number, size_t strategy,
                         const struct pd_day_options *options, struct pd_error *error)
{
    struct pd_days *days = desk->job->days;
    size_t place = number * days->strategy_count + strategy;
    struct pd_day_result result;
    struct pd_findings findings;

    if (!pd_day_run(desk->day, &desk->plant, &days->strategy[strategy], options, &result, error)) {
        return false;
    }
    pd_findings_judge(&desk->plant, &result, &findings);
    days->faults[place] = faults_of(&findings);
    keep(days->figure + place * PD_FIGURE_COUNT, &desk->scenario, desk->plant.level_moves, &result);
    return true;
}

static bool put_day(struct desk *desk, long day, struct pd_error *error)
{
    const struct pd_days_options *options = desk->job->options;
    double carried = options->carry ? desk->plant.warm_up : 0.0;

    return days_draw(&desk->draws, &desk->scenario, options->seed, day, carried, error) &&
           pd_plant_set_draws(&desk->plant, error);
}

static bool run_day(void *workspace, size_t number, bool (*go_on)(void *team), void *team,
                    struct team_text *text, struct pd_error *error)
{
    struct desk *desk = workspace;
    const struct job *job = desk->job;
    struct pd_day_options options = job->options->day;

    (void)text;
    options.go_on = go_on;
    options.go_on_context = team;
    if (!put_day(desk, (long)number + 1, error)) {
        return false;
    }
    for (size_t i = 0; i < job->days->strategy_count; i++) {
        if (!run_strategy(desk, number, i, &options, error)) {
            return false;
        }
    }
    return true;
}

/* The level that the day before left; NAN before the first day. */
static double level_before(const struct pd_days *days, long day, size_t strategy)
{
    return day == 0 ? (double)NAN : pd_days_figure(days, day - 1, strategy, PD_FIGURE_LEVEL);
}

/* All days of a strategy, one after the other. */
static bool run_chain(void *workspace, size_t strategy, bool (*go_on)(void *team), void *team,
                      struct team_text *text, struct pd_error *error)
{
    struct desk *desk = workspace;
    const struct job *job = desk->job;
    struct pd_day_options options = job->options->day;

    (void)text;
    options.go_on = go_on;
    options.go_on_context = team;
    for (long day = job->first; day < job->end; day++) {
        options.level = level_before(job->days, day, strategy);
        if (!put_day(desk, day + 1, error) ||
            !run_strategy(desk, (size_t)day, strategy, &options, error)) {
            return false;
        }
    }
    return true;
}

static bool may_go_on(void *context)
{
    const struct job *job = context;
    const struct pd_day_options *day = &job->options->day;

    return day->go_on == NULL || day->go_on(day->go_on_context);
}

static bool run_batch(struct job *job, long first, long end, struct pd_error *error)
{
    struct team_work work = {
        .first = job->chained ? 0 : (size_t)first,
        .end = job->chained ? job->days->strategy_count : (size_t)end,
        .jobs = team_jobs(job->options->jobs),
        .context = job,
        .open = open_desk,
        .close = close_desk,
        .make = job->chained ? run_chain : run_day,
        .go_on = may_go_on,
    };

    job->first = first;
    job->end = end;
    if (may_go_on(job) && team_run(&work, error) == work.end) {
        return true;
    }
    return error->code == PD_DONE
               ? pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request")
               : false;
}

/* Whether the share that fails is known as well as is asked for, under each strategy. */
static bool known(const struct pd_days *days, double until)
{
    for (size_t i = 0; until > 0 && i < days->strategy_count; i++) {
        struct pd_interval share =
            pd_share_interval(pd_days_failing(days, i, UINT32_MAX), days->count);
        if (share.high - share.low > 2 * until) {
            return false;
        }
    }
    return until > 0;
}

/* Whether every strategy has failed more often than it may. */
static bool lost(const struct pd_days *days, long most_failing)
{
    for (size_t i = 0; most_failing >= 0 && i < days->strategy_count; i++) {
        if (pd_days_failing(days, i, UINT32_MAX) <= most_failing) {
            return false;
        }
    }
    return most_failing >= 0;
}

/* Room for some days more. */
static bool grow(struct pd_days *days, long end, struct pd_error *error)
{
    size_t places = (size_t)end * days->strategy_count;
    double *figure =
        pd_memory_resize(days->figure, places * PD_FIGURE_COUNT * sizeof *days->figure);

    if (figure == NULL) {
        return no_memory(error);
    }
    days->figure = figure;
    uint32_t *faults = pd_memory_resize(days->faults, places * sizeof *days->faults);
    if (faults == NULL) {
        return no_memory(error);
    }
    days->faults = faults;
    return true;
}

static bool run_batches(struct job *job, struct pd_error *error)
{
    const struct pd_days_options *options = job->options;
    struct pd_days *days = job->days;

    long batch = options->most_failing >= 0 ? hopeless_days : batch_days;

    while (days->count < options->count && !known(days, days->count > 0 ? options->until : 0) &&
           !lost(days, options->most_failing)) {
        long left = options->count - days->count;
        long end = days->count + (left < batch ? left : batch);
        if (!grow(days, end, error) || !run_batch(job, days->count, end, error) ||
            (job->store != NULL && !days_store_add(job->store, days, days->count, end, error))) {
            return false;
        }
        days->count = end;
        if (options->progress != NULL) {
            options->progress(options->progress_context, (size_t)end, (size_t)options->count);
        }
    }
    return true;
}

/* The strategies with their settings, which hang on the installation and not on its draws. */
static bool settle(struct job *job, struct pd_error *error)
{
    const struct pd_scenario *scenario = job->scenario;
    const struct pd_days_options *options = job->options;
    struct pd_days *days = job->days;
    bool all = options->strategy_count == 0;
    struct pd_plant plant;

    if (!pd_plant_build(scenario, &plant, error)) {
        return false;
    }
    days->strategy_count = all ? pd_strategy_count : options->strategy_count;
    for (size_t i = 0; i < days->strategy_count; i++) {
        days->strategy[i] =
            pd_strategy_for(all ? pd_strategies[i] : options->strategies[i], &plant);
    }
    job->chained = options->carry && plant.level_moves;
    pd_plant_free(&plant);
    return true;
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
static bool take_stored(struct job *job, struct pd_error *error)
{
    const struct pd_days_options *options = job->options;

    if (options->database == NULL) {
        return true;
    }
    job->store = days_store_open(job->scenario, options, job->days, error);
    long there = job->store != NULL ? days_store_count(job->store, error) : -1;
    return there >= 0 && (there == 0 || grow(job->days, there, error)) &&
           days_store_load(job->store, job->days, there, error);
}

bool pd_days_run(const struct pd_scenario *scenario, const struct pd_days_options *options,
                 struct pd_days *days, struct pd_error *error)
{
    struct job job = {.scenario = scenario, .options = options, .days = days};

    *days = (struct pd_days){.seed = options->seed,
                             .calendar = pd_scenario_calendar(scenario),
                             .limits = pd_limits_for(scenario)};
    bool good = options_fit(scenario, options, error) && settle(&job, error) &&
                take_stored(&job, error) && run_batches(&job, error);
    days_store_close(job.store);
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
