#include "studies/days_growth.h"

#include "base/memory.h"

// days between two looks at the precision reached
static const long batch_days = 100;

// between two looks at whether it is worth going on
static const long hopeless_days = 10;

/* Whether every strategy has failed more often than it may. */
static bool lost(const struct pd_days *days, long most_failing)
{
    for (size_t i = 0; most_failing >= 0 && i < days->strategy_count; i++) {
        if (pd_days_failing(days, i, UINT32_MAX) <= most_failing) {
            return false;
        }
    }
    return most_failing >= 0;
}

bool growth_enough(const struct days_growth *growth)
{
    const struct pd_days *days = growth->days;
    const struct pd_days_options *options = growth->options;

    return days->count >= options->count ||
           (options->until > 0 && days->count > 0 && pd_days_are_precise(days, options->until)) ||
           lost(days, options->most_failing);
}

long growth_batch_end(const struct days_growth *growth, long day)
{
    long batch = growth->options->most_failing >= 0 ? hopeless_days : batch_days;
    long end = day - (day - growth->days->count) % batch + batch;

    return end < growth->options->count ? end : growth->options->count;
}

bool growth_make_room(struct days_growth *growth, long end, struct pd_error *error)
{
    struct pd_days *days = growth->days;
    size_t places = (size_t)end * days->strategy_count;

    if (end <= growth->room) {
        return true;
    }
    double *figure =
        pd_memory_resize(days->figure, places * PD_FIGURE_COUNT * sizeof *days->figure);
    if (figure == NULL) {
        return pd_error_memory(error);
    }
    days->figure = figure;
    uint32_t *faults = pd_memory_resize(days->faults, places * sizeof *days->faults);
    if (faults == NULL) {
        return pd_error_memory(error);
    }
    days->faults = faults;
    growth->room = end;
    return true;
}

struct days_block growth_block(const struct days_growth *growth, long first, long end)
{
    size_t place = (size_t)first * growth->days->strategy_count;
    size_t before = place - (first > 0 ? growth->days->strategy_count : 0);

    return (struct days_block){
        .first = first,
        .end = end,
        .figure = growth->days->figure + place * PD_FIGURE_COUNT,
        .faults = growth->days->faults + place,
        .before = first > 0 ? growth->days->figure + before * PD_FIGURE_COUNT : NULL,
    };
}

/* Where nothing hangs on each batch, several are taken at once: a database then writes less often
 * than they come. */
static long taken_before(const struct days_growth *growth, long made)
{
    const struct pd_days_options *options = growth->options;
    long end = growth_batch_end(growth, growth->days->count);

    while (options->until <= 0 && options->most_failing < 0 && end < made &&
           growth_batch_end(growth, end) <= made) {
        end = growth_batch_end(growth, end);
    }
    return end;
}

bool growth_take(struct days_growth *growth, long made, struct pd_error *error)
{
    const struct pd_days_options *options = growth->options;
    struct pd_days *days = growth->days;
    long end = taken_before(growth, made);

    if (growth->store != NULL && !days_store_add(growth->store, days, days->count, end, error)) {
        return false;
    }
    days->count = end;
    if (options->progress != NULL) {
        options->progress(options->progress_context, (size_t)end, (size_t)options->count);
    }
    return true;
}

bool growth_wanted(const struct days_growth *growth)
{
    const struct pd_day_options *day = &growth->options->day;

    return day->go_on == NULL || day->go_on(day->go_on_context);
}
