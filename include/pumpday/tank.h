/* The pressure tank: a gas charge behind a diaphragm.
 *
 * Isothermal  p V = const; polytropic  p V^n = const; thermal  ideal gas that exchanges heat with
 * the wall at a time constant tau:  dT/dt = -(gamma - 1)(T/V) dV/dt - (T - T_wall)/tau,  p V = m R
 * T. Pressures here are absolute. */
#ifndef PUMPDAY_TANK_H
#define PUMPDAY_TANK_H

#include <pumpday/scenario.h>

#define PD_GAMMA 1.4 /* ratio of the heat capacities of air */

struct pd_tank {
    enum pd_tank_gas gas;
    double volume;    /* m3 */
    double precharge; /* Pa absolute, with the tank empty of water and at the wall's temperature */
    double exponent;  /* polytropic n, 1 to 1.4 */
    double time_constant;    /* s, thermal only, > 0 */
    double wall_temperature; /* K */
};

/* Gas volume [m3] at an absolute pressure [Pa] and, thermal only, a gas temperature [K]; the whole
 * tank where the pressure is under that of the empty tank. */
double pd_tank_gas_volume(const struct pd_tank *tank, double pressure, double temperature);

/* Water held [m3] = volume - gas volume. */
double pd_tank_water(const struct pd_tank *tank, double pressure, double temperature);

/* Pressure [Pa absolute] under which the tank holds no water: the precharge, thermal: at this gas
 * temperature. */
double pd_tank_empty_pressure(const struct pd_tank *tank, double temperature);

/* Water given [m3] between two absolute pressures (high to low), isothermal or polytropic path. */
double pd_tank_drawdown(const struct pd_tank *tank, double low, double high);

#endif
