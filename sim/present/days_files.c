/* Columns follow from the table of figures. */
#include "present/days_files.h"

#include "output/columns.h"
#include "output/outputs.h"
#include "output/results.h"
#include "present/days_table.h"

#include <pumpday/life_cost.h>

#include <math.h>
#include <stdio.h>

enum { DAYS, SUMMARY, COST, FILE_COUNT };

static const char *const names[FILE_COUNT] = {
    [DAYS] = "days.csv",
    [SUMMARY] = "days-summary.csv",
    [COST] = "days-cost.csv",
};

enum { NAME_MOST = 64, QUANTILES = 3 };

static const char *const quantile_names[QUANTILES] = {"5", "50", "95"};

/* The column of a figure that stands at a place of a row of numbers. */
static struct pd_column column_of(enum pd_figure figure, const char *name, size_t place)
{
    enum pd_kind kind = pd_figures[figure].kind;
    const char *si = pd_unit_shown(kind, PD_UNITS_SI), *us = pd_unit_shown(kind, PD_UNITS_US);

    return (struct pd_column){
        .name = name,
        .kind = kind,
        .si_unit = si[0] != '\0' ? si : NULL,
        .us_unit = us[0] != '\0' ? us : NULL,
        .store = PD_STORE_DOUBLE,
        .offset = place * sizeof(double),
    };
}

static void write_days(FILE *stream, const struct pd_days *days, enum pd_unit_system units)
{
    struct pd_column columns[PD_FIGURE_COUNT];

    for (enum pd_figure figure = 0; figure < PD_FIGURE_COUNT; figure++) {
        columns[figure] = column_of(figure, pd_figures[figure].name, figure);
    }
    (void)fputs("day,kind,strategy,", stream);
    pd_csv_head_fields(stream, columns, PD_FIGURE_COUNT, units);
    (void)fputs(",verdict\n", stream);
    for (long day = 0; day < days->count; day++) {
        for (size_t i = 0; i < days->strategy_count; i++) {
            double figures[PD_FIGURE_COUNT];
            char verdict[PD_VERDICT_MOST];
            for (enum pd_figure figure = 0; figure < PD_FIGURE_COUNT; figure++) {
                figures[figure] = pd_days_figure(days, day, i, figure);
            }
            pd_days_verdict(pd_days_faults(days, day, i), verdict);
            (void)fprintf(stream, "%ld,%s,%s,", day + 1,
                          pd_day_kind_name(pd_day_kind_of(&days->calendar, days->seed, day + 1)),
                          days->strategy[i].kind->name);
            pd_csv_fields(stream, columns, PD_FIGURE_COUNT, units, figures);
            (void)fprintf(stream, ",%s\n", verdict);
        }
    }
}

/* The columns of the ranges, with names in a store of their own. */
static void range_columns(struct pd_column columns[PD_FIGURE_COUNT][QUANTILES],
                          char store[PD_FIGURE_COUNT][QUANTILES][NAME_MOST])
{
    for (enum pd_figure figure = 0; figure < PD_FIGURE_COUNT; figure++) {
        for (size_t i = 0; i < QUANTILES; i++) {
            (void)snprintf(store[figure][i], NAME_MOST, "%s_%s", pd_figures[figure].name,
                           quantile_names[i]);
            columns[figure][i] =
                column_of(figure, store[figure][i], (size_t)QUANTILES * figure + i);
        }
    }
}

static bool ranges_of(const struct pd_days *days, size_t strategy,
                      double ranges[PD_FIGURE_COUNT][QUANTILES], struct pd_error *error)
{
    for (enum pd_figure figure = 0; figure < PD_FIGURE_COUNT; figure++) {
        struct pd_range range;
        if (!pd_days_range(days, strategy, figure, &range, error)) {
            return false;
        }
        ranges[figure][0] = range.low;
        ranges[figure][1] = range.middle;
        ranges[figure][2] = range.high;
    }
    return true;
}

/* What the days were judged by. */
static const struct pd_column limit_columns[] = {
    {"starts_limit", PD_KIND_STARTS, NULL, NULL, PD_STORE_DOUBLE, 0},
    {"tap_limit", PD_KIND_PRESSURE, "kPa", "psi", PD_STORE_DOUBLE, sizeof(double)},
};

static bool write_summary(FILE *stream, const struct pd_scenario *scenario,
                          const struct pd_days *days, enum pd_unit_system units,
                          struct pd_error *error)
{
    struct pd_column columns[PD_FIGURE_COUNT][QUANTILES];
    char store[PD_FIGURE_COUNT][QUANTILES][NAME_MOST], title[PD_PATH_MOST];
    double ranges[PD_FIGURE_COUNT][QUANTILES];
    double limits[] = {days->limits.starts_per_hour, days->limits.tap_pressure};

    range_columns(columns, store);
    pd_report_title(scenario, title);
    (void)fputs("strategy,days,failing,failing_least,failing_most,", stream);
    pd_csv_head_fields(stream, columns[0], (size_t)PD_FIGURE_COUNT * QUANTILES, units);
    (void)fputc(',', stream);
    pd_csv_head_fields(stream, limit_columns, sizeof limits / sizeof limits[0], units);
    (void)fputs(",title\n", stream);
    for (size_t i = 0; i < days->strategy_count; i++) {
        long failing = pd_days_failing(days, i, UINT32_MAX);
        struct pd_interval share = pd_share_interval(failing, days->count);
        if (!ranges_of(days, i, ranges, error)) {
            return false;
        }
        (void)fprintf(stream, "%s,%ld,%ld,%.4f,%.4f,", days->strategy[i].kind->name, days->count,
                      failing, share.low, share.high);
        pd_csv_fields(stream, columns[0], (size_t)PD_FIGURE_COUNT * QUANTILES, units, ranges);
        (void)fputc(',', stream);
        pd_csv_fields(stream, limit_columns, sizeof limits / sizeof limits[0], units, limits);
        (void)fputc(',', stream);
        pd_csv_text(stream, title);
        (void)fputc('\n', stream);
    }
    return true;
}

/* What is paid in each year at its prices, and the present value of all up to its end. */
static void write_cost(FILE *stream, const struct pd_scenario *scenario, const struct pd_days *days)
{
    struct pd_life lives[PD_LIVES];

    (void)fputs("strategy,year,paid,present_value_least,present_value,present_value_most\n",
                stream);
    for (size_t i = 0; i < days->strategy_count; i++) {
        pd_lives_of_days(scenario, days, i, lives);
        for (int year = 0; year <= (int)lives[0].years; year++) {
            const double figures[] = {pd_life_year(&lives[1], year), pd_life_until(&lives[0], year),
                                      pd_life_until(&lives[1], year),
                                      pd_life_until(&lives[2], year)};
            (void)fprintf(stream, "%s,%d", days->strategy[i].kind->name, year);
            for (size_t k = 0; k < sizeof figures / sizeof figures[0]; k++) {
                (void)fprintf(stream, isnan(figures[k]) ? "," : ",%.2f", figures[k]);
            }
            (void)fputc('\n', stream);
        }
    }
}

bool pd_days_write_files(const char *folder, const struct pd_scenario *scenario,
                         const struct pd_days *days, enum pd_unit_system units,
                         struct pd_error *error)
{
    struct pd_outputs outputs;

    if (!pd_outputs_open(&outputs, folder, names, FILE_COUNT, error)) {
        return false;
    }
    write_days(outputs.file[DAYS].stream, days, units);
    if (!write_summary(outputs.file[SUMMARY].stream, scenario, days, units, error)) {
        pd_outputs_discard(&outputs);
        return false;
    }
    write_cost(outputs.file[COST].stream, scenario, days);
    return pd_outputs_commit(&outputs, error);
}
