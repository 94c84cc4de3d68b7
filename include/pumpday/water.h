/* Properties of liquid water and of the standard atmosphere, as a booster needs them. */
#ifndef PUMPDAY_WATER_H
#define PUMPDAY_WATER_H

#define PD_GRAVITY 9.80665 /* m/s2, standard acceleration of free fall */

/* Properties of liquid water at one temperature and pressure. */
struct pd_water {
    double density;         /* kg/m3 */
    double viscosity;       /* Pa s, dynamic */
    double vapour_pressure; /* Pa absolute, at saturation */
    double bulk_modulus;    /* Pa, isothermal */
};

/* Water at a temperature (K, 273.15 to 373.15) and pressure (Pa absolute, 1e4 to 1e8).
 * Source: IAPWS R7-97(2012) regions 1 and 4; viscosity IAPWS R12-08 without the critical term. */
struct pd_water pd_water_at(double temperature, double pressure);

/* Specific volume [m3/kg], isothermal compressibility [1/Pa] by IAPWS-IF97 region 1. */
double pd_water_specific_volume(double temperature, double pressure);
double pd_water_compressibility(double temperature, double pressure);

/* Saturation pressure [Pa absolute] by IAPWS-IF97 region 4, 273.15 K to 647.096 K. */
double pd_water_saturation_pressure(double temperature);

/* Dynamic viscosity [Pa s] at a density [kg/m3] and temperature [K] by IAPWS R12-08. */
double pd_water_viscosity(double density, double temperature);

/* Pressure [Pa absolute] of the standard atmosphere at a geopotential height [m], -500 to 11000.
 * Source: ISO 2533:1975, lapse rate 6.5 K/km. */
double pd_atmosphere_pressure(double height);

#endif
