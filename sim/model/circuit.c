/* Hides the algebra of the branch, the header and the tank.  Every rate and every partial
 * derivative comes from one evaluation, so that the Jacobian cannot drift from the equations. */
#include "model/circuit.h"

#include <math.h>

/* the float valve of a cistern throttles over its last 50 mm: an ordinary ball valve's travel,
 * common practice, no source */
static const double float_travel = 0.05;

/* All terms of the equations at one state.  `_by_x` is a partial derivative. */
struct terms {
    double supply, supply_by_flow, supply_by_level;
    double flow_rate, flow_rate_by_flow, flow_rate_by_pressure, flow_rate_by_level;
    double root, root_by_pressure; /* of the tap pressure */
    double leak, leak_by_pressure;
    double back, back_by_pressure, back_by_level; /* leak-by of the check valve */
    double refill, refill_by_level;
    double power, power_by_flow; /* electrical input of the motor */
    double compliance;
    double heat, heat_by_temperature; /* flow that the gas takes by cooling, m3/s */
    double pressure_rate, pressure_rate_by_pressure, pressure_rate_by_temperature;
};

struct circuit circuit_of(const struct pd_plant *plant, double precharge)
{
    struct circuit circuit = {.plant = plant, .tank = plant->tank};
    struct pd_tank *tank = &circuit.tank;

    tank->precharge = precharge + plant->atmosphere;
    if (tank->gas == PD_GAS_POLYTROPIC) {
        circuit.gas_constant = tank->volume * pow(tank->precharge, 1.0 / tank->exponent);
    } else {
        circuit.gas_constant = tank->volume * tank->precharge;
    }
    if (tank->gas == PD_GAS_THERMAL) {
        circuit.gas_constant /= tank->wall_temperature;
    }
    return circuit;
}

void mode_set_demand(struct mode *mode, const struct pd_plant *plant, double demand)
{
    mode->demand = demand;
    mode->tap_scale = 1.0 / (1.0 + plant->house_coefficient * demand * demand);
}

/* After so many time constants nothing is left of the old speed in sixteen digits. */
static const double settled = 40.0;

double circuit_speed(const struct circuit *circuit, const struct mode *mode, double time)
{
    double target = mode->pump_on ? 1.0 : 0.0;
    double gone = (time - mode->speed_since) / circuit->plant->speed_time_constant;

    return gone > settled ? target : target + (mode->speed_then - target) * exp(-gone);
}

void mode_switch_pump(const struct circuit *circuit, struct mode *mode, bool on, double time)
{
    mode->speed_then = circuit_speed(circuit, mode, time);
    mode->speed_since = time;
    mode->pump_on = on;
}

double circuit_supply(const struct circuit *circuit, const struct mode *mode, double time,
                      const double state[STATE_COUNT])
{
    const struct pd_plant *plant = circuit->plant;

    if (plant->level_moves) {
        return plant->specific_weight * state[AT_LEVEL];
    }
    double line = mode->supply_value + mode->supply_slope * (time - mode->supply_time);
    return line - plant->well_drawdown * fmax(state[AT_FLOW], 0.0);
}

/* Rise of the pump; none while it draws air. */
static double pump_rise(const struct circuit *circuit, const struct mode *mode, double time,
                        double flow, double *by_flow)
{
    double by_speed;

    if (mode->supply_dry) {
        *by_flow = 0.0;
        return 0.0;
    }
    return pd_pump_rise(&circuit->plant->pump, flow, circuit_speed(circuit, mode, time), by_flow,
                        &by_speed);
}

/* Pressure at the pump's inlet and its partial derivatives. */
struct inlet {
    double pressure, by_flow, by_header;
};

/* What the pump's rise leaves of the header's pressure, but for that at which water boils: a pump
 * that would leave less makes vapour and adds no more. */
static inline struct inlet inlet_at(const struct circuit *circuit, const struct mode *mode,
                                    double time, double flow, const double state[STATE_COUNT])
{
    double by_flow;
    double rise = pump_rise(circuit, mode, time, flow, &by_flow);
    struct inlet inlet = {state[AT_PRESSURE] - rise, -by_flow, 1.0};

    if (inlet.pressure < circuit->plant->boiling) {
        inlet = (struct inlet){circuit->plant->boiling, 0.0, 0.0};
    }
    return inlet;
}

double circuit_across(const struct circuit *circuit, const struct mode *mode, double time,
                      const double state[STATE_COUNT])
{
    return circuit_supply(circuit, mode, time, state) -
           inlet_at(circuit, mode, time, 0.0, state).pressure;
}

double circuit_suction(const struct circuit *circuit, const struct mode *mode, double time,
                       const double state[STATE_COUNT])
{
    return mode->valve_open ? inlet_at(circuit, mode, time, state[AT_FLOW], state).pressure
                            : circuit_supply(circuit, mode, time, state);
}

double circuit_suction_rate(const struct circuit *circuit, const struct mode *mode, double time,
                            const double state[STATE_COUNT], double flow_rate, double header_rate)
{
    const struct pd_plant *plant = circuit->plant;
    struct inlet inlet = inlet_at(circuit, mode, time, state[AT_FLOW], state);
    double speed = circuit_speed(circuit, mode, time);
    double by_flow, by_speed;

    // at boiling, and where the pump draws air, the speed has no say
    (void)pd_pump_rise(&plant->pump, state[AT_FLOW], speed, &by_flow, &by_speed);
    double speed_rate = ((mode->pump_on ? 1.0 : 0.0) - speed) / plant->speed_time_constant;
    return inlet.by_flow * flow_rate +
           inlet.by_header * (header_rate - (mode->supply_dry ? 0.0 : by_speed * speed_rate));
}

double circuit_tap_pressure(const struct circuit *circuit, const struct mode *mode,
                            const double state[STATE_COUNT])
{
    return (state[AT_PRESSURE] - circuit->plant->tap_elevation_pressure) * mode->tap_scale;
}

double circuit_house_flow(const struct circuit *circuit, const struct mode *mode,
                          const double state[STATE_COUNT])
{
    double slope;
    return mode->demand * pd_smooth_power(circuit_tap_pressure(circuit, mode, state), 0.5, &slope);
}

double circuit_over_empty(const struct circuit *circuit, const double state[STATE_COUNT])
{
    double absolute = state[AT_PRESSURE] + circuit->plant->atmosphere;
    return absolute - pd_tank_empty_pressure(&circuit->tank, state[AT_TEMPERATURE]);
}

double circuit_stored(const struct circuit *circuit, const struct mode *mode,
                      const double state[STATE_COUNT])
{
    double pipe = circuit->plant->pipe_compliance * state[AT_PRESSURE];

    if (!mode->tank_wet) {
        return pipe;
    }
    return pipe + pd_tank_water(&circuit->tank, state[AT_PRESSURE] + circuit->plant->atmosphere,
                                state[AT_TEMPERATURE]);
}

/* The supply pressure, the well's drawdown and the cistern's float valve. */
static void add_supply(const struct circuit *circuit, const struct mode *mode, double time,
                       const double state[STATE_COUNT], struct terms *terms)
{
    const struct pd_plant *plant = circuit->plant;

    terms->supply = circuit_supply(circuit, mode, time, state);
    terms->supply_by_flow = state[AT_FLOW] > 0.0 ? -plant->well_drawdown : 0.0;
    terms->supply_by_level = 0.0;
    terms->refill = 0.0;
    terms->refill_by_level = 0.0;
    if (plant->level_moves) {
        double short_of_full = (plant->supply_level - state[AT_LEVEL]) / float_travel;
        terms->supply_by_level = plant->specific_weight;
        terms->refill = plant->cistern_refill * fmin(fmax(short_of_full, 0.0), 1.0);
        if (short_of_full > 0.0 && short_of_full < 1.0) {
            terms->refill_by_level = -plant->cistern_refill / float_travel;
        }
    }
}

/* Flow through the open valve speeds up by what is left of the supply's pressure over all losses
 * and that at the inlet. */
static void add_open_branch(const struct circuit *circuit, const struct mode *mode, double time,
                            const double state[STATE_COUNT], struct terms *terms)
{
    const struct pd_plant *plant = circuit->plant;
    double flow = state[AT_FLOW];
    double service_slope;
    double service = pd_loss_table_at(&plant->service, flow, &service_slope);
    struct inlet inlet = inlet_at(circuit, mode, time, flow, state);
    double valve = plant->valve_coefficient * fabs(flow);
    double per_inertance = 1.0 / plant->inertance;

    terms->flow_rate =
        (terms->supply - service - plant->valve_opening - valve * flow - inlet.pressure) *
        per_inertance;
    terms->flow_rate_by_flow =
        (terms->supply_by_flow - service_slope - inlet.by_flow - 2.0 * valve) * per_inertance;
    terms->flow_rate_by_pressure = -inlet.by_header * per_inertance;
    terms->flow_rate_by_level = terms->supply_by_level * per_inertance;
}

/* A worn seat lets water back while the valve is shut. */
static void add_leak_by(const struct circuit *circuit, const struct mode *mode, double time,
                        const double state[STATE_COUNT], struct terms *terms)
{
    double by_flow, slope;
    double rise = pump_rise(circuit, mode, time, 0.0, &by_flow);
    double back = state[AT_PRESSURE] - rise - terms->supply;
    double leak_by = circuit->plant->valve_leak_by;

    terms->back = leak_by * pd_smooth_power(back, 0.5, &slope);
    terms->back_by_pressure = leak_by * slope;
    terms->back_by_level = -terms->back_by_pressure * terms->supply_by_level;
}

/* Compliance of the tank and the flow that its gas takes by giving heat to the wall. */
static double tank_compliance(const struct circuit *circuit, double absolute, double temperature,
                              struct terms *terms)
{
    const struct pd_tank *tank = &circuit->tank;
    double constant = circuit->gas_constant;

    switch (tank->gas) {
    case PD_GAS_ISOTHERMAL:
        return constant / (absolute * absolute);
    case PD_GAS_POLYTROPIC:
        return constant * pow(absolute, -1.0 / tank->exponent - 1.0) / tank->exponent;
    case PD_GAS_THERMAL:
        break;
    }
    terms->heat_by_temperature = constant / (PD_GAMMA * tank->time_constant * absolute);
    terms->heat = terms->heat_by_temperature * (temperature - tank->wall_temperature);
    return constant * temperature / (PD_GAMMA * absolute * absolute);
}

/* The header's balance of water. */
static void add_header(const struct circuit *circuit, const struct mode *mode,
                       const double state[STATE_COUNT], struct terms *terms)
{
    const struct pd_plant *plant = circuit->plant;
    double absolute = state[AT_PRESSURE] + plant->atmosphere;
    double tank = 0.0, tank_by_pressure = 0.0, tank_by_temperature = 0.0;

    terms->heat = 0.0;
    terms->heat_by_temperature = 0.0;
    if (mode->tank_wet) {
        tank = tank_compliance(circuit, absolute, state[AT_TEMPERATURE], terms);
        // V / (n p): V itself falls as p^(-1/n)
        double fall = circuit->tank.gas == PD_GAS_POLYTROPIC ? 1.0 / circuit->tank.exponent : 1.0;
        tank_by_pressure = -(1.0 + fall) * tank / absolute;
        tank_by_temperature =
            circuit->tank.gas == PD_GAS_THERMAL ? tank / state[AT_TEMPERATURE] : 0.0;
    }
    double inflow = mode->valve_open ? state[AT_FLOW] : -terms->back;
    double per_compliance = 1.0 / (plant->pipe_compliance + tank);

    terms->compliance = tank;
    terms->pressure_rate =
        (inflow - mode->demand * terms->root - terms->leak - terms->heat) * per_compliance;
    terms->pressure_rate_by_pressure =
        (-terms->back_by_pressure - mode->demand * terms->root_by_pressure -
         terms->leak_by_pressure + terms->heat / absolute -
         terms->pressure_rate * tank_by_pressure) *
        per_compliance;
    terms->pressure_rate_by_temperature =
        (-terms->heat_by_temperature - terms->pressure_rate * tank_by_temperature) * per_compliance;
}

static void evaluate(const struct circuit *circuit, const struct mode *mode, double time,
                     const double state[STATE_COUNT], struct terms *terms)
{
    const struct pd_plant *plant = circuit->plant;
    double slope;

    terms->flow_rate = 0.0;
    terms->flow_rate_by_flow = 0.0;
    terms->flow_rate_by_pressure = 0.0;
    terms->flow_rate_by_level = 0.0;
    terms->back = 0.0;
    terms->back_by_pressure = 0.0;
    terms->back_by_level = 0.0;
    terms->leak = 0.0;
    terms->leak_by_pressure = 0.0;
    terms->power = 0.0;
    terms->power_by_flow = 0.0;

    add_supply(circuit, mode, time, state, terms);
    if (mode->valve_open) {
        add_open_branch(circuit, mode, time, state, terms);
    } else if (plant->valve_leak_by > 0.0) {
        add_leak_by(circuit, mode, time, state, terms);
    }
    terms->root = pd_smooth_power(circuit_tap_pressure(circuit, mode, state), 0.5, &slope);
    terms->root_by_pressure = slope * mode->tap_scale;
    if (plant->leak_coefficient > 0.0) {
        terms->leak = plant->leak_coefficient *
                      pd_smooth_power(state[AT_PRESSURE], plant->leak_exponent, &slope);
        terms->leak_by_pressure = plant->leak_coefficient * slope;
    }
    if (mode->pump_on) {
        terms->power = pd_pump_power(&plant->pump, state[AT_FLOW], &terms->power_by_flow);
    }
    add_header(circuit, mode, state, terms);
}

/* A gas under no pressure or without heat: the step was too long. */
static bool physical(const struct circuit *circuit, const struct mode *mode,
                     const double state[STATE_COUNT])
{
    double absolute = state[AT_PRESSURE] + circuit->plant->atmosphere;
    return !mode->tank_wet || (absolute > 0.0 && state[AT_TEMPERATURE] > 0.0);
}

static void fill_rates(const struct circuit *circuit, const struct mode *mode,
                       const double state[STATE_COUNT], const struct terms *terms,
                       double rate[STATE_COUNT])
{
    const struct pd_plant *plant = circuit->plant;
    const struct pd_tank *tank = &circuit->tank;
    double absolute = state[AT_PRESSURE] + plant->atmosphere;

    rate[AT_FLOW] = terms->flow_rate;
    rate[AT_PRESSURE] = terms->pressure_rate;
    rate[AT_TEMPERATURE] = 0.0;
    if (tank->gas == PD_GAS_THERMAL) {
        double cooling = (state[AT_TEMPERATURE] - tank->wall_temperature) / tank->time_constant;
        rate[AT_TEMPERATURE] = mode->tank_wet
                                   ? (PD_GAMMA - 1.0) / PD_GAMMA * state[AT_TEMPERATURE] /
                                             absolute * terms->pressure_rate -
                                         cooling / PD_GAMMA
                                   : -cooling;
    }
    double inflow = (mode->valve_open ? state[AT_FLOW] : 0.0) - terms->back;
    rate[AT_LEVEL] = plant->level_moves ? (terms->refill - inflow) / plant->cistern_area : 0.0;
    rate[AT_SIGMA] = terms->root;
    rate[AT_ENERGY] = terms->power;
    rate[AT_SUPPLIED] = inflow;
    rate[AT_DELIVERED] = mode->demand * terms->root;
    rate[AT_LEAKED] = terms->leak;
}

bool circuit_rates(const struct circuit *circuit, const struct mode *mode, double time,
                   const double state[STATE_COUNT], double rate[STATE_COUNT])
{
    struct terms terms;

    if (!physical(circuit, mode, state)) {
        return false;
    }
    evaluate(circuit, mode, time, state, &terms);
    fill_rates(circuit, mode, state, &terms, rate);
    return true;
}

/* Eliminates the coupled part, in the order flow, pressure, temperature, level.  The diagonal
 * leads: each row is the unit matrix less gamma times a damped rate, so no pivot is looked for. */
static void eliminate(double a[4][4], double b[4])
{
    for (int k = 0; k < 4; k++) {
        for (int i = k + 1; i < 4; i++) {
            double ratio = a[i][k] / a[k][k];
            for (int j = k + 1; j < 4; j++) {
                a[i][j] -= ratio * a[k][j];
            }
            b[i] -= ratio * b[k];
        }
    }
    for (int i = 3; i >= 0; i--) {
        for (int j = i + 1; j < 4; j++) {
            b[i] -= a[i][j] * b[j];
        }
        b[i] /= a[i][i];
    }
}

/* Flow, pressure, temperature and level together, where the last two move. */
static void solve_wide(const struct circuit *circuit, const struct mode *mode,
                       const double state[STATE_COUNT], double gamma, const struct terms *terms,
                       double per_compliance, double b[STATE_COUNT])
{
    const struct pd_plant *plant = circuit->plant;
    const struct pd_tank *tank = &circuit->tank;
    double open = mode->valve_open ? 1.0 : 0.0;
    double follow = 0.0, settle = 0.0;

    // the gas temperature follows the pressure's rate and settles to the wall's
    if (tank->gas == PD_GAS_THERMAL && mode->tank_wet) {
        double absolute = state[AT_PRESSURE] + plant->atmosphere;
        double grip = (PD_GAMMA - 1.0) / PD_GAMMA / absolute;
        follow = grip * state[AT_TEMPERATURE];
        settle = grip * terms->pressure_rate - 1.0 / (PD_GAMMA * tank->time_constant);
        // the factor T/p changes with p too
        settle += follow * terms->pressure_rate_by_temperature;
    } else if (tank->gas == PD_GAS_THERMAL) {
        settle = -1.0 / tank->time_constant;
    }
    double p_by_flow = open * per_compliance;
    double p_by_level = -terms->back_by_level * per_compliance;
    double t_by_p = follow * terms->pressure_rate_by_pressure;
    if (follow > 0.0) {
        t_by_p -= follow * terms->pressure_rate / (state[AT_PRESSURE] + plant->atmosphere);
    }
    double per_area = plant->level_moves ? 1.0 / plant->cistern_area : 0.0;
    double a[4][4] = {
        {1.0 - gamma * terms->flow_rate_by_flow, -gamma * terms->flow_rate_by_pressure, 0.0,
         -gamma * terms->flow_rate_by_level},
        {-gamma * p_by_flow, 1.0 - gamma * terms->pressure_rate_by_pressure,
         -gamma * terms->pressure_rate_by_temperature, -gamma * p_by_level},
        {-gamma * follow * p_by_flow, -gamma * t_by_p, 1.0 - gamma * settle,
         -gamma * follow * p_by_level},
        {gamma * open * per_area, -gamma * terms->back_by_pressure * per_area, 0.0,
         1.0 - gamma * (terms->refill_by_level + terms->back_by_level) * per_area},
    };
    double x[4] = {b[AT_FLOW], b[AT_PRESSURE], b[AT_TEMPERATURE], b[AT_LEVEL]};
    eliminate(a, x);
    b[AT_FLOW] = x[0];
    b[AT_PRESSURE] = x[1];
    b[AT_TEMPERATURE] = x[2];
    b[AT_LEVEL] = x[3];
}

/* Solves (I - gamma J) x = b in place. */
static void solve(const struct circuit *circuit, const struct mode *mode,
                  const double state[STATE_COUNT], double gamma, const struct terms *terms,
                  double b[STATE_COUNT])
{
    const struct pd_plant *plant = circuit->plant;
    double per_compliance = 1.0 / (plant->pipe_compliance + terms->compliance);

    if (plant->level_moves || circuit->tank.gas == PD_GAS_THERMAL) {
        solve_wide(circuit, mode, state, gamma, terms, per_compliance, b);
    } else {
        double open = mode->valve_open ? per_compliance : 0.0;
        double flow = b[AT_FLOW], pressure = b[AT_PRESSURE];
        double a11 = 1.0 - gamma * terms->flow_rate_by_flow;
        double a12 = -gamma * terms->flow_rate_by_pressure;
        double a21 = -gamma * open;
        double a22 = 1.0 - gamma * terms->pressure_rate_by_pressure;
        double per_determinant = 1.0 / (a11 * a22 - a12 * a21);
        b[AT_FLOW] = (flow * a22 - pressure * a12) * per_determinant;
        b[AT_PRESSURE] = (a11 * pressure - a21 * flow) * per_determinant;
    }
    // the integrals follow from the rest
    double flow = mode->valve_open ? b[AT_FLOW] : 0.0;
    double back = terms->back_by_pressure * b[AT_PRESSURE] + terms->back_by_level * b[AT_LEVEL];
    double root = terms->root_by_pressure * b[AT_PRESSURE];
    b[AT_SIGMA] += gamma * root;
    b[AT_ENERGY] += gamma * terms->power_by_flow * b[AT_FLOW];
    b[AT_SUPPLIED] += gamma * (flow - back);
    b[AT_DELIVERED] += gamma * mode->demand * root;
    b[AT_LEAKED] += gamma * terms->leak_by_pressure * b[AT_PRESSURE];
}

bool circuit_correct(const struct circuit *circuit, const struct mode *mode, double time,
                     const double state[STATE_COUNT], double gamma, const double known[STATE_COUNT],
                     double correction[STATE_COUNT])
{
    struct terms terms;

    if (!physical(circuit, mode, state)) {
        return false;
    }
    evaluate(circuit, mode, time, state, &terms);
    fill_rates(circuit, mode, state, &terms, correction);
    for (int i = 0; i < STATE_COUNT; i++) {
        correction[i] = gamma * correction[i] - known[i];
    }
    solve(circuit, mode, state, gamma, &terms, correction);
    return true;
}
