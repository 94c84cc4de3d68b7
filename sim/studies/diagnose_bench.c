/* The bench: an installation as designed, on a supply that stands still. */
#include "studies/diagnose_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A trickle is half of what stops the pump, a quarter of a tap at most. */
static const double trickle_of_stop = 0.5, trickle_of_tap = 0.25;
static const double plain_tap = 8e-3 / 60;

/* The middle of the draws' flows is the usual tap; few enough draws to look for it plainly. */
static double usual_tap(const struct pd_scenario *scenario)
{
    for (size_t i = 0; i < scenario->draw_count; i++) {
        size_t under = 0, same = 0;
        for (size_t j = 0; j < scenario->draw_count; j++) {
            under += scenario->draws[j].flow < scenario->draws[i].flow;
            same += scenario->draws[j].flow == scenario->draws[i].flow;
        }
        if (under <= scenario->draw_count / 2 && under + same > scenario->draw_count / 2) {
            return scenario->draws[i].flow;
        }
    }
    return plain_tap;
}

static double trickle(const struct pd_strategy *strategy, double tap)
{
    bool by_flow = isnan(strategy->stop_pressure) && strategy->stop_flow > 0;
    double most = trickle_of_tap * tap;

    return by_flow ? fmin(trickle_of_stop * strategy->stop_flow, most) : most;
}

/* The scenario with a supply that stands still, no warm-up, and the bench's own draws. */
static void still(struct bench *bench)
{
    struct pd_scenario *scenario = &bench->scenario;
    bool is_main = scenario->value[PD_SUPPLY_KIND] == PD_SUPPLY_MAIN;

    scenario->value[is_main ? PD_SUPPLY_PRESSURE : PD_SUPPLY_LEVEL] =
        is_main ? bench->supply : bench->supply / bench->weight;
    scenario->value[PD_SUPPLY_AREA] = NAN;
    scenario->value[PD_SUPPLY_EMPTY_LEVEL] = NAN;
    scenario->value[PD_DAY_WARM_UP] = 0;
    scenario->supply = NULL;
    scenario->supply_count = 0;
    scenario->draws = bench->draws;
    scenario->draw_count = 0;
    scenario->profile = &bench->steady;
    scenario->profile_count = 0;
}

bool bench_make(struct bench *bench, const struct pd_scenario *scenario,
                const struct pd_strategy_kind *kind, const struct pd_seen *seen,
                const struct pd_day_options *options, struct pd_error *error)
{
    struct pd_plant plant;

    memset(bench, 0, sizeof *bench);
    if (!pd_plant_build(scenario, &plant, error)) {
        return false;
    }
    bench->scenario = *scenario;
    bench->options = options;
    bench->supply = isnan(seen->supply) ? plant.mean_supply : seen->supply;
    bench->supply_off = scenario->value[PD_SUPPLY_KIND] == PD_SUPPLY_MAIN
                            ? (plant.highest_supply - plant.lowest_supply) / 2
                            : (double)NAN;
    bench->weight = plant.specific_weight;
    bench->atmosphere = plant.atmosphere;
    bench->shutoff = plant.branch[0].pump.shutoff;
    // settings are those of the day, whatever the supply is now
    bench->designed = (struct trial){
        .strategy = pd_strategy_for(kind, &plant),
        .leak = scenario->value[PD_HOUSE_LEAK],
        .leak_by = scenario->value[PD_CHECK_VALVE_LEAK_BY],
        .tank = scenario->value[PD_TANK_VOLUME],
    };
    bench->tap = usual_tap(scenario);
    bench->draw = isnan(seen->draw) ? trickle(&bench->designed.strategy, bench->tap) : seen->draw;
    still(bench);
    pd_plant_free(&plant);
    if (!pd_plant_build(&bench->scenario, &bench->plant, error)) {
        return false;
    }
    bench->run = calloc(1, sizeof *bench->run);
    if (bench->run == NULL) {
        return pd_error_memory(error);
    }
    bench->run->integrator = integrator_create(error);
    return bench->run->integrator != NULL;
}

bool bench_set_supply(struct bench *bench, double supply, struct pd_error *error)
{
    if (supply == bench->supply) {
        return true;
    }
    bench->supply = supply;
    still(bench);
    pd_plant_free(&bench->plant);
    return pd_plant_build(&bench->scenario, &bench->plant, error);
}

void bench_free(struct bench *bench)
{
    if (bench->run != NULL) {
        integrator_free(bench->run->integrator);
        free(bench->run);
    }
    bench->run = NULL;
    pd_plant_free(&bench->plant);
}
