/* The plant as numbers: what the scenario says, in the form the equations need. */
#include "reference_parts.h"
#include <math.h>
#include <pumpday/water.h>

static const double pi = 3.14159265358979323846;
static const double properties_pressure = 0.5e6; // Pa absolute
static const double never = (double)INFINITY;

static double area_of(double diameter)
{
    return pi * diameter * diameter / 4;
}

/* NAN stands for "not given". */
static double or_else(double value, double otherwise)
{
    return isnan(value) ? otherwise : value;
}

/* Lowest and time-mean value of the supply series, a trapezoid for each piece. */
static void series_figures(const struct pd_scenario *scenario, double *lowest, double *mean)
{
    double sum = 0;

    *lowest = INFINITY;
    for (size_t i = 0; i < scenario->supply_count; i++) {
        const struct pd_sample *now = &scenario->supply[i];
        bool wraps = i + 1 == scenario->supply_count;
        const struct pd_sample *next = &scenario->supply[wraps ? 0 : i + 1];
        double lasts = next->time - now->time + (wraps ? 86400 : 0);
        sum += lasts * (now->value + next->value) / 2;
        *lowest = fmin(*lowest, now->value);
    }
    *mean = sum / 86400;
}

/* Time mean behind a reducing valve, from the middles of a million equal parts of the day. */
static double reduced_mean(const struct pd_scenario *scenario, double offset, double valve)
{
    static const int parts = 1000000;
    const struct pd_sample *series = scenario->supply;
    size_t count = scenario->supply_count, next = 0;
    double sum = 0;

    for (int i = 0; i < parts; i++) {
        double time = 86400 * (i + 0.5) / parts;
        while (next < count && series[next].time <= time) {
            next++;
        }
        const struct pd_sample *a = &series[(next + count - 1) % count], *b = &series[next % count];
        double from = a->time - (next == 0 ? 86400 : 0);
        double to = b->time + (next == count ? 86400 : 0);
        double share = to > from ? (time - from) / (to - from) : 0;
        sum += fmin(a->value + share * (b->value - a->value) + offset, valve);
    }
    return sum / parts;
}

/* What a well gives, and whether its casing holds water. */
static void build_well(struct ref_plant *plant, const double *item)
{
    double loss_flow = item[PD_WELL_LOSS_FLOW];

    plant->level_moves = item[PD_WELL_CASING_DIAMETER] > 0;
    plant->area = area_of(item[PD_WELL_CASING_DIAMETER]);
    plant->drawdown = plant->weight / item[PD_SUPPLY_SPECIFIC_CAPACITY];
    plant->well_k = plant->weight * or_else(item[PD_WELL_LOSS], 0) / (loss_flow * loss_flow);
}

static void build_supply(struct ref_plant *plant, const double *item)
{
    const struct pd_scenario *scenario = plant->scenario;

    plant->supply_kind = (enum pd_supply_kind)item[PD_SUPPLY_KIND];
    plant->level_moves = plant->supply_kind == PD_SUPPLY_CISTERN && item[PD_SUPPLY_AREA] > 0;
    plant->area = item[PD_SUPPLY_AREA];
    plant->drawdown = plant->well_k = 0;
    if (plant->supply_kind == PD_SUPPLY_WELL) {
        build_well(plant, item);
    }
    plant->full = item[PD_SUPPLY_LEVEL];
    plant->refill = or_else(item[PD_SUPPLY_REFILL], 0);
    plant->empty = plant->level_moves ? or_else(item[PD_SUPPLY_EMPTY_LEVEL], -never) : -never;
    plant->recovered = plant->empty + fmin(0.05, (plant->full - plant->empty) / 2);
    plant->steady_supply = plant->supply_kind == PD_SUPPLY_MAIN ? item[PD_SUPPLY_PRESSURE]
                                                                : plant->weight * plant->full;
    plant->lowest_supply = plant->mean_supply = plant->steady_supply;
    // a level takes it as metres of conventional water
    plant->offset = or_else(item[PD_SUPPLY_OFFSET], 0) / (scenario->supply_is_level ? 9806.65 : 1);
    plant->valve = or_else(item[PD_SUPPLY_REDUCING_VALVE], never);
    if (scenario->supply_count > 0 && !plant->level_moves) {
        double scale = scenario->supply_is_level ? plant->weight : 1;
        series_figures(scenario, &plant->lowest_supply, &plant->mean_supply);
        plant->lowest_supply = scale * (plant->lowest_supply + plant->offset);
        plant->mean_supply = scale * (plant->mean_supply + plant->offset);
        if (isfinite(plant->valve)) {
            plant->mean_supply = reduced_mean(scenario, plant->offset, plant->valve);
        }
    }
    plant->lowest_supply = fmin(plant->lowest_supply, plant->valve);
    if (scenario->supply_count == 0 && isfinite(plant->valve)) {
        plant->mean_supply = fmin(plant->mean_supply, plant->valve);
    }
}

/* What a point of the pump gets out of its power, in any unit. */
static double yield_of(const struct pd_pump_points *points, size_t i)
{
    return points->power[i] > 0 ? points->flow[i] * points->head[i] / points->power[i] : 0;
}

/* Vertex of the parabola y = A x^2 + B x + C through three points, by Cramer's rule. */
static double vertex(const double *x, const double *y)
{
    double a = y[0] * (x[1] - x[2]) + y[1] * (x[2] - x[0]) + y[2] * (x[0] - x[1]);
    double b = y[0] * (x[2] * x[2] - x[1] * x[1]) + y[1] * (x[0] * x[0] - x[2] * x[2]) +
               y[2] * (x[1] * x[1] - x[0] * x[0]);

    return -b / (2 * a);
}

/* Pressure over flow squared that the resting pump costs. */
static double stopped_k(const struct ref_plant *plant, double given)
{
    const struct pd_pump_points *points = &plant->scenario->pump;
    size_t last = points->count - 1, best = 0;
    double yield[PD_PUMP_POINTS_MOST];

    if (!isnan(given)) {
        return given / (points->flow[last] * points->flow[last]);
    }
    for (size_t i = 0; i <= last; i++) {
        yield[i] = yield_of(points, i);
        best = yield[i] > yield[best] ? i : best;
    }
    if (best == 0) {
        return 30e3 / (points->flow[last] * points->flow[last]);
    }
    double flow =
        best == last ? points->flow[last] : vertex(&points->flow[best - 1], &yield[best - 1]);
    return 0.227 * ref_curve_at(&plant->rise, flow) / (flow * flow);
}

static struct ref_pipe pipe_of(const struct ref_plant *plant, double length, double diameter,
                               double roughness, double loss_k)
{
    return (struct ref_pipe){length, diameter, roughness, loss_k,
                             length > 0 ? plant->density * length / area_of(diameter) : 0};
}

static void build_branch(struct ref_plant *plant, const double *item)
{
    const struct pd_pump_points *points = &plant->scenario->pump;
    double rise[PD_PUMP_POINTS_MOST];
    double valve_area = area_of(or_else(item[PD_CHECK_VALVE_DIAMETER], item[PD_SERVICE_DIAMETER]));

    plant->service = pipe_of(plant, item[PD_SERVICE_LENGTH], item[PD_SERVICE_DIAMETER],
                             item[PD_SERVICE_ROUGHNESS], item[PD_SERVICE_LOSS_K]);
    plant->rising = pipe_of(plant, or_else(item[PD_RISING_MAIN_LENGTH], 0),
                            or_else(item[PD_RISING_MAIN_DIAMETER], item[PD_SERVICE_DIAMETER]),
                            item[PD_RISING_MAIN_ROUGHNESS], item[PD_RISING_MAIN_LOSS_K]);
    plant->pump_column = plant->weight * or_else(item[PD_PUMP_HEIGHT], 0);
    plant->opening = item[PD_CHECK_VALVE_OPENING_PRESSURE];
    plant->valve_k = item[PD_CHECK_VALVE_LOSS_K] * plant->density / (2 * valve_area * valve_area);
    plant->leak_by = or_else(item[PD_CHECK_VALVE_LEAK_BY], 0) / sqrt(1e5);
    for (size_t i = 0; i < points->count; i++) {
        rise[i] = points->head[i] * plant->weight;
    }
    ref_curve_build(&plant->rise, points->flow, rise, points->count);
    ref_curve_build(&plant->power, points->flow, points->power, points->count);
    plant->stopped_k = stopped_k(plant, item[PD_PUMP_STOPPED_LOSS]);
    double run_up = item[PD_PUMP_RUN_UP_TIME];
    plant->speed_lag = (run_up > 0 ? run_up : 1e-3) / log(20);
    plant->standby = item[PD_ENERGY_STANDBY];
}

static void build_house(struct ref_plant *plant, const double *item)
{
    double bore = item[PD_HOUSE_PIPE_DIAMETER];
    double stiffness = item[PD_HOUSE_PIPE_MODULUS] * item[PD_HOUSE_PIPE_WALL];
    double give = 1 / plant->bulk_modulus + (stiffness > 0 ? bore / stiffness : 0);

    plant->pipe_compliance = fmax(area_of(bore) * item[PD_HOUSE_PIPE_LENGTH] * give, 1e-12);
    plant->elevation = plant->weight * item[PD_HOUSE_ELEVATION];
    plant->house_k = item[PD_HOUSE_LOSS] / (item[PD_HOUSE_LOSS_FLOW] * item[PD_HOUSE_LOSS_FLOW]);
    plant->leak_exponent = item[PD_HOUSE_LEAK_EXPONENT];
    plant->leak = item[PD_HOUSE_LEAK] / pow(item[PD_HOUSE_LEAK_PRESSURE], plant->leak_exponent);
    plant->reference_root = sqrt(item[PD_DEMAND_REFERENCE_PRESSURE]);
    plant->gas = (enum pd_tank_gas)item[PD_TANK_GAS];
    plant->tank_volume = item[PD_TANK_VOLUME];
    plant->gas_lag = item[PD_TANK_TIME_CONSTANT];
    plant->wall = item[PD_WATER_TEMPERATURE];
    plant->exponent = plant->gas == PD_GAS_THERMAL      ? 1.4
                      : plant->gas == PD_GAS_POLYTROPIC ? item[PD_TANK_EXPONENT]
                                                        : 1;
}

static void build_guards(struct ref_plant *plant, const double *item)
{
    plant->low_suction = or_else(item[PD_GUARD_LOW_SUCTION], -INFINITY);
    plant->delay = item[PD_GUARD_DELAY];
    plant->retry = item[PD_GUARD_RETRY];
    plant->dry_time = or_else(item[PD_GUARD_DRY_RUN_TIME], INFINITY);
    plant->least_rest = item[PD_GUARD_LEAST_REST];
    plant->warm_up = item[PD_DAY_WARM_UP];
}

void ref_plant_build(const struct pd_scenario *scenario, struct ref_plant *plant)
{
    const double *item = scenario->value;
    struct pd_water water = pd_water_at(item[PD_WATER_TEMPERATURE], properties_pressure);

    plant->scenario = scenario;
    plant->density = water.density;
    plant->viscosity = water.viscosity;
    plant->bulk_modulus = water.bulk_modulus;
    plant->atmosphere = pd_atmosphere_pressure(item[PD_SITE_ALTITUDE]);
    plant->weight = water.density * 9.80665;
    plant->boiling = water.vapour_pressure - plant->atmosphere;
    build_supply(plant, item);
    build_branch(plant, item);
    build_house(plant, item);
    build_guards(plant, item);
}

static double sixteenth_power(double x)
{
    double square = x * x;
    double fourth = square * square;
    double eighth = fourth * fourth;

    return eighth * eighth;
}

/* Churchill's friction factor (Chemical Engineering, 7 Nov 1977, 91-92) for a circular pipe. */
static double friction_factor(double reynolds, double relative_roughness)
{
    // the formula's own limit, where its powers would overflow
    if (reynolds < 1e-3) {
        return 64 / reynolds;
    }
    double a = 2.457 * log(1 / (pow(7 / reynolds, 0.9) + 0.27 * relative_roughness));
    double sum = sixteenth_power(a) + sixteenth_power(37530 / reynolds);
    double laminar = 8 / reynolds;
    double cube = laminar * laminar * laminar;
    return 8 * pow(cube * cube * cube * cube + 1 / (sum * sqrt(sum)), 1.0 / 12);
}

double ref_pipe_loss(const struct ref_plant *plant, const struct ref_pipe *pipe, double flow)
{
    double speed = fabs(flow) / area_of(pipe->diameter);

    if (speed == 0 || pipe->length == 0) {
        return 0;
    }
    double reynolds = plant->density * speed * pipe->diameter / plant->viscosity;
    double f = friction_factor(reynolds, pipe->roughness / pipe->diameter);
    double loss =
        (f * pipe->length / pipe->diameter + pipe->loss_k) * plant->density * speed * speed / 2;
    return flow < 0 ? -loss : loss;
}

double ref_pump_rise(const struct ref_plant *plant, double flow, double speed)
{
    const struct ref_curve *f = &plant->rise;
    size_t last = f->count - 1;

    // a straight line against reverse flow
    if (flow < 0) {
        return speed * speed * f->y[0] + f->slope[0] * speed * flow;
    }
    double over = flow - f->x[last] * speed;
    if (over >= 0) {
        return speed * speed * f->y[last] + f->slope[last] * speed * over -
               plant->stopped_k * over * over;
    }
    return speed * speed * ref_curve_at(f, flow / speed);
}

double ref_pump_power(const struct ref_plant *plant, double flow)
{
    const struct ref_curve *power = &plant->power;

    return ref_curve_at(power, fmin(fmax(flow, power->x[0]), power->x[power->count - 1]));
}

double ref_smooth_power(double pressure, double exponent)
{
    const double d = 500;
    double u = pressure / d;

    if (u <= 0) {
        return 0;
    }
    if (u < 1) {
        return pow(d, exponent) * ((3 - exponent) * u * u + (exponent - 2) * u * u * u);
    }
    return exponent == 0.5 ? sqrt(pressure) : pow(pressure, exponent);
}

double ref_unboosted(const struct ref_plant *plant, double supply, double flow)
{
    return supply - plant->drawdown * flow - ref_pipe_loss(plant, &plant->service, flow) -
           ref_pipe_loss(plant, &plant->rising, flow) - plant->opening -
           (plant->stopped_k + plant->valve_k + plant->well_k) * flow * flow;
}
