/* The installation as it is told, and as it may turn out to be. */
#include "studies/settings_parts.h"

#include <math.h>
#include <string.h>

/* What a strategy's settings are called; a stop pressure stays, since it is a kind of controller
 * and no setting alone. */
static const enum pd_item forgotten[] = {
    PD_TANK_PRECHARGE,        PD_PRESSURE_START_START,     PD_PRESSURE_START_STOP_FLOW,
    PD_PRESSURE_START_RUN_ON, PD_PRESSURE_START_PRECHARGE, PD_FLOW_START_START_FLOW,
    PD_FLOW_START_STOP_FLOW,  PD_FLOW_START_RUN_ON,        PD_FLOW_START_PRECHARGE,
    PD_PEAK_ONLY_START,       PD_PEAK_ONLY_STOP_FLOW,      PD_PEAK_ONLY_RUN_ON,
    PD_PEAK_ONLY_PRECHARGE,
};

/* A level must stay so much above that at which the pump draws air. */
static const double least_over_empty = 0.1; /* m */

/* No supply of the model is under this; the table of items says so. */
static const double least_supply = -0.9e5; /* Pa gauge */

static void forget_settings(struct pd_scenario *scenario)
{
    struct pd_scenario fallback = pd_scenario_default();

    for (size_t i = 0; i < sizeof forgotten / sizeof forgotten[0]; i++) {
        scenario->value[forgotten[i]] = fallback.value[forgotten[i]];
        scenario->given[forgotten[i]] = false;
    }
}

static void lower_supply(struct pd_scenario *scenario, const struct pd_settings_options *options)
{
    double empty = scenario->value[PD_SUPPLY_EMPTY_LEVEL];
    bool is_main = scenario->value[PD_SUPPLY_KIND] == PD_SUPPLY_MAIN;
    double by = is_main ? options->supply_off : options->level_off;
    double least = is_main ? least_supply : -(double)INFINITY;
    enum pd_item item = is_main ? PD_SUPPLY_PRESSURE : PD_SUPPLY_LEVEL;

    if (!is_main && !isnan(empty)) {
        least = empty + least_over_empty;
    }
    // fmax would take the limit for a value that is not given
    if (!isnan(scenario->value[item])) {
        scenario->value[item] = fmax(scenario->value[item] - by, least);
    }
    for (size_t i = 0; i < scenario->supply_count; i++) {
        scenario->supply[i].value = fmax(pd_scenario_supply(scenario, i) - by, least);
    }
    // now it is in the values themselves
    scenario->value[PD_SUPPLY_OFFSET] = 0;
}

/* Every draw as long as before: flow and volume grow alike. */
static void raise_demand(struct pd_scenario *scenario, double share)
{
    for (size_t i = 0; i < scenario->draw_count; i++) {
        scenario->draws[i].flow *= 1 + share;
        scenario->draws[i].volume *= 1 + share;
    }
    for (size_t i = 0; i < scenario->profile_count; i++) {
        scenario->profile[i].value *= 1 + share;
    }
}

void trial_plants_free(struct trial_plants *plants)
{
    pd_plant_free(&plants->told);
    pd_plant_free(&plants->low_supply);
    pd_plant_free(&plants->high_demand);
    pd_scenario_free(&plants->told_scenario);
    pd_scenario_free(&plants->low_scenario);
    pd_scenario_free(&plants->high_scenario);
}

bool trial_plants_make(const struct pd_scenario *scenario,
                       const struct pd_settings_options *options, struct trial_plants *plants,
                       struct pd_error *error)
{
    memset(plants, 0, sizeof *plants);
    if (!pd_scenario_copy(scenario, &plants->told_scenario) ||
        !pd_scenario_copy(scenario, &plants->low_scenario) ||
        !pd_scenario_copy(scenario, &plants->high_scenario)) {
        trial_plants_free(plants);
        return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "not enough memory");
    }
    forget_settings(&plants->told_scenario);
    forget_settings(&plants->low_scenario);
    forget_settings(&plants->high_scenario);
    lower_supply(&plants->low_scenario, options);
    raise_demand(&plants->high_scenario, options->demand_off);
    if (pd_plant_build(&plants->told_scenario, &plants->told, error) &&
        pd_plant_build(&plants->low_scenario, &plants->low_supply, error) &&
        pd_plant_build(&plants->high_scenario, &plants->high_demand, error)) {
        return true;
    }
    trial_plants_free(plants);
    return false;
}
