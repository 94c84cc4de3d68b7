/* Writes the files of a comparison.  Each file is one table of columns over one record. */
#include "output/results.h"

#include "base/text.h"

#include <math.h>

enum result_file { SUMMARY, HOURS, CYCLES, TRACE, SETTINGS, ZOOM, FILE_COUNT };

static const char *const names[FILE_COUNT] = {
    [SUMMARY] = "summary.csv", [HOURS] = "hours.csv",       [CYCLES] = "cycles.csv",
    [TRACE] = "trace.csv",     [SETTINGS] = "settings.csv", [ZOOM] = "zoom.csv",
};

struct hour_record {
    const char *strategy;
    int hour;
    struct pd_hour hour_of;
};

struct cycle_record {
    const char *strategy;
    struct pd_run run;
    const char *start_cause, *stop_cause;
};

struct trace_record {
    const char *strategy;
    struct pd_trace_row row;
};

struct settings_record {
    const char *strategy;
    struct pd_report_settings settings;
};

#define COLUMN(name, kind, si, us, store, record, member)                                          \
    {                                                                                              \
        name, PD_KIND_##kind, si, us, PD_STORE_##store, offsetof(struct record, member)            \
    }

#define DAY(name, kind, si, us, store, member)                                                     \
    COLUMN(name, kind, si, us, store, pd_report_day, member)

static const struct pd_column summary_columns[] = {
    DAY("strategy", TEXT, NULL, NULL, TEXT, strategy),
    DAY("starts", NUMBER, NULL, NULL, INT, result.starts),
    DAY("starts_in_worst_hour", NUMBER, NULL, NULL, INT, result.starts_in_worst_hour),
    DAY("run_time", TIME, "h", "h", DOUBLE, result.run_time),
    DAY("energy", ENERGY, "kWh", "kWh", DOUBLE, result.energy),
    DAY("cost", NUMBER, NULL, NULL, DOUBLE, cost),
    DAY("volume", VOLUME, "L", "gal", DOUBLE, result.delivered),
    DAY("specific_energy", SPECIFIC_ENERGY, "kWh/m3", "kWh/kgal", DOUBLE, specific_energy),
    DAY("shortest_run", TIME, "s", "s", DOUBLE, result.shortest_run),
    DAY("shortest_rest", TIME, "s", "s", DOUBLE, result.shortest_rest),
    DAY("lowest_tap_pressure", PRESSURE, "kPa", "psi", DOUBLE, result.lowest_tap_pressure),
    DAY("time_below_tap_limit", TIME, "s", "s", DOUBLE, result.time_below_tap_limit),
    DAY("highest_header_pressure", PRESSURE, "kPa", "psi", DOUBLE, result.highest_header_pressure),
    DAY("balance_error", VOLUME, "L", "gal", DOUBLE, result.balance_error),
    DAY("run_off_curve", SHARE, "%", "%", DOUBLE, run_off_curve),
    DAY("water_off_curve", SHARE, "%", "%", DOUBLE, water_off_curve),
    DAY("verdict", TEXT, NULL, NULL, TEXT, verdict),
};

#define HOUR(name, kind, si, us, store, member)                                                    \
    COLUMN(name, kind, si, us, store, hour_record, member)

static const struct pd_column hour_columns[] = {
    HOUR("strategy", TEXT, NULL, NULL, TEXT, strategy),
    HOUR("hour", NUMBER, NULL, NULL, INT, hour),
    HOUR("starts", NUMBER, NULL, NULL, INT, hour_of.starts),
    HOUR("run_time", TIME, "s", "s", DOUBLE, hour_of.run_time),
    HOUR("energy", ENERGY, "kWh", "kWh", DOUBLE, hour_of.energy),
    HOUR("volume", VOLUME, "L", "gal", DOUBLE, hour_of.volume),
    HOUR("lowest_tap_pressure", PRESSURE, "kPa", "psi", DOUBLE, hour_of.lowest_tap_pressure),
};

#define CYCLE(name, kind, si, us, store, member)                                                   \
    COLUMN(name, kind, si, us, store, cycle_record, member)

static const struct pd_column cycle_columns[] = {
    CYCLE("strategy", TEXT, NULL, NULL, TEXT, strategy),
    CYCLE("start", TIME, "s", "s", DOUBLE, run.start),
    CYCLE("run_time", TIME, "s", "s", DOUBLE, run.run_time),
    CYCLE("rest_before", TIME, "s", "s", DOUBLE, run.rest_before),
    CYCLE("volume", VOLUME, "L", "gal", DOUBLE, run.volume),
    CYCLE("energy", ENERGY, "kWh", "kWh", DOUBLE, run.energy),
    CYCLE("start_cause", TEXT, NULL, NULL, TEXT, start_cause),
    CYCLE("stop_cause", TEXT, NULL, NULL, TEXT, stop_cause),
};

#define ROW(name, kind, si, us, store, member)                                                     \
    COLUMN(name, kind, si, us, store, trace_record, member)

static const struct pd_column trace_columns[] = {
    ROW("strategy", TEXT, NULL, NULL, TEXT, strategy),
    ROW("time", TIME, "s", "s", DOUBLE, row.time),
    ROW("header_pressure", PRESSURE, "kPa", "psi", DOUBLE, row.header_pressure),
    ROW("supply_pressure", PRESSURE, "kPa", "psi", DOUBLE, row.supply_pressure),
    ROW("suction_pressure", PRESSURE, "kPa", "psi", DOUBLE, row.suction_pressure),
    ROW("tap_pressure", PRESSURE, "kPa", "psi", DOUBLE, row.tap_pressure),
    ROW("pump_flow", FLOW, "L/min", "gpm", DOUBLE, row.pump_flow),
    ROW("demand_flow", FLOW, "L/min", "gpm", DOUBLE, row.demand_flow),
    ROW("tank_water", VOLUME, "L", "gal", DOUBLE, row.tank_water),
    ROW("speed", NUMBER, NULL, NULL, DOUBLE, row.speed),
    ROW("power", POWER, "W", "W", DOUBLE, row.power),
    ROW("pump", NUMBER, NULL, NULL, BOOL, row.pump_on),
    ROW("check_valve", NUMBER, NULL, NULL, BOOL, row.valve_open),
};

#define SETTING(name, kind, si, us, store, member)                                                 \
    COLUMN(name, kind, si, us, store, settings_record, member)

/* The title stays last: the scripts of the charts find it as the rest of the line. */
static const struct pd_column settings_columns[] = {
    SETTING("strategy", TEXT, NULL, NULL, TEXT, strategy),
    SETTING("start_pressure", PRESSURE, "kPa", "psi", DOUBLE, settings.strategy.start_pressure),
    SETTING("start_flow", FLOW, "L/min", "gpm", DOUBLE, settings.strategy.start_flow),
    SETTING("stop_flow", FLOW, "L/min", "gpm", DOUBLE, settings.strategy.stop_flow),
    SETTING("stop_pressure", PRESSURE, "kPa", "psi", DOUBLE, settings.strategy.stop_pressure),
    SETTING("run_on", TIME, "s", "s", DOUBLE, settings.strategy.run_on),
    SETTING("precharge", PRESSURE, "kPa", "psi", DOUBLE, settings.strategy.precharge),
    SETTING("tap_limit", PRESSURE, "kPa", "psi", DOUBLE, settings.tap_limit),
    SETTING("static_limit", PRESSURE, "kPa", "psi", DOUBLE, settings.static_limit),
    SETTING("starts_limit", NUMBER, NULL, NULL, DOUBLE, settings.starts_limit),
    SETTING("water_asked", VOLUME, "L", "gal", DOUBLE, settings.asked),
    SETTING("title", TEXT, NULL, NULL, TEXT, settings.title),
};

/* Of the trace, finer than anything that is measured on site; what comes behind is the integrator's
 * noise. */
static const int trace_decimals[PD_KIND_COUNT] = {
    [PD_KIND_TIME] = 3,   [PD_KIND_PRESSURE] = 3, [PD_KIND_FLOW] = 4,
    [PD_KIND_VOLUME] = 4, [PD_KIND_NUMBER] = 5,   [PD_KIND_POWER] = 2,
};

struct column_table {
    const struct pd_column *columns;
    size_t count;
};

#define TABLE(columns)                                                                             \
    {                                                                                              \
        columns, sizeof(columns) / sizeof(columns)[0]                                              \
    }

static const struct column_table tables[FILE_COUNT] = {
    [SUMMARY] = TABLE(summary_columns),   [HOURS] = TABLE(hour_columns),
    [CYCLES] = TABLE(cycle_columns),      [TRACE] = TABLE(trace_columns),
    [SETTINGS] = TABLE(settings_columns), [ZOOM] = TABLE(trace_columns),
};

struct pd_report_day pd_report_day_for(const struct pd_day_result *result, double cost,
                                       double tap_limit, bool good, const char *verdict)
{
    double delivered = result->delivered;

    return (struct pd_report_day){
        .strategy = result->strategy.kind->name,
        .result = *result,
        .cost = cost,
        .specific_energy = delivered > 0 ? result->energy / delivered : (double)NAN,
        .run_off_curve =
            result->run_time > 0 ? result->time_beyond_curve / result->run_time : (double)NAN,
        .water_off_curve =
            result->pumped > 0 ? result->pumped_beyond_curve / result->pumped : (double)NAN,
        .tap_limit = tap_limit,
        .good = good,
        .verdict = verdict,
    };
}

void pd_report_title(const struct pd_scenario *scenario, char title[PD_PATH_MOST])
{
    char line[PD_PATH_MOST];

    pd_text_show(line, sizeof line,
                 scenario->title[0] != '\0' ? scenario->title : scenario->folder);
    pd_text_utf8(title, PD_PATH_MOST, line);
}

const struct pd_column *pd_summary_columns(size_t *count)
{
    *count = tables[SUMMARY].count;
    return tables[SUMMARY].columns;
}

static void write_row(struct pd_results *results, enum result_file file, const void *record)
{
    pd_csv_row(results->outputs.file[file].stream, tables[file].columns, tables[file].count,
               results->units, record);
}

bool pd_results_open(struct pd_results *results, const char *folder, enum pd_unit_system units,
                     struct pd_error *error)
{
    results->units = units;
    results->trace_rows =
        pd_csv_rows_for(tables[TRACE].columns, tables[TRACE].count, units, trace_decimals);
    if (!pd_outputs_open(&results->outputs, folder, names, FILE_COUNT, error)) {
        return false;
    }
    for (size_t i = 0; i < FILE_COUNT; i++) {
        pd_csv_head(results->outputs.file[i].stream, tables[i].columns, tables[i].count, units);
    }
    return true;
}

static bool write_trace_row(struct pd_results *results, enum result_file file, const char *strategy,
                            const struct pd_trace_row *row)
{
    struct trace_record record = {.strategy = strategy, .row = *row};

    pd_csv_rows_add(results->outputs.file[file].stream, &results->trace_rows, &record);
    return ferror(results->outputs.file[file].stream) == 0;
}

bool pd_results_trace(struct pd_results *results, const char *strategy,
                      const struct pd_trace_row *row)
{
    return write_trace_row(results, TRACE, strategy, row);
}

bool pd_results_zoom(struct pd_results *results, const char *strategy,
                     const struct pd_trace_row *row)
{
    return write_trace_row(results, ZOOM, strategy, row);
}

struct pd_strategy pd_strategy_shown(const struct pd_strategy *strategy)
{
    struct pd_strategy shown = *strategy;

    if (isfinite(shown.stop_pressure)) {
        shown.stop_flow = NAN;
        shown.run_on = NAN;
    }
    return shown;
}

void pd_results_settings(struct pd_results *results, const struct pd_report_settings *settings)
{
    struct settings_record record = {settings->strategy.kind->name, *settings};

    record.settings.strategy = pd_strategy_shown(&settings->strategy);
    write_row(results, SETTINGS, &record);
}

/* Writes a row of a table, behind the scenario's name where there is one. */
static void write_named_row(FILE *stream, enum result_file file, enum pd_unit_system units,
                            const char *scenario, const void *record)
{
    if (scenario != NULL) {
        pd_csv_text(stream, scenario);
        (void)fputc(',', stream);
    }
    pd_csv_row(stream, tables[file].columns, tables[file].count, units, record);
}

static void write_hours(FILE *stream, enum pd_unit_system units, const char *scenario,
                        const struct pd_report_day *day)
{
    for (int hour = 0; hour < PD_HOURS; hour++) {
        struct hour_record record = {day->strategy, hour, day->result.hours[hour]};
        write_named_row(stream, HOURS, units, scenario, &record);
    }
}

static void write_cycles(FILE *stream, enum pd_unit_system units, const char *scenario,
                         const struct pd_report_day *day)
{
    for (size_t i = 0; i < day->result.run_count; i++) {
        const struct pd_run *run = &day->result.runs[i];
        struct cycle_record record = {
            .strategy = day->strategy,
            .run = *run,
            .start_cause = pd_cause_name(run->start_cause),
            .stop_cause = pd_cause_name(run->stop_cause),
        };
        write_named_row(stream, CYCLES, units, scenario, &record);
    }
}

void pd_results_day(struct pd_results *results, const struct pd_report_day *day)
{
    write_row(results, SUMMARY, day);
    write_hours(results->outputs.file[HOURS].stream, results->units, NULL, day);
    write_cycles(results->outputs.file[CYCLES].stream, results->units, NULL, day);
}

void pd_results_heads_of_several(FILE *hours, FILE *cycles, enum pd_unit_system units)
{
    (void)fputs("scenario,", hours);
    pd_csv_head(hours, tables[HOURS].columns, tables[HOURS].count, units);
    (void)fputs("scenario,", cycles);
    pd_csv_head(cycles, tables[CYCLES].columns, tables[CYCLES].count, units);
}

void pd_results_rows_of_several(FILE *hours, FILE *cycles, enum pd_unit_system units,
                                const char *scenario, const struct pd_report_day *day)
{
    write_hours(hours, units, scenario, day);
    write_cycles(cycles, units, scenario, day);
}

bool pd_results_commit(struct pd_results *results, struct pd_error *error)
{
    return pd_outputs_commit(&results->outputs, error);
}

void pd_results_discard(struct pd_results *results)
{
    pd_outputs_discard(&results->outputs);
}
