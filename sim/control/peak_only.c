/* Starts only when heavy use drags the header under what the supply alone usually gives. */
#include "control/candidates.h"
#include "control/settings.h"

#include <math.h>

/* common practice, no source: 5 to 10 psi under the incoming pressure; the middle of it */
static const double under_incoming = 7.5 * PASCAL_PER_PSI;

/* a supply that needs no drag to be low still wants a flow at which to stop: as the other
 * strategies */
static const double least_stop_flow = 0.8 * 3.785411784e-3 / 60.0; /* m3/s, 0.8 US gal/min */

/* Flow that drags the unboosted header from the mean supply pressure to a pressure [m3/s]; 0 where
 * any flow does.  The unboosted header falls with the flow, so halving finds it. */
static double dragging_flow(const struct pd_plant *plant, double pressure)
{
    double low = 0.0, high = plant->branch[0].pump.last_flow;

    if (pd_plant_unboosted(plant, plant->mean_supply, 0.0) <= pressure) {
        return 0.0;
    }
    while (pd_plant_unboosted(plant, plant->mean_supply, high) > pressure && high < 1.0) {
        high *= 2.0;
    }
    for (int i = 0; i < 60; i++) {
        double middle = 0.5 * (low + high);
        if (pd_plant_unboosted(plant, plant->mean_supply, middle) > pressure) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return 0.5 * (low + high);
}

static void settle(const struct pd_plant *plant, struct pd_strategy *strategy)
{
    const double *value = plant->scenario->value;
    double given_stop_flow = value[PD_PEAK_ONLY_STOP_FLOW];

    strategy->start_pressure =
        setting_or(value[PD_PEAK_ONLY_START], plant->mean_supply - under_incoming);
    strategy->stop_flow =
        isnan(given_stop_flow)
            ? fmax(0.5 * dragging_flow(plant, strategy->start_pressure), least_stop_flow)
            : given_stop_flow;
    strategy->stop_pressure = value[PD_PEAK_ONLY_STOP_PRESSURE];
    strategy->run_on = value[PD_PEAK_ONLY_RUN_ON];
    strategy->precharge =
        setting_or(value[PD_PEAK_ONLY_PRECHARGE], precharge_under(strategy->start_pressure));
    strategy->dry_pressure = strategy->start_pressure;
}

/* Start pressures worth trying, under the mean incoming one. */
static const double tried_under_incoming[] = {7.5 * PASCAL_PER_PSI, 5 * PASCAL_PER_PSI,
                                              10 * PASCAL_PER_PSI};

/* Its stop flow follows from the start pressure: worked out as if the scenario gave that. */
static void suggest(struct pd_candidates *candidates)
{
    struct pd_scenario scenario = *candidates->plant->scenario;
    struct pd_plant plant = *candidates->plant;

    plant.scenario = &scenario;
    for (size_t i = 0; i < COUNT(tried_under_incoming); i++) {
        double start = candidates->plant->mean_supply - tried_under_incoming[i];
        scenario.value[PD_PEAK_ONLY_START] = start;
        candidates->usual = pd_strategy_for(candidates->usual.kind, &plant);
        candidates_add_at(candidates, start, true);
    }
}

static const struct pd_setting_items items = {
    .start = PD_PEAK_ONLY_START,
    .stop_flow = PD_PEAK_ONLY_STOP_FLOW,
    .stop_pressure = PD_PEAK_ONLY_STOP_PRESSURE,
    .run_on = PD_PEAK_ONLY_RUN_ON,
    .precharge = PD_PEAK_ONLY_PRECHARGE,
};

const struct pd_strategy_kind strategy_peak_only = {
    .name = "peak-only",
    .start_cause = PD_CAUSE_PRESSURE,
    .summary =
        "leaves the house to the supply and starts only when heavy use drags the pressure down",
    .controller = &controller_on_off,
    .items = &items,
    .settle = settle,
    .suggest = suggest,
    .start_margin = pressure_start_margin,
    .stop_margin = flow_or_pressure_stop_margin,
};
