/* Several scenarios one after the other, and what a strategy comes to over all of them. */
#include <pumpday/compare.h>

#include <math.h>
#include <string.h>

static bool compare_next(struct pd_compared *compared, const struct pd_compare_options *options,
                         struct pd_error *error)
{
    const struct pd_day_options *day = &options->day;

    if (day->go_on != NULL && !day->go_on(day->go_on_context)) {
        return pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request");
    }
    return pd_compare(compared->scenario, options, &compared->comparison, error);
}

bool pd_compare_several(struct pd_compared *list, size_t count,
                        const struct pd_compare_options *options, struct pd_error *error)
{
    struct pd_compare_options each = *options;

    if (count < 1 || count > PD_SCENARIOS_MOST) {
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, "scenarios", "expected 1 to %d of them",
                            (int)PD_SCENARIOS_MOST);
    }
    each.folder = NULL;
    for (size_t i = 0; i < count; i++) {
        if (!compare_next(&list[i], &each, error)) {
            while (i > 0) {
                pd_comparison_free(&list[--i].comparison);
            }
            return false;
        }
    }
    return true;
}

const char *pd_compared_currency(const struct pd_compared *list, size_t count)
{
    const char *currency = list[0].scenario->currency;

    for (size_t i = 1; i < count; i++) {
        if (strcmp(list[i].scenario->currency, currency) != 0) {
            return NULL;
        }
    }
    return currency;
}

/* fmin and fmax pass over what is not known. */
static void add_day(struct pd_total *total, const struct pd_compared *compared, size_t strategy)
{
    const struct pd_comparison_row *row = &compared->comparison.row[strategy];
    const struct pd_day_result *day = &row->result;
    int weight = compared->weight;

    total->days += weight;
    total->failing += row->good ? 0 : weight;
    total->starts += weight * (double)day->starts;
    total->run_time += weight * day->run_time;
    total->energy += weight * day->energy;
    total->cost += weight * pd_day_cost(compared->scenario, day);
    total->delivered += weight * day->delivered;
    total->time_below_tap_limit += weight * day->time_below_tap_limit;
    if (day->starts_in_worst_hour > total->starts_in_worst_hour) {
        total->starts_in_worst_hour = day->starts_in_worst_hour;
    }
    total->shortest_run = fmin(total->shortest_run, day->shortest_run);
    total->shortest_rest = fmin(total->shortest_rest, day->shortest_rest);
    total->lowest_tap_pressure = fmin(total->lowest_tap_pressure, day->lowest_tap_pressure);
    total->highest_header_pressure =
        fmax(total->highest_header_pressure, day->highest_header_pressure);
}

struct pd_total pd_compare_total(const struct pd_compared *list, size_t count, size_t strategy)
{
    struct pd_total total = {
        .strategy = list[0].comparison.row[strategy].result.strategy.kind,
        .shortest_run = NAN,
        .shortest_rest = NAN,
        .lowest_tap_pressure = NAN,
        .highest_header_pressure = NAN,
    };

    for (size_t i = 0; i < count; i++) {
        add_day(&total, &list[i], strategy);
    }
    if (pd_compared_currency(list, count) == NULL) {
        total.cost = NAN;
    }
    return total;
}
