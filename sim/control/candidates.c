#include "control/candidates.h"

#include "control/settings.h"

#include <math.h>

/* Stop flows: the larger one gets over a leak. */
static const double stop_flows[] = {0.8 * GPM, 1.6 * GPM};

const double candidates_run_on[RUN_ONS] = {7, 20};

/* The precharge under the start pressure. */
static const double precharge_margin = 2 * PASCAL_PER_PSI;

/* What a dial shows. */
static const double pressure_step_si = 0.05e5, pressure_step_us = 1 * PASCAL_PER_PSI;
static const double flow_step_si = 0.1e-3 / 60, flow_step_us = 0.05 * GPM;

static double rounded(double value, double step)
{
    return isnan(value) ? value : round(value / step) * step;
}

double candidates_pressure_step(enum pd_unit_system units)
{
    return units == PD_UNITS_US ? pressure_step_us : pressure_step_si;
}

void candidates_add(struct pd_candidates *candidates, struct pd_strategy strategy)
{
    bool us = candidates->units == PD_UNITS_US;
    double pressure_step = candidates_pressure_step(candidates->units);
    double flow_step = us ? flow_step_us : flow_step_si;
    double lowest;

    if (candidates->count == CANDIDATES_MOST) {
        return;
    }
    strategy.start_flow = rounded(strategy.start_flow, flow_step);
    strategy.stop_flow = rounded(strategy.stop_flow, flow_step);
    strategy.start_pressure = rounded(strategy.start_pressure, pressure_step);
    if (isnan(strategy.start_pressure)) {
        lowest = pd_plant_unboosted(candidates->plant, candidates->plant->lowest_supply,
                                    strategy.start_flow);
    } else {
        lowest = strategy.start_pressure;
    }
    // down to the step, so that it is never nearer than meant; a step met but for the last digit
    // counts as met
    double steps = floor((lowest - precharge_margin) / pressure_step + 1e-6);
    strategy.precharge = fmax(steps * pressure_step, 0);
    strategy.dry_pressure =
        isnan(strategy.start_pressure) ? strategy.precharge : strategy.start_pressure;
    candidates->at[candidates->count++] = strategy;
}

void candidates_add_at(struct pd_candidates *candidates, double start, bool stop_flow_is_usual)
{
    struct pd_strategy strategy = candidates->usual;
    bool is_switch = !isnan(strategy.stop_pressure);
    size_t flows = is_switch || stop_flow_is_usual ? 1 : COUNT(stop_flows);
    size_t times = is_switch ? 1 : RUN_ONS;

    strategy.start_pressure = start;
    for (size_t i = 0; i < flows; i++) {
        for (size_t j = 0; j < times; j++) {
            strategy.stop_flow = flows > 1 ? stop_flows[i] : candidates->usual.stop_flow;
            strategy.run_on = is_switch ? 0 : candidates_run_on[j];
            candidates_add(candidates, strategy);
        }
    }
}

size_t candidates_of(const struct pd_strategy_kind *kind, const struct pd_plant *plant,
                     enum pd_unit_system units, struct pd_strategy at[CANDIDATES_MOST])
{
    struct pd_candidates candidates = {plant, units, pd_strategy_for(kind, plant), at, 0};

    if (kind->suggest != NULL) {
        kind->suggest(&candidates);
    } else {
        at[candidates.count++] = candidates.usual;
    }
    return candidates.count;
}
