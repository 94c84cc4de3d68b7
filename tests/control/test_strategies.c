/* The strategies' settings, worked out here by themselves, and the signs of their margins. */
#include <pumpday/strategy.h>

#include "model/plant_scenario.h"
#include "physics/near.h"

#include <string.h>

void suite_strategies(void);

/* NIST SP 811: 1 psi = 6894.757 Pa, 1 US gal = 3.785412e-3 m3 */
static const double psi = 6894.757;
static const double gallon_per_minute = 3.785412e-3 / 60;
static const double pi = 3.14159265358979323846;

static struct pd_scenario scenario;
static struct pd_plant plant;
static double *value;
/* 1.6 bar to 2.6 bar and back, a straight line each way: 2.1 bar in the mean */
static struct pd_sample supply[] = {{4 * 3600, 1.6e5}, {16 * 3600, 2.6e5}};

static void begin(void)
{
    scenario = plant_scenario();
    value = scenario.value;
    scenario.supply = supply;
    scenario.supply_count = COUNT(supply);
    plant = plant_of(&scenario);
}

static void end(void)
{
    pd_plant_free(&plant);
}

static struct pd_strategy settings(const char *name)
{
    pd_plant_free(&plant);
    plant = plant_of(&scenario);
    return pd_strategy_for(pd_strategy_find(name), &plant);
}

/* The unboosted header by the formulas themselves, Churchill's friction aside. */
static double unboosted(double pressure, double flow)
{
    double rho = plant.water.density, pipe = pi * 0.026 * 0.026 / 4, valve = pi * 0.025 * 0.025 / 4;
    double reynolds = fmax(rho * flow / pipe * 0.026 / plant.water.viscosity, 1e-9);
    double friction = pd_friction_factor(reynolds, value[PD_SERVICE_ROUGHNESS] / 0.026);
    double service = (friction * 23 / 0.026 + 4) * rho * pow(flow / pipe, 2) / 2;

    return pressure - service - 1500 - 3 * rho * pow(flow / valve, 2) / 2 -
           35e3 * pow(flow / 1e-3, 2);
}

static void pressure_start_defaults(void)
{
    struct pd_strategy strategy = settings("pressure-start");
    double start = 1.6e5 + plant.water.density * 9.80665 * 42 - 12.5 * psi;

    CU_ASSERT(near(strategy.start_pressure, start, 1e-7));
    CU_ASSERT(isnan(strategy.start_flow));
    CU_ASSERT(near(strategy.stop_flow, 0.8 * gallon_per_minute, 1e-6));
    CU_ASSERT(isnan(strategy.stop_pressure));
    CU_ASSERT_EQUAL(strategy.run_on, 7);
    CU_ASSERT(near(strategy.precharge, start - 2 * psi, 1e-7));
    CU_ASSERT_EQUAL(strategy.dry_pressure, strategy.start_pressure);
}

static void flow_start_defaults(void)
{
    struct pd_strategy strategy = settings("flow-start");
    double header = unboosted(1.6e5, gallon_per_minute);

    CU_ASSERT(isnan(strategy.start_pressure));
    CU_ASSERT(near(strategy.start_flow, gallon_per_minute, 1e-6));
    CU_ASSERT(near(strategy.stop_flow, 0.8 * gallon_per_minute, 1e-6));
    CU_ASSERT_EQUAL(strategy.run_on, 7);
    CU_ASSERT(near(strategy.precharge, header - 2 * psi, 1e-6));
    CU_ASSERT_EQUAL(strategy.dry_pressure, strategy.precharge);
}

/* Stops at half the flow that drags the header from the mean supply to the start pressure. */
static void peak_only_defaults(void)
{
    struct pd_strategy strategy = settings("peak-only");

    CU_ASSERT(near(strategy.start_pressure, 2.1e5 - 7.5 * psi, 1e-7));
    CU_ASSERT(strategy.stop_flow > 1e-4);
    double dragged = unboosted(2.1e5, 2 * strategy.stop_flow);
    CU_ASSERT(within(dragged, strategy.start_pressure, 0.1));
    CU_ASSERT_EQUAL(strategy.run_on, 7);
    CU_ASSERT(near(strategy.precharge, 2.1e5 - 9.5 * psi, 1e-7));
    CU_ASSERT_EQUAL(strategy.dry_pressure, strategy.start_pressure);
}

/* A start pressure over the resting header is reached by no flow: then as the others, 0.8 gal/min;
 * a far one lies beyond the curve's. */
static void peak_only_stop_flow_at_its_ends(void)
{
    value[PD_PEAK_ONLY_START] = 2.099e5;
    CU_ASSERT(near(settings("peak-only").stop_flow, 0.8 * gallon_per_minute, 1e-6));
    value[PD_PEAK_ONLY_START] = 0.1e5;
    struct pd_strategy strategy = settings("peak-only");
    CU_ASSERT(2 * strategy.stop_flow > 1e-3);
    CU_ASSERT(within(unboosted(2.1e5, 2 * strategy.stop_flow), 0.1e5, 0.1));
}

/* A well is drawn down by the flow, so less of it drags the header as far. */
static void a_well_s_drawdown_counts(void)
{
    scenario.supply_count = 0;
    value[PD_SUPPLY_KIND] = PD_SUPPLY_WELL;
    value[PD_SUPPLY_LEVEL] = 15;
    value[PD_SUPPLY_SPECIFIC_CAPACITY] = 4e-4;
    struct pd_strategy strategy = settings("peak-only");
    double flow = 2 * strategy.stop_flow;
    double weight = plant.water.density * 9.80665;
    CU_ASSERT(near(strategy.start_pressure, 15 * weight - 7.5 * psi, 1e-7));
    CU_ASSERT(
        within(unboosted(15 * weight, flow) - weight * flow / 4e-4, strategy.start_pressure, 0.1));
}

/* Given settings are taken as they are, each where it belongs. */
static void given_settings_are_taken(void)
{
    value[PD_PRESSURE_START_START] = 3.1e5;
    value[PD_PRESSURE_START_STOP_FLOW] = 1e-5;
    value[PD_PRESSURE_START_RUN_ON] = 11;
    value[PD_PRESSURE_START_PRECHARGE] = 2.2e5;
    value[PD_FLOW_START_START_FLOW] = 2e-5;
    value[PD_FLOW_START_STOP_FLOW] = 3e-5;
    value[PD_FLOW_START_RUN_ON] = 12;
    value[PD_FLOW_START_PRECHARGE] = 1.2e5;
    value[PD_PEAK_ONLY_START] = 1.4e5;
    value[PD_PEAK_ONLY_STOP_FLOW] = 4e-5;
    value[PD_PEAK_ONLY_RUN_ON] = 13;
    value[PD_PEAK_ONLY_PRECHARGE] = 0.7e5;
    static const double wanted[PD_STRATEGIES_MOST][4] = {
        {3.1e5, 1e-5, 11, 2.2e5}, {2e-5, 3e-5, 12, 1.2e5}, {1.4e5, 4e-5, 13, 0.7e5}};
    for (size_t i = 0; i < pd_strategy_count; i++) {
        struct pd_strategy strategy = settings(pd_strategies[i]->name);
        bool by_flow = pd_strategies[i]->start_cause == PD_CAUSE_FLOW;
        CU_ASSERT_EQUAL(by_flow ? strategy.start_flow : strategy.start_pressure, wanted[i][0]);
        CU_ASSERT_EQUAL(strategy.stop_flow, wanted[i][1]);
        CU_ASSERT_EQUAL(strategy.run_on, wanted[i][2]);
        CU_ASSERT_EQUAL(strategy.precharge, wanted[i][3]);
    }
}

/* A start pressure moved takes the precharge with it; the tank's own precharge holds for all; none
 * is ever under 0. */
static void precharges(void)
{
    value[PD_PRESSURE_START_START] = 3e5;
    // half a year at 50 mbar; what guards by it keeps what was set; never under the air's pressure
    value[PD_TANK_GAS_LOSS] = 5e3;
    value[PD_TANK_MONTHS] = 6;
    CU_ASSERT(near(settings("pressure-start").precharge, 3e5 - 2 * psi - 3e4, 1e-7));
    CU_ASSERT(
        near(settings("flow-start").dry_pressure - settings("flow-start").precharge, 3e4, 1e-7));
    value[PD_TANK_MONTHS] = 600;
    CU_ASSERT_EQUAL(settings("pressure-start").precharge, 0);
    value[PD_TANK_MONTHS] = 0;
    CU_ASSERT(near(settings("pressure-start").precharge, 3e5 - 2 * psi, 1e-7));
    value[PD_PRESSURE_START_START] = 1 * psi;
    CU_ASSERT_EQUAL(settings("pressure-start").precharge, 0);
    value[PD_PEAK_ONLY_START] = -0.2e5;
    CU_ASSERT_EQUAL(settings("peak-only").precharge, 0);
    value[PD_PRESSURE_START_PRECHARGE] = 2e5;
    value[PD_TANK_PRECHARGE] = 1.5e5;
    for (size_t i = 0; i < pd_strategy_count; i++) {
        CU_ASSERT_EQUAL(settings(pd_strategies[i]->name).precharge, 1.5e5);
    }
    // flow-start runs dry under the precharge that the tank has
    CU_ASSERT_EQUAL(settings("flow-start").dry_pressure, 1.5e5);
}

/* A two-pressure switch waits for no flow. */
static void a_stop_pressure_takes_the_run_on_away(void)
{
    value[PD_PRESSURE_START_STOP_PRESSURE] = 5e5;
    value[PD_PEAK_ONLY_STOP_PRESSURE] = 2.5e5;
    struct pd_strategy pressure = settings("pressure-start"), peak = settings("peak-only");
    CU_ASSERT_EQUAL(pressure.stop_pressure, 5e5);
    CU_ASSERT_EQUAL(pressure.run_on, 0);
    CU_ASSERT_EQUAL(peak.stop_pressure, 2.5e5);
    CU_ASSERT_EQUAL(peak.run_on, 0);
    CU_ASSERT(isnan(settings("flow-start").stop_pressure));
    CU_ASSERT_EQUAL(settings("flow-start").run_on, 7);
}

static double start_margin(const struct pd_strategy *strategy, double pressure, double flow)
{
    struct pd_readings readings = {.header_pressure = pressure, .pump_flow = flow};
    return strategy->kind->start_margin(strategy, &readings);
}

static double stop_margin(const struct pd_strategy *strategy, double pressure, double flow)
{
    struct pd_readings readings = {.header_pressure = pressure, .pump_flow = flow};
    return strategy->kind->stop_margin(strategy, &readings);
}

/* Start at or past the setting, not before it; nothing else that the sensors read has a say. */
static void start_margins(void)
{
    static const char *const by_pressure[] = {"pressure-start", "peak-only"};

    for (size_t i = 0; i < COUNT(by_pressure); i++) {
        struct pd_strategy strategy = settings(by_pressure[i]);
        double start = strategy.start_pressure;
        CU_ASSERT(start_margin(&strategy, start + 10, 1e-3) > 0);
        CU_ASSERT_EQUAL(start_margin(&strategy, start, 0), 0);
        CU_ASSERT(start_margin(&strategy, start - 10, 0) < 0);
    }
    struct pd_strategy flow = settings("flow-start");
    CU_ASSERT(start_margin(&flow, 0, flow.start_flow * 0.999) > 0);
    CU_ASSERT_EQUAL(start_margin(&flow, 9e5, flow.start_flow), 0);
    CU_ASSERT(start_margin(&flow, 9e5, flow.start_flow * 1.001) < 0);
}

/* Stop under the stop flow; with a stop pressure over that, whatever flows. */
static void stop_margins(void)
{
    for (size_t i = 0; i < pd_strategy_count; i++) {
        struct pd_strategy strategy = settings(pd_strategies[i]->name);
        CU_ASSERT(stop_margin(&strategy, 0, strategy.stop_flow * 1.001) > 0);
        CU_ASSERT_EQUAL(stop_margin(&strategy, 9e5, strategy.stop_flow), 0);
        CU_ASSERT(stop_margin(&strategy, 0, strategy.stop_flow * 0.999) < 0);
    }
    value[PD_PRESSURE_START_STOP_PRESSURE] = 5e5;
    struct pd_strategy pressure = settings("pressure-start");
    CU_ASSERT(stop_margin(&pressure, 5e5 - 10, 0) > 0);
    CU_ASSERT_EQUAL(stop_margin(&pressure, 5e5, 1e-3), 0);
    CU_ASSERT(stop_margin(&pressure, 5e5 + 10, 1e-3) < 0);
}

static void names(void)
{
    static const char *const wanted[] = {"pressure-start", "flow-start", "peak-only"};

    CU_ASSERT_EQUAL_FATAL(pd_strategy_count, COUNT(wanted));
    for (size_t i = 0; i < COUNT(wanted); i++) {
        CU_ASSERT_STRING_EQUAL(pd_strategies[i]->name, wanted[i]);
        CU_ASSERT_PTR_EQUAL(pd_strategy_find(wanted[i]), pd_strategies[i]);
        CU_ASSERT(strlen(pd_strategies[i]->summary) > 20);
    }
    CU_ASSERT_PTR_NULL(pd_strategy_find("pressure"));
    CU_ASSERT_PTR_NULL(pd_strategy_find(""));
}

/* Every cause has words of its own. */
static void causes(void)
{
    for (int i = PD_CAUSE_PRESSURE; i <= PD_CAUSE_END_OF_DAY; i++) {
        CU_ASSERT(strlen(pd_cause_name((enum pd_cause)i)) > 3);
        for (int k = PD_CAUSE_PRESSURE; k < i; k++) {
            CU_ASSERT_STRING_NOT_EQUAL(pd_cause_name((enum pd_cause)i),
                                       pd_cause_name((enum pd_cause)k));
        }
    }
}

static void guards_are_off_unless_given(void)
{
    struct pd_guards guards = settings("pressure-start").guards;
    CU_ASSERT(isinf(guards.low_suction) && guards.low_suction < 0);
    CU_ASSERT(isinf(guards.dry_run_time) && guards.dry_run_time > 0);
    CU_ASSERT_EQUAL(guards.least_rest, 1);
    value[PD_GUARD_LOW_SUCTION] = 0.4e5;
    value[PD_GUARD_DRY_RUN_TIME] = 25;
    value[PD_GUARD_DELAY] = 4;
    value[PD_GUARD_RETRY] = 333;
    for (size_t i = 0; i < pd_strategy_count; i++) {
        guards = settings(pd_strategies[i]->name).guards;
        CU_ASSERT_EQUAL(guards.low_suction, 0.4e5);
        CU_ASSERT_EQUAL(guards.dry_run_time, 25);
        CU_ASSERT_EQUAL(guards.suction_delay, 4);
        CU_ASSERT_EQUAL(guards.suction_retry, 333);
    }
}

void suite_strategies(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("strategies", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, pressure_start_defaults);
    CU_ADD_TEST(suite, flow_start_defaults);
    CU_ADD_TEST(suite, peak_only_defaults);
    CU_ADD_TEST(suite, peak_only_stop_flow_at_its_ends);
    CU_ADD_TEST(suite, a_well_s_drawdown_counts);
    CU_ADD_TEST(suite, given_settings_are_taken);
    CU_ADD_TEST(suite, precharges);
    CU_ADD_TEST(suite, a_stop_pressure_takes_the_run_on_away);
    CU_ADD_TEST(suite, start_margins);
    CU_ADD_TEST(suite, stop_margins);
    CU_ADD_TEST(suite, names);
    CU_ADD_TEST(suite, causes);
    CU_ADD_TEST(suite, guards_are_off_unless_given);
}
