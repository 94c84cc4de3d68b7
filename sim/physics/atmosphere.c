/* The standard atmosphere up to the tropopause: temperature falls evenly with height. */
#include <pumpday/water.h>

#include <math.h>

double pd_atmosphere_pressure(double height)
{
    const double sea_level_pressure = 101325;    /* Pa */
    const double sea_level_temperature = 288.15; /* K */
    const double lapse_rate = 0.0065;            /* K/m */
    const double gas_constant = 287.05287;       /* J/(kg K), air */

    return sea_level_pressure * pow(1 - lapse_rate * height / sea_level_temperature,
                                    PD_GRAVITY / (gas_constant * lapse_rate));
}
