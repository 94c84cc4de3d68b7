/* Runs days with one pump and tank after the other, and ranks. */
#include "base/memory.h"
#include "studies/settings_parts.h"

#include <pumpday/choose.h>

#include <math.h>
#include <stdlib.h>

struct pd_choose_options pd_choose_default(void)
{
    return (struct pd_choose_options){.days = pd_days_default(), .share = 0.99};
}

static void put_pump(struct pd_scenario *scenario, const struct pd_pump_offer *offer)
{
    struct pd_scenario fallback = pd_scenario_default();

    scenario->pump = offer->points;
    scenario->given[PD_PUMP_MOTOR_POWER] = !isnan(offer->motor_power);
    scenario->value[PD_PUMP_MOTOR_POWER] = offer->motor_power;
    // its loss at rest and its inlet were those of the other pump
    scenario->given[PD_PUMP_STOPPED_LOSS] = false;
    scenario->value[PD_PUMP_STOPPED_LOSS] = fallback.value[PD_PUMP_STOPPED_LOSS];
    scenario->given[PD_PUMP_INLET_DIAMETER] = false;
    scenario->value[PD_PUMP_INLET_DIAMETER] = fallback.value[PD_PUMP_INLET_DIAMETER];
    scenario->given[PD_COST_PUMP] = true;
    scenario->value[PD_COST_PUMP] = offer->price;
}

static void put_tank(struct pd_scenario *scenario, const struct pd_tank_offer *offer)
{
    scenario->value[PD_TANK_VOLUME] = offer->volume;
    scenario->given[PD_TANK_RATED_PRESSURE] = !isnan(offer->rated_pressure);
    scenario->value[PD_TANK_RATED_PRESSURE] = offer->rated_pressure;
    scenario->given[PD_COST_TANK] = true;
    scenario->value[PD_COST_TANK] = offer->price;
}

/* How many days may fail. */
static long failing_most(const struct pd_choose_options *options)
{
    return (long)floor((double)options->days.count * (1 - options->share) + 1e-9);
}

static struct pd_choice choice_of(const struct pd_scenario *scenario, const struct pd_days *days,
                                  size_t strategy, const struct pd_choose_options *options)
{
    struct pd_choice choice = {
        .strategy = days->strategy[strategy].kind,
        .settings = days->strategy[strategy],
        .days = days->count,
        .failing = pd_days_failing(days, strategy, UINT32_MAX),
        .cost = pd_life_of_days(scenario, days, strategy),
        .purchase = scenario->value[PD_COST_PUMP] + scenario->value[PD_COST_TANK] +
                    scenario->value[PD_COST_FITTING],
    };

    for (long day = 0; day < days->count; day++) {
        choice.faults |= pd_days_faults(days, day, strategy);
    }
    choice.passes = days->count == options->days.count && choice.failing <= failing_most(options);
    return choice;
}

/* Puts a value of site.csv, or takes it away. */
static void put_row(struct pd_scenario *scenario, const struct pd_setting_row *row)
{
    bool own_of_strategy = row->item != PD_TANK_VOLUME && row->item != PD_SUPPLY_REDUCING_VALVE;

    // a valve would have to be bought too
    if (own_of_strategy && !isnan(row->value)) {
        scenario->value[row->item] = row->value;
        scenario->given[row->item] = true;
    }
}

/* Settings that `settings` finds for this pump and tank on the scenario's own day; a strategy for
 * which it finds none keeps the usual ones. */
static bool settle(struct pd_scenario *scenario, const struct pd_choose_options *options,
                   struct pd_error *error)
{
    struct pd_settings_options search = pd_settings_default();
    struct pd_settings settings;
    struct pd_setting_row rows[PD_SETTING_ROWS];

    for (size_t i = 0; i < options->strategy_count; i++) {
        search.strategies[i] = options->strategies[i];
    }
    search.strategy_count = options->strategy_count;
    search.units = pd_scenario_units(scenario);
    search.day.go_on = options->days.day.go_on;
    search.day.go_on_context = options->days.day.go_on_context;
    scenario->tank_sizes[0] = scenario->value[PD_TANK_VOLUME];
    scenario->tank_size_count = 1;
    scenario->given[PD_TANK_SIZES] = true;
    if (!pd_settings_find(scenario, &search, &settings, error)) {
        return false;
    }
    settings_forget(scenario);
    for (size_t i = 0; i < settings.count; i++) {
        const struct pd_setting *setting = &settings.setting[i];
        size_t count = setting->found ? pd_setting_rows(scenario, setting, search.units, rows) : 0;
        for (size_t k = 0; k < count; k++) {
            put_row(scenario, &rows[k]);
        }
    }
    return true;
}

/* All strategies with one pump and one tank. */
static bool add_choices(struct pd_scenario *scenario, const struct pd_choose_options *options,
                        size_t pump, size_t tank, struct pd_choices *choices,
                        struct pd_error *error)
{
    struct pd_days_options days_options = options->days;
    struct pd_days days;

    for (size_t i = 0; i < options->strategy_count; i++) {
        days_options.strategies[i] = options->strategies[i];
    }
    days_options.strategy_count = options->strategy_count;
    days_options.most_failing = failing_most(options);
    if (!pd_days_run(scenario, &days_options, &days, error)) {
        return false;
    }
    for (size_t i = 0; i < days.strategy_count; i++) {
        struct pd_choice choice = choice_of(scenario, &days, i, options);
        choice.pump = pump;
        choice.tank = tank;
        choices->list[choices->count++] = choice;
    }
    pd_days_free(&days);
    return true;
}

static int by_rank(const void *left, const void *right)
{
    const struct pd_choice *a = left, *b = right;
    double share = (double)a->failing / (double)a->days - (double)b->failing / (double)b->days;

    if (a->passes != b->passes) {
        return a->passes ? -1 : 1;
    }
    if (!a->passes && share != 0) {
        return share < 0 ? -1 : 1;
    }
    if (a->cost.middle != b->cost.middle) {
        return a->cost.middle < b->cost.middle ? -1 : 1;
    }
    // the order of the catalogue
    if (a->pump != b->pump) {
        return a->pump < b->pump ? -1 : 1;
    }
    return a->tank < b->tank ? -1 : a->tank > b->tank;
}

static bool run_all(const struct pd_scenario *scenario, const struct pd_catalogue *catalogue,
                    const struct pd_choose_options *options, struct pd_choices *choices,
                    struct pd_error *error)
{
    size_t pumps = catalogue->pump_count > 0 ? catalogue->pump_count : 1;
    size_t tanks = catalogue->tank_count > 0 ? catalogue->tank_count : 1;
    struct pd_scenario trial;

    for (size_t i = 0; i < pumps * tanks; i++) {
        size_t pump = i / tanks, tank = i % tanks;
        if (!pd_scenario_copy(scenario, &trial)) {
            return pd_error_memory(error);
        }
        if (catalogue->pump_count > 0) {
            put_pump(&trial, &catalogue->pumps[pump]);
        }
        if (catalogue->tank_count > 0) {
            put_tank(&trial, &catalogue->tanks[tank]);
        }
        bool good = settle(&trial, options, error) &&
                    add_choices(&trial, options, pump, tank, choices, error);
        pd_scenario_free(&trial);
        if (!good) {
            return false;
        }
        if (options->progress != NULL) {
            options->progress(options->progress_context, i + 1, pumps * tanks);
        }
    }
    return true;
}

bool pd_choose(const struct pd_scenario *scenario, const struct pd_catalogue *catalogue,
               const struct pd_choose_options *options, struct pd_choices *choices,
               struct pd_error *error)
{
    choices->count = 0;
    choices->list = pd_memory_resize(NULL, PD_CHOICES_MOST * sizeof *choices->list);
    if (choices->list == NULL) {
        return pd_error_memory(error);
    }
    if (!run_all(scenario, catalogue, options, choices, error)) {
        pd_choices_free(choices);
        return false;
    }
    qsort(choices->list, choices->count, sizeof *choices->list, by_rank);
    return true;
}

void pd_choices_free(struct pd_choices *choices)
{
    free(choices->list);
    choices->list = NULL;
    choices->count = 0;
}
