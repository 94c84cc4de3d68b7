/* The simulator's own rates of a tank of thermal gas, driven by a given flow. */
#ifndef PUMPDAY_TESTS_GAS_H
#define PUMPDAY_TESTS_GAS_H

#include "model/circuit.h"

#include <complex.h>

struct gas {
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct circuit circuit;
    struct mode mode;
    double state[STATE_COUNT];
    double amplitude, omega; /* of a sine wave on the flow, m3/s and 1/s */
    double time;             /* s since it was set */
};

/* 24 L, precharge 2.0 bar gauge at the wall's 293.15 K, at a pressure [Pa gauge] there. */
void gas_begin(struct gas *gas, double time_constant, double pressure);
void gas_free(struct gas *gas);

double gas_pressure(const struct gas *gas); /* Pa absolute */
double gas_volume(const struct gas *gas);   /* m3 */

/* Lets a flow [m3/s] in for some seconds, in even Runge-Kutta steps. */
void gas_fill(struct gas *gas, double flow, double seconds, int steps);

/* Lets a flow in, or out, until a pressure [Pa gauge] is reached. */
void gas_fill_to(struct gas *gas, double flow, double pressure);

/* Exponent n of a small sine wave of volume: -(dp/p) / (dV/V), by its first harmonic. */
double complex gas_exponent(double omega_tau);

#endif
