/* Settings through what may be off on site, and through taps that trickle. */
#include "base/memory.h"
#include "studies/halving.h"
#include "studies/settings_parts.h"

#include <math.h>
#include <stdlib.h>

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

/* The days of one setting; those of what is not off are its day as told. */
static size_t add_days(const struct settings_search *search, const struct pd_setting *setting,
                       struct settings_day *days)
{
    size_t count = 0;

    for (int off = 0; off < PD_OFF_TRICKLE; off++) {
        if (settings_is_off(search->options, off)) {
            days[count++] =
                settings_day_off(search, (enum pd_off)off, setting->tank, &setting->strategy);
        }
    }
    return count;
}

static size_t take_outcomes(const struct settings_search *search, struct pd_setting *setting,
                            const struct settings_day *days)
{
    size_t count = 0;

    setting->stands = 0;
    for (int off = 0; off < PD_OFF_TRICKLE; off++) {
        bool is_off = settings_is_off(search->options, off);
        setting->off[off] = is_off ? days[count++].outcome : setting->day;
        setting->stands += setting->off[off].good;
    }
    return count;
}

bool settings_try_all_off(const struct settings_search *search, struct pd_setting *settings,
                          size_t count)
{
    struct settings_day *days = pd_memory_resize(NULL, (count * PD_OFF_COUNT + 1) * sizeof *days);
    size_t day_count = 0;

    if (days == NULL) {
        return pd_error_memory(search->error);
    }
    for (size_t i = 0; i < count; i++) {
        day_count += add_days(search, &settings[i], &days[day_count]);
    }
    bool good = settings_run_days(search, days, day_count);
    day_count = 0;
    for (size_t i = 0; good && i < count; i++) {
        day_count += take_outcomes(search, &settings[i], &days[day_count]);
    }
    free(days);
    return good;
}

/* The flows at which a trickle may cycle worst: just under the stop flow of a controller; of a
 * switch, at half of what the pump gives (starts in an hour go as q (1 - q / Q)). */
static double trickle_flow(const struct settings_search *search, const struct pd_strategy *strategy,
                           int i)
{
    static const double shares[TRICKLES] = {0.25, 0.5, 0.75, 0.95};
    bool is_switch = !isnan(strategy->stop_pressure);

    return shares[i] * (is_switch ? search->told->branch[0].pump.last_flow : strategy->stop_flow);
}

static void set_trickles(const struct settings_search *search, const struct pd_strategy *strategy)
{
    double pressure =
        isnan(strategy->start_pressure) ? search->told->mean_supply : strategy->start_pressure;

    for (int i = 0; i < TRICKLES; i++) {
        trial_plants_trickle(search->plants, i, trickle_flow(search, strategy, i), pressure);
    }
}

static void add_trickles(const struct pd_strategy *strategy, double tank,
                         struct settings_day days[TRICKLES])
{
    for (int i = 0; i < TRICKLES; i++) {
        days[i] = settings_day_told(tank, strategy);
        days[i].plant = PLANT_TRICKLE + i;
    }
}

/* The worst trickle with a tank: one that does not pass, and of those the one with the most starts
 * an hour. */
static bool worst_trickle(const struct settings_search *search, struct pd_setting *setting)
{
    struct pd_outcome *worst = &setting->off[PD_OFF_TRICKLE];
    struct settings_day days[TRICKLES];

    add_trickles(&setting->strategy, setting->tank, days);
    if (!settings_run_days(search, days, TRICKLES)) {
        return false;
    }
    for (int i = 0; i < TRICKLES; i++) {
        const struct pd_outcome *outcome = &days[i].outcome;
        bool worse = i == 0 || outcome->good < worst->good ||
                     (outcome->good == worst->good &&
                      outcome->starts_in_worst_hour > worst->starts_in_worst_hour);
        if (worse) {
            *worst = *outcome;
            setting->trickle = trickle_flow(search, &setting->strategy, i);
        }
    }
    return true;
}

/* A setting whose tank for a trickle is looked for. */
struct trickling {
    const struct settings_search *search;
    const struct pd_setting *setting;
};

/* Whether a tank of the list stands the trickles; those up to the one found are known not to. */
static bool stands_trickles(void *context, size_t place, bool *good)
{
    const struct trickling *trickling = context;
    const struct pd_setting *setting = trickling->setting;
    double tank = trickling->search->told->scenario->tank_sizes[place];
    struct settings_day days[TRICKLES];

    *good = false;
    if (tank <= setting->tank) {
        return true;
    }
    add_trickles(&setting->strategy, tank, days);
    return settings_all_pass(trickling->search, days, TRICKLES, good);
}

static bool find_trickle_tank(const struct settings_search *search, struct pd_setting *setting)
{
    const struct pd_scenario *scenario = search->told->scenario;
    struct trickling trickling = {search, setting};
    size_t place;

    if (!first_that_passes(stands_trickles, &trickling, scenario->tank_size_count, &place)) {
        return false;
    }
    setting->trickle_tank =
        place < scenario->tank_size_count ? scenario->tank_sizes[place] : (double)NAN;
    return true;
}

bool settings_try_trickles(const struct settings_search *search, struct pd_setting *setting)
{
    setting->trickle_tank = setting->tank;
    set_trickles(search, &setting->strategy);
    if (!worst_trickle(search, setting)) {
        return false;
    }
    setting->stands += setting->off[PD_OFF_TRICKLE].good;
    return setting->off[PD_OFF_TRICKLE].good || find_trickle_tank(search, setting);
}
