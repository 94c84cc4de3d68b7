/* Wells: drawdown against its closed forms, heights that cancel, and the momentum of two pipes. */
#include "day/small_plant.h"

#include <CUnit/CUnit.h>
#include <math.h>

void suite_well(void);

static struct small_plant small;
static const double hour = 3600, casing = 0.12, capacity = 6e-3 / 60; // m, m2/s = 6 L/min/m

static const double pi = 3.14159265358979323846;

static void give(enum pd_item item, double value)
{
    small.scenario.value[item] = value;
    small.scenario.given[item] = true;
}

/* A well whose water stands 12 m under the tank, the pump 20 m under it. */
static void begin(double casing_diameter, double rising)
{
    small_begin(&small);
    give(PD_SUPPLY_KIND, PD_SUPPLY_WELL);
    give(PD_SUPPLY_LEVEL, -12);
    give(PD_SUPPLY_SPECIFIC_CAPACITY, capacity);
    give(PD_PUMP_HEIGHT, -20);
    give(PD_WELL_CASING_DIAMETER, casing_diameter);
    give(PD_RISING_MAIN_LENGTH, rising);
    give(PD_RISING_MAIN_DIAMETER, 0.03);
    give(PD_PRESSURE_START_START, 0.6 * bar);
    give(PD_PRESSURE_START_STOP_PRESSURE, 1.2 * bar);
    small.scenario.supply_count = 0;
}

static bool near_to(double value, double expected, double share)
{
    return fabs(value - expected) <= share * fabs(expected);
}

/* Water over the inlet, from the pressure there while the valve is shut. */
static double level_of(const struct pd_trace_row *row)
{
    return row->supply_pressure / small.plant.specific_weight;
}

/* Without a well's loss the level comes back as an exponential of casing area over capacity: the
 * linear reservoir, closed form. */
static void the_level_recovers_as_an_exponential(void)
{
    double time_constant = pi / 4 * casing * casing / capacity;
    double at[4] = {0}, depth[4] = {0};
    size_t found = 0;

    begin(casing, 0);
    small_draw(&small, 2 * hour, 12 * litre_per_minute, 300);
    small.options.trace_every = 5;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    const struct pd_trace_row *stop = small_first(&small, 2 * hour + 400, row_valve_shut, 0);
    for (size_t i = 0; i < 4; i++) {
        const struct pd_trace_row *row = small_row(&small, stop->time + 5 + 40 * (double)i);
        if (!row->valve_open) {
            at[found] = row->time;
            depth[found++] = -12 - level_of(row);
        }
    }
    CU_ASSERT_EQUAL_FATAL(found, 4);
    CU_ASSERT(depth[0] > 0.2);
    for (size_t i = 1; i < found; i++) {
        double expected = depth[0] * exp(-(at[i] - at[0]) / time_constant);
        CU_ASSERT(near_to(depth[i], expected, 1e-3));
    }
    small_end(&small);
}

/* A pump that runs for hours draws the level down to B Q + C Q^2 (Jacob 1947), with a casing and
 * without one. */
static void a_long_run_draws_down_by_jacob(void)
{
    double loss_flow = 20 * litre_per_minute;

    for (int with = 0; with < 2; with++) {
        begin(with ? casing : (double)NAN, 0);
        give(PD_WELL_LOSS, 1.8);
        give(PD_WELL_LOSS_FLOW, loss_flow);
        small_draw(&small, 2 * hour, 60 * litre_per_minute, 3 * hour);
        small.options.trace_every = 60;
        CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
        const struct pd_trace_row *row = small_row(&small, 4.9 * hour);
        double flow = row->pump_flow;
        CU_ASSERT(row->pump_on && flow > 5 * litre_per_minute);
        double drawdown = flow / capacity + 1.8 * flow * flow / (loss_flow * loss_flow);
        CU_ASSERT(near_to(-12 - level_of(row), drawdown, 1e-4));
        small_end(&small);
    }
}

/* All heights moved together are the same installation but for the pressures at the inlet: what
 * stands over the gauge cancels. */
static void only_the_inlet_knows_its_height(void)
{
    struct pd_day_result result[2];

    for (int i = 0; i < 2; i++) {
        begin(NAN, 0);
        give(PD_PUMP_HEIGHT, i == 0 ? -13 : -33);
        small_draw(&small, 1 * hour, 12 * litre_per_minute, 3000);
        CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
        result[i] = small.result;
        small_end(&small);
    }
    CU_ASSERT(result[0].starts > 3);
    CU_ASSERT_EQUAL(result[0].starts, result[1].starts);
    CU_ASSERT(near_to(result[0].energy, result[1].energy, 1e-10));
    // 20 m of water, 9.80665 m/s2 by 999 kg/m3
    CU_ASSERT(near_to(result[1].lowest_suction_pressure - result[0].lowest_suction_pressure,
                      20 * 9.80665 * 999, 1e-3));
}

static double rise_at(const struct pd_trace_row *row)
{
    double by_flow, by_speed;

    return pd_pump_rise(&small.plant.branch[0].pump, row->pump_flow, row->speed, &by_flow,
                        &by_speed);
}

/* The momentum of each pipe by itself, with the flow's change by differences of the trace: before
 * the pump the inlet's pressure follows from the supply, behind it from the header. */
static void each_pipe_keeps_its_momentum(void)
{
    const double length = 40, area = pi / 4 * 0.03 * 0.03;
    size_t checked = 0;
    double largest = 0, slope;

    begin(NAN, length);
    small_draw(&small, 1 * hour, 30 * litre_per_minute, 60);
    small.options.trace_every = 2e-3;
    small.options.trace_from = 1 * hour;
    small.options.trace_to = 1 * hour + 60;
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    const struct pd_plant *plant = &small.plant;
    double column = plant->specific_weight * 20;
    double behind = plant->water.density * length / area;
    for (size_t i = 1; i + 1 < small.row_count; i++) {
        const struct pd_trace_row *row = &small.rows[i], *last = row - 1, *next = row + 1;
        bool even = fabs(next->time - last->time - 4e-3) < 1e-9;
        if (!even || !(last->pump_flow > 0 && row->pump_flow > 0 && next->pump_flow > 0)) {
            continue;
        }
        double change = (next->pump_flow - last->pump_flow) / (next->time - last->time);
        double flow = row->pump_flow, inlet = row->suction_pressure - column;
        double before = pd_loss_table_at(&plant->branch[0].service, flow, &slope) +
                        plant->branch[0].valve_opening +
                        plant->branch[0].valve_coefficient * flow * flow;
        double main_loss = pd_loss_table_at(&plant->branch[0].rising, flow, &slope);
        double from_supply = row->supply_pressure - before - plant->branch[0].inertance * change;
        double from_header = row->header_pressure + main_loss + behind * change - rise_at(row);
        CU_ASSERT(fabs(inlet - from_supply) < 600 && fabs(inlet - from_header) < 2000);
        largest = fmax(largest, fabs(behind * change));
        checked++;
    }
    CU_ASSERT(checked > 3000);
    // the inertia that is looked for is no trifle
    CU_ASSERT(largest > 4e4);
    small_end(&small);
}

/* 150 m down, a pump at 160 m that can lift it: nothing is refused, and water comes. */
static void a_very_deep_well_gives_water(void)
{
    begin(NAN, 165);
    give(PD_SUPPLY_LEVEL, -150);
    give(PD_PUMP_HEIGHT, -160);
    for (size_t i = 0; i < small.scenario.pump.count; i++) {
        small.scenario.pump.head[i] *= 7;
    }
    small_draw(&small, 1 * hour, 6 * litre_per_minute, 600);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    CU_ASSERT(small.result.delivered > 0.02 && small.result.starts > 0);
    // ten metres over the inlet, less losses
    CU_ASSERT(small.result.lowest_suction_pressure > 0.2 * bar &&
              small.result.lowest_suction_pressure < 0.99 * bar);
    small_end(&small);
}

/* The same pump at the tank would have to draw water up 150 m: no. */
static void no_pump_draws_from_so_deep(void)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_plant plant;

    begin(NAN, 0);
    give(PD_SUPPLY_LEVEL, -150);
    give(PD_PUMP_HEIGHT, 0);
    CU_ASSERT_FALSE(pd_plant_build(&small.scenario, &plant, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_INPUT);
    small_end(&small);
}

/* The casing's own water runs out at the inlet: the pump draws air until some has come back. */
static void a_casing_may_run_empty(void)
{
    begin(casing, 0);
    give(PD_SUPPLY_SPECIFIC_CAPACITY, 0.3e-3 / 60);
    give(PD_SUPPLY_EMPTY_LEVEL, -14);
    small_draw(&small, 1 * hour, 30 * litre_per_minute, 1800);
    CU_ASSERT_FATAL(small_run(&small, "pressure-start"));
    // two metres of casing, and what the rock gives in half an hour at two metres of drawdown
    double most = 2 * pi / 4 * casing * casing + 2 * 0.3e-3 / 60 * 1900;
    CU_ASSERT(small.result.delivered < most + small.plant.tank.volume);
    CU_ASSERT(small.result.last_level < -12 && small.result.last_level >= -14);
    CU_ASSERT(fabs(small.result.balance_error) < 1e-4 * most);
    small_end(&small);
}

void suite_well(void)
{
    CU_pSuite suite = CU_add_suite("well", NULL, NULL);

    CU_ADD_TEST(suite, the_level_recovers_as_an_exponential);
    CU_ADD_TEST(suite, a_long_run_draws_down_by_jacob);
    CU_ADD_TEST(suite, only_the_inlet_knows_its_height);
    CU_ADD_TEST(suite, each_pipe_keeps_its_momentum);
    CU_ADD_TEST(suite, a_very_deep_well_gives_water);
    CU_ADD_TEST(suite, no_pump_draws_from_so_deep);
    CU_ADD_TEST(suite, a_casing_may_run_empty);
}
