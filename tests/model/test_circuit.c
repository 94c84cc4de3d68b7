/* The equations of motion against their formulas, and the Newton correction against a dense one.
 *
 * The correction is checked column by column of the inverse against a Jacobian of differences of
 * the rates, solved by GSL with pivoting, in every mode, gas and supply, with leaks and without. */
#include "model/plant_scenario.h"

#include "model/circuit.h"
#include "physics/near.h"

#include <gsl/gsl_linalg.h>
#include <stdio.h>

void suite_circuit(void);

static const double pi = 3.14159265358979323846;
enum { SUPPLIES = 3, GASES = 3, LEAKS = 5, MODES = 16 };

static struct pd_scenario scenario;
static struct pd_plant plant;
static struct circuit circuit;
static struct mode mode;

/* Sizes of the parts of the state: what a correction is measured by. */
static const double scale[STATE_COUNT] = {
    [AT_FLOW] = 1e-4,     [AT_PRESSURE] = 1e5,   [AT_TEMPERATURE] = 10,
    [AT_LEVEL] = 0.1,     [AT_SIGMA] = 500,      [AT_ENERGY] = 100,
    [AT_SUPPLIED] = 1e-4, [AT_DELIVERED] = 1e-4, [AT_LEAKED] = 1e-4,
};

static void begin(void)
{
    scenario = plant_scenario();
    plant = (struct pd_plant){.edges = NULL};
}

static void end(void)
{
    pd_plant_free(&plant);
}

/* A plant of one kind of supply, gas and leak; with any leak the valve leaks by too. */
static void build(int supply, int gas, int leak)
{
    static const double exponents[LEAKS] = {0.5, 0.5, 1, 1.5, 1.15};
    double *value = scenario.value;

    pd_plant_free(&plant);
    scenario = plant_scenario();
    value[PD_SUPPLY_KIND] = supply;
    value[PD_TANK_GAS] = gas;
    value[PD_SUPPLY_LEVEL] = 2;
    if (supply == PD_SUPPLY_CISTERN) {
        value[PD_SUPPLY_AREA] = 0.4;
        value[PD_SUPPLY_REFILL] = 1e-4;
    }
    value[PD_SUPPLY_SPECIFIC_CAPACITY] = 3e-4;
    value[PD_HOUSE_LEAK] = leak == 0 ? 0 : 2e-5;
    value[PD_HOUSE_LEAK_EXPONENT] = exponents[leak];
    value[PD_CHECK_VALVE_LEAK_BY] = leak == 0 ? 0 : 3e-5;
    plant = plant_of(&scenario);
    circuit = circuit_of(&plant, 1.6e5);
}

static void set_mode(int bits)
{
    mode = (struct mode){
        .branch[0].pump_on = bits & 1,
        .branch[0].valve_open = bits & 2,
        .tank_wet = bits & 4,
        .supply_dry = bits & 8,
        .supply_time = 1000,
        .supply_value = 2.1e5,
        .supply_slope = -3,
    };
    mode_set_demand(&mode, &plant, 0, 4e-7);
}

/* A state with its tank wet or not, and with flow only where the valve is open. */
static void set_state(double state[STATE_COUNT], double speed, double flow)
{
    // the integrals have no say in any rate
    for (int i = 0; i < STATE_COUNT; i++) {
        state[i] = 0.25 * i;
    }
    // all rates are looked at at this time
    mode.branch[0].speed_then = speed;
    mode.branch[0].speed_since = 1500;
    state[AT_FLOW] = mode.branch[0].valve_open ? flow : 0;
    state[AT_PRESSURE] = mode.tank_wet ? 2.9e5 : 1.1e5;
    state[AT_TEMPERATURE] = 291;
    state[AT_LEVEL] = 1.97;
}

/* One rate as a function of one part of the state. */
struct column {
    int row, place;
    const double *state;
};

static double rate_of(double x, const void *context)
{
    const struct column *column = context;
    double state[STATE_COUNT], rate[STATE_COUNT];

    for (int i = 0; i < STATE_COUNT; i++) {
        state[i] = i == column->place ? x : column->state[i];
    }
    CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
    return rate[column->row];
}

/* I - gamma J in parts of the scale, so that pivoting means something. */
static void fill_matrix(gsl_matrix *matrix, const double state[STATE_COUNT], double gamma)
{
    for (int i = 0; i < STATE_COUNT; i++) {
        for (int j = 0; j < STATE_COUNT; j++) {
            struct column column = {i, j, state};
            double slope = difference(rate_of, &column, state[j], 1e-4 * scale[j]);
            double part = (i == j) - gamma * slope * scale[j] / scale[i];
            gsl_matrix_set(matrix, (size_t)i, (size_t)j, part);
        }
    }
}

/* The answer to a right-hand side of one part alone. */
static void check_column(const gsl_matrix *factors, const gsl_permutation *order,
                         const double state[STATE_COUNT], double gamma, int place)
{
    double rate[STATE_COUNT], known[STATE_COUNT], got[STATE_COUNT], right[STATE_COUNT] = {0};
    gsl_vector_view answer = gsl_vector_view_array(right, STATE_COUNT);

    CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
    for (int i = 0; i < STATE_COUNT; i++) {
        known[i] = gamma * rate[i] - (i == place ? scale[i] : 0);
    }
    CU_ASSERT_FATAL(circuit_correct(&circuit, &mode, 1500, state, gamma, known, got));
    right[place] = 1;
    CU_ASSERT_EQUAL(gsl_linalg_LU_svx(factors, order, &answer.vector), 0);
    for (int i = 0; i < STATE_COUNT; i++) {
        bool good = fabs(got[i] / scale[i] - right[i]) <= 2e-6 * fmax(fabs(right[i]), 1e-2);
        if (!good) {
            printf("\n      place %d by %d: got %.9g, want %.9g, gamma %g, mode %d%d%d%d, gas %d",
                   i, place, got[i] / scale[i], right[i], gamma, mode.branch[0].pump_on,
                   mode.branch[0].valve_open, mode.tank_wet, mode.supply_dry, plant.tank.gas);
        }
        CU_ASSERT(good);
    }
}

static void check_state(const double state[STATE_COUNT], double gamma)
{
    double parts[STATE_COUNT * STATE_COUNT];
    gsl_matrix_view matrix = gsl_matrix_view_array(parts, STATE_COUNT, STATE_COUNT);
    gsl_permutation *order = gsl_permutation_alloc(STATE_COUNT);
    int sign;

    CU_ASSERT_PTR_NOT_NULL_FATAL(order);
    fill_matrix(&matrix.matrix, state, gamma);
    CU_ASSERT_EQUAL(gsl_linalg_LU_decomp(&matrix.matrix, order, &sign), 0);
    for (int place = 0; place < STATE_COUNT; place++) {
        // behind a closed valve the flow stands still at the corner of the power's curve
        if (place != AT_FLOW || mode.branch[0].valve_open) {
            check_column(&matrix.matrix, order, state, gamma, place);
        }
    }
    gsl_permutation_free(order);
}

/* At rest, on the curve, past its end, running down, and flowing back a little. */
static void check_states(void)
{
    static const double speeds[] = {0.97, 1, 0.4, 0.02, 0.6};
    static const double flows[] = {3.3e-4, 7.1e-4, 6.5e-4, 2.2e-4, -1e-5};
    double state[STATE_COUNT];

    for (size_t i = 0; i < COUNT(speeds); i++) {
        set_state(state, speeds[i], flows[i]);
        check_state(state, 2e-4);
        check_state(state, 0.03);
        check_state(state, 4);
    }
}

static void the_correction_is_that_of_a_dense_solver(void)
{
    for (int supply = 0; supply < SUPPLIES; supply++) {
        for (int gas = 0; gas < GASES; gas++) {
            build(supply, gas, 1);
            for (int bits = 0; bits < MODES; bits++) {
                set_mode(bits);
                check_states();
            }
        }
    }
}

static void leaks_of_every_exponent(void)
{
    for (int leak = 0; leak < LEAKS; leak++) {
        build(PD_SUPPLY_CISTERN, PD_GAS_THERMAL, leak);
        set_mode(1 | 2 | 4);
        check_states();
        set_mode(4);
        check_states();
        build(PD_SUPPLY_MAIN, PD_GAS_POLYTROPIC, leak);
        set_mode(4);
        check_states();
    }
}

/* Small pressures at the tap, the leak and the seat: the smoothed part of the power law. */
static void small_pressures(void)
{
    double state[STATE_COUNT];

    build(PD_SUPPLY_MAIN, PD_GAS_THERMAL, 4);
    set_mode(0);
    set_state(state, 0.02, 0);
    state[AT_PRESSURE] = plant.zone[0].elevation_pressure + 220;
    check_state(state, 0.1);
    state[AT_PRESSURE] = 310;
    check_state(state, 0.1);
    // the supply's line stands at 2.085 bar then, and the pump, nearly at rest, adds 160 Pa
    set_mode(4);
    state[AT_PRESSURE] = 2.1e5 - 3 * 500 + 400;
    check_state(state, 0.1);
}

/* The float valve wide open, throttling and shut. */
static void the_float_valve(void)
{
    double state[STATE_COUNT], rate[STATE_COUNT];

    build(PD_SUPPLY_CISTERN, PD_GAS_ISOTHERMAL, 1);
    set_mode(4);
    static const double levels[] = {1.5, 1.96, 1.99, 2.01};
    static const double parts[] = {1, 0.8, 0.2, 0};
    for (size_t i = 0; i < COUNT(levels); i++) {
        set_state(state, 0.02, 0);
        state[AT_LEVEL] = levels[i];
        CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
        CU_ASSERT(within(rate[AT_LEVEL] * 0.4 + rate[AT_SUPPLIED], 1e-4 * parts[i], 1e-13));
        check_state(state, 30);
    }
}

/* The branch by hand: inertia times acceleration is what is left over of the pressures. */
static void the_branch_speeds_up_by_what_is_left_over(void)
{
    double state[STATE_COUNT], rate[STATE_COUNT], by_flow, by_speed;
    double q = 4.4e-4, s = 0.93;

    build(PD_SUPPLY_WELL, PD_GAS_ISOTHERMAL, 0);
    set_mode(1 | 2 | 4);
    set_state(state, s, q);
    CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
    double rho = plant.water.density, pipe = pi * 0.026 * 0.026 / 4, valve = pi * 0.025 * 0.025 / 4;
    double reynolds = rho * q / pipe * 0.026 / plant.water.viscosity;
    double friction = pd_friction_factor(reynolds, scenario.value[PD_SERVICE_ROUGHNESS] / 0.026);
    double service = (friction * 23 / 0.026 + 4) * rho * pow(q / pipe, 2) / 2;
    double rise = pd_pump_rise(&plant.branch[0].pump, q, s, &by_flow, &by_speed);
    // the line as the mode has it, 500 s after its beginning; the well is drawn down by the flow
    double supply = 2.1e5 - 3 * 500 - rho * 9.80665 * q / 3e-4;
    double left = supply - service + rise - 1500 - 3 * rho * pow(q / valve, 2) / 2 - 2.9e5;
    CU_ASSERT(near(rate[AT_FLOW] * rho * 23 / pipe, left, 1e-6));
    // a first-order lag that has 1/20 left after the run-up time of 0.8 s
    CU_ASSERT(near(circuit_speed(&circuit, &mode, 0, 1500), s, 1e-15));
    CU_ASSERT(near(1 - circuit_speed(&circuit, &mode, 0, 1500.8), (1 - s) / 20, 1e-9));
    CU_ASSERT_EQUAL(circuit_speed(&circuit, &mode, 0, 1600), 1);
    CU_ASSERT_EQUAL(rate[AT_SUPPLIED], q);
    CU_ASSERT(near(rate[AT_ENERGY], pd_pump_power(&plant.branch[0].pump, q, NULL), 1e-12));
    // at the inlet losses and inertia are gone; and the pump would add up to the header from there
    double losses = service + 1500 + 3 * rho * pow(q / valve, 2) / 2;
    double suction = circuit_suction(&circuit, &mode, 0, 1500, state);
    CU_ASSERT(near(suction, supply - losses - rate[AT_FLOW] * rho * 23 / pipe, 1e-6));
    CU_ASSERT(near(suction + rise, 2.9e5, 1e-9));
    // drawing air the pump adds nothing; off, it draws no power and runs down
    mode.supply_dry = true;
    mode_switch_pump(&circuit, &mode, 0, false, 1500);
    CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
    CU_ASSERT(near(rate[AT_FLOW] * rho * 23 / pipe, left - rise, 1e-6));
    CU_ASSERT(near(circuit_speed(&circuit, &mode, 0, 1500.8), s / 20, 1e-9));
    // switched on again on its way down, it goes on from there
    mode_switch_pump(&circuit, &mode, 0, true, 1500.8);
    CU_ASSERT(near(circuit_speed(&circuit, &mode, 0, 1500.8), s / 20, 1e-9));
    CU_ASSERT(near(1 - circuit_speed(&circuit, &mode, 0, 1501.6), (1 - s / 20) / 20, 1e-9));
    mode_switch_pump(&circuit, &mode, 0, false, 1501.6);
    CU_ASSERT_EQUAL(rate[AT_ENERGY], 0);
}

/* A pump that would draw its inlet under the pressure at which water boils adds no more than brings
 * it there; nor does it open the valve against more than that. */
static void the_inlet_falls_no_lower_than_boiling(void)
{
    double state[STATE_COUNT], rate[STATE_COUNT];

    build(PD_SUPPLY_WELL, PD_GAS_ISOTHERMAL, 0);
    set_mode(1 | 2 | 4);
    set_state(state, 1, 1e-4);
    // 1402 Pa at 12 degC by the steam tables (value from memory), at 300 m by ISO 2533
    double boiling = 1402 - 101325 * pow(1 - 0.0065 * 300 / 288.15, 5.25588);
    state[AT_PRESSURE] = 2e5;
    mode.supply_value = -3e4;
    mode.supply_slope = 0;
    CU_ASSERT(within(circuit_suction(&circuit, &mode, 0, 1500, state), boiling, 10));
    CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
    double slope;
    double valve = plant.branch[0].valve_coefficient * 1e-8;
    double left = -3e4 - plant.well_drawdown * 1e-4 -
                  pd_loss_table_at(&plant.branch[0].service, 1e-4, &slope) - valve - 1500 - boiling;
    CU_ASSERT(within(rate[AT_FLOW] * plant.branch[0].inertance, left, 10));
    check_state(state, 0.03);
    // shut, with so little supply that not even boiling water at the inlet lifts the valve
    set_mode(1 | 4);
    mode.supply_slope = 0;
    mode.supply_value = boiling + 1400;
    state[AT_FLOW] = 0;
    CU_ASSERT(within(circuit_across(&circuit, &mode, 0, 1500, state), 1400, 10));
    mode.supply_value = boiling + 1600;
    CU_ASSERT(circuit_across(&circuit, &mode, 0, 1500, state) > plant.branch[0].valve_opening);
}

/* Taps, leak and seat by hand. */
static void what_leaves_the_header(void)
{
    double state[STATE_COUNT], rate[STATE_COUNT];

    build(PD_SUPPLY_MAIN, PD_GAS_ISOTHERMAL, 4);
    set_mode(4);
    set_state(state, 0, 0);
    CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
    double k = 25e3 / 3.6e-7, lift = plant.water.density * 9.80665 * 4;
    double tap = (2.9e5 - lift) / (1 + k * 1.6e-13);
    CU_ASSERT(near(circuit_tap_pressure(&circuit, &mode, 0, state), tap, 1e-12));
    // the pipe takes k Q^2 of the header's pressure
    CU_ASSERT(near(tap + k * pow(rate[AT_DELIVERED], 2) + lift, 2.9e5, 1e-12));
    CU_ASSERT(near(rate[AT_DELIVERED], 4e-7 * sqrt(tap), 1e-12));
    CU_ASSERT(near(rate[AT_SIGMA], sqrt(tap), 1e-12));
    CU_ASSERT(near(rate[AT_LEAKED], 2e-5 * pow(2.9 / 3, 1.15), 1e-12));
    double across = 2.9e5 - (2.1e5 - 3 * 500);
    CU_ASSERT(near(rate[AT_SUPPLIED], -3e-5 * sqrt(across / 1e5), 1e-12));
    // the pump at speed presses against the seat, so nothing leaks by
    mode.branch[0].speed_then = 1;
    CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
    CU_ASSERT_EQUAL(rate[AT_SUPPLIED], 0);
}

/* Gas volume after a short time along the rates, less the same before, over the time. */
static double gas_volume_rate(const double state[STATE_COUNT], const double rate[STATE_COUNT])
{
    double dt = 1e-3, volume[2];

    for (int i = 0; i < 2; i++) {
        double t = (i - 0.5) * dt;
        volume[i] = pd_tank_gas_volume(
            &circuit.tank, state[AT_PRESSURE] + t * rate[AT_PRESSURE] + plant.atmosphere,
            state[AT_TEMPERATURE] + t * rate[AT_TEMPERATURE]);
    }
    return (volume[1] - volume[0]) / dt;
}

/* Water that comes in and does not go out squeezes the gas and widens the pipe; thermal gas warms
 * by the work and cools to the wall: dT/dt = -(gamma - 1)(T/V) dV/dt - (T - T_wall)/tau. */
static void the_tank_takes_what_is_left(void)
{
    double state[STATE_COUNT], rate[STATE_COUNT];

    for (int gas = 0; gas < GASES; gas++) {
        build(PD_SUPPLY_MAIN, gas, 2);
        for (int bits = 4; bits < 8; bits++) {
            set_mode(bits);
            set_state(state, 0.9, 5e-4);
            CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
            double left = rate[AT_SUPPLIED] - rate[AT_DELIVERED] - rate[AT_LEAKED];
            double squeeze = gas_volume_rate(state, rate);
            CU_ASSERT(near(plant.pipe_compliance * rate[AT_PRESSURE] - squeeze, left, 1e-6));
            double volume = pd_tank_gas_volume(&circuit.tank, 2.9e5 + plant.atmosphere, 291);
            double warming = -0.4 * 291 / volume * squeeze - (291 - 285.15) / 30;
            CU_ASSERT(within(rate[AT_TEMPERATURE], gas == PD_GAS_THERMAL ? warming : 0, 1e-6));
        }
    }
}

/* An empty tank gives nothing: the pipe alone takes the water, and the gas only cools. */
static void an_empty_tank_is_stiff(void)
{
    double state[STATE_COUNT], rate[STATE_COUNT];

    build(PD_SUPPLY_MAIN, PD_GAS_THERMAL, 2);
    set_mode(1 | 2);
    set_state(state, 0.9, 5e-4);
    CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
    double left = rate[AT_SUPPLIED] - rate[AT_DELIVERED] - rate[AT_LEAKED];
    CU_ASSERT(near(plant.pipe_compliance * rate[AT_PRESSURE], left, 1e-9));
    CU_ASSERT(near(rate[AT_TEMPERATURE], -(291 - 285.15) / 30, 1e-9));
    // empty at its precharge, by the temperature of its gas
    double precharge = 1.6e5 + plant.atmosphere;
    double empty = precharge * 291 / 285.15 - plant.atmosphere;
    CU_ASSERT(within(circuit_over_empty(&circuit, state), state[AT_PRESSURE] - empty, 1e-6));
}

/* What is stored grows as the rates say, with water in the tank and without. */
static void stored_water_is_the_sum_of_flows(void)
{
    double dt = 1e-3, state[STATE_COUNT], rate[STATE_COUNT], before[STATE_COUNT],
           after[STATE_COUNT];

    for (int gas = 0; gas < GASES; gas++) {
        build(PD_SUPPLY_MAIN, gas, 1);
        for (int bits = 0; bits < 8; bits++) {
            set_mode(bits);
            set_state(state, 0.9, 5e-4);
            CU_ASSERT_FATAL(circuit_rates(&circuit, &mode, 1500, state, rate));
            for (int i = 0; i < STATE_COUNT; i++) {
                before[i] = state[i] - 0.5 * dt * rate[i];
                after[i] = state[i] + 0.5 * dt * rate[i];
            }
            double grown =
                circuit_stored(&circuit, &mode, after) - circuit_stored(&circuit, &mode, before);
            double left = rate[AT_SUPPLIED] - rate[AT_DELIVERED] - rate[AT_LEAKED];
            CU_ASSERT(near(grown / dt, left, 1e-6));
        }
    }
}

/* Where the valve opens: supply and pump at no flow over the header. */
static void the_valve_s_balance(void)
{
    double state[STATE_COUNT];

    build(PD_SUPPLY_CISTERN, PD_GAS_ISOTHERMAL, 1);
    set_mode(4);
    set_state(state, 0.5, 0);
    double weight = plant.water.density * 9.80665;
    double wanted = weight * 1.97 + 0.25 * weight * 42 - 2.9e5;
    CU_ASSERT(near(circuit_across(&circuit, &mode, 0, 1500, state), wanted, 1e-9));
    CU_ASSERT(near(circuit_suction(&circuit, &mode, 0, 1500, state), weight * 1.97, 1e-12));
    mode.supply_dry = true;
    wanted -= 0.25 * weight * 42;
    CU_ASSERT(near(circuit_across(&circuit, &mode, 0, 1500, state), wanted, 1e-9));
}

/* A gas without pressure or heat is refused, but only where there is water round it. */
static void states_that_cannot_be(void)
{
    double state[STATE_COUNT], rate[STATE_COUNT], known[STATE_COUNT] = {0};

    build(PD_SUPPLY_MAIN, PD_GAS_THERMAL, 1);
    set_mode(4);
    set_state(state, 0, 0);
    state[AT_PRESSURE] = -plant.atmosphere;
    CU_ASSERT_FALSE(circuit_rates(&circuit, &mode, 0, state, rate));
    CU_ASSERT_FALSE(circuit_correct(&circuit, &mode, 0, state, 1, known, rate));
    set_state(state, 0, 0);
    state[AT_TEMPERATURE] = 0;
    CU_ASSERT_FALSE(circuit_rates(&circuit, &mode, 0, state, rate));
    mode.tank_wet = false;
    CU_ASSERT(circuit_rates(&circuit, &mode, 0, state, rate));
}

void suite_circuit(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("circuit", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, the_correction_is_that_of_a_dense_solver);
    CU_ADD_TEST(suite, leaks_of_every_exponent);
    CU_ADD_TEST(suite, small_pressures);
    CU_ADD_TEST(suite, the_float_valve);
    CU_ADD_TEST(suite, the_branch_speeds_up_by_what_is_left_over);
    CU_ADD_TEST(suite, the_inlet_falls_no_lower_than_boiling);
    CU_ADD_TEST(suite, what_leaves_the_header);
    CU_ADD_TEST(suite, the_tank_takes_what_is_left);
    CU_ADD_TEST(suite, an_empty_tank_is_stiff);
    CU_ADD_TEST(suite, stored_water_is_the_sum_of_flows);
    CU_ADD_TEST(suite, the_valve_s_balance);
    CU_ADD_TEST(suite, states_that_cannot_be);
}
