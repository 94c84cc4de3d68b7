/* Each thread has a scenario and a plant of its own, into which the draws of one day after another
 * are put. */
#include "studies/days_block.h"

#include "base/memory.h"
#include "studies/team.h"

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
    struct pd_draws draws;
};

static void close_desk(void *workspace)
{
    struct desk *desk = workspace;

    if (desk != NULL) {
        pd_day_free(desk->day);
        pd_plant_free(&desk->plant);
        pd_scenario_free(&desk->scenario);
        pd_draws_free(&desk->draws);
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
    const struct making *making = context;
    struct desk *desk = pd_memory_resize(NULL, sizeof *desk);

    if (desk == NULL) {
        (void)no_memory(error);
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

static void keep(double *figure, const struct pd_day_result *result)
{
    figure[PD_FIGURE_STARTS] = result->starts;
    figure[PD_FIGURE_WORST_HOUR] = result->starts_in_worst_hour;
    figure[PD_FIGURE_RUN_TIME] = result->run_time;
    figure[PD_FIGURE_SHORTEST_RUN] = result->shortest_run;
    figure[PD_FIGURE_SHORTEST_REST] = result->shortest_rest;
    figure[PD_FIGURE_ENERGY] = result->energy;
    figure[PD_FIGURE_WATER] = result->delivered;
    figure[PD_FIGURE_LOWEST_TAP] = result->lowest_tap_pressure;
    figure[PD_FIGURE_HIGHEST] = result->highest_header_pressure;
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
        return false;
    }
    pd_findings_judge(&desk->plant, &result, &findings);
    block->faults[place] = faults_of(&findings);
    keep(block->figure + place * PD_FIGURE_COUNT, &result);
    return true;
}

bool days_put(struct pd_scenario *scenario, struct pd_draws *draws, uint64_t seed, long day,
              struct pd_error *error)
{
    if (!pd_household_day(scenario->uses, scenario->use_count, seed, day, draws, error)) {
        return false;
    }
    free(scenario->draws);
    scenario->draws = draws->draw;
    scenario->draw_count = draws->count;
    free(scenario->profile);
    scenario->profile = NULL;
    scenario->profile_count = 0;
    *draws = (struct pd_draws){0};
    return true;
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
    if (!days_put(&desk->scenario, &desk->draws, work->seed, (long)number + 1, error) ||
        !pd_plant_set_draws(&desk->plant, error)) {
        return false;
    }
    for (size_t i = 0; i < work->strategy_count; i++) {
        if (!run_strategy(desk, number, i, &options, error)) {
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
        .first = (size_t)block->first,
        .end = (size_t)block->end,
        .jobs = work->jobs,
        .context = &making,
        .open = open_desk,
        .close = close_desk,
        .make = run_day,
        .go_on = may_go_on,
    };

    return team_run(&team, error) == (size_t)block->end;
}

bool days_settle(const struct pd_scenario *scenario, const struct pd_strategy_kind *const *kinds,
                 size_t count, struct pd_strategy *strategies, struct pd_error *error)
{
    struct pd_plant plant;

    if (!pd_plant_build(scenario, &plant, error)) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        strategies[i] = pd_strategy_for(kinds[i], &plant);
    }
    pd_plant_free(&plant);
    return true;
}
