/* Searches for settings: which candidates pass with the largest tank, and of these the smallest
 * tank with which one stands all trouble on site; where none does, with which it stands as much as
 * with the largest.  A larger tank is taken never to be worse than a smaller one. */
#include "studies/halving.h"
#include "studies/settings_parts.h"

#include <math.h>
#include <string.h>

/* A main reduced to less leaves a pump little to draw from; common practice, no source. */
static const double least_valve = 0.5e5; /* Pa gauge */

/* A candidate that passes with the largest tank, and what it stands there. */
struct follower {
    struct pd_strategy strategy;
    bool stands[PD_OFF_COUNT];
    int count;
};

struct pd_settings_options pd_settings_default(void)
{
    return (struct pd_settings_options){
        .supply_off = 0.3e5,
        .level_off = 0.5,
        .demand_off = 0.25,
        .precharge_off = 0.3e5,
        .day = pd_day_default(),
    };
}

/* Whether a candidate passes with a tank, and still stands what it stands with the largest. */
static bool passes(const struct settings_search *search, const struct follower *follower,
                   double tank, bool *good)
{
    struct settings_day days[PD_OFF_COUNT];
    size_t count = 0;

    // everything off at once is the likeliest to fail, as told the least
    for (int off = PD_OFF_TRICKLE - 1; off >= 0; off--) {
        if (follower->stands[off] && settings_is_off(search->options, off)) {
            days[count++] = settings_day_off(search, (enum pd_off)off, tank, &follower->strategy);
        }
    }
    days[count++] = settings_day_told(tank, &follower->strategy);
    return settings_all_pass(search, days, count, good);
}

/* Keeps those that stand most, in their order. */
static size_t keep_best(struct follower *followers, size_t count)
{
    size_t kept = 0;
    int best = 0;

    for (size_t i = 0; i < count; i++) {
        best = followers[i].count > best ? followers[i].count : best;
    }
    for (size_t i = 0; i < count; i++) {
        if (followers[i].count == best) {
            followers[kept++] = followers[i];
        }
    }
    return kept;
}

/* The days of candidates as told, with the largest tank; setting gets the usual one. */
static bool try_as_told(const struct settings_search *search, const struct pd_strategy *candidates,
                        size_t count, struct pd_setting *setting, struct pd_setting *tried)
{
    struct settings_day days[CANDIDATES_MOST];

    for (size_t i = 0; i < count; i++) {
        days[i] = settings_day_told(setting->tank, &candidates[i]);
    }
    if (!settings_run_days(search, days, count)) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        tried[i] = (struct pd_setting){.tank = setting->tank,
                                       .reducing_valve = NAN,
                                       .strategy = candidates[i],
                                       .day = days[i].outcome};
    }
    *setting = tried[0];
    return true;
}

/* Keeps those whose day passes, in their order. */
static size_t keep_good(struct pd_setting *tried, size_t count)
{
    size_t kept = 0;

    for (size_t i = 0; i < count; i++) {
        if (tried[i].day.good) {
            tried[kept++] = tried[i];
        }
    }
    return kept;
}

static struct follower follower_of(const struct pd_setting *tried)
{
    struct follower follower = {.strategy = tried->strategy, .count = tried->stands};

    for (int off = 0; off < PD_OFF_TRICKLE; off++) {
        follower.stands[off] = tried->off[off].good;
    }
    return follower;
}

/* A candidate whose tank is looked for. */
struct fitting_tank {
    const struct settings_search *search;
    const struct follower *follower;
};

static bool passes_with(void *context, size_t place, bool *good)
{
    const struct fitting_tank *fitting = context;
    double tank = fitting->search->told->scenario->tank_sizes[place];

    return passes(fitting->search, fitting->follower, tank, good);
}

/* The smallest of the first *best tanks, and of the candidates that pass with it the first; *best
 * stays where none does. */
static bool find_tank(const struct settings_search *search, const struct follower *followers,
                      size_t count, size_t *best, struct pd_strategy *strategy)
{
    for (size_t i = 0; i < count; i++) {
        struct fitting_tank fitting = {search, &followers[i]};
        size_t place;
        // none from the best so far on is of interest
        if (!first_that_passes(passes_with, &fitting, *best, &place)) {
            return false;
        }
        if (place < *best) {
            *best = place;
            *strategy = followers[i].strategy;
        }
    }
    return true;
}

/* The candidates that stand all; *place is the count of tanks where none does.  One that stands all
 * with some tank would with the largest, which need not be tried. */
static bool find_sturdy(const struct settings_search *search, const struct pd_setting *tried,
                        size_t count, size_t *place, struct pd_strategy *strategy)
{
    struct follower followers[CANDIDATES_MOST];

    for (size_t i = 0; i < count; i++) {
        followers[i] = (struct follower){.strategy = tried[i].strategy};
        for (int off = 0; off < PD_OFF_TRICKLE; off++) {
            followers[i].stands[off] = true;
        }
    }
    *place = search->told->scenario->tank_size_count;
    return find_tank(search, followers, count, place, strategy);
}

/* Those that stand most of it with the largest tank, and no less with a smaller. */
static bool find_less_sturdy(const struct settings_search *search, struct pd_setting *tried,
                             size_t count, size_t *place, struct pd_strategy *strategy)
{
    struct follower followers[CANDIDATES_MOST];

    if (!settings_try_all_off(search, tried, count)) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        followers[i] = follower_of(&tried[i]);
    }
    count = keep_best(followers, count);
    *place = search->told->scenario->tank_size_count - 1;
    *strategy = followers[0].strategy;
    return find_tank(search, followers, count, place, strategy);
}

/* What was found, through its days. */
static bool try_found(const struct settings_search *search, struct pd_setting *setting)
{
    struct settings_day day = settings_day_told(setting->tank, &setting->strategy);
    bool good = settings_run_days(search, &day, 1);

    setting->day = day.outcome;
    return good && settings_try_all_off(search, setting, 1) &&
           settings_try_trickles(search, setting);
}

/* Among those that pass as told with the largest tank, at least one. */
static bool find_among(const struct settings_search *search, struct pd_setting *tried, size_t count,
                       struct pd_setting *setting)
{
    const struct pd_scenario *scenario = search->told->scenario;
    size_t place;

    if (!find_sturdy(search, tried, count, &place, &setting->strategy)) {
        return false;
    }
    if (place == scenario->tank_size_count &&
        !find_less_sturdy(search, tried, count, &place, &setting->strategy)) {
        return false;
    }
    setting->found = true;
    setting->tank = scenario->tank_sizes[place];
    return try_found(search, setting);
}

static bool find_setting(const struct settings_search *search, const struct pd_strategy_kind *kind,
                         struct pd_setting *setting)
{
    const struct pd_scenario *scenario = search->told->scenario;
    struct pd_strategy candidates[CANDIDATES_MOST];
    struct pd_setting tried[CANDIDATES_MOST];
    size_t count = candidates_of(kind, search->told, search->options->units, candidates);

    *setting = (struct pd_setting){.tank = scenario->tank_sizes[scenario->tank_size_count - 1],
                                   .reducing_valve = NAN};
    if (!try_as_told(search, candidates, count, setting, tried)) {
        return false;
    }
    count = keep_good(tried, count);
    if (count > 0 && !find_among(search, tried, count, setting)) {
        return false;
    }
    setting->draws_main_down =
        search->told->supply_kind == PD_SUPPLY_MAIN && setting->day.lowest_suction_pressure < 0;
    return true;
}

static bool find_all(struct settings_search *search, struct pd_settings *settings)
{
    const struct pd_settings_options *options = search->options;
    bool all = options->strategy_count == 0;
    size_t count = all ? pd_strategy_count : options->strategy_count;

    for (size_t i = 0; i < count; i++) {
        const struct pd_strategy_kind *kind = all ? pd_strategies[i] : options->strategies[i];
        if (!find_setting(search, kind, &settings->setting[i])) {
            return false;
        }
        settings->count++;
    }
    settings_prefer(settings);
    return true;
}

/* The valve that leaves the pump at no flow under the limit, as a dial has it; NAN if none can: of
 * a main that is not to be reduced, or a pump that breaks the limit by itself. */
static double valve_for(const struct pd_scenario *scenario, const struct pd_plant *plant,
                        const struct pd_settings *settings, enum pd_unit_system units)
{
    double step = candidates_pressure_step(units);
    double most = settings->limits.static_pressure - plant->branch[0].pump.shutoff;
    double valve = floor(most / step) * step;

    return plant->supply_kind == PD_SUPPLY_MAIN &&
                   isnan(scenario->value[PD_SUPPLY_REDUCING_VALVE]) && valve >= least_valve &&
                   valve < plant->highest_supply
               ? valve
               : (double)NAN;
}

/* All strategies as the scenario is; *valve gets one worth trying, or NAN. */
static bool find_as_told(const struct pd_scenario *scenario,
                         const struct pd_settings_options *options, struct pd_settings *settings,
                         double *valve, struct pd_error *error)
{
    struct trial_plants plants;

    memset(settings, 0, sizeof *settings);
    if (!trial_plants_make(scenario, options, &plants, error)) {
        return false;
    }
    settings->limits = pd_limits_for(&plants.scenario[PLANT_TOLD]);
    settings->reducing_valve = NAN;
    settings->wanted = settings->limits.tap_pressure;
    struct settings_search search = {
        .options = options,
        .limits = &settings->limits,
        .plants = &plants,
        .told = &plants.plant[PLANT_TOLD],
        .scenario = scenario,
        .error = error,
    };
    bool good = find_all(&search, settings);
    *valve = valve_for(scenario, search.told, settings, options->units);
    trial_plants_free(&plants);
    return good;
}

/* Tries all again behind a reducing valve; the settings stay as they are if that helps nothing. */
static bool find_behind_valve(const struct pd_scenario *scenario,
                              const struct pd_settings_options *options, double valve,
                              struct pd_settings *settings, struct pd_error *error)
{
    struct pd_scenario reduced = *scenario;
    struct pd_settings behind;
    double none;

    // it owns nothing of its own
    reduced.value[PD_SUPPLY_REDUCING_VALVE] = valve;
    reduced.given[PD_SUPPLY_REDUCING_VALVE] = true;
    if (!find_as_told(&reduced, options, &behind, &none, error)) {
        return false;
    }
    if (behind.reason != PD_REASON_NONE_PASSES) {
        *settings = behind;
        settings->reducing_valve = valve;
        for (size_t i = 0; i < settings->count; i++) {
            settings->setting[i].reducing_valve = valve;
        }
    }
    return true;
}

bool pd_settings_find(const struct pd_scenario *scenario, const struct pd_settings_options *options,
                      struct pd_settings *settings, struct pd_error *error)
{
    double valve;

    if (!find_as_told(scenario, options, settings, &valve, error)) {
        return false;
    }
    return settings->reason != PD_REASON_NONE_PASSES || isnan(valve) ||
           find_behind_valve(scenario, options, valve, settings, error);
}
