/* The installation as it is told, and as it may turn out to be. */
#include "studies/settings_parts.h"

#include "base/memory.h"
#include "scenario/read.h"

#include <math.h>
#include <string.h>

/* A level must stay so much above that at which the pump draws air. */
static const double least_over_empty = 0.1; /* m */

/* No supply of the model is under this; the table of items says so. */
static const double least_supply = -0.9e5; /* Pa gauge */

/* When a tap trickles: two hours of the night, when nothing else hides it. */
static const double trickle_begins = 3600, trickle_lasts = 7200; /* s */
static const double smallest_flow = 1e-9;                        /* m3/s, until it is told */

/* A trickle at a tap that stands too high for the start pressure is told as at this pressure. */
static const double least_tap = 0.1e5; /* Pa */

static void forget(struct pd_scenario *scenario, const struct pd_scenario *fallback,
                   enum pd_item item)
{
    if (item != PD_ITEM_COUNT) {
        scenario->value[item] = fallback->value[item];
        scenario->given[item] = false;
    }
}

/* A stop pressure stays, since it is a kind of controller and no setting alone. */
void settings_forget(struct pd_scenario *scenario)
{
    struct pd_scenario fallback = pd_scenario_default();

    forget(scenario, &fallback, PD_TANK_PRECHARGE);
    for (size_t i = 0; i < pd_strategy_count; i++) {
        const struct pd_setting_items *items = pd_strategies[i]->items;
        if (items != NULL) {
            forget(scenario, &fallback, items->start);
            forget(scenario, &fallback, items->stop_flow);
            forget(scenario, &fallback, items->run_on);
            forget(scenario, &fallback, items->precharge);
        }
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

/* All day at the highest that is told, and a main by as much over it as it may be under it. */
static void raise_supply(struct pd_scenario *scenario, const struct pd_settings_options *options)
{
    double by = scenario->value[PD_SUPPLY_KIND] == PD_SUPPLY_MAIN ? options->supply_off : 0;
    double highest = -INFINITY;

    // a steady pressure that is not given stays not given
    scenario->value[PD_SUPPLY_PRESSURE] += by;
    for (size_t i = 0; i < scenario->supply_count; i++) {
        highest = fmax(highest, scenario->supply[i].value);
    }
    for (size_t i = 0; i < scenario->supply_count; i++) {
        scenario->supply[i].value = highest + by;
    }
}

/* One more draw, small enough to leave the others as they are. */
static bool add_trickle(struct pd_scenario *scenario)
{
    size_t count = scenario->draw_count + 1;
    struct pd_draw *draws = pd_memory_resize(scenario->draws, count * sizeof *draws);
    size_t place = 0;

    if (draws == NULL) {
        return false;
    }
    scenario->draws = draws;
    while (place < scenario->draw_count && draws[place].time <= trickle_begins) {
        place++;
    }
    memmove(&draws[place + 1], &draws[place], (scenario->draw_count - place) * sizeof *draws);
    draws[place] = (struct pd_draw){trickle_begins, smallest_flow, trickle_lasts, NAN, "trickle"};
    scenario->draw_count = count;
    return true;
}

void trial_plants_trickle(struct trial_plants *plants, int trickle, double flow, double pressure)
{
    struct pd_scenario *scenario = &plants->scenario[PLANT_TRICKLE + trickle];
    double reference = scenario->value[PD_DEMAND_REFERENCE_PRESSURE];
    double height = scenario->value[PD_HOUSE_ELEVATION];
    double tap = pressure - plants->plant[PLANT_TOLD].specific_weight * height;

    for (size_t i = 0; i < scenario->draw_count; i++) {
        if (strcmp(scenario->draws[i].fixture, "trickle") == 0) {
            scenario->draws[i].flow = flow * sqrt(reference / fmax(tap, least_tap));
        }
    }
}

static bool change(struct pd_scenario *scenario, int place,
                   const struct pd_settings_options *options)
{
    if (place == PD_OFF_SUPPLY || place == PD_OFF_ALL) {
        lower_supply(scenario, options);
    }
    if (place == PD_OFF_HIGH_SUPPLY) {
        raise_supply(scenario, options);
    }
    if (place == PD_OFF_DEMAND || place == PD_OFF_ALL) {
        raise_demand(scenario, options->demand_off);
    }
    return place < PLANT_TRICKLE || add_trickle(scenario);
}

void trial_plants_free(struct trial_plants *plants)
{
    for (int i = 0; i < TRIAL_PLANTS; i++) {
        pd_plant_free(&plants->plant[i]);
        pd_scenario_free(&plants->scenario[i]);
    }
}

static bool make(struct trial_plants *plants, const struct pd_settings_options *options,
                 struct pd_error *error)
{
    const struct pd_scenario *told = &plants->scenario[PLANT_TOLD];

    for (int i = 0; i < TRIAL_PLANTS; i++) {
        struct pd_scenario *scenario = &plants->scenario[i];
        if (i != PLANT_TOLD &&
            !(pd_scenario_copy(told, scenario) && change(scenario, i, options))) {
            return pd_error_memory(error);
        }
        if (!pd_plant_build(scenario, &plants->plant[i], error)) {
            return false;
        }
    }
    return true;
}

bool trial_plants_make(const struct pd_scenario *scenario,
                       const struct pd_settings_options *options, struct trial_plants *plants,
                       struct pd_error *error)
{
    struct pd_scenario *told = &plants->scenario[PLANT_TOLD];

    memset(plants, 0, sizeof *plants);
    if (!pd_scenario_copy(scenario, told)) {
        trial_plants_free(plants);
        return pd_error_memory(error);
    }
    settings_forget(told);
    told->value[PD_TANK_MONTHS] = 0; // what is to be set is set today
    if (!told->given[PD_TANK_SIZES]) {
        pd_tank_sizes_usual(told, options->units);
    }
    if (make(plants, options, error)) {
        return true;
    }
    trial_plants_free(plants);
    return false;
}
