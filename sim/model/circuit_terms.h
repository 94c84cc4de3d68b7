/* All terms of the equations at one state, shared by the rates and by the linear system that an
 * implicit step solves.  `_by_x` is a partial derivative. */
#ifndef PUMPDAY_CIRCUIT_TERMS_H
#define PUMPDAY_CIRCUIT_TERMS_H

#include "model/circuit.h"

struct branch_terms {
    double rate, rate_by_flow, rate_by_pressure, rate_by_level; /* of the flow */
    double back, back_by_pressure, back_by_level;               /* leak-by of the check valve */
    double power, power_by_flow;                                /* electrical input of the motor */
};

struct zone_terms {
    double root, root_by_pressure; /* of the tap pressure */
};

struct terms {
    double supply, supply_by_flow, supply_by_level;
    double refill, refill_by_level;
    struct branch_terms branch[PD_BRANCHES_MOST];
    struct zone_terms zone[PD_ZONES_MOST];
    double leak, leak_by_pressure;
    double compliance;
    double heat, heat_by_temperature; /* flow that the gas takes by cooling, m3/s */
    double pressure_rate, pressure_rate_by_pressure, pressure_rate_by_temperature;
};

/* Fills the terms, and the rates that follow from them.  False for a state that is not physical. */
bool circuit_evaluate(const struct circuit *circuit, const struct mode *mode, double time,
                      const double state[STATE_COUNT], struct terms *terms,
                      double rate[STATE_COUNT]);

/* Pressure at a pump's inlet, brought to the gauge's height, and its partial derivatives. */
struct inlet {
    double pressure, by_flow, by_header;
};

/* What the pump's rise leaves of the pressure behind it, but for that at which water boils: a pump
 * that would leave less makes vapour and adds no more.  Behind the pump stands the header, or where
 * there is a rising main what its losses and the inertia of its water add to that. */
struct inlet circuit_inlet(const struct circuit *circuit, const struct mode *mode, size_t i,
                           double time, double flow, const double state[STATE_COUNT]);

/* The same where there is a rising main, of the supply's and the header's pressure and of what the
 * pump adds; and the terms of such an open branch. */
struct inlet circuit_inlet_long(const struct pd_branch *branch, double supply, double header,
                                double flow, double rise, double rise_by_flow);
void circuit_open_long(const struct pd_branch *branch, const struct inlet *inlet, double flow,
                       const struct terms *terms, struct branch_terms *out);

#endif
