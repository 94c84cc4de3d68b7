/* What can be told of an installation without simulating a day: pressures at no flow, the supply,
 * the suction pipe. */
#include "scenario/codes.h"
#include "studies/findings.h"

#include <math.h>

double findings_shutoff_pressure(const struct pd_plant *plant)
{
    return plant->highest_supply + plant->branch[0].pump.shutoff;
}

const char *findings_static_source(const struct pd_scenario *scenario)
{
    return scenario->given[PD_LIMIT_STATIC_PRESSURE] ? "limit.static_pressure"
                                                     : pd_codes_of(scenario)->static_source;
}

static void add_tank_rating(struct pd_findings *findings, const struct pd_plant *plant)
{
    double rated = plant->scenario->value[PD_TANK_RATED_PRESSURE];
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .fault = PD_FAULT_TANK_RATING,
        .what = "static pressure at the tank",
        .kind = PD_KIND_PRESSURE,
        .found = findings_shutoff_pressure(plant),
        .sense = PD_SENSE_AT_MOST,
        .limit = rated,
        .source = "tank.rated_pressure",
        .note = "the tank must not see more than its plate says, even if a switch fails: relief "
                "valve, or another tank",
    };

    if (isnan(rated)) {
        line.level = PD_LEVEL_WARN;
        line.sense = PD_SENSE_TELLS;
        line.source = "the tank's plate";
        line.note = "tank.rated_pressure is not given: read the plate, it must be no less";
    }
    findings_add(findings, &line);
}

static void add_main(struct pd_findings *findings, const struct pd_plant *plant)
{
    const struct pd_codes *codes = pd_codes_of(plant->scenario);
    double guard = pd_guards_of(plant->scenario).low_suction;
    struct pd_finding cut_off = {
        .level = PD_LEVEL_FAIL,
        .fault = PD_FAULT_POOR_SUCTION,
        .what = "suction cut-off",
        .kind = PD_KIND_PRESSURE,
        .found = guard,
        .sense = PD_SENSE_AT_LEAST,
        .limit = codes->least_suction,
        .source = codes->suction_source,
        .note = "guard.low_suction must stop the pump before the suction is that low",
    };

    findings_add(findings, &(struct pd_finding){
                               .level = PD_LEVEL_FAIL,
                               .fault = PD_FAULT_WEAK_MAIN,
                               .what = "lowest pressure of the main",
                               .kind = PD_KIND_PRESSURE,
                               .found = plant->lowest_supply,
                               .sense = PD_SENSE_AT_LEAST,
                               .limit = codes->least_main,
                               .source = codes->main_source,
                               .note = "at no flow, at the pump's height: ask the supplier before "
                                       "anything is drawn from it by a pump",
                           });
    if (!isfinite(guard)) {
        cut_off.level = PD_LEVEL_WARN;
        cut_off.words = "none";
        cut_off.note =
            "a pump on a main wants one (guard.low_suction); local codes and the supplier decide";
    }
    findings_add(findings, &cut_off);
}

static void add_suction_pipe(struct pd_findings *findings, const struct pd_plant *plant)
{
    double inlet = plant->scenario->value[PD_PUMP_INLET_DIAMETER];
    struct pd_finding line = {
        .level = PD_LEVEL_WARN,
        .what = "bore of the suction pipe",
        .kind = PD_KIND_BORE,
        .found = plant->branch[0].service.pipe.diameter,
        .sense = PD_SENSE_AT_LEAST,
        .limit = inlet,
        .source = "the pump's inlet; common practice, no source",
        .note = "no smaller than the inlet, short, rising all the way to the pump",
    };

    if (isnan(inlet)) {
        line.sense = PD_SENSE_TELLS;
        line.note = "pump.inlet_diameter is not given: the pipe should be no smaller";
    }
    findings_add(findings, &line);
}

/* What the limits on starts and rests hang on, and was not told. */
static void add_motor(struct pd_findings *findings, const struct pd_plant *plant)
{
    struct pd_motor_rule rule = pd_motor_rule_for(plant->scenario, NULL);
    struct pd_finding line = {
        .level = PD_LEVEL_WARN,
        .what = "rated power of the motor",
        .kind = PD_KIND_POWER,
        .found = rule.power,
        .source = "estimated: 0.80 of pump.csv's greatest power",
        .note = "starts and rests follow from it: read the plate, set pump.motor_power",
    };

    if (rule.power_is_estimated) {
        findings_add(findings, &line);
    }
    if (rule.phases_missing) {
        line.what = "phases of the motor";
        line.found = NAN;
        line.words = "unknown";
        line.source = "the motor's plate";
        line.note = "the stricter limits of single-phase and polyphase hold: set pump.phases";
        findings_add(findings, &line);
    }
}

void findings_site(struct pd_findings *findings, const struct pd_plant *plant)
{
    add_tank_rating(findings, plant);
    if (plant->supply_kind == PD_SUPPLY_MAIN) {
        add_main(findings, plant);
    }
    add_suction_pipe(findings, plant);
    add_motor(findings, plant);
}
