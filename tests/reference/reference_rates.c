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
    double drawn = fmax(y[REF_FLOW], 0);
    return fmin(day->supply_value + day->supply_slope * (time - day->supply_from),
                day->plant.valve) -
           day->plant.drawdown * drawn - day->plant.well_k * drawn * drawn;
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

    return ref_supply(day, time, y) - ref_pipe_loss(plant, &plant->service, flow) - plant->opening -
           plant->valve_k * flow * fabs(flow);
}

/* Pressure at the gauge's height at which the water at the inlet boils. */
static double boiling(const struct ref_day *day)
{
    return day->plant.boiling + day->plant.pump_column;
}

/* The columns before and behind the pump gather way together by what the pump adds beyond the
 * header and all losses; the one before it by no more than what is left of the supply over the
 * pressure at which water boils.  suction: that of the flow if it stayed. */
static double rate_for(const struct ref_day *day, double time, const double *y, double suction)
{
    const struct ref_plant *plant = &day->plant;
    double flow = y[REF_FLOW];
    double drive = suction + rise(day, time, flow) - ref_pipe_loss(plant, &plant->rising, flow) -
                   y[REF_HEADER];

    return fmin(drive / (plant->service.inertance + plant->rising.inertance),
                (suction - boiling(day)) / plant->service.inertance);
}

static double branch_rate(const struct ref_day *day, double time, const double *y)
{
    return rate_for(day, time, y, steady_suction(day, time, y));
}

/* The column's inertia takes its part of the pressure at the inlet. */
double ref_suction(const struct ref_day *day, double time, const double *y)
{
    if (!day->valve_open) {
        return ref_supply(day, time, y) - day->plant.pump_column;
    }
    double suction = steady_suction(day, time, y);
    return suction - day->plant.service.inertance * rate_for(day, time, y, suction) -
           day->plant.pump_column;
}

/* Pressure across the closed valve over its opening pressure. */
double ref_opening_margin(const struct ref_day *day, double time, const double *y)
{
    double behind = fmax(y[REF_HEADER] - rise(day, time, 0), boiling(day));

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

/* What the ground gives for a drawdown B Q + C Q^2, by Newton's steps from above. */
static double aquifer(const struct ref_plant *plant, double level)
{
    double pressure = plant->weight * (plant->full - level);
    double flow = pressure / plant->drawdown;

    for (int i = 0; i < 60 && pressure > 0; i++) {
        double over = plant->drawdown * flow + plant->well_k * flow * flow - pressure;
        flow -= over / (plant->drawdown + 2 * plant->well_k * flow);
    }
    return flow;
}

static double inflow(const struct ref_plant *plant, double level)
{
    if (plant->supply_kind == PD_SUPPLY_WELL) {
        return aquifer(plant, level);
    }
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
        plant->level_moves ? (inflow(plant, y[REF_LEVEL]) - branch) / plant->area : 0;
    rates[REF_SIGMA] = root;
    rates[REF_ENERGY] = (day->on ? ref_pump_power(plant, y[REF_FLOW]) : 0) + plant->standby;
    rates[REF_SUPPLIED] = branch;
    rates[REF_DELIVERED] = house;
    rates[REF_LEAKED] = leak;
}
