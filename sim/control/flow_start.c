/* Starts when water flows through the pump; so it needs a supply that flows by itself. */
#include "control/candidates.h"
#include "control/settings.h"

static void settle(const struct pd_plant *plant, struct pd_strategy *strategy)
{
    const double *value = plant->scenario->value;

    strategy->start_flow = value[PD_FLOW_START_START_FLOW];
    strategy->stop_flow = value[PD_FLOW_START_STOP_FLOW];
    strategy->run_on = value[PD_FLOW_START_RUN_ON];
    // the tank must still give water when the supply alone carries the start flow
    double unboosted = pd_plant_unboosted(plant, plant->lowest_supply, strategy->start_flow);
    strategy->precharge = setting_or(value[PD_FLOW_START_PRECHARGE], precharge_under(unboosted));
}

static double start_margin(const struct pd_strategy *strategy, const struct pd_readings *readings)
{
    return (strategy->start_flow - readings->pump_flow) / FLOW_SCALE;
}

/* Flows worth trying, and the share of them at which it stops. */
static const double tried_flows[] = {1.0 * GPM, 0.5 * GPM, 1.5 * GPM};
static const double stop_share = 0.8;

static void suggest(struct pd_candidates *candidates)
{
    struct pd_strategy strategy = candidates->usual;

    for (size_t i = 0; i < COUNT(tried_flows); i++) {
        for (size_t j = 0; j < RUN_ONS; j++) {
            strategy.start_flow = tried_flows[i];
            strategy.stop_flow = stop_share * tried_flows[i];
            strategy.run_on = candidates_run_on[j];
            candidates_add(candidates, strategy);
        }
    }
}

static const struct pd_setting_items items = {
    .start = PD_FLOW_START_START_FLOW,
    .stop_flow = PD_FLOW_START_STOP_FLOW,
    .stop_pressure = PD_ITEM_COUNT,
    .run_on = PD_FLOW_START_RUN_ON,
    .precharge = PD_FLOW_START_PRECHARGE,
};

const struct pd_strategy_kind strategy_flow_start = {
    .name = "flow-start",
    .start_cause = PD_CAUSE_FLOW,
    .summary = "starts when the flow through it reaches a set value",
    .controller = &controller_on_off,
    .items = &items,
    .settle = settle,
    .suggest = suggest,
    .start_margin = start_margin,
    .stop_margin = flow_or_pressure_stop_margin,
};
