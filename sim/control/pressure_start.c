/* Starts when the header falls to the start pressure, set a little under the boosted one. */
#include "control/settings.h"

/* common practice, no source: 10 to 15 psi under the boosted static pressure; the middle of it */
static const double under_boosted = 12.5 * PASCAL_PER_PSI;

static void settle(const struct pd_plant *plant, struct pd_strategy *strategy)
{
    const double *value = plant->scenario->value;
    double boosted = plant->lowest_supply + plant->pump.shutoff;

    strategy->start_pressure = setting_or(value[PD_PRESSURE_START_START], boosted - under_boosted);
    strategy->stop_flow = value[PD_PRESSURE_START_STOP_FLOW];
    strategy->stop_pressure = value[PD_PRESSURE_START_STOP_PRESSURE];
    strategy->run_on = value[PD_PRESSURE_START_RUN_ON];
    strategy->precharge =
        setting_or(value[PD_PRESSURE_START_PRECHARGE], precharge_under(strategy->start_pressure));
    strategy->dry_pressure = strategy->start_pressure;
}

const struct pd_strategy_kind strategy_pressure_start = {
    .name = "pressure-start",
    .start_cause = PD_CAUSE_PRESSURE,
    .summary = "starts when the pressure behind it has fallen to a set value",
    .settle = settle,
    .start_margin = pressure_start_margin,
    .stop_margin = flow_or_pressure_stop_margin,
};
