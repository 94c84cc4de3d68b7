/* The list of strategies, and one with its settings for a plant. */
#include "control/settings.h"

#include <math.h>
#include <string.h>

const struct pd_strategy_kind *const pd_strategies[PD_STRATEGY_COUNT] = {
    &strategy_pressure_start, &strategy_flow_start, &strategy_peak_only};

const char *pd_cause_name(enum pd_cause cause)
{
    static const char *const names[] = {
        [PD_CAUSE_PRESSURE] = "low pressure",
        [PD_CAUSE_FLOW] = "flow",
        [PD_CAUSE_CARRIED_OVER] = "ran at midnight",
        [PD_CAUSE_LOW_FLOW] = "low flow",
        [PD_CAUSE_STOP_PRESSURE] = "stop pressure",
        [PD_CAUSE_LOW_SUCTION] = "low suction",
        [PD_CAUSE_DRY] = "ran dry",
        [PD_CAUSE_END_OF_DAY] = "end of day",
    };
    return names[cause];
}

const struct pd_strategy_kind *pd_strategy_find(const char *name)
{
    for (size_t i = 0; i < PD_STRATEGY_COUNT; i++) {
        if (strcmp(pd_strategies[i]->name, name) == 0) {
            return pd_strategies[i];
        }
    }
    return NULL;
}

struct pd_strategy pd_strategy_for(const struct pd_strategy_kind *kind,
                                   const struct pd_plant *plant)
{
    struct pd_strategy strategy = {
        .kind = kind,
        .start_pressure = NAN,
        .start_flow = NAN,
        .stop_flow = NAN,
        .stop_pressure = NAN,
        .run_on = NAN,
        .precharge = NAN,
        .dry_pressure = NAN,
    };
    double tank_precharge = plant->scenario->value[PD_TANK_PRECHARGE];

    kind->settle(plant, &strategy);
    if (!isnan(tank_precharge)) {
        strategy.precharge = tank_precharge;
    }
    // a two-pressure switch stops at once
    if (!isnan(strategy.stop_pressure)) {
        strategy.run_on = 0.0;
    }
    if (isnan(strategy.dry_pressure)) {
        strategy.dry_pressure = strategy.precharge;
    }
    return strategy;
}
