/* A setting through a day of the installation as told, and as it may be. */
#include "studies/halving.h"
#include "studies/settings_parts.h"
#include "studies/verdict.h"

#include <math.h>

/* Trickles that are tried. */
enum { TRICKLES = 4 };

bool settings_try_day(const struct settings_search *search, const struct pd_plant *plant,
                      double tank, const struct pd_strategy *strategy, struct pd_outcome *outcome)
{
    const struct pd_day_options *day = &search->options->day;
    struct pd_plant with_tank = *plant;
    struct pd_day_result result;

    // a quiet day is over before it asks by itself
    if (day->go_on != NULL && !day->go_on(day->go_on_context)) {
        return pd_error_set(search->error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request");
    }
    // the rest of the plant is shared
    with_tank.tank.volume = tank;
    if (!pd_day_run(search->day, &with_tank, strategy, day, &result, search->error)) {
        return false;
    }
    *outcome = (struct pd_outcome){
        .ran = !verdict_never_ran(&result),
        .starts = result.starts,
        .starts_in_worst_hour = result.starts_in_worst_hour,
        .shortest_run = result.shortest_run,
        .lowest_tap_pressure = result.lowest_tap_pressure,
        .lowest_suction_pressure = result.lowest_suction_pressure,
        .energy = result.energy,
        .cost = result.energy * search->price,
    };
    outcome->good = pd_verdict(&result, &with_tank, outcome->verdict);
    return true;
}

bool settings_try_off(const struct settings_search *search, enum pd_off off, double tank,
                      const struct pd_strategy *strategy, struct pd_outcome *outcome)
{
    struct pd_strategy changed = *strategy;

    if (off == PD_OFF_PRECHARGE || off == PD_OFF_ALL) {
        changed.precharge = fmax(strategy->precharge - search->options->precharge_off, 0);
    }
    return settings_try_day(search, &search->plants->off[off], tank, &changed, outcome);
}

/* False where nothing is told to be off: the day would be the same again. */
bool settings_is_off(const struct pd_settings_options *options, int off)
{
    bool supply = options->supply_off != 0 || options->level_off != 0;
    const bool told[PD_OFF_COUNT] = {
        [PD_OFF_SUPPLY] = supply,
        [PD_OFF_HIGH_SUPPLY] = true,
        [PD_OFF_DEMAND] = options->demand_off != 0,
        [PD_OFF_PRECHARGE] = options->precharge_off != 0,
        [PD_OFF_ALL] = supply || options->demand_off != 0 || options->precharge_off != 0,
        [PD_OFF_TRICKLE] = true,
    };

    return told[off];
}

/* All that the search goes by, one after the other. */
bool settings_try_all_off(const struct settings_search *search, struct pd_setting *setting)
{
    setting->stands = 0;
    for (int off = 0; off < PD_OFF_TRICKLE; off++) {
        struct pd_outcome *outcome = &setting->off[off];
        *outcome = setting->day;
        if (settings_is_off(search->options, off) &&
            !settings_try_off(search, (enum pd_off)off, setting->tank, &setting->strategy,
                              outcome)) {
            return false;
        }
        setting->stands += outcome->good;
    }
    return true;
}

/* The flows at which a trickle may cycle worst: just under the stop flow of a controller; of a
 * switch, at half of what the pump gives (starts in an hour go as q (1 - q / Q)). */
static double trickle_flow(const struct settings_search *search, const struct pd_strategy *strategy,
                           int i)
{
    static const double shares[TRICKLES] = {0.25, 0.5, 0.75, 0.95};
    const struct pd_pump *pump = &search->plants->told.pump;
    bool is_switch = !isnan(strategy->stop_pressure);

    return shares[i] * (is_switch ? pump->last_flow : strategy->stop_flow);
}

/* The worst trickle with a tank: one that does not pass, and of those the one with the most starts
 * an hour. */
static bool worst_trickle(const struct settings_search *search, const struct pd_strategy *strategy,
                          double tank, struct pd_outcome *worst, double *worst_flow)
{
    const struct pd_plant *told = &search->plants->told;
    double pressure =
        isnan(strategy->start_pressure) ? told->mean_supply : strategy->start_pressure;

    for (int i = 0; i < TRICKLES; i++) {
        double flow = trickle_flow(search, strategy, i);
        struct pd_outcome outcome = {.good = false};
        trial_plants_trickle(search->plants, flow, pressure);
        if (!settings_try_off(search, PD_OFF_TRICKLE, tank, strategy, &outcome)) {
            return false;
        }
        bool worse = i == 0 || outcome.good < worst->good ||
                     (outcome.good == worst->good &&
                      outcome.starts_in_worst_hour > worst->starts_in_worst_hour);
        if (worse) {
            *worst = outcome;
            *worst_flow = flow;
        }
    }
    return true;
}

/* A setting whose tank for a trickle is looked for. */
struct trickling {
    const struct settings_search *search;
    const struct pd_setting *setting;
};

/* Whether a tank of the list stands the worst trickle; those up to the one found are known not to.
 */
static bool stands_trickle(void *context, size_t place, bool *good)
{
    const struct trickling *trickling = context;
    const struct pd_setting *setting = trickling->setting;
    double tank = trickling->search->plants->told.scenario->tank_sizes[place], flow;
    struct pd_outcome worst = {.good = false};
    bool tried = tank <= setting->tank ||
                 worst_trickle(trickling->search, &setting->strategy, tank, &worst, &flow);

    *good = worst.good;
    return tried;
}

static bool find_trickle_tank(const struct settings_search *search, struct pd_setting *setting)
{
    const struct pd_scenario *scenario = search->plants->told.scenario;
    struct trickling trickling = {search, setting};
    size_t place;

    if (!first_that_passes(stands_trickle, &trickling, scenario->tank_size_count, &place)) {
        return false;
    }
    setting->trickle_tank =
        place < scenario->tank_size_count ? scenario->tank_sizes[place] : (double)NAN;
    return true;
}

bool settings_try_trickles(const struct settings_search *search, struct pd_setting *setting)
{
    struct pd_outcome *worst = &setting->off[PD_OFF_TRICKLE];

    setting->trickle_tank = setting->tank;
    if (!worst_trickle(search, &setting->strategy, setting->tank, worst, &setting->trickle)) {
        return false;
    }
    setting->stands += worst->good;
    return worst->good || find_trickle_tank(search, setting);
}
