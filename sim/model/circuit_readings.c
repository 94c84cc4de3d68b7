/* What a state means to a reader: pressures at the valve, the pump's inlet and the tank, water
 * held. */
#include "model/circuit_terms.h"

double circuit_across(const struct circuit *circuit, const struct mode *mode, size_t i, double time,
                      const double state[STATE_COUNT])
{
    return circuit_supply(circuit, mode, time, state) -
           circuit_inlet(circuit, mode, i, time, 0.0, state).pressure;
}

double circuit_suction(const struct circuit *circuit, const struct mode *mode, size_t i,
                       double time, const double state[STATE_COUNT])
{
    double at_gauge =
        mode->branch[i].valve_open
            ? circuit_inlet(circuit, mode, i, time, state[AT_FLOW + i], state).pressure
            : circuit_supply(circuit, mode, time, state);

    return at_gauge - circuit->plant->branch[i].height_pressure;
}

double circuit_suction_rate(const struct circuit *circuit, const struct mode *mode, size_t i,
                            double time, const double state[STATE_COUNT], double flow_rate,
                            double header_rate)
{
    const struct pd_plant *plant = circuit->plant;
    struct inlet inlet = circuit_inlet(circuit, mode, i, time, state[AT_FLOW + i], state);
    double speed = circuit_speed(circuit, mode, i, time);
    double by_flow, by_speed;

    // at boiling, and where the pump draws air, the speed has no say
    (void)pd_pump_rise(&plant->branch[i].pump, state[AT_FLOW + i], speed, &by_flow, &by_speed);
    double speed_rate =
        ((mode->branch[i].pump_on ? 1.0 : 0.0) - speed) / plant->branch[i].speed_time_constant;
    double by_supply = inlet.by_header > 0.0 ? plant->branch[i].rising_share : 0.0;
    double supply_rate = plant->level_moves ? 0.0 : mode->supply_slope; // a level moves slowly
    return inlet.by_flow * flow_rate + by_supply * supply_rate +
           inlet.by_header * (header_rate - (mode->supply_dry ? 0.0 : by_speed * speed_rate));
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
