/* The pressure tank: volume of its gas, water it holds and gives. */
#include <pumpday/tank.h>

#include <math.h>

double pd_tank_empty_pressure(const struct pd_tank *tank, double temperature)
{
    if (tank->gas != PD_GAS_THERMAL) {
        return tank->precharge;
    }
    return tank->precharge * temperature / tank->wall_temperature;
}

double pd_tank_gas_volume(const struct pd_tank *tank, double pressure, double temperature)
{
    double empty = pd_tank_empty_pressure(tank, temperature);

    // without water the gas fills the tank whatever the pressure of the header
    if (pressure <= empty) {
        return tank->volume;
    }
    double ratio = empty / pressure;
    if (tank->gas == PD_GAS_POLYTROPIC && tank->exponent != 1) {
        ratio = pow(ratio, 1 / tank->exponent);
    }
    return tank->volume * ratio;
}

double pd_tank_water(const struct pd_tank *tank, double pressure, double temperature)
{
    return tank->volume - pd_tank_gas_volume(tank, pressure, temperature);
}

double pd_tank_drawdown(const struct pd_tank *tank, double low, double high)
{
    double temperature = tank->wall_temperature;

    return pd_tank_gas_volume(tank, low, temperature) - pd_tank_gas_volume(tank, high, temperature);
}
