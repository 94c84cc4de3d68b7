/* Reads profile.csv and supply.csv: a value at each of some rising times. */
#include "scenario/columns.h"
#include "scenario/read.h"
#include "scenario/table.h"

#include "base/memory.h"
#include "base/text.h"

enum { SHOWN = 48 };
enum { COLUMN_TIME, COLUMN_VALUE, COLUMN_LEVEL };

static const struct pd_column profile_columns[] = {
    [COLUMN_TIME] = {"time", {PD_KIND_TIME, "h", 0, 24}, true, true},
    [COLUMN_VALUE] = {"flow", {PD_KIND_FLOW, "L/min", 0, 1e5}, false, true},
};

// the limits of supply.pressure and supply.level
static const struct pd_column supply_columns[] = {
    [COLUMN_TIME] = {"time", {PD_KIND_TIME, "h", 0, 24}, true, true},
    [COLUMN_VALUE] = {"pressure", {PD_KIND_PRESSURE, "bar", -0.9, 25}, false, false},
    [COLUMN_LEVEL] = {"level", {PD_KIND_LENGTH, "m", -300, 300}, false, false},
};

/* A series while it is read. */
struct series {
    struct pd_sample *samples;
    size_t count;
};

static bool in_order(const struct series *series, const struct pd_heads *heads,
                     const struct pd_table *table, size_t row, struct pd_faults *faults)
{
    char now[SHOWN];
    char last[SHOWN];
    if (series->samples[row - 1].time > series->samples[row - 2].time) {
        return true;
    }
    pd_text_show(now, sizeof now, pd_heads_text(heads, table, row, COLUMN_TIME));
    pd_text_show(last, sizeof last, pd_heads_text(heads, table, row - 1, COLUMN_TIME));
    return pd_faults_add(faults, table->path, table->rows[row].line, "time",
                         "out of order, got \"%s\" after \"%s\", expected rising times", now, last);
}

static bool read_sample(struct pd_sample *sample, const struct pd_heads *heads,
                        struct pd_table *table, size_t row, size_t column, struct pd_faults *faults)
{
    bool good = pd_heads_row_fits(table, row, faults);
    good = pd_heads_number(heads, table, row, COLUMN_TIME, &sample->time, faults) && good;
    return pd_heads_number(heads, table, row, column, &sample->value, faults) && good;
}

static bool read_samples(struct series *series, const struct pd_heads *heads,
                         struct pd_table *table, size_t column, struct pd_faults *faults)
{
    bool good = !table->damaged;
    bool last_good = false;
    size_t count = table->row_count - 1;
    if (count == 0) {
        return good && pd_faults_add(faults, table->path, 0, NULL,
                                     "no rows below the column heads, expected a time in each");
    }
    series->samples = pd_memory_resize(NULL, count * sizeof *series->samples);
    if (series->samples == NULL) {
        return pd_faults_add(faults, table->path, 0, NULL, "memory ran out");
    }
    series->count = count;
    for (size_t row = 1; row <= count; row++) {
        struct pd_sample *sample = &series->samples[row - 1];
        *sample = (struct pd_sample){.time = 0.0};
        bool row_good = read_sample(sample, heads, table, row, column, faults);
        good = row_good && good;
        if (row_good && last_good) {
            good = in_order(series, heads, table, row, faults) && good;
        }
        last_good = row_good;
    }
    return good;
}

static bool read_profile_table(struct pd_scenario *scenario, struct pd_table *table,
                               struct pd_faults *faults)
{
    struct pd_heads heads;
    struct series series = {.count = 0};
    size_t count = sizeof profile_columns / sizeof profile_columns[0];
    bool good = pd_heads_read(&heads, profile_columns, count, table, faults) &&
                read_samples(&series, &heads, table, COLUMN_VALUE, faults);
    scenario->profile = series.samples;
    scenario->profile_count = series.count;
    return good;
}

bool pd_read_profile(struct pd_scenario *scenario, struct pd_faults *faults)
{
    return pd_read_if_there(scenario, "profile.csv", PD_SERIES_MOST, read_profile_table, faults);
}

static bool read_supply_table(struct pd_scenario *scenario, struct pd_table *table,
                              struct pd_faults *faults)
{
    struct pd_heads heads;
    struct series series = {.count = 0};
    size_t count = sizeof supply_columns / sizeof supply_columns[0];
    if (!pd_heads_read(&heads, supply_columns, count, table, faults)) {
        return false;
    }
    bool level = heads.found[COLUMN_LEVEL];
    if (level == heads.found[COLUMN_VALUE]) {
        return pd_faults_add(faults, table->path, table->rows[0].line, "pressure",
                             "got %s, expected either pressure [bar] or level [m]",
                             level ? "both pressures and levels" : "neither pressures nor levels");
    }
    size_t column = level ? COLUMN_LEVEL : COLUMN_VALUE;
    bool good = read_samples(&series, &heads, table, column, faults);
    scenario->supply = series.samples;
    scenario->supply_count = series.count;
    scenario->supply_is_level = level;
    return good;
}

bool pd_read_supply(struct pd_scenario *scenario, struct pd_faults *faults)
{
    return pd_read_if_there(scenario, "supply.csv", PD_SERIES_MOST, read_supply_table, faults);
}
