/* Integrates header pressure and gas temperature alone; the flow is given. */
#include "evidence/gas.h"

#include "evidence/scene.h"

#include <CUnit/CUnit.h>
#include <math.h>

static const double pi = 3.14159265358979323846;
static const double tank_volume = 24e-3;

void gas_begin(struct gas *gas, double time_constant, double pressure)
{
    struct pd_error error = {.code = PD_DONE};
    struct scene scene;

    scene_ideal(&scene, tank_volume, 2 * scene_bar, 2 * scene_bar, 4 * scene_bar);
    scene_constant_pump(&scene, scene_litre, 0);
    *gas = (struct gas){.scenario = scene.scenario};
    gas->scenario.value[PD_TANK_GAS] = PD_GAS_THERMAL;
    gas->scenario.value[PD_TANK_TIME_CONSTANT] = time_constant;
    gas->scenario.value[PD_HOUSE_PIPE_LENGTH] = 0;
    CU_ASSERT_FATAL(pd_plant_build(&gas->scenario, &gas->plant, &error));
    gas->circuit = circuit_of(&gas->plant, 2 * scene_bar);
    gas->mode = (struct mode){.branch[0].valve_open = true, .tank_wet = true};
    mode_set_demand(&gas->mode, &gas->plant, 0, 0);
    gas->state[AT_PRESSURE] = pressure;
    gas->state[AT_TEMPERATURE] = gas->plant.tank.wall_temperature;
}

void gas_free(struct gas *gas)
{
    pd_plant_free(&gas->plant);
}

double gas_pressure(const struct gas *gas)
{
    return gas->state[AT_PRESSURE] + gas->plant.atmosphere;
}

double gas_volume(const struct gas *gas)
{
    return pd_tank_gas_volume(&gas->circuit.tank, gas_pressure(gas), gas->state[AT_TEMPERATURE]);
}

/* Rates of pressure and temperature some way along given rates. */
static void rates_at(const struct gas *gas, double flow, double after, const double along[2],
                     double rate[2])
{
    double state[STATE_COUNT], all[STATE_COUNT];

    for (int i = 0; i < STATE_COUNT; i++) {
        state[i] = gas->state[i];
    }
    state[AT_FLOW] = flow + gas->amplitude * cos(gas->omega * (gas->time + after));
    state[AT_PRESSURE] += after * along[0];
    state[AT_TEMPERATURE] += after * along[1];
    // a state that is not physical spoils every number that follows
    bool good = circuit_rates(&gas->circuit, &gas->mode, 0, state, all);
    rate[0] = good ? all[AT_PRESSURE] : (double)NAN;
    rate[1] = good ? all[AT_TEMPERATURE] : (double)NAN;
}

/* One step of the classical fourth order. */
static void step(struct gas *gas, double flow, double seconds)
{
    double k1[2], k2[2], k3[2], k4[2];

    rates_at(gas, flow, 0, (const double[2]){0, 0}, k1);
    rates_at(gas, flow, seconds / 2, k1, k2);
    rates_at(gas, flow, seconds / 2, k2, k3);
    rates_at(gas, flow, seconds, k3, k4);
    gas->state[AT_PRESSURE] += seconds / 6 * (k1[0] + 2 * k2[0] + 2 * k3[0] + k4[0]);
    gas->state[AT_TEMPERATURE] += seconds / 6 * (k1[1] + 2 * k2[1] + 2 * k3[1] + k4[1]);
    gas->time += seconds;
}

void gas_fill(struct gas *gas, double flow, double seconds, int steps)
{
    for (int i = 0; i < steps; i++) {
        step(gas, flow, seconds / steps);
    }
}

void gas_fill_to(struct gas *gas, double flow, double pressure)
{
    double seconds = 1e-2;

    // whole steps, and the last one again and again in shrinking parts
    while (seconds > 1e-12) {
        struct gas before = *gas;
        step(gas, flow, seconds);
        if ((gas->state[AT_PRESSURE] - pressure) * flow > 0) {
            *gas = before;
            seconds /= 4;
        }
    }
}

double complex gas_exponent(double omega_tau)
{
    const double tau = 10, smallness = 1e-4;
    const int steps = 400, periods = 40;
    double complex pressure = 0, volume = 0;
    double mean_pressure = 0, mean_volume = 0;
    struct gas gas;

    gas_begin(&gas, tau, 2.5 * scene_bar);
    gas.omega = omega_tau / tau;
    gas.amplitude = smallness * gas_volume(&gas) * gas.omega;
    double period = 2 * pi / gas.omega;
    // short periods need many of them until the start is forgotten
    for (double settled = 0; settled < fmax(30 * tau, period); settled += period) {
        gas_fill(&gas, 0, period, steps);
    }
    for (int i = 0; i < periods * steps; i++) {
        double angle = gas.omega * gas.time;
        double complex turn = CMPLX(cos(angle), -sin(angle));
        pressure += gas_pressure(&gas) * turn;
        volume += gas_volume(&gas) * turn;
        mean_pressure += gas_pressure(&gas);
        mean_volume += gas_volume(&gas);
        step(&gas, 0, period / steps);
    }
    gas_free(&gas);
    return -(pressure / mean_pressure) / (volume / mean_volume);
}
