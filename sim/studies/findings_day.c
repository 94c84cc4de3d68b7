/* What a strategy's simulated day shows: how the pump behaves, its starts, pressures at the taps.
 */
#include "scenario/codes.h"
#include "studies/findings.h"
#include "studies/verdict.h"

#include <pumpday/check.h>

#include <math.h>

/* A pump may run this long without flow and pressure before it counts as running dry: its own
 * run-up, the filling of an empty pipe. */
static const double dry_grace = 10;

static void add_starts(struct pd_findings *findings, const struct pd_plant *plant,
                       const struct pd_day_result *result, const char *strategy)
{
    struct pd_limits limits = pd_limits_for(plant->scenario);
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .strategy = strategy,
        .fault = PD_FAULT_SHORT_CYCLING,
        .what = "starts in the worst hour",
        .kind = PD_KIND_STARTS,
        .found = result->starts_in_worst_hour,
        .sense = PD_SENSE_AT_MOST,
        .limit = limits.starts_per_hour,
        .source = limits.starts_source,
        .note = "a larger tank, its precharge put right, or the leak found",
    };

    findings_add(findings, &line);
    line.what = "starts in the day";
    line.found = result->starts;
    line.limit = limits.starts_per_day;
    line.source = limits.day_source;
    findings_add(findings, &line);
}

static void add_times(struct pd_findings *findings, const struct pd_plant *plant,
                      const struct pd_day_result *result, const char *strategy)
{
    struct pd_motor_rule rule = pd_motor_rule_for(plant->scenario, &result->strategy);
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .strategy = strategy,
        .fault = PD_FAULT_SHORT_CYCLING,
        .what = "shortest run",
        .kind = PD_KIND_TIME,
        .found = result->shortest_run,
        .sense = PD_SENSE_AT_LEAST,
        .limit = rule.least_run,
        .source = rule.run_source,
        .note = "a longer run-on or a larger tank",
    };

    findings_add(findings, &line);
    if (isfinite(rule.usual_run)) {
        line.level = PD_LEVEL_WARN;
        line.what = "shortest run, by a pressure switch";
        line.limit = rule.usual_run;
        line.source = "a minute; common practice, no source";
        line.note = "the tank gives less than a minute of the pump's flow: a larger one";
        findings_add(findings, &line);
    }
    line.level = rule.rest_is_assumed ? PD_LEVEL_WARN : PD_LEVEL_FAIL;
    line.fault = PD_FAULT_SHORT_RESTS;
    line.what = "shortest rest";
    line.found = result->shortest_rest;
    line.limit = rule.least_rest;
    line.source = rule.rest_source;
    line.note = rule.rest_is_assumed
                    ? "nothing is published for such a motor: ask its maker"
                    : "guard.least_rest can hold the pump back, at the cost of pressure";
    findings_add(findings, &line);
}

/* How the day went as a whole, in the order in which it matters; what makes a pump chatter goes
 * before that it does. */
struct behaviour {
    bool (*is_so)(const struct pd_day_result *result, const struct pd_plant *plant);
    enum pd_fault fault;
    const char *words, *note;
};

static bool chatters(const struct pd_day_result *result, const struct pd_plant *plant)
{
    (void)plant;
    return result->ending == PD_ENDING_CHATTER;
}

/* Full of water, but too weak for what it is told to hold. */
static bool is_out_of_reach(const struct pd_day_result *result, const struct pd_plant *plant)
{
    double reach = plant->lowest_supply + plant->branch[0].pump.shutoff;

    return !verdict_never_ran(result) && result->strategy.start_pressure >= reach;
}

static bool is_locked_out(const struct pd_day_result *result, const struct pd_plant *plant)
{
    (void)plant;
    return result->locked_out;
}

static bool runs_dry(const struct pd_day_result *result, const struct pd_plant *plant)
{
    (void)plant;
    return result->longest_dry > dry_grace;
}

static bool never_starts(const struct pd_day_result *result, const struct pd_plant *plant)
{
    (void)plant;
    return verdict_never_ran(result) && verdict_low_taps(result);
}

static bool never_stops(const struct pd_day_result *result, const struct pd_plant *plant)
{
    (void)plant;
    return verdict_never_stops(result);
}

static bool moves_no_water(const struct pd_day_result *result, const struct pd_plant *plant)
{
    (void)plant;
    return verdict_moves_no_water(result);
}

static bool is_tripped(const struct pd_day_result *result, const struct pd_plant *plant)
{
    (void)plant;
    return result->suction_trips > 0;
}

static const struct behaviour behaviours[] = {
    {is_out_of_reach, PD_FAULT_START_TOO_HIGH, "cannot reach its start",
     "the start pressure is over what the pump gives at no flow on the lowest supply"},
    {is_locked_out, PD_FAULT_LOCKED_OUT, "locked out",
     "guard.dry_run_time stopped it for the rest of the day: look at the supply"},
    {runs_dry, PD_FAULT_RUNS_DRY, "runs dry",
     "no water comes to the pump: guard.dry_run_time is to stop it"},
    {chatters, PD_FAULT_CHATTERS, "chatters", "it starts and stops without end: settings or tank"},
    {never_starts, PD_FAULT_NEVER_STARTS, "never starts",
     "the taps go short and nothing starts the pump"},
    {never_stops, PD_FAULT_NEVER_STOPS, "never stops",
     "a leak over the stop flow, or a stop pressure that the pump does not reach"},
    {moves_no_water, PD_FAULT_MOVES_NO_WATER, "moves no water",
     "a dry supply, or a pump too weak to open the check valve"},
    {is_tripped, PD_FAULT_SUCTION_TRIPS, "tripped by low suction",
     "the supply does not give what is drawn"},
};

/* Each fault of the whole day is a line of its own; without one the day was quiet. */
static void add_behaviour(struct pd_findings *findings, const struct pd_plant *plant,
                          const struct pd_day_result *result, const char *strategy)
{
    struct pd_finding line = {
        .strategy = strategy,
        .what = "the pump through the day",
        .found = NAN,
        .source = "simulated day",
    };
    size_t before = findings->count;

    for (size_t i = 0; i < sizeof behaviours / sizeof behaviours[0]; i++) {
        if (behaviours[i].is_so(result, plant)) {
            line.level = PD_LEVEL_FAIL;
            line.fault = behaviours[i].fault;
            line.words = behaviours[i].words;
            line.note = behaviours[i].note;
            findings_add(findings, &line);
        }
    }
    if (findings->count == before) {
        line.words = verdict_never_ran(result) ? "pump not needed" : "starts and stops";
        findings_add(findings, &line);
    }
}

static void add_taps(struct pd_findings *findings, const struct pd_plant *plant,
                     const struct pd_day_result *result, const char *strategy)
{
    bool low = verdict_low_taps(result);
    bool dips = !low && result->lowest_tap_pressure < plant->zone[0].tap_limit;

    findings_add(findings, &(struct pd_finding){
                               .level = low    ? PD_LEVEL_FAIL
                                        : dips ? PD_LEVEL_WARN
                                               : PD_LEVEL_OK,
                               .strategy = strategy,
                               .fault = PD_FAULT_LOW_TAPS,
                               .what = "lowest tap pressure under draw",
                               .kind = PD_KIND_PRESSURE,
                               .found = result->lowest_tap_pressure,
                               .sense = PD_SENSE_AT_LEAST,
                               .decided = low || dips,
                               .limit = plant->zone[0].tap_limit,
                               .source = pd_codes_tap_source(plant->scenario),
                               .note = low ? "for more than a hundredth of the time with a tap open"
                                           : "for moments only",
                           });
}

void findings_day(struct pd_findings *findings, const struct pd_plant *plant,
                  const struct pd_day_result *result)
{
    const char *strategy = result->strategy.kind->name;

    add_behaviour(findings, plant, result, strategy);
    add_starts(findings, plant, result, strategy);
    add_times(findings, plant, result, strategy);
    findings_start(findings, plant, &result->strategy);
    findings_precharge(findings, plant, &result->strategy);
    findings_static(findings, plant, result);
    add_taps(findings, plant, result, strategy);
    findings_suction(findings, plant, result);
}
