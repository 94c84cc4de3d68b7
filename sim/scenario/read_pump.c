/* Reads pump.csv: the pump's points, and whether they can be a pump's. */
#include "scenario/columns.h"
#include "scenario/path.h"
#include "scenario/read.h"
#include "scenario/table.h"

#include <stddef.h>

enum { COLUMN_FLOW, COLUMN_HEAD, COLUMN_POWER, COLUMN_NPSH, COLUMN_COUNT };

static const struct pd_column columns[COLUMN_COUNT] = {
    [COLUMN_FLOW] = {"flow", {PD_KIND_FLOW, "L/min", 0, 1e5}, false, true},
    [COLUMN_HEAD] = {"head", {PD_KIND_HEAD, "m", 0, 2000}, false, true},
    [COLUMN_POWER] = {"power", {PD_KIND_POWER, "W", 0, 1e6}, false, true},
    [COLUMN_NPSH] = {"npsh_required", {PD_KIND_HEAD, "m", 0, 100}, false, false},
};

// weight of water, Pa per m, at 1000 kg/m3: only to tell a power that cannot be
static const double specific_weight = 9806.65;

static bool read_point(struct pd_pump_points *pump, const struct pd_heads *heads,
                       struct pd_table *table, size_t row, struct pd_faults *faults)
{
    size_t i = row - 1;
    bool good = pd_heads_row_fits(table, row, faults);
    // all cells of the row, so that all its faults are told
    good = pd_heads_number(heads, table, row, COLUMN_FLOW, &pump->flow[i], faults) && good;
    good = pd_heads_number(heads, table, row, COLUMN_HEAD, &pump->head[i], faults) && good;
    good = pd_heads_number(heads, table, row, COLUMN_POWER, &pump->power[i], faults) && good;
    if (pump->has_npsh) {
        double *npsh = &pump->npsh_required[i];
        good = pd_heads_number(heads, table, row, COLUMN_NPSH, npsh, faults) && good;
    }
    return good;
}

// one point against the one before it
static bool check_point(const struct pd_pump_points *pump, size_t i, const char *path, int line,
                        struct pd_faults *faults)
{
    bool good = true;
    if (i > 0 && pump->flow[i] <= pump->flow[i - 1]) {
        good = pd_faults_add(faults, path, line, "flow",
                             "the flow does not rise, got %.6g L/min after %.6g L/min, expected "
                             "rising flows",
                             pump->flow[i] * 6e4, pump->flow[i - 1] * 6e4);
    }
    if (i > 0 && pump->head[i] > pump->head[i - 1]) {
        good = pd_faults_add(faults, path, line, "head",
                             "the head rises with the flow, got %.6g m after %.6g m, expected a "
                             "head that falls or stays",
                             pump->head[i], pump->head[i - 1]);
    }
    double hydraulic = pump->flow[i] * pump->head[i] * specific_weight;
    if (pump->power[i] < hydraulic) {
        good = pd_faults_add(faults, path, line, "power",
                             "an efficiency over 100 %%, got %.6g W, expected more than the %.6g W "
                             "of hydraulic power",
                             pump->power[i], hydraulic);
    }
    return good;
}

static bool check_shape(const struct pd_pump_points *pump, const struct pd_table *table,
                        struct pd_faults *faults)
{
    bool good = true;
    if (pump->count < 3) {
        return pd_faults_add(faults, table->path, 0, NULL,
                             "too few points, got %zu, expected at least 3", pump->count);
    }
    if (pump->flow[0] > 0.0) {
        good = pd_faults_add(faults, table->path, table->rows[1].line, "flow",
                             "the first flow is not 0, got %.6g L/min, expected 0",
                             pump->flow[0] * 6e4);
    }
    if (pump->head[0] <= 0.0) {
        good = pd_faults_add(faults, table->path, table->rows[1].line, "head",
                             "no head at no flow, got %.6g m, expected more than 0", pump->head[0]);
    }
    for (size_t i = 0; i < pump->count; i++) {
        good = check_point(pump, i, table->path, table->rows[i + 1].line, faults) && good;
    }
    return good;
}

static bool read_points(struct pd_pump_points *pump, struct pd_table *table,
                        struct pd_faults *faults)
{
    struct pd_heads heads;
    bool good = !table->damaged;
    if (!pd_heads_read(&heads, columns, COLUMN_COUNT, table, faults)) {
        return false;
    }
    pump->has_npsh = heads.found[COLUMN_NPSH];
    for (size_t row = 1; row < table->row_count; row++) {
        good = read_point(pump, &heads, table, row, faults) && good;
    }
    pump->count = table->row_count - 1;
    // a point that could not be read says nothing about its neighbours
    return good && check_shape(pump, table, faults);
}

bool pd_read_pump_file(const char *path, struct pd_pump_points *pump, int *leaning,
                       struct pd_faults *faults)
{
    struct pd_table table = {.row_count = 0};
    if (!pd_path_join(table.path, path, NULL)) {
        return pd_faults_add(faults, NULL, 0, NULL, "the path of a pump's file is too long");
    }
    bool good =
        pd_table_read(&table, PD_PUMP_POINTS_MOST, faults) && read_points(pump, &table, faults);
    *leaning += table.leaning;
    pd_table_free(&table);
    return good;
}

bool pd_read_pump(struct pd_scenario *scenario, struct pd_faults *faults)
{
    char path[PD_PATH_MOST];
    if (!pd_path_join(path, scenario->folder, "pump.csv")) {
        return false; // told with site.csv
    }
    return pd_read_pump_file(path, &scenario->pump, &scenario->leaning, faults);
}
