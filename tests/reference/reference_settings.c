/* Settings of the three strategies: as given, else by the rules of the trade that the program's
 * list of items states. */
#include "reference_parts.h"
#include <math.h>
#include <string.h>

static const double psi = 6894.757293168;                  // Pa
static const double gallon_a_minute = 3.785411784e-3 / 60; // m3/s, US

static double given(const struct ref_plant *plant, enum pd_item item, double otherwise)
{
    double value = plant->scenario->value[item];

    return isnan(value) ? otherwise : value;
}

/* The tank's own precharge goes before the strategy's, that before the rule. */
static double precharge_for(const struct ref_plant *plant, enum pd_item item, double pressure)
{
    double rule = fmax(pressure - 2 * psi, 0);

    return given(plant, PD_TANK_PRECHARGE, given(plant, item, rule));
}

/* Flow at which the unboosted header falls to a pressure at the mean supply, by bisection; 0 if
 * it is under it already without flow. */
static double flow_down_to(const struct ref_plant *plant, double pressure)
{
    double low = 0;
    double high = 1e-6;

    if (ref_unboosted(plant, plant->mean_supply, 0) <= pressure) {
        return 0;
    }
    while (ref_unboosted(plant, plant->mean_supply, high) > pressure && high < 1e3) {
        low = high;
        high *= 2;
    }
    for (int i = 0; i < 80; i++) {
        double middle = (low + high) / 2;
        if (ref_unboosted(plant, plant->mean_supply, middle) > pressure) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return (low + high) / 2;
}

static void settle_pressure_start(const struct ref_plant *plant, struct reference_settings *set)
{
    double start = plant->lowest_supply + plant->rise.y[0] - 12.5 * psi;

    set->start_pressure = given(plant, PD_PRESSURE_START_START, start);
    set->start_flow = NAN;
    set->stop_flow = given(plant, PD_PRESSURE_START_STOP_FLOW, 0.8 * gallon_a_minute);
    set->stop_pressure = given(plant, PD_PRESSURE_START_STOP_PRESSURE, NAN);
    set->run_on = given(plant, PD_PRESSURE_START_RUN_ON, 7);
    set->precharge = precharge_for(plant, PD_PRESSURE_START_PRECHARGE, set->start_pressure);
    set->dry_pressure = set->start_pressure;
}

static void settle_flow_start(const struct ref_plant *plant, struct reference_settings *set)
{
    set->start_pressure = NAN;
    set->start_flow = given(plant, PD_FLOW_START_START_FLOW, gallon_a_minute);
    set->stop_flow = given(plant, PD_FLOW_START_STOP_FLOW, 0.8 * gallon_a_minute);
    set->stop_pressure = NAN;
    set->run_on = given(plant, PD_FLOW_START_RUN_ON, 7);
    set->precharge = precharge_for(plant, PD_FLOW_START_PRECHARGE,
                                   ref_unboosted(plant, plant->lowest_supply, set->start_flow));
    set->dry_pressure = set->precharge;
}

static void settle_peak_only(const struct ref_plant *plant, struct reference_settings *set)
{
    set->start_pressure = given(plant, PD_PEAK_ONLY_START, plant->mean_supply - 7.5 * psi);
    set->start_flow = NAN;
    set->stop_flow =
        given(plant, PD_PEAK_ONLY_STOP_FLOW,
              fmax(flow_down_to(plant, set->start_pressure) / 2, 0.8 * gallon_a_minute));
    set->stop_pressure = given(plant, PD_PEAK_ONLY_STOP_PRESSURE, NAN);
    set->run_on = given(plant, PD_PEAK_ONLY_RUN_ON, 7);
    set->precharge = precharge_for(plant, PD_PEAK_ONLY_PRECHARGE, set->start_pressure);
    set->dry_pressure = set->start_pressure;
}

bool ref_settings_for(const struct ref_plant *plant, const char *name,
                      struct reference_settings *settings)
{
    if (strcmp(name, "pressure-start") == 0) {
        settle_pressure_start(plant, settings);
    } else if (strcmp(name, "flow-start") == 0) {
        settle_flow_start(plant, settings);
    } else if (strcmp(name, "peak-only") == 0) {
        settle_peak_only(plant, settings);
    } else {
        return false;
    }
    double lost = given(plant, PD_TANK_GAS_LOSS, 0) * given(plant, PD_TANK_MONTHS, 0);
    settings->precharge = fmax(settings->precharge - lost, 0);
    return true;
}
