/* Searches for settings: which candidates pass with the largest tank, what of the trouble on site
 * they stand there, and then the smallest tank with which they still do.  A larger tank is taken
 * never to be worse than a smaller one. */
#include "studies/halving.h"
#include "studies/settings_parts.h"

#include <math.h>
#include <string.h>

/* Costs and starts within this share of each other count as the same. */
static const double about_same = 0.05;

/* Pressures at the taps nearer than this count as the same. */
static const double same_pressure = 0.1e5; /* Pa */

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
    size_t count = 1;

    days[0] = settings_day_told(tank, &follower->strategy);
    for (int off = 0; off < PD_OFF_TRICKLE; off++) {
        if (follower->stands[off] && settings_is_off(search->options, off)) {
            days[count++] = settings_day_off(search, (enum pd_off)off, tank, &follower->strategy);
        }
    }
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

/* The days of candidates as told; a setting each for those that pass, its day run. */
static bool try_as_told(const struct settings_search *search, const struct pd_strategy *candidates,
                        size_t count, struct pd_setting *setting, struct pd_setting *good)
{
    struct settings_day days[CANDIDATES_MOST];

    for (size_t i = 0; i < count; i++) {
        days[i] = settings_day_told(setting->tank, &candidates[i]);
    }
    if (!settings_run_days(search, days, count)) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        good[i] = (struct pd_setting){.tank = setting->tank,
                                      .reducing_valve = NAN,
                                      .strategy = candidates[i],
                                      .day = days[i].outcome};
    }
    *setting = good[0];
    return true;
}

static struct follower follower_of(const struct pd_setting *tried)
{
    struct follower follower = {.strategy = tried->strategy, .count = tried->stands};

    for (int off = 0; off < PD_OFF_TRICKLE; off++) {
        follower.stands[off] = tried->off[off].good;
    }
    return follower;
}

/* Tries the candidates with the largest tank.  setting gets the usual one. */
static bool find_followers(const struct settings_search *search,
                           const struct pd_strategy *candidates, size_t count,
                           struct pd_setting *setting, struct follower *followers, size_t *found)
{
    struct pd_setting tried[CANDIDATES_MOST];
    size_t good = 0;

    if (!try_as_told(search, candidates, count, setting, tried)) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        if (tried[i].day.good) {
            tried[good++] = tried[i];
        }
    }
    if (!settings_try_all_off(search, tried, good)) {
        return false;
    }
    for (size_t i = 0; i < good; i++) {
        followers[i] = follower_of(&tried[i]);
    }
    *found = keep_best(followers, good);
    return true;
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

/* The smallest tank, and of the candidates that pass with it the first. */
static bool find_tank(const struct settings_search *search, const struct follower *followers,
                      size_t count, struct pd_setting *setting)
{
    const struct pd_scenario *scenario = search->told->scenario;
    size_t best = scenario->tank_size_count - 1;

    if (count == 0) {
        return true;
    }
    setting->found = true;
    setting->strategy = followers[0].strategy;
    for (size_t i = 0; i < count; i++) {
        struct fitting_tank fitting = {search, &followers[i]};
        size_t place;
        // none from the best so far on is of interest
        if (!first_that_passes(passes_with, &fitting, best, &place)) {
            return false;
        }
        if (place < best) {
            best = place;
            setting->strategy = followers[i].strategy;
        }
    }
    setting->tank = scenario->tank_sizes[best];
    struct settings_day day = settings_day_told(setting->tank, &setting->strategy);
    bool good = settings_run_days(search, &day, 1);
    setting->day = day.outcome;
    return good && settings_try_all_off(search, setting, 1) &&
           settings_try_trickles(search, setting);
}

static bool find_setting(const struct settings_search *search, const struct pd_strategy_kind *kind,
                         struct pd_setting *setting)
{
    const struct pd_scenario *scenario = search->told->scenario;
    struct pd_strategy candidates[CANDIDATES_MOST];
    struct follower followers[CANDIDATES_MOST];
    size_t found = 0;
    size_t count = candidates_of(kind, search->told, search->options->units, candidates);

    *setting = (struct pd_setting){.tank = scenario->tank_sizes[scenario->tank_size_count - 1],
                                   .reducing_valve = NAN};
    bool good = find_followers(search, candidates, count, setting, followers, &found) &&
                find_tank(search, followers, found, setting);
    setting->draws_main_down =
        search->told->supply_kind == PD_SUPPLY_MAIN && setting->day.lowest_suction_pressure < 0;
    return good;
}

static bool is_about(double a, double b)
{
    return fabs(a - b) <= about_same * fmax(fabs(a), fabs(b));
}

/* What makes a better than b; NONE_PASSES if nothing does. */
static enum pd_reason better(const struct pd_setting *a, const struct pd_setting *b)
{
    if (!b->found) {
        return PD_REASON_ALONE;
    }
    if (a->draws_main_down != b->draws_main_down) {
        return b->draws_main_down ? PD_REASON_SUCTION : PD_REASON_NONE_PASSES;
    }
    if (a->stands != b->stands) {
        return a->stands > b->stands ? PD_REASON_STANDS : PD_REASON_NONE_PASSES;
    }
    if (!is_about(a->day.energy, b->day.energy)) {
        return a->day.energy < b->day.energy ? PD_REASON_COST : PD_REASON_NONE_PASSES;
    }
    if (!is_about(a->day.starts, b->day.starts)) {
        return a->day.starts < b->day.starts ? PD_REASON_STARTS : PD_REASON_NONE_PASSES;
    }
    return a->day.lowest_tap_pressure > b->day.lowest_tap_pressure + same_pressure
               ? PD_REASON_TAP_PRESSURE
               : PD_REASON_NONE_PASSES;
}

/* The best one that was found; the count if none was. */
static size_t best_of(const struct pd_settings *settings)
{
    size_t best = settings->count;

    for (size_t i = 0; i < settings->count; i++) {
        const struct pd_setting *setting = &settings->setting[i];
        if (setting->found &&
            (best == settings->count ||
             better(setting, &settings->setting[best]) != PD_REASON_NONE_PASSES)) {
            best = i;
        }
    }
    return best;
}

/* A pump that never ran on a day that passes is not needed, whatever else may pass. */
static bool supply_alone_will_do(const struct pd_settings *settings)
{
    for (size_t i = 0; i < settings->count; i++) {
        if (settings->setting[i].found && !settings->setting[i].day.ran) {
            return true;
        }
    }
    return false;
}

/* The best one, and what sets it apart from the next best: the finest of the differences. */
static void prefer(struct pd_settings *settings)
{
    size_t best = best_of(settings);

    settings->preferred = best;
    if (supply_alone_will_do(settings)) {
        settings->preferred = settings->count;
        settings->reason = PD_REASON_NOT_NEEDED;
        return;
    }
    settings->reason = best < settings->count ? PD_REASON_ALONE : PD_REASON_NONE_PASSES;
    for (size_t i = 0; best < settings->count && i < settings->count; i++) {
        if (i == best || !settings->setting[i].found) {
            continue;
        }
        enum pd_reason reason = better(&settings->setting[best], &settings->setting[i]);
        reason = reason == PD_REASON_NONE_PASSES ? PD_REASON_LIKE_OTHERS : reason;
        settings->reason = reason > settings->reason ? reason : settings->reason;
    }
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
    prefer(settings);
    return true;
}

/* The valve that leaves the pump at no flow under the limit, as a dial has it; NAN if none can: of
 * a main that is not to be reduced, or a pump that breaks the limit by itself. */
static double valve_for(const struct pd_scenario *scenario, const struct pd_plant *plant,
                        const struct pd_settings *settings, enum pd_unit_system units)
{
    double step = candidates_pressure_step(units);
    double most = settings->limits.static_pressure - plant->pump.shutoff;
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
        .price = scenario->value[PD_ENERGY_PRICE],
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
