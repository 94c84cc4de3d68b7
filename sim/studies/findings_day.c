/* What a strategy's simulated day shows: suction, starts, pressures at the taps, duty. */
#include "studies/findings.h"
#include "studies/verdict.h"

#include <math.h>

/* Greatest velocity in a water pipe, 8 ft/s; source: Chicago municipal code 18-29-604.10.1.2. */
static const double greatest_velocity = 8 * 0.3048;

/* Margin of suction head under which a warning is due; common practice, no source. */
static const double npsh_margin = 0.5;

/* Common practice, no source: the precharge stands 2 psi under the start pressure; it passes
 * between 0.5 and 5 psi under it. */
static const double precharge_nearest = 0.5 * FINDINGS_PSI;
static const double precharge_farthest = 5 * FINDINGS_PSI;

/* Wire-to-water efficiency between which figures of a small booster look right; a rule of thumb. */
static const double least_efficiency = 0.10, greatest_efficiency = 0.70;

/* A pump may run this long without flow and pressure before it counts as running dry: its own
 * run-up, the filling of an empty pipe. */
static const double dry_grace = 10;

static const double pi = 3.14159265358979323846;

static void add_suction(struct pd_findings *findings, const struct pd_plant *plant,
                        const struct watched_day *seen, const char *strategy)
{
    struct pd_finding line = {
        .level = PD_LEVEL_WARN,
        .strategy = strategy,
        .what = "lowest suction pressure",
        .kind = PD_KIND_PRESSURE,
        .found = seen->result->lowest_suction_pressure,
        .sense = PD_SENSE_AT_LEAST,
        .limit = FINDINGS_LEAST_MAIN,
        .source = "10 NYCRR 5-1.27, in the main",
        .note = "at the pump, behind the service pipe: the main itself may still be above; gauge "
                "it while the pump runs",
    };

    if (plant->supply_kind != PD_SUPPLY_MAIN) {
        line.sense = PD_SENSE_TELLS;
        line.level = PD_LEVEL_OK;
        line.source = "";
        line.note = NULL;
        findings_add(findings, &line);
        return;
    }
    findings_add(findings, &line);
    line.level = PD_LEVEL_FAIL;
    line.what = "lowest suction, against the cut-off";
    line.limit = FINDINGS_LEAST_SUCTION;
    line.source = "Chicago 18-29";
    line.note = "a suction cut-off would trip, or the main is drawn too far down: larger service "
                "pipe, less flow, or a break tank";
    findings_add(findings, &line);
}

/* Available head at the worst moment against what the pump asks for at that flow. */
static void add_npsh(struct pd_findings *findings, const struct pd_plant *plant,
                     const struct watched_day *seen, const char *strategy)
{
    double margin = seen->result->lowest_npsh_margin;
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .strategy = strategy,
        .what = "suction head (NPSH) available",
        .kind = PD_KIND_HEAD,
        .sense = PD_SENSE_AT_LEAST,
        .source = "npsh_required of pump.csv",
        .note = "the pump cavitates: lower it, shorten or widen the suction pipe, or draw less",
    };

    if (isfinite(margin) && isfinite(seen->npsh_flow)) {
        line.limit = pd_curve_at(&plant->npsh_required, seen->npsh_flow, NULL);
        line.found = line.limit + margin;
        if (margin >= 0 && margin < npsh_margin) {
            line.level = PD_LEVEL_WARN;
            line.decided = true;
            line.note = "hardly any margin";
        }
    } else {
        line.found = pd_npsh_available(seen->lowest_inlet, plant->atmosphere,
                                       plant->water.vapour_pressure, plant->water.density);
        line.level = line.found > 0 ? PD_LEVEL_WARN : PD_LEVEL_FAIL;
        line.sense = PD_SENSE_TELLS;
        line.source = "simulated day";
        line.note = line.found > 0 ? "pump.csv has no npsh_required: compare with the pump's sheet"
                                   : "the water boils at the inlet";
    }
    findings_add(findings, &line);
}

static void add_velocity(struct pd_findings *findings, const struct pd_plant *plant,
                         const struct watched_day *seen, const char *strategy)
{
    double bore = plant->service.pipe.diameter;

    findings_add(findings, &(struct pd_finding){
                               .level = PD_LEVEL_FAIL,
                               .strategy = strategy,
                               .what = "highest velocity in the suction pipe",
                               .kind = PD_KIND_VELOCITY,
                               .found = seen->highest_flow / (pi / 4 * bore * bore),
                               .sense = PD_SENSE_AT_MOST,
                               .limit = greatest_velocity,
                               .source = "Chicago 18-29-604.10.1.2",
                               .note = "a wider suction pipe is quieter and loses less",
                           });
}

static void add_starts(struct pd_findings *findings, const struct pd_plant *plant,
                       const struct watched_day *seen, const char *strategy)
{
    const struct pd_scenario *scenario = plant->scenario;
    struct pd_limits limits = pd_limits_for(scenario);
    bool own = scenario->given[PD_LIMIT_STARTS_PER_DAY];
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .strategy = strategy,
        .what = "starts in the worst hour",
        .kind = PD_KIND_STARTS,
        .found = seen->result->starts_in_worst_hour,
        .sense = PD_SENSE_AT_MOST,
        .limit = limits.starts_per_hour,
        .source = limits.starts_source,
        .note = "a larger tank, its precharge put right, or the leak found",
    };

    findings_add(findings, &line);
    line.what = "starts in the day";
    line.found = seen->result->starts;
    line.limit = limits.starts_per_day;
    line.source = own ? "limit.starts_per_day" : "Water Systems Council tank standard";
    findings_add(findings, &line);
}

static void add_times(struct pd_findings *findings, const struct pd_plant *plant,
                      const struct watched_day *seen, const char *strategy)
{
    const struct pd_scenario *scenario = plant->scenario;
    struct pd_motor_rule rule = pd_motor_rule_for(scenario);
    bool own = scenario->given[PD_LIMIT_SHORTEST_RUN];
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .strategy = strategy,
        .what = "shortest run",
        .kind = PD_KIND_TIME,
        .found = seen->result->shortest_run,
        .sense = PD_SENSE_AT_LEAST,
        .limit = scenario->value[PD_LIMIT_SHORTEST_RUN],
        .source = own ? "limit.shortest_run" : "limit.shortest_run; common practice, no source",
        .note = "a longer run-on or a larger tank",
    };

    findings_add(findings, &line);
    line.level = rule.rest_is_assumed ? PD_LEVEL_WARN : PD_LEVEL_FAIL;
    line.what = "shortest rest";
    line.found = seen->result->shortest_rest;
    line.limit = rule.least_rest;
    line.source = rule.rest_source;
    line.note = rule.rest_is_assumed
                    ? "nothing is published for such a motor: ask its maker"
                    : "guard.least_rest can hold the pump back, at the cost of pressure";
    findings_add(findings, &line);
}

/* The lowest header pressure at which the tank must still give water [Pa gauge]. */
static double precharge_reference(const struct pd_plant *plant, const struct pd_strategy *strategy)
{
    if (!isnan(strategy->start_pressure)) {
        return strategy->start_pressure;
    }
    return pd_plant_unboosted(plant, plant->lowest_supply, strategy->start_flow);
}

/* A start pressure that the pump cannot reach keeps it running, or starting, for ever. */
void findings_start(struct pd_findings *findings, const struct pd_plant *plant,
                    const struct pd_strategy *strategy)
{
    findings_add(findings,
                 &(struct pd_finding){
                     .level = PD_LEVEL_FAIL,
                     .strategy = strategy->kind->name,
                     .what = "start pressure, under the static one",
                     .kind = PD_KIND_PRESSURE,
                     .found = strategy->start_pressure,
                     .sense = PD_SENSE_AT_MOST,
                     .limit = plant->lowest_supply + plant->pump.shutoff - 5 * FINDINGS_PSI,
                     .source = "at least 5 psi under it; common practice, no source",
                     .note = "the pump hardly gets above its own start pressure",
                 });
}

void findings_precharge(struct pd_findings *findings, const struct pd_plant *plant,
                        const struct pd_strategy *strategy)
{
    double reference = precharge_reference(plant, strategy);
    double under = reference - strategy->precharge;
    struct pd_finding line = {
        .level = PD_LEVEL_FAIL,
        .strategy = strategy->kind->name,
        .what = "precharge, under the start pressure",
        .kind = PD_KIND_PRESSURE,
        .found = strategy->precharge,
        .sense = PD_SENSE_AT_MOST,
        .limit = reference,
        .source = "2 psi under it; common practice, no source",
        .note = "the tank is empty before the pump starts: let gas out",
    };

    if (under >= 0 && (under < precharge_nearest || under > precharge_farthest)) {
        line.level = PD_LEVEL_WARN;
        line.decided = true;
        line.note = under < precharge_nearest ? "too near: the tank empties as the pump starts"
                                              : "lower than need be: the tank gives less water";
    }
    findings_add(findings, &line);
}

/* How the day went as a whole, in the order in which it matters. */
struct behaviour {
    bool (*is_so)(const struct watched_day *seen);
    enum pd_level level;
    const char *words, *note;
};

static bool chatters(const struct watched_day *seen)
{
    return seen->result->ending == PD_ENDING_CHATTER;
}

/* Full of water, but too weak for what it is told to hold. */
static bool is_out_of_reach(const struct watched_day *seen)
{
    return !verdict_never_ran(seen->result) && seen->result->strategy.start_pressure >= seen->reach;
}

static bool runs_dry(const struct watched_day *seen)
{
    return seen->result->locked_out || seen->longest_dry > dry_grace;
}

static bool moves_no_water(const struct watched_day *seen)
{
    return verdict_moves_no_water(seen->result);
}

static bool is_tripped(const struct watched_day *seen)
{
    return seen->result->suction_trips > 0;
}

static bool never_starts(const struct watched_day *seen)
{
    return verdict_never_ran(seen->result) && verdict_low_taps(seen->result);
}

static bool is_not_needed(const struct watched_day *seen)
{
    return verdict_never_ran(seen->result);
}

static bool never_stops(const struct watched_day *seen)
{
    return verdict_never_stops(seen->result);
}

static bool behaves(const struct watched_day *seen)
{
    return seen->result->ending == PD_ENDING_MIDNIGHT;
}

static const struct behaviour behaviours[] = {
    {is_out_of_reach, PD_LEVEL_FAIL, "cannot reach its start",
     "the start pressure is over what the pump gives at no flow on the lowest supply"},
    {chatters, PD_LEVEL_FAIL, "chatters", "it starts and stops without end: settings or tank"},
    {runs_dry, PD_LEVEL_FAIL, "runs dry",
     "no water comes to the pump: guard.dry_run_time is to stop it"},
    {never_starts, PD_LEVEL_FAIL, "never starts", "the taps go short and nothing starts the pump"},
    {never_stops, PD_LEVEL_FAIL, "never stops",
     "a leak over the stop flow, or a stop pressure that the pump does not reach"},
    {moves_no_water, PD_LEVEL_FAIL, "moves no water",
     "a dry supply, or a pump too weak to open the check valve"},
    {is_tripped, PD_LEVEL_FAIL, "tripped by low suction", "the supply does not give what is drawn"},
    {is_not_needed, PD_LEVEL_OK, "pump not needed", NULL},
    {behaves, PD_LEVEL_OK, "starts and stops", NULL},
};

static void add_behaviour(struct pd_findings *findings, const struct watched_day *seen,
                          const char *strategy)
{
    size_t i = 0;

    while (i < sizeof behaviours / sizeof behaviours[0] - 1 && !behaviours[i].is_so(seen)) {
        i++;
    }
    findings_add(findings, &(struct pd_finding){
                               .level = behaviours[i].level,
                               .strategy = strategy,
                               .what = "the pump through the day",
                               .found = NAN,
                               .words = behaviours[i].words,
                               .source = "simulated day",
                               .note = behaviours[i].note,
                           });
}

static void add_taps(struct pd_findings *findings, const struct pd_plant *plant,
                     const struct watched_day *seen, const char *strategy)
{
    bool low = verdict_low_taps(seen->result);
    bool own = plant->scenario->given[PD_LIMIT_TAP_PRESSURE];
    bool dips = !low && seen->result->lowest_tap_pressure < plant->tap_limit;

    findings_add(findings, &(struct pd_finding){
                               .level = low    ? PD_LEVEL_FAIL
                                        : dips ? PD_LEVEL_WARN
                                               : PD_LEVEL_OK,
                               .strategy = strategy,
                               .what = "lowest tap pressure under draw",
                               .kind = PD_KIND_PRESSURE,
                               .found = seen->result->lowest_tap_pressure,
                               .sense = PD_SENSE_AT_LEAST,
                               .decided = low || dips,
                               .limit = plant->tap_limit,
                               .source = own ? "limit.tap_pressure" : "older UPC, highest fixture",
                               .note = low ? "for more than a hundredth of the time with a tap open"
                                           : "for moments only",
                           });
}

/* Where the pump runs most, and whether its figures look right there. */
static void add_duty(struct pd_findings *findings, const struct pd_plant *plant,
                     const struct watched_day *seen, const char *strategy)
{
    double flow = seen->usual_flow;
    struct pd_finding line = {
        .level = PD_LEVEL_WARN,
        .strategy = strategy,
        .what = "usual flow of the pump",
        .kind = PD_KIND_FLOW,
        .found = flow,
        .sense = PD_SENSE_AT_MOST,
        .limit = plant->pump.last_flow,
        .source = "last point of pump.csv",
        .note = "beyond its curve: the pump is too small for the draws",
    };

    if (isnan(flow)) {
        return;
    }
    findings_add(findings, &line);
    double by_flow, by_speed;
    double rise = pd_pump_rise(&plant->pump, flow, 1, &by_flow, &by_speed);
    double efficiency = pd_hydraulic_power(flow, rise) / pd_pump_power(&plant->pump, flow, NULL);
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

void findings_day(struct pd_findings *findings, const struct pd_plant *plant,
                  const struct watched_day *seen)
{
    const char *strategy = seen->result->strategy.kind->name;

    add_behaviour(findings, seen, strategy);
    add_starts(findings, plant, seen, strategy);
    add_times(findings, plant, seen, strategy);
    findings_start(findings, plant, &seen->result->strategy);
    findings_precharge(findings, plant, &seen->result->strategy);
    add_taps(findings, plant, seen, strategy);
    add_suction(findings, plant, seen, strategy);
    if (!verdict_never_ran(seen->result)) {
        add_npsh(findings, plant, seen, strategy);
        add_velocity(findings, plant, seen, strategy);
        add_duty(findings, plant, seen, strategy);
    }
}
