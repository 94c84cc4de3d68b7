/* Each thread has a scenario and a plant of its own, into which the draws of one day after another
 * are put. */
#include "studies/days_block.h"

#include "base/memory.h"
#include "studies/days_draw.h"
#include "studies/team.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The block while it is made. */
struct making {
    const struct days_work *work;
    const struct days_block *block;
    bool (*go_on)(void *context);
    void *context;
};

/* What a thread works with. */
struct desk {
    const struct making *making;
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct pd_day *day;
    struct days_draws draws;
};

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

static bool furnish(struct desk *desk, const struct pd_scenario *scenario, struct pd_error *error)
{
    if (!pd_scenario_copy(scenario, &desk->scenario)) {
        return pd_error_memory(error);
    }
    desk->day = pd_day_create(error);
    return desk->day != NULL && pd_plant_build(&desk->scenario, &desk->plant, error);
}

static void *open_desk(void *context, struct pd_error *error)
{
    const struct making *making = context;
    struct desk *desk = pd_memory_resize(NULL, sizeof *desk);

    if (desk == NULL) {
        (void)pd_error_memory(error);
        return NULL;
    }
    memset(desk, 0, sizeof *desk);
    desk->making = making;
    if (!furnish(desk, making->work->scenario, error)) {
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

/* Behind what is wrong; a wish to stop is no fault of the day. */
static void name_day(struct pd_error *error, long day, const char *strategy)
{
    size_t length = strlen(error->text);

    if (error->code != PD_DONE && error->code != PD_INTERRUPTED) {
        (void)snprintf(error->text + length, sizeof error->text - length, " (day %ld, %s)", day,
                       strategy);
    }
}

static bool run_strategy(struct desk *desk, size_t number, size_t strategy,
                         const struct pd_day_options *options, struct pd_error *error)
{
    const struct days_work *work = desk->making->work;
    const struct days_block *block = desk->making->block;
    size_t place = (number - (size_t)block->first) * work->strategy_count + strategy;
    struct pd_day_result result;
    struct pd_findings findings;

    if (!pd_day_run(desk->day, &desk->plant, &work->strategies[strategy], options, &result,
                    error)) {
        name_day(error, (long)number + 1, work->strategies[strategy].kind->name);
        return false;
    }
    pd_findings_judge(&desk->plant, &result, &findings);
    block->faults[place] = faults_of(&findings);
    keep(block->figure + place * PD_FIGURE_COUNT, &desk->scenario, desk->plant.level_moves,
         &result);
    return true;
}

static bool put_day(struct desk *desk, long day, struct pd_error *error)
{
    const struct days_work *work = desk->making->work;
    double carried = work->carry ? desk->plant.warm_up : 0.0;

    return days_draw(&desk->draws, &desk->scenario, work->seed, day, carried, error) &&
           pd_plant_set_draws(&desk->plant, error);
}

static bool run_day(void *workspace, size_t number, bool (*go_on)(void *team), void *team,
                    struct team_text *text, struct pd_error *error)
{
    struct desk *desk = workspace;
    const struct days_work *work = desk->making->work;
    struct pd_day_options options = work->day;

    (void)text;
    options.go_on = go_on;
    options.go_on_context = team;
    if (!put_day(desk, (long)number + 1, error)) {
        return false;
    }
    for (size_t i = 0; i < work->strategy_count; i++) {
        if (!run_strategy(desk, number, i, &options, error)) {
            return false;
        }
    }
    return true;
}

/* The level that the day before left; NAN before the first day. */
static double level_before(const struct making *making, long day, size_t strategy)
{
    const struct days_block *block = making->block;
    size_t place = strategy * PD_FIGURE_COUNT + PD_FIGURE_LEVEL;
    size_t row = making->work->strategy_count * PD_FIGURE_COUNT;

    if (day > block->first) {
        return block->figure[(size_t)(day - 1 - block->first) * row + place];
    }
    return block->before != NULL ? block->before[place] : (double)NAN;
}

/* All days of a strategy, one after the other. */
static bool run_chain(void *workspace, size_t strategy, bool (*go_on)(void *team), void *team,
                      struct team_text *text, struct pd_error *error)
{
    struct desk *desk = workspace;
    const struct making *making = desk->making;
    struct pd_day_options options = making->work->day;

    (void)text;
    options.go_on = go_on;
    options.go_on_context = team;
    for (long day = making->block->first; day < making->block->end; day++) {
        options.level = level_before(making, day, strategy);
        if (!put_day(desk, day + 1, error) ||
            !run_strategy(desk, (size_t)day, strategy, &options, error)) {
            return false;
        }
    }
    return true;
}

static bool may_go_on(void *context)
{
    const struct making *making = context;

    return making->go_on(making->context);
}

bool days_run_block(const struct days_work *work, const struct days_block *block,
                    bool (*go_on)(void *context), void *context, struct pd_error *error)
{
    struct making making = {work, block, go_on, context};
    struct team_work team = {
        .first = work->chained ? 0 : (size_t)block->first,
        .end = work->chained ? work->strategy_count : (size_t)block->end,
        .jobs = work->jobs,
        .context = &making,
        .open = open_desk,
        .close = close_desk,
        .make = work->chained ? run_chain : run_day,
        .go_on = may_go_on,
    };

    return team_run(&team, error) == team.end;
}

bool days_settle(const struct pd_scenario *scenario, const struct pd_strategy_kind *const *kinds,
                 size_t count, struct pd_strategy *strategies, bool *moves, struct pd_error *error)
{
    struct pd_plant plant;

    if (!pd_plant_build(scenario, &plant, error)) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        strategies[i] = pd_strategy_for(kinds[i], &plant);
    }
    if (moves != NULL) {
        *moves = plant.level_moves;
    }
    pd_plant_free(&plant);
    return true;
}
