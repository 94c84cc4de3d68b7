/* The equations of a moment: what follows from the states and from what is switched. */
#include "reference_parts.h"
#include <math.h>

/* The speed's lag is linear and fed by nothing else, so between switchings it is an exponential. */
double ref_speed(const struct ref_day *day, double time)
{
    double command = day->on ? 1 : 0;
    double lags = (time - day->switched_at) / day->plant.speed_lag;

    // what is beyond a double's least part of 1 is not worked out
    return lags > 100 ? command : command + (day->speed_then - command) * exp(-lags);
}

double ref_supply(const struct ref_day *day, double time, const double *y)
{
    if (day->plant.level_moves) {
        return day->plant.weight * y[REF_LEVEL];
    }
    // a reducing valve lets through what it is set to, or all that comes
    return fmin(day->supply_value + day->supply_slope * (time - day->supply_from),
                day->plant.valve) -
           day->plant.drawdown * fmax(y[REF_FLOW], 0);
}

/* A pump that draws air adds no pressure. */
static double rise(const struct ref_day *day, double time, double flow)
{
    return day->air ? 0 : ref_pump_rise(&day->plant, flow, ref_speed(day, time));
}

/* What the supply has left at the pump's inlet for a flow that does not change. */
static double steady_suction(const struct ref_day *day, double time, const double *y)
{
    const struct ref_plant *plant = &day->plant;
    double flow = y[REF_FLOW];

    return ref_supply(day, time, y) - ref_pipe_loss(plant, flow) - plant->opening -
           plant->valve_k * flow * fabs(flow);
}

/* The column of water gathers way by what the pump adds beyond the header, and by no more than
 * what is left of the supply over the pressure at which water boils. */
static double drive(const struct ref_day *day, double time, const double *y, double suction)
{
    double beyond_header = suction + rise(day, time, y[REF_FLOW]) - y[REF_HEADER];

    return fmin(beyond_header, suction - day->plant.boiling);
}

static double branch_rate(const struct ref_day *day, double time, const double *y)
{
    return drive(day, time, y, steady_suction(day, time, y)) / day->plant.inertance;
}

/* The column's inertia takes its part of the pressure at the inlet. */
double ref_suction(const struct ref_day *day, double time, const double *y)
{
    if (!day->valve_open) {
        return ref_supply(day, time, y);
    }
    double suction = steady_suction(day, time, y);
    return suction - drive(day, time, y, suction);
}

/* Pressure across the closed valve over its opening pressure. */
double ref_opening_margin(const struct ref_day *day, double time, const double *y)
{
    double behind = fmax(y[REF_HEADER] - rise(day, time, 0), day->plant.boiling);

    return ref_supply(day, time, y) - behind - day->plant.opening;
}

double ref_tap_pressure(const struct ref_day *day, const double *y)
{
    double c = day->coefficient;

    return (y[REF_HEADER] - day->plant.elevation) / (1 + day->plant.house_k * c * c);
}

double ref_empty_pressure(const struct ref_day *day, const double *y)
{
    if (day->plant.gas == PD_GAS_THERMAL) {
        return day->gas_constant * y[REF_GAS] / day->plant.tank_volume;
    }
    return day->set.precharge + day->plant.atmosphere;
}

/* Gas volume with water in the tank, m3. */
static double gas_volume(const struct ref_day *day, const double *y)
{
    const struct ref_plant *plant = &day->plant;
    double absolute = y[REF_HEADER] + plant->atmosphere;

    if (plant->gas == PD_GAS_THERMAL) {
        return day->gas_constant * y[REF_GAS] / absolute;
    }
    double ratio = (day->set.precharge + plant->atmosphere) / absolute;
    return plant->tank_volume * pow(ratio, 1 / plant->exponent);
}

double ref_stored(const struct ref_day *day, const double *y)
{
    double in_tank = day->tank_empty ? 0 : day->plant.tank_volume - gas_volume(day, y);

    return in_tank + day->plant.pipe_compliance * y[REF_HEADER];
}

/* Rates of the header pressure and of the gas temperature for a net flow into the header. */
static void header_rates(const struct ref_day *day, const double *y, double net, double *rates)
{
    const struct ref_plant *plant = &day->plant;
    bool thermal = plant->gas == PD_GAS_THERMAL;
    double above_wall = y[REF_GAS] - plant->wall;
    double absolute = y[REF_HEADER] + plant->atmosphere;

    rates[REF_GAS] = thermal ? -above_wall / plant->gas_lag : 0;
    if (day->tank_empty) {
        rates[REF_HEADER] = net / plant->pipe_compliance;
        return;
    }
    double volume = gas_volume(day, y);
    double compliance = plant->pipe_compliance + volume / (plant->exponent * absolute);
    if (!thermal) {
        rates[REF_HEADER] = net / compliance;
        return;
    }
    double gamma = plant->exponent;
    double heat = volume / gamma * above_wall / (plant->gas_lag * y[REF_GAS]);
    rates[REF_HEADER] = (net - heat) / compliance;
    rates[REF_GAS] = (gamma - 1) / gamma * y[REF_GAS] / absolute * rates[REF_HEADER] -
                     above_wall / (gamma * plant->gas_lag);
}

static double float_valve(const struct ref_plant *plant, double level)
{
    return plant->refill * fmin(fmax((plant->full - level) / 0.05, 0), 1);
}

void ref_rates(const struct ref_day *day, double time, const double *y, double *rates)
{
    const struct ref_plant *plant = &day->plant;
    double root = ref_smooth_power(ref_tap_pressure(day, y), 0.5);
    double house = day->coefficient * root;
    double leak = plant->leak * ref_smooth_power(y[REF_HEADER], plant->leak_exponent);
    double branch = y[REF_FLOW];

    // a closed valve passes nothing but its leak back
    rates[REF_FLOW] = 0;
    if (day->valve_open) {
        rates[REF_FLOW] = branch_rate(day, time, y);
    } else {
        double back = y[REF_HEADER] - rise(day, time, 0) - ref_supply(day, time, y);
        branch = -plant->leak_by * ref_smooth_power(back, 0.5);
    }
    header_rates(day, y, branch - house - leak, rates);
    rates[REF_LEVEL] =
        plant->level_moves ? (float_valve(plant, y[REF_LEVEL]) - branch) / plant->area : 0;
    rates[REF_SIGMA] = root;
    rates[REF_ENERGY] = (day->on ? ref_pump_power(plant, y[REF_FLOW]) : 0) + plant->standby;
    rates[REF_SUPPLIED] = branch;
    rates[REF_DELIVERED] = house;
    rates[REF_LEAKED] = leak;
}
