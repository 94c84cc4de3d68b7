/* Which settings are worth trying.  All of them are common practice, no source; the first of each
 * list is what the trade begins with. */
#include "studies/settings_parts.h"

#include <math.h>
#include <string.h>

#define PSI 6894.757293168361       /* Pa; NIST SP 811 */
#define GPM (3.785411784e-3 / 60.0) /* m3/s, US gallons */

/* Start pressures under the boosted static one, or under the stop pressure of a switch, and for
 * peak-only under the mean incoming one. */
static const double under_boosted[] = {12.5 * PSI, 10 * PSI, 15 * PSI, 20 * PSI};
static const double under_stop[] = {20 * PSI, 15 * PSI, 25 * PSI, 30 * PSI};
static const double under_incoming[] = {7.5 * PSI, 5 * PSI, 10 * PSI};

/* Flows at which a controller starts and, as a share of them, stops; the stop flow of pressure
 * start, whose larger one gets over a leak. */
static const double start_flows[] = {1.0 * GPM, 0.5 * GPM, 1.5 * GPM};
static const double stop_share = 0.8;
static const double stop_flows[] = {0.8 * GPM, 1.6 * GPM};

static const double run_ons[] = {7, 20};

/* The precharge under the start pressure. */
static const double precharge_under = 2 * PSI;

/* What a dial shows. */
static const double pressure_step_si = 0.05e5, pressure_step_us = 1 * PSI;
static const double flow_step_si = 0.1e-3 / 60, flow_step_us = 0.05 * GPM;

#define COUNT(list) (sizeof(list) / sizeof(list)[0])

/* The candidates found so far. */
struct list {
    const struct pd_plant *plant;
    enum pd_unit_system units;
    struct pd_strategy usual; /* as the program would set it */
    struct pd_strategy *at;
    size_t count;
};

static double rounded(double value, double step)
{
    return isnan(value) ? value : round(value / step) * step;
}

double settings_pressure_step(enum pd_unit_system units)
{
    return units == PD_UNITS_US ? pressure_step_us : pressure_step_si;
}

/* Puts a candidate on the list as a dial would have it, its precharge after its start pressure. */
static void add(struct list *list, struct pd_strategy strategy)
{
    bool us = list->units == PD_UNITS_US;
    double pressure_step = settings_pressure_step(list->units);
    double flow_step = us ? flow_step_us : flow_step_si;
    double lowest;

    if (list->count == CANDIDATES_MOST) {
        return;
    }
    strategy.start_flow = rounded(strategy.start_flow, flow_step);
    strategy.stop_flow = rounded(strategy.stop_flow, flow_step);
    strategy.start_pressure = rounded(strategy.start_pressure, pressure_step);
    if (isnan(strategy.start_pressure)) {
        lowest = pd_plant_unboosted(list->plant, list->plant->lowest_supply, strategy.start_flow);
    } else {
        lowest = strategy.start_pressure;
    }
    // down to the step, so that it is never nearer than meant; a step met but for the last digit
    // counts as met
    double steps = floor((lowest - precharge_under) / pressure_step + 1e-6);
    strategy.precharge = fmax(steps * pressure_step, 0);
    strategy.dry_pressure =
        isnan(strategy.start_pressure) ? strategy.precharge : strategy.start_pressure;
    list->at[list->count++] = strategy;
}

/* One start pressure with each run-on, and with each stop flow unless it is the usual alone. */
static void add_at_pressure(struct list *list, double start, bool stop_flow_is_usual)
{
    struct pd_strategy strategy = list->usual;
    bool is_switch = !isnan(strategy.stop_pressure);
    size_t flows = is_switch || stop_flow_is_usual ? 1 : COUNT(stop_flows);
    size_t times = is_switch ? 1 : COUNT(run_ons);

    strategy.start_pressure = start;
    for (size_t i = 0; i < flows; i++) {
        for (size_t j = 0; j < times; j++) {
            strategy.stop_flow = flows > 1 ? stop_flows[i] : list->usual.stop_flow;
            strategy.run_on = is_switch ? 0 : run_ons[j];
            add(list, strategy);
        }
    }
}

static void add_pressure_start(struct list *list)
{
    double stop = list->usual.stop_pressure;
    double boosted = list->plant->lowest_supply + list->plant->pump.shutoff;

    for (size_t i = 0; i < COUNT(under_boosted); i++) {
        add_at_pressure(list, isnan(stop) ? boosted - under_boosted[i] : stop - under_stop[i],
                        false);
    }
}

/* Its stop flow follows from the start pressure: worked out as if the scenario gave that. */
static void add_peak_only(struct list *list)
{
    struct pd_scenario scenario = *list->plant->scenario;
    struct pd_plant plant = *list->plant;

    plant.scenario = &scenario;
    for (size_t i = 0; i < COUNT(under_incoming); i++) {
        double start = list->plant->mean_supply - under_incoming[i];
        scenario.value[PD_PEAK_ONLY_START] = start;
        list->usual = pd_strategy_for(list->usual.kind, &plant);
        add_at_pressure(list, start, true);
    }
}

static void add_flow_start(struct list *list)
{
    struct pd_strategy strategy = list->usual;

    for (size_t i = 0; i < COUNT(start_flows); i++) {
        for (size_t j = 0; j < COUNT(run_ons); j++) {
            strategy.start_flow = start_flows[i];
            strategy.stop_flow = stop_share * start_flows[i];
            strategy.run_on = run_ons[j];
            add(list, strategy);
        }
    }
}

size_t settings_candidates(const struct pd_strategy_kind *kind, const struct pd_plant *plant,
                           enum pd_unit_system units,
                           struct pd_strategy candidates[CANDIDATES_MOST])
{
    static const struct {
        const char *name;
        void (*add)(struct list *list);
    } adders[] = {{"pressure-start", add_pressure_start},
                  {"peak-only", add_peak_only},
                  {"flow-start", add_flow_start}};
    struct list list = {plant, units, pd_strategy_for(kind, plant), candidates, 0};

    for (size_t i = 0; i < COUNT(adders); i++) {
        if (strcmp(adders[i].name, kind->name) == 0) {
            adders[i].add(&list);
        }
    }
    return list.count;
}
