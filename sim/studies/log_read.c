/* Reads a logged gauge. */
#include <pumpday/diagnose.h>

#include "base/memory.h"
#include "base/text.h"
#include "scenario/columns.h"
#include "scenario/path.h"

#include <stdlib.h>
#include <string.h>

enum { ROWS_MOST = 100000, SHOWN = 48 };
enum { COLUMN_TIME, COLUMN_PRESSURE, COLUMN_POWER, COLUMN_COUNT };

static const struct pd_column columns[COLUMN_COUNT] = {
    [COLUMN_TIME] = {"time", {PD_KIND_TIME, "h", 0, 168}, true, true},
    [COLUMN_PRESSURE] = {"pressure", {PD_KIND_PRESSURE, "bar", -1, 60}, false, true},
    [COLUMN_POWER] = {"power", {PD_KIND_POWER, "kW", -1, 500}, false, false},
};

static bool in_order(const struct pd_log *log, const struct pd_heads *heads,
                     const struct pd_table *table, size_t row, struct pd_faults *faults)
{
    char now[SHOWN];

    if (row < 2 || log->time[row - 1] > log->time[row - 2]) {
        return true;
    }
    pd_text_show(now, sizeof now, pd_heads_text(heads, table, row, COLUMN_TIME));
    if (log->time[row - 1] >= log->time[row - 2]) {
        return pd_faults_add(faults, table->path, table->rows[row].line, "time",
                             "two rows of the same time \"%s\", expected one row for each; rows "
                             "within a second take time [s] with decimals",
                             now);
    }
    return pd_faults_add(faults, table->path, table->rows[row].line, "time",
                         "out of order, got \"%s\", expected rising times; a log over midnight "
                         "takes time [s]",
                         now);
}

static bool read_rows(struct pd_log *log, const struct pd_heads *heads, struct pd_table *table,
                      struct pd_faults *faults)
{
    bool good = !table->damaged;

    for (size_t row = 1; row <= log->count; row++) {
        size_t i = row - 1;
        bool fits = pd_heads_row_fits(table, row, faults);
        fits = pd_heads_number(heads, table, row, COLUMN_TIME, &log->time[i], faults) && fits;
        fits =
            pd_heads_number(heads, table, row, COLUMN_PRESSURE, &log->pressure[i], faults) && fits;
        if (log->power != NULL) {
            fits = pd_heads_number(heads, table, row, COLUMN_POWER, &log->power[i], faults) && fits;
        }
        good = good && fits;
        // the first fault of order makes all that follow doubtful
        if (good && !in_order(log, heads, table, row, faults)) {
            return false;
        }
    }
    return good;
}

static double *column_of(size_t count)
{
    return pd_memory_resize(NULL, (count > 0 ? count : 1) * sizeof(double));
}

static bool read_table(struct pd_log *log, struct pd_table *table, struct pd_faults *faults)
{
    struct pd_heads heads;

    if (!pd_heads_read(&heads, columns, COLUMN_COUNT, table, faults)) {
        return false;
    }
    log->count = table->row_count - 1;
    log->time = column_of(log->count);
    log->pressure = column_of(log->count);
    log->power = heads.found[COLUMN_POWER] ? column_of(log->count) : NULL;
    if (log->time == NULL || log->pressure == NULL ||
        (heads.found[COLUMN_POWER] && log->power == NULL)) {
        return pd_faults_add(faults, table->path, 0, NULL, "memory ran out");
    }
    if (log->count < 2) {
        return pd_faults_add(faults, table->path, 0, NULL,
                             "fewer than two rows below the column heads, expected a logged gauge");
    }
    return read_rows(log, &heads, table, faults);
}

bool pd_log_read(const char *file, struct pd_log *log, struct pd_faults *faults)
{
    struct pd_table table = {.row_count = 0};

    memset(log, 0, sizeof *log);
    if (!pd_path_join(table.path, file, NULL)) {
        return pd_faults_add(faults, NULL, 0, "log", "the path is too long");
    }
    (void)snprintf(log->file, sizeof log->file, "%s", table.path);
    bool good = pd_table_read(&table, ROWS_MOST, faults) && read_table(log, &table, faults);
    pd_table_free(&table);
    if (!good) {
        pd_log_free(log);
    }
    return good;
}

void pd_log_free(struct pd_log *log)
{
    free(log->time);
    free(log->pressure);
    free(log->power);
    log->time = log->pressure = log->power = NULL;
    log->count = 0;
}
