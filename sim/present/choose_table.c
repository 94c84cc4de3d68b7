/* Lays out choices: a row a pump, tank and strategy. */
#include "present/choose_table.h"

#include "base/text.h"
#include "output/results.h"
#include "present/days_table.h"

#include <math.h>
#include <string.h>

enum { NAME_WIDTH = 16, SHARE_MOST = 32, NEAREST_MOST = 8 };

static const char own[] = "its own";

static const char *pump_name(const struct pd_catalogue *catalogue, const struct pd_choice *choice)
{
    return catalogue->pump_count > 0 ? catalogue->pumps[choice->pump].name : own;
}

static const char *tank_name(const struct pd_catalogue *catalogue, const struct pd_choice *choice)
{
    return catalogue->tank_count > 0 ? catalogue->tanks[choice->tank].name : own;
}

static void write_row(FILE *stream, const struct pd_catalogue *catalogue,
                      const struct pd_choice *choice)
{
    char pump[NAME_WIDTH], tank[NAME_WIDTH], share[SHARE_MOST], faults[PD_VERDICT_MOST];

    pd_text_show(pump, sizeof pump, pump_name(catalogue, choice));
    pd_text_show(tank, sizeof tank, tank_name(catalogue, choice));
    (void)snprintf(share, sizeof share, "%ld of %ld", choice->failing, choice->days);
    (void)fprintf(stream, "  %-*s%-*s%-16s%12s", NAME_WIDTH, pump, NAME_WIDTH, tank,
                  choice->strategy->name, share);
    if (choice->passes) {
        (void)fprintf(stream, "%9.0f%9.0f (%.0f to %.0f)\n", choice->purchase, choice->cost.middle,
                      choice->cost.low, choice->cost.high);
    } else {
        pd_days_verdict(choice->faults, faults);
        (void)fprintf(stream, "  %.38s\n", faults);
    }
}

#define SETTING(name, kind, si, us, member)                                                        \
    {                                                                                              \
        name, PD_KIND_##kind, si, us, PD_STORE_DOUBLE, offsetof(struct pd_strategy, member)        \
    }

/* What each was set to. */
static const struct pd_column settings_columns[] = {
    SETTING("start_pressure", PRESSURE, "kPa", "psi", start_pressure),
    SETTING("stop_pressure", PRESSURE, "kPa", "psi", stop_pressure),
    SETTING("start_flow", FLOW, "L/min", "gpm", start_flow),
    SETTING("stop_flow", FLOW, "L/min", "gpm", stop_flow),
    SETTING("run_on", TIME, "s", "s", run_on),
    SETTING("precharge", PRESSURE, "kPa", "psi", precharge),
};
enum { SETTINGS = sizeof settings_columns / sizeof settings_columns[0] };

static void write_settings(FILE *stream, const struct pd_strategy *told, enum pd_unit_system units)
{
    struct pd_strategy settings = pd_strategy_shown(told);
    const char *between = "  set to: ";

    for (size_t i = 0; i < SETTINGS; i++) {
        const struct pd_column *column = &settings_columns[i];
        double value = pd_column_number(column, units, &settings);
        const char *gap = strchr(column->name, '_');
        int before = gap != NULL ? (int)(gap - column->name) : (int)strlen(column->name);
        if (isfinite(value)) {
            (void)fprintf(stream, "%s%.*s%s%s %.4g %s", between, before, column->name,
                          gap != NULL ? " " : "", gap != NULL ? gap + 1 : "", value,
                          pd_column_unit(column, units));
            between = ", ";
        }
    }
    (void)fputc('\n', stream);
}

static void write_best(FILE *stream, enum pd_unit_system units,
                       const struct pd_catalogue *catalogue, const struct pd_choices *choices,
                       const struct pd_choose_options *options)
{
    const struct pd_choice *best = &choices->list[0];
    char pump[NAME_WIDTH], tank[NAME_WIDTH], interval[SHARE_MOST], faults[PD_VERDICT_MOST];

    pd_text_show(pump, sizeof pump, pump_name(catalogue, best));
    pd_text_show(tank, sizeof tank, tank_name(catalogue, best));
    if (best->passes) {
        pd_days_interval_text(interval, sizeof interval, best->failing, best->days);
        (void)fprintf(stream,
                      "least cost among those that pass on %.4g %% of the days: %s, %s, %s;\n  it "
                      "fails on %ld of %ld days, so on %s of all such days\n",
                      100 * options->share, pump, tank, best->strategy->name, best->failing,
                      best->days, interval);
        write_settings(stream, &best->settings, units);
    } else {
        pd_days_verdict(best->faults, faults);
        (void)fprintf(stream, "none passes on %.4g %% of the days; nearest: %s, %s, %s (%s)\n",
                      100 * options->share, pump, tank, best->strategy->name, faults);
    }
}

void pd_choices_write_table(FILE *stream, const struct pd_scenario *scenario,
                            const struct pd_catalogue *catalogue, const struct pd_choices *choices,
                            const struct pd_choose_options *options, enum pd_unit_system units)
{
    const char *currency = scenario->currency[0] != '\0' ? scenario->currency : "money";
    size_t passing = 0, shown;

    (void)fprintf(stream, "  %-*s%-*s%-16s%12s%9s   cost of %.0f years [%s]\n", NAME_WIDTH, "pump",
                  NAME_WIDTH, "tank", "strategy", "days fail", "bought",
                  scenario->value[PD_COST_YEARS], currency);
    while (passing < choices->count && choices->list[passing].passes) {
        passing++;
    }
    for (shown = 0; shown < choices->count && shown < passing + NEAREST_MOST; shown++) {
        if (shown == passing) {
            (void)fprintf(stream, "fail too often, broken off when that was sure; the nearest:\n");
        }
        write_row(stream, catalogue, &choices->list[shown]);
    }
    if (shown < choices->count) {
        (void)fprintf(stream, "  (%zu more, which fail too)\n", choices->count - shown);
    }
    (void)fputc('\n', stream);
    write_best(stream, units, catalogue, choices, options);
}

void pd_choices_write_csv(FILE *stream, const struct pd_catalogue *catalogue,
                          const struct pd_choices *choices, enum pd_unit_system units)
{
    (void)fputs("rank,pump,tank,strategy,days,failing,passes,purchase,cost,cost_least,cost_most,"
                "faults,",
                stream);
    pd_csv_head(stream, settings_columns, SETTINGS, units);
    for (size_t i = 0; i < choices->count; i++) {
        const struct pd_choice *choice = &choices->list[i];
        char faults[PD_VERDICT_MOST];
        pd_days_verdict(choice->faults, faults);
        (void)fprintf(stream, "%zu,", i + 1);
        pd_csv_text(stream, pump_name(catalogue, choice));
        (void)fputc(',', stream);
        pd_csv_text(stream, tank_name(catalogue, choice));
        (void)fprintf(stream, ",%s,%ld,%ld,%d,%.2f,%.2f,%.2f,%.2f,%s,", choice->strategy->name,
                      choice->days, choice->failing, choice->passes, choice->purchase,
                      choice->cost.middle, choice->cost.low, choice->cost.high, faults);
        struct pd_strategy settings = pd_strategy_shown(&choice->settings);
        pd_csv_row(stream, settings_columns, SETTINGS, units, &settings);
    }
}
