/* The reference is checked before anything is checked by it: closed forms, its own balance, and
 * the answer's firmness as its tolerance is tightened. */
#include "reference/reference_day.h"
#include <CUnit/Basic.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void suite_reference_self(void);

static const double litre = 1e-3;               // m3
static const double litre_a_minute = 1e-3 / 60; // m3/s
static const double bar = 1e5;                  // Pa

static struct reference_result first, second;

static void set_pump(struct pd_scenario *scenario)
{
    static const double flow[] = {0, 15, 30, 45, 60}; // L/min
    static const double head[] = {30, 28.5, 24.5, 17.5, 6};
    static const double power[] = {250, 340, 420, 480, 510};

    scenario->pump.count = 5;
    for (size_t i = 0; i < 5; i++) {
        scenario->pump.flow[i] = flow[i] * litre_a_minute;
        scenario->pump.head[i] = head[i];
        scenario->pump.power[i] = power[i];
    }
}

static void set_site(double *item)
{
    for (int i = 0; i < PD_ITEM_COUNT; i++) {
        item[i] = (double)NAN;
    }
    item[PD_SITE_ALTITUDE] = 200;
    item[PD_WATER_TEMPERATURE] = 288.15;
    item[PD_ENERGY_STANDBY] = 2;
    item[PD_DEMAND_REFERENCE_PRESSURE] = 3 * bar;
    item[PD_SUPPLY_KIND] = PD_SUPPLY_MAIN;
    item[PD_SUPPLY_PRESSURE] = 2.5 * bar;
    item[PD_SERVICE_LENGTH] = 25;
    item[PD_SERVICE_DIAMETER] = 0.026;
    item[PD_SERVICE_ROUGHNESS] = 1.5e-6;
    item[PD_SERVICE_LOSS_K] = 5;
    item[PD_CHECK_VALVE_OPENING_PRESSURE] = 2000;
    item[PD_CHECK_VALVE_LOSS_K] = 2;
    item[PD_CHECK_VALVE_LEAK_BY] = 0;
    item[PD_PUMP_RUN_UP_TIME] = 0.5;
    item[PD_PUMP_STOPPED_LOSS] = 30e3;
}

static void set_house(double *item)
{
    item[PD_TANK_VOLUME] = 24 * litre;
    item[PD_TANK_GAS] = PD_GAS_ISOTHERMAL;
    item[PD_TANK_EXPONENT] = 1.2;
    item[PD_TANK_TIME_CONSTANT] = 20;
    item[PD_HOUSE_ELEVATION] = 3;
    item[PD_HOUSE_LOSS] = 30e3;
    item[PD_HOUSE_LOSS_FLOW] = 30 * litre_a_minute;
    item[PD_HOUSE_PIPE_LENGTH] = 30;
    item[PD_HOUSE_PIPE_DIAMETER] = 0.02;
    item[PD_HOUSE_PIPE_WALL] = 0.002;
    item[PD_HOUSE_PIPE_MODULUS] = 0.8e9;
    item[PD_HOUSE_LEAK] = 0;
    item[PD_HOUSE_LEAK_PRESSURE] = 3 * bar;
    item[PD_HOUSE_LEAK_EXPONENT] = 0.5;
    item[PD_GUARD_DELAY] = 5;
    item[PD_GUARD_RETRY] = 600;
    item[PD_GUARD_LEAST_REST] = 1;
    item[PD_DAY_WARM_UP] = 7200;
}

/* A house with a main that sags twice a day and draws from morning to evening, by duration and by
 * volume in turn. */
static struct pd_scenario house(void)
{
    enum { DRAWS = 60 };
    static const struct pd_sample supply[] = {{0, 2.5e5},     {21600, 2.4e5},  {27000, 1.5e5},
                                              {39600, 2.4e5}, {68400, 1.55e5}, {79200, 2.5e5}};
    static struct pd_draw draws[DRAWS];
    static struct pd_sample series[6];
    struct pd_scenario scenario;

    memset(&scenario, 0, sizeof scenario);
    set_site(scenario.value);
    set_house(scenario.value);
    set_pump(&scenario);
    for (int i = 0; i < DRAWS; i++) {
        bool by_volume = i % 3 == 2;
        draws[i].time = 21600 + i * 1060.0;
        draws[i].flow = (4 + i * 7 % 12 + (i % 7 == 0 ? 25 : 0)) * litre_a_minute;
        draws[i].duration = by_volume ? (double)NAN : 20 + i * 37 % 240;
        draws[i].volume = by_volume ? (6 + i % 5) * litre : (double)NAN;
    }
    memcpy(series, supply, sizeof supply);
    scenario.draws = draws;
    scenario.draw_count = DRAWS;
    scenario.supply = series;
    scenario.supply_count = 6;
    return scenario;
}

static void run(const struct pd_scenario *scenario, const char *strategy, double tolerance,
                struct reference_result *result)
{
    char why[200] = "";
    bool good = reference_day(scenario, strategy, tolerance, result, why, sizeof why);

    if (!good) {
        printf("\n    %s: %s\n", strategy, why);
    }
    CU_ASSERT_TRUE_FATAL(good);
}

static const char *const strategies[] = {"pressure-start", "flow-start", "peak-only"};
static const int gases[] = {PD_GAS_ISOTHERMAL, PD_GAS_POLYTROPIC, PD_GAS_THERMAL};

/* Water in is water out and kept. */
static void water_is_balanced(void)
{
    struct pd_scenario scenario = house();

    scenario.value[PD_HOUSE_LEAK] = 0.2 * litre_a_minute;
    scenario.value[PD_CHECK_VALVE_LEAK_BY] = 0.05 * litre_a_minute;
    for (int i = 0; i < 9; i++) {
        scenario.value[PD_TANK_GAS] = gases[i % 3];
        run(&scenario, strategies[i / 3], 1e-8, &first);
        double lost = first.supplied - first.delivered - first.leaked - first.stored;
        CU_ASSERT_TRUE(first.delivered > 0.3);
        CU_ASSERT_TRUE(first.leaked > 0.1);
        CU_ASSERT_DOUBLE_EQUAL(lost / first.delivered, 0, 1e-6);
    }
}

/* A tighter tolerance moves no start. */
static void tolerance_moves_nothing(void)
{
    struct pd_scenario scenario = house();

    for (int i = 0; i < 9; i++) {
        scenario.value[PD_TANK_GAS] = gases[i % 3];
        run(&scenario, strategies[i / 3], 1e-8, &first);
        run(&scenario, strategies[i / 3], 5e-10, &second);
        CU_ASSERT_TRUE(first.starts > 5);
        CU_ASSERT_EQUAL_FATAL(first.starts, second.starts);
        for (int k = 0; k < first.starts; k++) {
            CU_ASSERT_DOUBLE_EQUAL(first.start_time[k], second.start_time[k], 1e-3);
        }
        CU_ASSERT_DOUBLE_EQUAL(first.energy / second.energy, 1, 1e-6);
        CU_ASSERT_DOUBLE_EQUAL(first.delivered / second.delivered, 1, 1e-6);
    }
}

/* A cistern without a pump that starts empties into the tap: the pressure of a tank of compliance
 * C under a tap of coefficient c falls as sqrt(p) = sqrt(p0) - c t / 2C while C stands still. */
static void header_drains_as_an_orifice(void)
{
    struct pd_scenario scenario = house();
    double *item = scenario.value;
    struct pd_draw draw = {0, 0.1 * litre_a_minute, 80000, (double)NAN, ""};

    // no compliance but the pipe's (the tank stays empty), which is constant; no flow from below
    item[PD_DAY_WARM_UP] = 0;
    item[PD_SUPPLY_PRESSURE] = 2 * bar;
    item[PD_TANK_PRECHARGE] = 40 * bar;
    item[PD_HOUSE_ELEVATION] = 0;
    item[PD_HOUSE_LOSS] = 0;
    item[PD_HOUSE_PIPE_LENGTH] = 1000;
    item[PD_HOUSE_PIPE_MODULUS] = 1e7;
    item[PD_FLOW_START_START_FLOW] = 1;
    // the supply falls away and the header is left to itself
    struct pd_sample supply[] = {{0, 2 * bar}, {1e-3, 0}, {86399, 0}, {86400, 0}};
    scenario.supply = supply;
    scenario.supply_count = 4;
    scenario.draws = &draw;
    scenario.draw_count = 1;
    run(&scenario, "flow-start", 1e-10, &first);

    // p from the water that has left, C from the volume and the wall alone (the water adds less
    // than a thousandth): 2 bar down to the 500 Pa at which the orifice's law is smoothed
    double volume = 3.14159265358979 * 1e-4 * 1000;
    double compliance = volume * (0.02 / (1e7 * 0.002) + 1 / 2.1e9);
    double c = draw.flow / sqrt(3 * bar);
    double root = sqrt(2 * bar) - c * 80000 / (2 * compliance);
    CU_ASSERT_TRUE_FATAL(root > sqrt(500));
    CU_ASSERT_DOUBLE_EQUAL(first.last_header / (root * root), 1, 2e-4);
    CU_ASSERT_DOUBLE_EQUAL(first.delivered / (-first.stored), 1, 1e-6);
}

/* Pump of nearly constant flow F into a tank, a drain d out of it: between two pressures that hold
 * V of water apart a cycle lasts V/d + V/(F - d). */
static void set_two_pressures(struct pd_scenario *scenario, double flow)
{
    static const double part[] = {0, 0.995, 1, 1.0027};
    static const double head[] = {300, 77, 27, 0};
    double *item = scenario->value;

    scenario->supply_count = 0;
    scenario->draw_count = 0;
    item[PD_SUPPLY_PRESSURE] = 0;
    item[PD_CHECK_VALVE_OPENING_PRESSURE] = 0;
    item[PD_SERVICE_LENGTH] = 100;
    item[PD_SERVICE_DIAMETER] = 0.05;
    item[PD_PUMP_RUN_UP_TIME] = 0;
    item[PD_TANK_VOLUME] = 300 * litre;
    item[PD_TANK_PRECHARGE] = 1.5 * bar;
    item[PD_PRESSURE_START_START] = 2 * bar;
    item[PD_PRESSURE_START_STOP_PRESSURE] = 3.4 * bar;
    item[PD_HOUSE_PIPE_LENGTH] = 0;
    // a leak stands for the drain: an exponent so small that it hardly heeds the pressure
    item[PD_HOUSE_LEAK_EXPONENT] = 1e-6;
    // a steep curve, 5 bar within 0.5 % of the flow, that gives F at 27 m, about half way between
    // the two pressures
    for (size_t i = 0; i < 4; i++) {
        scenario->pump.flow[i] = part[i] * flow;
        scenario->pump.head[i] = head[i];
        scenario->pump.power[i] = 300;
    }
    scenario->pump.count = 4;
}

static void cycle_of_two_pressures(void)
{
    struct pd_scenario scenario = house();
    const double flow = 20 * litre_a_minute;
    const double shares[] = {0.2, 0.5, 0.8};

    set_two_pressures(&scenario, flow);
    scenario.value[PD_SITE_ALTITUDE] = 0;
    for (size_t i = 0; i < 3; i++) {
        double drain = shares[i] * flow;
        scenario.value[PD_HOUSE_LEAK] = drain;
        run(&scenario, "pressure-start", 1e-9, &first);
        // Boyle's law at the standard atmosphere, 101325 Pa
        double gas = 300 * litre * (1.5 * bar + 101325);
        double drawn = gas / (2 * bar + 101325) - gas / (3.4 * bar + 101325);
        double cycle = drawn / drain + drawn / (flow - drain);
        CU_ASSERT_TRUE_FATAL(first.starts > 10);
        double span = first.start_time[first.starts - 1] - first.start_time[0];
        CU_ASSERT_DOUBLE_EQUAL(span / (first.starts - 1) / cycle, 1, 2e-3);
        CU_ASSERT_DOUBLE_EQUAL(first.run_time / 86400 / shares[i], 1, 0.02);
    }
}

/* A thermal gas whose wall is very near keeps the wall's temperature, one whose wall is far is
 * adiabatic: the days of the isothermal tank and of the polytropic one with exponent 1.4. */
static void thermal_gas_at_its_limits(void)
{
    struct pd_scenario scenario = house();
    double *item = scenario.value;

    for (int far = 0; far < 2; far++) {
        item[PD_TANK_GAS] = PD_GAS_THERMAL;
        item[PD_TANK_TIME_CONSTANT] = far ? 1e12 : 1e-3;
        run(&scenario, "pressure-start", 1e-8, &first);
        item[PD_TANK_GAS] = far ? PD_GAS_POLYTROPIC : PD_GAS_ISOTHERMAL;
        item[PD_TANK_EXPONENT] = 1.4;
        run(&scenario, "pressure-start", 1e-8, &second);
        CU_ASSERT_EQUAL(first.starts, second.starts);
        CU_ASSERT_DOUBLE_EQUAL(first.start_time[0], second.start_time[0], 0.05);
        CU_ASSERT_DOUBLE_EQUAL(first.run_time / second.run_time, 1, 1e-3);
    }
}

void suite_reference_self(void)
{
    CU_pSuite suite = CU_add_suite("reference_self", NULL, NULL);

    CU_add_test(suite, "water is balanced", water_is_balanced);
    CU_add_test(suite, "tolerance moves nothing", tolerance_moves_nothing);
    CU_add_test(suite, "header drains as an orifice", header_drains_as_an_orifice);
    CU_add_test(suite, "cycle of two pressures", cycle_of_two_pressures);
    CU_add_test(suite, "thermal gas at its limits", thermal_gas_at_its_limits);
}
