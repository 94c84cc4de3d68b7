/* A scenario turned into a plant: each number by hand, and the day's edges in their order. */
#include "model/plant_scenario.h"

#include "physics/near.h"

#include <stdlib.h>

void suite_plant(void);

static const double pi = 3.14159265358979323846;
static const double none = NAN;
static const double hour = 3600, day = 86400;
static struct pd_scenario scenario;
static double *value;

static void begin(void)
{
    scenario = plant_scenario();
    value = scenario.value;
}

static void water_and_air(void)
{
    struct pd_plant plant = plant_of(&scenario);

    // steam tables, value from memory: 999.5 kg/m3 at 12 degC and ordinary pressure
    CU_ASSERT(near(plant.water.density, 999.5, 5e-4));
    CU_ASSERT(near(plant.specific_weight, plant.water.density * 9.80665, 1e-12));
    // ISO 2533: 101325 (1 - 0.0065 h / 288.15)^5.25588
    CU_ASSERT(near(plant.atmosphere, 101325 * pow(1 - 0.0065 * 300 / 288.15, 5.25588), 1e-6));
    CU_ASSERT_EQUAL(plant.tank.wall_temperature, 285.15);
    pd_plant_free(&plant);
}

static void the_branch_by_hand(void)
{
    struct pd_plant plant = plant_of(&scenario);
    double rho = plant.water.density;
    double valve_area = pi * 0.025 * 0.025 / 4, pipe_area = pi * 0.026 * 0.026 / 4;

    CU_ASSERT(near(plant.branch[0].inertance, rho * 23 / pipe_area, 1e-12));
    CU_ASSERT(
        near(plant.branch[0].valve_coefficient, 3 * rho / (2 * valve_area * valve_area), 1e-12));
    CU_ASSERT_EQUAL(plant.branch[0].valve_opening, 1500);
    CU_ASSERT_EQUAL(plant.branch[0].valve_leak_by, 0);
    CU_ASSERT(near(plant.branch[0].speed_time_constant, 0.8 / log(20), 1e-12));
    CU_ASSERT(near(plant.branch[0].pump.shutoff, rho * 9.80665 * 42, 1e-12));
    CU_ASSERT(near(plant.branch[0].pump.stopped_coefficient, 35e3 / 1e-6, 1e-12));
    pd_plant_free(&plant);
    // a valve of unknown bore has the pipe's; its leak is given at 1 bar; no run-up is 1 ms
    value[PD_CHECK_VALVE_DIAMETER] = none;
    value[PD_CHECK_VALVE_LEAK_BY] = 2e-6;
    value[PD_PUMP_RUN_UP_TIME] = 0;
    plant = plant_of(&scenario);
    CU_ASSERT(
        near(plant.branch[0].valve_coefficient, 3 * rho / (2 * pipe_area * pipe_area), 1e-12));
    CU_ASSERT(near(plant.branch[0].valve_leak_by * sqrt(1e5), 2e-6, 1e-12));
    CU_ASSERT(near(plant.branch[0].speed_time_constant, 1e-3 / log(20), 1e-12));
    pd_plant_free(&plant);
}

static void the_house_by_hand(void)
{
    value[PD_HOUSE_LEAK] = 3e-6;
    value[PD_HOUSE_LEAK_PRESSURE] = 2.5e5;
    value[PD_HOUSE_LEAK_EXPONENT] = 1.1;
    value[PD_HOUSE_PIPE_LENGTH] = 40;
    value[PD_HOUSE_PIPE_DIAMETER] = 0.02;
    value[PD_HOUSE_PIPE_WALL] = 0.0025;
    value[PD_HOUSE_PIPE_MODULUS] = 9e8;
    struct pd_plant plant = plant_of(&scenario);
    double volume = pi * 0.02 * 0.02 / 4 * 40;
    double softness = 1 / plant.water.bulk_modulus + 0.02 / (9e8 * 0.0025);
    CU_ASSERT(near(plant.pipe_compliance, volume * softness, 1e-12));
    CU_ASSERT(near(plant.zone[0].elevation_pressure, plant.specific_weight * 4, 1e-12));
    CU_ASSERT(near(plant.zone[0].loss_coefficient, 25e3 / 3.6e-7, 1e-12));
    CU_ASSERT(near(plant.leak_coefficient * pow(2.5e5, 1.1), 3e-6, 1e-12));
    CU_ASSERT(near(plant.reference_root * plant.reference_root, 3e5, 1e-12));
    pd_plant_free(&plant);
    // no pipe at all still gives way a little
    value[PD_HOUSE_PIPE_LENGTH] = 0;
    plant = plant_of(&scenario);
    CU_ASSERT_EQUAL(plant.pipe_compliance, 1e-12);
    pd_plant_free(&plant);
}

static void supplies_of_each_kind(void)
{
    struct pd_plant plant = plant_of(&scenario);
    CU_ASSERT_EQUAL(plant.supply_pressure, 2.2e5);
    CU_ASSERT_FALSE(plant.level_moves);
    CU_ASSERT_EQUAL(plant.well_drawdown, 0);
    CU_ASSERT_EQUAL(plant.lowest_supply, 2.2e5);
    CU_ASSERT_EQUAL(plant.mean_supply, 2.2e5);
    pd_plant_free(&plant);

    value[PD_SUPPLY_KIND] = PD_SUPPLY_CISTERN;
    value[PD_SUPPLY_PRESSURE] = none;
    value[PD_SUPPLY_LEVEL] = 1.5;
    plant = plant_of(&scenario);
    CU_ASSERT(near(plant.supply_pressure, plant.specific_weight * 1.5, 1e-12));
    CU_ASSERT_FALSE(plant.level_moves);
    pd_plant_free(&plant);

    value[PD_SUPPLY_AREA] = 0.7;
    value[PD_SUPPLY_REFILL] = 1e-4;
    value[PD_SUPPLY_EMPTY_LEVEL] = 0.3;
    plant = plant_of(&scenario);
    CU_ASSERT(plant.level_moves);
    CU_ASSERT_EQUAL(plant.supply_level, 1.5);
    CU_ASSERT_EQUAL(plant.cistern_area, 0.7);
    CU_ASSERT_EQUAL(plant.cistern_refill, 1e-4);
    CU_ASSERT_EQUAL(plant.cistern_empty_level, 0.3);
    // of a moving level: full
    CU_ASSERT(near(plant.lowest_supply, plant.specific_weight * 1.5, 1e-12));
    pd_plant_free(&plant);

    value[PD_SUPPLY_KIND] = PD_SUPPLY_WELL;
    value[PD_SUPPLY_AREA] = value[PD_SUPPLY_EMPTY_LEVEL] = none;
    value[PD_SUPPLY_LEVEL] = -3;
    value[PD_SUPPLY_SPECIFIC_CAPACITY] = 2e-4;
    plant = plant_of(&scenario);
    CU_ASSERT(near(plant.supply_pressure, plant.specific_weight * -3, 1e-12));
    CU_ASSERT(near(plant.well_drawdown, plant.specific_weight / 2e-4, 1e-12));
    pd_plant_free(&plant);
}

static void a_cistern_never_empty_unless_told(void)
{
    struct pd_plant plant = plant_of(&scenario);
    CU_ASSERT(isinf(plant.cistern_empty_level) && plant.cistern_empty_level < 0);
    pd_plant_free(&plant);
}

/* Supply less the pipe's, the valve's and the stopped pump's loss, and the well's drawdown. */
static void the_unboosted_header_by_hand(void)
{
    double flow = 3e-4;

    value[PD_SUPPLY_KIND] = PD_SUPPLY_WELL;
    value[PD_SUPPLY_LEVEL] = 20;
    value[PD_SUPPLY_SPECIFIC_CAPACITY] = 5e-4;
    struct pd_plant plant = plant_of(&scenario);
    double rho = plant.water.density, pipe = pi * 0.026 * 0.026 / 4, valve = pi * 0.025 * 0.025 / 4;
    double reynolds = rho * flow / pipe * 0.026 / plant.water.viscosity;
    double friction = pd_friction_factor(reynolds, value[PD_SERVICE_ROUGHNESS] / 0.026);
    double loss = (friction * 23 / 0.026 + 4) * rho * pow(flow / pipe, 2) / 2;
    double wanted = 1.9e5 - loss - 1500 - 3 * rho * pow(flow / valve, 2) / 2 -
                    35e3 * pow(flow / 1e-3, 2) - rho * 9.80665 * flow / 5e-4;
    CU_ASSERT(near(pd_plant_unboosted(&plant, 1.9e5, flow), wanted, 1e-8));
    CU_ASSERT(near(pd_plant_unboosted(&plant, 1.9e5, 0), 1.9e5 - 1500, 1e-12));
    pd_plant_free(&plant);
}

/* Everything at one hour, in the wrong order: supply, profile, closing, opening; then by place. */
static void edges_of_one_instant_in_their_order(void)
{
    struct pd_draw draws[] = {
        {1 * hour, 1e-4, 60, none, ""},     {1 * hour, 1e-4, none, 0.01, ""},
        {0.5 * hour, 1e-4, 1800, none, ""}, {2 * hour, 1e-4, 0.5 * hour, none, ""},
        {0.75 * hour, 1e-4, 900, none, ""},
    };
    struct pd_sample profile[] = {{1 * hour, 1e-4}, {2.5 * hour, 0}};
    struct pd_sample supply[] = {{0, 2e5}, {1 * hour, 3e5}};
    static const struct pd_edge wanted[] = {
        {0, PD_EDGE_SUPPLY, 0},         {1800, PD_EDGE_DRAW_OPENS, 2},
        {2700, PD_EDGE_DRAW_OPENS, 4},  {3600, PD_EDGE_SUPPLY, 1},
        {3600, PD_EDGE_PROFILE, 0},     {3600, PD_EDGE_DRAW_CLOSES, 2},
        {3600, PD_EDGE_DRAW_CLOSES, 4}, {3600, PD_EDGE_DRAW_OPENS, 0},
        {3600, PD_EDGE_DRAW_OPENS, 1},  {3660, PD_EDGE_DRAW_CLOSES, 0},
        {7200, PD_EDGE_DRAW_OPENS, 3},  {9000, PD_EDGE_PROFILE, 1},
        {9000, PD_EDGE_DRAW_CLOSES, 3},
    };

    value[PD_DAY_WARM_UP] = 0;
    scenario.draws = draws;
    scenario.draw_count = COUNT(draws);
    scenario.profile = profile;
    scenario.profile_count = COUNT(profile);
    scenario.supply = supply;
    scenario.supply_count = COUNT(supply);
    struct pd_plant plant = plant_of(&scenario);
    CU_ASSERT_EQUAL_FATAL(plant.edge_count, COUNT(wanted));
    for (size_t i = 0; i < COUNT(wanted); i++) {
        CU_ASSERT_EQUAL(plant.edges[i].time, wanted[i].time);
        CU_ASSERT_EQUAL(plant.edges[i].kind, wanted[i].kind);
        CU_ASSERT_EQUAL(plant.edges[i].index, wanted[i].index);
    }
    pd_plant_free(&plant);
}

/* What the last two hours of a day do, they did yesterday as well. */
static void the_warm_up_repeats_the_evening(void)
{
    struct pd_draw draws[] = {
        {21.9 * hour, 1e-4, 720, none, ""},  // begins before the warm-up, ends in it: none
        {22 * hour, 1e-4, 60, none, ""},     // at its very beginning
        {23.5 * hour, 1e-4, 3600, none, ""}, // over midnight
        {23.75 * hour, 1e-4, 900, none, ""}, // ends at midnight
        {23.9 * hour, 1e-4, none, 0.02, ""}, // ends by volume: no edge
    };
    static const struct pd_edge wanted[] = {
        {-7200, PD_EDGE_DRAW_OPENS, 1},
        {-7140, PD_EDGE_DRAW_CLOSES, 1},
        {-1800, PD_EDGE_DRAW_OPENS, 2},
        {-900, PD_EDGE_DRAW_OPENS, 3},
        {23.9 * 3600 - 86400, PD_EDGE_DRAW_OPENS, 4},
        {0, PD_EDGE_DRAW_CLOSES, 3},
        {1800, PD_EDGE_DRAW_CLOSES, 2},
        {21.9 * 3600, PD_EDGE_DRAW_OPENS, 0},
        {22 * 3600, PD_EDGE_DRAW_OPENS, 1},
        {22 * 3600 + 60, PD_EDGE_DRAW_CLOSES, 1},
        {21.9 * 3600 + 720, PD_EDGE_DRAW_CLOSES, 0},
        {23.5 * 3600, PD_EDGE_DRAW_OPENS, 2},
        {23.75 * 3600, PD_EDGE_DRAW_OPENS, 3},
        {23.9 * 3600, PD_EDGE_DRAW_OPENS, 4},
    };

    value[PD_DAY_WARM_UP] = 2 * hour;
    scenario.draws = draws;
    scenario.draw_count = COUNT(draws);
    struct pd_plant plant = plant_of(&scenario);
    CU_ASSERT_EQUAL_FATAL(plant.edge_count, COUNT(wanted));
    for (size_t i = 0; i < COUNT(wanted); i++) {
        CU_ASSERT(within(plant.edges[i].time, wanted[i].time, 1e-9));
        CU_ASSERT_EQUAL(plant.edges[i].kind, wanted[i].kind);
        CU_ASSERT_EQUAL(plant.edges[i].index, wanted[i].index);
    }
    pd_plant_free(&plant);
}

/* With points at 00:00 and at 24:00 the line of the day begins at the first; the other only ends
 * the line of the day before. */
static void samples_at_both_midnights(void)
{
    struct pd_sample supply[] = {{0, 2e5}, {12 * hour, 3e5}, {24 * hour, 1e5}};
    static const double warm_ups[] = {0, 7200, 86400};
    static const size_t counts[] = {2, 2, 4};

    scenario.supply = supply;
    scenario.supply_count = COUNT(supply);
    for (size_t i = 0; i < COUNT(warm_ups); i++) {
        value[PD_DAY_WARM_UP] = warm_ups[i];
        struct pd_plant plant = plant_of(&scenario);
        CU_ASSERT_EQUAL_FATAL(plant.edge_count, counts[i]);
        const struct pd_edge *edge = &plant.edges[plant.edge_count - 2];
        CU_ASSERT_EQUAL(edge[0].time, 0);
        CU_ASSERT_EQUAL(edge[0].index, 0);
        CU_ASSERT_EQUAL(edge[1].time, 12 * hour);
        CU_ASSERT(near(pd_plant_supply_pressure(&plant, 6 * hour), 2.5e5, 1e-12));
        CU_ASSERT(near(pd_plant_supply_pressure(&plant, -6 * hour), 2e5, 1e-12));
        pd_plant_free(&plant);
    }
}

/* Without one at 00:00 the point at 24:00 begins the day: its line leads to the day's first. */
static void a_sample_at_the_last_midnight_alone(void)
{
    struct pd_sample supply[] = {{12 * hour, 3e5}, {24 * hour, 1e5}};

    scenario.supply = supply;
    scenario.supply_count = COUNT(supply);
    struct pd_plant plant = plant_of(&scenario);
    CU_ASSERT_EQUAL_FATAL(plant.edge_count, 2);
    CU_ASSERT_EQUAL(plant.edges[0].time, 0);
    CU_ASSERT_EQUAL(plant.edges[0].index, 1);
    CU_ASSERT(near(pd_plant_supply_pressure(&plant, 6 * hour), 2e5, 1e-12));
    pd_plant_free(&plant);
}

/* Many at random: in order, within the day and its warm-up, each opening in each. */
static void many_edges_are_in_order(void)
{
    enum { DRAWS = 500 };
    static struct pd_draw draws[DRAWS];
    unsigned state = 12345;
    size_t opens = 0, in_warm_up = 0;

    for (size_t i = 0; i < DRAWS; i++) {
        // a linear congruence; times on whole minutes, so that many coincide
        state = state * 1664525U + 1013904223U;
        draws[i] = (struct pd_draw){60.0 * (state >> 16U) / 65536 * 1440, 1e-4, 60, none, ""};
        draws[i].time = 60 * floor(draws[i].time / 60);
        in_warm_up += draws[i].time >= day - 3 * hour;
    }
    value[PD_DAY_WARM_UP] = 3 * hour;
    scenario.draws = draws;
    scenario.draw_count = DRAWS;
    struct pd_plant plant = plant_of(&scenario);
    for (size_t i = 0; i < plant.edge_count; i++) {
        const struct pd_edge *edge = &plant.edges[i], *before = edge - (i > 0);
        bool later = edge->time > before->time;
        bool same = edge->time == before->time;
        CU_ASSERT(later || (same && edge->kind > before->kind) ||
                  (same && edge->kind == before->kind && edge->index >= before->index));
        CU_ASSERT(edge->time >= -3 * hour && edge->time < day);
        opens += edge->kind == PD_EDGE_DRAW_OPENS;
    }
    CU_ASSERT_EQUAL(opens, DRAWS + in_warm_up);
    CU_ASSERT(in_warm_up > 10);
    pd_plant_free(&plant);
}

void suite_plant(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("plant", NULL, NULL, begin, NULL);

    CU_ADD_TEST(suite, water_and_air);
    CU_ADD_TEST(suite, the_branch_by_hand);
    CU_ADD_TEST(suite, the_house_by_hand);
    CU_ADD_TEST(suite, supplies_of_each_kind);
    CU_ADD_TEST(suite, a_cistern_never_empty_unless_told);
    CU_ADD_TEST(suite, the_unboosted_header_by_hand);
    CU_ADD_TEST(suite, edges_of_one_instant_in_their_order);
    CU_ADD_TEST(suite, the_warm_up_repeats_the_evening);
    CU_ADD_TEST(suite, samples_at_both_midnights);
    CU_ADD_TEST(suite, a_sample_at_the_last_midnight_alone);
    CU_ADD_TEST(suite, many_edges_are_in_order);
}
