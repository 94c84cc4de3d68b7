/* The supply over the day: lines between points, round midnight, and what they are like in sum. */
#include "model/plant_scenario.h"

#include "model/supply_day.h"
#include "physics/near.h"

void suite_supply_day(void);

static const double hour = 3600;
static struct pd_scenario scenario;
static struct pd_plant plant;

static void begin(void)
{
    scenario = plant_scenario();
}

static void build(struct pd_sample *supply, size_t count)
{
    scenario.supply = supply;
    scenario.supply_count = count;
    plant = plant_of(&scenario);
}

static void end(void)
{
    pd_plant_free(&plant);
}

static void constant_without_points(void)
{
    build(NULL, 0);
    struct supply_line line = supply_line_at(&plant, -5000);
    CU_ASSERT_EQUAL(line.value, 2.2e5);
    CU_ASSERT_EQUAL(line.slope, 0);
    CU_ASSERT_EQUAL(pd_plant_supply_pressure(&plant, 40000), 2.2e5);
}

static void one_point_is_constant(void)
{
    static struct pd_sample supply[] = {{7 * hour, 1.7e5}};

    build(supply, 1);
    for (double time = -86400; time < 86400; time += 9999) {
        CU_ASSERT_EQUAL(pd_plant_supply_pressure(&plant, time), 1.7e5);
    }
    CU_ASSERT_EQUAL(plant.lowest_supply, 1.7e5);
    CU_ASSERT(near(plant.mean_supply, 1.7e5, 1e-12));
}

/* 2 bar at 06:00, 3 bar at 18:00: twelve hours each way, so 2.5 bar at midnight. */
static void lines_go_on_over_midnight(void)
{
    static struct pd_sample supply[] = {{6 * hour, 2e5}, {18 * hour, 3e5}};
    static const double hours[] = {-6, -3, 0, 3, 6, 9, 12, 18, 21, 23.999};
    static const double bars[] = {3, 2.75, 2.5, 2.25, 2, 2.25, 2.5, 3, 2.75, 2.5 + 1 / 12e3};

    build(supply, 2);
    for (size_t i = 0; i < COUNT(hours); i++) {
        CU_ASSERT(near(pd_plant_supply_pressure(&plant, hours[i] * hour), bars[i] * 1e5, 1e-9));
    }
    CU_ASSERT_EQUAL(plant.lowest_supply, 2e5);
    CU_ASSERT_EQUAL(plant.highest_supply, 3e5);
    CU_ASSERT(near(plant.mean_supply, 2.5e5, 1e-12));
}

/* Points at both ends of the day may stand apart: the supply jumps there. */
static void midnight_may_jump(void)
{
    static struct pd_sample supply[] = {{0, 2e5}, {12 * hour, 3e5}, {24 * hour, 1e5}};

    build(supply, 3);
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, -1e-3), 1e5, 1e-6));
    CU_ASSERT_EQUAL(pd_plant_supply_pressure(&plant, 0), 2e5);
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, 18 * hour), 2e5, 1e-12));
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, -6 * hour), 2e5, 1e-12));
    // two halves: 2 to 3 bar, 3 to 1 bar
    CU_ASSERT(near(plant.mean_supply, (2.5e5 + 2e5) / 2, 1e-12));
    CU_ASSERT_EQUAL(plant.lowest_supply, 1e5);
}

/* Levels are pressures by their height. */
static void levels_become_pressures(void)
{
    static struct pd_sample supply[] = {{0, 2}, {12 * hour, 4}};

    scenario.value[PD_SUPPLY_KIND] = PD_SUPPLY_CISTERN;
    scenario.supply_is_level = true;
    build(supply, 2);
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, 6 * hour), 3 * plant.specific_weight, 1e-12));
    CU_ASSERT(near(plant.lowest_supply, 2 * plant.specific_weight, 1e-12));
    CU_ASSERT(near(plant.mean_supply, 3 * plant.specific_weight, 1e-12));
}

/* An offset moves pressures by itself, and levels by its height as a column of 1000 kg/m3. */
static void an_offset_moves_every_point(void)
{
    static struct pd_sample bars[] = {{0, 2e5}, {12 * hour, 4e5}};
    static struct pd_sample metres[] = {{0, 2}, {12 * hour, 4}};

    scenario.value[PD_SUPPLY_OFFSET] = -0.5e5;
    build(bars, 2);
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, 6 * hour), 2.5e5, 1e-12));
    CU_ASSERT(near(plant.lowest_supply, 1.5e5, 1e-12));
    CU_ASSERT(near(plant.highest_supply, 3.5e5, 1e-12));
    CU_ASSERT(near(plant.mean_supply, 2.5e5, 1e-12));
    pd_plant_free(&plant);
    scenario.value[PD_SUPPLY_OFFSET] = -1.5 * 9806.65;
    scenario.value[PD_SUPPLY_KIND] = PD_SUPPLY_CISTERN;
    scenario.supply_is_level = true;
    build(metres, 2);
    CU_ASSERT(near(plant.lowest_supply, 0.5 * plant.specific_weight, 1e-12));
    CU_ASSERT(near(plant.mean_supply, 1.5 * plant.specific_weight, 1e-12));
}

/* Behind a valve at 3 bar a main between 2 and 4 is cut half way up and half way down. */
static void a_reducing_valve_cuts_the_main(void)
{
    static struct pd_sample samples[] = {{0, 2e5}, {12 * hour, 4e5}};

    scenario.value[PD_SUPPLY_REDUCING_VALVE] = 3e5;
    build(samples, 2);
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, 3 * hour), 2.5e5, 1e-12));
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, 6 * hour), 3e5, 1e-12));
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, 12 * hour), 3e5, 1e-12));
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, 21 * hour), 2.5e5, 1e-12));
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, -3 * hour), 2.5e5, 1e-12));
    CU_ASSERT(near(plant.lowest_supply, 2e5, 1e-12));
    CU_ASSERT(near(plant.highest_supply, 3e5, 1e-12));
    // half the day at 3, half on the way between 2 and 3
    CU_ASSERT(near(plant.mean_supply, 2.75e5, 1e-12));
}

/* Least, greatest and mean against a fine sum over the day. */
static void extremes_of_an_uneven_day(void)
{
    static struct pd_sample supply[] = {{1 * hour, 2.1e5},
                                        {5 * hour, 2.6e5},
                                        {7.5 * hour, 1.4e5},
                                        {8 * hour, 1.9e5},
                                        {20 * hour, 1.2e5}};
    double sum = 0, low = INFINITY, high = -INFINITY;
    int count = 0;

    build(supply, COUNT(supply));
    for (double time = 5; time < 86400; time += 10, count++) {
        double pressure = pd_plant_supply_pressure(&plant, time);
        sum += pressure;
        low = fmin(low, pressure);
        high = fmax(high, pressure);
    }
    CU_ASSERT(near(plant.mean_supply, sum / count, 1e-9));
    CU_ASSERT(near(plant.lowest_supply, low, 2e-3) && plant.lowest_supply <= low);
    CU_ASSERT(near(plant.highest_supply, high, 2e-3) && plant.highest_supply >= high);
}

/* The line that an edge begins is the one in force there, today and in the warm-up. */
static void lines_from_points_are_those_in_force(void)
{
    static struct pd_sample supply[] = {{1 * hour, 2.1e5}, {5 * hour, 2.6e5}, {20 * hour, 1.2e5}};

    build(supply, COUNT(supply));
    for (size_t i = 0; i < COUNT(supply); i++) {
        for (double midnight = -86400; midnight <= 0; midnight += 86400) {
            struct supply_line from = supply_line_from(&plant, i, midnight);
            struct supply_line at = supply_line_at(&plant, supply[i].time + midnight + 60);
            CU_ASSERT_EQUAL(from.time, supply[i].time + midnight);
            CU_ASSERT_EQUAL(from.time, at.time);
            CU_ASSERT_EQUAL(from.value, at.value);
            CU_ASSERT_EQUAL(from.slope, at.slope);
        }
    }
}

void suite_supply_day(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("supply_day", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, constant_without_points);
    CU_ADD_TEST(suite, one_point_is_constant);
    CU_ADD_TEST(suite, lines_go_on_over_midnight);
    CU_ADD_TEST(suite, midnight_may_jump);
    CU_ADD_TEST(suite, levels_become_pressures);
    CU_ADD_TEST(suite, an_offset_moves_every_point);
    CU_ADD_TEST(suite, a_reducing_valve_cuts_the_main);
    CU_ADD_TEST(suite, extremes_of_an_uneven_day);
    CU_ADD_TEST(suite, lines_from_points_are_those_in_force);
}
