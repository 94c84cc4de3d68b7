/* A check from the few things known on site: a scenario is made up around them. */
#include "base/memory.h"
#include "scenario/codes.h"
#include "studies/findings.h"
#include "studies/verdict.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The head curve has this many points, up to the flow at which it has lost all but a tenth of its
 * shutoff head. */
enum { CURVE_POINTS = 12 };
static const double curve_end = 0.9; /* share of the shutoff head lost there */

/* Power is not asked for and told to nobody: the same at all flows, wire to water at the best,
 * which puts best efficiency where the pump does most. */
static const double efficiency = 0.35;

/* A pipe that loses next to nothing at a house's flows. */
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
    if (!(quick->draw > 0 && quick->tank > 0)) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL,
                            "draw and tank must be more than nothing");
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

/* One tap, open all day. */
static bool set_draw(struct pd_scenario *scenario, double flow)
{
    scenario->profile = pd_memory_resize(NULL, sizeof *scenario->profile);
    if (scenario->profile == NULL) {
        return false;
    }
    scenario->profile[0] = (struct pd_sample){0, flow};
    scenario->profile_count = 1;
    return true;
}

bool pd_quick_scenario(const struct pd_quick *quick, struct pd_scenario *scenario,
                       struct pd_error *error)
{
    *scenario = pd_scenario_default();
    if (!fits(quick, error)) {
        return false;
    }
    double density = pd_water_at(scenario->value[PD_WATER_TEMPERATURE], 5e5).density;
    double weight = density * PD_GRAVITY;
    (void)snprintf(scenario->title, sizeof scenario->title, "quick check");
    give(scenario, PD_SUPPLY_KIND, PD_SUPPLY_MAIN);
    give(scenario, PD_SUPPLY_PRESSURE, quick->supply);
    give(scenario, PD_SERVICE_LENGTH, pipe_length);
    give(scenario, PD_SERVICE_DIAMETER, pipe_diameter);
    give(scenario, PD_TANK_VOLUME, quick->tank);
    give(scenario, PD_PRESSURE_START_START, quick->start);
    give(scenario, PD_PRESSURE_START_PRECHARGE, quick->precharge);
    give(scenario, PD_PUMP_MOTOR_POWER, quick->motor_power);
    // the gauge at the pump is the taps' too, and the draw is told at the start pressure
    double start = isnan(quick->start)
                       ? quick->supply + weight * quick->shutoff - 12.5 * FINDINGS_PSI
                       : quick->start;
    give(scenario, PD_DEMAND_REFERENCE_PRESSURE, fmax(start, FINDINGS_PSI));
    scenario->value[PD_HOUSE_ELEVATION] = 0;
    scenario->value[PD_HOUSE_LOSS] = 0;
    set_curve(&scenario->pump, quick, weight);
    if (!set_draw(scenario, quick->draw)) {
        pd_scenario_free(scenario);
        return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL, "not enough memory");
    }
    return true;
}

/* The first whole cycle of the day: a run and the rest before it. */
static void find_cycle(const struct pd_day_result *result, struct pd_quick_cycle *cycle)
{
    size_t last = result->run_count;

    cycle->starts = result->starts;
    cycle->starts_per_hour = result->starts * 3600.0 / result->end_time;
    cycle->run_time = NAN;
    cycle->rest_time = NAN;
    cycle->volume = NAN;
    cycle->runs_on = verdict_never_stops(result);
    // the first run may have been cut by midnight and the last too
    if (last >= 3) {
        const struct pd_run *run = &result->runs[last / 2];
        cycle->run_time = run->run_time;
        cycle->rest_time = run->rest_before;
        cycle->volume = result->delivered / (double)result->starts;
    }
}

static void check_cycle(struct pd_findings *findings, const struct pd_plant *plant,
                        const struct pd_quick_cycle *cycle)
{
    struct pd_motor_rule rule = pd_motor_rule_for(plant->scenario, NULL);
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .what = "starts per hour at this draw",
        .kind = PD_KIND_STARTS,
        .found = cycle->starts_per_hour,
        .sense = PD_SENSE_AT_MOST,
        .limit = rule.starts_per_hour,
        .source = rule.starts_source,
        .note = "a larger tank, or its precharge put right",
    };

    findings_add(findings, &line);
    line.what = "run of a cycle";
    line.kind = PD_KIND_TIME;
    line.found = cycle->run_time;
    line.sense = PD_SENSE_AT_LEAST;
    line.limit = rule.least_run;
    line.source = "common practice, no source";
    line.note = "a longer run-on or a larger tank";
    findings_add(findings, &line);
    line.level = rule.rest_is_assumed ? PD_LEVEL_WARN : PD_LEVEL_FAIL;
    line.what = "rest of a cycle";
    line.found = cycle->rest_time;
    line.limit = rule.least_rest;
    line.source = rule.rest_source;
    line.note = "the tank gives too little water between two starts";
    findings_add(findings, &line);
}

/* What the cycle's figures leave open. */
static void check_running(struct pd_findings *findings, const struct pd_quick_cycle *cycle,
                          const struct pd_day_result *result)
{
    struct pd_finding line = {
        .level = PD_LEVEL_OK,
        .what = "the pump at this draw",
        .found = NAN,
        .words = "starts and stops",
        .source = "simulated day",
    };

    if (result->ending == PD_ENDING_CHATTER) {
        line.level = PD_LEVEL_FAIL;
        line.words = "chatters";
        line.note = "start pressure, precharge and pump do not go together";
    } else if (cycle->runs_on) {
        line.words = "does not stop";
        line.note = "the draw is over the stop flow: it runs as long as the tap is open";
    } else if (verdict_never_ran(result)) {
        line.level = PD_LEVEL_WARN;
        line.words = "does not start";
        line.note = "the supply alone holds the start pressure at this draw";
    }
    findings_add(findings, &line);
}

/* What the curve gives with the start pressure at the gauge; nothing if it does not come up to it.
 */
static double flow_at_start(const struct pd_quick *quick, const struct pd_plant *plant,
                            double start)
{
    double fall = (quick->shutoff - quick->duty_head) / (quick->duty_flow * quick->duty_flow);
    double head = (start - quick->supply) / plant->specific_weight;

    return sqrt(fmax(quick->shutoff - head, 0) / fall);
}

static void check_draw(struct pd_findings *findings, const struct pd_quick *quick,
                       const struct pd_plant *plant, double start)
{
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .what = "flow given at the start pressure",
        .kind = PD_KIND_FLOW,
        .found = flow_at_start(quick, plant, start),
        .sense = PD_SENSE_AT_LEAST,
        .limit = quick->draw,
        .source = "the draw; the curve through the duty point",
        .note = "the taps get less than this draw: a larger pump, or a lower start pressure",
    };

    findings_add(findings, &line);
}

static void check_static(struct pd_findings *findings, const struct pd_plant *plant)
{
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .what = "static pressure, boosted",
        .kind = PD_KIND_PRESSURE,
        .found = findings_shutoff_pressure(plant),
        .sense = PD_SENSE_AT_MOST,
        .limit = plant->scenario->value[PD_LIMIT_STATIC_PRESSURE],
        .source = findings_static_source(plant->scenario),
        .note = "a reducing valve behind the pump, or a pump of less head",
    };

    findings_add(findings, &line);
    line.what = "incoming pressure, against the code";
    line.found = plant->highest_supply;
    line.note = "a reducing valve where the pipe comes in, pump or not";
    findings_add(findings, &line);
    line.what = "incoming pressure, against the least";
    line.sense = PD_SENSE_AT_LEAST;
    line.limit = pd_codes_of(plant->scenario)->least_main;
    line.source = pd_codes_of(plant->scenario)->main_source;
    line.note = "if it is a main: ask the supplier before anything is drawn from it by a pump";
    findings_add(findings, &line);
}

static bool quick_day(const struct pd_quick *quick, const struct pd_plant *plant,
                      const struct pd_day_options *options, struct pd_findings *findings,
                      struct pd_quick_cycle *cycle, struct pd_error *error)
{
    struct pd_strategy strategy = pd_strategy_for(pd_strategy_find("pressure-start"), plant);
    struct pd_day *day = pd_day_create(error);
    struct pd_day_result result;
    bool good = day != NULL && pd_day_run(day, plant, &strategy, options, &result, error);

    if (good) {
        find_cycle(&result, cycle);
        cycle->start_pressure = strategy.start_pressure;
        cycle->precharge = strategy.precharge;
        check_running(findings, cycle, &result);
        check_draw(findings, quick, plant, strategy.start_pressure);
        check_cycle(findings, plant, cycle);
        findings_precharge(findings, plant, &strategy);
        findings_start(findings, plant, &strategy);
        check_static(findings, plant);
        // there is but one strategy here
        for (size_t i = 0; i < findings->count; i++) {
            findings->list[i].strategy = NULL;
        }
    }
    pd_day_free(day);
    return good;
}

bool pd_quick_check(const struct pd_quick *quick, const struct pd_day_options *day,
                    struct pd_findings *findings, struct pd_quick_cycle *cycle,
                    struct pd_error *error)
{
    struct pd_scenario scenario;
    struct pd_plant plant;

    memset(findings, 0, sizeof *findings);
    memset(cycle, 0, sizeof *cycle);
    if (!pd_quick_scenario(quick, &scenario, error)) {
        return false;
    }
    bool good = pd_plant_build(&scenario, &plant, error);
    if (good) {
        good = quick_day(quick, &plant, day, findings, cycle, error);
        pd_plant_free(&plant);
    }
    pd_scenario_free(&scenario);
    return good;
}
