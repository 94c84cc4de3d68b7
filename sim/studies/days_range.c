/* What many days come to: quantiles, shares and how sure they are, the worst day. */
#include "base/memory.h"

#include <pumpday/days.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

const struct pd_figure_row pd_figures[PD_FIGURE_COUNT] = {
    [PD_FIGURE_STARTS] = {"starts", "starts in the day", PD_KIND_STARTS},
    [PD_FIGURE_WORST_HOUR] = {"starts_in_worst_hour", "starts in the worst hour", PD_KIND_STARTS},
    [PD_FIGURE_RUN_TIME] = {"run_time", "run time", PD_KIND_TIME},
    [PD_FIGURE_SHORTEST_RUN] = {"shortest_run", "shortest run", PD_KIND_TIME},
    [PD_FIGURE_SHORTEST_REST] = {"shortest_rest", "shortest rest", PD_KIND_TIME},
    [PD_FIGURE_ENERGY] = {"energy", "energy", PD_KIND_ENERGY},
    [PD_FIGURE_COST] = {"cost", "cost of energy", PD_KIND_NUMBER},
    [PD_FIGURE_WATER] = {"delivered", "water to the taps", PD_KIND_VOLUME},
    [PD_FIGURE_LOWEST_TAP] = {"lowest_tap_pressure", "lowest tap pressure", PD_KIND_PRESSURE},
    [PD_FIGURE_HIGHEST] = {"highest_header_pressure", "highest pressure", PD_KIND_PRESSURE},
    [PD_FIGURE_LEVEL] = {"supply_level", "water level at midnight", PD_KIND_LENGTH},
};

// 97.5 % of the normal distribution
static const double two_sided = 1.959963984540054;

static size_t place_of(const struct pd_days *days, long day, size_t strategy)
{
    return (size_t)day * days->strategy_count + strategy;
}

double pd_days_figure(const struct pd_days *days, long day, size_t strategy, enum pd_figure figure)
{
    return days->figure[place_of(days, day, strategy) * PD_FIGURE_COUNT + figure];
}

uint32_t pd_days_faults(const struct pd_days *days, long day, size_t strategy)
{
    return days->faults[place_of(days, day, strategy)];
}

long pd_days_failing(const struct pd_days *days, size_t strategy, uint32_t faults)
{
    long failing = 0;

    for (long day = 0; day < days->count; day++) {
        failing += (pd_days_faults(days, day, strategy) & faults) != 0;
    }
    return failing;
}

static int by_size(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;

    return (a > b) - (a < b);
}

/* The least value that so large a share of the list does not exceed: always one of the list. */
static double quantile(const double *sorted, size_t count, double share)
{
    double rank = ceil(share * (double)count - 1e-9);

    return count == 0 ? (double)NAN : sorted[(size_t)fmax(rank, 1.0) - 1];
}

/* Takes and frees a list of numbers. */
static struct pd_range range_of(double *list, size_t count)
{
    qsort(list, count, sizeof *list, by_size);
    struct pd_range range = {quantile(list, count, 0.05), quantile(list, count, 0.5),
                             quantile(list, count, 0.95)};
    free(list);
    return range;
}

static double *list_for(const struct pd_days *days, struct pd_error *error)
{
    double *list = pd_memory_resize(NULL, ((size_t)days->count + 1) * sizeof *list);

    if (list == NULL) {
        (void)pd_error_memory(error);
    }
    return list;
}

bool pd_days_range(const struct pd_days *days, size_t strategy, enum pd_figure figure,
                   struct pd_range *range, struct pd_error *error)
{
    double *list = list_for(days, error);
    size_t count = 0;

    if (list == NULL) {
        return false;
    }
    for (long day = 0; day < days->count; day++) {
        double value = pd_days_figure(days, day, strategy, figure);
        if (!isnan(value)) {
            list[count++] = value;
        }
    }
    *range = range_of(list, count);
    return true;
}

struct pd_range pd_days_mean(const struct pd_days *days, size_t strategy, enum pd_figure figure)
{
    double sum = 0, squares = 0, count = 0;

    for (long day = 0; day < days->count; day++) {
        double value = pd_days_figure(days, day, strategy, figure);
        if (!isnan(value)) {
            sum += value;
            squares += value * value;
            count++;
        }
    }
    if (count < 2) {
        return (struct pd_range){NAN, NAN, NAN};
    }
    double mean = sum / count;
    double variance = fmax(squares - count * mean * mean, 0.0) / (count - 1);
    double half = two_sided * sqrt(variance / count);
    return (struct pd_range){mean - half, mean, mean + half};
}

bool pd_days_difference(const struct pd_days *days, size_t strategy, size_t less,
                        enum pd_figure figure, struct pd_range *range, struct pd_error *error)
{
    double *list = list_for(days, error);
    size_t count = 0;

    if (list == NULL) {
        return false;
    }
    for (long day = 0; day < days->count; day++) {
        double value =
            pd_days_figure(days, day, strategy, figure) - pd_days_figure(days, day, less, figure);
        if (!isnan(value)) {
            list[count++] = value;
        }
    }
    *range = range_of(list, count);
    return true;
}

struct pd_interval pd_share_interval(long count, long of)
{
    double n = (double)of, share = (double)count / n, z2 = two_sided * two_sided;
    double middle = (share + z2 / (2 * n)) / (1 + z2 / n);
    double half = two_sided * sqrt(share * (1 - share) / n + z2 / (4 * n * n)) / (1 + z2 / n);

    // none seen, or all: the ends are exact and rounding must not move them
    return (struct pd_interval){count == 0 ? 0.0 : middle - half,
                                count == of ? 1.0 : middle + half};
}

static int bits(uint32_t faults)
{
    int count = 0;

    for (; faults != 0; faults &= faults - 1) {
        count++;
    }
    return count;
}

/* Over 0 if day a is worse than day b. */
static double worse(const struct pd_days *days, size_t strategy, long a, long b)
{
    int faults = bits(pd_days_faults(days, a, strategy)) - bits(pd_days_faults(days, b, strategy));
    double starts = pd_days_figure(days, a, strategy, PD_FIGURE_WORST_HOUR) -
                    pd_days_figure(days, b, strategy, PD_FIGURE_WORST_HOUR);
    double low = pd_days_figure(days, b, strategy, PD_FIGURE_LOWEST_TAP) -
                 pd_days_figure(days, a, strategy, PD_FIGURE_LOWEST_TAP);

    if (faults != 0) {
        return faults;
    }
    return starts != 0 ? starts : low;
}

bool pd_days_are_precise(const struct pd_days *days, double until)
{
    for (size_t i = 0; i < days->strategy_count; i++) {
        struct pd_interval share =
            pd_share_interval(pd_days_failing(days, i, UINT32_MAX), days->count);
        if (share.high - share.low > 2 * until) {
            return false;
        }
    }
    return true;
}

long pd_days_worst(const struct pd_days *days, size_t strategy)
{
    long worst = 0;

    for (long day = 1; day < days->count; day++) {
        if (worse(days, strategy, day, worst) > 0) {
            worst = day;
        }
    }
    return worst + 1;
}

void pd_days_verdict(uint32_t faults, char text[PD_VERDICT_MOST])
{
    size_t length = 0;

    (void)snprintf(text, PD_VERDICT_MOST, "ok");
    for (int fault = 0; fault < PD_FAULT_COUNT && length < PD_VERDICT_MOST; fault++) {
        if ((faults & UINT32_C(1) << fault) != 0) {
            length += (size_t)snprintf(text + length, PD_VERDICT_MOST - length, "%s%s",
                                       length > 0 ? "; " : "", pd_fault_name((enum pd_fault)fault));
        }
    }
}
