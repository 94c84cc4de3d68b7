/* What a sheet tells beside its readings: the leak test against Boyle and a simulated leak, the
 * pressures for tank and relief by hand. */
#include "present/sheet_scene.h"

#include "physics/near.h"

#include <CUnit/CUnit.h>
#include <math.h>

void suite_sheet_survey(void);

static const double air = 101325;                   /* Pa; ISO 2533 at the sea */
static const double shutoff = 38 * 999.1 * 9.80665; /* Pa: 38 m of water of 15 degC, IAPWS */

/* What the tank gives from a gauge down by a step, by p V = const. */
static double given(double volume, double from, double step)
{
    double charge = volume * (sheet.strategy.precharge + air);

    return charge / (from - step + air) - charge / (from + air);
}

/* A litre an hour takes as long as the tank gives 0.1 bar, in whole steps of five minutes. */
static void time_by_boyle(void)
{
    sheet_scene_make(NULL, 0, "pressure-start");
    const struct pd_leak_test *test = &sheet.leak_test;
    double seconds = given(0.024, test->from, 1e4) / (1e-3 / 3600);

    CU_ASSERT_TRUE(test->lifted);
    CU_ASSERT(near(test->from, sheet.bench[0].rest, 1e-12));
    CU_ASSERT(near(test->seconds, ceil(seconds / 300) * 300, 1e-9));
    CU_ASSERT(near(test->flow, 1e-3 / 3600, 1e-9));
    sheet_scene_end();
}

/* Nobody waits four hours: the leak that shows in two is told instead. */
static void large_tank_shows_less(void)
{
    const char *sets[] = {"tank.volume=300 L"};

    sheet_scene_make(sets, 1, "pressure-start");
    const struct pd_leak_test *test = &sheet.leak_test;
    CU_ASSERT(near(test->seconds, 7200, 1e-9));
    CU_ASSERT(near(test->flow, given(0.3, test->from, 1e4) / 7200, 1e-6));
    CU_ASSERT(
        near(test->whole, ceil(given(0.3, test->from, 1e4) / (1e-3 / 3600) / 300) * 300, 1e-9));
    sheet_scene_end();
}

/* A small tank shows it at once; ten minutes are watched all the same. */
static void small_tank_needs_ten_minutes(void)
{
    const char *sets[] = {"tank.volume=2 L"};

    sheet_scene_make(sets, 1, "pressure-start");
    CU_ASSERT(near(sheet.leak_test.seconds, 600, 1e-9));
    CU_ASSERT(near(sheet.leak_test.flow, 1e-3 / 3600, 1e-9));
    sheet_scene_end();
}

/* The gauge at two looks. */
struct looks {
    double first, second; /* s */
    double gauge[2];      /* Pa */
};

static enum pd_answer look(void *context, const struct pd_trace_row *row)
{
    struct looks *looks = context;

    looks->gauge[0] = row->time <= looks->first ? row->header_pressure : looks->gauge[0];
    looks->gauge[1] = row->time <= looks->second ? row->header_pressure : looks->gauge[1];
    return PD_GO_ON;
}

/* A day of the scene with the pump off: the check valve holds what the supply had been at before it
 * sank, and no pressure starts the pump. */
static void run_leak_test(struct looks *looks)
{
    static struct pd_sample supply[] = {{0, 0}, {60, 0}, {90, 2e5}, {86399, 2e5}};
    struct pd_day_options options = pd_day_default();
    struct pd_strategy strategy = sheet.strategy;
    struct pd_error error = {.code = PD_DONE};
    struct pd_day_result result;
    struct pd_plant plant;

    looks->first = 90 + sheet.leak_test.settle;
    looks->second = looks->first + sheet.leak_test.seconds;
    supply[0].value = supply[1].value = sheet.leak_test.from;
    strategy.start_pressure = 0;
    scene.supply = supply;
    scene.supply_count = COUNT(supply);
    scene.draw_count = 0;
    scene.value[PD_SUPPLY_PRESSURE] = NAN;
    scene.value[PD_DAY_WARM_UP] = 0;
    options.trace = look;
    options.trace_context = looks;
    options.trace_every = 10;
    struct pd_day *day = pd_day_create(&error);
    CU_ASSERT_PTR_NOT_NULL_FATAL(day);
    CU_ASSERT_TRUE_FATAL(pd_plant_build(&scene, &plant, &error));
    CU_ASSERT_TRUE(pd_day_run(day, &plant, &strategy, &options, &result, &error));
    CU_ASSERT_EQUAL(result.starts, 0);
    pd_plant_free(&plant);
    pd_day_free(day);
    scene.supply = NULL;
    scene.supply_count = 0;
}

/* In a whole day by the integrator, with gas that warms and cools, the gauge falls by what Boyle
 * takes for the water lost, and the least leak worth a search is to be seen. */
static void simulated_leak_shows(void)
{
    const char *sets[] = {"house.leak=1 L/h", "pressure_start.start=2.5 bar",
                          "check_valve.opening_pressure=0 Pa", "tank.gas=thermal"};
    struct looks looks = {0};

    sheet_scene_make(sets, COUNT(sets), "pressure-start");
    // the leak is a litre an hour at the gauge of the test
    scene.value[PD_HOUSE_LEAK_PRESSURE] = sheet.leak_test.from;
    run_leak_test(&looks);
    double lost = 1e-3 / 3600 * sheet.leak_test.seconds;
    double gas = 0.024 * (sheet.strategy.precharge + air);
    double gauge = 1 / (1 / (looks.gauge[0] + air) + lost / gas) - air;
    CU_ASSERT(near(looks.gauge[0] - looks.gauge[1], looks.gauge[0] - gauge, 0.03));
    CU_ASSERT(looks.gauge[0] - looks.gauge[1] > sheet.leak_test.fall);
    sheet_scene_end();
}

/* The supply alone: nothing is lifted, so that the supply feeds any leak. */
static void supply_feeds_the_leak(void)
{
    const char *sets[] = {"peak_only.start=0.5 bar"};

    sheet_scene_make(sets, 1, "peak-only");
    CU_ASSERT_FALSE(sheet.leak_test.lifted);
    sheet_scene_end();
}

/* Of two supplies the gauge at rest counts that wants more time; where the pump does not lift it
 * over the supply it does not count. */
static void lowest_lifted_gauge_counts(void)
{
    static struct pd_sample supply[] = {{0, 1e5}, {43200, 3e5}};

    sheet_scene_make(NULL, 0, "pressure-start");
    scene.supply = supply;
    scene.supply_count = 2;
    scene.value[PD_SUPPLY_PRESSURE] = NAN;
    sheet_scene_remake("pressure-start");
    CU_ASSERT(near(sheet.leak_test.from, sheet.bench[0].rest, 1e-12));
    CU_ASSERT(sheet.bench[0].rest < sheet.bench[2].rest);
    // at 3 bar peak-only never runs: a gauge of 3 bar would be lower than what it lifts to at 1 bar
    sheet_scene_remake("peak-only");
    CU_ASSERT_TRUE(sheet.leak_test.lifted);
    CU_ASSERT(sheet.leak_test.from > 1e5 + shutoff * 0.9);
    scene.supply = NULL;
    scene.supply_count = 0;
    sheet_scene_end();
}

/* Tank and relief are judged by the pump at no flow on the highest supply: 2 bar and 38 m. */
static void pressures_by_hand(void)
{
    const char *two[] = {"pressure_start.start=3 bar", "pressure_start.stop_pressure=4.5 bar",
                         "tank.rated_pressure=10 bar"};
    double stop = 4.5e5, limit = 80 * 6894.757;

    sheet_scene_make(NULL, 0, "pressure-start");
    CU_ASSERT(near(sheet.highest, 2e5 + shutoff, 3e-4));
    CU_ASSERT(near(sheet.standing, sheet.highest, 1e-12));
    CU_ASSERT_TRUE(isnan(sheet.rated));
    // over the limit of 80 psi there is no room left
    CU_ASSERT(sheet.highest > limit && sheet.room == 0);
    sheet_scene_end();
    sheet_scene_make(two, COUNT(two), "pressure-start");
    CU_ASSERT(near(sheet.highest, 2e5 + shutoff, 3e-4));
    CU_ASSERT(near(sheet.standing, stop, 1e-9));
    CU_ASSERT(near(sheet.rated, 10e5, 1e-9));
    CU_ASSERT(near(sheet.ceiling, limit, 1e-6));
    CU_ASSERT(near(sheet.room, given(0.024, limit, limit - stop), 1e-6));
    sheet_scene_end();
}

/* Density of water: 999.70 kg/m3 at 10 degC, 983.20 at 60 degC (IAPWS-95 tables, from memory). */
static void water_that_warms(void)
{
    sheet_scene_make(NULL, 0, "pressure-start");
    CU_ASSERT(near(sheet.expansion, 999.70 / 983.20 - 1, 0.01));
    sheet_scene_end();
}

/* A cistern lifts from where it is empty; a main never does. */
static void lift_by_hand(void)
{
    const char *well[] = {"supply.kind=well", "supply.pressure=none", "supply.level=-4 m",
                          "supply.specific_capacity=30 L/min/m"};
    const char *cistern[] = {"supply.kind=cistern", "supply.pressure=none", "supply.level=1 m",
                             "supply.area=2 m2", "supply.empty_level=-0.5 m"};

    sheet_scene_make(well, COUNT(well), "pressure-start");
    CU_ASSERT(near(sheet.lift, 4, 1e-9));
    sheet_scene_end();
    sheet_scene_make(cistern, COUNT(cistern), "pressure-start");
    CU_ASSERT(near(sheet.lift, 0.5, 1e-9));
    sheet_scene_end();
    sheet_scene_make(NULL, 0, "pressure-start");
    CU_ASSERT(sheet.lift == 0);
    sheet_scene_end();
}

void suite_sheet_survey(void)
{
    CU_pSuite suite = CU_add_suite("sheet survey", NULL, NULL);

    CU_ADD_TEST(suite, time_by_boyle);
    CU_ADD_TEST(suite, large_tank_shows_less);
    CU_ADD_TEST(suite, small_tank_needs_ten_minutes);
    CU_ADD_TEST(suite, simulated_leak_shows);
    CU_ADD_TEST(suite, supply_feeds_the_leak);
    CU_ADD_TEST(suite, lowest_lifted_gauge_counts);
    CU_ADD_TEST(suite, pressures_by_hand);
    CU_ADD_TEST(suite, water_that_warms);
    CU_ADD_TEST(suite, lift_by_hand);
}
