/* The scenario that a quick check makes up around what is known on site. */
#include "base/memory.h"
#include "scenario/codes.h"
#include "studies/findings.h"
#include "studies/quick_parts.h"

#include <math.h>

/* The head curve has this many points, up to the flow at which it has lost all but a tenth of its
 * shutoff head. */
enum { CURVE_POINTS = 12 };
static const double curve_end = 0.9; /* share of the shutoff head lost there */

/* Power is not asked for and told to nobody: the same at all flows, wire to water at the best,
 * which puts best efficiency where the pump does most. */
static const double efficiency = 0.35;

/* A pipe that loses next to nothing at a house's flows, where none is told. */
static const double pipe_length = 5, pipe_diameter = 0.040;

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
        return pd_error_memory(error);
    }
    return true;
}
