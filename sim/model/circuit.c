/* Hides the algebra of the branch, the header and the tank.  Every rate and every partial
 * derivative comes from one evaluation, so that the Jacobian cannot drift from the equations. */
#include "model/circuit_terms.h"

#include <math.h>

/* the float valve of a cistern throttles over its last 50 mm: an ordinary ball valve's travel,
 * common practice, no source */
static const double float_travel = 0.05;

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

void mode_set_demand(struct mode *mode, const struct pd_plant *plant, size_t i, double demand)
{
    mode->zone[i].demand = demand;
    mode->zone[i].tap_scale = 1.0 / (1.0 + plant->zone[i].loss_coefficient * demand * demand);
}

/* After so many time constants nothing is left of the old speed in sixteen digits. */
static const double settled = 40.0;

double circuit_speed(const struct circuit *circuit, const struct mode *mode, size_t i, double time)
{
    const struct branch_mode *now = &mode->branch[i];
    double target = now->pump_on ? 1.0 : 0.0;
    double gone = (time - now->speed_since) / circuit->plant->branch[i].speed_time_constant;

    return gone > settled ? target : target + (now->speed_then - target) * exp(-gone);
}

void mode_switch_pump(const struct circuit *circuit, struct mode *mode, size_t i, bool on,
                      double time)
{
    mode->branch[i].speed_then = circuit_speed(circuit, mode, i, time);
    mode->branch[i].speed_since = time;
    mode->branch[i].pump_on = on;
}

/* What all branches draw. */
static double branches_flow(const double state[STATE_COUNT])
{
    double flow = state[AT_FLOW];

    for (size_t i = 1; i < PD_BRANCHES_MOST; i++) {
        flow += state[AT_FLOW + i];
    }
    return flow;
}

double circuit_supply(const struct circuit *circuit, const struct mode *mode, double time,
                      const double state[STATE_COUNT])
{
    const struct pd_plant *plant = circuit->plant;

    if (plant->level_moves) {
        return plant->specific_weight * state[AT_LEVEL];
    }
    double line = mode->supply_value + mode->supply_slope * (time - mode->supply_time);
    double drawn = plant->well_drawdown > 0.0 ? fmax(branches_flow(state), 0.0) : 0.0;
    return line - (plant->well_drawdown + plant->well_loss * drawn) * drawn;
}

/* Rise of a pump; none while it draws air. */
static double pump_rise(const struct circuit *circuit, const struct mode *mode, size_t i,
                        double time, double flow, double *by_flow)
{
    double by_speed;

    if (mode->supply_dry) {
        *by_flow = 0.0;
        return 0.0;
    }
    return pd_pump_rise(&circuit->plant->branch[i].pump, flow,
                        circuit_speed(circuit, mode, i, time), by_flow, &by_speed);
}

/* No flow changes while the valve is shut, so that only heights and the pump tell. */
static inline struct inlet inlet_at(const struct circuit *circuit, const struct mode *mode,
                                    size_t i, double time, double flow,
                                    const double state[STATE_COUNT])
{
    double by_flow;
    double rise = pump_rise(circuit, mode, i, time, flow, &by_flow);
    struct inlet inlet = {state[AT_PRESSURE] - rise, -by_flow, 1.0};

    if (inlet.pressure < circuit->plant->branch[i].boiling) {
        inlet = (struct inlet){circuit->plant->branch[i].boiling, 0.0, 0.0};
    }
    return inlet;
}

struct inlet circuit_inlet(const struct circuit *circuit, const struct mode *mode, size_t i,
                           double time, double flow, const double state[STATE_COUNT])
{
    const struct pd_branch *branch = &circuit->plant->branch[i];
    double by_flow;

    if (branch->rising_share <= 0.0 || !mode->branch[i].valve_open) {
        return inlet_at(circuit, mode, i, time, flow, state);
    }
    double rise = pump_rise(circuit, mode, i, time, flow, &by_flow);
    double supply = circuit_supply(circuit, mode, time, state);
    return circuit_inlet_long(branch, supply, state[AT_PRESSURE], flow, rise, by_flow);
}

double circuit_tap_pressure(const struct circuit *circuit, const struct mode *mode, size_t i,
                            const double state[STATE_COUNT])
{
    return (state[AT_PRESSURE] - circuit->plant->zone[i].elevation_pressure) *
           mode->zone[i].tap_scale;
}

double circuit_house_flow(const struct circuit *circuit, const struct mode *mode, size_t i,
                          const double state[STATE_COUNT])
{
    double slope;
    return mode->zone[i].demand *
           pd_smooth_power(circuit_tap_pressure(circuit, mode, i, state), 0.5, &slope);
}

static void add_float_valve(const struct pd_plant *plant, double level, struct terms *terms)
{
    double short_of_full = (plant->supply_level - level) / float_travel;

    terms->refill = plant->cistern_refill * fmin(fmax(short_of_full, 0.0), 1.0);
    if (short_of_full > 0.0 && short_of_full < 1.0) {
        terms->refill_by_level = -plant->cistern_refill / float_travel;
    }
}

/* The ground gives what drawdown = B Q + C Q^2 says; out of an overfull casing it takes by B alone.
 * Source: C. E. Jacob, Drawdown test to determine effective radius of artesian well, Trans. ASCE
 * 112, 1947. */
static void add_aquifer(const struct pd_plant *plant, double level, struct terms *terms)
{
    double short_of_full = plant->specific_weight * (plant->supply_level - level);
    double per_flow = plant->well_drawdown, per_square = plant->well_loss;
    double root = per_square > 0.0 && short_of_full > 0.0
                      ? sqrt(per_flow * per_flow + 4.0 * per_square * short_of_full)
                      : per_flow;

    // the root of the quadratic, in the form that holds for C = 0 too
    terms->refill = 2.0 * short_of_full / (per_flow + root);
    terms->refill_by_level = -plant->specific_weight / root;
}

/* The supply pressure, the well's drawdown, and what flows into cistern or casing. */
static void add_supply(const struct circuit *circuit, const struct mode *mode, double time,
                       const double state[STATE_COUNT], struct terms *terms)
{
    const struct pd_plant *plant = circuit->plant;

    terms->supply = circuit_supply(circuit, mode, time, state);
    double drawn = plant->well_drawdown > 0.0 ? branches_flow(state) : 0.0;
    terms->supply_by_flow = drawn > 0.0 && !plant->level_moves
                                ? -plant->well_drawdown - 2.0 * plant->well_loss * drawn
                                : 0.0;
    terms->supply_by_level = 0.0;
    terms->refill = 0.0;
    terms->refill_by_level = 0.0;
    if (plant->level_moves) {
        terms->supply_by_level = plant->specific_weight;
        if (plant->supply_kind == PD_SUPPLY_WELL) {
            add_aquifer(plant, state[AT_LEVEL], terms);
        } else {
            add_float_valve(plant, state[AT_LEVEL], terms);
        }
    }
}

/* Flow through the open valve speeds up by what is left of the supply's pressure over all losses
 * and that at the inlet. */
static void add_open_branch(const struct circuit *circuit, const struct mode *mode, size_t i,
                            double time, const double state[STATE_COUNT], struct terms *terms)
{
    const struct pd_branch *branch = &circuit->plant->branch[i];
    struct branch_terms *out = &terms->branch[i];
    double flow = state[AT_FLOW + i];
    double service_slope;
    double service = pd_loss_table_at(&branch->service, flow, &service_slope);
    struct inlet inlet = inlet_at(circuit, mode, i, time, flow, state);
    double valve = branch->valve_coefficient * fabs(flow);
    double per_inertance = 1.0 / branch->inertance;

    out->rate = (terms->supply - service - branch->valve_opening - valve * flow - inlet.pressure) *
                per_inertance;
    out->rate_by_flow =
        (terms->supply_by_flow - service_slope - inlet.by_flow - 2.0 * valve) * per_inertance;
    out->rate_by_pressure = -inlet.by_header * per_inertance;
    out->rate_by_level = terms->supply_by_level * per_inertance;
}

/* A worn seat lets water back while the valve is shut. */
static void add_leak_by(const struct circuit *circuit, const struct mode *mode, size_t i,
                        double time, const double state[STATE_COUNT], struct terms *terms)
{
    struct branch_terms *out = &terms->branch[i];
    double by_flow, slope;
    double rise = pump_rise(circuit, mode, i, time, 0.0, &by_flow);
    double back = state[AT_PRESSURE] - rise - terms->supply;
    double leak_by = circuit->plant->branch[i].valve_leak_by;

    out->back = leak_by * pd_smooth_power(back, 0.5, &slope);
    out->back_by_pressure = leak_by * slope;
    out->back_by_level = -out->back_by_pressure * terms->supply_by_level;
}

static void add_branch(const struct circuit *circuit, const struct mode *mode, size_t i,
                       double time, const double state[STATE_COUNT], struct terms *terms)
{
    const struct pd_branch *branch = &circuit->plant->branch[i];
    const struct branch_mode *now = &mode->branch[i];
    struct branch_terms *out = &terms->branch[i];

    *out = (struct branch_terms){0};
    if (now->valve_open && branch->rising_share > 0.0) {
        struct inlet inlet = circuit_inlet(circuit, mode, i, time, state[AT_FLOW + i], state);
        circuit_open_long(branch, &inlet, state[AT_FLOW + i], terms, out);
    } else if (now->valve_open) {
        add_open_branch(circuit, mode, i, time, state, terms);
    } else if (branch->valve_leak_by > 0.0) {
        add_leak_by(circuit, mode, i, time, state, terms);
    }
    if (now->pump_on) {
        out->power = pd_pump_power(&branch->pump, state[AT_FLOW + i], &out->power_by_flow);
    }
}

static void add_zone(const struct circuit *circuit, const struct mode *mode, size_t i,
                     const double state[STATE_COUNT], struct terms *terms)
{
    double slope;

    terms->zone[i].root =
        pd_smooth_power(circuit_tap_pressure(circuit, mode, i, state), 0.5, &slope);
    terms->zone[i].root_by_pressure = slope * mode->zone[i].tap_scale;
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
    double per_compliance = 1.0 / (plant->pipe_compliance + tank);
    double inflow = 0.0, back_by_pressure = 0.0, taps = 0.0, taps_by_pressure = 0.0;
    for (size_t i = 0; i < PD_BRANCHES_MOST; i++) {
        inflow += mode->branch[i].valve_open ? state[AT_FLOW + i] : -terms->branch[i].back;
        back_by_pressure += terms->branch[i].back_by_pressure;
    }
    for (size_t i = 0; i < PD_ZONES_MOST; i++) {
        taps += mode->zone[i].demand * terms->zone[i].root;
        taps_by_pressure += mode->zone[i].demand * terms->zone[i].root_by_pressure;
    }

    terms->compliance = tank;
    terms->pressure_rate = (inflow - taps - terms->leak - terms->heat) * per_compliance;
    terms->pressure_rate_by_pressure =
        (-back_by_pressure - taps_by_pressure - terms->leak_by_pressure + terms->heat / absolute -
         terms->pressure_rate * tank_by_pressure) *
        per_compliance;
    terms->pressure_rate_by_temperature =
        (-terms->heat_by_temperature - terms->pressure_rate * tank_by_temperature) * per_compliance;
}

static void add_terms(const struct circuit *circuit, const struct mode *mode, double time,
                      const double state[STATE_COUNT], struct terms *terms)
{
    const struct pd_plant *plant = circuit->plant;
    double slope;

    add_supply(circuit, mode, time, state, terms);
    for (size_t i = 0; i < PD_BRANCHES_MOST; i++) {
        add_branch(circuit, mode, i, time, state, terms);
    }
    for (size_t i = 0; i < PD_ZONES_MOST; i++) {
        add_zone(circuit, mode, i, state, terms);
    }
    terms->leak = 0.0;
    terms->leak_by_pressure = 0.0;
    if (plant->leak_coefficient > 0.0) {
        terms->leak = plant->leak_coefficient *
                      pd_smooth_power(state[AT_PRESSURE], plant->leak_exponent, &slope);
        terms->leak_by_pressure = plant->leak_coefficient * slope;
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
    rate[AT_ENERGY] = 0.0;
    rate[AT_SUPPLIED] = 0.0;
    for (size_t i = 0; i < PD_BRANCHES_MOST; i++) {
        const struct branch_terms *out = &terms->branch[i];
        rate[AT_FLOW + i] = out->rate;
        rate[AT_ENERGY] += out->power;
        rate[AT_SUPPLIED] += (mode->branch[i].valve_open ? state[AT_FLOW + i] : 0.0) - out->back;
    }
    rate[AT_LEVEL] =
        plant->level_moves ? (terms->refill - rate[AT_SUPPLIED]) / plant->cistern_area : 0.0;
    rate[AT_DELIVERED] = 0.0;
    for (size_t i = 0; i < PD_ZONES_MOST; i++) {
        rate[AT_SIGMA + i] = terms->zone[i].root;
        rate[AT_DELIVERED] += mode->zone[i].demand * terms->zone[i].root;
    }
    rate[AT_LEAKED] = terms->leak;
}

bool circuit_evaluate(const struct circuit *circuit, const struct mode *mode, double time,
                      const double state[STATE_COUNT], struct terms *terms,
                      double rate[STATE_COUNT])
{
    if (!physical(circuit, mode, state)) {
        return false;
    }
    add_terms(circuit, mode, time, state, terms);
    fill_rates(circuit, mode, state, terms, rate);
    return true;
}

bool circuit_rates(const struct circuit *circuit, const struct mode *mode, double time,
                   const double state[STATE_COUNT], double rate[STATE_COUNT])
{
    struct terms terms;

    return circuit_evaluate(circuit, mode, time, state, &terms, rate);
}
