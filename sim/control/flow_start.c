/* Starts when water flows through the pump; so it needs a supply that flows by itself. */
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

const struct pd_strategy_kind strategy_flow_start = {
    .name = "flow-start",
    .start_cause = PD_CAUSE_FLOW,
    .summary = "starts when the flow through it reaches a set value",
    .settle = settle,
    .start_margin = start_margin,
    .stop_margin = flow_or_pressure_stop_margin,
};
