/* A strategy with its settings for a plant; what settings and margins have in common. */
#include "control/settings.h"

#include <math.h>

/* common practice, no source: the precharge stands 2 psi under the start pressure */
static const double precharge_margin = 2.0 * PASCAL_PER_PSI;

double setting_or(double given, double worked_out)
{
    return isnan(given) ? worked_out : given;
}

double precharge_under(double pressure)
{
    return fmax(pressure - precharge_margin, 0.0);
}

double pressure_start_margin(const struct pd_strategy *strategy, const struct pd_readings *readings)
{
    return (readings->header_pressure - strategy->start_pressure) / PRESSURE_SCALE;
}

double flow_or_pressure_stop_margin(const struct pd_strategy *strategy,
                                    const struct pd_readings *readings)
{
    if (!isnan(strategy->stop_pressure)) {
        return (strategy->stop_pressure - readings->header_pressure) / PRESSURE_SCALE;
    }
    return (readings->pump_flow - strategy->stop_flow) / FLOW_SCALE;
}

struct pd_guards pd_guards_of(const struct pd_scenario *scenario)
{
    const double *value = scenario->value;
    double low_suction = value[PD_GUARD_LOW_SUCTION];
    double dry_run_time = value[PD_GUARD_DRY_RUN_TIME];

    return (struct pd_guards){
        .low_suction = isnan(low_suction) ? -(double)INFINITY : low_suction,
        .suction_delay = value[PD_GUARD_DELAY],
        .suction_retry = value[PD_GUARD_RETRY],
        .dry_run_time = isnan(dry_run_time) ? (double)INFINITY : dry_run_time,
        .least_rest = value[PD_GUARD_LEAST_REST],
    };
}

static double gas_lost(const struct pd_scenario *scenario)
{
    return scenario->value[PD_TANK_GAS_LOSS] * scenario->value[PD_TANK_MONTHS];
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
        .guards = pd_guards_of(plant->scenario),
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
    // what the tank holds by now; all else was set when it was full
    strategy.precharge = fmax(strategy.precharge - gas_lost(plant->scenario), 0.0);
    return strategy;
}
