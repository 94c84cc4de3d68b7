/* Lays out many days: a row a figure, a column a strategy. */
#include "present/days_table.h"

#include "output/amount.h"

#include <math.h>
#include <string.h>

/* so many failing days are named one by one */
enum { NAMED_MOST = 8 };

enum { LABEL_WIDTH = 28, CELL_WIDTH = 24, CELL_MOST = 4 * PD_AMOUNT_MOST };

static void write_label(FILE *stream, const char *label, const char *unit)
{
    char text[CELL_MOST];

    (void)snprintf(text, sizeof text, unit[0] != '\0' ? "%s [%s]" : "%s%s", label, unit);
    (void)fprintf(stream, "  %-*s", LABEL_WIDTH - 2, text);
}

static void write_cell(FILE *stream, const char *text)
{
    (void)fprintf(stream, " %*s", CELL_WIDTH - 1, text);
}

void pd_days_interval_text(char *text, size_t size, long count, long of)
{
    struct pd_interval share = pd_share_interval(count, of);
    double width = 100 * (share.high - share.low);
    int decimals = width < 1 ? 2 : width < 3;

    (void)snprintf(text, size, "%.*f to %.*f %%", decimals, 100 * share.low, decimals,
                   100 * share.high);
}

static void write_failing(FILE *stream, const struct pd_days *days)
{
    char text[CELL_MOST];

    write_label(stream, "days that fail", "");
    for (size_t i = 0; i < days->strategy_count; i++) {
        (void)snprintf(text, sizeof text, "%ld of %ld", pd_days_failing(days, i, UINT32_MAX),
                       days->count);
        write_cell(stream, text);
    }
    (void)fputc('\n', stream);
    write_label(stream, "  of all days, 95 % sure", "");
    for (size_t i = 0; i < days->strategy_count; i++) {
        pd_days_interval_text(text, sizeof text, pd_days_failing(days, i, UINT32_MAX), days->count);
        write_cell(stream, text);
    }
    (void)fputc('\n', stream);
}

static void write_fault(FILE *stream, const struct pd_days *days, enum pd_fault fault)
{
    char text[CELL_MOST];
    long seen[PD_STRATEGIES_MOST], sum = 0;

    for (size_t i = 0; i < days->strategy_count; i++) {
        seen[i] = pd_days_failing(days, i, UINT32_C(1) << fault);
        sum += seen[i];
    }
    if (sum == 0) {
        return;
    }
    (void)snprintf(text, sizeof text, "  %s", pd_fault_name(fault));
    write_label(stream, text, "");
    for (size_t i = 0; i < days->strategy_count; i++) {
        (void)snprintf(text, sizeof text, seen[i] > 0 ? "%ld" : "-", seen[i]);
        write_cell(stream, text);
    }
    (void)fputc('\n', stream);
}

/* A unit for a long time, where seconds would be many. */
static const char *unit_of(const struct pd_figure_row *row, enum pd_unit_system units)
{
    return row == &pd_figures[PD_FIGURE_RUN_TIME] ? "h" : pd_amount_unit(row->kind, units);
}

static double number_of(const struct pd_figure_row *row, enum pd_unit_system units, double si)
{
    return row == &pd_figures[PD_FIGURE_RUN_TIME] ? si / 3600
                                                  : pd_amount_number(row->kind, units, si);
}

/* Decimals of a range whose largest figure is so large. */
static int decimals_for(const struct pd_figure_row *row, double large)
{
    if (row->kind == PD_KIND_STARTS || large >= 100) {
        return 0;
    }
    return large >= 10 ? 1 : large >= 0.1 ? 2 : 3;
}

/* "31 (22 to 44)" */
static void range_text(char *text, size_t size, const struct pd_figure_row *row,
                       enum pd_unit_system units, const struct pd_range *range)
{
    double low = number_of(row, units, range->low), high = number_of(row, units, range->high);
    int decimals = decimals_for(row, fmax(fabs(low), fabs(high)));

    if (isnan(range->middle)) {
        (void)snprintf(text, size, "-");
    } else if (low == 0 && high == 0) {
        (void)snprintf(text, size, "0");
    } else {
        (void)snprintf(text, size, "%.*f (%.*f to %.*f)", decimals,
                       number_of(row, units, range->middle), decimals, low, decimals, high);
    }
}

bool pd_days_cell_text(char *text, size_t size, const struct pd_days *days, size_t strategy,
                       enum pd_figure figure, enum pd_unit_system units, struct pd_error *error)
{
    struct pd_range range;

    if (!pd_days_range(days, strategy, figure, &range, error)) {
        return false;
    }
    range_text(text, size, &pd_figures[figure], units, &range);
    return true;
}

const char *pd_days_unit(enum pd_figure figure, enum pd_unit_system units)
{
    return unit_of(&pd_figures[figure], units);
}

static bool write_figure(FILE *stream, const struct pd_scenario *scenario,
                         const struct pd_days *days, enum pd_figure figure,
                         enum pd_unit_system units, struct pd_error *error)
{
    char text[CELL_MOST];

    write_label(stream, pd_figures[figure].what,
                figure == PD_FIGURE_COST ? scenario->currency : pd_days_unit(figure, units));
    for (size_t i = 0; i < days->strategy_count; i++) {
        if (!pd_days_cell_text(text, sizeof text, days, i, figure, units, error)) {
            return false;
        }
        write_cell(stream, text);
    }
    (void)fputc('\n', stream);
    return true;
}

/* Whether some strategy has a figure at all. */
static bool is_known(const struct pd_days *days, enum pd_figure figure)
{
    for (long day = 0; day < days->count; day++) {
        for (size_t i = 0; i < days->strategy_count; i++) {
            if (!isnan(pd_days_figure(days, day, i, figure))) {
                return true;
            }
        }
    }
    return false;
}

/* What a strategy has more or less than the first on the same day. */
static bool write_difference(FILE *stream, const struct pd_days *days, enum pd_figure figure,
                             enum pd_unit_system units, struct pd_error *error)
{
    const struct pd_figure_row *row = &pd_figures[figure];
    struct pd_range range;
    char text[CELL_MOST];

    write_label(stream, row->what, unit_of(row, units));
    write_cell(stream, "");
    for (size_t i = 1; i < days->strategy_count; i++) {
        if (!pd_days_difference(days, i, 0, figure, &range, error)) {
            return false;
        }
        range_text(text, sizeof text, row, units, &range);
        write_cell(stream, text);
    }
    (void)fputc('\n', stream);
    return true;
}

static bool write_differences(FILE *stream, const struct pd_days *days, enum pd_unit_system units,
                              struct pd_error *error)
{
    static const enum pd_figure shown[] = {PD_FIGURE_STARTS, PD_FIGURE_ENERGY,
                                           PD_FIGURE_LOWEST_TAP};

    if (days->strategy_count < 2) {
        return true;
    }
    (void)fprintf(stream, "day by day, less %s\n", days->strategy[0].kind->name);
    for (size_t i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        if (!write_difference(stream, days, shown[i], units, error)) {
            return false;
        }
    }
    return true;
}

/* Where prices are told: what it all costs over the years. */
static void write_life(FILE *stream, const struct pd_scenario *scenario, const struct pd_days *days)
{
    char text[CELL_MOST];

    if (!pd_life_is_told(scenario)) {
        return;
    }
    (void)snprintf(text, sizeof text, "cost of %.0f years", scenario->value[PD_COST_YEARS]);
    write_label(stream, text, scenario->currency);
    for (size_t i = 0; i < days->strategy_count; i++) {
        struct pd_range cost = pd_life_of_days(scenario, days, i);
        (void)snprintf(text, sizeof text, isnan(cost.middle) ? "-" : "%.0f (%.0f to %.0f)",
                       cost.middle, cost.low, cost.high);
        write_cell(stream, text);
    }
    (void)fputc('\n', stream);
}

static void write_worst(FILE *stream, const struct pd_days *days)
{
    char text[CELL_MOST];

    write_label(stream, "worst day, its number", "");
    for (size_t i = 0; i < days->strategy_count; i++) {
        (void)snprintf(text, sizeof text, "%ld", pd_days_worst(days, i));
        write_cell(stream, text);
    }
    (void)fputc('\n', stream);
}

bool pd_days_write_table(FILE *stream, const struct pd_scenario *scenario,
                         const struct pd_days *days, enum pd_unit_system units,
                         struct pd_error *error)
{
    (void)fprintf(stream, "%*s", LABEL_WIDTH, "");
    for (size_t i = 0; i < days->strategy_count; i++) {
        write_cell(stream, days->strategy[i].kind->name);
    }
    (void)fputc('\n', stream);
    write_failing(stream, days);
    for (enum pd_fault fault = 0; fault < PD_FAULT_COUNT; fault++) {
        write_fault(stream, days, fault);
    }
    (void)fprintf(stream, "a day: the middle one (nine of ten are within)\n");
    for (enum pd_figure figure = 0; figure < PD_FIGURE_COUNT; figure++) {
        if (is_known(days, figure) && !write_figure(stream, scenario, days, figure, units, error)) {
            return false;
        }
    }
    write_life(stream, scenario, days);
    write_worst(stream, days);
    return write_differences(stream, days, units, error);
}

/* The few days that fail, by number. */
static void write_numbers(FILE *stream, const struct pd_days *days, size_t strategy, long failing)
{
    const char *before = failing == 1 ? ": day " : ": days ";

    for (long day = 0; day < days->count; day++) {
        if (pd_days_faults(days, day, strategy) != 0) {
            (void)fprintf(stream, "%s%ld", before, day + 1);
            before = ", ";
        }
    }
}

void pd_days_write_verdicts(FILE *stream, const struct pd_days *days)
{
    char text[CELL_MOST];

    for (size_t i = 0; i < days->strategy_count; i++) {
        long failing = pd_days_failing(days, i, UINT32_MAX);
        pd_days_interval_text(text, sizeof text, failing, days->count);
        (void)fprintf(stream, "%s fails on %ld of %ld days (%s of all days)",
                      days->strategy[i].kind->name, failing, days->count, text);
        if (failing > 0 && failing <= NAMED_MOST) {
            write_numbers(stream, days, i, failing);
        }
        (void)fputc('\n', stream);
    }
}
