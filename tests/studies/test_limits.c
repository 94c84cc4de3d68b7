/* Starts that a motor stands, and the limits taken from a scenario. */
#include <pumpday/check.h>

#include "physics/near.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

void suite_limits(void);

static double starts(double horsepower, int poles)
{
    const char *source = NULL;

    return pd_motor_starts_per_hour(horsepower * 745.7, poles, &source);
}

/* NEMA MG 10, allowable number of starts (as in the EASA Electrical Engineering Handbook). */
static void nema_rows(void)
{
    static const struct {
        double horsepower, two, four, six;
    } table[] = {
        {1, 15, 30, 34},      {1.5, 12.9, 25.7, 29.1}, {2, 11.5, 23, 26.1},   {3, 9.9, 19.8, 22.4},
        {5, 8.1, 16.3, 18.4}, {7.5, 7.0, 13.9, 15.8},  {10, 6.2, 12.5, 14.2}, {15, 5.4, 10.7, 12.1},
        {20, 4.8, 9.6, 10.9}, {25, 4.4, 8.8, 10.0},
    };

    for (size_t i = 0; i < COUNT(table); i++) {
        CU_ASSERT(near(starts(table[i].horsepower, 2), table[i].two, 1e-9));
        CU_ASSERT(near(starts(table[i].horsepower, 4), table[i].four, 1e-9));
        CU_ASSERT(near(starts(table[i].horsepower, 6), table[i].six, 1e-9));
    }
}

/* Sizes in kW that are sold for 1, 2 and 3 hp (common practice, no source). */
static void metric_sizes_find_their_row(void)
{
    CU_ASSERT(near(starts(0.75e3 / 745.7, 4), 30, 1e-9));
    CU_ASSERT(near(starts(1.5e3 / 745.7, 2), 11.5, 1e-9));
    CU_ASSERT(near(starts(2.2e3 / 745.7, 2), 9.9, 1e-9));
}

static void between_two_sizes_the_larger_holds(void)
{
    CU_ASSERT(near(starts(2.5, 2), 9.9, 1e-9));
    CU_ASSERT(near(starts(0.9, 2), 15, 1e-9));
    CU_ASSERT(near(starts(0.9, 4), 30, 1e-9));
    CU_ASSERT(near(starts(40, 2), 4.4, 1e-9));
}

/* Water Systems Council tank standard: at most 15 starts per hour up to 3/4 hp. */
static void small_motors(void)
{
    const char *source = NULL;

    CU_ASSERT(near(starts(0.5, 2), 15, 1e-9));
    CU_ASSERT(near(starts(0.75, 6), 15, 1e-9));
    CU_ASSERT(near(pd_motor_starts_per_hour(370, 2, &source), 15, 1e-9));
    CU_ASSERT(source != NULL && strstr(source, "Water Systems Council") != NULL);
}

static void scenario_comes_before_the_table(void)
{
    struct pd_scenario scenario = pd_scenario_default();

    CU_ASSERT(near(pd_limits_for(&scenario).starts_per_hour, 15, 1e-9));
    scenario.value[PD_PUMP_MOTOR_POWER] = 1500;
    scenario.value[PD_PUMP_POLES] = 4;
    scenario.value[PD_PUMP_PHASES] = PD_PHASES_POLY;
    CU_ASSERT(near(pd_limits_for(&scenario).starts_per_hour, 23, 1e-9));
    CU_ASSERT_STRING_EQUAL(pd_limits_for(&scenario).starts_source, "NEMA MG 10");
    scenario.value[PD_LIMIT_STARTS_PER_HOUR] = 8;
    CU_ASSERT(near(pd_limits_for(&scenario).starts_per_hour, 8, 1e-9));
    CU_ASSERT_STRING_EQUAL(pd_limits_for(&scenario).starts_source, "limit.starts_per_hour");
    scenario.value[PD_LIMIT_STARTS_PER_DAY] = 40;
    scenario.value[PD_LIMIT_SHORTEST_RUN] = 20;
    scenario.value[PD_PUMP_SUBMERSIBLE] = PD_SUBMERSIBLE_YES;
    CU_ASSERT(near(pd_limits_for(&scenario).starts_per_day, 40, 1e-9));
    CU_ASSERT_STRING_EQUAL(pd_limits_for(&scenario).day_source, "limit.starts_per_day");
    CU_ASSERT(near(pd_limits_for(&scenario).shortest_run, 20, 1e-9));
    CU_ASSERT_STRING_EQUAL(pd_limits_for(&scenario).run_source, "limit.shortest_run");
}

static struct pd_motor_rule rule_of(double horsepower, int poles, double phases)
{
    struct pd_scenario scenario = pd_scenario_default();

    scenario.value[PD_PUMP_MOTOR_POWER] = horsepower * 745.7;
    scenario.value[PD_PUMP_POLES] = poles;
    scenario.value[PD_PUMP_PHASES] = phases;
    return pd_motor_rule_for(&scenario, NULL);
}

static bool says(const char *source, const char *words)
{
    return strstr(source, words) != NULL;
}

/* Water Systems Council: 7.5 an hour over 3/4 hp.  NEMA MG 10: 23 for 2 hp and 4 poles, 6.2 for
 * 10 hp and 2 poles; so either may be the stricter. */
static void phases_unknown_is_the_stricter(void)
{
    struct pd_motor_rule rule = rule_of(2, 4, NAN);

    CU_ASSERT(rule.phases_missing);
    CU_ASSERT(near(rule.starts_per_hour, 7.5, 1e-9));
    CU_ASSERT(says(rule.starts_source, "Water Systems Council"));
    CU_ASSERT(says(rule.starts_source, "phases unknown: the stricter"));
    CU_ASSERT(near(rule.starts_per_day, 100, 1e-9));
    CU_ASSERT(says(rule.day_source, "phases unknown: the stricter"));
    // it may be polyphase, for which a rest is published
    CU_ASSERT(near(rule.least_rest, 39, 1e-9));
    CU_ASSERT_FALSE(rule.rest_is_assumed);
    rule = rule_of(10, 2, NAN);
    CU_ASSERT(near(rule.starts_per_hour, 6.2, 1e-9));
    CU_ASSERT(says(rule.starts_source, "NEMA MG 10; phases unknown: the stricter"));
    rule = rule_of(10, 2, PD_PHASES_SINGLE);
    CU_ASSERT(near(rule.starts_per_hour, 7.5, 1e-9));
    CU_ASSERT_FALSE(says(rule.starts_source, "unknown"));
    // up to 3/4 hp it makes no difference
    rule = rule_of(0.75, 2, NAN);
    CU_ASSERT_FALSE(rule.phases_missing);
    CU_ASSERT_FALSE(says(rule.starts_source, "unknown"));
}

/* 300: Water Systems Council.  The rest: a table that makers of submersible motors
 * have in common, from memory. */
static void starts_a_day_by_size(void)
{
    static const struct {
        double horsepower, single, poly;
    } table[] = {{0.5, 300, 300}, {0.75, 300, 300}, {1, 100, 300},
                 {5.5, 100, 300}, {7.5, 50, 100},   {30, 50, 100}};

    for (size_t i = 0; i < COUNT(table); i++) {
        struct pd_motor_rule single = rule_of(table[i].horsepower, 2, PD_PHASES_SINGLE);
        struct pd_motor_rule poly = rule_of(table[i].horsepower, 2, PD_PHASES_POLY);
        CU_ASSERT(near(single.starts_per_day, table[i].single, 1e-9));
        CU_ASSERT(near(poly.starts_per_day, table[i].poly, 1e-9));
        CU_ASSERT(says(single.day_source, i < 2 ? "Water Systems Council" : "from memory"));
        CU_ASSERT(says(poly.day_source, i < 4 ? "Water Systems Council" : "from memory"));
    }
}

/* 10 CFR 431.446(a) asks 77.0 % (polyphase) and 80.4 % (capacitor-start) of a two-pole motor of
 * 1 hp: one that draws 960 W at the most gives about 0.75 kW,. */
static void size_unknown_from_the_power_column(void)
{
    struct pd_scenario scenario = pd_scenario_default();

    scenario.pump.count = 3;
    scenario.pump.power[0] = 500;
    scenario.pump.power[1] = 960;
    scenario.pump.power[2] = 900;
    scenario.value[PD_PUMP_PHASES] = PD_PHASES_POLY;
    scenario.value[PD_PUMP_POLES] = 4;
    struct pd_motor_rule rule = pd_motor_rule_for(&scenario, NULL);
    CU_ASSERT(rule.power_is_estimated);
    CU_ASSERT(rule.power >= 0.770 * 960 - 1 && rule.power <= 0.804 * 960);
    CU_ASSERT(near(rule.starts_per_hour, 25.7, 1e-9) || near(rule.starts_per_hour, 30, 1e-9));
    CU_ASSERT(says(rule.starts_source, "size estimated"));
    CU_ASSERT(says(rule.day_source, "size estimated"));
    CU_ASSERT(says(rule.rest_source, "size estimated"));
    CU_ASSERT(says(pd_limits_for(&scenario).starts_source, "size estimated"));
    // a motor of 500 W at the most is one of under 3/4 hp
    scenario.pump.power[1] = scenario.pump.power[2] = 500;
    rule = pd_motor_rule_for(&scenario, NULL);
    CU_ASSERT(near(rule.starts_per_hour, 15, 1e-9));
    // the plate goes before it
    scenario.value[PD_PUMP_MOTOR_POWER] = 2 * 745.7;
    rule = pd_motor_rule_for(&scenario, NULL);
    CU_ASSERT_FALSE(rule.power_is_estimated);
    CU_ASSERT(near(rule.starts_per_hour, 23, 1e-9));
    CU_ASSERT_FALSE(says(rule.starts_source, "estimated"));
}

/* About a minute's drawdown for a pressure switch, and a minute's run for a submersible motor:
 * common practice, no source. */
static void a_minute_for_switches_and_submersibles(void)
{
    const struct pd_strategy by_pressure = {.stop_pressure = 4e5}, by_flow = {.stop_pressure = NAN};
    struct pd_scenario scenario = pd_scenario_default();
    struct pd_motor_rule rule = pd_motor_rule_for(&scenario, &by_flow);

    CU_ASSERT(near(rule.least_run, 5, 1e-9));
    CU_ASSERT_FALSE(isfinite(rule.usual_run));
    rule = pd_motor_rule_for(&scenario, &by_pressure);
    CU_ASSERT(near(rule.least_run, 5, 1e-9));
    CU_ASSERT(near(rule.usual_run, 60, 1e-9));
    CU_ASSERT(near(rule.least_rest, 60, 1e-9));
    CU_ASSERT(rule.rest_is_assumed);
    scenario.value[PD_PUMP_SUBMERSIBLE] = PD_SUBMERSIBLE_YES;
    rule = pd_motor_rule_for(&scenario, &by_flow);
    CU_ASSERT(near(rule.least_run, 60, 1e-9));
    CU_ASSERT(near(rule.least_rest, 60, 1e-9));
    CU_ASSERT(says(rule.run_source, "no source"));
    CU_ASSERT(near(pd_limits_for(&scenario).shortest_run, 60, 1e-9));
    // what is published for the motor goes before practice
    scenario.value[PD_PUMP_MOTOR_POWER] = 3 * 745.7;
    scenario.value[PD_PUMP_PHASES] = PD_PHASES_POLY;
    rule = pd_motor_rule_for(&scenario, &by_pressure);
    CU_ASSERT(near(rule.least_rest, 80, 1e-9));
    CU_ASSERT_FALSE(rule.rest_is_assumed);
}

/* A well whose water stands over the pump has it under water; one that lifts it does not. */
static void a_well_over_its_pump_has_a_submersible(void)
{
    struct pd_sample levels[] = {{0, 4}, {43200, -1}};
    struct pd_scenario scenario = pd_scenario_default();

    scenario.value[PD_SUPPLY_KIND] = PD_SUPPLY_WELL;
    scenario.value[PD_SUPPLY_LEVEL] = 12;
    CU_ASSERT(pd_motor_rule_for(&scenario, NULL).is_submersible);
    scenario.value[PD_SUPPLY_LEVEL] = -6;
    CU_ASSERT_FALSE(pd_motor_rule_for(&scenario, NULL).is_submersible);
    scenario.value[PD_SUPPLY_LEVEL] = NAN;
    scenario.supply = levels;
    scenario.supply_count = 1;
    CU_ASSERT(pd_motor_rule_for(&scenario, NULL).is_submersible);
    scenario.supply_count = 2;
    CU_ASSERT_FALSE(pd_motor_rule_for(&scenario, NULL).is_submersible);
    scenario.supply_count = 1;
    scenario.value[PD_PUMP_SUBMERSIBLE] = PD_SUBMERSIBLE_NO;
    CU_ASSERT_FALSE(pd_motor_rule_for(&scenario, NULL).is_submersible);
    scenario.value[PD_SUPPLY_KIND] = PD_SUPPLY_CISTERN;
    scenario.value[PD_PUMP_SUBMERSIBLE] = NAN;
    CU_ASSERT_FALSE(pd_motor_rule_for(&scenario, NULL).is_submersible);
}

/* Water Systems Council tank standard: fewer than 300 starts in 24 h. */
static void limits_of_a_scenario_that_says_nothing(void)
{
    struct pd_scenario scenario = pd_scenario_default();
    struct pd_limits limits = pd_limits_for(&scenario);

    CU_ASSERT(near(limits.starts_per_day, 300, 1e-9));
    CU_ASSERT(limits.shortest_run > 0 && limits.tap_pressure > 0);
    CU_ASSERT(limits.static_pressure > limits.tap_pressure);
}

void suite_limits(void)
{
    CU_pSuite suite = CU_add_suite("limits", NULL, NULL);

    CU_ADD_TEST(suite, nema_rows);
    CU_ADD_TEST(suite, metric_sizes_find_their_row);
    CU_ADD_TEST(suite, between_two_sizes_the_larger_holds);
    CU_ADD_TEST(suite, small_motors);
    CU_ADD_TEST(suite, scenario_comes_before_the_table);
    CU_ADD_TEST(suite, phases_unknown_is_the_stricter);
    CU_ADD_TEST(suite, starts_a_day_by_size);
    CU_ADD_TEST(suite, size_unknown_from_the_power_column);
    CU_ADD_TEST(suite, a_minute_for_switches_and_submersibles);
    CU_ADD_TEST(suite, a_well_over_its_pump_has_a_submersible);
    CU_ADD_TEST(suite, limits_of_a_scenario_that_says_nothing);
}
