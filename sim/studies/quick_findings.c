/* The lines of a quick check. */
#include "scenario/codes.h"
#include "studies/findings.h"
#include "studies/quick_parts.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

/* What the cycle's figures leave open. */
static void add_running(struct pd_findings *findings, const struct pd_quick_found *found)
{
    bool told = !isnan(found->told.draw);
    const struct pd_quick_cycle *cycle = told ? &found->told : &found->worst;
    struct pd_finding line = {
        .fault = PD_FAULT_CHATTERS,
        .what = told ? "the pump at this draw" : "the pump at the worst draw",
        .found = NAN,
        .words = "starts and stops",
        .source = "simulated",
    };

    if (found->chatters) {
        line.level = PD_LEVEL_FAIL;
        line.words = "chatters";
        line.note = "start pressure, precharge and pump do not go together";
    } else if (!(found->drawing_flow > 0)) {
        line.level = PD_LEVEL_FAIL;
        line.fault = PD_FAULT_START_TOO_HIGH;
        line.words = "cannot reach its start";
        line.note = "the start pressure is over what the pump gives at no flow";
    } else if (found->worst.runs_on) {
        line.level = PD_LEVEL_FAIL;
        line.fault = PD_FAULT_NEVER_STOPS;
        line.words = "never stops";
        line.note = "it runs on at any draw: the stop pressure is over what it gives";
    } else if (cycle->runs_on) {
        line.words = "does not stop";
        line.note = "the draw holds it on: it runs as long as the tap is open";
    } else if (!(cycle->starts_per_hour > 0)) {
        line.level = PD_LEVEL_WARN;
        line.words = told ? "does not start" : "does not cycle";
        line.note = "the supply alone holds the start pressure, or the tank lasts for hours";
    }
    findings_add(findings, &line);
}

static void add_given(struct pd_findings *findings, const struct pd_quick_found *found)
{
    bool told = !isnan(found->told.draw);

    findings_add(findings, &(struct pd_finding){
                               .level = told ? PD_LEVEL_FAIL : PD_LEVEL_OK,
                               .fault = PD_FAULT_LOW_TAPS,
                               .what = "flow given at the start pressure",
                               .kind = PD_KIND_FLOW,
                               .found = found->drawing_flow,
                               .sense = told ? PD_SENSE_AT_LEAST : PD_SENSE_TELLS,
                               .limit = found->told.draw,
                               .source = told ? "the draw; the curve through the duty point"
                                              : "the curve through the duty point",
                               .note = told ? "the taps get less than this draw: a larger pump, or "
                                              "a lower start pressure"
                                            : NULL,
                           });
}

static void add_starts(struct pd_findings *findings, const struct pd_motor_rule *rule,
                       const struct pd_quick_found *found)
{
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .fault = PD_FAULT_SHORT_CYCLING,
        .what = "starts per hour at the worst draw",
        .kind = PD_KIND_STARTS,
        .found = found->worst.starts_per_hour,
        .sense = PD_SENSE_AT_MOST,
        .limit = rule->starts_per_hour,
        .source = rule->starts_source,
        .note = "a larger tank, or its precharge put right",
    };

    findings_add(findings, &line);
    if (!isnan(found->told.draw)) {
        line.what = "starts per hour at this draw";
        line.found = found->told.starts_per_hour;
        findings_add(findings, &line);
    }
}

static void add_times(struct pd_findings *findings, const struct pd_motor_rule *rule,
                      const struct pd_quick_found *found)
{
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .fault = PD_FAULT_SHORT_CYCLING,
        .what = "shortest run, at any draw",
        .kind = PD_KIND_TIME,
        .found = found->shortest_run,
        .sense = PD_SENSE_AT_LEAST,
        .limit = rule->least_run,
        .source = rule->run_source,
        .note = "a larger tank, or a wider band between start and stop",
    };

    findings_add(findings, &line);
    if (isfinite(rule->usual_run)) {
        line.level = PD_LEVEL_WARN;
        line.what = "the same, by a pressure switch";
        line.limit = rule->usual_run;
        line.source = "common practice, no source";
        line.note = "the tank gives less than a minute of the pump's flow";
        findings_add(findings, &line);
    }
    line.level = rule->rest_is_assumed ? PD_LEVEL_WARN : PD_LEVEL_FAIL;
    line.fault = PD_FAULT_SHORT_RESTS;
    line.what = "shortest rest, at any draw";
    line.found = found->shortest_rest;
    line.limit = rule->least_rest;
    line.source = rule->rest_source;
    line.note = "the tank gives too little water between two starts";
    findings_add(findings, &line);
}

/* Nothing to tell where there is no limit on starts or no cycle. */
static void add_tank(struct pd_findings *findings, const struct pd_motor_rule *rule,
                     const struct pd_quick_found *found)
{
    struct pd_finding line = {
        .what = "smallest tank that passes",
        .kind = PD_KIND_VOLUME,
        .found = found->smallest_tank,
        .source = "sizes usual in the trade, the precharge right, at the worst draw",
    };

    if (!isfinite(rule->starts_per_hour) ||
        !(found->worst.starts_per_hour > 0 || found->chatters)) {
        return;
    }
    if (isnan(found->smallest_tank)) {
        line.level = PD_LEVEL_WARN;
        line.words = "none";
        line.note = "no usual size does: a wider band between start and stop, or a pump of less "
                    "flow";
    }
    findings_add(findings, &line);
}

/* The pressures at no flow. */
static void add_static(struct pd_findings *findings, const struct pd_plant *plant,
                       const struct pd_strategy *strategy)
{
    const struct pd_day_result standing = {.strategy = *strategy, .highest_header_pressure = NAN};

    if (isfinite(strategy->stop_pressure)) {
        findings_add(findings, &(struct pd_finding){
                                   .level = PD_LEVEL_FAIL,
                                   .fault = PD_FAULT_NEVER_STOPS,
                                   .what = "stop pressure, under the pump's most",
                                   .kind = PD_KIND_PRESSURE,
                                   .found = strategy->stop_pressure,
                                   .sense = PD_SENSE_AT_MOST,
                                   .limit = findings_shutoff_pressure(plant) - 5 * FINDINGS_PSI,
                                   .source = "at least 5 psi under it; common practice, no source",
                                   .note = "the pump hardly gets up to it, and may never stop",
                               });
    }
    findings_static(findings, plant, &standing);
    findings_add(findings, &(struct pd_finding){
                               .what = "highest pressure at the tank",
                               .kind = PD_KIND_PRESSURE,
                               .found = findings_shutoff_pressure(plant),
                               .source = "pump at no flow; the tank's plate must say no less",
                           });
}

static void add_main(struct pd_findings *findings, const struct pd_plant *plant)
{
    const struct pd_codes *codes = pd_codes_of(plant->scenario);

    findings_add(findings, &(struct pd_finding){
                               .level = PD_LEVEL_FAIL,
                               .fault = PD_FAULT_WEAK_MAIN,
                               .what = "pressure of the main at rest",
                               .kind = PD_KIND_PRESSURE,
                               .found = plant->lowest_supply,
                               .sense = PD_SENSE_AT_LEAST,
                               .limit = codes->least_main,
                               .source = codes->main_source,
                               .note = "if it is a main: ask the supplier before anything is drawn "
                                       "from it by a pump",
                           });
}

/* The main with the pump drawing all that it gives, as far as the pipe to the pump tells. */
static void add_drawing(struct pd_findings *findings, const struct pd_plant *plant,
                        const struct pd_quick *quick, const struct pd_quick_found *found)
{
    const struct pd_codes *codes = pd_codes_of(plant->scenario);
    double bore = plant->branch[0].service.pipe.diameter;
    struct pd_finding line = {
        .level = PD_LEVEL_WARN,
        .what = "least pressure, pump drawing",
        .kind = PD_KIND_PRESSURE,
        .found = found->drawing_pressure,
        .sense = PD_SENSE_AT_LEAST,
        .limit = codes->least_main,
        .source = codes->main_source,
        .note = "at the pump's inlet, with all that it gives at its start pressure: gauge it while "
                "the pump runs",
    };

    if (isnan(quick->pipe_bore)) {
        line.found = NAN;
        line.words = "unknown";
        line.sense = PD_SENSE_TELLS;
        line.note = "it falls under the pressure at rest: tell the pipe to the pump (--pipe), or "
                    "gauge it while the pump runs";
        findings_add(findings, &line);
        return;
    }
    findings_add(findings, &line);
    line.level = PD_LEVEL_FAIL;
    line.fault = PD_FAULT_POOR_SUCTION;
    line.what = "the same, against the cut-off";
    line.limit = codes->least_suction;
    line.source = codes->suction_source;
    line.note = "the main is drawn too far down: a wider or shorter pipe, less flow, a break tank";
    findings_add(findings, &line);
    line.fault = PD_FAULT_FAST_SUCTION;
    line.what = "velocity in the pipe then";
    line.kind = PD_KIND_VELOCITY;
    line.found = found->drawing_flow / (pi / 4 * bore * bore);
    line.sense = PD_SENSE_AT_MOST;
    line.limit = codes->greatest_velocity;
    line.source = codes->velocity_source;
    line.note = "a wider pipe is quieter and loses less";
    findings_add(findings, &line);
}

/* What the limits on starts and rests hang on, and was not told. */
static void add_motor(struct pd_findings *findings, const struct pd_motor_rule *rule)
{
    struct pd_finding line = {
        .level = PD_LEVEL_WARN,
        .what = "rated power of the motor",
        .kind = PD_KIND_POWER,
        .found = rule->power,
        .source = "estimated from the curve: 0.35 wire to water, 0.80 of it the motor",
        .note = "starts and rests follow from it: read the motor's plate, tell --motor",
    };

    if (rule->power_is_estimated) {
        findings_add(findings, &line);
    }
    if (rule->phases_missing) {
        line.what = "phases of the motor";
        line.found = NAN;
        line.words = "unknown";
        line.source = "the motor's plate";
        line.note = "the stricter limits of single-phase and polyphase hold: tell --phases";
        findings_add(findings, &line);
    }
}

void quick_findings(struct pd_findings *findings, const struct pd_quick *quick,
                    const struct pd_plant *plant, const struct pd_strategy *strategy,
                    const struct pd_quick_found *found)
{
    struct pd_motor_rule rule = pd_motor_rule_for(plant->scenario, strategy);

    add_running(findings, found);
    add_given(findings, found);
    add_starts(findings, &rule, found);
    add_times(findings, &rule, found);
    add_tank(findings, &rule, found);
    findings_precharge(findings, plant, strategy);
    findings_start(findings, plant, strategy);
    add_static(findings, plant, strategy);
    add_main(findings, plant);
    add_drawing(findings, plant, quick, found);
    add_motor(findings, &rule);
    // there is but one strategy here
    for (size_t i = 0; i < findings->count; i++) {
        findings->list[i].strategy = NULL;
    }
}
