/* How a strategy is set, against what pump, supply and tank are: start, precharge, pressures at no
 * flow. */
#include "scenario/codes.h"
#include "studies/findings.h"

#include <math.h>

/* Common practice, no source: the precharge stands 2 psi under the start pressure; it passes
 * between 0.5 and 5 psi under it. */
static const double precharge_nearest = 0.5 * FINDINGS_PSI;
static const double precharge_farthest = 5 * FINDINGS_PSI;

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
    findings_add(findings, &(struct pd_finding){
                               .level = PD_LEVEL_FAIL,
                               .strategy = strategy->kind->name,
                               .fault = PD_FAULT_START_TOO_HIGH,
                               .what = "start pressure, under the static one",
                               .kind = PD_KIND_PRESSURE,
                               .found = strategy->start_pressure,
                               .sense = PD_SENSE_AT_MOST,
                               .limit = plant->lowest_supply + plant->branch[0].pump.shutoff -
                                        5 * FINDINGS_PSI,
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
        .fault = PD_FAULT_PRECHARGE,
        .what = "precharge, under the start pressure",
        .kind = PD_KIND_PRESSURE,
        .found = strategy->precharge,
        .sense = PD_SENSE_AT_MOST,
        .limit = reference,
        .source = "2 psi under it; common practice, no source",
        .note = "the tank is empty before the pump starts: let gas out",
    };

    if (strategy->precharge <= 0) {
        line.level = PD_LEVEL_WARN;
        line.note = "the start lies under the pressure of the air: no tank helps there";
    } else if (under == 0) {
        line.decided = true;
        line.note = "not under it: the tank is empty as the pump starts; let gas out";
    } else if (under > 0 && (under < precharge_nearest || under > precharge_farthest)) {
        line.level = PD_LEVEL_WARN;
        line.decided = true;
        line.note = under < precharge_nearest ? "too near: the tank empties as the pump starts"
                                              : "lower than need be: the tank gives less water";
    }
    findings_add(findings, &line);
}

/* A charged tank is a pressure vessel at its precharge too. */
static void add_precharge_rating(struct pd_findings *findings, const struct pd_plant *plant,
                                 const struct pd_strategy *strategy)
{
    double rated = plant->scenario->value[PD_TANK_RATED_PRESSURE];

    if (isnan(rated)) {
        return;
    }
    findings_add(findings, &(struct pd_finding){
                               .level = PD_LEVEL_FAIL,
                               .fault = PD_FAULT_TANK_RATING,
                               .strategy = strategy->kind->name,
                               .what = "precharge, against the tank's rating",
                               .kind = PD_KIND_PRESSURE,
                               .found = strategy->precharge,
                               .sense = PD_SENSE_AT_MOST,
                               .limit = rated,
                               .source = "tank.rated_pressure",
                               .note = "never charge a tank beyond its plate: let gas out",
                           });
}

static double lowest_fixture_pressure(const struct pd_plant *plant)
{
    const double *value = plant->scenario->value;

    // the taps of the model may be told to stand lower than the lowest fixture
    return plant->specific_weight * fmin(value[PD_HOUSE_LOWEST_FIXTURE], value[PD_HOUSE_ELEVATION]);
}

/* The most that the header stands at while nothing flows [Pa gauge]: a switch that stops by
 * pressure holds it at its stop, any other control lets the pump run up to its shutoff. */
static double standing_pressure(const struct pd_plant *plant, const struct pd_strategy *strategy)
{
    double shutoff = findings_shutoff_pressure(plant);

    return isfinite(strategy->stop_pressure)
               ? fmax(fmin(strategy->stop_pressure, shutoff), plant->highest_supply)
               : shutoff;
}

/* Over the limit already without the pump, or by the pump. */
static void add_reducing_valve(struct pd_findings *findings, const struct pd_plant *plant,
                               const char *strategy, double standing)
{
    double limit = plant->scenario->value[PD_LIMIT_STATIC_PRESSURE];
    double lowest = lowest_fixture_pressure(plant);
    struct pd_finding line = {
        .level = PD_LEVEL_OK,
        .fault = PD_FAULT_OVER_PRESSURE,
        .strategy = strategy,
        .what = "pressure-reducing valve",
        .found = NAN,
        .words = "not needed",
        .source = plant->scenario->given[PD_LIMIT_STATIC_PRESSURE]
                      ? "limit.static_pressure"
                      : pd_codes_of(plant->scenario)->valve_source,
    };

    if (plant->highest_supply - lowest > limit) {
        line.level = PD_LEVEL_FAIL;
        line.words = "needed, pump or not";
        line.note = "the incoming pressure alone is over the limit: fit it where the pipe comes in";
    } else if (standing - lowest > limit) {
        line.level = PD_LEVEL_FAIL;
        line.words = "needed behind the pump";
        line.note = "the pump lifts the pressure over the limit: fit it behind pump and tank, or "
                    "take a pump of less head";
    }
    findings_add(findings, &line);
}

void findings_static(struct pd_findings *findings, const struct pd_plant *plant,
                     const struct pd_day_result *result)
{
    const struct pd_strategy *strategy = &result->strategy;
    bool by_switch = isfinite(strategy->stop_pressure);
    // what the day showed may be more: run-up and a ringing header
    double standing = fmax(standing_pressure(plant, strategy), result->highest_header_pressure);

    add_precharge_rating(findings, plant, strategy);
    findings_add(findings,
                 &(struct pd_finding){
                     .level = PD_LEVEL_FAIL,
                     .fault = PD_FAULT_OVER_PRESSURE,
                     .strategy = strategy->kind->name,
                     .what = "static pressure at the lowest fixture",
                     .kind = PD_KIND_PRESSURE,
                     .found = standing - lowest_fixture_pressure(plant),
                     .sense = PD_SENSE_AT_MOST,
                     .limit = plant->scenario->value[PD_LIMIT_STATIC_PRESSURE],
                     .source = findings_static_source(plant->scenario),
                     .note = by_switch ? "at the stop pressure, or the day's highest supply; see "
                                         "the reducing valve"
                                       : "pump at shutoff on the day's highest supply; see the "
                                         "reducing valve",
                 });
    add_reducing_valve(findings, plant, strategy->kind->name, standing);
}
