/* Days that go on where the one before ended: water over midnight, and the level of a cistern. */
#include <pumpday/days.h>

#include "scenario/folder.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void suite_days_carry(void);

static struct pd_scenario scenario;
static struct pd_faults faults;

static void read_cottage(const char *const *sets, size_t count)
{
    faults.count = 0;
    CU_ASSERT_FATAL(pd_scenario_read("scenarios/cistern-cottage", sets, count, &scenario, &faults));
    scenario.use_count = pd_household_usual(1, 4, scenario.uses);
}

static struct pd_days days_with(bool carry, long count, int jobs)
{
    struct pd_days_options options = pd_days_default();
    struct pd_error error = {.code = PD_DONE};
    struct pd_days days;

    options.carry = carry;
    options.count = count;
    options.jobs = jobs;
    options.seed = 5;
    options.strategies[0] = pd_strategy_find("pressure-start");
    options.strategy_count = 1;
    CU_ASSERT_FATAL(pd_days_run(&scenario, &options, &days, &error));
    return days;
}

static double level(const struct pd_days *days, long day)
{
    return pd_days_figure(days, day, 0, PD_FIGURE_LEVEL);
}

/* Nothing flows in: what the taps drew, and no more than the tank holds besides, is missing from
 * the cistern at the end of each day.  Water kept: level times area. */
static void a_level_that_is_carried_keeps_the_water(void)
{
    static const char *const sets[] = {"supply.refill=none", "supply.area=20 m2"};
    double area = 20, tank = 0.08;

    read_cottage(sets, 2);
    double full = scenario.value[PD_SUPPLY_LEVEL];
    struct pd_days days = days_with(true, 12, 1), alone = days_with(false, 12, 1);
    for (long day = 0; day < days.count; day++) {
        double water = pd_days_figure(&days, day, 0, PD_FIGURE_WATER);
        double fallen = ((day > 0 ? level(&days, day - 1) : full) - level(&days, day)) * area;
        // the evening before day 1 is drawn from its cistern too
        double evening = day == 0 ? water : 0;
        CU_ASSERT(fallen > water - tank && fallen < water + evening + tank);
        CU_ASSERT(level(&alone, day) > full - 2.1 * 0.6 / area);
    }
    CU_ASSERT(level(&days, 11) < level(&alone, 11) - 11 * 0.1 / area);
    pd_days_free(&days);
    pd_days_free(&alone);
    pd_scenario_free(&scenario);
}

/* A chain is the same on one thread and on many, and in one piece and in two. */
static void a_chain_is_the_same_however_it_is_run(void)
{
    read_cottage(NULL, 0);
    struct pd_days one = days_with(true, 14, 1), many = days_with(true, 14, 4),
                   piece = days_with(true, 6, 2);
    size_t row = PD_FIGURE_COUNT * sizeof *one.figure;

    CU_ASSERT_EQUAL(memcmp(one.figure, many.figure, 14 * row), 0);
    CU_ASSERT_EQUAL(memcmp(one.figure, piece.figure, 6 * row), 0);
    pd_days_free(&one);
    pd_days_free(&many);
    pd_days_free(&piece);
    pd_scenario_free(&scenario);
}

/* Without a level that moves there is none to tell. */
static void a_main_has_no_level(void)
{
    faults.count = 0;
    CU_ASSERT_FATAL(pd_scenario_read("scenarios/hillside-house", NULL, 0, &scenario, &faults));
    scenario.use_count = pd_household_usual(1, 4, scenario.uses);
    struct pd_days days = days_with(true, 3, 2);
    for (long day = 0; day < 3; day++) {
        CU_ASSERT(isnan(level(&days, day)));
    }
    pd_days_free(&days);
    pd_scenario_free(&scenario);
}

static double delivered(bool follows, double opens)
{
    struct pd_plant plant;
    struct pd_day_result result;
    struct pd_day_options options = pd_day_default();
    struct pd_error error = {.code = PD_DONE};
    struct pd_day *day = pd_day_create(&error);
    struct pd_draw *draws = calloc(1, sizeof *draws);

    if (day == NULL || draws == NULL) {
        CU_FAIL("no memory");
        free(draws);
        pd_day_free(day);
        return (double)NAN;
    }
    // 20 minutes at 6 L/min
    *draws = (struct pd_draw){.time = opens, .flow = 1e-4, .duration = 1200, .volume = NAN};
    faults.count = 0;
    CU_ASSERT_FATAL(pd_scenario_read("scenarios/hillside-house", NULL, 0, &scenario, &faults));
    free(scenario.draws);
    scenario.draws = draws;
    scenario.draw_count = follows ? 0 : 1;
    scenario.evening_count = follows ? 1 : 0;
    scenario.follows = follows;
    CU_ASSERT_FATAL(pd_plant_build(&scenario, &plant, &error));
    struct pd_strategy strategy = pd_strategy_for(pd_strategy_find("pressure-start"), &plant);
    CU_ASSERT_FATAL(pd_day_run(day, &plant, &strategy, &options, &result, &error));
    double water = result.delivered;
    pd_day_free(day);
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
    return water;
}

/* A tap opened at ten to midnight runs ten minutes on each side of it. */
static void water_of_the_evening_runs_on(void)
{
    double both = delivered(false, 85800), after = delivered(true, 85800);

    CU_ASSERT(both > 0.08 && both < 0.16);
    CU_ASSERT_DOUBLE_EQUAL(after, both / 2, 0.05 * both);
    // closed before midnight, it is not of this day
    CU_ASSERT_DOUBLE_EQUAL(delivered(true, 84000), 0, 1e-6);
}

void suite_days_carry(void)
{
    CU_pSuite suite = CU_add_suite("days_carry", NULL, NULL);

    CU_ADD_TEST(suite, a_level_that_is_carried_keeps_the_water);
    CU_ADD_TEST(suite, a_chain_is_the_same_however_it_is_run);
    CU_ADD_TEST(suite, a_main_has_no_level);
    CU_ADD_TEST(suite, water_of_the_evening_runs_on);
}
