/* The files of several scenarios: what summary.csv, hours.csv and cycles.csv are for one. */
#include "output/outputs.h"
#include "output/results.h"
#include "present/several_table.h"
#include "studies/report_day.h"

enum { SCENARIOS, HOURS, CYCLES, FILE_COUNT };

static const char *const names[FILE_COUNT] = {
    [SCENARIOS] = "scenarios.csv",
    [HOURS] = "scenarios-hours.csv",
    [CYCLES] = "scenarios-cycles.csv",
};

#define COLUMN(name, kind, si, us, store, member)                                                  \
    {                                                                                              \
        name, PD_KIND_##kind, si, us, PD_STORE_##store, offsetof(struct several_row, member)       \
    }

/* The verdict stays last, the strategy third: the script of the chart finds them so. */
static const struct pd_column columns[] = {
    COLUMN("scenario", TEXT, NULL, NULL, TEXT, scenario),
    COLUMN("days", NUMBER, NULL, NULL, INT, weight),
    COLUMN("strategy", TEXT, NULL, NULL, TEXT, strategy),
    COLUMN("starts", NUMBER, NULL, NULL, DOUBLE, starts),
    COLUMN("starts_in_worst_hour", NUMBER, NULL, NULL, DOUBLE, worst_hour),
    COLUMN("run_time", TIME, "h", "h", DOUBLE, run_time),
    COLUMN("energy", ENERGY, "kWh", "kWh", DOUBLE, energy),
    COLUMN("cost", NUMBER, NULL, NULL, DOUBLE, cost),
    COLUMN("volume", VOLUME, "L", "gal", DOUBLE, water),
    COLUMN("shortest_run", TIME, "s", "s", DOUBLE, shortest_run),
    COLUMN("lowest_tap_pressure", PRESSURE, "kPa", "psi", DOUBLE, lowest_tap),
    COLUMN("time_below_tap_limit", TIME, "s", "s", DOUBLE, below_tap),
    COLUMN("highest_header_pressure", PRESSURE, "kPa", "psi", DOUBLE, highest),
    COLUMN("verdict", TEXT, NULL, NULL, TEXT, verdict),
};
enum { COLUMN_COUNT = sizeof columns / sizeof columns[0] };

static void write_scenarios(FILE *stream, const struct pd_compared *list, size_t count,
                            enum pd_unit_system units)
{
    size_t strategies = list[0].comparison.count;

    pd_csv_head(stream, columns, COLUMN_COUNT, units);
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < strategies; k++) {
            struct several_row row = several_row_of(&list[i], k);
            pd_csv_row(stream, columns, COLUMN_COUNT, units, &row);
        }
    }
    for (size_t k = 0; k < strategies; k++) {
        char verdict[PD_VERDICT_MOST];
        struct several_row row = several_row_all(list, count, k, verdict);
        pd_csv_row(stream, columns, COLUMN_COUNT, units, &row);
    }
}

static void write_details(FILE *hours, FILE *cycles, const struct pd_compared *list, size_t count,
                          enum pd_unit_system units)
{
    pd_results_heads_of_several(hours, cycles, units);
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < list[i].comparison.count; k++) {
            struct pd_report_day day = report_day_of(list[i].scenario, &list[i].comparison.limits,
                                                     &list[i].comparison.row[k]);
            pd_results_rows_of_several(hours, cycles, units, list[i].name, &day);
        }
    }
}

bool several_files_write(const char *folder, const struct pd_compared *list, size_t count,
                         enum pd_unit_system units, struct pd_error *error)
{
    struct pd_outputs outputs;

    if (!pd_outputs_open(&outputs, folder, names, FILE_COUNT, error)) {
        return false;
    }
    write_scenarios(outputs.file[SCENARIOS].stream, list, count, units);
    write_details(outputs.file[HOURS].stream, outputs.file[CYCLES].stream, list, count, units);
    return pd_outputs_commit(&outputs, error);
}
