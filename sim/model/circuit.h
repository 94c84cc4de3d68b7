/* The equations of motion of a plant with its tank charged: rates, and the linear system that an
 * implicit step solves.  Nothing here decides anything; a mode says what is on, open and wet. */
#ifndef PUMPDAY_CIRCUIT_H
#define PUMPDAY_CIRCUIT_H

#include <pumpday/plant.h>

/* Places in the state.  The first CORE_COUNT feed back into the rates; the rest are integrals, of
 * which those up to WATCHED_COUNT have a say in the length of a step. */
enum {
    AT_FLOW,                                  /* flow of the first branch, m3/s */
    AT_PRESSURE = AT_FLOW + PD_BRANCHES_MOST, /* header pressure, Pa gauge */
    AT_TEMPERATURE,                           /* tank gas, K */
    AT_LEVEL,                                 /* cistern level over the pump, m */
    CORE_COUNT,
    AT_SUPPLIED = CORE_COUNT, /* in from the supply, m3 */
    AT_DELIVERED,             /* out of the taps, m3 */
    WATCHED_COUNT,
    AT_LEAKED = WATCHED_COUNT, /* out of the leak, m3 */
    AT_SIGMA,                  /* integral of the root of the first zone's tap pressure, Pa^0.5 s */
    AT_ENERGY = AT_SIGMA + PD_ZONES_MOST, /* motors' input, J, without standby */
    STATE_COUNT
};

/* A plant with its tank charged.  Fixed while a day runs. */
struct circuit {
    const struct pd_plant *plant;
    struct pd_tank tank;
    double gas_constant; /* isothermal: p V, J; thermal: p V / T, J/K; polytropic: volume at 1 Pa */
};

struct branch_mode {
    bool pump_on;
    double speed_since; /* s: when the pump was switched last */
    double speed_then;  /* its relative speed then */
    bool valve_open;
};

struct zone_mode {
    double demand;    /* sum of the open draws' c, m3/s per Pa^0.5 */
    double tap_scale; /* 1 / (1 + loss_coefficient * demand^2) */
};

/* What is on, open and wet: changes at events only, with all that can be worked out there. */
struct mode {
    struct branch_mode branch[PD_BRANCHES_MOST];
    struct zone_mode zone[PD_ZONES_MOST];
    bool tank_wet;
    bool supply_dry;     /* the cistern is empty: the pump draws air */
    double supply_time;  /* s: the supply's line passes through supply_value here */
    double supply_value; /* Pa gauge */
    double supply_slope; /* Pa/s */
};

struct circuit circuit_of(const struct pd_plant *plant, double precharge);

/* The places of branches and zones are those of the plant's arrays. */
void mode_set_demand(struct mode *mode, const struct pd_plant *plant, size_t i, double demand);

/* Relative speed of a branch's pump at a time: its lag is linear and fed by nothing else, so
 * between switchings it is an exponential. */
double circuit_speed(const struct circuit *circuit, const struct mode *mode, size_t i, double time);

/* Switches a branch's pump at a time; its speed goes on from where it is. */
void mode_switch_pump(const struct circuit *circuit, struct mode *mode, size_t i, bool on,
                      double time);

/* Supply pressure [Pa gauge] at a time and state. */
double circuit_supply(const struct circuit *circuit, const struct mode *mode, double time,
                      const double state[STATE_COUNT]);

/* Pressure that would open a branch's closed check valve [Pa]: supply less the inlet's at no flow.
 */
double circuit_across(const struct circuit *circuit, const struct mode *mode, size_t i, double time,
                      const double state[STATE_COUNT]);

/* Suction pressure [Pa gauge] at a pump's inlet and at its height: header less pump, which is
 * supply less losses and inertia of the service pipe, never under that at which water boils; the
 * supply's while closed. */
double circuit_suction(const struct circuit *circuit, const struct mode *mode, size_t i,
                       double time, const double state[STATE_COUNT]);

/* Rate of change of that pressure with the valve open [Pa/s], from those of flow and header. */
double circuit_suction_rate(const struct circuit *circuit, const struct mode *mode, size_t i,
                            double time, const double state[STATE_COUNT], double flow_rate,
                            double header_rate);

/* Tap pressure [Pa gauge] of a zone and the flow out of its taps [m3/s]. */
double circuit_tap_pressure(const struct circuit *circuit, const struct mode *mode, size_t i,
                            const double state[STATE_COUNT]);
double circuit_house_flow(const struct circuit *circuit, const struct mode *mode, size_t i,
                          const double state[STATE_COUNT]);

/* Header pressure over that of the empty tank [Pa]; negative: no water in the tank. */
double circuit_over_empty(const struct circuit *circuit, const double state[STATE_COUNT]);

/* Water held in tank and house pipe [m3], up to a constant. */
double circuit_stored(const struct circuit *circuit, const struct mode *mode,
                      const double state[STATE_COUNT]);

/* Rates of change.  False for a state that is not physical (the step is then cut). */
bool circuit_rates(const struct circuit *circuit, const struct mode *mode, double time,
                   const double state[STATE_COUNT], double rate[STATE_COUNT]);

/* One Newton correction of an implicit step: with f the rates and J their Jacobian at a state,
 * solves (I - gamma J) x = gamma f - known.  Rates and Jacobian come from one evaluation.  False as
 * above. */
bool circuit_correct(const struct circuit *circuit, const struct mode *mode, double time,
                     const double state[STATE_COUNT], double gamma, const double known[STATE_COUNT],
                     double correction[STATE_COUNT]);

#endif
