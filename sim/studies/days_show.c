/* One of many days closely: the files of a comparison of it. */
#include "studies/days_draw.h"

#include <pumpday/days.h>

#include <stdio.h>
#include <string.h>

/* The strategy that fails on the fewest of the days, the first of several. */
static size_t best_of(const struct pd_days *days)
{
    size_t best = 0;

    for (size_t i = 1; i < days->strategy_count; i++) {
        if (pd_days_failing(days, i, UINT32_MAX) < pd_days_failing(days, best, UINT32_MAX)) {
            best = i;
        }
    }
    return best;
}

/* "ten flats: day 37, the worst of 100 under pressure-start" */
static void name_day(struct pd_scenario *scenario, const struct pd_days *days, size_t strategy,
                     long day)
{
    char title[sizeof scenario->title];
    int length = snprintf(title, sizeof title, ": day %ld, the worst of %ld under %s", day,
                          days->count, days->strategy[strategy].kind->name);
    size_t room = sizeof title - 1 - (size_t)length;

    // a long title is cut, not the day
    scenario->title[room] = '\0';
    (void)strncat(scenario->title, title, sizeof scenario->title - strlen(scenario->title) - 1);
}

bool pd_days_show_worst(const struct pd_scenario *scenario, const struct pd_days *days,
                        const struct pd_days_options *options, const char *folder,
                        enum pd_unit_system units, struct pd_error *error)
{
    struct pd_compare_options compare = pd_compare_default();
    struct pd_comparison comparison;
    struct days_draws draws = {0};
    struct pd_scenario shown;
    size_t strategy = best_of(days);
    long day = pd_days_worst(days, strategy);
    double evening = options->carry ? scenario->value[PD_DAY_WARM_UP] : 0.0;

    if (!pd_scenario_copy(scenario, &shown)) {
        return pd_error_memory(error);
    }
    compare.strategies[0] = days->strategy[strategy].kind;
    compare.strategy_count = 1;
    compare.units = units;
    compare.folder = folder;
    compare.day.go_on = options->day.go_on;
    compare.day.go_on_context = options->day.go_on_context;
    if (options->carry && day > 1) {
        compare.day.level = pd_days_figure(days, day - 2, strategy, PD_FIGURE_LEVEL);
    }
    name_day(&shown, days, strategy, day);
    bool good = days_draw(&draws, &shown, options->seed, day, evening, error) &&
                pd_compare(&shown, &compare, &comparison, error);
    if (good) {
        pd_comparison_free(&comparison);
    }
    days_draws_free(&draws);
    pd_scenario_free(&shown);
    return good;
}
