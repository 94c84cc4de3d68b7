/* What a strategy's day shows of the pump's inlet, and where on its curve it works. */
#include "scenario/codes.h"
#include "studies/findings.h"

#include <math.h>

/* Margin of suction head under which a warning is due; common practice, no source. */
static const double npsh_margin = 0.5;

/* A pump that starts draws its inlet down for as long as the water in the pipe gathers way.  A
 * spell no longer than this is told but condemns nothing; by judgement, no source. */
static const double moment = 2;

/* Wire-to-water efficiency between which figures of a small booster look right; a rule of thumb. */
static const double least_efficiency = 0.10, greatest_efficiency = 0.70;

static const double pi = 3.14159265358979323846;

static void add_suction(struct pd_findings *findings, const struct pd_plant *plant,
                        const struct pd_day_result *result, const char *strategy)
{
    const struct pd_codes *codes = pd_codes_of(plant->scenario);
    struct pd_finding line = {
        .level = PD_LEVEL_WARN,
        .strategy = strategy,
        .what = "lowest suction pressure",
        .kind = PD_KIND_PRESSURE,
        .found = result->lowest_suction_pressure,
        .sense = PD_SENSE_AT_LEAST,
        .limit = codes->least_main,
        .source = codes->main_source,
        .note = "at the pump, behind the service pipe: the main itself may still be above; gauge "
                "it while the pump runs",
    };

    if (plant->supply_kind != PD_SUPPLY_MAIN) {
        line.fault = PD_FAULT_POOR_SUCTION;
        line.limit = plant->boiling;
        line.source = "vapour pressure of the water";
        line.note = "the water boils at the inlet: less lift, a wider pipe, or less flow";
        // it falls no lower
        line.decided = line.found <= plant->boiling;
        line.level = result->longest_short_suction > moment ? PD_LEVEL_FAIL : PD_LEVEL_WARN;
        findings_add(findings, &line);
        return;
    }
    findings_add(findings, &line);
    line.level = PD_LEVEL_FAIL;
    line.fault = PD_FAULT_POOR_SUCTION;
    line.what = "lowest suction, against the cut-off";
    line.limit = codes->least_suction;
    line.source = codes->suction_source;
    line.note = "the main is drawn too far down, be it for a moment as the pump starts: larger "
                "service pipe, less flow, or a break tank";
    findings_add(findings, &line);
}

/* Available head at the worst moment against what the pump asks for at that flow. */
static void add_npsh(struct pd_findings *findings, const struct pd_plant *plant,
                     const struct pd_day_result *result, const char *strategy)
{
    double margin = result->lowest_npsh_margin;
    bool boils = result->lowest_inlet_pressure <= plant->boiling;
    bool passes = result->longest_short_suction <= moment;
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .strategy = strategy,
        .fault = PD_FAULT_POOR_SUCTION,
        .what = "suction head (NPSH) available",
        .kind = PD_KIND_HEAD,
        .sense = PD_SENSE_AT_LEAST,
        .source = "npsh_required of pump.csv",
        .note = "the pump cavitates: lower it, shorten or widen the suction pipe, or draw less",
    };

    if (plant->branch[0].has_npsh && isfinite(margin)) {
        line.limit = pd_curve_at(&plant->branch[0].npsh_required, result->npsh_flow, NULL);
        line.found = line.limit + margin;
        if (margin >= 0 && margin < npsh_margin) {
            line.level = PD_LEVEL_WARN;
            line.decided = true;
            line.note = "hardly any margin";
        } else if (passes) {
            line.level = PD_LEVEL_WARN;
            line.note = "the pump cavitates for a moment as it starts: a shorter or wider suction "
                        "pipe spares it that";
        }
    } else {
        line.found = pd_npsh_available(result->lowest_inlet_pressure, plant->atmosphere,
                                       plant->water.vapour_pressure, plant->water.density);
        line.level = boils && !passes ? PD_LEVEL_FAIL : PD_LEVEL_WARN;
        line.sense = PD_SENSE_TELLS;
        line.source = "simulated day";
        line.note = boils ? "the water boils at the inlet"
                          : "pump.csv has no npsh_required: compare with the pump's sheet";
    }
    findings_add(findings, &line);
}

static void add_velocity(struct pd_findings *findings, const struct pd_plant *plant,
                         const struct pd_day_result *result, const char *strategy)
{
    const struct pd_codes *codes = pd_codes_of(plant->scenario);
    double bore = plant->branch[0].service.pipe.diameter;

    findings_add(findings, &(struct pd_finding){
                               .level = PD_LEVEL_FAIL,
                               .strategy = strategy,
                               .fault = PD_FAULT_FAST_SUCTION,
                               .what = "highest velocity in the suction pipe",
                               .kind = PD_KIND_VELOCITY,
                               .found = result->highest_flow / (pi / 4 * bore * bore),
                               .sense = PD_SENSE_AT_MOST,
                               .limit = codes->greatest_velocity,
                               .source = codes->velocity_source,
                               .note = "a wider suction pipe is quieter and loses less",
                           });
}

/* Beyond its last point the curve is a guess: how much of the water went there. */
static void add_off_curve(struct pd_findings *findings, const struct pd_day_result *result,
                          const char *strategy)
{
    double share = result->pumped_beyond_curve / result->pumped;
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .fault = PD_FAULT_OFF_CURVE,
        .strategy = strategy,
        .what = "water pumped beyond the pump's curve",
        .kind = PD_KIND_SHARE,
        .found = share,
        .sense = PD_SENSE_AT_MOST,
        .limit = FINDINGS_OFF_CURVE_FAIL,
        .source = "last point of pump.csv; shares by judgement, no source",
        .note =
            "head and power are guessed there: get more of the curve, a larger pump, or throttle",
    };

    if (share > FINDINGS_OFF_CURVE_WARN && share <= FINDINGS_OFF_CURVE_FAIL) {
        line.level = PD_LEVEL_WARN;
        line.decided = true;
        line.note = "head and power are guessed there: get more of the curve, or throttle";
    }
    findings_add(findings, &line);
}

/* Where the pump runs most, and whether its figures look right there. */
static void add_duty(struct pd_findings *findings, const struct pd_plant *plant,
                     const struct pd_day_result *result, const char *strategy)
{
    double flow = result->usual_flow;
    struct pd_finding line = {
        .level = PD_LEVEL_WARN,
        .strategy = strategy,
        .what = "usual flow of the pump",
        .kind = PD_KIND_FLOW,
        .found = flow,
        .sense = PD_SENSE_AT_MOST,
        .limit = plant->branch[0].pump.last_flow,
        .source = "last point of pump.csv",
        .note = "beyond its curve: the pump is too small for the draws",
    };

    if (isnan(flow)) {
        return;
    }
    findings_add(findings, &line);
    double by_flow, by_speed;
    double rise = pd_pump_rise(&plant->branch[0].pump, flow, 1, &by_flow, &by_speed);
    double efficiency =
        pd_hydraulic_power(flow, rise) / pd_pump_power(&plant->branch[0].pump, flow, NULL);
    bool odd = efficiency < least_efficiency || efficiency > greatest_efficiency;
    line.what = "head there";
    line.kind = PD_KIND_HEAD;
    line.found = rise / plant->specific_weight;
    line.sense = PD_SENSE_TELLS;
    line.level = PD_LEVEL_OK;
    line.source = "pump.csv";
    line.note = NULL;
    findings_add(findings, &line);
    line.level = odd ? PD_LEVEL_WARN : PD_LEVEL_OK;
    line.what = "efficiency there, wire to water";
    line.kind = PD_KIND_NUMBER;
    line.found = efficiency;
    line.source = "plausible 0.1 to 0.7; rule of thumb, no source";
    line.note =
        odd ? "look at head and power in pump.csv, and whether the pump suits the flow" : NULL;
    findings_add(findings, &line);
}

/* The day begins with a full cistern.  Days like it empty it unless the float valve, wide open,
 * makes good what they take. */
static void add_cistern(struct pd_findings *findings, const struct pd_plant *plant,
                        const struct pd_day_result *result, const char *strategy)
{
    double taken = result->supplied - plant->cistern_refill * result->end_time;
    double lost = fmax(taken, 0) / plant->cistern_area;
    struct pd_finding line = {
        .level = PD_LEVEL_WARN,
        .strategy = strategy,
        .what = "level lost by the cistern in a day",
        .kind = PD_KIND_LENGTH,
        .found = lost,
        .sense = PD_SENSE_AT_MOST,
        .limit = 0,
        .source = "what is drawn, less supply.refill all day",
        .note = "the day is not like the next: it is simulated from a full cistern",
    };

    // a well fills itself
    if (!plant->level_moves || plant->supply_kind != PD_SUPPLY_CISTERN ||
        result->ending != PD_ENDING_MIDNIGHT) {
        return;
    }
    findings_add(findings, &line);
    if (lost > 0 && isfinite(plant->cistern_empty_level)) {
        line.what = "day on which the cistern is empty";
        line.kind = PD_KIND_NUMBER;
        line.sense = PD_SENSE_TELLS;
        line.found = 1 + ceil((result->last_level - plant->cistern_empty_level) / lost);
        line.source = "supply.empty_level";
        line.note =
            "more refill, a larger cistern, or fewer draws; guard.dry_run_time stops the pump";
        findings_add(findings, &line);
    }
}

void findings_suction(struct pd_findings *findings, const struct pd_plant *plant,
                      const struct pd_day_result *result)
{
    const char *strategy = result->strategy.kind->name;

    add_suction(findings, plant, result, strategy);
    add_cistern(findings, plant, result, strategy);
    if (result->run_time > 0) {
        add_npsh(findings, plant, result, strategy);
        add_velocity(findings, plant, result, strategy);
        add_off_curve(findings, result, strategy);
        add_duty(findings, plant, result, strategy);
    }
}
