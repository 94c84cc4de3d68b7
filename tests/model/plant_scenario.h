/* A scenario made in code for the tests of the plant: every item that matters has a value of its
 * own, so that no two can be taken for each other. */
#ifndef PUMPDAY_TESTS_PLANT_SCENARIO_H
#define PUMPDAY_TESTS_PLANT_SCENARIO_H

#include <pumpday/plant.h>

#include <CUnit/CUnit.h>
#include <math.h>

static inline struct pd_scenario plant_scenario(void)
{
    static const double flow[] = {0, 2e-4, 5e-4, 8e-4, 1e-3}, head[] = {42, 41, 36, 26, 17};
    static const double power[] = {250, 330, 450, 520, 530};
    struct pd_scenario scenario = pd_scenario_default();
    double *value = scenario.value;

    value[PD_SITE_ALTITUDE] = 300;
    value[PD_WATER_TEMPERATURE] = 285.15;
    value[PD_SUPPLY_KIND] = PD_SUPPLY_MAIN;
    value[PD_SUPPLY_PRESSURE] = 2.2e5;
    value[PD_SERVICE_LENGTH] = 23;
    value[PD_SERVICE_DIAMETER] = 0.026;
    value[PD_SERVICE_LOSS_K] = 4;
    value[PD_CHECK_VALVE_DIAMETER] = 0.025;
    value[PD_CHECK_VALVE_LOSS_K] = 3;
    value[PD_CHECK_VALVE_OPENING_PRESSURE] = 1500;
    value[PD_PUMP_STOPPED_LOSS] = 35e3;
    value[PD_PUMP_RUN_UP_TIME] = 0.8;
    value[PD_TANK_VOLUME] = 0.018;
    value[PD_TANK_EXPONENT] = 1.25;
    value[PD_TANK_TIME_CONSTANT] = 30;
    value[PD_HOUSE_ELEVATION] = 4;
    value[PD_HOUSE_LOSS] = 25e3;
    value[PD_HOUSE_LOSS_FLOW] = 6e-4;
    scenario.pump.count = 5;
    for (size_t i = 0; i < scenario.pump.count; i++) {
        scenario.pump.flow[i] = flow[i];
        scenario.pump.head[i] = head[i];
        scenario.pump.power[i] = power[i];
    }
    return scenario;
}

/* A plant from a scenario; to be freed with pd_plant_free. */
static inline struct pd_plant plant_of(const struct pd_scenario *scenario)
{
    struct pd_plant plant;
    struct pd_error error = {.code = PD_DONE};

    CU_ASSERT_FATAL(pd_plant_build(scenario, &plant, &error));
    return plant;
}

#endif
