/* Starts when the header falls to the start pressure, set a little under the boosted one. */
#include "control/candidates.h"
#include "control/settings.h"

#include <math.h>

/* common practice, no source: 10 to 15 psi under the boosted static pressure; the middle of it */
static const double under_boosted = 12.5 * PASCAL_PER_PSI;

static void settle(const struct pd_plant *plant, struct pd_strategy *strategy)
{
    const double *value = plant->scenario->value;
    double boosted = plant->lowest_supply + plant->branch[0].pump.shutoff;

    strategy->start_pressure = setting_or(value[PD_PRESSURE_START_START], boosted - under_boosted);
    strategy->stop_flow = value[PD_PRESSURE_START_STOP_FLOW];
    strategy->stop_pressure = value[PD_PRESSURE_START_STOP_PRESSURE];
    strategy->run_on = value[PD_PRESSURE_START_RUN_ON];
    strategy->precharge =
        setting_or(value[PD_PRESSURE_START_PRECHARGE], precharge_under(strategy->start_pressure));
    strategy->dry_pressure = strategy->start_pressure;
}

/* Start pressures worth trying, under the boosted static one or under the stop pressure of a
 * switch. */
static const double tried_under_boosted[] = {12.5 * PASCAL_PER_PSI, 10 * PASCAL_PER_PSI,
                                             15 * PASCAL_PER_PSI, 20 * PASCAL_PER_PSI};
static const double tried_under_stop[] = {20 * PASCAL_PER_PSI, 15 * PASCAL_PER_PSI,
                                          25 * PASCAL_PER_PSI, 30 * PASCAL_PER_PSI};

static void suggest(struct pd_candidates *candidates)
{
    double stop = candidates->usual.stop_pressure;
    double boosted = candidates->plant->lowest_supply + candidates->plant->branch[0].pump.shutoff;

    for (size_t i = 0; i < COUNT(tried_under_boosted); i++) {
        candidates_add_at(
            candidates, isnan(stop) ? boosted - tried_under_boosted[i] : stop - tried_under_stop[i],
            false);
    }
}

static const struct pd_setting_items items = {
    .start = PD_PRESSURE_START_START,
    .stop_flow = PD_PRESSURE_START_STOP_FLOW,
    .stop_pressure = PD_PRESSURE_START_STOP_PRESSURE,
    .run_on = PD_PRESSURE_START_RUN_ON,
    .precharge = PD_PRESSURE_START_PRECHARGE,
};

const struct pd_strategy_kind strategy_pressure_start = {
    .name = "pressure-start",
    .start_cause = PD_CAUSE_PRESSURE,
    .summary = "starts when the pressure behind it has fallen to a set value",
    .controller = &controller_on_off,
    .items = &items,
    .settle = settle,
    .suggest = suggest,
    .start_margin = pressure_start_margin,
    .stop_margin = flow_or_pressure_stop_margin,
};
