/* A check from the few things known on site: a scenario is made up around them. */
#include "base/memory.h"
#include "scenario/codes.h"
#include "studies/findings.h"
#include "studies/quick_parts.h"

#include <math.h>
#include <string.h>

/* The head curve has this many points, up to the flow at which it has lost all but a tenth of its
 * shutoff head. */
enum { CURVE_POINTS = 12 };
static const double curve_end = 0.9; /* share of the shutoff head lost there */

/* Power is not asked for and told to nobody: the same at all flows, wire to water at the best,
 * which puts best efficiency where the pump does most. */
static const double efficiency = 0.35;

/* A pipe that loses next to nothing at a house's flows, where none is told. */
static const double pipe_length = 5, pipe_diameter = 0.040;

/* Halvings of a flow: to a millionth of the pump's, and well beyond. */
enum { HALVINGS = 40 };

static bool fits(const struct pd_quick *quick, struct pd_error *error)
{
    if (!(quick->shutoff > 0 && quick->duty_flow > 0)) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL,
                            "shutoff head and duty flow must be more than nothing");
    }
    if (!(quick->duty_head >= 0 && quick->duty_head < quick->shutoff)) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL,
                            "the head of the duty point is not under the shutoff head");
    }
    if (quick->draw <= 0 || !(quick->tank > 0)) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL,
                            "draw and tank must be more than nothing");
    }
    if (!isnan(quick->stop) && !(quick->stop > quick->start)) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL,
                            "a stop pressure needs a start pressure under it");
    }
    return true;
}

/* H = shutoff - k Q^2 through the duty point. */
static void set_curve(struct pd_pump_points *pump, const struct pd_quick *quick, double weight)
{
    double k = (quick->shutoff - quick->duty_head) / (quick->duty_flow * quick->duty_flow);
    double end = sqrt(curve_end * quick->shutoff / k);
    double most = 0;

    pump->count = CURVE_POINTS;
    pump->has_npsh = false;
    for (size_t i = 0; i < CURVE_POINTS; i++) {
        pump->flow[i] = end * (double)i / (CURVE_POINTS - 1);
        pump->head[i] = quick->shutoff - k * pump->flow[i] * pump->flow[i];
        most = fmax(most, weight * pump->head[i] * pump->flow[i] / efficiency);
    }
    for (size_t i = 0; i < CURVE_POINTS; i++) {
        pump->power[i] = most;
    }
}

static void give(struct pd_scenario *scenario, enum pd_item item, double value)
{
    scenario->value[item] = value;
    scenario->given[item] = !isnan(value);
}

static double known_or(double known, double assumed)
{
    return isnan(known) ? assumed : known;
}

/* The draws one after the other, then nothing. */
static bool set_draws(struct pd_scenario *scenario, const struct quick_draw *draws, size_t count)
{
    scenario->profile = pd_memory_resize(NULL, (count + 1) * sizeof *scenario->profile);
    if (scenario->profile == NULL) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        scenario->profile[i] = (struct pd_sample){draws[i].from, draws[i].flow};
    }
    scenario->profile_count = count;
    if (draws[count - 1].to < PD_DAY_SECONDS) {
        scenario->profile[scenario->profile_count++] = (struct pd_sample){draws[count - 1].to, 0};
    }
    return true;
}

static void give_known(struct pd_scenario *scenario, const struct pd_quick *quick, double weight)
{
    double boosted = quick->supply + weight * quick->shutoff;

    give(scenario, PD_SUPPLY_KIND, PD_SUPPLY_MAIN);
    give(scenario, PD_SUPPLY_PRESSURE, quick->supply);
    give(scenario, PD_SERVICE_LENGTH, known_or(quick->pipe_length, pipe_length));
    give(scenario, PD_SERVICE_DIAMETER, known_or(quick->pipe_bore, pipe_diameter));
    give(scenario, PD_TANK_VOLUME, quick->tank);
    give(scenario, PD_PRESSURE_START_START, quick->start);
    give(scenario, PD_PRESSURE_START_STOP_PRESSURE, quick->stop);
    give(scenario, PD_PRESSURE_START_PRECHARGE, quick->precharge);
    give(scenario, PD_PUMP_MOTOR_POWER, quick->motor_power);
    give(scenario, PD_PUMP_PHASES, quick->phases);
    // the gauge at the pump is the taps' too, and the draw is told at the start pressure
    give(scenario, PD_DEMAND_REFERENCE_PRESSURE,
         fmax(known_or(quick->start, boosted - 12.5 * FINDINGS_PSI), FINDINGS_PSI));
    if (!isnan(quick->gas)) {
        give(scenario, PD_TANK_GAS, quick->gas);
    }
    if (!isnan(quick->codes)) {
        give(scenario, PD_LIMIT_CODES, quick->codes);
        pd_codes_apply(scenario);
    }
    scenario->value[PD_HOUSE_ELEVATION] = 0;
    scenario->value[PD_HOUSE_LOSS] = 0;
}

bool quick_scenario(const struct pd_quick *quick, const struct quick_draw *draws, size_t count,
                    struct pd_scenario *scenario, struct pd_error *error)
{
    *scenario = pd_scenario_default();
    if (!fits(quick, error)) {
        return false;
    }
    double density = pd_water_at(scenario->value[PD_WATER_TEMPERATURE], 5e5).density;
    double weight = density * PD_GRAVITY;
    (void)snprintf(scenario->title, sizeof scenario->title, "quick check");
    give_known(scenario, quick, weight);
    set_curve(&scenario->pump, quick, weight);
    if (!set_draws(scenario, draws, count)) {
        pd_scenario_free(scenario);
        return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "not enough memory");
    }
    return true;
}

struct pd_quick pd_quick_default(void)
{
    return (struct pd_quick){
        .supply = NAN,
        .shutoff = NAN,
        .duty_flow = NAN,
        .duty_head = NAN,
        .tank = NAN,
        .draw = NAN,
        .precharge = NAN,
        .start = NAN,
        .stop = NAN,
        .motor_power = NAN,
        .phases = NAN,
        .codes = NAN,
        .gas = NAN,
        .pipe_bore = NAN,
        .pipe_length = NAN,
    };
}

bool pd_quick_scenario(const struct pd_quick *quick, struct pd_scenario *scenario,
                       struct pd_error *error)
{
    struct quick_draw draw = {known_or(quick->draw, 0), 0, PD_DAY_SECONDS};

    return quick_scenario(quick, &draw, 1, scenario, error);
}

/* Pressure left over at the header when the pump gives a flow and the header stands at its start
 * pressure; *inlet gets the pressure at the pump's inlet [Pa gauge]. */
static double left_over(const struct pd_plant *plant, double start, double flow, double *inlet)
{
    double slope, by_flow, by_speed;

    *inlet = plant->lowest_supply - pd_loss_table_at(&plant->service, flow, &slope) -
             plant->valve_opening - plant->valve_coefficient * flow * flow;
    return *inlet + pd_pump_rise(&plant->pump, flow, 1, &by_flow, &by_speed) - start;
}

/* The flow at which nothing is left over, or the water boils at the inlet, by halving; 0 if the
 * pump does not come up to its start pressure. */
static void find_drawing(const struct pd_plant *plant, double start, struct pd_quick_found *found)
{
    double low = 0, high = 2 * plant->pump.last_flow;

    for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2;
        bool more = left_over(plant, start, middle, &found->drawing_pressure) > 0 &&
                    found->drawing_pressure > plant->boiling;
        low = more ? middle : low;
        high = more ? high : middle;
    }
    found->drawing_flow = low;
    (void)left_over(plant, start, low, &found->drawing_pressure);
}

static bool search(struct quick_bench *bench, const struct pd_plant *plant,
                   struct pd_findings *findings, struct pd_quick_found *found)
{
    struct pd_strategy strategy = pd_strategy_for(pd_strategy_find("pressure-start"), plant);

    found->start_pressure = strategy.start_pressure;
    found->precharge = strategy.precharge;
    find_drawing(plant, strategy.start_pressure, found);
    bench->rule = pd_motor_rule_for(plant->scenario, &strategy);
    bench->drawing_flow = found->drawing_flow;
    bench->air = plant->atmosphere;
    bench->start = strategy.start_pressure;
    bench->top =
        isnan(strategy.stop_pressure) ? findings_shutoff_pressure(plant) : strategy.stop_pressure;
    bench->most_draw = isnan(strategy.stop_pressure) ? fmin(strategy.stop_flow, found->drawing_flow)
                                                     : found->drawing_flow;
    if (!quick_told(bench, found) || !quick_worst(bench, found) || !quick_tank(bench, found)) {
        return false;
    }
    quick_findings(findings, bench->quick, plant, &strategy, found);
    return true;
}

bool pd_quick_check(const struct pd_quick *quick, const struct pd_day_options *day,
                    struct pd_findings *findings, struct pd_quick_found *found,
                    struct pd_error *error)
{
    struct quick_bench bench = {.quick = quick, .options = day, .error = error};
    struct pd_scenario scenario;
    struct pd_plant plant;

    memset(findings, 0, sizeof *findings);
    memset(found, 0, sizeof *found);
    if (!pd_quick_scenario(quick, &scenario, error)) {
        return false;
    }
    bool good = pd_plant_build(&scenario, &plant, error);
    if (good) {
        bench.day = pd_day_create(error);
        good = bench.day != NULL && search(&bench, &plant, findings, found);
        pd_day_free(bench.day);
        pd_plant_free(&plant);
    }
    pd_scenario_free(&scenario);
    return good;
}
