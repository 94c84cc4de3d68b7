/* Starts that a motor stands, and the limits taken from a scenario. */
#include <pumpday/compare.h>

#include "physics/near.h"

#include <CUnit/CUnit.h>
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
    CU_ASSERT(near(pd_limits_for(&scenario).starts_per_hour, 23, 1e-9));
    CU_ASSERT_STRING_EQUAL(pd_limits_for(&scenario).starts_source, "NEMA MG 10");
    scenario.value[PD_LIMIT_STARTS_PER_HOUR] = 8;
    CU_ASSERT(near(pd_limits_for(&scenario).starts_per_hour, 8, 1e-9));
    CU_ASSERT_STRING_EQUAL(pd_limits_for(&scenario).starts_source, "limit.starts_per_hour");
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
    CU_ADD_TEST(suite, limits_of_a_scenario_that_says_nothing);
}
